"""Dialogs about upkeep: that it was done, and whether a valve is still needed."""

from collections.abc import Sequence
from datetime import date

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QLineEdit, QWidget

from estate.domain.life.care import CareAsked, CareDraft, CareKind, CareLine, ReviewDraft
from estate.window import words
from estate.window.dialogs.entry import WordsDialog
from estate.window.dialogs.form import Form, day_field, day_in
from estate.window.translating import said, tr
from estate.window.widgets.entry import AnswerField, NumberField, WordsField
from estate.window.widgets.text import label

_KINDS = {CareAsked.FLUSHING: CareKind.FLUSHED, CareAsked.SHOWER_HEAD: CareKind.SHOWER_HEAD}
_SPRAY = said(
    "Make as little spray as can be: it can carry legionella. Water may be hot: let nobody else draw it "
    "meanwhile."
)
_NOT_NEEDED = said(
    "Answering no removes nothing. A valve that is not needed is taken out by competent people, after the "
    "site's risk assessment says so; until then it is tested like any other."
)


class CareDialog(Form):
    """Takes that an outlet was flushed or its shower head cleaned.

    Attributes:
        given: the `CareDraft`. The dialog stays until that is kept.
    """

    given = Signal(object)

    def __init__(
        self, line: CareLine, today: date, who: str, people: Sequence[str], parent: QWidget | None
    ) -> None:
        super().__init__(f"{line.outlet.reference}: {tr(line.asked.value)}", parent)
        self._line = line
        self.setMinimumWidth(500)
        self.body.addWidget(label(tr(_SPRAY), "caution", wraps=True))
        self.person = WordsField(tr("Done by"), people)
        self.person.put(who)
        self.add(tr("Done by"), self.person)
        self.on = day_field(tr("Done on"), today, today)
        self.add(tr("Done on"), self.on)
        self.minutes = NumberField(tr("For how long, minutes; may stay empty"))
        if line.asked is CareAsked.FLUSHING:
            self.add(tr("For how long, minutes; may stay empty"), self.minutes)
        self.remarks = QLineEdit()
        self.remarks.setAccessibleName(tr("Remarks"))
        self.add(tr("Remarks"), self.remarks)
        self.button(tr("Leave"), self.reject)
        self.act = self.button(tr("Record that it was done"), self._on_act, main=True)
        self.minutes.textChanged.connect(lambda text: self.act.setEnabled(self.minutes.readable))

    def _on_act(self) -> None:
        minutes = self.minutes.value()
        self.given.emit(
            CareDraft(
                outlet_id=self._line.outlet.id,
                kind=_KINDS[self._line.asked],
                on=day_in(self.on),
                person=self.person.currentText().strip(),
                duration_s=None if minutes is None else 60.0 * minutes,
                remarks=self.remarks.text().strip(),
            )
        )


def take_back_dialog(line: CareLine, parent: QWidget | None) -> WordsDialog:
    """Takes the reason why the last entry of a line was wrong."""
    said = (
        tr("nothing on record") if line.last is None else tr("the entry of {day}", day=words.day(line.last))
    )
    dialog = WordsDialog(
        f"{line.outlet.reference}: {tr(line.asked.value)}",
        tr(
            "Takes back {said}. It stays on record with the reason, and the entry before it counts again.",
            said=said,
        ),
        tr("Why it was wrong"),
        "",
        tr("Take it back"),
        parent,
    )
    dialog.stays = True
    return dialog


class ReviewDialog(Form):
    """Takes whether an outlet's valve is still needed (HSE-09).

    Attributes:
        given: the `ReviewDraft`. The dialog stays until that is kept.
    """

    given = Signal(object)

    def __init__(
        self, line: CareLine, today: date, who: str, people: Sequence[str], parent: QWidget | None
    ) -> None:
        super().__init__(
            tr("{reference}: is the valve still needed?", reference=line.outlet.reference), parent
        )
        self._line = line
        self.setMinimumWidth(500)
        self.body.addWidget(label(tr(_NOT_NEEDED), "caution", wraps=True))
        self.needed = AnswerField(tr("Is it still needed?"))
        self.add(tr("Is it still needed?"), self.needed)
        self.why = self.lines(tr("Why"))
        self.person = WordsField(tr("Decided by"), people)
        self.person.put(who)
        self.add(tr("Decided by"), self.person)
        self.on = day_field(tr("Decided on"), today, today)
        self.add(tr("Decided on"), self.on)
        self.button(tr("Leave"), self.reject)
        self.act = self.button(tr("Keep the answer"), self._on_act, main=True)
        self.needed.edited.connect(self._settle)
        self.why.textChanged.connect(self._settle)
        self._settle()

    def _settle(self) -> None:
        answered = self.needed.value() is not None
        self.act.setEnabled(answered and bool(self.why.toPlainText().strip()))

    def _on_act(self) -> None:
        self.given.emit(
            ReviewDraft(
                outlet_id=self._line.outlet.id,
                on=day_in(self.on),
                person=self.person.currentText().strip(),
                needed=self.needed.value() is True,
                why=self.why.toPlainText().strip(),
            )
        )

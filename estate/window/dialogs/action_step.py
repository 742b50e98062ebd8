"""Dialogs of work: one step of an action, an outlet out of use and back, an action opened by hand."""

from collections.abc import Sequence
from datetime import date

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QCheckBox, QComboBox, QWidget

from estate.domain.findings import Severity
from estate.domain.life.actions import Step
from estate.domain.life.guards import GUARDS
from estate.domain.life.lists import ActionLine
from estate.domain.life.outlet_use import FLUSH_FIRST, USE_GUARDS, UseStep
from estate.window import words
from estate.window.dialogs.form import Form, day_field, day_in
from estate.window.translating import said, tr
from estate.window.widgets.entry import AnswerField, WordsField
from estate.window.widgets.text import label

_WHY = {
    Step.MAKE_SAFE: said("What was done so that nobody can be hurt"),
    Step.PUT_RIGHT: said("What was done"),
    Step.NOTE: said("Note"),
}
_OPTIONAL = frozenset({Step.ASSIGN, Step.CLOSE})


class ActionStepDialog(Form):
    """Takes what belongs to one step of an action.

    Attributes:
        given: (day, words, owner, target day or None). The dialog stays until that is kept.
    """

    given = Signal(object, str, str, object)

    def __init__(
        self, line: ActionLine, step: Step, today: date, people: Sequence[str], parent: QWidget | None
    ) -> None:
        super().__init__(
            tr("Action at {reference}: {step}", reference=line.outlet.reference, step=tr(step.value)), parent
        )
        self._step = step
        self.setMinimumWidth(560)
        self.body.addWidget(label(words.first_sentence(line.action.opening.words)[0], "strong", wraps=True))
        self.body.addWidget(label(tr(GUARDS[step]), "small", wraps=True))
        self.owner = WordsField(tr("Who does it"), people)
        self.owner.put(line.action.owner)
        self.add(tr("Who does it"), self.owner, step is Step.ASSIGN)
        self.target = day_field(tr("To be done by"), line.action.target_on or today)
        self.add(tr("To be done by"), self.target, step is Step.RETARGET)
        self.why = self.lines(tr(_WHY.get(step, said("Reason") if step not in _OPTIONAL else said("Remark"))))
        self.on = day_field(tr("Done on"), today, today)
        self.add(tr("Done on"), self.on)
        self.button(tr("Leave"), self.reject)
        self.act = self.button(tr("Keep: {step}", step=tr(step.value)), self._on_act, main=True)
        self.why.textChanged.connect(self._settle)
        self.owner.editTextChanged.connect(lambda text: self._settle())
        self._settle()

    def _settle(self) -> None:
        told = bool(self.why.toPlainText().strip()) or self._step in _OPTIONAL
        named = bool(self.owner.currentText().strip()) or self._step is not Step.ASSIGN
        self.act.setEnabled(told and named)

    def _on_act(self) -> None:
        target = day_in(self.target) if self._step is Step.RETARGET else None
        owner = self.owner.currentText().strip() if self._step is Step.ASSIGN else ""
        self.given.emit(day_in(self.on), self.why.toPlainText().strip(), owner, target)


_USE_TITLES = {
    UseStep.TAKE_OUT: said("Take {reference} out of use"),
    UseStep.PUT_BACK: said("Put {reference} back in use"),
    UseStep.RETIRE: said("Retire {reference}"),
    UseStep.TAKE_UP: said("Take {reference} up again"),
}
_TELL = said(
    "Tell the person in charge of the area, put a sign up where everybody who could draw water sees it, and "
    "shut the supplies if the sign may not be enough. A competent person puts the fault right."
)


_STANDS = said(
    "Water stands in a pipe that nobody draws from, and breeds legionella and other bacteria. A competent "
    "person cuts it back or has it flushed, as the site's written scheme says."
)


class OutletUseDialog(Form):
    """Takes what belongs to a change of an outlet's use.

    Attributes:
        given: (day, words, who was told, sign placed or None). The dialog stays until that is kept.
    """

    given = Signal(object, str, str, object)

    def __init__(
        self,
        reference: str,
        step: UseStep,
        today: date,
        refused: str,
        people: Sequence[str],
        parent: QWidget | None,
    ) -> None:
        super().__init__(tr(_USE_TITLES[step], reference=reference), parent)
        self._step, self._refused = step, refused
        self.setMinimumWidth(580)
        cautions = {
            UseStep.TAKE_OUT: tr(_TELL),
            UseStep.PUT_BACK: tr(FLUSH_FIRST),
            UseStep.RETIRE: tr(_STANDS),
        }
        caution = cautions.get(step, "")
        if caution:
            self.body.addWidget(label(caution, "caution", wraps=True))
        self.body.addWidget(label(tr(USE_GUARDS[step]), "small", wraps=True))
        self.refused = label(refused, "wrong", wraps=True)
        self.refused.setVisible(bool(refused))
        self.body.addWidget(self.refused)
        self.why = self.lines(tr("Reason"))
        self.who_told = WordsField(tr("Who in charge of the area was told"), people)
        self.sign = AnswerField(tr("A sign was put up"))
        taking_out = step is UseStep.TAKE_OUT
        self.add(tr("Who in charge of the area was told"), self.who_told, taking_out)
        self.add(tr("A sign was put up"), self.sign, taking_out)
        self.on = day_field(tr("Done on"), today, today)
        self.add(tr("Done on"), self.on)
        self.button(tr("Leave"), self.reject)
        self.act = self.button(
            words.sentence(tr(_USE_TITLES[step], reference=reference)), self._on_act, main=True
        )
        self.why.textChanged.connect(self._settle)
        self.who_told.editTextChanged.connect(lambda text: self._settle())
        self._settle()

    def _settle(self) -> None:
        told = bool(self.who_told.currentText().strip()) or self._step is not UseStep.TAKE_OUT
        self.act.setEnabled(bool(self.why.toPlainText().strip()) and told and not self._refused)

    def _on_act(self) -> None:
        sign = self.sign.value() if self._step is UseStep.TAKE_OUT else None
        who_told = self.who_told.currentText().strip() if self._step is UseStep.TAKE_OUT else ""
        self.given.emit(day_in(self.on), self.why.toPlainText().strip(), who_told, sign)


class OpenActionDialog(Form):
    """Takes an action that no finding asks for.

    Attributes:
        given: (words, severity, whether a retest is asked for, owner, day). It stays until that is kept.
    """

    given = Signal(str, object, bool, str, object)

    def __init__(self, reference: str, today: date, people: Sequence[str], parent: QWidget | None) -> None:
        super().__init__(tr("Open an action at {reference}", reference=reference), parent)
        self.setMinimumWidth(560)
        self.what = self.lines(tr("What must be done"))
        self.severity = QComboBox()
        self.severity.setAccessibleName(tr("Severity"))
        for severity in sorted(Severity, reverse=True):
            self.severity.addItem(words.sentence(tr(severity.words)), severity)
        self.severity.setCurrentIndex(self.severity.findData(Severity.PUT_RIGHT))
        self.add(tr("Severity; it sets the target date"), self.severity)
        self.retest = QCheckBox(tr("Done only when a later visit found the valve in order"))
        self.body.addWidget(self.retest)
        self.owner = WordsField(tr("Who does it; may stay empty"), people)
        self.add(tr("Who does it; may stay empty"), self.owner)
        self.on = day_field(tr("Seen on"), today, today)
        self.add(tr("Seen on"), self.on)
        self.button(tr("Leave"), self.reject)
        self.act = self.button(tr("Open the action"), self._on_act, main=True)
        self.what.textChanged.connect(self._settle)
        self._settle()

    def _settle(self) -> None:
        self.act.setEnabled(bool(self.what.toPlainText().strip()))

    def _on_act(self) -> None:
        self.given.emit(
            self.what.toPlainText().strip(),
            Severity(self.severity.currentData()),
            self.retest.isChecked(),
            self.owner.currentText().strip(),
            day_in(self.on),
        )

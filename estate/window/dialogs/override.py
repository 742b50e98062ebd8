"""The site's own value in place of a published one: tried on the estate, and adopted with the reason."""

from PySide6.QtCore import QSize, Signal
from PySide6.QtWidgets import QLineEdit, QVBoxLayout, QWidget

from estate.domain.preview import PolicyPreview
from estate.domain.rules.catalogue import CATALOGUE, describe
from estate.domain.rules.listing import told
from estate.domain.rules.typed import typed_value
from estate.domain.rules.values import RuleValue
from estate.errors import KnownFault
from estate.window import words
from estate.window.dialogs.shell import Shell
from estate.window.models.rule_rows import shown_unit
from estate.window.models.visit_fields import parse_number
from estate.window.sizes import grown, room_for
from estate.window.translating import said, tr
from estate.window.widgets.beside import Beside
from estate.window.widgets.preview_panel import PreviewPanel
from estate.window.widgets.text import label

_ALONE = 600
_PART = 300
"""Narrower than that, pixels for text at 100 %, the form lies above what is tried."""
_OPENED = (1180, 740)


class OverrideDialog(Shell):
    """Takes a value and why; what the value would change can be seen first.

    Attributes:
        given: (value, why); a value of None withdraws the site's own. The dialog stays until that is kept.
        tried: the value to be tried on the estate; None tries the published one.
        overtaken: what was asked to be tried is no longer wanted.
    """

    given = Signal(object, str)
    tried = Signal(object)
    overtaken = Signal()

    def __init__(self, value: RuleValue, parent: QWidget | None) -> None:
        super().__init__(tr("Use the site's own value"), parent)
        self._was = value
        self._unit = CATALOGUE[value.key].unit
        self.setMinimumWidth(_ALONE)
        self.form = QWidget()
        self._column = QVBoxLayout(self.form)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.setSpacing(10)
        self.preview = PreviewPanel()
        self.preview.hide()
        row = Beside(gap=16, least=_PART)
        row.add(self.form)
        row.add(self.preview, 2)
        self.body.addWidget(row, 1)
        self._explain()
        self.value = self._line(
            tr("The site's value, {shown_unit}", shown_unit=shown_unit(self._unit)).rstrip(", ")
        )
        self.why = self._line(tr("Why, and who decided it"))
        self.wrong = label("", "wrong", wraps=True)
        self.trying = label("", "muted", wraps=True)
        self._column.addWidget(self.wrong)
        self._column.addWidget(self.trying)
        self._column.addStretch(1)
        self._end()
        self.value.textChanged.connect(self._on_other_value)
        self.finished.connect(self.overtaken)
        self._on_typed()

    def _explain(self) -> None:
        value = self._was
        named = f"{words.sentence(tr(describe(value.key)))}  ({value.key})"
        for line, kind in (
            (named, "strong"),
            (tr("In force: {told}", told=tr("nothing") if value.blank else told(value)), ""),
            (tr(value.shown_source), "small"),
            (value.note, "small"),
            (tr(_WHO_DECIDES), "caution"),
        ):
            if line:
                self._column.addWidget(label(line, kind, wraps=True))

    def _end(self) -> None:
        self.button(tr("Leave"), self.reject)
        if self._was.override is not None:
            self.withdraw = self.button(tr("Go back to the published value"), self._on_withdraw)
            self.try_published = self.button(tr("Try the published value"), self._on_try_published)
            self.try_published.setToolTip(
                tr("See what going back would change for the whole estate; nothing is written")
            )
        self.try_first = self.button(tr("Try it first"), self._on_try)
        self.try_first.setToolTip(
            tr("See what this value would change for the whole estate; nothing is written")
        )
        self.act = self.button(tr("Adopt"), self._on_act, main=True)

    def _line(self, name: str) -> QLineEdit:
        self._column.addWidget(label(name, "heading"))
        line = QLineEdit()
        line.setAccessibleName(name)
        line.textChanged.connect(self._on_typed)
        self._column.addWidget(line)
        return line

    def _typed(self) -> float | str | None:
        text = self.value.text().strip()
        typed = typed_value(self._was.key, text)
        if CATALOGUE[self._was.key].choices:
            return text or None
        in_fahrenheit = text[-1:] in "fF" and isinstance(typed, float)
        return typed if in_fahrenheit else parse_number(text)

    def _on_typed(self) -> None:
        try:
            given = self._typed()
            self.wrong.setText("")
        except ValueError:
            given = None
            self.wrong.setText(tr("The value is not a number. Type it like 41.5"))
            self._hold_words()
        self.try_first.setEnabled(given is not None)
        self.act.setEnabled(given is not None and bool(self.why.text().strip()))

    def _on_other_value(self) -> None:
        """What is shown beside the form always belongs to the value in it."""
        self.overtaken.emit()
        self.preview.hide()
        self.trying.setText("")

    def _on_try(self) -> None:
        self._try(self._typed())

    def _on_try_published(self) -> None:
        self._try(None)

    def _try(self, value: float | str | None) -> None:
        self.wrong.setText("")
        self.preview.hide()
        self.trying.setText(tr("Trying it on the whole estate; nothing is written…"))
        self._hold_words()
        self.tried.emit(value)

    def show_outcome(self, outcome: PolicyPreview | KnownFault) -> None:
        """Show what the value would change, or why it can't be tried."""
        self.stop_trying()
        if isinstance(outcome, KnownFault):
            self.wrong.setText(f"{tr(outcome.title)}. {tr(outcome.detail)} {tr(outcome.remedy)}")
            self.value.setFocus()
            self._hold_words()
            return
        self.preview.tell(outcome, self._unit)
        self._open_up()
        if outcome.after_value is None:
            self.trying.setText(tr("Nothing is written until you go back to the published value."))
            self.withdraw.setFocus()
            return
        self.trying.setText(tr("Nothing is written until you adopt it; that needs the why."))
        self.why.setFocus() if not self.why.text().strip() else self.act.setFocus()

    def stop_trying(self) -> None:
        """Wait no longer for an outcome."""
        self.trying.setText("")

    def _hold_words(self) -> None:
        self._column.activate()
        self.form.updateGeometry()
        self.make_room()

    def _open_up(self) -> None:
        """Make room beside the form, in the middle of the window that it belongs to."""
        self.preview.show()
        over = self.parentWidget()
        opened = QSize(grown(_OPENED[0]), grown(_OPENED[1])).expandedTo(self.size())
        self.resize(opened.boundedTo(room_for(self)))
        if over is not None:
            self.move(over.frameGeometry().center() - self.rect().center())

    def _on_act(self) -> None:
        self.given.emit(self._typed(), self.why.text().strip())

    def _on_withdraw(self) -> None:
        self.given.emit(None, self.why.text().strip() or "back to the published value")


_WHO_DECIDES = said(
    "A limit is changed only on the decision of those responsible for water safety at the site, "
    "on its recorded risk assessment."
)

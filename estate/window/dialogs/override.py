"""The site's own value in place of a published one: tried on the estate, and adopted with the reason."""

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QLineEdit, QVBoxLayout, QWidget

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
from estate.window.widgets.preview_panel import PreviewPanel
from estate.window.widgets.text import label

_ALONE = 600
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
        super().__init__("Use the site's own value", parent)
        self._was = value
        self._unit = CATALOGUE[value.key].unit
        self.setMinimumWidth(_ALONE)
        self.form = QWidget()
        self._column = QVBoxLayout(self.form)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._column.setSpacing(10)
        self.preview = PreviewPanel()
        self.preview.hide()
        row = QHBoxLayout()
        row.setSpacing(16)
        row.addWidget(self.form, 1)
        row.addWidget(self.preview, 2)
        self.body.addLayout(row, 1)
        self._explain()
        self.value = self._line(f"The site's value, {shown_unit(self._unit)}".rstrip(", "))
        self.why = self._line("Why, and who decided it")
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
        named = f"{words.sentence(describe(value.key))}  ({value.key})"
        for said, kind in (
            (named, "strong"),
            (f"In force: {'nothing' if value.blank else told(value)}", ""),
            (value.shown_source, "small"),
            (value.note, "small"),
            (_WHO_DECIDES, "caution"),
        ):
            if said:
                self._column.addWidget(label(said, kind, wraps=True))

    def _end(self) -> None:
        self.button("Leave", self.reject)
        if self._was.override is not None:
            self.withdraw = self.button("Go back to the published value", self._on_withdraw)
            self.try_published = self.button("Try the published value", self._on_try_published)
            self.try_published.setToolTip(
                "See what going back would change for the whole estate; nothing is written"
            )
        self.try_first = self.button("Try it first", self._on_try)
        self.try_first.setToolTip("See what this value would change for the whole estate; nothing is written")
        self.act = self.button("Adopt", self._on_act, main=True)

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
            self.wrong.setText("The value is not a number. Type it like 41.5")
            self._grow()
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
        self.trying.setText("Trying it on the whole estate; nothing is written…")
        self._grow()
        self.tried.emit(value)

    def show_outcome(self, outcome: PolicyPreview | KnownFault) -> None:
        """Show what the value would change, or why it can't be tried."""
        self.stop_trying()
        if isinstance(outcome, KnownFault):
            self.wrong.setText(f"{outcome.title}. {outcome.detail} {outcome.remedy}")
            self.value.setFocus()
            self._grow()
            return
        self.preview.tell(outcome, self._unit)
        self._open_up()
        if outcome.after_value is None:
            self.trying.setText("Nothing is written until you go back to the published value.")
            self.withdraw.setFocus()
            return
        self.trying.setText("Nothing is written until you adopt it; that needs the why.")
        self.why.setFocus() if not self.why.text().strip() else self.act.setFocus()

    def stop_trying(self) -> None:
        """Wait no longer for an outcome."""
        self.trying.setText("")

    def _grow(self) -> None:
        """Be high enough for words that were added."""
        layout = self.layout()
        if layout is not None and self.isVisible():
            self._column.activate()
            self.form.updateGeometry()
            layout.activate()
            self.resize(self.width(), max(self.height(), layout.heightForWidth(self.width())))

    def _open_up(self) -> None:
        """Make room beside the form, in the middle of the window that it belongs to."""
        self.preview.show()
        over = self.parentWidget()
        self.resize(max(self.width(), _OPENED[0]), max(self.height(), _OPENED[1]))
        if over is not None:
            self.move(over.frameGeometry().center() - self.rect().center())

    def _on_act(self) -> None:
        self.given.emit(self._typed(), self.why.text().strip())

    def _on_withdraw(self) -> None:
        self.given.emit(None, self.why.text().strip() or "back to the published value")


_WHO_DECIDES = (
    "A limit is changed only on the decision of those responsible for water safety at the site, "
    "on its recorded risk assessment."
)

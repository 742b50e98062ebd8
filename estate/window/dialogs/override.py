"""The site's own value in place of a published one, with the reason."""

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QLineEdit, QWidget

from estate.domain.rules.catalogue import describe
from estate.domain.rules.values import RuleValue
from estate.window import words
from estate.window.dialogs.shell import Shell
from estate.window.models.rule_rows import shown_unit
from estate.window.models.visit_fields import parse_number
from estate.window.widgets.text import label


class OverrideDialog(Shell):
    """Takes a value and why.

    Attributes:
        given: (value, why); a value of None withdraws the site's own.
    """

    given = Signal(object, str)

    def __init__(self, value: RuleValue, parent: QWidget | None) -> None:
        super().__init__("Use the site's own value", parent)
        self._was = value
        self.setMinimumWidth(600)
        unit = shown_unit(value.unit)
        self.body.addWidget(
            label(f"{words.sentence(describe(value.key))}  ({value.key})", "strong", wraps=True)
        )
        self.body.addWidget(label(f"In force: {value.value} {unit}"))
        self.body.addWidget(label(value.shown_source, "small", wraps=True))
        if value.note:
            self.body.addWidget(label(value.note, "small", wraps=True))
        self.body.addWidget(label(_WHO_DECIDES, "caution", wraps=True))
        self.value = self._line(f"The site's value, {unit}")
        self.why = self._line("Why, and who decided it")
        self.wrong = label("", "wrong", wraps=True)
        self.body.addWidget(self.wrong)
        self.body.addStretch(1)
        self.button("Leave", self.reject)
        if value.override is not None:
            self.withdraw = self.button("Go back to the published value", self._on_withdraw)
        self.act = self.button("Use this value", self._on_act, main=True)
        self._on_typed()

    def _line(self, name: str) -> QLineEdit:
        self.body.addWidget(label(name, "heading"))
        line = QLineEdit()
        line.setAccessibleName(name)
        line.textChanged.connect(self._on_typed)
        self.body.addWidget(line)
        return line

    def _typed(self) -> float | str | None:
        text = self.value.text().strip()
        return (text or None) if isinstance(self._was.value, str) else parse_number(text)

    def _on_typed(self) -> None:
        try:
            given = self._typed()
            self.wrong.setText("")
        except ValueError:
            given = None
            self.wrong.setText("The value is not a number. Type it like 41.5")
        self.act.setEnabled(given is not None and bool(self.why.text().strip()))

    def _on_act(self) -> None:
        self.given.emit(self._typed(), self.why.text().strip())
        self.accept()

    def _on_withdraw(self) -> None:
        self.given.emit(None, self.why.text().strip() or "back to the published value")
        self.accept()


_WHO_DECIDES = (
    "A limit is changed only on the decision of those responsible for water safety at the site, "
    "on its recorded risk assessment."
)

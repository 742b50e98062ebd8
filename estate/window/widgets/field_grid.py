"""Fields beside each other under their names, and measures with their unit beside them."""

from typing import Final

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QGridLayout, QHBoxLayout, QLineEdit, QWidget

from estate.window.models.typed_measure import parse_measure
from estate.window.widgets.text import label

_WIDE: Final = 12


class MeasureField(QWidget):
    """Takes a number in one unit, which stands beside it; blank is not recorded.

    Args:
        name: of the field.
        unit: of the number.
        most: the largest number that can be true.
    """

    def __init__(self, name: str, unit: str, most: float, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._name, self._unit, self._most = name, unit, most
        self.line = QLineEdit()
        self.line.setAccessibleName(f"{name}, {unit}")
        self.line.setMaxLength(_WIDE)
        self.line.setAlignment(Qt.AlignmentFlag.AlignRight)
        self.line.textChanged.connect(self._mark)
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(6)
        row.addWidget(self.line, 1)
        row.addWidget(label(unit, "muted"))
        self.setFocusProxy(self.line)

    def put(self, value: float | None) -> None:
        """Show a number."""
        self.line.setText("" if value is None else f"{value:g}")

    @property
    def wrong(self) -> str:
        """What is wrong with what is typed, in words; empty where nothing is."""
        try:
            parse_measure(self._name, self.line.text(), self._unit, self._most)
        except ValueError as fault:
            return str(fault)
        return ""

    def value(self) -> float | None:
        """The number; None where it is blank or can't be read."""
        try:
            return parse_measure(self._name, self.line.text(), self._unit, self._most)
        except ValueError:
            return None

    def _mark(self) -> None:
        wrong = self.wrong
        if bool(self.line.property("wrong")) != bool(wrong):
            self.line.setProperty("wrong", bool(wrong))
            self.line.style().unpolish(self.line)
            self.line.style().polish(self.line)
        self.line.setToolTip(wrong)


class FieldGrid(QWidget):
    """Fields in columns, each under its name.

    Args:
        columns: how many stand beside each other.
    """

    def __init__(self, columns: int, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._columns, self._count = columns, 0
        self._grid = QGridLayout(self)
        self._grid.setContentsMargins(0, 0, 0, 0)
        self._grid.setHorizontalSpacing(16)
        self._grid.setVerticalSpacing(3)
        for column in range(columns):
            self._grid.setColumnStretch(column, 1)

    def add(self, name: str, field: QWidget, whole: bool = False) -> None:
        """Put a field under its name in the next place; `whole` takes a whole row."""
        if whole:
            self._count += -self._count % self._columns
        row, column = divmod(self._count, self._columns)
        span = self._columns if whole else 1
        named = label(name, "heading")
        self._grid.addWidget(named, row * 3, column, 1, span)
        self._grid.addWidget(field, row * 3 + 1, column, 1, span)
        self._grid.setRowMinimumHeight(row * 3 + 2, 5)
        if not field.accessibleName() and field.focusProxy() is None:
            field.setAccessibleName(name)
        self._count += span

"""A contractor's sheet as it is: its cells, with those that are asked about and those that are read."""

import re
from collections.abc import Collection
from typing import Any

from PySide6.QtCore import QAbstractTableModel, QModelIndex, QObject, Qt
from PySide6.QtGui import QBrush, QFont
from typing_extensions import override

from estate.domain.layouts import ShownSheet
from estate.window.roles import AnyIndex

Place = tuple[int, int]
_NOWHERE = QModelIndex()
_CELL = re.compile(r"([A-Z]{1,3})([0-9]{1,7})")
_EMPTY = ShownSheet("", ())


def place_of(cell: str) -> Place | None:
    """The 0-based row and column of a cell such as ``C9``; None for anything else."""
    found = _CELL.fullmatch(cell)
    return None if found is None else (int(found[2]) - 1, _column(found[1]))


def letters_of(column: int) -> str:
    """The letters that a spreadsheet program gives to a 0-based column."""
    letters, left = "", column + 1
    while left:
        left, digit = divmod(left - 1, 26)
        letters = chr(ord("A") + digit) + letters
    return letters


def _column(letters: str) -> int:
    number = 0
    for letter in letters:
        number = number * 26 + ord(letter) - ord("A") + 1
    return number - 1


class ShownSheetModel(QAbstractTableModel):
    """One sheet; rows and columns are named as a spreadsheet program names them."""

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._sheet = _EMPTY
        self._width = 0
        self._header: frozenset[int] = frozenset()
        self._asked: dict[Place, str] = {}
        self._ground = QBrush()
        self._bold = QFont()
        self._bold.setBold(True)

    @property
    def sheet(self) -> ShownSheet:
        """The sheet shown."""
        return self._sheet

    def show(
        self, sheet: ShownSheet, header: Collection[int], asked: dict[Place, str], ground: QBrush
    ) -> None:
        """Show a sheet.

        Args:
            sheet: its words.
            header: 0-based rows that were read as headings.
            asked: what is asked about a cell, in words.
            ground: laid under the cells asked about.
        """
        self.beginResetModel()
        self._sheet, self._header, self._asked = sheet, frozenset(header), asked
        self._ground = ground
        self._width = max(map(len, sheet.rows), default=0)
        self.endResetModel()

    @override
    def rowCount(self, parent: AnyIndex = _NOWHERE) -> int:
        return 0 if parent.isValid() else len(self._sheet.rows)

    @override
    def columnCount(self, parent: AnyIndex = _NOWHERE) -> int:
        return 0 if parent.isValid() else self._width

    @override
    def headerData(self, section: int, orientation: Qt.Orientation, role: int = 0) -> Any:
        if role != Qt.ItemDataRole.DisplayRole:
            return None
        return letters_of(section) if orientation is Qt.Orientation.Horizontal else str(section + 1)

    @override
    def data(self, index: AnyIndex, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        if not index.isValid():
            return None
        place = (index.row(), index.column())
        if role == Qt.ItemDataRole.DisplayRole:
            cells = self._sheet.rows[place[0]]
            return cells[place[1]] if place[1] < len(cells) else ""
        if role == Qt.ItemDataRole.BackgroundRole and place in self._asked:
            return self._ground
        if role == Qt.ItemDataRole.ToolTipRole:
            return self._asked.get(place)
        if role == Qt.ItemDataRole.FontRole and place[0] in self._header:
            return self._bold
        return None

"""A contractor's sheet as it is: its cells, with those that are asked about and those that are read."""

from collections.abc import Collection
from typing import Any

from PySide6.QtCore import QAbstractTableModel, QModelIndex, QObject, Qt
from PySide6.QtGui import QBrush, QFont
from typing_extensions import override

from estate.domain.cell_names import column_name
from estate.domain.layouts import ShownSheet
from estate.window.roles import AnyIndex

Place = tuple[int, int]
_NOWHERE = QModelIndex()
_EMPTY = ShownSheet("", ())


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
        return column_name(section) if orientation is Qt.Orientation.Horizontal else str(section + 1)

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

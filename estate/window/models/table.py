"""One table model for every list: ids and prepared cells, nothing asked for in `data()`."""

from collections.abc import Callable, Iterable, Sequence
from typing import Any, Generic, TypeVar

from PySide6.QtCore import QAbstractTableModel, QModelIndex, QObject, Qt
from PySide6.QtGui import QFont
from typing_extensions import override

from estate.window.models.cells import Cell, Column
from estate.window.roles import AnyIndex, Role

T = TypeVar("T")
_RIGHT = Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter
_LEFT = Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter
_NOWHERE = QModelIndex()


class TableModel(QAbstractTableModel, Generic[T]):
    """Rows of values shown through columns.

    Args:
        columns: what is shown of each row.
        key: the id of a row, for finding it again.
        struck: whether a row no longer counts and is shown struck through.
    """

    def __init__(
        self,
        columns: Sequence[Column[T]],
        key: Callable[[T], int],
        struck: Callable[[T], bool] | None = None,
        parent: QObject | None = None,
    ) -> None:
        super().__init__(parent)
        self.columns = tuple(columns)
        self._key = key
        self._is_struck = struck or (lambda row: False)
        self._rows: tuple[T, ...] = ()
        self._cells: tuple[tuple[Cell, ...], ...] = ()
        self._struck: frozenset[int] = frozenset()
        self._struck_font = QFont()
        self._struck_font.setStrikeOut(True)

    @property
    def rows(self) -> tuple[T, ...]:
        """The values shown."""
        return self._rows

    def fill(self, rows: Iterable[T]) -> None:
        """Show other rows; their cells are prepared here, once."""
        kept = tuple(rows)
        cells = tuple(tuple(column.cell(row) for column in self.columns) for row in kept)
        struck = frozenset(place for place, row in enumerate(kept) if self._is_struck(row))
        self.beginResetModel()
        self._rows, self._cells, self._struck = kept, cells, struck
        self.endResetModel()

    def extend(self, rows: Iterable[T]) -> None:
        """Show further rows after those that are there."""
        more = tuple(rows)
        if not more:
            return
        cells = tuple(tuple(column.cell(row) for column in self.columns) for row in more)
        first = len(self._rows)
        struck = frozenset(first + place for place, row in enumerate(more) if self._is_struck(row))
        self.beginInsertRows(_NOWHERE, first, first + len(more) - 1)
        self._rows, self._cells = self._rows + more, self._cells + cells
        self._struck |= struck
        self.endInsertRows()

    def show(self, columns: Sequence[Column[T]]) -> None:
        """Show the same rows through as many other columns."""
        self.columns = tuple(columns)
        self.fill(self._rows)
        self.headerDataChanged.emit(Qt.Orientation.Horizontal, 0, len(self.columns) - 1)

    def place_of(self, key: int) -> int | None:
        """The row number of a key, or None."""
        return next((place for place, row in enumerate(self._rows) if self._key(row) == key), None)

    @override
    def rowCount(self, parent: AnyIndex = _NOWHERE) -> int:
        return 0 if parent.isValid() else len(self._rows)

    @override
    def columnCount(self, parent: AnyIndex = _NOWHERE) -> int:
        return 0 if parent.isValid() else len(self.columns)

    @override
    def headerData(self, section: int, orientation: Qt.Orientation, role: int = 0) -> Any:
        if orientation is not Qt.Orientation.Horizontal or not 0 <= section < len(self.columns):
            return None
        column = self.columns[section]
        if role == Qt.ItemDataRole.DisplayRole:
            return column.title
        if role == Qt.ItemDataRole.ToolTipRole:
            return column.tip or column.title.replace("\n", " ")
        if role == Qt.ItemDataRole.TextAlignmentRole and self._cells:
            return _RIGHT if self._cells[0][section].to_right else _LEFT
        return _LEFT if role == Qt.ItemDataRole.TextAlignmentRole else None

    @override
    def data(self, index: AnyIndex, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        if not index.isValid():
            return None
        cell = self._cells[index.row()][index.column()]
        if role == Qt.ItemDataRole.DisplayRole:
            return cell.text
        if role == Role.MARK:
            return cell.mark
        if role == Role.SORT:
            return cell.sort
        if role == Qt.ItemDataRole.TextAlignmentRole:
            return _RIGHT if cell.to_right else _LEFT
        if role == Qt.ItemDataRole.ToolTipRole:
            return cell.tip or None
        return self._row_data(index.row(), role)

    def _row_data(self, place: int, role: int) -> Any:
        if role == Role.KEY:
            return self._key(self._rows[place])
        if role == Role.STRUCK:
            return place in self._struck
        if role == Qt.ItemDataRole.FontRole and place in self._struck:
            return self._struck_font
        return None

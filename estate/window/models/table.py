"""One table model for every list: rows of values, and cells that are prepared once."""

from collections.abc import Callable, Iterable, Sequence
from typing import Any, Generic, TypeVar

from PySide6.QtCore import QAbstractTableModel, QModelIndex, QObject, Qt
from PySide6.QtGui import QFont
from typing_extensions import override

from estate.window.models.cells import Cell, Column
from estate.window.roles import AnyIndex, Role
from estate.window.translating import tr

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
        told: what a row is found by; None for the words of all its cells.
    """

    def __init__(
        self,
        columns: Sequence[Column[T]],
        key: Callable[[T], int],
        struck: Callable[[T], bool] | None = None,
        parent: QObject | None = None,
        told: Callable[[T], str] | None = None,
    ) -> None:
        super().__init__(parent)
        self.columns = tuple(columns)
        self._key = key
        self._is_struck = struck or (lambda row: False)
        self._told = told
        self._rows: tuple[T, ...] = ()
        self._cells: list[list[Cell | None]] = [[] for _ in self.columns]
        self._heard: list[str] | None = None
        self._struck_font = QFont()
        self._struck_font.setStrikeOut(True)

    @property
    def rows(self) -> tuple[T, ...]:
        """The values shown."""
        return self._rows

    def fill(self, rows: Iterable[T]) -> None:
        """Show other rows; each cell is prepared once, when it is first looked at."""
        kept = tuple(rows)
        self.beginResetModel()
        self._rows, self._heard = kept, None
        self._cells = [[None] * len(kept) for _ in self.columns]
        self.endResetModel()

    def extend(self, rows: Iterable[T]) -> None:
        """Show further rows after those that are there."""
        more = tuple(rows)
        if not more:
            return
        first = len(self._rows)
        self.beginInsertRows(_NOWHERE, first, first + len(more) - 1)
        self._rows, self._heard = self._rows + more, None
        for column in self._cells:
            column.extend([None] * len(more))
        self.endInsertRows()

    def cell(self, place: int, column: int) -> Cell:
        """The cell of a row, by its number, and a column."""
        known = self._cells[column][place]
        if known is None:
            known = self._cells[column][place] = self.columns[column].cell(self._rows[place])
        return known

    @property
    def heard(self) -> list[str]:
        """What each row is found by, without its capitals."""
        if self._heard is None:
            told = self._told
            if told is None:
                places = range(len(self.columns))
                self._heard = [
                    " ".join(self.cell(row, place).text for place in places).casefold()
                    for row in range(len(self._rows))
                ]
            else:
                self._heard = [told(row).casefold() for row in self._rows]
        return self._heard

    def prepare(self) -> None:
        """Work out what rows are found by, before it is asked for."""
        self._heard = self.heard

    def find_by(self, told: Callable[[T], str]) -> None:
        """Find rows by other words."""
        self._told, self._heard = told, None

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
            return tr(column.title)
        if role == Qt.ItemDataRole.ToolTipRole:
            return tr(column.tip) or column.plain_title
        if role == Qt.ItemDataRole.TextAlignmentRole and self._rows:
            return _RIGHT if self.cell(0, section).to_right else _LEFT
        return _LEFT if role == Qt.ItemDataRole.TextAlignmentRole else None

    @override
    def data(self, index: AnyIndex, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        return self.at(index.row(), index.column(), role) if index.isValid() else None

    def at(self, place: int, column: int, role: int) -> Any:
        """What `data` says of a row, by its number, and a column."""
        cell = self.cell(place, column)
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
        return self._row_data(place, role)

    def _row_data(self, place: int, role: int) -> Any:
        if role == Role.KEY:
            return self._key(self._rows[place])
        if role == Role.STRUCK:
            return self._is_struck(self._rows[place])
        if role == Qt.ItemDataRole.FontRole and self._is_struck(self._rows[place]):
            return self._struck_font
        return None

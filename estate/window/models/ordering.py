"""The lines of a table as a person wants them: which, in which order, gathered by what."""

from collections.abc import Callable, Collection, Sequence
from typing import Any, Generic, TypeVar

from PySide6.QtCore import QAbstractTableModel, QModelIndex, QObject, Qt
from typing_extensions import override

from estate.window.models.gathering import Gathered, Heading, gather, in_order
from estate.window.models.table import TableModel
from estate.window.roles import AnyIndex, Role
from estate.window.translating import tr

T = TypeVar("T")
_NOWHERE = QModelIndex()


class Ordered(QAbstractTableModel, Generic[T]):
    """Orders rows by their prepared sort values, shows only those wanted, and may gather them.

    Attributes:
        sorted_by: place of the column by which lines are ordered; -1 for none.
        gathered_by: place of the column by which lines are gathered; None for none.
    """

    def __init__(self, source: TableModel[T], parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._table = source
        self._wanted: Callable[[T], bool] | None = None
        self._sought: tuple[str, ...] = ()
        self._only: dict[int, frozenset[str]] = {}
        self.sorted_by = -1
        self.descending = False
        self.gathered_by: int | None = None
        self._folded: set[str] = set()
        self._order: list[int] | None = None
        self._kept: list[int] | None = None
        self._now = Gathered((), [], [])
        self._places: dict[int, int] | None = None
        source.modelAboutToBeReset.connect(self.beginResetModel)
        source.modelReset.connect(self._on_reset)
        source.rowsInserted.connect(self._on_inserted)
        source.headerDataChanged.connect(self.headerDataChanged)
        self._arrange()

    def want(self, wanted: Callable[[T], bool]) -> None:
        """Show only rows of which `wanted` is true."""
        self._wanted, self._kept = wanted, None
        self._relay()

    def seek(self, words: str) -> None:
        """Show only rows in which every one of these words stands."""
        sought = tuple(words.casefold().split())
        if sought != self._sought:
            self._sought = sought
            self._relay()

    def keep_only(self, column: int, texts: Collection[str] | None) -> None:
        """Show only rows of which a column says one of these texts; None takes that back."""
        if texts is None:
            self._only.pop(column, None)
        else:
            self._only[column] = frozenset(texts)
        self._kept = None
        self._relay()

    @property
    def kept_only(self) -> dict[int, frozenset[str]]:
        """What is shown alone, by the place of the column."""
        return dict(self._only)

    def texts_of(self, column: int) -> dict[str, int]:
        """What a column says in all rows, and of how many, in the column's order."""
        counted: dict[str, int] = {}
        for place in in_order(self._table, column, descending=False):
            text = self._table.cell(place, column).text
            counted[text] = counted.get(text, 0) + 1
        return counted

    def gather_by(self, column: int | None) -> None:
        """Gather lines under headings by what a column says; None lets them stand alone."""
        self.gathered_by = column
        self._folded.clear()
        self._relay()

    def fold(self, row: int, folded: bool | None = None) -> None:
        """Take the lines of the heading at a row out of sight, or show them; None does what is not so."""
        heading = self.heading_at(row)
        if heading is None:
            return
        if heading.folded if folded is None else not folded:
            self._folded.discard(heading.text)
        else:
            self._folded.add(heading.text)
        self._relay()

    def fold_all(self, folded: bool) -> None:
        """Take the lines of every heading out of sight, or show them."""
        self._folded = {each.text for each in self._now.headings} if folded else set()
        self._relay()

    def heading_at(self, row: int) -> Heading | None:
        """The heading that stands at a row; None where a line does."""
        line = self._now.lines[row] if 0 <= row < len(self._now.lines) else 0
        return self._now.headings[-1 - line] if line < 0 else None

    @property
    def headings(self) -> tuple[Heading, ...]:
        """Every heading."""
        return self._now.headings

    @property
    def count(self) -> int:
        """How many lines are wanted, those folded away too."""
        return len(self._now.whole)

    def places_shown(self) -> Sequence[int]:
        """The numbers in the table of the lines wanted, in the order shown, those folded away too."""
        return tuple(self._now.whole)

    def shown(self) -> Sequence[T]:
        """The lines wanted, in the order shown, those folded away too."""
        return [self._table.rows[place] for place in self._now.whole]

    def line_at(self, index: AnyIndex) -> T | None:
        """The value behind an index; None for a heading, or nowhere."""
        place = self.place_at(index.row()) if index.isValid() else None
        return None if place is None else self._table.rows[place]

    def row_at(self, index: AnyIndex) -> T:
        """The value behind an index of a line.

        Raises:
            LookupError: a heading stands there.
        """
        place = self.place_at(index.row())
        if place is None:
            raise LookupError(index.row())
        return self._table.rows[place]

    def place_at(self, row: int) -> int | None:
        """The number in the table of the line at a row; None for a heading."""
        line = self._now.lines[row] if 0 <= row < len(self._now.lines) else -1
        return line if line >= 0 else None

    def mapFromSource(self, index: AnyIndex) -> QModelIndex:
        """Where an index of the table stands here; invalid where it is not shown."""
        row = self._places_now().get(index.row()) if index.isValid() else None
        return _NOWHERE if row is None else self.index(row, index.column())

    def show_line(self, place: int) -> None:
        """Unfold the group of a line, by its number in the table."""
        if self.gathered_by is not None and place not in self._places_now():
            self._folded.discard(self._table.cell(place, self.gathered_by).text)
            self._relay()

    @override
    def rowCount(self, parent: AnyIndex = _NOWHERE) -> int:
        return 0 if parent.isValid() else len(self._now.lines)

    @override
    def columnCount(self, parent: AnyIndex = _NOWHERE) -> int:
        return 0 if parent.isValid() else len(self._table.columns)

    @override
    def headerData(self, section: int, orientation: Qt.Orientation, role: int = 0) -> Any:
        return self._table.headerData(section, orientation, role)

    @override
    def data(self, index: AnyIndex, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        if not index.isValid():
            return None
        line = self._now.lines[index.row()]
        if line >= 0:
            return self._table.at(line, index.column(), role)
        heading = self._now.headings[-1 - line]
        if role in (Qt.ItemDataRole.DisplayRole, Qt.ItemDataRole.ToolTipRole):
            return tr("{group}: {count:,}", group=heading.words, count=heading.count)
        return heading if role == Role.HEADING else None

    @override
    def sort(self, column: int, order: Qt.SortOrder = Qt.SortOrder.AscendingOrder) -> None:
        descending = order == Qt.SortOrder.DescendingOrder
        if (column, descending) != (self.sorted_by, self.descending):
            self.sorted_by, self.descending = column, descending
            self._order = self._kept = None
            self._relay()

    def _arrange(self) -> None:
        """Work out which line stands where."""
        if self._order is None:
            known = 0 <= self.sorted_by < len(self._table.columns)
            by = (self._table, self.sorted_by, self.descending)
            self._order = in_order(*by) if known else list(range(len(self._table.rows)))
        if self._kept is None:
            self._kept = [place for place in self._order if self._keeps(place)]
        rows = self._kept
        heard = self._table.heard if self._sought else []
        for word in self._sought:
            rows = [place for place in rows if word in heard[place]]
        if self.gathered_by is None:
            self._now = Gathered((), rows, rows)
        else:
            backwards = self.descending and self.sorted_by == self.gathered_by
            self._now = gather(self._table, rows, self.gathered_by, self._folded, backwards)
        self._places = None

    def _keeps(self, place: int) -> bool:
        if self._wanted is not None and not self._wanted(self._table.rows[place]):
            return False
        return all(self._table.cell(place, column).text in texts for column, texts in self._only.items())

    def _places_now(self) -> dict[int, int]:
        if self._places is None:
            self._places = {line: row for row, line in enumerate(self._now.lines)}
        return self._places

    def _relay(self) -> None:
        """Arrange anew; what was chosen stays chosen where it is still shown."""
        self.layoutAboutToBeChanged.emit()
        held = self.persistentIndexList()
        before = [(self._now.lines[each.row()], each.column()) for each in held]
        texts = [each.text for each in self._now.headings]
        self._arrange()
        places = self._places_now()
        now = {each.text: -1 - number for number, each in enumerate(self._now.headings)}
        moved = []
        for line, column in before:
            stands = places.get(line if line >= 0 else now.get(texts[-1 - line], -1 - len(now)))
            moved.append(_NOWHERE if stands is None else self.index(stands, column))
        self.changePersistentIndexList(held, moved)
        self.layoutChanged.emit()

    def _on_reset(self) -> None:
        self._order = self._kept = None
        self._arrange()
        self.endResetModel()

    def _on_inserted(self, parent: QModelIndex, first: int, last: int) -> None:
        self._order = self._kept = None
        free = self.sorted_by < 0 and self.gathered_by is None and not (self._wanted or self._sought)
        if not free or self._only:
            self._relay()
            return
        self.beginInsertRows(_NOWHERE, first, last)
        self._arrange()
        self.endInsertRows()

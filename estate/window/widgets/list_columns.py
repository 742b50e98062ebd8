"""The columns of a list as a person likes them: which, in which order, how wide, sorted by what."""

from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import replace
from typing import Any

from PySide6.QtCore import QObject, Qt, Signal
from PySide6.QtGui import QFont, QFontMetrics
from PySide6.QtWidgets import QTableView

from estate.settings import ListLook
from estate.window.models.cells import Column
from estate.window.models.ordering import Ordered
from estate.window.models.table import TableModel
from estate.window.sizes import grown, growth
from estate.window.translating import tr

_ROOM = 26
_NARROWEST = 40


class ColumnsLiked(QObject):
    """Holds what the person chose, and lays the columns out by it.

    What the person did not choose follows the usual look and what the page suggests; a choice of the
    person's comes before both.

    Attributes:
        changed: the person chose otherwise.
        look: what the person chose.
    """

    changed = Signal()

    def __init__(self, view: QTableView, table: TableModel[Any], ordered: Ordered[Any]) -> None:
        super().__init__(view)
        self._view, self._table, self._ordered = view, table, ordered
        self.look = ListLook()
        self._usual_sort = (-1, False)
        self._suggested: Mapping[str, bool] = {}
        self._still = False
        heading = view.horizontalHeader()
        heading.setMinimumSectionSize(_NARROWEST)
        heading.sectionResized.connect(self._on_resized)
        heading.sectionMoved.connect(self._on_moved)
        heading.sortIndicatorChanged.connect(self._on_sorted)

    @contextmanager
    def quietly(self) -> Iterator[None]:
        """Lay out without taking it for a choice of the person."""
        before, self._still = self._still, True
        try:
            yield
        finally:
            self._still = before

    @property
    def columns(self) -> Sequence[Column[Any]]:
        """Every column, in the usual order."""
        return self._table.columns

    def place_of(self, key: str) -> int | None:
        """The place of a column by its id; None where there is none."""
        return next((place for place, each in enumerate(self.columns) if each.key == key), None)

    def wear(self, look: ListLook) -> None:
        """Lay the columns out as the person likes it."""
        self.look = look
        self._ordered.gather_by(self.place_of(look.group) if look.group else None)
        self._lay_out()

    def as_at_first(self) -> None:
        """Forget everything that the person chose."""
        self.wear(ListLook())
        self.changed.emit()

    def usually_by(self, place: int, descending: bool = False) -> None:
        """Order lines by a column where the person chose none."""
        self._usual_sort = (place, descending)
        self._sort()

    def suggest_hidden(self, hidden: Mapping[str, bool]) -> None:
        """Hide or show columns where the person chose nothing about them."""
        self._suggested = {**self._suggested, **hidden}
        self._hide()

    def choose(self, order: Sequence[str], shown: Sequence[str]) -> None:
        """Show some columns, in an order; never none."""
        usual = [each.key for each in self.columns]
        at_first = {each.key for each in self.columns if self._hidden_by_itself(each)}
        wanted = set(shown) or set(usual[:1])
        self.look = replace(
            self.look,
            order=() if list(order) == usual else tuple(order),
            hidden=tuple(key for key in usual if key not in wanted and key not in at_first),
            shown=tuple(key for key in usual if key in wanted and key in at_first),
        )
        self._lay_out()
        self.changed.emit()

    def show_column(self, place: int, shown: bool) -> None:
        """Show a column or hide it; the last one stays."""
        now = {key for key in self.order() if key in self.shown()}
        key = self.columns[place].key
        self.choose(self.order(), sorted(now | {key} if shown else now - {key} or {key}))

    def move(self, place: int, by: int) -> None:
        """Move a shown column past its neighbours that are shown."""
        shown = [key for key in self.order() if key in self.shown()]
        at = shown.index(self.columns[place].key)
        beside = shown[max(0, min(len(shown) - 1, at + by))]
        heading = self._view.horizontalHeader()
        there = self.place_of(beside)
        if there is not None:
            heading.moveSection(heading.visualIndex(place), heading.visualIndex(there))

    def group_by(self, place: int | None) -> None:
        """Gather lines by a column, or not."""
        self._ordered.gather_by(place)
        self.look = replace(self.look, group="" if place is None else self.columns[place].key)
        self.changed.emit()

    def order(self) -> tuple[str, ...]:
        """The ids of all columns from the left."""
        return tuple(self.columns[place].key for place in self.places())

    def places(self) -> list[int]:
        """The places of all columns from the left."""
        heading = self._view.horizontalHeader()
        return [heading.logicalIndex(place) for place in range(len(self.columns))]

    def places_shown(self) -> list[int]:
        """The places of the columns shown, from the left."""
        return [place for place in self.places() if not self._view.isColumnHidden(place)]

    def shown(self) -> frozenset[str]:
        """The ids of the columns shown."""
        return frozenset(self.columns[place].key for place in self.places_shown())

    def follow_text(self) -> None:
        """Give columns their room anew, because the size of the text changed."""
        with self.quietly():
            self._measure()
        self.spread()

    def spread(self) -> None:
        """Give the room that is left to the columns that can use it."""
        free = [
            place
            for place, each in enumerate(self.columns)
            if each.stretches and each.key not in self.look.widths and not self._view.isColumnHidden(place)
        ]
        others = sum(self._view.columnWidth(place) for place in self.places_shown() if place not in free)
        left = self._view.viewport().width() - others
        with self.quietly():
            for place in free:
                self._view.setColumnWidth(place, max(left // len(free), self._least(place)))

    def _lay_out(self) -> None:
        with self.quietly():
            self._put_in_order()
            for place in range(len(self.columns)):
                self._view.setColumnHidden(place, False)
            self._measure()
        self._sort()
        self._hide()

    def _put_in_order(self) -> None:
        heading = self._view.horizontalHeader()
        usual = [each.key for each in self.columns]
        liked = [key for key in self.look.order if key in usual]
        for key in (each for each in usual if each not in liked):
            before = usual[: usual.index(key)]
            after = max((liked.index(each) + 1 for each in before if each in liked), default=0)
            liked.insert(after, key)
        for at, key in enumerate(liked):
            heading.moveSection(heading.visualIndex(usual.index(key)), at)

    def _measure(self) -> None:
        """Give each column the room of its usual content, never less than its heading."""
        high = self._view.fontMetrics().height()
        sorted_by = self._view.horizontalHeader().sortIndicatorSection()
        for place, column in enumerate(self.columns):
            usual = self._least(place) + (high + 4 if column.marked else 0)
            usual += high if place == sorted_by else 0  # room for its arrow
            liked = self.look.widths.get(column.key)
            self._view.setColumnWidth(place, usual if liked is None else grown(liked))

    def _least(self, place: int) -> int:
        """The width at which neither the sample of a column nor its heading is cut."""
        column, bold = self.columns[place], self._view.font()
        bold.setWeight(QFont.Weight.DemiBold)
        titles = max(QFontMetrics(bold).horizontalAdvance(line) for line in tr(column.title).split("\n"))
        return max(self._view.fontMetrics().horizontalAdvance(tr(column.sample)), titles) + grown(_ROOM)

    def _sort(self) -> None:
        liked = self.place_of(self.look.sort) if self.look.sort else None
        place, descending = self._usual_sort if liked is None else (liked, self.look.descending)
        if self._view.isSortingEnabled():
            order = Qt.SortOrder.DescendingOrder if descending else Qt.SortOrder.AscendingOrder
            with self.quietly():
                self._view.horizontalHeader().setSortIndicator(place, order)
                self._ordered.sort(place, order)

    def _hidden_by_itself(self, column: Column[Any]) -> bool:
        return column.hidden_at_first or self._suggested.get(column.key, False)

    def _hide(self) -> None:
        look = self.look
        hidden = [
            each.key in look.hidden or (self._hidden_by_itself(each) and each.key not in look.shown)
            for each in self.columns
        ]
        if all(hidden):
            hidden[0:1] = [False]
        with self.quietly():
            for place, each in enumerate(hidden):
                self._view.setColumnHidden(place, each)
        self.spread()

    def _on_resized(self, place: int, before: int, now: int) -> None:
        if not self._still and now and before and place < len(self.columns):
            widths = {**self.look.widths, self.columns[place].key: round(now / growth())}
            self.look = replace(self.look, widths=widths)
            self.changed.emit()

    def _on_moved(self, place: int, before: int, now: int) -> None:
        if not self._still:
            self.look = replace(self.look, order=self.order())
            self.changed.emit()

    def _on_sorted(self, place: int, order: Qt.SortOrder) -> None:
        self.follow_text()
        if not self._still:
            key = self.columns[place].key if 0 <= place < len(self.columns) else ""
            backwards = bool(key) and order == Qt.SortOrder.DescendingOrder
            self.look = replace(self.look, sort=key, descending=backwards)
            self.changed.emit()

"""Sorting and filtering over a table model."""

from collections.abc import Callable, Sequence
from typing import Generic, TypeVar

from PySide6.QtCore import QModelIndex, QObject, QSortFilterProxyModel
from typing_extensions import override

from estate.window.models.table import TableModel
from estate.window.roles import AnyIndex, Role

T = TypeVar("T")


class Ordered(QSortFilterProxyModel, Generic[T]):
    """Orders rows by their prepared sort values and shows only those wanted."""

    def __init__(self, source: TableModel[T], parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._table = source
        self._wanted: Callable[[T], bool] = lambda row: True
        self.setSourceModel(source)
        self.setSortRole(Role.SORT)

    def want(self, wanted: Callable[[T], bool]) -> None:
        """Show only rows of which `wanted` is true."""
        self.beginFilterChange()
        self._wanted = wanted
        self.endFilterChange()

    def shown(self) -> Sequence[T]:
        """The rows shown, in the order shown."""
        return [self.row_at(self.index(place, 0)) for place in range(self.rowCount())]

    def row_at(self, index: QModelIndex) -> T:
        """The value behind an index of this proxy."""
        return self._table.rows[self.mapToSource(index).row()]

    @override
    def filterAcceptsRow(self, source_row: int, source_parent: AnyIndex) -> bool:
        return self._wanted(self._table.rows[source_row])

    @override
    def lessThan(self, source_left: AnyIndex, source_right: AnyIndex) -> bool:
        one = self._table.data(source_left, Role.SORT)
        other = self._table.data(source_right, Role.SORT)
        if isinstance(one, str) != isinstance(other, str):
            return isinstance(other, str)
        return bool(one < other)

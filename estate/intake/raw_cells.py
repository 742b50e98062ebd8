"""The filled cells of rows as they stand, to be kept with every entry."""

from collections.abc import Callable, Mapping, Sequence

from estate.intake.grid import Cell, shown

MOST_REMEMBERED = 20_000
"""So many contents of a column are remembered."""
_Pair = tuple[str, str]
_Known = tuple[()] | _Pair
"""A pair; nothing of a cell that is blank."""


class _Column(dict[Cell, _Known]):
    """The pairs of one column by content; of a column without a heading none can be known."""

    def __init__(self, heading: str) -> None:
        self._heading = heading

    def __missing__(self, cell: Cell) -> _Known:
        text = shown(cell)
        if len(self) >= MOST_REMEMBERED:
            self.clear()
        pair = self[cell] = (self._heading, text) if text and not text.isspace() else ()
        return pair


class Pairs:
    """Pairs of heading and content; in one column the same contents come again and again.

    Args:
        headings: of each column that has one.
    """

    def __init__(self, headings: Mapping[int, str]) -> None:
        self._headings = headings
        self._columns = [_Column(headings.get(index, "")) for index in range(max(headings, default=-1) + 1)]
        self._gaps = [index for index in range(len(self._columns)) if index not in headings]

    def of(self, cells: Sequence[Cell], name: Callable[[int], str]) -> tuple[_Pair, ...]:
        """The filled cells of a row.

        Args:
            cells: the row.
            name: what to call the cell of a column without a heading.
        """
        if len(cells) > len(self._columns) or self._is_odd(cells):
            pairs = [self._pair(index, cell, name) for index, cell in enumerate(cells)]
        else:
            pairs = [column[cell] for column, cell in zip(self._columns, cells, strict=False)]
        return tuple([pair for pair in pairs if pair])

    def _is_odd(self, cells: Sequence[Cell]) -> bool:
        """Whether something stands in a column without a heading, or is True, which is one key with 1."""
        filled = (cells[gap] is not None for gap in self._gaps if gap < len(cells))
        return bool in map(type, cells) or any(filled)

    def _pair(self, index: int, cell: Cell, name: Callable[[int], str]) -> _Known:
        if index in self._headings and type(cell) is not bool:
            return self._columns[index][cell]
        text = shown(cell)
        if not text or text.isspace():
            return ()
        return (self._headings[index] if index in self._headings else name(index)), text

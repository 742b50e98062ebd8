"""The filled cells of rows as they stand, to be kept with every entry."""

from collections.abc import Callable, Mapping, Sequence

from estate.intake.grid import Cell, shown

MOST_REMEMBERED = 20_000
"""So many contents of a column are remembered."""
_Pair = tuple[str, str]
_Known = tuple[()] | _Pair
"""A pair; nothing of a cell that is blank."""


class Pairs:
    """Pairs of heading and content; in one column the same contents come again and again.

    Args:
        headings: of each column that has one.
    """

    def __init__(self, headings: Mapping[int, str]) -> None:
        self._headings = headings
        self._known: list[dict[Cell, _Known]] = [{} for _ in range(max(headings, default=-1) + 1)]

    def of(self, cells: Sequence[Cell], name: Callable[[int], str]) -> tuple[_Pair, ...]:
        """The filled cells of a row; True and 1 are the same key and must not be taken for each other.

        Args:
            cells: the row.
            name: what to call the cell of a column without a heading.
        """
        pairs = [
            known[cell] if cell in known and type(cell) is not bool else self._pair(index, cell, name)
            for index, (known, cell) in enumerate(zip(self._known, cells, strict=False))
            if cell is not None
        ]
        for index in range(len(self._known), len(cells)):
            pairs.append(self._pair(index, cells[index], name))
        return tuple([pair for pair in pairs if pair])

    def _pair(self, index: int, cell: Cell, name: Callable[[int], str]) -> _Known:
        text = shown(cell)
        if not text or text.isspace():
            return ()
        if index not in self._headings:
            return name(index), text
        pair = (self._headings[index], text)
        if not isinstance(cell, bool):
            known = self._known[index]
            if len(known) >= MOST_REMEMBERED:
                known.clear()
            known[cell] = pair
        return pair

"""Lines gathered under headings by what one of their columns says."""

from collections.abc import Collection, Sequence
from dataclasses import dataclass
from typing import Any

from estate.window.marks import Mark
from estate.window.models.cells import Cell
from estate.window.models.table import TableModel
from estate.window.translating import tr
from estate.window.words import NOTHING


@dataclass(frozen=True, slots=True)
class Heading:
    """What stands above the lines of one group.

    Attributes:
        text: what the column says of each of them.
        count: how many lines.
        folded: whether its lines are out of sight.
    """

    text: str
    mark: Mark | None
    count: int
    folded: bool

    @property
    def words(self) -> str:
        """The text, or that there is none."""
        return tr("nothing on record") if self.text in ("", NOTHING) else self.text


@dataclass(frozen=True, slots=True)
class Gathered:
    """Lines as they stand below each other.

    Attributes:
        headings: in their order.
        lines: a row's number, or for the heading at place n the number -1 - n.
        whole: the numbers of all rows, also of those that are folded away, in the same order.
    """

    headings: tuple[Heading, ...]
    lines: list[int]
    whole: list[int]


def sort_key(cell: Cell) -> tuple[bool, Any]:
    """What a cell is ordered by: numbers before words."""
    return isinstance(cell.sort, str), cell.sort


def in_order(table: TableModel[Any], column: int, descending: bool) -> list[int]:
    """The rows of a table by one column; what is missing stands last either way."""
    cells = [table.cell(place, column) for place in range(len(table.rows))]
    there = [place for place, cell in enumerate(cells) if not cell.missing]
    there.sort(key=lambda place: sort_key(cells[place]), reverse=descending)
    return there + [place for place, cell in enumerate(cells) if cell.missing]


def gather(
    table: TableModel[Any], rows: Sequence[int], column: int, folded: Collection[str], descending: bool
) -> Gathered:
    """Put rows, which are in order, under headings.

    Args:
        table: the rows' table.
        rows: numbers of those shown.
        column: by which they are gathered.
        folded: texts of the headings whose lines are out of sight.
        descending: whether the headings run the other way.
    """
    groups: dict[str, list[int]] = {}
    for row in rows:
        groups.setdefault(table.cell(row, column).text, []).append(row)
    first = {words: table.cell(held[0], column) for words, held in groups.items()}
    there = [words for words in groups if not first[words].missing]
    there.sort(key=lambda words: sort_key(first[words]), reverse=descending)
    headings, lines, whole = list[Heading](), list[int](), list[int]()
    for words in (*there, *(each for each in groups if first[each].missing)):
        held = groups[words]
        lines.append(-1 - len(headings))
        headings.append(Heading(words, first[words].mark, len(held), words in folded))
        whole += held
        if words not in folded:
            lines += held
    return Gathered(tuple(headings), lines, whole)

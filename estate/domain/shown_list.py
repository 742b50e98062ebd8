"""A list as it stands on the screen: what is copied, saved and printed of it."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date


@dataclass(frozen=True, slots=True)
class ShownCell:
    """One cell.

    Attributes:
        words: as shown; empty where nothing is known.
        value: the number or day that the words tell; None where they tell neither.
        decimals: places after the point that are shown of a number; None where it is not shown so.
        mark: name of the shape beside the words; empty for none.
    """

    words: str
    value: float | date | None = None
    decimals: int | None = None
    mark: str = ""


@dataclass(frozen=True, slots=True)
class ShownColumn:
    """One column.

    Attributes:
        title: in one line, with the unit.
        to_right: whether its cells stand to the right.
    """

    title: str
    to_right: bool = False


@dataclass(frozen=True, slots=True)
class ShownGroup:
    """Lines under one heading; its words are empty where lines are not gathered."""

    words: str
    mark: str
    rows: tuple[tuple[ShownCell, ...], ...]


@dataclass(frozen=True, slots=True)
class ShownList:
    """A list.

    Attributes:
        title: of the list.
        grouped_by: the heading of the column by which lines are gathered; empty for none.
        narrowed: what was asked for, in words; empty for everything.
        held: how many lines there are of which these are shown.
    """

    title: str
    columns: tuple[ShownColumn, ...]
    groups: tuple[ShownGroup, ...]
    held: int
    grouped_by: str = ""
    narrowed: tuple[str, ...] = ()

    @property
    def count(self) -> int:
        """How many lines are shown."""
        return sum(len(group.rows) for group in self.groups)

    def rows(self) -> Iterator[tuple[ShownCell, ...]]:
        """Every line, in order."""
        for group in self.groups:
            yield from group.rows

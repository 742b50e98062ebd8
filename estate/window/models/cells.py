"""Prepared cells: what a table shows, sorts by and says, worked out once."""

from collections.abc import Callable
from dataclasses import dataclass
from datetime import date
from typing import Generic, TypeVar

from estate.domain.findings import Verdict
from estate.domain.standing import OutletState
from estate.window import words
from estate.window.marks import OF_STATE, OF_VERDICT, Mark
from estate.window.translating import tr

T = TypeVar("T")
Sortable = float | str


@dataclass(frozen=True, slots=True)
class Cell:
    """One cell.

    Attributes:
        sort: what it is ordered by; a missing value sorts after all others.
        to_right: numbers stand to the right.
        tip: the long form, for the tooltip and screen readers.
        value: the number or day that the text tells, for spreadsheets; None where it is words.
    """

    text: str
    sort: Sortable = ""
    mark: Mark | None = None
    to_right: bool = False
    tip: str = ""
    value: float | date | None = None

    @property
    def missing(self) -> bool:
        """Whether there is nothing to order it by; such cells stand last."""
        return self.sort in (_LAST, _NO_WORDS)


@dataclass(frozen=True, slots=True)
class Column(Generic[T]):
    """One column: heading (unit included), how a row becomes a cell, and its usual width.

    Attributes:
        sample: text as wide as the column should be at first.
        stretches: whether it takes the room that is left.
        marked: whether its cells bear a mark, which needs room.
        id: what it is remembered by, whatever its heading says; empty for the words of the heading.
        hidden_at_first: whether it is shown only where the person asks for it.
        groups: whether lines may be gathered by it; None for marked ones.
    """

    title: str
    cell: Callable[[T], Cell]
    sample: str = ""
    stretches: bool = False
    tip: str = ""
    marked: bool = False
    id: str = ""
    hidden_at_first: bool = False
    groups: bool | None = None

    @property
    def key(self) -> str:
        """What it is remembered by."""
        return self.id or "-".join(self.title.casefold().split())

    @property
    def plain_title(self) -> str:
        """The heading in one line."""
        return " ".join(tr(self.title).split())

    @property
    def gathers(self) -> bool:
        """Whether lines may be gathered by it."""
        return self.marked if self.groups is None else self.groups


_LAST = float("inf")
_NO_WORDS = "\uffff"


def text(value: str, tip: str = "") -> Cell:
    """A text cell; nothing is shown as a dash."""
    return Cell(value or words.NOTHING, value.casefold() or _NO_WORDS, tip=tip or value)


def figure(value: float | None, decimals: int | None = None, tip: str = "") -> Cell:
    """A number to the right, its unit standing in the heading."""
    if value is None:
        return Cell(words.NOTHING, _LAST, to_right=True, tip=tip or tr("not measured"))
    shown = words.number(value) if decimals is None else f"{value:,.{decimals}f}"
    return Cell(shown, value, to_right=True, tip=tip, value=value)


def on_day(value: date | None, missing: str = words.NOTHING) -> Cell:
    """A date, to the right so that days line up."""
    if value is None:
        return Cell(missing, _LAST, to_right=True)
    return Cell(words.day(value), float(value.toordinal()), to_right=True, value=value)


def state(value: OutletState) -> Cell:
    """A state: its shape and its word, the worst first in order."""
    return Cell(tr(value.value), float(value.rank), OF_STATE[value])


def verdict(value: Verdict | None) -> Cell:
    """A verdict: its shape and its word, the worst first in order."""
    if value is None:
        return Cell(tr("never tested"), -0.5, Mark.RING)
    return Cell(tr(value.value), float(-value.rank), OF_VERDICT[value])

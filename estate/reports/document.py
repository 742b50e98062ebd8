"""A report as values: what is said and in which order, no ink."""

from dataclasses import dataclass
from datetime import date, datetime
from enum import StrEnum
from typing import TypeAlias

from estate.domain.dates import day_words, moment_words


class Kind(StrEnum):
    """What the cells of a column hold; it decides alignment and number format."""

    TEXT = "text"
    WHOLE = "whole number"
    NUMBER = "number"
    SHARE = "share, 0 to 1"
    DATE = "date"
    MARK = "marked word"
    BAR = "whole number drawn as a bar"

    @property
    def numeric(self) -> bool:
        """Whether the cells are numbers, set against the right edge."""
        return self in (Kind.WHOLE, Kind.NUMBER, Kind.SHARE)


class Mark(StrEnum):
    """The shape beside a word, so that no state hangs on colour alone."""

    STOP = "stop"
    MEND = "mend"
    LATE = "late"
    UNKNOWN = "unknown"
    PARTLY = "partly"
    OPEN = "open"
    WATCH = "watch"
    GOOD = "good"


@dataclass(frozen=True, slots=True)
class Marked:
    """A word with its shape."""

    words: str
    mark: Mark

    def __str__(self) -> str:
        return self.words


Cell: TypeAlias = str | int | float | date | Marked | None


@dataclass(frozen=True, slots=True)
class Column:
    """One column.

    Attributes:
        unit: shown with the heading; empty where there is none.
        room: how much of the line's width it needs, per cent.
        below: on paper it stands beneath the column before it, smaller.
        decimals: places after the point of its numbers in a workbook; None for as many as each has.
    """

    title: str
    room: float
    kind: Kind = Kind.TEXT
    unit: str = ""
    below: bool = False
    decimals: int | None = None


@dataclass(frozen=True, slots=True)
class Row:
    """The cells of one row, one a column; `strong` for a row that sums up others."""

    cells: tuple[Cell, ...]
    strong: bool = False


@dataclass(frozen=True, slots=True)
class Group:
    """Rows under one heading; `path` has one part for each of the table's group columns."""

    path: tuple[str, ...]
    rows: tuple[Row, ...]


@dataclass(frozen=True, slots=True)
class Table:
    """A table.

    Attributes:
        name: short name, for a sheet's tab.
        group_columns: titles of the parts of every group's path; empty for one group without a heading.
    """

    name: str
    columns: tuple[Column, ...]
    groups: tuple[Group, ...]
    group_columns: tuple[str, ...] = ()

    @property
    def row_count(self) -> int:
        """Rows in all groups."""
        return sum(len(group.rows) for group in self.groups)


@dataclass(frozen=True, slots=True)
class Section:
    """A heading, what is to be said under it, and at most one table."""

    title: str
    words: tuple[str, ...] = ()
    table: Table | None = None


@dataclass(frozen=True, slots=True)
class Fact:
    """One line of the report's heading."""

    label: str
    words: str


@dataclass(frozen=True, slots=True)
class Caution:
    """One caution: what it is about in a word or two, and what to mind."""

    about: str
    words: str


@dataclass(frozen=True, slots=True)
class Document:
    """A whole report.

    Attributes:
        register: name of the register, repeated on every page.
        as_at: the day it speaks of.
        known_at: the past moment (UTC) whose knowledge it is; None where the register is as it is now.
        basis: register identity and rule sets in one line, repeated on every page.
        facts: the first one or two are the figures that matter most.
    """

    title: str
    register: str
    as_at: date
    basis: str
    facts: tuple[Fact, ...]
    cautions: tuple[Caution, ...]
    sections: tuple[Section, ...]
    known_at: datetime | None = None

    @property
    def as_at_words(self) -> str:
        """The day, and where the report is of past knowledge also the moment, for every page and sheet."""
        known = f", as known at {moment_words(self.known_at)}" if self.known_at is not None else ""
        return f"as at {day_words(self.as_at)}{known}"

"""How values are written in cells, and the columns of a table."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date, datetime, time
from random import Random
from typing import Any

from tests.intake.manners.lives import Test
from tests.intake.manners.paper import Between, Due, Entry, Page

Render = Callable[[Test], Any]
Value = float | bool | Between

NUMBERS: Mapping[str, Callable[[Test], float]] = {
    "hot_c": lambda test: test.hot_c,
    "cold_c": lambda test: test.cold_c,
    "found_c": lambda test: test.found_c,
    "left_c": lambda test: test.left_c,
    "flow_l_min": lambda test: test.flow_l_min,
    "cold_isolated.max_c": lambda test: test.max_c,
    "cold_isolated.stabilised_c": lambda test: test.stabilised_c,
    "cold_isolated.residual_ml_min": lambda test: test.residual,
    "cold_isolated.shut_s": lambda test: test.shut_s,
}
ANSWERS: Mapping[str, Callable[[Test], bool]] = {
    "cold_isolated.said_to_shut": lambda test: test.shuts,
    "strainers_cleaned": lambda test: test.strainers,
    "check_valves_good": lambda test: test.check_valves,
    "adjusted": lambda test: test.found_c != test.left_c,
}
MONTHS_EN = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")


def as_fahrenheit(celsius: float) -> float:
    """A temperature as a Fahrenheit thermometer shows it, to a tenth."""
    return round(celsius * 9 / 5 + 32, 1)


def back(fahrenheit: float) -> float:
    """What that reading is in °C."""
    return (fahrenheit - 32) * 5 / 9


@dataclass(frozen=True, slots=True)
class Column:
    """One column of a table.

    Attributes:
        heading: as written; may be several lines of a header joined by a newline.
        field: name of the reading, ``on``, ``ref``; empty for anything that tells no reading.
        render: what is written of a test.
        true: what a reader may take of it; None takes the test's own.
    """

    heading: str
    field: str
    render: Render
    true: Callable[[Test], Value | None] | None = None


def point(value: float) -> str:
    """One decimal with a point, as text."""
    return f"{value:.1f}"


def comma(value: float) -> str:
    """One decimal with a comma, as text."""
    return f"{value:.1f}".replace(".", ",")


def number(field: str, heading: str, write: Callable[[float], Any] = float) -> Column:
    """A column of numbers."""
    told = NUMBERS[field]
    return Column(heading, field, lambda test: write(told(test)))


def fahrenheit(field: str, heading: str, write: Callable[[float], Any] = float) -> Column:
    """A column of temperatures in °F."""
    told = NUMBERS[field]
    return Column(
        heading,
        field,
        lambda test: write(as_fahrenheit(told(test))),
        lambda test: back(as_fahrenheit(told(test))),
    )


def yes_no(field: str, heading: str, words: tuple[Any, Any]) -> Column:
    """A column of answers."""
    told = ANSWERS[field]
    return Column(heading, field, lambda test: words[0] if told(test) else words[1])


def words(heading: str, render: Render) -> Column:
    """A column that tells no reading: places, remarks, limits, numbers of lines."""
    return Column(heading, "", render)


def reference(heading: str, write: Callable[[str], Any] = str) -> Column:
    """The column of references."""
    return Column(heading, "ref", lambda test: write(test.spot.ref))


def day(heading: str, write: Callable[[date], Any]) -> Column:
    """The column of dates."""
    return Column(heading, "on", lambda test: write(test.on))


DAYS: Mapping[str, Callable[[date], Any]] = {
    "real": lambda on: on,
    "timed": lambda on: datetime.combine(on, time(9 + on.day % 7, 5 * (on.day % 12))),
    "slashed": lambda on: f"{on:%d/%m/%Y}",
    "short": lambda on: f"{on.day}/{on.month}/{on:%y}",
    "dotted": lambda on: f"{on:%d.%m.%Y}",
    "dotted short": lambda on: f"{on.day}.{on.month}.{on:%y}",
    "dashed": lambda on: f"{on:%d-%m-%Y}",
    "iso": lambda on: on.isoformat(),
    "named": lambda on: f"{on.day} {MONTHS_EN[on.month - 1]} {on.year}",
    "named short": lambda on: f"{on:%d}-{MONTHS_EN[on.month - 1]}-{on:%y}",
    "weekday": lambda on: f"{('Mon', 'Tue', 'Wed', 'Thu', 'Fri', 'Sat', 'Sun')[on.weekday()]} {on:%d/%m/%Y}",
    "with time": lambda on: f"{on:%d/%m/%Y} {9 + on.day % 7:02d}:35",
    "month first": lambda on: f"{on:%m/%d/%Y}",
    "month first short": lambda on: f"{on.month}/{on.day}/{on:%y}",
}


def values_of(columns: Sequence[Column], test: Test) -> dict[str, Value]:
    """What is true of the readings that the columns tell."""
    found: dict[str, Value] = {}
    for column in columns:
        if not column.field or column.field in ("ref", "on"):
            continue
        true = column.true
        own = true(test) if true else {**NUMBERS, **ANSWERS}[column.field](test)
        if own is not None:
            found[column.field] = own
    return found


def entry_of(columns: Sequence[Column], test: Test, page: Page, row: int, **changes: Any) -> Entry:
    """What is true of one row."""
    plain = Entry(test.spot.ref, test.on, values_of(columns, test), Due.TAKE, page.name, row, row)
    return replace(plain, **changes)


def write_header(page: Page, columns: Sequence[Column], at: int = 1) -> int:
    """Write the header; a heading with a newline is written over two rows."""
    lines = [column.heading.split("\n") for column in columns]
    depth = max(map(len, lines))
    for level in range(depth):
        page.line(*[each[level] if level < len(each) else None for each in lines], at=at)
    return len(page.rows)


def write_rows(page: Page, columns: Sequence[Column], tests: Sequence[Test], at: int = 1) -> list[Entry]:
    """Write one row a test."""
    entries = []
    for test in tests:
        row = page.line(*[column.render(test) for column in columns], at=at)
        entries.append(entry_of(columns, test, page, row))
    return entries


def pick(random: Random, *choices: Any) -> Any:
    """One of several."""
    return choices[random.randrange(len(choices))]

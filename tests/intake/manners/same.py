"""The same tests told in several manners; whoever reads them must find the same visits."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from datetime import date
from random import Random
from typing import Any

from tests.intake.manners.headings import FRENCH, GERMAN, Headings
from tests.intake.manners.lives import Test, days_from, round_of
from tests.intake.manners.paper import Due, Entry, Page, Sheet
from tests.intake.manners.writing import (
    DAYS,
    Column,
    as_fahrenheit,
    back,
    day,
    fahrenheit,
    number,
    point,
    reference,
    values_of,
    write_header,
    write_rows,
)

MEASURES = ("hot_c", "cold_c", "found_c", "left_c")
STYLE = "slashed"


def round_told(seed: int) -> list[Test]:
    """A round whose temperatures are the same whether told in °C or °F."""
    random = Random(f"same {seed}")
    found = []
    for test in round_of(random, STYLE, 20, days_from(date(2026, 9, 10), 14)):
        even: dict[str, Any] = {name: round(back(as_fahrenheit(getattr(test, name))), 2) for name in MEASURES}
        found.append(replace(test, remarks="", **even))
    return found


def told_alike(seed: int) -> Iterator[Sheet]:
    """The same round as rows, cards, in three languages, in °F, and in several forms of file."""
    tests = round_told(seed)
    plain = [reference("Ref"), day("Date", DAYS["real"]), *_numbers(Headings(Random(seed)), float)]
    for saver in ("openpyxl", "by hand", "open document", "comma", "tab, utf-16"):
        yield _rows("same rows", seed, saver, plain, tests)
    for language, name in ((GERMAN, "german"), (FRENCH, "french")):
        heads = Headings(Random(seed), language)
        columns = [reference(heads["ref"]), day(heads["on"], DAYS["dotted"]), *_numbers(heads, _comma)]
        yield _rows(f"same in {name}", seed, "semicolon, cp1252", columns, tests)
    heads = Headings(Random(seed + 1), unit="°F")
    columns = [reference(heads["ref"]), day(heads["on"], DAYS["month first"])]
    columns += [fahrenheit(name, heads[name], point) for name in MEASURES]
    yield _rows("same in fahrenheit", seed, "openpyxl", columns, tests)
    yield _rows("same backwards", seed, "by hand", plain[::-1], tests[::-1])
    yield _cards(seed, plain, tests)


def _comma(value: float) -> str:
    return f"{value:.2f}".replace(".", ",")


def _numbers(heads: Headings, write: Callable[[float], Any]) -> list[Column]:
    return [number(name, heads[name], write) for name in MEASURES]


def _rows(manner: str, seed: int, saver: str, columns: Sequence[Column], tests: Sequence[Test]) -> Sheet:
    page = Page("Round")
    write_header(page, columns)
    return Sheet(manner, seed, STYLE, saver, [page], write_rows(page, columns, tests))


def _cards(seed: int, columns: Sequence[Column], tests: Sequence[Test]) -> Sheet:
    page = Page("Round")
    entries = []
    for test in tests:
        first = len(page.rows) + 1
        for column in columns:
            page.line(f"{column.heading}:", column.render(test))
        last = len(page.rows)
        page.line()
        entries.append(
            Entry(test.spot.ref, test.on, values_of(columns, test), Due.TAKE, page.name, first, last)
        )
    return Sheet("same in cards", seed, STYLE, "openpyxl", [page], entries)

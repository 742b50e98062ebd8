"""Manners of dates in text: proved by the column, by what is possible, or not at all."""

from collections.abc import Callable, Sequence
from dataclasses import replace
from datetime import date
from typing import Any

from tests.intake.manners.lives import Test
from tests.intake.manners.paper import Due, Entry, Sheet
from tests.intake.manners.scene import Scene, asked, either
from tests.intake.manners.writing import DAYS, Column, day, pick, write_header, write_rows


def _with_days(scene: Scene, write: Callable[[date], Any]) -> list[Column]:
    columns = scene.usual()
    place = next(index for index, each in enumerate(columns) if each.field == "on")
    columns[place] = day(columns[place].heading, write)
    return columns


def _sheet(
    scene: Scene, write: Callable[[date], Any], tests: Sequence[Test], judge: Callable[[Entry], Entry]
) -> Sheet:
    columns = _with_days(scene, write)
    page = scene.page()
    write_header(page, columns)
    return scene.sheet(page, [judge(entry) for entry in write_rows(page, columns, tests)])


def day_first(scene: Scene) -> Sheet:
    """Day first in text, proved by days above the 12th."""
    write = DAYS[pick(scene.random, "slashed", "short", "dashed", "weekday", "with time")]
    return _sheet(scene, write, scene.round(), lambda entry: entry)


def month_first(scene: Scene) -> Sheet:
    """Month first in text, proved by days above the 12th."""
    write = DAYS[pick(scene.random, "month first", "month first short")]
    return _sheet(scene, write, scene.round(), lambda entry: entry)


def unprovable(scene: Scene) -> Sheet:
    """Every day could be a month and every month a day; both lie in the past."""
    days = [
        date(2026, month, number)
        for month in (3, 5, 8, 10)
        for number in (2, 4, 6, 7, 9, 11)
        if month != number
    ]
    write = DAYS[pick(scene.random, "slashed", "month first", "short")]
    tests = scene.round(days=days)
    scene.random.shuffle(tests)
    return _sheet(scene, write, tests, lambda entry: asked(entry, "day and month can't be told apart"))


def proved_by_today(scene: Scene) -> Sheet:
    """Early October, day first: read the other way some lie in the future."""
    days = [date(2026, 10, number) for number in (1, 2, 5, 6, 7, 8, 9, 12)]
    tests = scene.round(30, days)
    if not any(test.on.day == 12 for test in tests):
        tests[-1] = replace(tests[-1], on=date(2026, 10, 12))
    return _sheet(scene, DAYS["slashed"], tests, lambda entry: either(entry, "only today tells the order"))


def contradicting(scene: Scene) -> Sheet:
    """Two people's dates in one column, one day first, one month first."""
    tests = scene.round()
    written = iter([pick(scene.random, "slashed", "month first") for _ in tests])
    used: list[date] = []

    def write(on: date) -> str:
        used.append(on)
        return str(DAYS[next(written)](on))

    def judge(entry: Entry) -> Entry:
        assert entry.on is not None
        plain = entry.on.day > 12 or entry.on.day == entry.on.month
        return (either if plain else asked)(entry, "two orders in one column")

    return _sheet(scene, write, tests, judge)


def half_converted(scene: Scene) -> Sheet:
    """Opened by a program set to the other order: days up to the 12th became wrong real dates."""
    days = [date(2026, 9, number) for number in (1, 3, 4, 7, 8, 10, 14, 16, 17, 21, 24, 28)]
    tests = scene.round(30, days)

    def write(on: date) -> Any:
        return date(on.year, on.day, on.month) if on.day <= 12 else f"{on:%d/%m/%Y}"

    return _sheet(scene, write, tests, lambda entry: either(entry, "half converted by a spreadsheet program"))


def mixed_ways(scene: Scene) -> Sheet:
    """Real dates, named months and ISO text in one column."""

    def write(on: date) -> Any:
        return DAYS[pick(scene.random, "real", "named", "iso", "named short", "dotted")](on)

    return _sheet(scene, write, scene.round(), lambda entry: entry)


def date_slips(scene: Scene) -> Sheet:
    """Some days that can't be: next year, before the valve was there, the 31st of September, none."""
    columns = _with_days(scene, DAYS[pick(scene.random, "real", "slashed", "named")])
    place = next(index for index, each in enumerate(columns) if each.field == "on")
    page = scene.page()
    write_header(page, columns)
    entries = []
    for test in scene.round(35):
        (entry,) = write_rows(page, columns, [test])
        if scene.random.random() < 0.2:
            slip, why = pick(
                scene.random,
                (date(2027, test.on.month, test.on.day), "a day to come"),
                (date(2016, test.on.month, test.on.day), "before the valve was there"),
                (date(2025, 1, 14), "before visits that the register holds"),
                ("31/09/2026", "no such day"),
                ("32 Oct 2026", "no such day"),
                ("w/c 12/10", "no day"),
                ("Oct 2026", "no day"),
                ("TBC", "no day"),
                (None, "no day"),
            )
            page.put(entry.first, place + 1, slip)
            entry = asked(replace(entry, on=None), why)
        entries.append(entry)
    return scene.sheet(page, entries)


def far_apart(scene: Scene) -> Sheet:
    """Day-first text over a year, in the years 2025/26 told by two digits."""
    days = [date(2026, month, number) for month in range(1, 11) for number in (5, 14, 23)]
    return _sheet(scene, DAYS["short"], scene.round(35, days), lambda entry: replace(entry, due=Due.TAKE))

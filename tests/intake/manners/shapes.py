"""Manners that do not lie in rows: cards, visits across, months across."""

from collections.abc import Mapping, Sequence
from datetime import date
from typing import Any

from tests.intake.manners.headings import Headings
from tests.intake.manners.lives import Test
from tests.intake.manners.paper import Due, Entry, Page, Sheet
from tests.intake.manners.scene import Scene, asked, either
from tests.intake.manners.writing import DAYS, Column, day, number, pick, reference, values_of, words, yes_no


def _card_columns(scene: Scene) -> list[Column]:
    random = scene.random
    heads = Headings(random)
    ticks = pick(random, ("Pass", "Fail"), ("Yes", "No"), ("✓", "✗"))
    columns = [
        reference(heads["ref"]),
        words("Location", lambda test: f"{test.spot.building}, {test.spot.room} {test.spot.room_number}"),
        day(heads["on"], DAYS[pick(random, "real", "slashed", "named")]),
        number("hot_c", heads["hot_c"]), number("cold_c", heads["cold_c"]),
        number("found_c", heads["found_c"]), number("left_c", heads["left_c"]),
        number("cold_isolated.residual_ml_min", heads["cold_isolated.residual_ml_min"]),
        yes_no("cold_isolated.said_to_shut", heads["cold_isolated.said_to_shut"], ticks),
        words(heads["person"], lambda test: test.person),
        words(heads["remarks"], lambda test: test.remarks or None),
    ]  # fmt: skip
    return columns if random.random() < 0.6 else [each for each in columns if each.heading != "Location"]


def _write_card(
    page: Page, top: int, left: int, columns: Sequence[Column], test: Test, gap: int, colon: str
) -> Entry:
    for offset, column in enumerate(columns):
        page.put(top + offset, left, column.heading + colon)
        page.put(top + offset, left + 1 + gap, column.render(test))
    last = top + len(columns) - 1
    return Entry(test.spot.ref, test.on, values_of(columns, test), Due.TAKE, page.name, top, last)


def cards_down(scene: Scene) -> Sheet:
    """One card a valve, one below the other: label, value."""
    columns = _card_columns(scene)
    page = scene.page()
    page.line("TMV test cards")
    colon = pick(scene.random, "", ":", ":")
    gap = pick(scene.random, 0, 0, 1)
    row, entries = 3, list[Entry]()
    for number_, test in enumerate(scene.round(16), 1):
        if scene.random.random() < 0.5:
            page.put(row, 1, f"Valve test record {number_}")
        row += 1
        entries.append(_write_card(page, row, 1, columns, test, gap, colon))
        row += len(columns) + scene.random.randrange(1, 3)
    return scene.sheet(page, entries)


def cards_beside(scene: Scene) -> Sheet:
    """Cards in bands of two or three."""
    columns = _card_columns(scene)
    page = scene.page()
    page.line("TMV record cards")
    wide = pick(scene.random, 2, 3)
    colon = pick(scene.random, "", ":")
    entries = []
    for place, test in enumerate(scene.round(18)):
        top = 3 + place // wide * (len(columns) + 2)
        entries.append(_write_card(page, top, 1 + place % wide * 3, columns, test, 0, colon))
    return scene.sheet(page, entries)


def card_a_page(scene: Scene) -> Sheet:
    """One sheet a valve."""
    columns = _card_columns(scene)
    pages, entries = [], list[Entry]()
    for test in scene.round(10):
        page = Page(test.spot.ref.replace("/", "-"))
        page.line("TMV in-service test")
        entries.append(_write_card(page, 3, 2, columns, test, 0, ":"))
        pages.append(page)
    return scene.sheet(pages, entries)


def _visits(scene: Scene, months: Sequence[int], count: int) -> list[tuple[Test, ...]]:
    spots = scene.spots[: count + 10]
    chosen = sorted(scene.random.sample(range(len(spots)), count))
    picked = [spots[place] for place in chosen]
    rounds = []
    for month in months:
        on = date(2026, month, scene.random.randrange(13, 27))
        rounds.append(scene.round(count, [on], picked))
    return list(zip(*rounds, strict=True))


def visits_across(scene: Scene) -> Sheet:
    """A group of columns for each visit, its day above."""
    random = scene.random
    heads = Headings(random)
    inner = [
        number("hot_c", "Hot °C"),
        number("cold_c", "Cold °C"),
        number("found_c", pick(random, "Mixed °C", "Mixed found °C")),
    ]
    if random.random() < 0.5:
        inner.append(number("left_c", "Mixed left °C"))
        inner[2] = number("found_c", "Mixed found °C")
    rows = _visits(scene, random.choice(((2, 5, 8), (4, 10), (3, 9))), random.randrange(15, 22))
    page = scene.page()
    page.line("TMV tests 2026")
    page.line(heads["ref"], "Location")
    write_day = DAYS[pick(random, "real", "slashed", "named")]
    for place, test in enumerate(rows[0]):
        left = 3 + place * len(inner)
        page.put(2, left, write_day(test.on))
        page.merge(2, left, 2, left + len(inner) - 1)
        for offset, column in enumerate(inner):
            page.put(3, left + offset, column.heading)
    for side in (1, 2):
        page.merge(2, side, 3, side)
    return scene.sheet(page, _across_rows(scene, page, inner, rows))


def _across_rows(
    scene: Scene, page: Page, inner: Sequence[Column], rows: Sequence[tuple[Test, ...]]
) -> list[Entry]:
    entries = []
    for tests in rows:
        spot = tests[0].spot
        row = page.line(spot.ref, f"{spot.room} {spot.room_number}")
        for place, test in enumerate(tests):
            if scene.random.random() < 0.1:
                continue
            for offset, column in enumerate(inner):
                page.put(row, 3 + place * len(inner) + offset, column.render(test))
            entries.append(Entry(spot.ref, test.on, values_of(inner, test), Due.TAKE, page.name, row, row))
    return entries


def days_across(scene: Scene) -> Sheet:
    """Outlets down, full dates across, one mixed temperature in each cell."""
    rows = _visits(scene, range(1, 11), 20)
    page = scene.page()
    page.line(
        pick(
            scene.random,
            "Mixed water temperatures °C",
            "Mixed temperature (°C), as found",
            "TMV blended temperatures (°C)",
        )
    )
    write = DAYS[pick(scene.random, "real", "slashed", "named short")]
    page.line(pick(scene.random, "Ref", "TMV no.", "Outlet ref"), *[write(test.on) for test in rows[0]])
    entries = []
    for tests in rows:
        cells = [test.found_c if scene.random.random() < 0.95 else None for test in tests]
        row = page.line(tests[0].spot.ref, *cells)
        entries += [
            Entry(test.spot.ref, test.on, {"found_c": test.found_c}, Due.TAKE, page.name, row, row)
            for test, cell in zip(tests, cells, strict=True)
            if cell is not None
        ]
    return scene.sheet(page, entries)


MONTHS: Mapping[str, Sequence[str]] = {
    "short": ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct"),
    "with year": tuple(
        f"{name} 26" for name in ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct")
    ),
    "long": (
        "January",
        "February",
        "March",
        "April",
        "May",
        "June",
        "July",
        "August",
        "September",
        "October",
    ),
}


def months_across(scene: Scene) -> Sheet:
    """Outlets down, months across: nobody can say on which day it was."""
    rows = _visits(scene, range(1, 11), 20)
    page = scene.page()
    page.line("Monthly mixed temperatures °C 2026")
    page.line("Ref", *MONTHS[pick(scene.random, *MONTHS)])
    entries = []
    for tests in rows:
        row = page.line(tests[0].spot.ref, *[test.found_c for test in tests])
        entries.append(Entry(tests[0].spot.ref, None, {}, Due.ASK, page.name, row, row, why="no day is told"))
    return scene.sheet(page, entries)


def measures_down(scene: Scene) -> Sheet:
    """Each valve is a column, what was measured stands down the side."""
    columns = _card_columns(scene)
    page = scene.page()
    page.line("TMV test results")
    tests = scene.round(12)
    entries = []
    cells: list[list[Any]] = [[column.heading] for column in columns]
    for test in tests:
        for line, column in zip(cells, columns, strict=True):
            line.append(column.render(test))
    top = len(page.rows) + 1
    for line in cells:
        page.line(*line)
    last = len(page.rows)
    for test in tests:
        entry = Entry(
            test.spot.ref,
            test.on,
            values_of(columns, test),
            Due.EITHER,
            page.name,
            top,
            last,
            why="a column a valve",
        )
        entries.append(entry)
    return scene.sheet(page, entries)


def _room(test: Test) -> tuple[str, str]:
    return test.spot.building, test.spot.room_number


def gap_in_card(scene: Scene) -> Sheet:
    """Cards of which some lack the reference or the day."""
    columns = _card_columns(scene)
    page = scene.page()
    row, entries = 1, list[Entry]()
    for test in scene.round(14):
        entry = _write_card(page, row, 1, columns, test, 0, ":")
        lacking = scene.random.random()
        if lacking < 0.3:
            field = pick(scene.random, "ref", "on")
            place = next(index for index, each in enumerate(columns) if each.field == field)
            page.put(row + place, 2, None)
            alone = sum((each.building, each.room_number) == _room(test) for each in scene.spots) == 1
            if field == "ref" and alone and any(column.heading == "Location" for column in columns):
                entry = either(entry, "the card lacks the reference, the place tells it")
            else:
                entry = asked(entry, f"the card lacks {field}")
        entries.append(entry)
        row += len(columns) + 1
    return scene.sheet(page, entries)

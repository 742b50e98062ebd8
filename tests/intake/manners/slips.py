"""Manners with the slips of hand and keyboard that a clerk would see."""

from collections.abc import Callable
from typing import Any

from tests.intake.manners.headings import Headings
from tests.intake.manners.lives import Test
from tests.intake.manners.paper import Sheet
from tests.intake.manners.scene import Scene, asked, either
from tests.intake.manners.writing import Column, pick, write_header, write_rows

Slip = tuple[str, str, Callable[[Test], Any]]
SLIPS: tuple[Slip, ...] = (
    ("found_c", "a slipped decimal", lambda test: round(test.found_c / 10, 2)),
    ("found_c", "a lost decimal", lambda test: round(test.found_c * 10)),
    ("left_c", "a slipped decimal", lambda test: round(test.left_c / 10, 2)),
    ("left_c", "a lost decimal", lambda test: round(test.left_c * 10)),
    ("hot_c", "a lost decimal", lambda test: round(test.hot_c * 10)),
    ("hot_c", "a slipped decimal", lambda test: round(test.hot_c / 10, 2)),
    ("cold_c", "a lost decimal", lambda test: round(test.cold_c * 10)),
    ("found_c", "two points", lambda test: f"{test.found_c:.1f}".replace(".", "..")),
    ("found_c", "a letter", lambda test: f"{test.found_c:.1f}"[:-1] + "O"),
    ("hot_c", "two values", lambda test: f"{test.hot_c}/{test.hot_c + 1:.1f}"),
    ("hot_c", "a range", lambda test: f"{test.hot_c:.0f}-{test.hot_c + 2:.0f}"),
    ("found_c", "a question mark", lambda test: f"{test.found_c}?"),
    ("found_c", "about", lambda test: f"approx {test.found_c:.0f}"),
    ("cold_c", "a wrong sign", lambda test: -test.cold_c),
    ("found_c", "thousands", lambda test: f"{test.found_c * 100000:,.0f}"),
)


def decimal_slips(scene: Scene) -> Sheet:
    """Slipped and lost decimals, letters in numbers, two values in a cell."""
    columns = scene.usual()
    page = scene.page()
    write_header(page, columns)
    entries = []
    for test in scene.tests(40):
        (entry,) = write_rows(page, columns, [test])
        if scene.random.random() < 0.25:
            field, why, write = pick(scene.random, *SLIPS)
            place = next(index for index, each in enumerate(columns) if each.field == field)
            page.put(entry.first, place + 1, write(test))
            entry = asked(entry, f"{why} in {field}")
        entries.append(entry)
    return scene.sheet(page, entries)


def swapped_supplies(scene: Scene) -> Sheet:
    """In some rows hot and cold stand in each other's column, or mixed in that of the hot."""
    columns = scene.usual(few=True)
    page = scene.page()
    write_header(page, columns)
    places = {each.field: index + 1 for index, each in enumerate(columns)}
    entries = []
    for test in scene.tests(35):
        (entry,) = write_rows(page, columns, [test])
        luck = scene.random.random()
        if luck < 0.12:
            page.put(entry.first, places["hot_c"], test.cold_c)
            page.put(entry.first, places["cold_c"], test.hot_c)
            entry = asked(entry, "hot and cold are swapped")
        elif luck < 0.2:
            page.put(entry.first, places["hot_c"], test.found_c)
            page.put(entry.first, places["found_c"], test.hot_c)
            page.put(entry.first, places["left_c"], test.hot_c)
            entry = asked(entry, "hot and mixed are swapped")
        entries.append(entry)
    return scene.sheet(page, entries)


def contradictions(scene: Scene) -> Sheet:
    """A row that says "not adjusted" though it was, or "fail" beside nought and one second."""
    random = scene.random
    heads = Headings(random)
    columns = scene.usual(heads, few=True)
    columns.append(Column("Adjusted Y/N", "", lambda test: "Y" if test.found_c != test.left_c else "N"))
    page = scene.page()
    write_header(page, columns)
    place = len(columns)
    entries = []
    for test in scene.tests(35):
        (entry,) = write_rows(page, columns, [test])
        if test.found_c != test.left_c and random.random() < 0.6:
            page.put(entry.first, place, "N")
            entry = asked(entry, "not adjusted, but as left differs")
        entries.append(entry)
    return scene.sheet(page, entries)


def other_measure(scene: Scene) -> Sheet:
    """A column that looks like ours and is not: thermal disinfection, return, calorifier, sentinel times."""
    random = scene.random
    heads = Headings(random)
    columns = scene.usual(heads)
    decoys = (
        Column("Calorifier flow °C", "", lambda test: 61.5), Column("HWS return °C", "", lambda test: 52.3),
        Column("Surface temp of pipe °C", "", lambda test: 38.2), Column("Ambient °C", "", lambda test: 21.4),
        Column("Thermal disinfection temp °C", "", lambda test: 70.2), Column("Time to reach temp (s)", "",
        lambda test: 25),
        Column("Flush time (min)", "", lambda test: 5), Column("Chlorine mg/l", "", lambda test: 0.3),
    )  # fmt: skip
    for decoy in random.sample(decoys, 3):
        columns.insert(random.randrange(2, len(columns)), decoy)
    page = scene.page()
    write_header(page, columns)
    return scene.sheet(page, write_rows(page, columns, scene.tests()))


def bare_headings(scene: Scene) -> Sheet:
    """Headings that say next to nothing, so that only values and neighbours tell; to ask is right too."""
    random = scene.random
    columns = scene.usual(few=True)
    names = pick(
        random,
        ("", "", "Hot", "Cold", "Mixed 1", "Mixed 2"),
        ("Item", "When", "H", "C", "M1", "M2"),
        ("A", "B", "Temp 1", "Temp 2", "Temp 3", "Temp 4"),
    )
    page = scene.page()
    page.line(*names)
    return scene.sheet(
        page, [either(each, "headings tell little") for each in write_rows(page, columns, scene.tests())]
    )

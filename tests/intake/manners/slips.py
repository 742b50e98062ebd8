"""Manners with the slips of hand and keyboard that a clerk would see."""

from collections.abc import Callable
from datetime import date
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
    for test in scene.round(40):
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
    for test in scene.round(35):
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
    for test in scene.round(35):
        (entry,) = write_rows(page, columns, [test])
        if test.found_c != test.left_c and random.random() < 0.6:
            page.put(entry.first, place, "N")
            entry = asked(entry, "not adjusted, but as left differs")
        entries.append(entry)
    return scene.sheet(page, entries)


OTHERS: tuple[tuple[tuple[str, ...], Callable[[Test], Any]], ...] = (
    (
        ("Calorifier flow °C", "HWS return °C", "Hot return temp °C", "Thermal disinfection temp °C",
        "Previous hot °C", "Hot target °C", "Hot min °C", "Hot surface temp °C"),
        lambda test: round(test.hot_c + 2.3, 1),
    ),
    (
        ("Cold tank °C", "Cold max °C", "Previous cold °C", "Incoming mains °C", "Ambient °C",
        "Room temp °C"),
        lambda test: round(test.cold_c + 3.1, 1),
    ),
    (
        ("Set temp °C", "Target mixed °C", "Required mixed temp °C", "Max permitted mixed °C",
        "Mixed limit °C",
        "Previous mixed °C", "Last as left °C", "Mixed temp last visit °C", "Design mixed °C",
        "Mixed setting °C",
        "Commissioned mixed temp °C", "Original set temp °C", "Mixed temp 2025 °C", "Average mixed °C"),
        lambda test: test.spot.set_c + 0.4,
    ),
    (
        ("Last test date", "Next test due", "Due date", "Date of manufacture", "Calibration date",
        "Report date",
        "Date installed", "Last serviced", "Retest date", "Date raised", "Date of commissioning"),
        lambda test: date(2026, 4, 1 + test.on.day % 20),
    ),
    (
        ("Time on site (min)", "Flush time (s)", "Time to reach temp (s)", "Max shut-off s", "Chlorine mg/l",
        "Residual chlorine mg/l", "Residual limit ml/min", "Previous residual ml/min", "Pipe run m"),
        lambda test: 5,
    ),
    (
        ("Strainers fitted", "Check valves fitted", "Fail safe required?", "Adjustment required",
        "Previous fail safe",
        "Accessible", "Label fitted"),
        lambda test: "Y",
    ),
    (("Site contact", "Approved by", "Ward manager", "Accompanied by"), lambda test: "P. Anning"),
)  # fmt: skip
"""Headings that look like ours and stand for something else, with what is written under them."""


def other_measure(scene: Scene) -> Sheet:
    """A column that looks like ours and is not: thermal disinfection, return, calorifier, sentinel times."""
    random = scene.random
    heads = Headings(random)
    columns = scene.usual(heads)
    decoys = [Column(name, "", tell) for names, tell in OTHERS for name in names]
    for decoy in random.sample(decoys, 4):
        columns.insert(random.randrange(2, len(columns)), decoy)
    page = scene.page()
    write_header(page, columns)
    return scene.sheet(page, write_rows(page, columns, scene.round()))


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
        page, [either(each, "headings tell little") for each in write_rows(page, columns, scene.round())]
    )

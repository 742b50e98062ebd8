"""Manners with one row a visit: plain, titled, by building, printed, with tables beside and totals."""

from dataclasses import replace
from datetime import date, timedelta

from tests.intake.manners.headings import Headings
from tests.intake.manners.paper import Due, Entry, Page, Sheet
from tests.intake.manners.scene import Scene, either
from tests.intake.manners.writing import (
    DAYS,
    Column,
    day,
    number,
    pick,
    reference,
    words,
    write_header,
    write_rows,
    yes_no,
)


def plain(scene: Scene) -> Sheet:
    """A header in the first row and nothing else."""
    columns = scene.usual(on=pick(scene.random, "real", "real", "timed", "named"))
    page = scene.page()
    write_header(page, columns)
    return scene.sheet(page, write_rows(page, columns, scene.round()))


def titled(scene: Scene) -> Sheet:
    """Titles above, a header over two rows with the units in the second, merged, signatures below."""
    random = scene.random
    instrument = pick(random, "T-014", "T-101")
    page = scene.page()
    page.put(
        1, 2, pick(random, "THERMOSTATIC MIXING VALVE TEST RECORD", "TMV IN-SERVICE TEST SHEET", "TMV round")
    )
    page.merge(1, 2, 1, 7)
    page.put(2, 2, scene.spots[0].site)
    page.put(
        3, 2, pick(random, f"Thermometer: {instrument}", f"Instrument: {instrument} (cal. due 04/01/2027)")
    )
    page.put(3, 6, "Ambient limits: see procedure 7")
    page.line()
    row = page.line(
        "Ref.",
        "Date",
        "Supply temperatures °C",
        None,
        "Mixed temperature °C",
        None,
        "Fail safe",
        None,
        "Notes",
        at=2,
    )
    page.line(
        None,
        None,
        "Hot",
        "Cold",
        pick(random, "as found", "found", "before"),
        pick(random, "as left", "left", "after"),
        "ml/min",
        "time (s)",
        at=2,
    )
    for left, right in ((4, 5), (6, 7), (8, 9)):
        page.merge(row, left, row, right)
    for column in (2, 3, 10):
        page.merge(row, column, row + 1, column)
    columns = [
        reference(""), day("", DAYS["real"]), number("hot_c", ""), number("cold_c", ""), number("found_c",
        ""),
        number("left_c", ""), number("cold_isolated.residual_ml_min", ""), number("cold_isolated.shut_s", ""),
        words("", lambda test: test.remarks or None),
    ]  # fmt: skip
    if page.rows[row][5] in ("before",):
        page.put(row + 1, 7, "after")
    entries = [
        replace(each, instrument=instrument) for each in write_rows(page, columns, scene.round(), at=2)
    ]
    page.line()
    page.line("Tested by:", "R. Velde", None, "Signature", at=2)
    page.line("Comments: none", at=2)
    return scene.sheet(page, entries)


def by_building(scene: Scene) -> Sheet:
    """A sheet a building, with a line for each level or ward, and an empty cover sheet."""
    random = scene.random
    columns = scene.usual(on=pick(random, "real", "slashed", "named short"))
    cover = Page(pick(random, "Cover", "Summary", "Contents"))
    cover.line("TMV testing programme")
    cover.line("Client", scene.spots[0].site)
    cover.line("Report no.", "WH-2217", None, "Revision", 2)
    pages, entries = [cover], list[Entry]()
    for building in dict.fromkeys(spot.building for spot in scene.spots):
        page = Page(building)
        page.line(building.upper())
        page.line()
        write_header(page, columns)
        spots = [spot for spot in scene.spots if spot.building == building]
        tests = scene.round(12, spots=spots)
        for storey in dict.fromkeys(test.spot.storey for test in tests):
            page.line({"G": "Ground Floor", "1": "First Floor"}[storey])
            entries += write_rows(page, columns, [test for test in tests if test.spot.storey == storey])
        if random.random() < 0.5:
            page.line("Total tested", len(tests))
        pages.append(page)
    return scene.sheet(pages, entries)


def printed_pages(scene: Scene) -> Sheet:
    """One long sheet laid out for printing: the header and a page number come again every so many rows."""
    columns = scene.usual(on=pick(scene.random, "real", "dashed"))
    page = scene.page()
    tests = scene.round(40)
    entries = []
    size = scene.random.randrange(11, 16)
    for start in range(0, len(tests), size):
        page.line(
            "TMV monthly return", None, None, f"Page {start // size + 1} of {(len(tests) - 1) // size + 1}"
        )
        write_header(page, columns)
        entries += write_rows(page, columns, tests[start : start + size])
        page.line()
    page.line("Number tested", len(tests))
    page.line("Signed: A. Thorne", None, "Date: ")
    return scene.sheet(page, entries)


def totals_and_hidden(scene: Scene) -> Sheet:
    """Averages and counts below, some rows hidden, a small table of limits beside."""
    columns = scene.usual()
    page = scene.page()
    write_header(page, columns)
    tests = scene.round(30)
    entries = write_rows(page, columns, tests)
    for place in scene.random.sample(range(len(entries)), 4):
        page.hidden_rows.add(entries[place].first)
        entries[place] = either(entries[place], "in a hidden row")
    beside = len(columns) + 3
    for row, line in enumerate(
        (("Outlet", "Set °C", "Max °C"), ("Basin", 41, 43), ("Shower", 41, 43), ("Bath", 44, 46)), 1
    ):
        for offset, cell in enumerate(line):
            page.put(row, beside + offset, cell)
    page.line()
    hot = [column.field for column in columns].index("hot_c")
    page.line("Average", *[None] * (hot - 1), 60.1, 13.2, 41.1)
    page.line("Max", *[None] * (hot - 1), 64.0, 19.2, 43.9)
    page.line("Number of valves tested:", len(tests))
    page.line("Checked by", "P. Anning", None, date(2026, 11, 3))
    return scene.sheet(page, entries)


def two_beside(scene: Scene) -> Sheet:
    """Two tables of results side by side, one for each building."""
    columns = scene.usual(few=True, on=pick(scene.random, "real", "slashed"))
    halves = [
        [spot for spot in scene.spots if (spot.site == scene.spots[0].site) is first]
        for first in (True, False)
    ]
    page = scene.page()
    page.put(1, 1, "Hospital")
    at = len(columns) + 2
    page.put(1, at, "Care home")
    left, right = (scene.round(scene.random.randrange(12, 18), spots=half) for half in halves)
    write_header(page, columns)
    for place, column in enumerate(columns):
        page.put(2, at + place, column.heading)
    entries = write_rows(page, columns, left)
    beside = Page(page.name)
    for entry, test in zip(write_rows(beside, columns, right), right, strict=True):
        row = entry.first + 2
        for place, column in enumerate(columns):
            page.put(row, at + place, column.render(test))
        entries.append(replace(entry, first=row, last=row))
    return scene.sheet(page, entries)


def stacked(scene: Scene) -> Sheet:
    """Two tables one below the other, with other columns in another order."""
    page = scene.page()
    half = len(scene.spots) // 2
    entries = []
    for spots in (scene.spots[:half], scene.spots[half:]):
        columns = scene.usual(Headings(scene.random), on=pick(scene.random, "real", "named"))
        page.line(spots[0].building)
        write_header(page, columns)
        entries += write_rows(page, columns, scene.round(14, spots=spots))
        page.line()
        page.line()
    return scene.sheet(page, entries)


def with_previous(scene: Scene) -> Sheet:
    """The last results and the limits stand beside the new ones."""
    random = scene.random
    heads = Headings(random)
    earlier = timedelta(days=random.randrange(180, 200))
    before = pick(random, "Previous", "Last", "Prev.")
    columns = [
        reference(heads["ref"]),
        words("Location", lambda test: f"{test.spot.room} {test.spot.room_number}"),
        words(pick(random, "Set point °C", "Target °C", "Design temp °C"), lambda test: test.spot.set_c),
        words(f"{before} test date", lambda test: test.on - earlier),
        words(f"{before} mixed °C", lambda test: round(test.found_c + random.gauss(0, 0.5), 1)),
        day(heads["on"], DAYS["real"]),
        number("hot_c", heads["hot_c"]),
        words("Hot min °C", lambda test: 55),
        number("cold_c", heads["cold_c"]),
        words("Cold max °C", lambda test: 20),
        number("found_c", heads["found_c"]),
        number("left_c", heads["left_c"]),
        words(pick(random, "Limit °C", "Max allowed °C", "Upper limit °C"), lambda test: test.spot.set_c + 2),
        words(
            pick(random, "Next due", "Next test due", "Retest by"), lambda test: test.on + timedelta(days=182)
        ),
        number("cold_isolated.residual_ml_min", heads["cold_isolated.residual_ml_min"]),
        words(heads["remarks"], lambda test: test.remarks or None),
    ]
    page = scene.page()
    if random.random() < 0.5:
        page.line("Six-monthly TMV test results with comparison")
        page.line()
    write_header(page, columns)
    return scene.sheet(page, write_rows(page, columns, scene.round()))


def several_visits(scene: Scene) -> Sheet:
    """A log by outlet: each stands several times, with different days."""
    columns = scene.usual(on=pick(scene.random, "real", "slashed", "iso"))
    page = scene.page("Log")
    write_header(page, columns)
    entries = []
    rounds = [scene.round(90, [date(2026, month, 17 + month % 8)], scene.spots[:20]) for month in (3, 6, 9)]
    for visits in zip(*rounds, strict=True):
        entries += write_rows(page, columns, visits)
    return scene.sheet(page, entries)


def date_in_head(scene: Scene) -> Sheet:
    """One visit, one day: the day stands above the table and not in it."""
    random = scene.random
    on = date(2026, random.choice((9, 10)), random.randrange(13, 29))
    columns = [column for column in scene.usual() if column.field != "on"]
    page = scene.page()
    page.line("TMV site test sheet")
    page.line("Site:", scene.spots[0].site)
    shown = DAYS[pick(random, "real", "slashed", "named")](on)
    page.line(pick(random, "Date of visit:", "Date:", "Test date:"), shown, None, "Engineer:", "R. Velde")
    page.line()
    write_header(page, columns)
    return scene.sheet(
        page,
        [either(each, "day above the table") for each in write_rows(page, columns, scene.round(25, [on]))],
    )


def full_sheet(scene: Scene) -> Sheet:
    """All that a service sheet can ask for, with ticks."""
    random = scene.random
    heads = Headings(random)
    ticks = pick(random, ("✓", "✗"), ("Y", "N"), ("Yes", "No"))
    columns: list[Column] = [
        day(heads["on"], DAYS["real"]), reference(heads["ref"]),
        words("Make", lambda test: "Make A"), words("Serial no", lambda test: test.spot.serial),
        number("hot_c", heads["hot_c"]), number("cold_c", heads["cold_c"]),
        number("flow_l_min", heads["flow_l_min"]),
        number("found_c", heads["found_c"]), yes_no("adjusted", heads["adjusted"], ticks),
        number("left_c", heads["left_c"]),
        yes_no("strainers_cleaned", heads["strainers_cleaned"], ticks),
        yes_no("check_valves_good", heads["check_valves_good"], ticks),
        number("cold_isolated.max_c", heads["cold_isolated.max_c"]),
        number("cold_isolated.residual_ml_min", heads["cold_isolated.residual_ml_min"]),
        number("cold_isolated.shut_s", heads["cold_isolated.shut_s"]),
        yes_no("cold_isolated.said_to_shut", heads["cold_isolated.said_to_shut"], ticks),
        words(heads["person"], lambda test: test.person), words(heads["remarks"],
        lambda test: test.remarks or None),
    ]  # fmt: skip
    page = scene.page()
    page.line("TMV inspection")
    write_header(page, columns)
    return scene.sheet(page, write_rows(page, columns, scene.round()))


def commissioning(scene: Scene) -> Sheet:
    """A commissioning record, said by its title or by a column."""
    random = scene.random
    heads = Headings(random)
    said = random.random() < 0.5
    columns = [
        reference(heads["ref"]), day(heads["on"], DAYS["real"]), number("hot_c", heads["hot_c"]),
        number("cold_c", heads["cold_c"]), number("left_c", pick(random, "Mixed left °C",
        "Mixed as left °C")),
        number("cold_isolated.max_c", heads["cold_isolated.max_c"]),
        number("cold_isolated.residual_ml_min", heads["cold_isolated.residual_ml_min"]),
    ]  # fmt: skip
    if not said:
        columns.insert(
            2, words(pick(random, "Visit", "Visit type", "Test type"), lambda test: "Commissioning")
        )
    page = scene.page()
    page.line("TMV commissioning record" if said else "TMV records")
    page.line()
    write_header(page, columns)
    tests = scene.round(15)
    entries = [replace(each, kind="commissioning") for each in write_rows(page, columns, tests)]
    return scene.sheet(page, entries)


def half_filled(scene: Scene) -> Sheet:
    """A list of all outlets of which only some were tested; the others stand blank."""
    columns = scene.usual()
    page = scene.page()
    write_header(page, columns)
    entries = []
    for test in scene.round(40):
        if scene.random.random() < 0.7:
            entries += write_rows(page, columns, [test])
        else:
            row = page.line(*[column.render(test) if column.field == "ref" else None for column in columns])
            entries.append(
                Entry(test.spot.ref, None, {}, Due.ASK, page.name, row, row, why="nothing entered")
            )
    return scene.sheet(page, entries)

"""Manners of what stands in the cells: units, words for nothing, ticks, formulas, no access."""

from collections.abc import Callable
from dataclasses import replace
from typing import Any

from tests.intake.manners.headings import Headings
from tests.intake.manners.lives import Test
from tests.intake.manners.paper import Due, Entry, Formula, Sheet
from tests.intake.manners.scene import TICKS, Scene, asked, either
from tests.intake.manners.writing import (
    DAYS,
    Column,
    comma,
    day,
    entry_of,
    number,
    pick,
    point,
    reference,
    words,
    write_header,
    write_rows,
    yes_no,
)

NO_ACCESS = (
    "No access", "no access - patient in room", "Locked", "N/A - room locked", "Room occupied",
    "Unable to access",
    "No Access (infection control)", "Could not gain access", "Ward closed", "Not accessible",
)  # fmt: skip


def units_in_cells(scene: Scene) -> Sheet:
    """Units in the cells, not in the headings; now and then a word for none."""
    random = scene.random
    heads = Headings(random, unit="")
    odd = pick(random, point, comma)
    degree = pick(random, " °C", "°C", " C", "°", " deg C", " ºC")
    residual = pick(random, "ml/min", "ml/min", "ml per min")
    columns = [
        reference(heads["ref"]), day(heads["on"], DAYS["named"]),
        *[number(name, heads[name], lambda value: odd(value) + degree) for name in ("hot_c", "cold_c",
        "found_c", "left_c")],
        number("cold_isolated.residual_ml_min", "Residual flow",
        lambda value: f"{value:g} {residual}" if value else pick(random, "0", "nil", "Nil", "0 ml/min")),
        number("cold_isolated.shut_s", "Shut off time",
        lambda value: odd(value) + pick(random, " s", " sec", " secs")),
    ]  # fmt: skip
    page = scene.page()
    write_header(page, columns)
    return scene.sheet(page, write_rows(page, columns, scene.round()))


def as_left_same(scene: Scene) -> Sheet:
    """As left is "same", a dash, ditto or blank where nothing was adjusted."""
    random = scene.random
    heads = Headings(random)
    same = pick(
        random,
        ("same",),
        ("-",),
        ("Same", "same as found"),
        (None,),
        ("as found", "AF"),
        ("no change", "unchanged"),
        ("n/c", "NC"),
    )
    hard = same[0] in ("AF", "n/c", "as found")

    def left(test: Test) -> Any:
        return pick(random, *same) if test.left_c == test.found_c else test.left_c

    columns = [
        reference(heads["ref"]), day(heads["on"], DAYS["real"]),
        number("hot_c", heads["hot_c"]), number("cold_c", heads["cold_c"]), number("found_c",
        heads["found_c"]),
        Column(heads["left_c"], "left_c", left, lambda test: test.left_c),
        words(heads["remarks"], lambda test: test.remarks or None),
    ]  # fmt: skip
    page = scene.page()
    write_header(page, columns)
    entries = write_rows(page, columns, scene.round())
    return scene.sheet(page, [either(each, "as left in short") for each in entries] if hard else entries)


def ditto(scene: Scene) -> Sheet:
    """Day and tester are written once, then repeated by ditto marks or left out until they change."""
    random = scene.random
    heads = Headings(random)
    mark = pick(random, '"', '"', "''", "ditto", "do.", "″", None)
    columns = [
        day(heads["on"], DAYS[pick(random, "real", "named")]), reference(heads["ref"]),
        *[number(name, heads[name]) for name in ("hot_c", "cold_c", "found_c", "left_c")],
        words(heads["person"], lambda test: test.person),
    ]  # fmt: skip
    page = scene.page()
    write_header(page, columns)
    entries: list[Entry] = []
    earlier = None
    for test in scene.round():
        cells = [column.render(test) for column in columns]
        repeated = earlier == test.on
        if repeated:
            cells[0] = mark
        earlier = test.on
        entry = entry_of(columns, test, page, page.line(*cells))
        entries.append(either(entry, f"the day is {mark!r}") if repeated else entry)
    return scene.sheet(page, entries)


def below_a_limit(scene: Scene) -> Sheet:
    """Residual flows as "<1", "nil", "trace", "drip", "none"; times as "< 2", "immediate"."""
    random = scene.random
    heads = Headings(random)
    said: dict[str, tuple[float, float] | float | None] = {
        "nil": 0.0, "Nil": 0.0, "0": 0.0, "none": 0.0, "<1": (0.0, 1.0), "< 5": (0.0, 5.0), "trace": (0.0,
        10.0), "drip": (0.0, 60.0), "zero": 0.0,
    }  # fmt: skip
    chosen: dict[int, str] = {}

    def residual(test: Test) -> Any:
        if test.residual == 0:
            chosen[id(test)] = pick(random, *said)
            return chosen[id(test)]
        return test.residual

    def truth(test: Test) -> Any:
        return said[chosen[id(test)]] if id(test) in chosen else test.residual

    columns = [
        reference(heads["ref"]), day(heads["on"], DAYS["real"]),
        *[number(name, heads[name]) for name in ("hot_c", "cold_c", "found_c", "left_c")],
        Column(heads["cold_isolated.residual_ml_min"], "cold_isolated.residual_ml_min", residual, truth),
    ]  # fmt: skip
    page = scene.page()
    write_header(page, columns)
    tests = scene.round()
    entries = []
    for test, entry in zip(tests, write_rows(page, columns, tests), strict=True):
        unsure = chosen.get(id(test)) in ("<1", "< 5", "trace", "drip")
        # What is taken of "trace" or "<1" is at most a bound; not to take a number at all is honest too.
        free = (
            frozenset({"cold_isolated.residual_ml_min"})
            if chosen.get(id(test)) in ("drip", "trace")
            else frozenset[str]()
        )
        entries.append(replace(either(entry, "a bound, no number"), free=free) if unsure else entry)
    return scene.sheet(page, entries)


def pass_or_fail(scene: Scene) -> Sheet:
    """Nothing but ticks and words."""
    random = scene.random
    heads = Headings(random)
    columns = [
        reference(heads["ref"]), words(heads["place"], lambda test: test.spot.room),
        day(heads["on"], DAYS[pick(random, "real", "slashed")]),
        yes_no("cold_isolated.said_to_shut", heads["cold_isolated.said_to_shut"], pick(random, *TICKS)),
        yes_no("strainers_cleaned", heads["strainers_cleaned"], pick(random, ("✓", "✗"), ("Yes", "No"),
        ("Y", "N"), ("x", None))),
        yes_no("check_valves_good", heads["check_valves_good"], pick(random, *TICKS)),
        words(heads["person"], lambda test: test.person),
    ]  # fmt: skip
    page = scene.page()
    page.line("Annual TMV fail-safe check")
    page.line()
    write_header(page, columns)
    entries = write_rows(page, columns, scene.round())
    crossed = page.rows and any("x" in row for row in page.rows)
    if crossed:
        entries = [
            replace(either(each, "a cross may mean yes or no"), free=frozenset({"strainers_cleaned"}))
            for each in entries
        ]
    return scene.sheet(page, entries)


def formulas(scene: Scene) -> Sheet:
    """Numbers that are formulas, some without what they came to."""
    random = scene.random
    columns = scene.usual(few=True)
    page = scene.page()
    write_header(page, columns)
    left = next(index for index, each in enumerate(columns) if each.field == "left_c")
    entries = []
    for test in scene.round():
        row = len(page.rows) + 1
        (entry,) = write_rows(page, columns, [test])
        luck = random.random()
        if luck < 0.4:
            page.put(row, left + 1, Formula(f"ROUND({test.left_c}*1,1)", test.left_c))
        elif luck < 0.55:
            page.put(row, left + 1, Formula(f"F{row}", None))
            entry = asked(entry, "a formula without a value")
        entries.append(entry)
    return scene.sheet(page, entries, "by hand")


def _attempts(scene: Scene, where: Callable[[list[Column]], int]) -> Sheet:
    columns = scene.usual(on=pick(scene.random, "real", "slashed"))
    if not any(column.heading for column in columns if column.field == "" and "emark" in column.heading):
        columns.append(words("Remarks", lambda test: test.remarks or None))
    page = scene.page()
    write_header(page, columns)
    entries = []
    for test in scene.round():
        if scene.random.random() > 0.2:
            entries += write_rows(page, columns, [test])
            continue
        cells: list[Any] = [
            column.render(test) if column.field in ("ref", "on") else None for column in columns
        ]
        cells[where(columns)] = pick(scene.random, *NO_ACCESS)
        row = page.line(*cells)
        entries.append(Entry(test.spot.ref, test.on, {}, Due.ATTEMPT, page.name, row, row, why="no access"))
    return scene.sheet(page, entries)


def no_access_in_results(scene: Scene) -> Sheet:
    """No access, written where the first reading would be."""
    return _attempts(
        scene, lambda columns: next(place for place, each in enumerate(columns) if each.field == "hot_c")
    )


def no_access_in_remarks(scene: Scene) -> Sheet:
    """No access, written in the remarks."""
    return _attempts(
        scene,
        lambda columns: max(
            place
            for place, each in enumerate(columns)
            if each.heading == "Remarks" or place == len(columns) - 1
        ),
    )


def not_all_measured(scene: Scene) -> Sheet:
    """Blanks, dashes and n/a for what was not measured: never a nought, never a pass."""
    random = scene.random
    heads = Headings(random)
    ticks = pick(random, *TICKS)
    skipped: set[tuple[int, str]] = set()
    measures = ("hot_c", "cold_c", "found_c", "cold_isolated.residual_ml_min", "cold_isolated.shut_s")

    def sometimes(column: Column) -> Column:
        def render(test: Test) -> Any:
            if column.field == "found_c" or random.random() > 0.15:
                return column.render(test)
            skipped.add((id(test), column.field))
            return pick(random, None, "-", "n/a", "N/A", "not tested", "", "--")

        return Column(column.heading, column.field, render)

    columns = [reference(heads["ref"]), day(heads["on"], DAYS["real"])]
    columns += [sometimes(number(name, heads[name])) for name in measures]
    columns.append(sometimes(yes_no("cold_isolated.said_to_shut", "Fail safe OK?", ticks)))
    page = scene.page()
    write_header(page, columns)
    tests = scene.round()
    entries = []
    for test, entry in zip(tests, write_rows(page, columns, tests), strict=True):
        values = {name: value for name, value in entry.values.items() if (id(test), name) not in skipped}
        entries.append(replace(entry, values=values))
    return scene.sheet(page, entries)


def numbers_as_text(scene: Scene) -> Sheet:
    """Every number stored as text, padded, with odd spaces; references with blanks round them."""
    random = scene.random
    pad = pick(random, lambda text: f" {text}", lambda text: f"{text}\u00a0", lambda text: f"{text} ")
    columns = scene.usual(
        write=lambda value: pad(f"{value:.1f}"), on=pick(random, "slashed", "named", "dashed")
    )
    place = next(index for index, each in enumerate(columns) if each.field == "ref")
    columns[place] = reference(columns[place].heading, lambda ref: f"  {ref} ")
    page = scene.page()
    write_header(page, columns)
    return scene.sheet(page, write_rows(page, columns, scene.round()))

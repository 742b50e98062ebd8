"""Manners by language, unit and form of file."""

from datetime import date

from tests.intake.manners.headings import FRENCH, GERMAN, Headings
from tests.intake.manners.lives import Test
from tests.intake.manners.paper import Sheet
from tests.intake.manners.scene import Scene, either
from tests.intake.manners.writing import (
    DAYS,
    Column,
    as_fahrenheit,
    back,
    comma,
    day,
    fahrenheit,
    number,
    pick,
    point,
    reference,
    words,
    write_header,
    write_rows,
    yes_no,
)

TEMPERATURES = ("hot_c", "cold_c", "found_c", "left_c")


def german(scene: Scene) -> Sheet:
    """German, decimal commas as text, dates with points."""
    random = scene.random
    heads = Headings(random, GERMAN)
    ticks = pick(random, ("ja", "nein"), ("i.O.", "n.i.O."), ("bestanden", "nicht bestanden"), ("J", "N"))
    write = pick(random, comma, float)
    columns = [
        reference(heads["ref"]), words(heads["place"], lambda test: f"{test.spot.room_number}"),
        day(heads["on"], DAYS[pick(random, "dotted", "dotted short", "real")]),
        *[number(name, heads[name], write) for name in TEMPERATURES],
        number("cold_isolated.residual_ml_min", heads["cold_isolated.residual_ml_min"]),
        number("cold_isolated.shut_s", heads["cold_isolated.shut_s"], write),
        yes_no("cold_isolated.said_to_shut", heads["cold_isolated.said_to_shut"], ticks),
        yes_no("strainers_cleaned", heads["strainers_cleaned"], pick(random, ("ja", "nein"), ("J", "N"))),
        words(heads["remarks"], lambda test: "nachgestellt" if test.remarks else None),
    ]  # fmt: skip
    page = scene.page()
    page.line(
        pick(random, "Prüfprotokoll Mischarmaturen", "Prüfung thermostatischer Mischer", "Messprotokoll")
    )
    page.line("Prüfer: R. Velde")
    page.line()
    write_header(page, columns)
    entries = write_rows(page, columns, scene.round())
    page.line()
    page.line("Anzahl", len(entries))
    page.line("Unterschrift:")
    return scene.sheet(page, entries, pick(random, "openpyxl", "semicolon, cp1252", "open document"))


def french(scene: Scene) -> Sheet:
    """French, semicolons, decimal commas, day first."""
    random = scene.random
    heads = Headings(random, FRENCH)
    columns = [
        reference(heads["ref"]), words(heads["place"], lambda test: f"Chambre {test.spot.room_number}"),
        day(heads["on"], DAYS[pick(random, "slashed", "short", "with time")]),
        *[number(name, heads[name], comma) for name in TEMPERATURES],
        number("cold_isolated.residual_ml_min", heads["cold_isolated.residual_ml_min"],
        lambda value: f"{value:g}"),
        yes_no("cold_isolated.said_to_shut", heads["cold_isolated.said_to_shut"], pick(random, ("oui",
        "non"), ("Conforme", "Non conforme"))),
        words(heads["remarks"], lambda test: "réglé" if test.remarks else None),
    ]  # fmt: skip
    page = scene.page()
    page.line("Relevé des températures aux mitigeurs")
    page.line()
    write_header(page, columns)
    return scene.sheet(
        page, write_rows(page, columns, scene.round()), pick(random, "semicolon, cp1252", "openpyxl")
    )


def _in_fahrenheit(scene: Scene, heads: Headings) -> list[Column]:
    random = scene.random
    write = pick(random, float, point)
    columns = [reference(heads["ref"]), day(heads["on"], DAYS[pick(random, "real", "month first", "named")])]
    columns += [fahrenheit(name, heads[name], write) for name in TEMPERATURES]
    columns.append(number("cold_isolated.shut_s", heads["cold_isolated.shut_s"]))
    columns.append(words(heads["remarks"], lambda test: test.remarks or None))
    return columns


def fahrenheit_told(scene: Scene) -> Sheet:
    """°F in the headings."""
    heads = Headings(scene.random, unit=pick(scene.random, "°F", "deg F", "F", "°F"))
    columns = _in_fahrenheit(scene, heads)
    page = scene.page()
    write_header(page, columns)
    return scene.sheet(page, write_rows(page, columns, scene.round()))


def fahrenheit_in_title(scene: Scene) -> Sheet:
    """°F said once above the table."""
    columns = _in_fahrenheit(scene, Headings(scene.random, unit=""))
    page = scene.page()
    page.line(
        pick(scene.random, "All temperatures in °F", "Temperatures: degrees Fahrenheit", "Temps in deg F")
    )
    write_header(page, columns)
    entries = write_rows(page, columns, scene.round())
    return scene.sheet(page, [either(each, "°F is said above") for each in entries])


def fahrenheit_untold(scene: Scene) -> Sheet:
    """°F and no word of it; some rows tell only the cold and the mixed temperature."""
    columns = _in_fahrenheit(scene, Headings(scene.random, unit=""))
    page = scene.page()
    write_header(page, columns)
    entries = write_rows(page, columns, scene.round())
    return scene.sheet(page, [either(each, "°F is not said") for each in entries])


def fahrenheit_here_and_there(scene: Scene) -> Sheet:
    """Units in the cells: most °C, some rows °F."""
    random = scene.random
    heads = Headings(random, unit="")
    odd = {place for place in range(60) if random.random() < 0.2}
    tests = scene.round()
    place_of = {id(test): place for place, test in enumerate(tests)}
    told = {
        "hot_c": lambda test: test.hot_c, "cold_c": lambda test: test.cold_c,
        "found_c": lambda test: test.found_c, "left_c": lambda test: test.left_c,
    }  # fmt: skip

    def column(name: str) -> Column:
        def render(test: Test) -> str:
            value = told[name](test)
            return f"{as_fahrenheit(value)}°F" if place_of[id(test)] in odd else f"{value} °C"

        def true(test: Test) -> float:
            value = told[name](test)
            return back(as_fahrenheit(value)) if place_of[id(test)] in odd else value

        return Column(heads[name], name, render, true)

    columns = [reference(heads["ref"]), day(heads["on"], DAYS["real"]), *map(column, TEMPERATURES)]
    page = scene.page()
    write_header(page, columns)
    return scene.sheet(page, write_rows(page, columns, tests))


def open_document(scene: Scene) -> Sheet:
    """An OpenDocument spreadsheet with a title, merged headings and lines between."""
    columns = scene.usual(on=pick(scene.random, "real", "dashed", "timed"))
    page = scene.page()
    page.line("TMV round")
    page.merge(1, 1, 1, 5)
    page.line()
    write_header(page, columns)
    entries = []
    tests = scene.round()
    for building in dict.fromkeys(test.spot.building for test in tests):
        page.line(building)
        entries += write_rows(page, columns, [test for test in tests if test.spot.building == building])
    return scene.sheet(page, entries, "open document")


def delimited(scene: Scene) -> Sheet:
    """Text with tabs, commas or bars in several encodings."""
    random = scene.random
    saver = pick(random, "tab, utf-16", "tab", "comma", "comma, marked", "bar", "semicolon, told")
    ticks = ("Y", "N") if "told" in saver else None
    columns = scene.usual(on=pick(random, "iso", "slashed", "named", "with time"), ticks=ticks, write=point)
    page = scene.page("Export")
    if random.random() < 0.4:
        page.line("Export of results, 3 Nov 2026")
        page.line()
    write_header(page, columns)
    return scene.sheet(page, write_rows(page, columns, scene.round()), saver)


def serial_days(scene: Scene) -> Sheet:
    """Dates as bare serial numbers, or counted from 1904."""
    random = scene.random
    since_1904 = random.random() < 0.5
    base = date(1904, 1, 1) if since_1904 else date(1899, 12, 30)
    columns = scene.usual()
    place = next(index for index, each in enumerate(columns) if each.field == "on")
    if not since_1904 or random.random() < 0.5:
        columns[place] = day(columns[place].heading, lambda on: (on - base).days)
    page = scene.page()
    write_header(page, columns)
    return scene.sheet(page, write_rows(page, columns, scene.round()), "by hand", since_1904)

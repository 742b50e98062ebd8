"""Manners of naming the outlet: references as they are mangled, or place words alone."""

from collections.abc import Callable
from dataclasses import replace
from random import Random

from tests.intake.manners.headings import Headings
from tests.intake.manners.lives import Test
from tests.intake.manners.paper import Due, Entry, Sheet
from tests.intake.manners.places import Spot
from tests.intake.manners.scene import Scene, asked, either
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
)

SHORT = {
    "Main Block": ("Main Blk", "Main", "Main Block", "M. Block", "Main block"),
    "Day Unit": ("Day Unit", "DAY UNIT", "Day Unt", "Day unit"),
    "Withy End House": ("Withy End Hse", "Withy House", "Withy End House", "Withy End"),
    "Orchard Lodge": ("Orchard Lodge", "Orchard", "Lodge", "Orchard Ldg"),
}
LEVELS = {
    "G": ("G", "Gnd", "Ground", "GF", "Ground Floor", "Grd"),
    "1": ("1", "1st", "First", "FF", "1st Floor", "Level 1"),
}
ROOMS = {
    "Bedroom": ("Bed room", "Bedrm", "Bedroom", "Bed Rm"), "En-suite": ("Ensuite", "En suite", "E/S",
    "en-suite"),
    "Bathroom": ("Bathrm", "Bath Room", "Bathroom"), "Treatment room": ("Treatment Rm", "Trtmt room",
    "Treatment"),
    "Dirty utility": ("Dirty Util", "Dirty Utility", "D/Utility"), "Accessible WC": ("Acc. WC",
    "Accessible WC", "Accessible Toilet"),
    "Assisted bathroom": ("Asst Bathroom", "Assisted Bath Rm", "Assisted bathroom"),
    "Shower room": ("Shower Rm", "Shower room", "Shwr Room"), "Staff WC": ("Staff WC", "Staff toilet"),
    "Consulting room": ("Consulting Rm", "Consult room", "Consulting Room"),
}  # fmt: skip
OUTLETS = {
    "WHB": ("WHB", "Basin", "Wash hand basin", "W.H.B.", "Washbasin", "Handbasin"), "SHR": ("Shower",
    "Shwr", "SHOWER"),
    "BTH": ("Bath", "bath"), "ABT": ("Assisted bath", "Asst bath"), "BID": ("Bidet", "Bidt"),
}  # fmt: skip


def _mangle(random: Random, ref: str) -> str:
    ways: tuple[Callable[[str], str], ...] = (
        lambda text: text.lower(),
        lambda text: text.replace("/", "-").replace("-", " ") + " ",
        lambda text: text.replace("/", "").replace("-", ""),
        lambda text: text.replace("0", "O"),
        lambda text: text.replace("1", "l"),
        lambda text: text.replace("1", "I"),
        lambda text: text.replace("/", " / ").replace("-", " - "),
        lambda text: text.replace("/", "\\").replace("-", "_"),
        lambda text: text.replace("/", ".").replace("-", "–"),
        lambda text: f"\u00a0{text}",
    )
    return pick(random, *ways)(ref) if random.random() < 0.8 else ref


def mangled(scene: Scene) -> Sheet:
    """References with other case, spaces, punctuation and O for 0, l or I for 1."""
    columns = scene.usual()
    place = next(index for index, each in enumerate(columns) if each.field == "ref")
    columns[place] = reference(columns[place].heading, lambda ref: _mangle(scene.random, ref))
    page = scene.page()
    write_header(page, columns)
    return scene.sheet(page, write_rows(page, columns, scene.round()))


def wrong_references(scene: Scene) -> Sheet:
    """Some references that name no outlet, some that name another outlet than the place words do."""
    random = scene.random
    heads = Headings(random)
    columns = [
        reference(heads["ref"]), words("Building", lambda test: test.spot.building),
        words("Level", lambda test: test.spot.level), words("Room no", lambda test: test.spot.room_number),
        words("Room", lambda test: test.spot.room), words("Outlet", lambda test: test.spot.outlet),
        day(heads["on"], DAYS["real"]), *[number(name, heads[name]) for name in ("hot_c", "cold_c",
        "found_c", "left_c")],
    ]  # fmt: skip
    page = scene.page()
    write_header(page, columns)
    tests = scene.round(35)
    in_sheet = {test.spot.ref for test in tests}
    others = [spot for spot in scene.spots if spot.ref not in in_sheet]
    entries = []
    for test in tests:
        (entry,) = write_rows(page, columns, [test])
        luck = random.random()
        if luck < 0.1:
            page.put(entry.first, 1, "ZZ" + test.spot.ref[2:] + "9")
            entry = either(entry, "a reference that is not in the register, with the place in words")
        elif luck < 0.2:
            other = others[random.randrange(len(others))]
            if other.building == test.spot.building and other.room_number == test.spot.room_number:
                entries.append(entry)
                continue
            page.put(entry.first, 1, other.ref)
            entry = asked(entry, "the reference names another room than the row")
        elif luck < 0.27:
            page.put(entry.first, 1, None)
            entry = either(entry, "no reference, but the place in words")
        entries.append(entry)
    return scene.sheet(page, entries)


def unknown_references(scene: Scene) -> Sheet:
    """Some references that name no outlet; nothing else tells where it was."""
    columns = scene.usual(few=True)
    page = scene.page()
    write_header(page, columns)
    place = next(index for index, each in enumerate(columns) if each.field == "ref")
    entries = []
    for test in scene.round(30):
        (entry,) = write_rows(page, columns, [test])
        if scene.random.random() < 0.2:
            ref = test.spot.ref
            wrong = pick(
                scene.random,
                f"{ref}9",
                f"{ref[:-1]}7",
                f"Q{ref}",
                "new basin",
                f"{ref[:-2]}{ref[-1]}{ref[-2]}X",
            )
            if wrong not in {spot.ref for spot in scene.spots}:
                page.put(entry.first, place + 1, wrong)
                entry = asked(entry, f"no outlet is named {wrong}")
        entries.append(entry)
    return scene.sheet(page, entries)


def _typo(random: Random, text: str) -> str:
    if len(text) < 5 or random.random() > 0.12:
        return text
    at = random.randrange(1, len(text) - 2)
    return text[:at] + text[at + 1] + text[at] + text[at + 2 :]


def _alone(spots: tuple[Spot, ...], spot: Spot) -> bool:
    """Whether the outlet is the only one of its kind in its room."""
    return (
        sum(
            (each.building, each.room_number, each.kind) == (spot.building, spot.room_number, spot.kind)
            for each in spots
        )
        == 1
    )


def _place_columns(scene: Scene) -> list[Column]:
    random = scene.random

    def outlet(test: Test) -> str:
        spot = test.spot
        said = _typo(random, pick(random, *OUTLETS[spot.kind]))
        return said if _alone(scene.spots, spot) else f"{said} {spot.outlet[-1]}"

    return [
        words(
            pick(random, "Building", "Block", "Building name"),
            lambda test: pick(random, *SHORT[test.spot.building]),
        ),
        words(pick(random, "Floor", "Level", "Storey"), lambda test: pick(random, *LEVELS[test.spot.storey])),
        words(pick(random, "Room no", "Room No.", "Room number"), lambda test: test.spot.room_number),
        words(
            pick(random, "Room", "Room name", "Location"),
            lambda test: _typo(random, pick(random, *ROOMS[test.spot.room])),
        ),
        words(pick(random, "Outlet", "Fitting", "Outlet type", "Appliance"), outlet),
    ]


def _measures(scene: Scene) -> list[Column]:
    heads = Headings(scene.random)
    return [
        day(heads["on"], DAYS["real"]),
        *[number(name, heads[name]) for name in ("hot_c", "cold_c", "found_c", "left_c")],
    ]


def place_words(scene: Scene) -> Sheet:
    """No references: building, level, room and outlet in words, short and misspelt."""
    columns = [*_place_columns(scene), *_measures(scene)]
    page = scene.page()
    write_header(page, columns)
    return scene.sheet(page, write_rows(page, columns, scene.round(40)))


def place_in_one(scene: Scene) -> Sheet:
    """No references: where it was stands in one column, or the building above the rows."""
    random = scene.random
    above = random.random() < 0.5

    def where(test: Test) -> str:
        spot = test.spot
        tail = spot.outlet if not _alone(scene.spots, spot) else pick(random, *OUTLETS[spot.kind])
        parts = [spot.room_number, pick(random, *ROOMS[spot.room]), tail]
        parts = parts if above else [pick(random, *SHORT[spot.building]), *parts]
        return str(pick(random, ", ", " - ", " / ", " ").join(parts))

    columns = [words(pick(random, "Location", "Outlet location", "Where"), where), *_measures(scene)]
    page = scene.page()
    write_header(page, columns)
    entries = []
    tests = scene.round(40)
    for building in dict.fromkeys(test.spot.building for test in tests):
        if above:
            page.line(building)
        entries += write_rows(page, columns, [test for test in tests if test.spot.building == building])
    return scene.sheet(page, [either(each, "the place in one column") for each in entries])


def place_unsure(scene: Scene) -> Sheet:
    """No references, and some words that fit two outlets: two showers in a room, no number, no room."""
    random = scene.random
    columns = [
        words("Building", lambda test: test.spot.building), words("Level", lambda test: test.spot.level),
        words("Room no", lambda test: test.spot.room_number), words("Room", lambda test: test.spot.room),
        words("Outlet", lambda test: test.spot.outlet), *_measures(scene),
    ]  # fmt: skip
    page = scene.page()
    write_header(page, columns)
    entries: list[Entry] = []
    twins = [spot for spot in scene.spots if not _alone(scene.spots, spot)]
    for test in scene.round(70):
        (entry,) = write_rows(page, columns, [test])
        if test.spot in twins and random.random() < 0.6:
            page.put(entry.first, 5, pick(random, *OUTLETS[test.spot.kind]))
            entry = asked(entry, "two such outlets are in the room")
        elif random.random() < 0.15:
            page.put(entry.first, 3, None)
            fits = sum(
                (each.building, each.storey, each.room, each.outlet)
                == (test.spot.building, test.spot.storey, test.spot.room, test.spot.outlet)
                for each in scene.spots
            )
            entry = (
                asked(entry, "several rooms of that name")
                if fits > 1
                else either(entry, "the room's name alone")
            )
        elif random.random() < 0.08:
            page.put(entry.first, 3, "G99")
            entry = asked(entry, "no such room")
        entries.append(entry)
    return scene.sheet(page, entries)


def room_twice(scene: Scene) -> Sheet:
    """The same room number in two buildings, and the building not told."""
    columns = [
        words("Room no", lambda test: test.spot.room_number), words("Room", lambda test: test.spot.room),
        words("Outlet", lambda test: test.spot.outlet), *_measures(scene),
    ]  # fmt: skip
    page = scene.page()
    write_header(page, columns)
    entries = []
    for test in scene.round(40):
        (entry,) = write_rows(page, columns, [test])
        spot = test.spot
        fits = sum(
            (each.room_number, each.room, each.outlet) == (spot.room_number, spot.room, spot.outlet)
            for each in scene.spots
        )
        entries.append(asked(entry, "fits two buildings") if fits > 1 else either(entry, "no building told"))
    return scene.sheet(page, entries)


def duplicates(scene: Scene) -> Sheet:
    """Some rows stand twice, alike or with other readings; the first may be taken."""
    columns = scene.usual(few=True)
    page = scene.page()
    write_header(page, columns)
    entries = []
    tests = scene.round(30)
    for test in tests:
        (entry,) = write_rows(page, columns, [test])
        entries.append(entry)
    for place in scene.random.sample(range(len(tests)), 5):
        again = (
            tests[place]
            if scene.random.random() < 0.5
            else replace(tests[place], hot_c=tests[place].hot_c - 1.3)
        )
        (entry,) = write_rows(page, columns, [again])
        first = entries[place]
        alike = again is tests[place]
        entries[place] = (
            either(first, "stands twice")
            if alike
            else replace(first, due=Due.EITHER, why="stands twice, otherwise")
        )
        entries.append(asked(entry, "stands twice"))
    return scene.sheet(page, entries)

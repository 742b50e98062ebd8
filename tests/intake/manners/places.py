"""Invented estates whose registers name their outlets in different ways."""

import csv
import io
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from functools import cache
from random import Random

HOSPITAL, HOME = "Marlpit Cross Community Hospital", "Withy End Care Home"
KINDS = {
    "WHB": ("Wash-hand basin", "basin", 41.0),
    "SHR": ("Shower", "shower", 41.0),
    "BTH": ("Bath", "bath", 44.0),
    "ABT": ("Assisted bath", "assisted bath", 46.0),
    "BID": ("Bidet", "bidet", 38.0),
}
ROOMS: tuple[tuple[str, tuple[str, ...]], ...] = (
    ("Bedroom", ("WHB",)),
    ("En-suite", ("WHB", "SHR")),
    ("Bathroom", ("WHB", "BTH")),
    ("Treatment room", ("WHB", "WHB")),
    ("Dirty utility", ("WHB",)),
    ("Accessible WC", ("WHB",)),
    ("En-suite", ("WHB", "SHR")),
    ("Assisted bathroom", ("WHB", "ABT")),
    ("Shower room", ("SHR", "SHR")),
    ("Staff WC", ("WHB",)),
    ("Bedroom", ("WHB", "BID")),
    ("Consulting room", ("WHB",)),
)
BUILDINGS: tuple[tuple[str, str, str, tuple[str, ...], str], ...] = (
    (HOSPITAL, "Main Block", "MB", ("G", "1"), "Patients"),
    (HOSPITAL, "Day Unit", "DU", ("G",), "Patients"),
    (HOME, "Withy End House", "WE", ("G", "1"), "Residents"),
    (HOME, "Orchard Lodge", "OL", ("G",), "Residents"),
)
LEVEL_WORDS = {"G": "Ground floor", "1": "First floor"}
STYLES = ("slashed", "running", "hyphened")


@dataclass(frozen=True, slots=True)
class Spot:
    """One outlet as the register knows it."""

    ref: str
    site: str
    building: str
    code: str
    storey: str
    level: str
    room_number: str
    room: str
    outlet: str
    kind: str
    use: str
    users: str
    set_c: float
    serial: str
    fitted: date


@cache
def estate(style: str) -> tuple[Spot, ...]:
    """The outlets of an estate, about 85; the style decides rooms, references and words of levels."""
    return tuple(_spots(Random(f"estate {style}"), style))


def _spots(random: Random, style: str) -> Iterator[Spot]:
    running = 0
    for site, building, code, storeys, users in BUILDINGS:
        for storey in storeys:
            for number in range(1, random.randrange(8, 12)):
                for spot in _room(random, style, (site, building, code, users), storey, number, running):
                    running += 1
                    yield spot


def _room(
    random: Random, style: str, where: tuple[str, str, str, str], storey: str, number: int, running: int
) -> Iterator[Spot]:
    site, building, code, users = where
    room, kinds = ROOMS[random.randrange(len(ROOMS))]
    shown = f"G{number:02d}" if storey == "G" else f"{storey}{number:02d}"
    for place, kind in enumerate(kinds, 1):
        words, use, set_c = KINDS[kind]
        alike = kinds.count(kind) > 1
        yield Spot(
            ref=_reference(style, (code, storey, shown), f"{kind}{place}", running + place),
            site=site,
            building=building,
            code=code,
            storey=storey,
            level=storey if style == "slashed" else LEVEL_WORDS[storey],
            room_number=shown,
            room=room,
            outlet=f"{words} {place}" if alike or style == "slashed" else words,
            kind=kind,
            use=use,
            users="Staff" if room.startswith("Staff") else users,
            set_c=set_c,
            serial=f"S{10000 + running * 7 + place}",
            fitted=date(2024, 2, 1) + timedelta(days=random.randrange(120)),
        )


def _reference(style: str, where: tuple[str, str, str], last: str, running: int) -> str:
    code, storey, room = where
    if style == "running":
        return f"TMV-{running:04d}"
    return f"{code}/{storey}/{room}/{last}" if style == "slashed" else f"{code}-{room}-{last[0]}{last[-1]}"


def asset_list(spots: Sequence[Spot]) -> bytes:
    """The estate as an asset list, CSV (UTF-8)."""
    heading = (
        "Asset ref", "Site", "Building", "Level", "Room no", "Room", "Outlet", "Use", "Used by", "Make",
        "Model", "Serial no", "Class", "Size mm", "Set °C", "Fitted", "Pipe to outlet (m)",
    )  # fmt: skip
    text = io.StringIO()
    writer = csv.writer(text)
    writer.writerow(heading)
    for spot in spots:
        writer.writerow((
            spot.ref, spot.site, spot.building, spot.level, spot.room_number, spot.room, spot.outlet,
            spot.use, spot.users, "Make A", "A15", spot.serial, "TMV3", 15, spot.set_c,
            spot.fitted.isoformat(), 1.2,
        ))  # fmt: skip
    return text.getvalue().encode()

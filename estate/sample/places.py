"""The invented buildings and what stands in their rooms."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, timedelta
from itertools import count
from random import Random

from estate.domain.places import Use


@dataclass(frozen=True, slots=True)
class Wing:
    """One building: its levels with the number of rooms on each, and who uses it."""

    site: str
    building: str
    code: str
    levels: tuple[tuple[str, int], ...]
    users: tuple[str, ...]


HOSPITAL, HOME = "Marlpit Cross Community Hospital", "Withy End Care Home"
WINGS = (
    Wing(
        HOSPITAL,
        "Marlpit Main Block",
        "MM",
        (("G", 26), ("1", 26), ("2", 22)),
        ("Patients", "Staff", "Patients"),
    ),
    Wing(HOSPITAL, "Marlpit Day Unit", "MD", (("G", 22),), ("Patients", "Public", "Staff")),
    Wing(HOSPITAL, "Marlpit Workshops", "MW", (("G", 10),), ("Staff",)),
    Wing(HOME, "Withy End House", "WE", (("G", 28), ("1", 26)), ("Residents", "Residents", "Staff")),
    Wing(HOME, "Withy End Lodge", "WL", (("G", 14),), ("Dependent people", "Residents")),
)
ROOMS = (
    ("Bedroom", ("WHB",)),
    ("En-suite", ("WHB", "SHR")),
    ("Bathroom", ("WHB", "BTH")),
    ("Treatment room", ("WHB",)),
    ("Utility", ("WHB",)),
    ("Accessible WC", ("WHB",)),
    ("Bedroom", ("WHB", "BID")),
    ("En-suite", ("WHB", "SHR")),
    ("Assisted bathroom", ("WHB", "ABT")),
    ("Hair room", ("WHB", "HRW")),
    ("Shower room", ("SHR", "SHR")),
)
OUTLETS = {
    "WHB": ("Wash-hand basin", Use.BASIN, 41.0),
    "SHR": ("Shower", Use.SHOWER, 41.0),
    "BTH": ("Bath", Use.BATH, 44.0),
    "ABT": ("Assisted bath", Use.ASSISTED_BATH, 46.0),
    "BID": ("Bidet", Use.BIDET, 38.0),
    "HRW": ("Hair wash", Use.HAIR_WASH, 41.0),
}
MODELS = (("Make A", "A15", 15), ("Make A", "A22", 22), ("Make B", "B-15 HC", 15), ("Make C", "C3", 15))


@dataclass(frozen=True, slots=True)
class Place:
    """One outlet with the body that was fitted first."""

    reference: str
    wing: Wing
    level: str
    room_number: str
    room: str
    outlet: str
    use: Use
    users: str
    make: str
    model: str
    serial: str
    scheme_class: str
    size_mm: int
    set_c: float
    fitted_on: date
    pipe_m: float


Bodies = Iterator[tuple[str, str, int, str, date]]


def places(random: Random, most: int | None, began: date) -> Iterator[Place]:
    """Give the outlets of the estate, building by building.

    Args:
        random: seeded; the same seed gives the same estate.
        most: stop after so many outlets; None gives the sample's own number.
            More than the buildings hold adds rooms.
        began: first day on which valves were fitted.
    """
    given = 0
    storey = 0
    bodies = _bodies(random, began)
    while True:
        for wing in WINGS:
            for level, rooms in wing.levels:
                for number in range(1, rooms + 1):
                    for place in _room(random, wing, level, storey, number, bodies):
                        yield place
                        given += 1
                        if given == most:
                            return
        storey += 1
        if most is None:
            return


def _room(
    random: Random, wing: Wing, level: str, storey: int, number: int, bodies: Bodies
) -> Iterator[Place]:
    name, codes = ROOMS[random.randrange(len(ROOMS))]
    shown = f"{level}{number:02d}" if not storey else f"{level}{storey}{number:02d}"
    users = wing.users[random.randrange(len(wing.users))]
    shared, one_class = next(bodies), ""
    for place, code in enumerate(codes, start=1):
        words, use, set_c = OUTLETS[code]
        make, model, size, serial, fitted = shared if name == "Shower room" else next(bodies)
        kind = "TMV2" if wing.code == "MW" or random.random() < 0.04 else "TMV3"
        one_class = one_class if name == "Shower room" and one_class else kind
        yield Place(
            reference=f"{wing.code}/{level}/{shown}/{code}{place}",
            wing=wing,
            level=level,
            room_number=shown,
            room=name,
            outlet=f"{words} {place}",
            use=use,
            users=users,
            make=make,
            model=model,
            serial=serial,
            scheme_class=one_class,
            size_mm=size,
            set_c=set_c,
            fitted_on=fitted,
            pipe_m=round(random.uniform(0.3, 1.9) if random.random() < 0.96 else random.uniform(2.1, 3.4), 1),
        )


def _bodies(random: Random, began: date) -> Bodies:
    """Valve bodies without end, no serial number twice: make, model, size, serial, day of fitting."""
    for number in count(10007, 13):
        make, model, size = MODELS[random.randrange(len(MODELS))]
        fitted = began + timedelta(days=random.randrange(300))
        yield make, model, size, f"{model.replace(' ', '')}-{number}", fitted

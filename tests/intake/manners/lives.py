"""The invented life of each valve: its tests in the register, and those that a sheet tells."""

import csv
import io
from collections.abc import Sequence
from dataclasses import dataclass, field
from datetime import date, timedelta
from functools import cache
from random import Random

from tests.intake.manners.places import Spot, estate

STEP, NOISE = 0.25, 0.15
PEOPLE = ("R. Velde", "A. Thorne", "M. Osei")
INSTRUMENTS = ("T-014", "T-101")


@dataclass(frozen=True, slots=True)
class Test:
    """One visit as it was; a sheet tells all or a part of it. °C, ml/min, s, bar, l/min."""

    __test__ = False

    spot: Spot
    on: date
    hot_c: float
    cold_c: float
    found_c: float
    left_c: float
    max_c: float
    stabilised_c: float
    residual: float
    shut_s: float
    shuts: bool
    strainers: bool
    check_valves: bool
    flow_l_min: float
    person: str
    instrument: str
    remarks: str = ""
    extra: dict[str, object] = field(default_factory=dict)


def draw(random: Random, spot: Spot, level: float, on: date) -> Test:
    """One test of a valve whose mixed temperature now lies at a level, °C."""
    found = round(level + random.gauss(0.0, NOISE), 1)
    adjusted = abs(found - spot.set_c) > 1.0
    left = round(spot.set_c + random.gauss(0.0, 0.2), 1) if adjusted else found
    if left == found:
        adjusted = False
    shuts = random.random() > 0.03
    top = round(max(left, found) + abs(random.gauss(0.4, 0.3)), 1)
    return Test(
        spot=spot,
        on=on,
        hot_c=round(min(64.5, max(55.2, random.gauss(60.0, 1.5))), 1),
        cold_c=round(min(19.5, max(7.0, random.gauss(13.0, 2.5))), 1),
        found_c=found,
        left_c=left,
        max_c=top,
        stabilised_c=round(top - 0.3, 1),
        residual=float(random.choice((0, 0, 0, 10, 20, 40)) if shuts else random.randrange(180, 900, 10)),
        shut_s=round(min(4.5, max(0.6, random.gauss(1.8, 0.5))), 1)
        if shuts
        else round(random.uniform(9, 25), 1),
        shuts=shuts,
        strainers=random.random() < 0.8,
        check_valves=random.random() < 0.95,
        flow_l_min=round(random.uniform(4.0, 9.0), 1),
        person=PEOPLE[random.randrange(len(PEOPLE))],
        instrument=INSTRUMENTS[random.randrange(len(INSTRUMENTS))],
        remarks="Adjusted" if adjusted else "",
    )


@cache
def past(style: str) -> tuple[tuple[Test, ...], dict[str, float]]:
    """Tests up to the end of 2025, and the level of each valve then, by reference."""
    random = Random(f"past {style}")
    tests: list[Test] = []
    levels: dict[str, float] = {}
    for spot in estate(style):
        level, on = spot.set_c + random.gauss(0.0, 0.2), spot.fitted
        for _ in range(5):
            on += timedelta(days=random.randrange(80, 120))
            level += random.gauss(0.0, STEP)
            test = draw(random, spot, level, on)
            level += test.left_c - test.found_c
            tests.append(test)
        levels[spot.ref] = level
    return tuple(tests), levels


def history(tests: Sequence[Test]) -> bytes:
    """Earlier tests as CSV (UTF-8), commissioning first."""
    text = io.StringIO()
    writer = csv.writer(text)
    writer.writerow((
        "Asset ref", "Date", "Visit", "Hot °C", "Cold °C", "Mixed as found °C", "Mixed as left °C",
        "Residual flow ml/min", "Tested by",
    ))  # fmt: skip
    begun: set[str] = set()
    for test in tests:
        spot = test.spot
        if spot.ref not in begun:
            begun.add(spot.ref)
            first = (
                spot.ref,
                spot.fitted.isoformat(),
                "Commissioning",
                60.0,
                13.0,
                "",
                spot.set_c,
                0,
                "A. Thorne",
            )
            writer.writerow(first)
        writer.writerow((
            spot.ref, test.on.isoformat(), "In-service", test.hot_c, test.cold_c, test.found_c, test.left_c,
            test.residual, test.person,
        ))  # fmt: skip
    return text.getvalue().encode()


def round_of(
    random: Random, style: str, count: int, days: Sequence[date], spots: Sequence[Spot] | None = None
) -> list[Test]:
    """The tests of a round over some outlets, in the order of the estate and of the days.

    Args:
        random: seeded.
        style: of the estate.
        count: how many outlets; all chosen where there are fewer.
        days: on which they were made.
        spots: to choose from; None takes the whole estate.
    """
    everywhere = list(estate(style) if spots is None else spots)
    levels = past(style)[1]
    chosen = sorted(random.sample(range(len(everywhere)), min(count, len(everywhere))))
    picked = sorted(days[random.randrange(len(days))] for _ in chosen)
    return [
        draw(random, everywhere[place], levels[everywhere[place].ref] + random.gauss(0.0, STEP), on)
        for place, on in zip(chosen, picked, strict=True)
    ]


def days_from(start: date, span: int) -> list[date]:
    """The working days from a day on, within a span of days."""
    days = [start + timedelta(days=each) for each in range(span)]
    return [day for day in days if day.weekday() < 5]


def autumn(random: Random) -> list[date]:
    """Working days of a fortnight in the autumn of 2026 that has days of the month above the 12th."""
    return days_from(date(2026, random.choice((9, 10)), random.randrange(9, 16)), 14)

"""The invented life of a valve: it drifts, is found, is re-adjusted, and sometimes stops shutting off.

The drift follows the model that the register estimates: level x moves by β d + σ W(d) in d weeks and a
reading adds noise of standard deviation s.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import date, timedelta
from random import Random

from estate.sample.places import Place

MEAN_DRIFT, DRIFT_SPREAD, WANDER, NOISE = 0.006, 0.012, 0.06, 0.2
STAGE_WEEKS = (7, 13, 26)
T087_LAPSED = date(2026, 6, 9)
PEOPLE = ("A. Thorne", "R. Velde", "M. Osei")


@dataclass(frozen=True, slots=True)
class Test:
    """One invented visit; None where nothing was measured."""

    place: Place
    on: date
    kind: str
    hot_c: float
    cold_c: float
    found_c: float | None
    left_c: float
    max_c: float | None
    residual_ml_min: int | None
    shut_s: float | None
    strainers: bool
    person: str
    instrument: str
    remarks: str = ""


class Body:
    """A valve body with its hidden state.

    Args:
        random: seeded.
        place: where it is fitted.
        fitted_on: its first day.
    """

    def __init__(self, random: Random, place: Place, fitted_on: date) -> None:
        self._random = random
        self._place = place
        self._day = fitted_on
        self._level = place.set_c + random.gauss(0.0, 0.2)
        self._drift = random.gauss(MEAN_DRIFT, DRIFT_SPREAD)
        self._dead_after = fitted_on + timedelta(days=random.expovariate(1 / (30 * 365)))
        self._weak_hot = place.wing.code == "WL" and place.level == "G" and random.random() < 0.25

    def commission(self) -> Test:
        """The visit on the day of fitting."""
        return self._visit(self._day, "Commissioning", None)

    def test(self, on: date) -> Test:
        """An in-service test; a strayed mixed temperature is re-adjusted."""
        weeks = (on - self._day).days / 7
        self._level += self._drift * weeks + WANDER * self._random.gauss(0.0, weeks**0.5)
        self._day = on
        return self._visit(on, "In-service", round(self._level + self._random.gauss(0.0, NOISE), 1))

    def service(self, on: date) -> Test:
        """A service: stripped, cleaned, set again; it drifts less for a while."""
        self._day = on
        self._drift *= 0.4
        self._dead_after = on + timedelta(days=self._random.expovariate(1 / (40 * 365)))
        return self._visit(on, "Service", None)

    def _visit(self, on: date, kind: str, found: float | None) -> Test:
        random, place = self._random, self._place
        left, remarks = found, ""
        if found is None or (abs(found - place.set_c) > 1.0 and random.random() < 0.9):
            self._level = place.set_c + random.gauss(0.0, 0.15)
            left = round(self._level + random.gauss(0.0, NOISE / 2), 1)
            remarks = "" if found is None else "Adjusted"
        dead = on > self._dead_after
        residual = random.randrange(180, 900) if dead else random.choice((0, 0, 0, 0, 10, 20, 40))
        shown_left = left if left is not None else place.set_c
        return Test(
            place=place,
            on=on,
            kind=kind,
            hot_c=round(random.gauss(53.8 if self._weak_hot else 60.0, 1.4), 1),
            cold_c=round(min(19.8, max(6.0, random.gauss(13.5, 2.4))), 1),
            found_c=found,
            left_c=shown_left,
            max_c=round(shown_left + abs(random.gauss(0.4, 0.4)), 1),
            residual_ml_min=residual if random.random() < 0.985 else None,
            shut_s=None if dead else round(abs(random.gauss(1.6, 0.6)), 1),
            strainers=kind != "In-service" or random.random() < 0.75,
            person=PEOPLE[random.randrange(len(PEOPLE))],
            instrument="T-087" if random.random() < (0.3 if on < T087_LAPSED else 0.04) else "T-101",
            remarks="Did not shut" if dead else remarks,
        )


def life(random: Random, place: Place, fitted_on: date, until: date) -> Iterator[Test]:
    """The visits of one body: commissioning, the published stages, then about every six months.

    A visit that asks for service gets it some days later, and the stages begin again.
    """
    body = Body(random, place, fitted_on)
    slack = random.choice((0, 0, 0, 0, 0, 0, 1, 6))
    began = fitted_on
    visit = body.commission()
    stages = list(STAGE_WEEKS)
    while visit.on <= until:
        yield visit
        if _asks_for_service(visit) and random.random() < 0.9:
            began = visit.on + timedelta(days=random.randrange(3, 20))
            visit, stages = body.service(began), list(STAGE_WEEKS)
        elif stages:
            visit = body.test(began + timedelta(weeks=stages.pop(0) + random.choice((0, 0, 0, 1))))
        else:
            visit = body.test(visit.on + timedelta(weeks=25 + slack, days=random.choice((-4, -2, 0, 0, 1))))


def _asks_for_service(visit: Test) -> bool:
    strayed = visit.found_c is not None and abs(visit.found_c - visit.place.set_c) > 2.0
    return strayed or (visit.residual_ml_min or 0) > 120


def left_failing(visit: Test) -> Test:
    """A test that found the valve hot and passing, and left it so: parts were not at hand."""
    hot = round(visit.place.set_c + 3.1, 1)
    return replace(
        visit,
        kind="In-service",
        found_c=hot,
        left_c=hot,
        max_c=round(hot + 6.0, 1),
        residual_ml_min=460,
        shut_s=None,
        remarks="Out of use, parts ordered",
    )

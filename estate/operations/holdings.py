"""What the register holds, read once for an operation: outlets, valves, visits and their rules."""

from collections import defaultdict
from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date
from functools import cached_property

from estate.domain.findings import Judgement
from estate.domain.instruments import Instrument
from estate.domain.judging.carrying import carry_forward
from estate.domain.learned import GroupParameters
from estate.domain.places import Outlet
from estate.domain.rules.values import RuleSet
from estate.domain.valves import Fitting, Valve
from estate.domain.visits import Visit
from estate.operations.rulebook import RuleBook, read_rulebook
from estate.scheduler.life import ValveLife
from estate.store import fits, instruments, judgements, places, valves, visits
from estate.store.database import Session

LOOKED_BACK = 8
"""Visits before the last one in which a failure is looked for that was not tested again since."""


@dataclass(frozen=True)
class Holdings:
    """One reading of the register.

    Attributes:
        outlets: in walking order, retired ones too.
        visits: by valve, in order of date, void and corrected ones too.
        judgements: of the last visit that counts, by visit id; where one before it failed, of the
            `LOOKED_BACK` before it too.
        on: the day that planning speaks of: visits after it are left out of a valve's life; None takes all.
        fits: parameters fitted to groups, by the group's name; empty before the first fit.
    """

    outlets: tuple[Outlet, ...]
    valves: Mapping[int, Valve]
    fittings: tuple[Fitting, ...]
    visits: Mapping[int, tuple[Visit, ...]]
    instruments: Mapping[int, Instrument]
    judgements: Mapping[int, Judgement]
    rulebook: RuleBook
    fits: Mapping[str, GroupParameters] = field(default_factory=dict)
    on: date | None = None

    @cached_property
    def outlet_by_id(self) -> Mapping[int, Outlet]:
        """Every outlet by its id."""
        return {each.id: each for each in self.outlets}

    @cached_property
    def fittings_of(self) -> Mapping[int, tuple[Fitting, ...]]:
        """Every fitting of a body, by the valve's id."""
        found: dict[int, list[Fitting]] = defaultdict(list)
        for fitting in self.fittings:
            found[fitting.valve_id].append(fitting)
        return {valve_id: tuple(each) for valve_id, each in found.items()}

    @cached_property
    def by_position(self) -> dict[int, tuple[Outlet, ...]]:
        """Outlets in use at each position, in walking order."""
        found: dict[int, list[Outlet]] = defaultdict(list)
        for outlet in self.outlets:
            if outlet.retired_on is None:
                found[outlet.position_id].append(outlet)
        return {position: tuple(served) for position, served in found.items()}

    def fittings_at(self, position_id: int) -> tuple[Fitting, ...]:
        """Every body that has been at a position, newest first."""
        there = [each for each in self.fittings if each.position_id == position_id]
        return tuple(sorted(there, key=lambda each: each.fitted_on or date.min, reverse=True))

    def in_place(self, today: date) -> dict[int, Fitting]:
        """The fitting in place at each position on a day."""
        return {each.position_id: each for each in self.fittings if each.in_place(today)}

    def counting(self, valve_id: int) -> tuple[Visit, ...]:
        """Visits of a body that count, in order of date."""
        return tuple(each for each in self.visits.get(valve_id, ()) if each.counts)

    def life(self, fitting: Fitting) -> ValveLife:
        """The planner's view of a body in place."""
        counting = [each for each in self.counting(fitting.valve_id) if _by(each, self.on)]
        return ValveLife(
            fitted_on=fitting.fitted_on,
            visits=tuple(each.draft for each in counting),
            judgement=self._standing(counting),
            has_strainers=self.valves[fitting.valve_id].strainers is not False,
        )

    def _standing(self, counting: Sequence[Visit]) -> Judgement | None:
        """The judgement of the last visit, with earlier failures that it did not test again."""
        judged = [
            (each.on, self.judgements[each.id])
            for each in reversed(counting[-1 - LOOKED_BACK :])
            if each.id in self.judgements
        ]
        return carry_forward(judged[0][1], judged[1:]) if judged else None

    def rules_at(self, outlet: Outlet) -> RuleSet:
        """The rules in force at an outlet."""
        return self.rulebook.at_outlet(outlet)


def read_holdings(
    session: Session,
    published: Mapping[str, RuleSet],
    valve_ids: Collection[int] | None = None,
    on: date | None = None,
    sources: bool = False,
) -> Holdings:
    """Read the register.

    Args:
        session: an open session.
        published: rule sets as published.
        valve_ids: read the visits of these valves alone; None reads all.
        on: plan as at this day: later visits and fits are left out; None takes all visits and no fits.
        sources: read where each visit came from, cell by cell, too.
    """
    by_valve: dict[int, list[Visit]] = defaultdict(list)
    for visit in visits.visits(session, valve_ids, sources=sources):
        by_valve[visit.draft.valve_id].append(visit)
    return Holdings(
        outlets=places.outlets(session),
        valves=valves.valves(session),
        fittings=valves.fittings(session),
        visits={valve_id: tuple(group) for valve_id, group in by_valve.items()},
        instruments={each.id: each for each in instruments.instruments(session)},
        judgements=judgements.judgements(session, _looked_at(session, by_valve.values(), on)),
        rulebook=read_rulebook(session, published),
        fits={} if on is None else fits.fits_as_of(session, on),
        on=on,
    )


def _looked_at(session: Session, groups: Iterable[Sequence[Visit]], on: date | None) -> list[int]:
    """The last visit of each valve, and those before it where one of them failed."""
    severe = judgements.severe(session)
    wanted: list[int] = []
    for group in groups:
        recent = [each.id for each in group if each.counts and _by(each, on)][-1 - LOOKED_BACK :]
        wanted += recent if severe.intersection(recent[:-1]) else recent[-1:]
    return wanted


def _by(visit: Visit, on: date | None) -> bool:
    return on is None or visit.on <= on

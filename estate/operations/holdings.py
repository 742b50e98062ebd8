"""What the register holds, read once for an operation: outlets, valves, visits and their rules."""

from collections import defaultdict
from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date

from estate.domain.findings import Judgement
from estate.domain.instruments import Instrument
from estate.domain.judging.carrying import carry_forward
from estate.domain.life.people import Person
from estate.domain.references import reference_key
from estate.domain.rules.values import RuleSet
from estate.domain.valves import Fitting
from estate.domain.visits import Visit
from estate.operations.inventory import Inventory, inventory_fields
from estate.scheduler.life import ValveLife
from estate.scheduler.lives import Lives, lives_of
from estate.store import instruments, judgements, people, visits
from estate.store.database import Session

LOOKED_BACK = 8
"""Visits before the last one in which a failure is looked for that was not tested again since."""


@dataclass(frozen=True, kw_only=True)
class Holdings(Inventory):
    """One reading of the register with every visit.

    Attributes:
        visits: by valve, in order of date, void and corrected ones too.
        judgements: of the last visit that counts, by visit id; where one before it failed, of the
            `LOOKED_BACK` before it too.
        people: those whom the register knows, by the key of their name.
    """

    visits: Mapping[int, tuple[Visit, ...]]
    instruments: Mapping[int, Instrument]
    judgements: Mapping[int, Judgement]
    people: Mapping[str, Person] = field(default_factory=dict)

    def counting(self, valve_id: int) -> tuple[Visit, ...]:
        """Visits of a body that count, in order of date."""
        return tuple(each for each in self.visits.get(valve_id, ()) if each.counts)

    def life(self, fitting: Fitting) -> ValveLife:
        """The planner's view of a body in place."""
        counting = [each for each in self.counting(fitting.valve_id) if _by(each, self.on)]
        seen = [(each.id, each.on) for each in counting[-1 - LOOKED_BACK :]]
        return ValveLife(
            fitted_on=fitting.fitted_on,
            visits=tuple(each.draft for each in counting),
            judgement=standing(self.judgements, seen),
            has_strainers=self.has_strainers(fitting),
        )

    def lives(self, fittings: Sequence[Fitting]) -> Lives:
        """The planner's view of many bodies."""
        return lives_of([self.life(each) for each in fittings])


def standing(kept: Mapping[int, Judgement], seen: Sequence[tuple[int, date]]) -> Judgement | None:
    """The judgement of the last visit, with earlier failures that it did not test again.

    Args:
        kept: judgements by visit id.
        seen: ids and days of the last visits, in order of date.
    """
    judged = [(on, kept[visit_id]) for visit_id, on in reversed(seen) if visit_id in kept]
    return carry_forward(judged[0][1], judged[1:]) if judged else None


def read_holdings(
    session: Session,
    published: Mapping[str, RuleSet],
    valve_ids: Collection[int] | None = None,
    on: date | None = None,
    sources: bool = False,
    judged: bool = True,
) -> Holdings:
    """Read the register.

    Args:
        session: an open session.
        published: rule sets as published.
        valve_ids: read the visits of these valves alone; None reads all.
        on: plan as at this day: later visits and fits are left out; None takes all visits and no fits.
        sources: read where each visit came from, cell by cell, too.
        judged: False leaves the judgements unread.
    """
    by_valve: dict[int, list[Visit]] = defaultdict(list)
    for visit in visits.visits(session, valve_ids, sources=sources):
        by_valve[visit.draft.valve_id].append(visit)
    groups = by_valve.values() if judged else ()
    counting = [[each.id for each in group if each.counts and _by(each, on)] for group in groups]
    return Holdings(
        **inventory_fields(session, published, on),
        visits={valve_id: tuple(group) for valve_id, group in by_valve.items()},
        instruments={each.id: each for each in instruments.instruments(session)},
        judgements=read_standing(session, counting),
        people={reference_key(each.name): each for each in people.people(session)},
    )


def read_standing(session: Session, counting: Iterable[Sequence[int]]) -> dict[int, Judgement]:
    """The judgements of the last visit of each valve, and of those before it where one of them failed.

    Args:
        session: an open session.
        counting: ids of the visits that count of each valve, in order of date.
    """
    severe = judgements.severe(session)
    wanted: list[int] = []
    for ids in counting:
        recent = ids[-1 - LOOKED_BACK :]
        wanted += recent if severe.intersection(recent[:-1]) else recent[-1:]
    return judgements.judgements(session, wanted)


def _by(visit: Visit, on: date | None) -> bool:
    return on is None or visit.on <= on

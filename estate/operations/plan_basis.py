"""What a whole estate is fitted and planned from: the visits that count, as columns."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, fields
from datetime import date

from estate.domain.findings import Judgement
from estate.domain.rules.values import RuleSet
from estate.domain.valves import Fitting
from estate.domain.visits import Visit
from estate.operations.holdings import LOOKED_BACK, Holdings, read_standing, standing
from estate.operations.inventory import Inventory, inventory_fields
from estate.scheduler.bodies import Bodies, bodies_of, bodies_visited
from estate.scheduler.lives import Lives
from estate.store.database import Session
from estate.store.visit_columns import VisitColumns, counting_columns


@dataclass(frozen=True, kw_only=True)
class PlanBasis(Inventory):
    """One reading of the register for planning: the same as `Holdings`, faster, without values of each visit.

    Attributes:
        bodies: visits that count up to the day that planning speaks of.
        judgements: what stands after the last of them, by the valve's id.
    """

    bodies: Bodies
    judgements: Mapping[int, Judgement | None]

    def lives(self, fittings: Sequence[Fitting]) -> Lives:
        """The planner's view of many bodies."""
        return Lives(
            self.bodies.of([each.valve_id for each in fittings]),
            [each.fitted_on for each in fittings],
            [self.judgements.get(each.valve_id) for each in fittings],
            [self.has_strainers(each) for each in fittings],
        )


def read_plan_basis(
    session: Session, published: Mapping[str, RuleSet], on: date, judged: bool = True
) -> PlanBasis:
    """Read the register for planning.

    Args:
        session: an open session.
        published: rule sets as published.
        on: plan as at this day: later visits and fits are left out.
        judged: False leaves the judgements unread, for fitting, which takes the readings alone.
    """
    columns = counting_columns(session, on)
    return PlanBasis(
        **inventory_fields(session, published, on),
        bodies=bodies_of(columns.valve_ids, columns.days, columns.kinds, columns.measured),
        judgements=_standing(session, columns) if judged else {},
    )


def plan_basis_with(known: Holdings, added: Sequence[Visit], on: date) -> PlanBasis:
    """The same without judgements, and without reading again what is known.

    Args:
        known: the register with all visits, as it stood before some were added.
        added: those visits, in the order in which they were added.
        on: later visits are left out.
    """
    corrected = {each.corrects for each in added if each.corrects is not None}
    before = (each for group in known.visits.values() for each in group)
    counting = [each.draft for each in before if each.counts and each.id not in corrected]
    every = [*counting, *(each.draft for each in added)]
    return PlanBasis(
        **{each.name: getattr(known, each.name) for each in fields(Inventory)},
        bodies=bodies_visited([each for each in every if each.on <= on]),
        judgements={},
    )


def _standing(session: Session, columns: VisitColumns) -> dict[int, Judgement | None]:
    """What stands after the last visit of each valve; only the latest visits are looked at."""
    latest: dict[int, list[int]] = {}
    for place, valve_id in enumerate(columns.valve_ids):
        latest.setdefault(valve_id, []).append(place)
    recent = {valve_id: places[-1 - LOOKED_BACK :] for valve_id, places in latest.items()}
    ids = {valve_id: [columns.ids[place] for place in places] for valve_id, places in recent.items()}
    kept = read_standing(session, ids.values())
    found: dict[int, Judgement | None] = {}
    for valve_id, visit_ids in ids.items():
        seen = [
            (visit_id, columns.day(place))
            for visit_id, place in zip(visit_ids, recent[valve_id], strict=True)
        ]
        found[valve_id] = standing(kept, seen)
    return found

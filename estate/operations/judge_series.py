"""Judging the visits of one valve in order, each against those before it."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date

from estate.domain.findings import Judgement
from estate.domain.judging.case import Case
from estate.domain.judging.judge import judge
from estate.domain.places import Outlet
from estate.domain.references import reference_key
from estate.domain.visits import VisitDraft
from estate.operations.holdings import Holdings
from estate.scheduler.interval import strainers_due
from estate.scheduler.life import ValveLife


@dataclass(frozen=True, slots=True)
class Bench:
    """What stays the same while the visits of one valve are judged.

    Attributes:
        outlets: every outlet that the valve serves.
    """

    holdings: Holdings
    outlets: tuple[Outlet, ...]
    fitted_on: date | None

    def case(self, draft: VisitDraft, earlier: Sequence[VisitDraft]) -> Case:
        """The case of one visit.

        Args:
            draft: the visit to be judged.
            earlier: visits of the same valve that count and come before it, in order.
        """
        known, valve = self.holdings.instruments, self.holdings.valves[draft.valve_id]
        tested = [each for each in self.outlets if each.id == draft.outlet_id]
        rules = self.holdings.rules_at((tested or list(self.outlets))[0], draft.on)
        life = ValveLife(self.fitted_on, tuple(earlier), has_strainers=valve.strainers is not False)
        previous = earlier[-1] if earlier else None
        return Case(
            visit=draft,
            valve=valve,
            outlets=tuple(sorted(self.outlets, key=lambda each: each.id != draft.outlet_id)),
            rules=rules,
            instrument=known.get(draft.instrument_id or 0),
            previous=previous,
            reference=life.reference,
            previous_instrument=known.get(previous.instrument_id or 0) if previous else None,
            strainers_due=strainers_due(life, rules),
            person=self.holdings.people.get(reference_key(draft.person)) if draft.person else None,
        )

    def judge(self, draft: VisitDraft, earlier: Sequence[VisitDraft]) -> Judgement:
        """Judge one visit against those before it."""
        return judge(self.case(draft, earlier))


def bench_for(holdings: Holdings, draft: VisitDraft) -> Bench:
    """The bench for a visit's valve, with the outlets that it served on that day."""
    fittings = holdings.fittings_of.get(draft.valve_id, ())
    fitting = next((each for each in fittings if each.in_place(draft.on)), fittings[-1] if fittings else None)
    tested = holdings.outlet_by_id[draft.outlet_id]
    served = holdings.by_position.get(fitting.position_id if fitting else tested.position_id, ())
    outlets = served if any(each.id == tested.id for each in served) else (tested, *served)
    return Bench(holdings, outlets, fitting.fitted_on if fitting else None)


def before(drafts: Sequence[VisitDraft], draft: VisitDraft) -> tuple[VisitDraft, ...]:
    """Those of the drafts that come before one; on the same day the ones already there come first."""
    return tuple(each for each in drafts if each.on <= draft.on)

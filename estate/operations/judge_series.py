"""Judging the visits of valves in order, each against those before it."""

from collections.abc import Hashable, Sequence
from datetime import date

from estate.domain.findings import Judgement
from estate.domain.judging.case import Case
from estate.domain.judging.judge import judge
from estate.domain.judging.standards import Standards, standards_for
from estate.domain.life.people import Person
from estate.domain.places import Outlet
from estate.domain.references import reference_key
from estate.domain.rules.values import RuleSet
from estate.domain.valves import Valve
from estate.domain.visits import VisitDraft
from estate.operations.holdings import Holdings
from estate.scheduler.candidates import strainers_end
from estate.scheduler.life import cleaned_among, reference_among


class Bench:
    """Judges visits by one reading of the register.

    Args:
        holdings: the register, with the visits of the valves.
    """

    def __init__(self, holdings: Holdings) -> None:
        self._holdings = holdings
        self._standards: dict[Hashable, Standards] = {}

    def judge(self, draft: VisitDraft, earlier: Sequence[VisitDraft]) -> Judgement:
        """Judge one visit against those before it."""
        return judge(self.case(draft, earlier))

    def case(self, draft: VisitDraft, earlier: Sequence[VisitDraft]) -> Case:
        """The case of one visit.

        Args:
            draft: the visit to be judged.
            earlier: visits of the same valve that count and come before it, in order.
        """
        known, valve = self._holdings.instruments, self._holdings.valves[draft.valve_id]
        outlets, fitted_on = self.served(draft)
        rules = self._holdings.rules_at(outlets[0], draft.on)
        previous = earlier[-1] if earlier else None
        cleaned_on = None if valve.strainers is False else cleaned_among(earlier, fitted_on)
        return Case(
            draft,
            self._standards_of(outlets, valve, rules),
            max([each.pipe_m for each in outlets if each.pipe_m is not None], default=None),
            known.get(draft.instrument_id or 0),
            previous,
            reference_among(earlier),
            known.get(previous.instrument_id or 0) if previous else None,
            strainers_end(cleaned_on, rules),
            self._person(draft.person),
        )

    def _person(self, name: str) -> Person | None:
        people = self._holdings.people
        return people.get(reference_key(name)) if people and name else None

    def served(self, draft: VisitDraft) -> tuple[tuple[Outlet, ...], date | None]:
        """The outlets that a visit's valve served on that day, the tested one first; its day of fitting."""
        holdings = self._holdings
        fittings = holdings.fittings_of.get(draft.valve_id, ())
        last = fittings[-1] if fittings else None
        fitting = next((each for each in fittings if each.in_place(draft.on)), last)
        tested = holdings.outlet_by_id[draft.outlet_id]
        served = holdings.by_position.get(fitting.position_id if fitting else tested.position_id, ())
        others = [each for each in served if each.id != tested.id]
        return (tested, *others), fitting.fitted_on if fitting else None

    def _standards_of(self, outlets: Sequence[Outlet], valve: Valve, rules: RuleSet) -> Standards:
        """Most valves of an estate serve like others: their standards are worked out once."""
        # By identity: the words and limits that many share are the same objects while the holdings are held.
        body = (
            id(valve.scheme_class),
            id(valve.designations),
            id(valve.limits),
            valve.set_c,
            valve.strainers,
        )
        alike = (id(rules), body, *[(id(each.use), id(each.user_group)) for each in outlets])
        found = self._standards.get(alike)
        if found is None:
            found = self._standards[alike] = standards_for(outlets, valve, rules)
        return found


def before(drafts: Sequence[VisitDraft], draft: VisitDraft) -> tuple[VisitDraft, ...]:
    """Those of the drafts that come before one; on the same day the ones already there come first."""
    return tuple(each for each in drafts if each.on <= draft.on)

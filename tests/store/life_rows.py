"""A row in every table of a valve's life, for the tests of what holds for all evidence."""

from datetime import date

from estate.domain.findings import Severity
from estate.domain.life.actions import ActionDraft, ActionKind, EventDraft, Step
from estate.domain.life.care import CareDraft, CareKind, ReviewDraft
from estate.domain.life.outlet_use import UseDraft, UseStep
from estate.domain.life.people import Competence
from estate.domain.life.supplies import SuppliesDraft
from estate.store import actions, justifications, outlet_use, people, upkeep
from estate.store.life_schema import VisitCheckRow, VisitPartRow
from estate.store.transaction import Transaction
from tests.store.builders import DAY, Basin


def add_life(tx: Transaction, basin: Basin, visit_id: int) -> None:
    """A row in every table."""
    fault = ActionDraft(
        outlet_id=basin.outlet_id,
        kind=ActionKind.FAULT,
        severity=Severity.OUT_OF_USE,
        words="As left 47.0 °C.",
        found_on=DAY,
        asks_retest=True,
        valve_id=basin.valve_id,
        visit_id=visit_id,
        codes=("left-above-ceiling", "cold-isolated-flow"),
        stop_codes=("left-above-ceiling",),
        target_on=date(2026, 12, 1),
        owner="E. Fitter",
    )
    (action_id,) = actions.add_actions(tx, [fault])
    again = EventDraft(
        Step.FOUND_AGAIN,
        DAY,
        "again",
        by_itself=True,
        visit_id=visit_id,
        codes=("hot-too-cool",),
        severity=Severity.PUT_RIGHT,
    )
    actions.add_events(tx, [(action_id, again), (action_id, EventDraft(Step.ASSIGN, DAY, owner="B. Other"))])
    out = UseDraft(UseStep.TAKE_OUT, DAY, "too hot", "the ward sister", True, action_id, visit_id)
    outlet_use.add_use_event(tx, basin.outlet_id, out)
    tx.insert(VisitCheckRow(visit_id=visit_id, key="washers", said=True, number=None, unit="", remark=""))
    tx.insert(VisitPartRow(visit_id=visit_id, part="strainer", quantity=2.0, remark=""))
    justifications.add_justification(tx, visit_id, "compared with another probe")
    person_id = people.add_person(tx, "A. Thorne", "engineer")
    people.add_competence(tx, person_id, Competence("testing", date(2026, 1, 1), date(2026, 12, 31), "C-1"))
    upkeep.add_care(tx, [CareDraft(basin.outlet_id, CareKind.FLUSHED, DAY, "A. Thorne", 180.0)])
    upkeep.add_review(tx, ReviewDraft(basin.outlet_id, DAY, "the water safety group", True, "patients"))
    upkeep.add_survey(tx, SuppliesDraft(basin.outlet_id, DAY, "A. Thorne", hot_static_bar=3.0, hot_c=60.0))

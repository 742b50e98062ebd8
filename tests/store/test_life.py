from datetime import date

import pytest

from estate.domain.findings import Severity
from estate.domain.life.actions import ActionState, Step
from estate.domain.life.care import CareKind
from estate.domain.life.people import Competence
from estate.errors import EntryFault, NotFoundFault
from estate.store import (
    actions,
    judged_visits,
    judgements,
    justifications,
    outlet_use,
    people,
    upkeep,
    visits,
)
from estate.store.transaction import Transaction
from tests.store.builders import DAY, JUDGED, NOW, Basin, add_basin, draft
from tests.store.life_rows import add_life


@pytest.fixture
def basin(tx: Transaction) -> Basin:
    made = add_basin(tx)
    entry = visits.add_visit(tx, draft(made))
    add_life(tx, made, entry.id)
    return made


def test_that_an_action_comes_back_as_its_events_left_it(tx: Transaction, basin: Basin) -> None:
    action = actions.action(tx.session, 1)
    assert (action.state, action.severity, action.owner) == (
        ActionState.OPEN,
        Severity.OUT_OF_USE,
        "B. Other",
    )
    assert action.findings == {(1, "left-above-ceiling"), (1, "cold-isolated-flow"), (1, "hot-too-cool")}
    assert action.stop_codes == {"left-above-ceiling"}
    assert [each.step for each in action.events] == [Step.FOUND_AGAIN, Step.ASSIGN]
    assert (action.opened_by, action.opened_at, action.opening.found_on) == ("A. Officer", NOW, DAY)
    assert actions.actions(tx.session) == (action,)
    assert actions.actions_at(tx.session, [basin.outlet_id]) == (action,)
    assert actions.actions_of_valves(tx.session, [basin.valve_id]) == {basin.valve_id: (action,)}
    assert actions.actions_of_batch(tx.session, 1) == ()
    with pytest.raises(NotFoundFault, match="action 9"):
        actions.action(tx.session, 9)


def test_that_a_use_event_comes_back(tx: Transaction, basin: Basin) -> None:
    (event,) = outlet_use.use_events(tx.session)[basin.outlet_id]
    assert (event.draft.who_told, event.draft.sign_placed, event.draft.action_id) == (
        "the ward sister",
        True,
        1,
    )
    assert outlet_use.use_events(tx.session, [basin.outlet_id + 1]) == {}


def test_that_a_competence_counts_until_it_is_withdrawn(tx: Transaction, basin: Basin) -> None:
    (person,) = people.people(tx.session)
    (held,) = person.competences
    assert held == Competence("testing", date(2026, 1, 1), date(2026, 12, 31), "C-1", 1)
    people.withdraw_competence(tx, held.id, "another person's")
    assert people.person_by_name(tx.session, "a thorne").competences == ()
    with pytest.raises(NotFoundFault, match="withdrawn already"):
        people.withdraw_competence(tx, held.id, "again")


def test_that_a_name_is_taken_once(tx: Transaction, basin: Basin) -> None:
    with pytest.raises(EntryFault, match="is the same as"):
        people.add_person(tx, "a.thorne", "")
    with pytest.raises(EntryFault, match="needs a name"):
        people.add_person(tx, " . ", "")
    with pytest.raises(NotFoundFault, match="not in the register"):
        people.person_by_name(tx.session, "B. Nobody")


def test_that_upkeep_is_taken_back_once_and_stays_readable(tx: Transaction, basin: Basin) -> None:
    (care,) = upkeep.cares(tx.session)
    assert (care.draft.kind, care.draft.duration_s, care.withdrawn) == (CareKind.FLUSHED, 180.0, "")
    upkeep.take_back_care(tx, care.id, "another basin")
    upkeep.take_back_review(tx, 1, "another basin")
    upkeep.take_back_survey(tx, 1, "another basin")
    assert [each.withdrawn for each in upkeep.cares(tx.session, [basin.outlet_id])] == ["another basin"]
    assert [each.withdrawn for each in upkeep.reviews(tx.session)] == ["another basin"]
    (survey,) = upkeep.surveys(tx.session)
    assert (survey.withdrawn, survey.draft.hot_static_bar, survey.draft.cold_c) == (
        "another basin",
        3.0,
        None,
    )
    for number in (care.id, 2, 9):
        with pytest.raises(NotFoundFault, match="not there, or was taken back"):
            upkeep.take_back_care(tx, number, "again")


def test_that_a_justification_is_said_once_and_can_be_taken_back(tx: Transaction, basin: Basin) -> None:
    assert justifications.justifications(tx.session)[1].why == "compared with another probe"
    with pytest.raises(EntryFault, match="justified already"):
        justifications.add_justification(tx, 1, "again")
    justifications.take_back_justification(tx, 1, "the other probe was out of date too")
    assert justifications.justifications(tx.session, [1]) == {}
    with pytest.raises(NotFoundFault, match="not justified"):
        justifications.take_back_justification(tx, 1, "again")
    justifications.add_justification(tx, 1, "compared anew")
    assert justifications.justifications(tx.session)[1].why == "compared anew"


def test_that_many_bodies_are_asked_about_as_few_are(
    tx: Transaction, basin: Basin, monkeypatch: pytest.MonkeyPatch
) -> None:
    entry = visits.add_visit(tx, draft(basin))
    judgements.add_judgement(tx, entry.id, JUDGED)
    asked = [basin.valve_id, basin.valve_id + 1]
    few = (actions.acted_on(tx.session, asked), judged_visits.failing_valves(tx.session, asked))
    for module in (actions, judged_visits):
        monkeypatch.setattr(module, "AT_ONCE", 1)
    many = (actions.acted_on(tx.session, asked), judged_visits.failing_valves(tx.session, asked))
    assert few == many == ({basin.valve_id}, {basin.valve_id})
    others = [basin.valve_id + 1, basin.valve_id + 2]
    assert actions.acted_on(tx.session, others) == judged_visits.failing_valves(tx.session, others) == set()

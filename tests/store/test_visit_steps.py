from dataclasses import replace

import pytest
from sqlalchemy import text
from sqlalchemy.exc import DatabaseError

from estate.domain.steps import Part, Seen, Steps
from estate.store import visits
from estate.store.transaction import Transaction
from tests.store.builders import add_basin, draft

STEPS = Steps(
    (Seen("washers", True), Seen("support"), Seen("cold-collected", None, 30.0, "ml", "jug")),
    (Part("thermostatic element", 1.0), Part("washer", None, "both sides")),
)


def test_that_steps_and_parts_come_back_with_their_visit(tx: Transaction) -> None:
    basin = add_basin(tx)
    plain = visits.add_visit(tx, draft(basin))
    added = visits.add_visit(tx, replace(draft(basin), steps=STEPS))
    assert visits.visit(tx.session, added.id).draft.steps == STEPS
    assert visits.visit(tx.session, plain.id) == plain
    assert visits.visits(tx.session) == (plain, added)


def test_that_a_batch_keeps_each_visits_own_steps(tx: Transaction) -> None:
    basin = add_basin(tx)
    parts = Steps(parts=(Part("strainer"),))
    made = [replace(draft(basin), steps=each) for each in (STEPS, Steps(), parts)]
    added = visits.add_visits(tx, made, None)
    assert [each.draft.steps for each in visits.visits(tx.session)] == [STEPS, Steps(), parts]
    assert visits.visits(tx.session) == added


def test_that_of_many_visits_each_has_its_steps(tx: Transaction) -> None:
    basin = add_basin(tx)
    visits.add_visits(tx, [draft(basin)] * 600, None)
    added = visits.add_visit(tx, replace(draft(basin), steps=STEPS))
    found = {each.id: each.draft.steps for each in visits.visits(tx.session) if each.draft.steps}
    assert found == {added.id: STEPS}


@pytest.mark.parametrize("table", ["visit_check", "visit_part"])
def test_that_steps_and_parts_are_never_changed(tx: Transaction, table: str) -> None:
    basin = add_basin(tx)
    visits.add_visit(tx, replace(draft(basin), steps=STEPS))
    tx.session.flush()
    with pytest.raises(DatabaseError), tx.session.begin_nested():
        tx.session.execute(text(f"UPDATE {table} SET remark = 'x'"))

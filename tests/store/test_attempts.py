from datetime import date

import pytest

from estate.domain.visits import Attempt, AttemptDraft
from estate.errors import EntryFault
from estate.store import attempts
from estate.store.transaction import Transaction
from tests.store.builders import DAY, NOW, SOURCE, add_basin
from tests.store.test_batches import _add as add_batch


def test_that_an_attempt_comes_back_with_its_source_and_who_recorded_it(tx: Transaction) -> None:
    basin = add_basin(tx)
    batch = add_batch(tx)
    draft = AttemptDraft(basin.outlet_id, DAY, "no access, room occupied", "T. Tester", SOURCE)
    (made,) = attempts.add_attempts(tx, [draft], batch)
    (kept,) = attempts.attempts(tx.session)
    assert kept == Attempt(made, draft, NOW, "A. Officer", batch)
    assert (kept.outlet_id, kept.on, kept.why) == (basin.outlet_id, DAY, "no access, room occupied")
    assert (kept.person, kept.source) == ("T. Tester", SOURCE)
    assert basin.outlet_id in tx.changes.outlets


def test_that_attempts_are_told_of_one_outlet_or_one_batch(tx: Transaction) -> None:
    one, two = add_basin(tx), add_basin(tx, "MX-2")
    batch = add_batch(tx)
    attempts.add_attempts(tx, [AttemptDraft(two.outlet_id, DAY, "no access")], batch)
    later = AttemptDraft(one.outlet_id, DAY, "no key")
    earlier = AttemptDraft(one.outlet_id, date(2026, 1, 2), "no key")
    attempts.add_attempts(tx, [later, earlier], None)
    assert [each.draft for each in attempts.attempts(tx.session, one.outlet_id)] == [earlier, later]
    assert [each.outlet_id for each in attempts.attempts(tx.session, batch_id=batch)] == [two.outlet_id]


def test_that_voided_attempts_stay_with_the_reason(tx: Transaction) -> None:
    basin = add_basin(tx)
    batch = add_batch(tx)
    draft = AttemptDraft(basin.outlet_id, DAY, "no access")
    attempts.add_attempts(tx, [draft, draft], batch)
    attempts.add_attempts(tx, [draft], None)
    assert attempts.void_attempts_of_batch(tx, batch, " wrong ward ") == 2
    assert attempts.void_attempts_of_batch(tx, batch, "again") == 0
    assert [each.void_reason for each in attempts.attempts(tx.session)] == ["wrong ward", "wrong ward", ""]


def test_that_attempts_are_not_voided_without_a_reason(tx: Transaction) -> None:
    with pytest.raises(EntryFault, match="A reason is needed"):
        attempts.void_attempts_of_batch(tx, 1, " ")

from datetime import date
from typing import Any

import pytest

from estate.domain.layouts import SheetKind
from estate.domain.questions import Answer, Choice, Question
from estate.domain.register import Batch, BatchUndo, WrittenEntry
from estate.errors import EntryFault, NotFoundFault
from estate.store import batches, places, valves
from estate.store.database import Database
from estate.store.transaction import Transaction, writing
from tests.store.builders import NOW, add_basin

QUESTIONS = (
    Question("round", 9, "C9", "future-date", "MX-1", "12 Jan 2027", "Correct the date."),
    Question("round", 3, "", "unknown-outlet", None, "MX-99", "Add the outlet."),
)


def _add(tx: Transaction, **fields: Any) -> int:
    said: dict[str, Any] = {
        "file": "round.csv",
        "digest": "ab" * 32,
        "kind": SheetKind.VISITS,
        "content": b"\x00date;ref\xff",
        "read": 5,
        "accepted": 2,
        "already_there": 1,
        "questions": QUESTIONS,
    }
    return batches.add_batch(tx, **said | fields)


def test_that_a_batch_comes_back_with_its_counts_questions_and_bytes(tx: Transaction) -> None:
    made = _add(tx)
    expected = Batch(made, SheetKind.VISITS, "round.csv", "ab" * 32, 5, 2, 1, 2, "A. Officer", NOW)
    assert batches.batches(tx.session) == (expected,)
    assert batches.questions(tx.session, made) == QUESTIONS
    assert batches.content(tx.session, made) == b"\x00date;ref\xff"


def test_that_a_batch_without_questions_has_none(tx: Transaction) -> None:
    _add(tx)
    other = _add(tx, digest="cd" * 32, questions=())
    assert batches.questions(tx.session, other) == ()
    assert [each.questioned for each in batches.batches(tx.session)] == [2, 0]


def test_that_a_file_is_known_again_by_its_bytes(tx: Transaction) -> None:
    made = _add(tx)
    assert batches.batch_by_digest(tx.session, "ab" * 32) == made
    assert batches.batch_by_digest(tx.session, "ab" * 32, SheetKind.VISITS) == made
    assert batches.batch_by_digest(tx.session, "ab" * 32, SheetKind.ASSETS) is None
    assert batches.batch_by_digest(tx.session, "cd" * 32) is None


def test_that_one_file_may_hold_assets_and_visits(tx: Transaction) -> None:
    first, second = _add(tx), _add(tx, kind=SheetKind.ASSETS)
    assert batches.batch_by_digest(tx.session, "ab" * 32) == first
    assert batches.batch_by_digest(tx.session, "ab" * 32, SheetKind.ASSETS) == second


def test_that_an_unknown_batch_has_no_bytes(tx: Transaction) -> None:
    with pytest.raises(NotFoundFault, match="batch 9"):
        batches.content(tx.session, 9)


def test_that_a_batch_is_announced(tx: Transaction) -> None:
    made = _add(tx, accepted=0)
    assert (made in tx.changes.batches, tx.changes.everything) == (True, False)
    _add(tx, digest="cd" * 32)
    assert tx.changes.everything


def test_that_a_batch_tells_how_it_was_read_and_what_was_answered(tx: Transaction) -> None:
    given = (
        Answer("ambiguous-date", Choice.DAY_FIRST),
        Answer("unknown-outlet", Choice.OUTLET, "round", 3, "A3", "MX-1"),
    )
    made = _add(tx, layout="Pipework Ltd", forms="one card a valve", date_order="day first", answers=given)
    kept = batches.batch(tx.session, made)
    assert (kept.layout, kept.forms, kept.date_order) == ("Pipework Ltd", "one card a valve", "day first")
    assert (kept.follows, kept.undone) == (None, None)
    assert batches.answers(tx.session, made) == given


def test_that_the_bytes_of_a_follow_up_are_those_of_the_batch_it_follows(tx: Transaction) -> None:
    first = _add(tx)
    second = _add(tx, follows=first)
    third = _add(tx, follows=second, content=b"never kept")
    assert [each.follows for each in batches.batches(tx.session)] == [None, first, second]
    assert batches.content(tx.session, third) == b"\x00date;ref\xff"


def test_that_an_unknown_batch_is_told(tx: Transaction) -> None:
    for asked in (batches.batch, batches.answers):
        with pytest.raises(NotFoundFault, match="batch 9"):
            asked(tx.session, 9)


def test_that_an_undone_batch_stays_on_the_list_with_who_and_why(tx: Transaction) -> None:
    made = _add(tx)
    batches.mark_undone(tx, made, " wrong hospital ")
    assert batches.batch(tx.session, made).undone == BatchUndo("A. Officer", NOW, "wrong hospital")
    assert batches.batch_by_digest(tx.session, "ab" * 32) is None
    with pytest.raises(EntryFault, match="undone already"):
        batches.mark_undone(tx, made, "again")
    again = _add(tx)
    assert batches.batch_by_digest(tx.session, "ab" * 32) == again


def test_that_a_batch_is_not_undone_without_a_reason(tx: Transaction) -> None:
    made = _add(tx)
    with pytest.raises(EntryFault, match="A reason is needed"):
        batches.mark_undone(tx, made, " ")


def test_that_what_a_batch_writes_to_places_and_valves_is_noted(database: Database) -> None:
    with writing(database, "A. Officer", "before", NOW) as tx:
        old = add_basin(tx)
    with writing(database, "A. Officer", "brought in", NOW) as tx:
        made = _add(tx, kind=SheetKind.ASSETS)
        places.amend_outlet(tx, old.outlet_id, pipe_m=2.0, name="Basin", retired_on=date(2026, 11, 1))
        valves.remove(tx, old.valve_id, old.position_id, date(2026, 11, 1))
        add_basin(tx, "MX-2")
    with writing(database, "A. Officer", "after", NOW) as tx:
        add_basin(tx, "MX-3")
    with database.reading() as session:
        rows = batches.rows_of(session, made)
        assert batches.rows_of(session, made + 1) == ()
    assert rows[:2] == (
        WrittenEntry(
            "outlet",
            old.outlet_id,
            "changed",
            (("pipe_m", 0.6), ("retired_on", None)),
            (("pipe_m", 2.0), ("retired_on", "2026-11-01")),
        ),
        WrittenEntry("fitting", 1, "changed", (("removed_on", None),), (("removed_on", "2026-11-01"),)),
    )
    added = [(each.noun, each.row_id, each.action, each.before) for each in rows[2:]]
    assert added == [(noun, 2, "added", ()) for noun in ("position", "outlet", "valve", "fitting")]

from typing import Any

import pytest

from estate.domain.layouts import SheetKind
from estate.domain.questions import Question
from estate.errors import NotFoundFault
from estate.store import batches
from estate.store.batches import Batch
from estate.store.transaction import Transaction
from tests.store.builders import NOW

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

"""What others do to a register is heard, in a file and on a server; what one does oneself is not told."""

import time
from collections.abc import Iterator

import pytest

from estate.domain.changes import OthersChange
from estate.domain.visits import Readings, VisitDraft, VisitKind
from estate.errors import RegisterFault
from estate.operations.open_register import open_register
from estate.operations.record_visit import record_visit
from estate.operations.register import Register
from estate.operations.set_rules import override
from estate.operations.watch_register import Watch
from estate.store import listening
from tests.builders import TODAY
from tests.operations.conftest import NOW
from tests.operations.team import MINE, ids_at

OTHER = "B. Engineer"


@pytest.fixture
def theirs(register: Register) -> Iterator[Register]:
    opened = open_register(register.database.url)
    yield opened
    opened.close()


@pytest.fixture
def watch(register: Register) -> Iterator[Watch]:
    made = Watch(register)
    assert made.look() == ()
    yield made
    made.close()


def record(register: Register, who: str, left_c: float = 41.0) -> None:
    ids = ids_at(register, MINE)
    draft = VisitDraft(ids["valve"], ids["outlet"], VisitKind.IN_SERVICE, TODAY, Readings(left_c=left_c))
    record_visit(register, draft, who=who, at=NOW, today=TODAY)


def heard(watch: Watch) -> tuple[OthersChange, ...]:
    """What others did, as soon as it is heard: a busy server passes its word on a moment after the commit."""
    for _ in range(500):
        if told := watch.look():
            return told
        time.sleep(0.01)
    return ()


def test_that_what_another_does_is_told_once_with_name_and_time(watch: Watch, theirs: Register) -> None:
    record(theirs, OTHER)
    (told,) = heard(watch)
    assert told == OthersChange(OTHER, "recorded a visit", NOW, told.clock)
    assert len(told.clock) == len("10:30")
    assert watch.look() == ()


def test_that_what_one_does_oneself_is_not_told(register: Register, watch: Watch, theirs: Register) -> None:
    record(register, "A. Officer")
    record(register, "A. Officer", 41.2)
    assert watch.look() == ()
    record(theirs, OTHER, 41.4)
    override(register, "uk-healthcare", "mixed.ceiling.basin", "estate", 42.0, who="A", at=NOW, why="risk")
    record(theirs, OTHER, 41.6)
    assert {each.who for each in heard(watch)} == {OTHER}
    assert len(register.database.own_entries(0)) >= 2


def test_that_a_look_at_an_unchanged_register_reads_nothing_of_it(
    register: Register, watch: Watch, monkeypatch: pytest.MonkeyPatch
) -> None:
    def never() -> None:
        raise AssertionError("it was read")

    monkeypatch.setattr(register.database, "reading", never)
    assert watch.look() == ()


def test_that_what_was_missed_is_told_when_the_register_is_in_reach_again(
    watch: Watch, theirs: Register, monkeypatch: pytest.MonkeyPatch
) -> None:
    def out_of_reach(database: object) -> None:
        raise RegisterFault("The disk can't be read or written", "share.", "Check the cable.")

    watch.close()
    with monkeypatch.context() as patched:
        patched.setattr(listening, "ear", out_of_reach)
        with pytest.raises(RegisterFault, match="can't be read"):
            watch.look()
    record(theirs, OTHER)
    assert [each.who for each in watch.look()] == [OTHER]


def test_that_a_closed_watch_may_be_closed_again_and_looks_anew(watch: Watch) -> None:
    watch.close()
    watch.close()
    assert watch.look() == ()

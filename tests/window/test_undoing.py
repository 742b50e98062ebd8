"""Undo and redo with words: which step is next, what is said, and what is refused."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from typing import cast

import pytest
from pytestqt.qtbot import QtBot

from estate.domain.changes import ChangeSet
from estate.domain.conflicts import ConflictFault
from estate.errors import EntryFault
from estate.window.desk import Desk
from estate.window.notices import Notices
from estate.window.pictures import settle
from estate.window.tasks import Straight, Tasks
from estate.window.undoing import Step, Turned, Undoing, Way


@dataclass
class Bench:
    """A window's undo, and what it told."""

    undoing: Undoing
    notices: Notices
    desk: Desk
    said: list[str] = field(default_factory=list)
    announced: list[ChangeSet] = field(default_factory=list)
    met: list[BaseException] = field(default_factory=list)
    ran: list[str] = field(default_factory=list)

    def did(self, words: str, way: Way | None = None, desk: Desk | None = None) -> None:
        self.notices.did(Step(desk or self.desk, words, way or self.turning(words)))

    def turning(self, words: str, sign: str = "-") -> Callable[[], Turned]:
        """A way that can be turned for ever."""

        def turn() -> Turned:
            self.ran.append(f"{sign}{words}")
            return Turned(ChangeSet(rules=True), self.turning(words, "+" if sign == "-" else "-"))

        return turn

    def undo(self) -> None:
        self.undoing.undo()
        settle()

    def redo(self) -> None:
        self.undoing.redo()
        settle()


def a_desk() -> Desk:
    return cast("Desk", object())


@pytest.fixture
def bench(qtbot: QtBot) -> Iterator[Bench]:
    notices = Notices()
    with Straight() as executor:
        undoing = Undoing(Tasks(executor, notices), notices)
        made = Bench(undoing, notices, a_desk())
        notices.said.connect(made.said.append)
        notices.changed.connect(made.announced.append)
        notices.fault_met.connect(made.met.append)
        notices.defect_met.connect(made.met.append)
        undoing.seat(made.desk)
        yield made


def test_that_steps_are_undone_the_last_first_and_done_again_in_their_order(bench: Bench) -> None:
    bench.did("one")
    bench.did("two")
    assert (bench.undoing.undo_words, bench.undoing.redo_words) == ("two", "")
    bench.undo()
    assert (bench.undoing.undo_words, bench.undoing.redo_words) == ("one", "two")
    bench.undo()
    bench.redo()
    bench.redo()
    bench.undo()
    assert bench.ran == ["-two", "-one", "+one", "+two", "-two"]
    assert bench.said[:3] == ["Undone: two.", "Undone: one.", "Done again: one."]
    assert len(bench.announced) == 5


def test_that_a_new_step_leaves_nothing_to_do_again(bench: Bench) -> None:
    bench.did("one")
    bench.undo()
    bench.did("two")
    assert (bench.undoing.undo_words, bench.undoing.redo_words) == ("two", "")


def test_that_another_register_has_nothing_to_undo_and_takes_no_step_of_the_former(bench: Bench) -> None:
    bench.did("one")
    former, bench.desk = bench.desk, a_desk()
    bench.undoing.seat(bench.desk)
    bench.did("late", desk=former)
    assert bench.undoing.undo_words == ""
    bench.undo()
    bench.redo()
    assert (bench.ran, bench.said) == ([], [])


def test_that_what_comes_back_after_another_register_was_seated_is_not_told(bench: Bench) -> None:
    def leave() -> Turned:
        bench.undoing.seat(a_desk())
        return Turned(ChangeSet(), "")

    bench.did("one", leave)
    bench.undo()
    assert (bench.said, bench.announced, bench.undoing.redo_words) == ([], [], "")


def test_that_a_refused_step_stays_once_and_falls_off_at_the_second_try(bench: Bench) -> None:
    def refuse() -> Turned:
        raise EntryFault("Later work rests on it", "A visit.", "Take that back first.")

    bench.did("one")
    bench.did("two", refuse)
    bench.undo()
    assert bench.undoing.undo_words == "two"
    bench.undo()
    assert bench.undoing.undo_words == "one"
    assert [str(each) for each in bench.met] == ["Later work rests on it: A visit. Take that back first."] * 2


def test_that_a_step_whose_ground_somebody_else_changed_falls_off(bench: Bench) -> None:
    def overtaken() -> Turned:
        raise ConflictFault("Somebody made it void", (), None)

    bench.did("one", overtaken)
    bench.undo()
    assert (bench.undoing.undo_words, len(bench.met)) == ("", 1)


def test_that_a_defect_keeps_the_step_and_is_reported(bench: Bench) -> None:
    def fail() -> Turned:
        raise RuntimeError("defect")

    bench.did("one", fail)
    bench.undo()
    bench.undo()
    assert bench.undoing.undo_words == "one"
    assert [str(each) for each in bench.met] == ["defect", "defect"]


def test_that_what_has_no_way_back_says_why_and_steps_aside(bench: Bench) -> None:
    bench.did("one")
    bench.did("sign an entry", "A signature stays.")
    bench.undo()
    assert bench.said == ["Left as it is: sign an entry. A signature stays."]
    assert (bench.undoing.undo_words, bench.ran) == ("one", [])


def test_that_what_else_is_worth_saying_is_said_with_it(bench: Bench) -> None:
    bench.did("one", lambda: Turned(ChangeSet(), "There is no way.", "It is a new entry."))
    bench.undo()
    assert bench.said == ["Undone: one. It is a new entry."]
    bench.redo()
    assert bench.said[-1] == "Left as it is: one. There is no way."

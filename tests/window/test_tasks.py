"""Work in the worker: outcomes and faults come back to the window's thread, and work can be stopped."""

from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from functools import partial
from threading import Event, current_thread, main_thread

import pytest
from pytestqt.qtbot import QtBot

from estate.domain.changes import ChangeSet
from estate.domain.progress import Cancelled, Progress
from estate.errors import EntryFault
from estate.window.notices import Notices
from estate.window.tasks import Latest, LongTask, Straight, Tasks
from estate.window.widgets.progress import ProgressStrip


@pytest.fixture
def notices(qtbot: QtBot) -> Notices:
    return Notices()


@pytest.fixture
def tasks(notices: Notices) -> Iterator[Tasks]:
    with ThreadPoolExecutor(1) as executor:
        yield Tasks(executor, notices)


def test_that_work_is_done_elsewhere_and_its_outcome_comes_home(qtbot: QtBot, tasks: Tasks) -> None:
    seen: list[tuple[bool, bool]] = []
    tasks.run(
        lambda: current_thread() is main_thread(),
        lambda there: seen.append((there, current_thread() is main_thread())),
    )
    qtbot.waitUntil(lambda: bool(seen))
    assert seen == [(False, True)]


def test_that_a_known_fault_is_explained(qtbot: QtBot, tasks: Tasks, notices: Notices) -> None:
    fault = EntryFault("No", "because", "try again")
    with qtbot.waitSignal(notices.fault_met) as met:
        tasks.run(lambda: _raise(fault), never)
    assert met.args == [fault]


def test_that_any_other_exception_is_a_defect(qtbot: QtBot, tasks: Tasks, notices: Notices) -> None:
    with qtbot.waitSignal(notices.defect_met) as met:
        tasks.run(lambda: _raise(ZeroDivisionError()), never)
    assert isinstance((met.args or [None])[0], ZeroDivisionError)


def test_that_work_nobody_waits_for_gives_way_and_is_begun_again(qtbot: QtBot, tasks: Tasks) -> None:
    begun, go_on = Event(), Event()
    told: list[str] = []

    def aside(progress: Progress) -> str:
        told.append("begun")
        begun.set()
        go_on.wait(5)
        progress(1, 2, "half way")
        return "aside"

    latest = Latest(tasks)
    latest.run_aside(aside, told.append, lambda: True)
    assert begun.wait(5)
    tasks.run(lambda: "asked", told.append)
    go_on.set()
    qtbot.waitUntil(lambda: "aside" in told)
    assert [each for each in told if each != "begun"] == ["asked", "aside"]
    assert told.count("begun") == 2


def test_that_work_nobody_waits_for_is_given_up_once_it_is_not_wanted(qtbot: QtBot, tasks: Tasks) -> None:
    begun, go_on = Event(), Event()

    def aside(progress: Progress) -> str:
        begun.set()
        go_on.wait(5)
        progress(1, 2, "half way")
        return "aside"

    latest, told = Latest(tasks), list[str]()
    latest.run_aside(aside, never, lambda: False)
    assert begun.wait(5)
    tasks.run(lambda: "asked", told.append)
    go_on.set()
    qtbot.waitUntil(lambda: told == ["asked"])
    latest.run_aside(lambda progress: "unwanted", never, lambda: False)
    latest.run_aside(lambda progress: "overtaken", never, lambda: True)
    latest.run(lambda: "newest", told.append)
    tasks.run(lambda: "last", told.append)
    qtbot.waitUntil(lambda: "last" in told)
    assert told == ["asked", "newest", "last"]


def test_that_a_defect_of_work_nobody_waits_for_is_told(qtbot: QtBot, tasks: Tasks, notices: Notices) -> None:
    with qtbot.waitSignal(notices.defect_met) as met:
        Latest(tasks).run_aside(lambda progress: _raise(ZeroDivisionError()), never, lambda: True)
    assert isinstance((met.args or [None])[0], ZeroDivisionError)


def _raise(error: Exception) -> int:
    raise error


def never(outcome: object) -> None:
    pytest.fail(f"this must not come back: {outcome}")


def test_that_long_work_tells_how_far_it_is_and_can_be_stopped(
    qtbot: QtBot, tasks: Tasks, notices: Notices
) -> None:
    strip = ProgressStrip()
    qtbot.addWidget(strip)
    told: list[str] = []
    half, go_on = Event(), Event()

    def work(progress: Progress) -> str:
        progress(1, 2, "half way")
        half.set()
        go_on.wait(5)
        progress(2, 2, "done")
        return "never seen"

    notices.said.connect(told.append)
    tasks.began.connect(strip.follow)
    tasks.run_long("Working", work, never)
    assert not strip.isHidden()
    assert half.wait(5)
    strip.stop.click()
    go_on.set()
    qtbot.waitUntil(lambda: bool(told))
    assert "Nothing was changed" in told[0]
    assert strip.isHidden()


def test_that_long_work_hands_over_its_outcome(qtbot: QtBot, tasks: Tasks) -> None:
    seen: list[int] = []
    shown: list[LongTask] = []
    tasks.run_long("Counting", lambda progress: 3, seen.append, began=shown.append)
    qtbot.waitUntil(lambda: seen == [3])
    assert len(shown) == 1


def test_that_only_the_newest_ask_is_shown(qtbot: QtBot, tasks: Tasks) -> None:
    gate, done, seen = Event(), list[int](), list[int]()
    latest = Latest(tasks)

    def work(number: int) -> int:
        gate.wait(5)
        done.append(number)
        return number

    for number in range(4):
        latest.run(partial(work, number), seen.append)
    gate.set()
    qtbot.waitUntil(lambda: bool(seen))
    assert seen == [3]
    assert 3 in done
    assert len(done) <= 2


def test_that_what_was_forgotten_is_not_shown(qtbot: QtBot, notices: Notices) -> None:
    seen: list[int] = []
    with ThreadPoolExecutor(1) as executor:
        latest = Latest(Tasks(executor, notices))
        gate = Event()
        latest.run(lambda: (gate.wait(5) and 1) or 2, seen.append)
        latest.forget()
        gate.set()
    qtbot.wait(20)
    assert seen == []


def test_that_straight_work_is_done_before_the_next_line(qtbot: QtBot, notices: Notices) -> None:
    seen: list[int] = []
    with Straight() as executor:
        Tasks(executor, notices).run(lambda: 1, seen.append)
        assert seen == [1]


def test_that_a_change_set_is_announced_once(qtbot: QtBot, notices: Notices) -> None:
    changes = ChangeSet(visits=frozenset({1}))
    with qtbot.waitSignal(notices.changed) as announced:
        notices.announce(changes)
    assert announced.args == [changes]


def test_that_being_stopped_is_no_fault(qtbot: QtBot, notices: Notices) -> None:
    faults: list[object] = []
    notices.fault_met.connect(faults.append)
    notices.defect_met.connect(faults.append)
    notices.report(Cancelled())
    assert faults == []


def test_that_nothing_is_shown_once_the_window_is_gone_and_a_defect_still_comes_to_light(
    qtbot: QtBot,
) -> None:
    shown: list[object] = []
    with Straight() as executor:
        tasks = Tasks(executor, Notices())
        tasks.hush()
        tasks.run(lambda: "late", shown.append)
        tasks.run(lambda: _raise(Cancelled()), shown.append)
        with qtbot.captureExceptions() as met:
            tasks.run(lambda: _raise(ZeroDivisionError()), shown.append)
    assert shown == []
    assert [kind for kind, *_ in met] == [ZeroDivisionError]

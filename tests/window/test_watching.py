"""What others do is shown, quietly: what is chosen and what is being typed stays."""

from collections.abc import Iterator
from datetime import timedelta
from pathlib import Path

import pytest
from PySide6.QtWidgets import QPushButton
from pytestqt.qtbot import QtBot

from estate.domain.changes import OthersChange
from estate.domain.visits import Readings, VisitDraft, VisitKind
from estate.errors import RegisterFault
from estate.operations.open_register import open_register
from estate.operations.record_visit import record_visit
from estate.operations.register import Register
from estate.window.dialogs.faults import DefectDialog
from estate.window.dialogs.record_visit import RecordVisitDialog
from estate.window.models.due_rows import Wanted
from estate.window.pictures import settle
from estate.window.watching import told
from estate.window.widgets.withholding import withhold
from tests.window.builders import NOW, TODAY
from tests.window.conftest import Seat

OTHER = "B. Engineer"


@pytest.fixture
def theirs(seat: Seat, tmp_path: Path) -> Iterator[Register]:
    """The same register, opened by somebody else."""
    opened = open_register(tmp_path / "copy.db")
    yield opened
    opened.close()


def outlet_shown(seat: Seat) -> tuple[int, int]:
    """Show an outlet; its id and its valve's."""
    reading = seat.window.showing.reading
    assert reading is not None
    line = next(each for each in reading.lines if each.last_visit is not None)
    seat.window.showing.show_outlet(line.outlet_id)
    settle()
    return line.outlet_id, line.valve_id


def record(theirs: Register, ids: tuple[int, int], days_ago: int = 1) -> None:
    on = TODAY - timedelta(days=days_ago)
    draft = VisitDraft(ids[1], ids[0], VisitKind.IN_SERVICE, on, Readings(left_c=41.0), OTHER)
    record_visit(theirs, draft, who=OTHER, at=NOW, today=TODAY)


def look(seat: Seat) -> None:
    seat.window.watching.look()
    settle()


def status(seat: Seat) -> str:
    return seat.window.statusBar().currentMessage()


def test_that_what_another_did_is_shown_and_said_and_the_chosen_row_stays_chosen(
    seat: Seat, theirs: Register
) -> None:
    ids = outlet_shown(seat)
    before = seat.window.showing.outlet
    assert before is not None
    history = seat.window.pages.outlet.history
    history.selectRow(0)
    chosen = history.current_key()
    record(theirs, ids)
    look(seat)
    after = seat.window.showing.outlet
    assert after is not None
    assert len(after.history) == len(before.history) + 1
    assert history.current_key() == chosen
    assert seat.window.pages.outlet.past.correct_button.isEnabled()
    assert status(seat).startswith(f"{OTHER} recorded a visit, ")
    assert seat.dialogs() == []


def test_that_a_row_of_the_due_list_and_the_place_in_the_tree_stay_chosen(
    seat: Seat, theirs: Register
) -> None:
    ids = outlet_shown(seat)
    node = seat.window.panel.current
    seat.window.showing.show_due(Wanted.ALL)
    settle()
    listing = seat.window.pages.due.listing
    listing.selectRow(5)
    key = listing.current_key()
    record(theirs, ids)
    look(seat)
    assert listing.current_key() == key
    assert seat.window.panel.current is not None
    assert node is not None
    assert seat.window.panel.current.id == node.id
    assert seat.window.showing.stack.currentWidget() is seat.window.pages.due


def test_that_what_is_being_typed_stays(seat: Seat, theirs: Register) -> None:
    ids = outlet_shown(seat)
    seat.window.actions_["record"].trigger()
    form = seat.dialog()
    assert isinstance(form, RecordVisitDialog)
    form.form.fields["hot_c"].put(60.5)
    record(theirs, ids)
    look(seat)
    assert seat.dialogs() == [form]
    assert form.draft().readings.hot_c == 60.5


def test_that_nothing_is_said_or_read_where_nobody_did_anything(seat: Seat) -> None:
    seat.window.statusBar().showMessage("as before")
    reading = seat.window.showing.reading
    look(seat)
    assert status(seat) == "as before"
    assert seat.window.showing.reading is reading
    assert seat.window.watching.timer.isActive()


def test_that_a_register_out_of_reach_is_said_once_and_read_afresh_afterwards(
    seat: Seat, monkeypatch: pytest.MonkeyPatch
) -> None:
    def lost() -> None:
        raise RegisterFault("The register's server can't be reached", "db.", "Check the cable.")

    desk = seat.window.showing.desk
    reading = seat.window.showing.reading
    with monkeypatch.context() as patched:
        patched.setattr(desk, "news", lost, raising=False)
        look(seat)
        assert "can't be reached" in status(seat)
        assert seat.window.watching.timer.interval() > 10_000
        seat.window.statusBar().clearMessage()
        look(seat)
        assert status(seat) == ""
    assert seat.dialogs() == []
    look(seat)
    assert "in reach again" in status(seat)
    assert seat.window.showing.reading is not reading


def test_that_a_defect_of_the_watch_is_told_and_it_then_rests(
    seat: Seat, monkeypatch: pytest.MonkeyPatch
) -> None:
    def broken() -> None:
        raise ZeroDivisionError

    seat.window.watching.timer.stop()
    monkeypatch.setattr(seat.window.showing.desk, "news", broken, raising=False)
    look(seat)
    assert isinstance(seat.dialog(), DefectDialog)
    assert not seat.window.watching.timer.isActive()


def test_that_without_a_register_it_waits(bare: Seat) -> None:
    bare.window.watching.timer.stop()
    look(bare)
    assert bare.window.watching.timer.isActive()


def test_that_many_changes_are_told_in_one_line() -> None:
    def did(who: str, what: str, clock: str) -> OthersChange:
        return OthersChange(who, what, NOW, clock)

    assert told([did(OTHER, "recorded a visit", "14:01"), did(OTHER, "recorded a visit", "14:02")]) == (
        "B. Engineer recorded a visit 2 times, 14:02"
    )
    many = [did("A", "replaced a valve", "14:00"), did("B", "voided a visit", "14:01"), did("", "x", "14:02")]
    assert told(many) == "Somebody x, 14:02; B voided a visit, 14:01; and 1 more change"


def test_that_a_withheld_button_stays_shut_whatever_its_page_makes_of_it(qtbot: QtBot) -> None:
    button = QPushButton("Record a visit…")
    qtbot.addWidget(button)
    button.setToolTip("Record it")
    withhold(button, None)
    assert button.isEnabled()
    button.setEnabled(False)
    withhold(button, "Your account is reader.")
    button.setEnabled(True)
    assert not button.isEnabled()
    assert (button.toolTip(), button.statusTip()) == ("Your account is reader.",) * 2
    withhold(button, "Your account is reader.")
    withhold(button, None)
    withhold(button, None)
    assert button.isEnabled()
    assert button.toolTip() == "Record it"

"""What the account may not do is shut, and says why; an auditor's window is plainly read only."""

from dataclasses import replace

import pytest
from PySide6.QtCore import QMimeData, QPointF, Qt, QUrl
from PySide6.QtGui import QDropEvent

from estate.domain.roles import Deed, Role, refusals, writes_nothing
from estate.window.commands.table import COMMANDS
from estate.window.pictures import settle
from tests.window.conftest import Seat

WRITING = {"record", "correct", "void", "bring-in", "checkpoint"}
"""Actions that write into the register; whoever adds one gives it its deed."""
WRITING_NOTHING = {
    "new",
    "open",
    "sample",
    "write-overdue",
    "write-summary",
    "round-sheet",
    "verify",
    "who",
    "quit",
    "find",
    "due",
    "drift",
    "batches",
    "places",
    "history",
    "chart",
    "rules",
    "refresh",
    "keys",
    "cautions",
    "about",
}


@pytest.fixture
def held(seat: Seat, request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch) -> Seat:
    """The window with an account of a role, at an entry of an outlet."""
    role: Role = request.param
    reading = seat.window.showing.reading
    assert reading is not None
    monkeypatch.setattr(seat.window.showing.desk, "read", lambda: replace(reading, role=role))
    line = next(each for each in reading.lines if each.last_visit is not None)
    seat.window.showing.show_outlet(line.outlet_id)
    seat.window.actions_["refresh"].trigger()
    settle()
    seat.window.pages.outlet.history.selectRow(0)
    return seat


def test_that_every_action_that_writes_has_its_deed() -> None:
    deeds = {each.id: each.deed for each in COMMANDS}
    assert {deeds[each] for each in WRITING} == {Deed.RECORD, Deed.TAKE_CHECKPOINTS}
    assert all(deeds[each] is None for each in WRITING_NOTHING)


@pytest.mark.parametrize("held", [Role.READER], indirect=True)
def test_that_an_auditors_window_is_plainly_read_only(held: Seat) -> None:
    window = held.window
    assert "(read only)" in window.windowTitle()
    assert window._account.text() == "Your account is reader: read only"
    assert window._account.isVisible()
    for each in COMMANDS:
        if each.deed is not None:
            action = window.actions_[each.id]
            assert not action.isEnabled()
            assert "Your account is reader; only" in action.toolTip()
            assert action.statusTip() == action.toolTip()
    outlet = window.pages.outlet
    for button in (outlet.past.record_button, outlet.past.correct_button, outlet.past.void_button):
        assert not button.isEnabled()
        assert "may record visits" in button.toolTip()
    assert all(window.actions_[each].isEnabled() for each in ("due", "write-overdue", "verify", "rules"))


@pytest.mark.parametrize("held", [Role.RECORDER], indirect=True)
def test_that_a_recorder_records_and_changes_no_rule(held: Seat) -> None:
    window = held.window
    assert window.windowTitle().startswith("Marlpit")
    assert "read only" not in window.windowTitle() + window._account.text()
    assert window.actions_["record"].isEnabled()
    assert not window.actions_["checkpoint"].isEnabled()
    window.actions_["rules"].trigger()
    settle()
    rules = window.pages.rules
    rules.listing.selectRow(0)
    assert not rules.override_button.isEnabled()
    assert "may change rules" in rules.override_button.toolTip()
    rules.listing.opened.emit(0)
    settle()
    assert held.dialogs() == []
    assert "only keeper or owner may change rules" in window.statusBar().currentMessage()


@pytest.mark.parametrize("held", [Role.READER], indirect=True)
def test_that_a_sheet_dropped_by_an_auditor_is_refused_with_the_reason(held: Seat) -> None:
    data = QMimeData()
    data.setUrls([QUrl.fromLocalFile("round.xlsx")])
    copy, no_key = Qt.DropAction.CopyAction, Qt.KeyboardModifier.NoModifier
    held.window.dropEvent(QDropEvent(QPointF(5, 5), copy, data, Qt.MouseButton.LeftButton, no_key))
    assert held.dialogs() == []
    assert "may record visits" in held.window.statusBar().currentMessage()


@pytest.mark.parametrize("held", [Role.KEEPER], indirect=True)
def test_that_a_keeper_of_the_rules_may_do_all_of_the_daily_work(held: Seat) -> None:
    assert all(held.window.actions_[each].isEnabled() for each in WRITING)
    assert held.window._account.text() == "Your account is keeper"


def test_that_a_file_knows_no_accounts(seat: Seat) -> None:
    assert not seat.window._account.isVisible()
    assert refusals(Role.OWNER) == {}


def test_that_only_a_reader_writes_nothing() -> None:
    assert [each for each in Role if writes_nothing(each)] == [Role.READER]
    assert set(refusals(Role.READER)) == set(Deed)

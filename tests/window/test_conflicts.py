"""Somebody else changes what a form is about: nothing typed is lost, and the person chooses."""

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest
from PySide6.QtWidgets import QDialog, QLabel
from pytestqt.qtbot import QtBot

from estate.domain.conflicts import ConflictFault, FieldChange, Meanwhile, Seen
from estate.domain.visits import Standing
from estate.errors import EntryFault, RegisterFault
from estate.operations.open_register import open_register
from estate.operations.record_visit import correct_visit, void_visit
from estate.operations.register import Register
from estate.operations.set_rules import override, rules_at
from estate.store import ledger
from estate.window.dialogs.conflict import ConflictDialog
from estate.window.dialogs.entry import VoidDialog, WordsDialog
from estate.window.dialogs.faults import FaultDialog
from estate.window.dialogs.override import OverrideDialog
from estate.window.dialogs.record_visit import RecordVisitDialog
from estate.window.pictures import settle
from tests.window.builders import NOW, TODAY
from tests.window.conftest import Seat

KEY = "mixed.ceiling.basin"
OTHER = "B. Engineer"


@pytest.fixture
def theirs(seat: Seat, tmp_path: Path) -> Iterator[Register]:
    """The same register, opened by somebody else."""
    opened = open_register(tmp_path / "copy.db")
    yield opened
    opened.close()


def said(dialog: QDialog) -> str:
    return "\n".join(each.text() for each in dialog.findChildren(QLabel))


def conflict(seat: Seat) -> ConflictDialog:
    settle()
    (found,) = [each for each in seat.dialogs() if isinstance(each, ConflictDialog)]
    return found


def override_form(seat: Seat, typed: str = "41,5") -> OverrideDialog:
    seat.window.actions_["rules"].trigger()
    settle()
    rules = seat.window.pages.rules
    rules.sought.setText(KEY)
    rules.listing.selectRow(0)
    rules.override_button.click()
    dialog = seat.dialog()
    assert isinstance(dialog, OverrideDialog)
    dialog.value.setText(typed)
    dialog.why.setText("risk assessment 12")
    return dialog


def set_by_other(theirs: Register, value: float = 42.0) -> None:
    rules = rules_at(theirs)
    override(theirs, rules.id, KEY, "estate", value, who=OTHER, at=NOW, why="water safety group")


def in_force(theirs: Register) -> object:
    found = rules_at(theirs).get(KEY)
    assert found is not None
    return found.value


def test_that_a_conflict_says_who_when_and_the_difference_and_going_back_loses_nothing(
    seat: Seat, theirs: Register
) -> None:
    form = override_form(seat)
    set_by_other(theirs)
    form.act.click()
    asked = conflict(seat)
    told = said(asked)
    for each in (OTHER, "25 Nov 2026 09:00 UTC", "water safety group", "43.0", "42.0", "41.5"):
        assert each in told
    asked.back.click()
    settle()
    assert seat.dialogs() == [form]
    assert (form.value.text(), form.why.text()) == ("41,5", "risk assessment 12")
    assert form.act.isEnabled()
    assert in_force(theirs) == 42.0


def test_that_mine_is_kept_over_what_was_seen_and_over_nothing_else(seat: Seat, theirs: Register) -> None:
    form = override_form(seat)
    set_by_other(theirs)
    form.act.click()
    asked = conflict(seat)
    set_by_other(theirs, 42.5)
    assert asked.keep is not None
    asked.keep.click()
    again = conflict(seat)
    assert "42.5" in said(again)
    assert again.keep is not None
    again.keep.click()
    settle()
    assert seat.dialogs() == []
    assert in_force(theirs) == 41.5


def test_that_theirs_is_taken_and_shown(seat: Seat, theirs: Register) -> None:
    form = override_form(seat)
    set_by_other(theirs)
    form.act.click()
    conflict(seat).take.click()
    settle()
    assert seat.dialogs() == []
    rules = seat.window.pages.rules.rules
    assert rules is not None
    value = rules.get(KEY)
    assert value is not None
    assert (value.value, in_force(theirs)) == (42.0, 42.0)
    assert "theirs" in seat.window.statusBar().currentMessage()


def an_entry(seat: Seat) -> int:
    reading = seat.window.showing.reading
    assert reading is not None
    line = next(each for each in reading.lines if each.last_visit is not None)
    seat.window.showing.show_outlet(line.outlet_id)
    settle()
    seat.window.pages.outlet.history.selectRow(0)
    key = seat.window.pages.outlet.history.current_key()
    assert key is not None
    return key


def test_that_a_correction_is_kept_over_another_correction(seat: Seat, theirs: Register) -> None:
    key = an_entry(seat)
    page = seat.window.showing.outlet
    assert page is not None
    was = next(each.visit for each in page.history if each.visit.id == key)
    seat.window.actions_["correct"].trigger()
    form = seat.dialog()
    assert isinstance(form, RecordVisitDialog)
    form.form.fields["cold_c"].put(11.1)
    newer = replace(was.draft, readings=replace(was.readings, cold_c=12.3))
    correct_visit(theirs, key, newer, who=OTHER, at=NOW, today=TODAY)
    for _ in range(2):
        form.go_on.click()
        settle()
    asked = conflict(seat)
    assert "Supplies: cold supply, °C" in said(asked)
    assert "12.3" in said(asked)
    assert "11.1" in said(asked)
    assert asked.keep is not None
    asked.keep.click()
    settle()
    assert seat.dialogs() == []
    after = seat.window.showing.outlet
    assert after is not None
    counting = [each.visit for each in after.history if each.visit.counts and each.visit.on == was.on]
    assert [each.readings.cold_c for each in counting] == [11.1]
    standing = [each.visit.standing for each in after.history if each.visit.on == was.on]
    assert standing.count(Standing.CORRECTED) == 2


def test_that_an_entry_made_void_meanwhile_leaves_nothing_to_keep(seat: Seat, theirs: Register) -> None:
    key = an_entry(seat)
    seat.window.actions_["void"].trigger()
    form = seat.dialog()
    assert isinstance(form, VoidDialog)
    form.reason.setPlainText("tested the next basin")
    void_visit(theirs, key, reason="wrong outlet", who=OTHER, at=NOW)
    form.act.click()
    asked = conflict(seat)
    assert asked.keep is None
    assert "wrong outlet" in said(asked)
    asked.back.click()
    settle()
    assert form.reason.toPlainText() == "tested the next basin"


def test_that_a_form_that_could_not_be_kept_stays_as_it_was_typed(
    seat: Seat, monkeypatch: pytest.MonkeyPatch
) -> None:
    form = override_form(seat)
    desk = seat.window.showing.desk

    def lost(*args: object, **kwargs: object) -> None:
        raise RegisterFault("The connection was lost", "server broke off.", "Do it again.")

    with monkeypatch.context() as patched:
        patched.setattr(desk, "override", lost, raising=False)
        form.act.click()
        settle()
    faults = [each for each in seat.dialogs() if isinstance(each, FaultDialog)]
    assert [each.windowTitle() for each in faults] == ["The connection was lost"]
    faults[0].accept()
    form.act.click()
    settle()
    assert seat.dialogs() == []


def test_that_a_form_left_while_it_was_being_kept_is_not_touched_again(
    seat: Seat, theirs: Register, monkeypatch: pytest.MonkeyPatch
) -> None:
    form = override_form(seat)
    set_by_other(theirs)
    hold = form.hold

    def leave() -> None:
        hold()
        form.reject()

    monkeypatch.setattr(form, "hold", leave)
    form.act.click()
    asked = conflict(seat)
    asked.take.click()
    settle()
    assert seat.dialogs() == []


def test_that_a_conflict_without_an_entry_of_the_ledger_is_still_told(qtbot: QtBot) -> None:
    dialog = ConflictDialog(ConflictFault("Somebody else changed it", (), Seen("outlet", 1, 2)), {}, None)
    qtbot.addWidget(dialog)
    assert "does not tell by whom" in said(dialog)
    nameless = Meanwhile("", NOW, "renamed", fields=(FieldChange("pipe_m", "", "2.5"),))
    other = ConflictDialog(ConflictFault("Somebody else changed it", (nameless,), None), {}, None)
    qtbot.addWidget(other)
    assert "Somebody without a name" in said(other)
    assert "Pipe m" in said(other)


def test_that_the_reason_of_a_correction_is_kept_in_the_trail(seat: Seat, theirs: Register) -> None:
    an_entry(seat)
    seat.window.actions_["correct"].trigger()
    form = seat.dialog()
    assert isinstance(form, RecordVisitDialog)
    form.form.fields["cold_c"].put(11.1)
    form.go_on.click()
    assert form.why.isVisible()
    form.why.setText("  misread the probe ")
    form.go_on.click()
    settle()
    assert seat.dialogs() == []
    with theirs.database.reading() as session:
        newest = ledger.entries(session, "visit")[-1]
    assert (newest.what, newest.why) == ("corrected a visit", "misread the probe")


def test_that_a_first_entry_is_asked_no_reason(seat: Seat) -> None:
    an_entry(seat)
    seat.window.actions_["record"].trigger()
    form = seat.dialog()
    assert isinstance(form, RecordVisitDialog)
    form.go_on.click()
    assert not form.why.isVisible()


def test_that_the_reason_of_an_undo_stays_where_it_could_not_be_undone(
    seat: Seat, monkeypatch: pytest.MonkeyPatch
) -> None:
    def refuse(*args: object) -> None:
        raise EntryFault("Later work rests on this batch", "batch 1.", "Undo that first.")

    seat.window.actions_["batches"].trigger()
    settle()
    seat.window.pages.batches.listing.selectRow(0)
    seat.window.pages.batches.undo.click()
    form = seat.dialog()
    assert isinstance(form, WordsDialog)
    form.line.setText("the wrong file")
    monkeypatch.setattr(seat.window.showing.desk, "undo_batch", refuse, raising=False)
    form.act.click()
    settle()
    faults = [each.windowTitle() for each in seat.dialogs() if isinstance(each, FaultDialog)]
    assert faults == ["Later work rests on this batch"]
    assert form.line.text() == "the wrong file"
    assert form.act.isEnabled()

"""An officer's day at the window, over a copy of a sample estate, with real keys and clicks."""

import csv
from pathlib import Path

from openpyxl import load_workbook
from pypdf import PdfReader
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QWidget

from estate.domain.due import DueLine
from estate.domain.visits import Standing
from estate.sample import contractors_round
from estate.window.dialogs.bring_in import BringInDialog
from estate.window.dialogs.entry import VoidDialog
from estate.window.dialogs.faults import FaultDialog
from estate.window.dialogs.override import OverrideDialog
from estate.window.dialogs.record_visit import RecordVisitDialog
from estate.window.models.due_rows import Wanted
from estate.window.pictures import settle
from tests.window.builders import TODAY
from tests.window.conftest import (  # noqa: F401 - fixtures, found by name
    Seat,
    bare,
    preview_of,
    seat,
    small_estate,
)

CTRL = Qt.KeyboardModifier.ControlModifier


def lines(at: Seat) -> tuple[DueLine, ...]:
    reading = at.window.showing.reading
    assert reading is not None
    return reading.lines


def press(widget: QWidget, key: Qt.Key, held: Qt.KeyboardModifier = Qt.KeyboardModifier.NoModifier) -> None:
    QTest.keyClick(widget, key, held)
    settle()


def focused() -> QWidget:
    found = QApplication.focusWidget()
    assert found is not None
    return found


def a_line(at: Seat) -> DueLine:
    return next(
        each
        for each in lines(at)
        if each.last_visit is not None and not each.also_serves and each.user_group.at_risk
    )


def go_to(at: Seat, reference: str) -> None:
    """Find an outlet with the keyboard alone."""
    press(at.window, Qt.Key.Key_F, CTRL)
    assert focused() is at.window.panel.search
    QTest.keyClicks(focused(), reference)
    press(focused(), Qt.Key.Key_Return)
    page = at.window.showing.outlet
    assert page is not None
    assert page.outlet.reference == reference


def record_dialog(at: Seat) -> RecordVisitDialog:
    press(at.window, Qt.Key.Key_R, CTRL)
    dialog = at.dialog()
    assert isinstance(dialog, RecordVisitDialog)
    return dialog


def type_visit(dialog: RecordVisitDialog, left: str = "41,2") -> None:
    """Type a whole test from field to field; Enter goes on to the next."""
    dialog.form.fields["hot_c"].setFocus()
    for typed in ("60,2", "12.5", "", "", "", "", "41.8"):
        QTest.keyClicks(focused(), typed)
        press(focused(), Qt.Key.Key_Return)
    for path, typed in (
        ("cold_isolated.shut_s", "1.4"),
        ("cold_isolated.residual_ml_min", "0"),
        ("left_c", left),
    ):
        dialog.form.fields[path].setFocus()
        QTest.keyClicks(focused(), typed)
    settle()


def test_that_a_visit_is_found_recorded_and_seen_in_the_history_by_keyboard_alone(seat: Seat) -> None:
    line = a_line(seat)
    go_to(seat, line.ref)
    before = seat.window.showing.outlet
    assert before is not None
    dialog = record_dialog(seat)
    type_visit(dialog)
    draft = dialog.draft()
    assert (draft.readings.hot_c, draft.readings.cold_c, draft.readings.found_c) == (60.2, 12.5, 41.8)
    press(focused(), Qt.Key.Key_Return, CTRL)
    assert dialog.go_on.text() == "Record this visit"
    press(focused(), Qt.Key.Key_Return)
    assert seat.dialogs() == []
    after = seat.window.showing.outlet
    assert after is not None
    assert len(after.history) == len(before.history) + 1
    newest = after.history[0]
    assert (newest.visit.on, newest.visit.readings.left_c) == (TODAY, 41.2)
    assert newest.visit.recorded_by == "A. Officer"
    assert after.window != before.window
    assert "Recorded: in-service test of 25 Nov 2026" in seat.window.statusBar().currentMessage()


def test_that_a_dangerous_temperature_is_said_before_and_after_it_is_entered(seat: Seat) -> None:
    line = a_line(seat)
    go_to(seat, line.ref)
    dialog = record_dialog(seat)
    type_visit(dialog, left="52")
    assert dialog.verdict.words == "take out of use"
    press(focused(), Qt.Key.Key_Return, CTRL)
    press(focused(), Qt.Key.Key_Return)
    page = seat.window.showing.outlet
    assert page is not None
    assert page.state.value == "take out of use"
    found = next(each for each in lines(seat) if each.ref == line.ref)
    assert found.state.value == "take out of use"


def test_that_leaving_the_form_writes_nothing(seat: Seat) -> None:
    go_to(seat, a_line(seat).ref)
    before = seat.window.showing.outlet
    dialog = record_dialog(seat)
    type_visit(dialog)
    press(dialog, Qt.Key.Key_Escape)
    assert seat.dialogs() == [dialog]
    assert "lose what was typed" in dialog.wrong.text()
    press(dialog, Qt.Key.Key_Escape)
    assert seat.dialogs() == []
    seat.window.actions_["refresh"].trigger()
    assert seat.window.showing.outlet == before


def test_that_what_cannot_be_true_is_refused_with_a_remedy_and_nothing_is_lost(seat: Seat) -> None:
    go_to(seat, a_line(seat).ref)
    dialog = record_dialog(seat)
    press(dialog, Qt.Key.Key_Return, CTRL)
    press(focused(), Qt.Key.Key_Return)
    faults = [each for each in seat.dialogs() if isinstance(each, FaultDialog)]
    assert [each.windowTitle() for each in faults] == ["Nothing was measured"]
    faults[0].accept()
    settle()
    assert dialog.isVisible()
    assert dialog.steps.currentIndex() == 0


def test_that_a_wrong_entry_is_made_void_with_a_reason_and_stays_on_record(seat: Seat) -> None:
    go_to(seat, a_line(seat).ref)
    press(seat.window, Qt.Key.Key_H, CTRL)
    press(focused(), Qt.Key.Key_Home, CTRL)
    seat.window.pages.outlet.history.selectRow(0)
    seat.window.actions_["void"].trigger()
    dialog = seat.dialog()
    assert isinstance(dialog, VoidDialog)
    dialog.reason.setFocus()
    QTest.keyClicks(dialog.reason, "tested the basin next to it")
    QTest.mouseClick(dialog.act, Qt.MouseButton.LeftButton)
    settle()
    page = seat.window.showing.outlet
    assert page is not None
    assert page.history[0].visit.standing is Standing.VOID
    assert page.history[0].visit.void_reason == "tested the basin next to it"
    assert seat.window.pages.outlet.history.model().index(0, 2).data() == "void"


def test_that_a_correction_counts_in_place_of_the_entry_it_corrects(seat: Seat) -> None:
    go_to(seat, a_line(seat).ref)
    seat.window.pages.outlet.history.selectRow(0)
    wrong = seat.window.showing.outlet
    assert wrong is not None
    press(seat.window, Qt.Key.Key_E, CTRL)
    dialog = seat.dialog()
    assert isinstance(dialog, RecordVisitDialog)
    assert dialog.draft().readings == wrong.history[0].visit.readings
    dialog.form.fields["cold_c"].put(None)
    QTest.keyClicks(dialog.form.fields["cold_c"], "11.1")
    press(dialog, Qt.Key.Key_Return, CTRL)
    assert focused() is dialog.why
    QTest.keyClicks(dialog.why, "misread")
    press(dialog.why, Qt.Key.Key_Return)
    assert focused() is dialog.go_on
    press(focused(), Qt.Key.Key_Return)
    page = seat.window.showing.outlet
    assert page is not None
    by_id = {each.visit.id: each.visit for each in page.history}
    was = by_id[wrong.history[0].visit.id]
    now = next(each for each in by_id.values() if each.corrects == was.id)
    assert (was.standing, now.standing) == (Standing.CORRECTED, Standing.RECORDED)
    assert now.readings.cold_c == 11.1
    assert now.on == was.on


def test_that_a_contractors_sheet_becomes_due_dates(seat: Seat, tmp_path: Path) -> None:
    sheet = tmp_path / "round.csv"
    sheet.write_bytes(contractors_round(lines(seat), TODAY))
    seat.answers.to_open = sheet
    overdue = sum(each.overdue for each in lines(seat))
    press(seat.window, Qt.Key.Key_B, CTRL)
    dialog = seat.dialog()
    assert isinstance(dialog, BringInDialog)
    QTest.mouseClick(dialog.choose_button, Qt.MouseButton.LeftButton)
    settle()
    questions = dialog.preview.questions.table.rows
    assert {each.code for each in questions} == {
        "unknown-outlet",
        "future-date",
        "no-access",
        "duplicate-row",
    }
    assert sum(each.overdue for each in lines(seat)) == overdue
    rows = len(dialog.preview.visits.table.rows)
    assert dialog.take.text() == f"Take {rows} rows"
    QTest.mouseClick(dialog.take, Qt.MouseButton.LeftButton)
    settle()
    assert f"{rows} rows taken as one batch." in dialog.done_words.text()
    dialog.reject()
    assert sum(each.overdue for each in lines(seat)) < overdue


def test_that_leaving_the_preview_writes_nothing(seat: Seat, tmp_path: Path) -> None:
    sheet = tmp_path / "round.csv"
    sheet.write_bytes(contractors_round(lines(seat), TODAY))
    before = lines(seat)
    seat.answers.to_open = sheet
    press(seat.window, Qt.Key.Key_B, CTRL)
    dialog = seat.dialog()
    assert isinstance(dialog, BringInDialog)
    dialog.choose_button.click()
    press(dialog, Qt.Key.Key_Escape)
    seat.window.actions_["refresh"].trigger()
    assert lines(seat) == before


def test_that_a_file_that_is_no_sheet_is_explained(seat: Seat, tmp_path: Path) -> None:
    (tmp_path / "round.xlsx").write_text("this is no spreadsheet", encoding="utf-8")
    seat.answers.to_open = tmp_path / "round.xlsx"
    press(seat.window, Qt.Key.Key_B, CTRL)
    dialog = seat.dialog()
    assert isinstance(dialog, BringInDialog)
    dialog.choose_button.click()
    settle()
    assert any(isinstance(each, FaultDialog) for each in seat.dialogs())
    assert dialog.choose_button.isEnabled()


def test_that_the_overdue_list_is_previewed_and_saved_as_pdf_and_as_a_spreadsheet(
    seat: Seat, tmp_path: Path
) -> None:
    late = [each for each in lines(seat) if each.overdue]
    seat.answers.to_write = tmp_path / "overdue.pdf"
    seat.window.actions_["due"].trigger()
    settle()
    QTest.mouseClick(seat.window.pages.due.write_button, Qt.MouseButton.LeftButton)
    QTest.mouseClick(preview_of(seat.window).pdf, Qt.MouseButton.LeftButton)
    settle()
    assert seat.answers.shown == [tmp_path / "overdue.pdf"]
    said = " ".join(page.extract_text() for page in PdfReader(tmp_path / "overdue.pdf").pages)
    assert late
    assert all(each.ref in said for each in late)
    seat.answers.to_write = tmp_path / "overdue.xlsx"
    seat.window.activateWindow()
    settle()
    press(seat.window, Qt.Key.Key_P, CTRL)
    QTest.mouseClick(preview_of(seat.window).sheet, Qt.MouseButton.LeftButton)
    settle()
    book = load_workbook(tmp_path / "overdue.xlsx")
    cells = {str(cell) for sheet in book for row in sheet.iter_rows(values_only=True) for cell in row}
    assert {each.ref for each in late} <= cells


def test_that_a_report_that_cannot_be_written_is_explained(seat: Seat, tmp_path: Path) -> None:
    seat.answers.to_write = tmp_path / "no such folder" / "overdue.pdf"
    seat.window.actions_["write-overdue"].trigger()
    for save in (preview_of(seat.window).pdf, preview_of(seat.window).sheet):
        save.click()
        settle()
        (fault,) = [each for each in seat.dialogs() if isinstance(each, FaultDialog)]
        fault.accept()
        settle()
    assert seat.answers.shown == []


def test_that_a_line_of_the_due_list_leads_to_its_outlet(seat: Seat) -> None:
    press(seat.window, Qt.Key.Key_D, CTRL)
    due = seat.window.pages.due
    due.show_only(Wanted.ALL)
    listing = due.listing
    cell = listing.visualRect(listing.model().index(3, 1)).center()
    QTest.mouseClick(listing.viewport(), Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier, cell)
    QTest.mouseDClick(listing.viewport(), Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier, cell)
    settle()
    page = seat.window.showing.outlet
    assert page is not None
    assert page.outlet.reference == listing.model().index(3, 1).data()
    node = seat.window.panel.current
    assert node is not None
    assert node.id == page.outlet.id


def test_that_the_sites_own_value_is_kept_with_who_and_why(seat: Seat) -> None:
    press(seat.window, Qt.Key.Key_U, CTRL)
    rules = seat.window.pages.rules
    rules.sought.setText("mixed.ceiling.basin")
    rules.listing.selectRow(0)
    rules.override_button.click()
    dialog = seat.dialog()
    assert isinstance(dialog, OverrideDialog)
    QTest.keyClicks(dialog.value, "42,5")
    QTest.keyClicks(dialog.why, "water safety group")
    dialog.act.click()
    settle()
    assert rules.rules is not None
    value = rules.rules.get("mixed.ceiling.basin")
    assert value is not None
    assert value.override is not None
    assert (value.number, value.override.who, value.override.why) == (
        42.5,
        "A. Officer",
        "water safety group",
    )


def test_that_a_place_lists_its_outlets(seat: Seat) -> None:
    press(seat.window, Qt.Key.Key_T, CTRL)
    press(focused(), Qt.Key.Key_Home)
    place = seat.window.pages.place
    assert seat.window.showing.stack.currentWidget() is place
    node = seat.window.panel.current
    assert node is not None
    assert len(place.listing.table.rows) == node.outlets


def test_that_an_empty_register_leads_to_the_asset_list(bare: Seat, tmp_path: Path) -> None:
    bare.answers.to_write = tmp_path / "new.db"
    bare.window.actions_["new"].trigger()
    bare.dialog()
    QTest.keyClicks(focused(), "Withy End Care Home")
    press(focused(), Qt.Key.Key_Return)
    start = bare.window.pages.start
    assert bare.window.showing.stack.currentWidget() is start
    sheet = tmp_path / "assets.csv"
    with sheet.open("w", newline="", encoding="utf-8") as file:
        writer = csv.writer(file)
        writer.writerow(
            ["Reference", "Site", "Building", "Level", "Room no", "Room", "Outlet", "Use", "Users"]
        )
        writer.writerow(
            ["WE/1/101/WHB1", "Withy End", "House", "1", "101", "Bathroom", "Basin", "basin", "residents"]
        )
    bare.answers.to_open = sheet
    QTest.mouseClick(start.bring_in, Qt.MouseButton.LeftButton)
    bring = bare.dialog()
    assert isinstance(bring, BringInDialog)
    bring.choose_button.click()
    settle()
    assert bring.take.text() == "Take 1 row"
    bring.take.click()
    settle()
    bring.reject()
    settle()
    assert [each.ref for each in lines(bare)] == ["WE/1/101/WHB1"]

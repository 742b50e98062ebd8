"""A valve's whole life at the window, over a copy of a sample estate, with real keys and clicks."""

from datetime import timedelta
from pathlib import Path
from typing import TypeVar

from pypdf import PdfReader
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QDialog, QLabel, QLineEdit, QPlainTextEdit, QWidget

from estate.domain.collecting import volume_key
from estate.domain.due import DueLine
from estate.domain.findings import Verdict
from estate.domain.life.actions import ActionKind, ActionState, Step
from estate.domain.life.care import CareAsked
from estate.domain.life.lists import ActionLine
from estate.domain.life.outlet_use import OutletUse
from estate.domain.steps import Part
from estate.domain.visits import VisitKind
from estate.window.dialogs.action_step import ActionStepDialog, OutletUseDialog
from estate.window.dialogs.entry import VoidDialog, WordsDialog
from estate.window.dialogs.instruments import AddInstrumentDialog, CalibrationDialog
from estate.window.dialogs.people import AddPersonDialog
from estate.window.dialogs.record_visit import RecordVisitDialog
from estate.window.dialogs.replace_valve import ReplaceValveDialog
from estate.window.dialogs.suitability import SuitabilityDialog
from estate.window.dialogs.upkeep import CareDialog, ReviewDialog
from estate.window.pictures import settle
from tests.journeys.test_window_officer import CTRL, focused, lines, press, record_dialog, type_visit
from tests.journeys.test_window_officer import go_to as find_outlet
from tests.window.builders import TODAY
from tests.window.conftest import (  # noqa: F401 - fixtures, found by name
    Seat,
    bare,
    preview_of,
    seat,
    small_estate,
)

LEFT = Qt.MouseButton.LeftButton
WALK_ON = CTRL | Qt.KeyboardModifier.ShiftModifier
D = TypeVar("D", bound=QDialog)


def open_dialog(at: Seat, kind: type[D]) -> D:
    dialog = at.dialog()
    assert isinstance(dialog, kind)
    return dialog


def click(button: QWidget) -> None:
    assert button.isVisible()
    assert button.isEnabled()
    QTest.mouseClick(button, LEFT)
    settle()


def write(field: QLineEdit | QPlainTextEdit, words: str) -> None:
    field.setFocus()
    field.selectAll()
    QTest.keyClicks(field, words)
    settle()


def back(at: Seat) -> None:
    """The window is in front again: a screen does so by itself once a dialog is closed."""
    at.window.activateWindow()
    settle()


def go_to(at: Seat, reference: str) -> None:
    back(at)
    find_outlet(at, reference)


def tab_to(wanted: QWidget) -> None:
    """Go from field to field with the tabulator until the one wanted has the focus."""
    for _ in range(60):
        if focused() is wanted:
            return
        press(focused(), Qt.Key.Key_Tab)
    raise AssertionError(f"{wanted.accessibleName()} is not reached by keyboard")


def a_line(at: Seat) -> DueLine:
    """An outlet of people at risk whose valve serves it alone and of which nothing is to be done."""
    desk = at.window.showing.desk
    assert desk is not None
    busy = {each.outlet.id for each in desk.work.action_lines(True)}
    return next(
        each
        for each in lines(at)
        if each.last_visit is not None
        and not each.also_serves
        and each.user_group.at_risk
        and each.outlet_id not in busy
        and each.last_visit < TODAY - timedelta(days=1)
    )


def confirm(dialog: RecordVisitDialog) -> None:
    """Enter the visit with two keys."""
    press(focused(), Qt.Key.Key_Return, CTRL)
    assert dialog.go_on.text() == "Record this visit"
    press(focused(), Qt.Key.Key_Return)


def type_service(dialog: RecordVisitDialog, kind: str, parts: str = "") -> None:
    """Type a service or commissioning in order: every step seen, water caught in a vessel."""
    form = dialog.form
    form.kind.setFocus()
    QTest.keyClicks(form.kind, kind)
    settle()
    for answer in form.steps.answers.values():
        tab_to(answer)
        QTest.keyClicks(focused(), "y")
    if parts:
        tab_to(form.steps.parts)
        QTest.keyClicks(focused(), parts)
    for field, typed in (
        *((form.fields[path], typed) for path, typed in (("hot_c", "60.1"), ("cold_c", "12.4"))),
        (form.fields["left_c"], "41.0"),
        (form.fields["cold_isolated.shut_s"], "1.4"),
        (form.caught["cold"].volume_ml, "20"),
        (form.caught["cold"].seconds, "60"),
        (form.fields["cold_isolated.max_c"], "42.0"),
        (form.fields["cap_refitted"], "y"),
    ):
        tab_to(field)
        QTest.keyClicks(focused(), typed)
    settle()


def actions_at(at: Seat, outlet_id: int, done_too: bool = False) -> ActionLine:
    """The newest action at an outlet, chosen on the page of actions, opened by its key."""
    back(at)
    press(at.window, Qt.Key.Key_A, WALK_ON)
    page = at.window.life.actions
    assert at.window.showing.stack.currentWidget() is page
    page.wanted.setCurrentIndex(3 if done_too else 0)
    shown = [each for each in page.listing.ordered.shown() if each.outlet.id == outlet_id]
    newest = max(shown, key=lambda each: each.action.id)
    page.listing.choose(newest.action.id)
    settle()
    assert page.chosen == newest
    return newest


def test_that_a_valve_is_commissioned_by_keyboard_and_its_certificate_written(
    seat: Seat, tmp_path: Path
) -> None:
    line = a_line(seat)
    go_to(seat, line.ref)
    dialog = record_dialog(seat)
    type_service(dialog, "c", parts="strainer 2, washer")
    assert dialog.form.fields["cold_isolated.residual_ml_min"].value() == 20.0
    confirm(dialog)
    assert seat.dialogs() == []
    page = seat.window.showing.outlet
    assert page is not None
    visit = page.history[0].visit
    assert visit.draft.kind is VisitKind.COMMISSIONING
    assert visit.draft.steps.parts == (Part("strainer", 2.0), Part("washer"))
    assert visit.draft.steps.number(volume_key("cold")) == 20.0
    assert all(seen.said for seen in visit.draft.steps.seen if seen.said is not None)
    seat.window.pages.outlet.history.selectRow(0)
    seat.answers.to_write = tmp_path / "certificate.pdf"
    seat.window.actions_["certificate"].trigger()
    preview_of(seat.window).pdf.click()
    settle()
    assert seat.answers.shown == [tmp_path / "certificate.pdf"]
    said = " ".join(each.extract_text() for each in PdfReader(tmp_path / "certificate.pdf").pages)
    assert line.ref in said
    assert "41.0" in said
    assert "scald" in said.casefold()


def test_that_a_round_goes_from_valve_to_valve_without_the_mouse(seat: Seat) -> None:
    first = next(each for each in lines(seat) if each.overdue and each.last_visit is not None)
    go_to(seat, first.ref)
    dialog = record_dialog(seat)
    name = dialog.form.person.lineEdit()
    assert name is not None
    write(name, "B. Rounds")
    dialog.form.instrument.setFocus()
    press(dialog.form.instrument, Qt.Key.Key_End)
    in_hand = dialog.draft().instrument_id
    assert in_hand is not None
    type_visit(dialog)
    press(focused(), Qt.Key.Key_Return, WALK_ON)
    press(focused(), Qt.Key.Key_Return, WALK_ON)
    further = open_dialog(seat, RecordVisitDialog)
    second = seat.window.showing.outlet
    assert second is not None
    assert second.outlet.reference != first.ref
    assert (further.draft().person, further.draft().instrument_id) == ("B. Rounds", in_hand)
    assert further.form.fields["hot_c"].hasFocus()
    type_visit(further)
    press(focused(), Qt.Key.Key_Return, WALK_ON)
    press(focused(), Qt.Key.Key_Return)
    assert seat.dialogs() == []
    tested = [each.ref for each in lines(seat) if each.last_visit == TODAY]
    assert {first.ref, second.outlet.reference} <= set(tested)


def test_that_a_hot_outlet_goes_out_of_use_and_back_only_after_its_retest(seat: Seat) -> None:
    line = a_line(seat)
    go_to(seat, line.ref)
    type_visit(dialog := record_dialog(seat), left="46")
    assert dialog.verdict.words == "take out of use"
    confirm(dialog)
    opened = actions_at(seat, line.outlet_id)
    assert (opened.action.state, opened.use.use) == (ActionState.OPEN, OutletUse.IN_USE)
    page = seat.window.life.actions

    click(page.use)
    out = open_dialog(seat, OutletUseDialog)
    write(out.why, "46 °C at the basin")
    assert not out.act.isEnabled()
    QTest.keyClicks(out.who_told, "the sister in charge")
    out.sign.setFocus()
    QTest.keyClicks(out.sign, "y")
    click(out.act)
    safe = actions_at(seat, line.outlet_id)
    assert (safe.action.state, safe.use.use) == (ActionState.MADE_SAFE, OutletUse.OUT_OF_USE)
    assert "the sister in charge" in str(safe.use)

    click(page.use)
    back = open_dialog(seat, OutletUseDialog)
    assert back.refused.isVisible()
    assert "Test again first" in back.refused.text() or "finding" in back.refused.text()
    write(back.why, "mended")
    assert not back.act.isEnabled()
    back.reject()

    click(page.steps[Step.PUT_RIGHT])
    right = open_dialog(seat, ActionStepDialog)
    write(right.why, "thermostat replaced")
    click(right.act)
    assert actions_at(seat, line.outlet_id).action.state is ActionState.PUT_RIGHT

    go_to(seat, line.ref)
    type_service(retest := record_dialog(seat), "s", parts="thermostat 1")
    confirm(retest)
    assert seat.dialogs() == []
    shown = seat.window.showing.outlet
    assert shown is not None
    service = shown.history[0].visit.draft
    assert (service.kind, service.steps.parts) == (VisitKind.SERVICE, (Part("thermostat", 1.0),))
    assert actions_at(seat, line.outlet_id).action.state is ActionState.RETESTED

    click(page.use)
    back = open_dialog(seat, OutletUseDialog)
    assert not back.refused.isVisible()
    write(back.why, "mended and tested")
    click(back.act)
    assert actions_at(seat, line.outlet_id).use.use is OutletUse.IN_USE
    click(page.steps[Step.CLOSE])
    click(open_dialog(seat, ActionStepDialog).act)
    closed = actions_at(seat, line.outlet_id, done_too=True)
    assert closed.action.state is ActionState.CLOSED
    assert "thermostat replaced" in page.history.text()

    go_to(seat, line.ref)
    seat.window.pages.outlet.history.selectRow(0)
    seat.window.actions_["void"].trigger()
    void = open_dialog(seat, VoidDialog)
    write(void.reason, "it was the basin next to it")
    click(void.act)
    assert actions_at(seat, line.outlet_id).action.state.live


def words_of(widget: QWidget) -> str:
    return " ".join(each.text() for each in widget.findChildren(QLabel) if each.isVisible())


def test_that_causes_are_named_for_what_the_last_visit_found(seat: Seat) -> None:
    go_to(seat, a_line(seat).ref)
    type_visit(dialog := record_dialog(seat), left="46")
    confirm(dialog)
    back(seat)
    press(seat.window, Qt.Key.Key_W, WALK_ON)
    panel = seat.window.pages.outlet.diagnosis
    assert panel.isVisible()
    assert "25 Nov 2026" in panel.about_visit.text()
    assert "the cold side is restricted" in words_of(panel)
    assert "The order is no probability" in words_of(panel)
    write(panel.hardness, "280")
    assert "The water is hard, 280 mg/l" in words_of(panel)


def test_that_a_valve_is_held_against_the_rules_where_it_is_and_before_it_is_fitted(seat: Seat) -> None:
    go_to(seat, a_line(seat).ref)
    seat.window.actions_["suitable"].trigger()
    there = open_dialog(seat, SuitabilityDialog)
    assert "valve in place" in there.where.text()
    write(there.form.numbers["pipe_m"], "2.6")
    assert "2.6 m" in words_of(there)
    press(there, Qt.Key.Key_Escape)
    seat.window.actions_["suitable-figures"].trigger()
    alone = open_dialog(seat, SuitabilityDialog)
    assert "Choose use and users first" in words_of(alone)
    for box in (alone.form.use, alone.form.users):
        box.setFocus()
        press(box, Qt.Key.Key_Down)
    assert "Choose use and users first" not in words_of(alone)
    press(alone, Qt.Key.Key_Escape)
    assert seat.dialogs() == []


def test_that_the_year_ahead_is_told_by_model(seat: Seat) -> None:
    press(seat.window, Qt.Key.Key_Y, WALK_ON)
    page = seat.window.life.forecast
    assert seat.window.showing.stack.currentWidget() is page
    assert "As at 25 Nov 2026" in page.as_at.text()
    page.groups.setFocus()
    press(page.groups, Qt.Key.Key_Down)
    chosen = page.chosen
    assert chosen is not None
    assert f"{chosen.in_place:,} in place" in page.named.text()


def test_that_a_visit_with_an_instrument_out_of_date_is_flagged_until_it_is_calibrated(seat: Seat) -> None:
    seat.window.actions_["instruments"].trigger()
    settle()
    page = seat.window.life.instruments
    click(page.add)
    new = open_dialog(seat, AddInstrumentDialog)
    write(new.reference, "T-0990")
    new.calibrated.setFocus()
    press(new.calibrated, Qt.Key.Key_Space)
    assert not new.calibrated.isChecked()
    click(new.act)
    (kept,) = [each for each in page.listing.ordered.shown() if each.reference == "T-0990"]
    page.listing.choose(kept.id)
    assert "doesn't count" in page.detail.text()
    go_to(seat, a_line(seat).ref)
    dialog = record_dialog(seat)
    dialog.form.instrument.setFocus()
    dialog.form.instrument.setCurrentIndex(dialog.form.instrument.findData(kept.id))
    assert "OUT OF CALIBRATION" in dialog.form.instrument.currentText()
    type_visit(dialog)
    assert "calibration" in words_of(dialog.findings).casefold()
    press(dialog, Qt.Key.Key_Escape)
    press(dialog, Qt.Key.Key_Escape)
    seat.window.actions_["instruments"].trigger()
    settle()
    page.listing.choose(kept.id)
    click(page.calibrate)
    further = open_dialog(seat, CalibrationDialog)
    write(further.certificate, "C-2026-118")
    click(further.act)
    page.listing.choose(kept.id)
    assert "C-2026-118" in page.detail.text()
    assert "doesn't count" not in page.detail.text()


def test_that_a_person_is_added_with_a_competence(seat: Seat) -> None:
    seat.window.actions_["people"].trigger()
    settle()
    page = seat.window.life.people
    click(page.add)
    dialog = open_dialog(seat, AddPersonDialog)
    write(dialog.name, "N. Ewe")
    write(dialog.subject, "testing of valves")
    write(dialog.certificate, "C-7")
    click(dialog.act)
    (kept,) = [each for each in page.listing.ordered.shown() if each.name == "N. Ewe"]
    page.listing.choose(kept.id)
    assert "testing of valves (C-7)" in page.detail.text()
    assert kept.competence_on(TODAY) is not None


def upkeep_of(at: Seat, asked: CareAsked) -> int:
    """Choose the first line of upkeep of a kind; gives its outlet."""
    at.window.actions_["upkeep"].trigger()
    settle()
    page = at.window.life.upkeep
    page.wanted.setCurrentIndex(page.wanted.count() - 1)
    line = next(each for each in page.listing.ordered.shown() if each[1].asked is asked)
    page.listing.choose(line[0])
    return line[1].outlet.id


def last_of(at: Seat, asked: CareAsked, outlet_id: int) -> object:
    page = at.window.life.upkeep
    shown = page.listing.ordered.shown()
    (line,) = [each for each in shown if each[1].asked is asked and each[1].outlet.id == outlet_id]
    page.listing.choose(line[0])
    return line[1].last


def test_that_upkeep_is_recorded_and_taken_back(seat: Seat) -> None:
    outlet_id = upkeep_of(seat, CareAsked.SHOWER_HEAD)
    page = seat.window.life.upkeep
    before = last_of(seat, CareAsked.SHOWER_HEAD, outlet_id)
    assert before != TODAY
    click(page.done_button)
    click(open_dialog(seat, CareDialog).act)
    assert last_of(seat, CareAsked.SHOWER_HEAD, outlet_id) == TODAY
    click(page.take_back)
    back = open_dialog(seat, WordsDialog)
    write(back.line, "it was the shower next to it")
    click(back.act)
    assert seat.dialogs() == []
    assert last_of(seat, CareAsked.SHOWER_HEAD, outlet_id) == before


def test_that_it_is_asked_whether_a_valve_is_still_needed(seat: Seat) -> None:
    outlet_id = upkeep_of(seat, CareAsked.REVIEW)
    page = seat.window.life.upkeep
    click(page.done_button)
    dialog = open_dialog(seat, ReviewDialog)
    dialog.needed.setFocus()
    QTest.keyClicks(dialog.needed, "n")
    write(dialog.why, "staff only")
    click(dialog.act)
    assert last_of(seat, CareAsked.REVIEW, outlet_id) == TODAY
    assert "staff only" in page.detail.text()
    click(page.take_back)
    back = open_dialog(seat, WordsDialog)
    write(back.line, "not decided yet")
    click(back.act)
    assert last_of(seat, CareAsked.REVIEW, outlet_id) != TODAY
    assert "staff only" not in page.detail.text()


def test_that_a_valve_is_replaced_and_its_history_kept(seat: Seat) -> None:
    line = a_line(seat)
    go_to(seat, line.ref)
    before = seat.window.showing.outlet
    assert before is not None
    seat.window.actions_["replace-valve"].trigger()
    dialog = seat.dialog()
    assert isinstance(dialog, ReplaceValveDialog)
    assert not dialog.act.isEnabled()
    dialog.serial.setFocus()
    QTest.keyClicks(dialog.serial, "N-1")
    QTest.keyClicks(dialog.designations, "HP-Z")
    assert not dialog.act.isEnabled()
    dialog.designations.clear()
    QTest.keyClicks(dialog.designations, "hp-w lp-w")
    dialog.act.click()
    settle()
    assert seat.dialogs() == []
    after = seat.window.showing.outlet
    assert after is not None
    assert after.valve is not None
    assert (after.valve.serial, after.valve.designations) == ("N-1", ("HP-W", "LP-W"))
    assert [each.visit.id for each in after.history] == [each.visit.id for each in before.history]
    assert [each.opening.kind for each in after.actions] == [ActionKind.COMMISSIONING]
    assert "Commission the new valve" in seat.window.pages.outlet.standing.text()


def test_that_a_visit_in_doubt_counts_once_a_person_says_why(seat: Seat) -> None:
    found = next(
        line
        for line in lines(seat)
        if line.verdict is Verdict.PUT_RIGHT and "its calibration ran out" in line.window.reason.words
    )
    go_to(seat, found.ref)
    history = seat.window.pages.outlet.history
    page = seat.window.showing.outlet
    assert page is not None
    newest = next(each for each in page.history if each.visit.counts)
    history.choose(newest.visit.id)
    seat.window.actions_["justify"].trigger()
    dialog = seat.dialog()
    assert isinstance(dialog, WordsDialog)
    QTest.keyClicks(dialog.line, "compared the same day with T-101")
    dialog.act.click()
    settle()
    assert seat.dialogs() == []
    after = seat.window.showing.outlet
    assert after is not None
    judged = next(each for each in after.history if each.visit.id == newest.visit.id).judgement
    assert judged.verdict is not Verdict.PUT_RIGHT
    assert any("compared the same day" in each.words for each in judged.findings)

"""Dialogs: what they ask, what they refuse, what they say."""

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest
from PySide6.QtCore import QMimeData, QPoint, Qt, QUrl
from PySide6.QtGui import QGuiApplication, QWheelEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QPushButton
from pytestqt.qtbot import QtBot

from estate.domain.findings import Judgement
from estate.domain.instruments import Calibration, Instrument
from estate.domain.visits import Standing, VisitDraft, VisitKind
from estate.errors import EntryFault
from estate.window.dialogs.drop import sheet_dropped
from estate.window.dialogs.entry import VoidDialog, WordsDialog, name_dialog
from estate.window.dialogs.faults import DefectDialog, FaultDialog
from estate.window.dialogs.override import OverrideDialog
from estate.window.dialogs.reading import about_dialog
from estate.window.dialogs.record_visit import RecordVisitDialog, background_of, draft_facts, usual_kind
from estate.window.models.visit_fields import FIELDS
from estate.window.notices import Notices
from estate.window.tasks import Latest, Straight, Tasks
from estate.window.widgets.visit_form import VisitForm
from tests.builders import healthcare
from tests.window import builders
from tests.window.builders import TODAY, finding, history_line, judgement, not_tested, page
from tests.window.conftest import Seat

INSTRUMENTS = (
    Instrument(7, "T-101", calibrations=(Calibration(TODAY.replace(year=2025), TODAY.replace(year=2027)),)),
    Instrument(8, "T-099"),
)


@pytest.fixture
def latest(qtbot: QtBot) -> Iterator[Latest]:
    with Straight() as executor:
        yield Latest(Tasks(executor, Notices()))


def form_dialog(qtbot: QtBot, latest: Latest, judged: list[VisitDraft], then: str = "") -> RecordVisitDialog:
    def judge(draft: VisitDraft) -> Judgement:
        judged.append(draft)
        return judgement(finding()) if (draft.readings.left_c or 0) > 43 else judgement(not_tested())

    shown = page()
    start = VisitDraft(1, 1, VisitKind.IN_SERVICE, TODAY, person="T. Tester", instrument_id=7)
    background = background_of(shown, ("T. Tester",), INSTRUMENTS, None)
    dialog = RecordVisitDialog(shown, background, start, judge, latest, "Record a visit", then=then)
    qtbot.addWidget(dialog)
    return dialog


def test_that_every_edit_is_judged(qtbot: QtBot, latest: Latest) -> None:
    judged: list[VisitDraft] = []
    dialog = form_dialog(qtbot, latest, judged)
    assert dialog.verdict.words == "not tested"
    QTest.keyClicks(dialog.form.fields["left_c"], "44,6")
    assert judged[-1].readings.left_c == 44.6
    assert dialog.verdict.words == "take out of use"


def test_that_what_is_no_number_is_named_and_stops_the_way_on(qtbot: QtBot, latest: Latest) -> None:
    dialog = form_dialog(qtbot, latest, [])
    QTest.keyClicks(dialog.form.fields["hot_c"], "6x")
    assert dialog.wrong.text() == "Not a number: Supplies, hot supply"
    assert not dialog.go_on.isEnabled()
    assert dialog.draft().readings.hot_c is None
    dialog.form.fields["hot_c"].put(None)
    QTest.keyClicks(dialog.form.fields["hot_c"], "60")
    assert dialog.wrong.text() == ""
    assert dialog.go_on.isEnabled()


def test_that_nothing_is_entered_without_the_step_to_confirm(qtbot: QtBot, latest: Latest) -> None:
    dialog = form_dialog(qtbot, latest, [])
    entered: list[VisitDraft] = []
    dialog.confirmed.connect(entered.append)
    QTest.keyClicks(dialog.form.fields["found_c"], "41.2")
    dialog.go_on.click()
    assert entered == []
    assert dialog.go_on.text() == "Record this visit"
    dialog.back.click()
    dialog.go_on.click()
    dialog.go_on.click()
    assert [each.readings.found_c for each in entered] == [41.2]
    assert entered[0].instrument_id == 7


@pytest.mark.parametrize(("then", "walks_on"), [("MM/G/G04/WHB1", True), ("", False)])
def test_that_a_person_walks_on_by_keyboard_where_there_is_a_next_outlet(
    qtbot: QtBot, latest: Latest, then: str, walks_on: bool
) -> None:
    dialog = form_dialog(qtbot, latest, [], then)
    made: list[VisitDraft] = []
    dialog.confirmed.connect(made.append)
    with qtbot.waitActive(dialog):
        dialog.show()
    both = Qt.KeyboardModifier.ControlModifier | Qt.KeyboardModifier.ShiftModifier
    for _ in range(2):
        QTest.keyClick(dialog, Qt.Key.Key_Return, both)
    assert len(made) == 1
    assert dialog.walks_on is walks_on


def test_that_a_refused_entry_goes_back_to_the_form_with_all_that_was_typed(
    qtbot: QtBot, latest: Latest
) -> None:
    dialog = form_dialog(qtbot, latest, [])
    QTest.keyClicks(dialog.form.fields["found_c"], "41.2")
    dialog.go_on.click()
    dialog.release()
    assert dialog.steps.currentIndex() == 0
    assert dialog.draft().readings.found_c == 41.2


def test_that_last_and_reference_are_of_the_valve_in_place_and_count() -> None:
    lines = (
        history_line(5, 10, standing=Standing.VOID),
        history_line(4, 50),
        replace(history_line(3, 60), valve=replace(builders.VALVE, id=9)),
        history_line(2, 300, draft=replace(builders.visit().draft, kind=VisitKind.COMMISSIONING)),
    )
    background = background_of(page(history=lines), (), (), None)
    assert background.last is not None
    assert background.reference is not None
    assert (background.last.id, background.reference.id) == (4, 2)
    assert background_of(page(history=lines), (), (), lines[1]).last == lines[3].visit
    assert background_of(page(history=()), (), (), None).last is None


def test_that_a_valve_without_history_is_commissioned_first() -> None:
    assert usual_kind(page(history=())) is VisitKind.COMMISSIONING
    assert usual_kind(page()) is VisitKind.IN_SERVICE


def test_that_a_draft_put_into_the_form_comes_out_the_same(qtbot: QtBot) -> None:
    background = background_of(page(), ("T. Tester",), INSTRUMENTS, None)
    form = VisitForm(background, TODAY)
    qtbot.addWidget(form)
    draft = replace(builders.visit().draft, remarks="strainers were dirty", source=None)
    form.put(draft)
    assert form.draft(draft.valve_id, draft.outlet_id) == draft


def test_that_words_for_an_instrument_that_is_not_known_are_kept(qtbot: QtBot) -> None:
    form = VisitForm(background_of(page(), (), INSTRUMENTS, None), TODAY)
    qtbot.addWidget(form)
    draft = replace(builders.visit().draft, instrument_id=None, instrument_words="probe 4", source=None)
    form.put(draft)
    assert form.draft(1, 1).instrument_words == "probe 4"
    form.instrument.setCurrentIndex(1)
    assert (form.draft(1, 1).instrument_id, form.draft(1, 1).instrument_words) == (7, "")


def test_that_the_tab_key_goes_through_the_form_in_working_order(qtbot: QtBot) -> None:
    form = VisitForm(background_of(page(), (), INSTRUMENTS, None), TODAY)
    qtbot.addWidget(form)
    wanted = [form.kind, form.on, form.person, form.instrument, *form.fields.values(), form.remarks]
    chain, widget = [], form.nextInFocusChain()
    while widget is not None and widget is not form:
        chain.append(widget)
        widget = widget.nextInFocusChain()
    assert [each for each in chain if each in wanted] == wanted
    assert list(form.fields) == [each.path for each in FIELDS]


def test_that_scrolling_the_form_changes_no_answer(qtbot: QtBot) -> None:
    form = VisitForm(background_of(page(), (), INSTRUMENTS, None), TODAY)
    qtbot.addWidget(form)
    form.show()
    for widget in (form.kind, form.instrument, form.on, form.fields["adjusted"]):
        before = form.draft(1, 1)
        where = widget.rect().center().toPointF()
        turned = QWheelEvent(
            where,
            widget.mapToGlobal(where),
            QPoint(0, -120),
            QPoint(0, -120),
            Qt.MouseButton.NoButton,
            Qt.KeyboardModifier.NoModifier,
            Qt.ScrollPhase.NoScrollPhase,
            False,
        )
        QApplication.sendEvent(widget, turned)
        assert form.draft(1, 1) == before


def test_that_an_instrument_out_of_calibration_is_offered_as_such(qtbot: QtBot) -> None:
    form = VisitForm(background_of(page(), (), INSTRUMENTS, None), TODAY)
    qtbot.addWidget(form)
    offered = [form.instrument.itemText(row) for row in range(form.instrument.count())]
    assert offered[0] == "not recorded"
    assert "calibration due 25 Nov 2027" in offered[1]
    assert "OUT OF CALIBRATION" in offered[2]


def test_that_the_step_to_confirm_names_only_what_was_measured() -> None:
    facts = {name: value for name, value, _ in draft_facts(builders.visit().draft, {7: "T-7"})}
    assert facts["Instrument"] == "T-7"
    assert facts["Supplies: hot supply"] == "60.2 °C"
    assert facts["Cold supply isolated: still flowing"] == "0 ml/min"
    assert not any("pressure" in name for name in facts)


def test_that_an_entry_is_voided_only_with_a_reason(qtbot: QtBot) -> None:
    dialog = VoidDialog(history_line(), None)
    qtbot.addWidget(dialog)
    given: list[str] = []
    dialog.given.connect(given.append)
    assert not dialog.act.isEnabled()
    dialog.reason.setPlainText("   ")
    assert not dialog.act.isEnabled()
    dialog.reason.setPlainText(" wrong outlet ")
    dialog.act.click()
    assert given == ["wrong outlet"]


def test_that_a_name_must_not_be_blank(qtbot: QtBot) -> None:
    dialog = name_dialog("", None)
    qtbot.addWidget(dialog)
    assert not dialog.act.isEnabled()
    dialog.line.setText("A. Officer")
    assert dialog.act.isEnabled()


def test_that_a_value_of_the_sites_own_needs_a_number_and_a_why(qtbot: QtBot) -> None:
    value = next(each for each in healthcare().values.values() if each.unit == "degC")
    dialog = OverrideDialog(value, None)
    qtbot.addWidget(dialog)
    given: list[tuple[object, str]] = []
    dialog.given.connect(lambda number, why: given.append((number, why)))
    dialog.value.setText("x")
    dialog.why.setText("water safety group, 3 Nov 2026")
    assert not dialog.act.isEnabled()
    assert "not a number" in dialog.wrong.text()
    dialog.value.setText("40,5")
    dialog.act.click()
    assert given == [(40.5, "water safety group, 3 Nov 2026")]


def test_that_a_known_fault_says_what_can_be_done(qtbot: QtBot) -> None:
    dialog = FaultDialog(EntryFault("The visit lies ahead", "It is dated 2027.", "Correct the date."))
    qtbot.addWidget(dialog)
    said = [each.text() for each in dialog.findChildren(type(dialog.heading))]
    assert said == ["The visit lies ahead", "It is dated 2027.", "What you can do", "Correct the date."]


def test_that_a_defect_gives_a_report_to_copy(qtbot: QtBot) -> None:
    try:
        raise ZeroDivisionError("so it was")
    except ZeroDivisionError as error:
        dialog = DefectDialog(error)
    qtbot.addWidget(dialog)
    next(each for each in dialog.findChildren(QPushButton) if each.text() == "Copy the report").click()
    assert "ZeroDivisionError: so it was" in QGuiApplication.clipboard().text()
    assert "Qt 6" in QGuiApplication.clipboard().text()


def test_that_only_one_sheet_is_taken_from_what_is_dropped() -> None:
    def dropped(*paths: str) -> Path | None:
        data = QMimeData()
        data.setUrls([QUrl.fromLocalFile(path) for path in paths])
        return sheet_dropped(data)

    assert dropped("/a/round.xlsx") == Path("/a/round.xlsx")
    assert dropped("/a/round.CSV") == Path("/a/round.CSV")
    assert dropped("/a/round.pdf") is None
    assert dropped("/a/one.csv", "/a/two.csv") is None
    assert dropped() is None


def test_that_about_names_version_register_and_rules(seat: Seat, qtbot: QtBot) -> None:
    reading = seat.window.showing.reading
    assert reading is not None
    dialog = about_dialog("1.2.3", reading.identity)
    qtbot.addWidget(dialog)
    said = " ".join(each.text() for each in dialog.findChildren(type(dialog.heading)))
    assert "1.2.3" in said
    assert reading.identity.identifier in said
    assert "uk-healthcare" in said


@pytest.mark.parametrize("answered", [False, True])
def test_that_a_new_register_is_made_where_the_person_says(
    bare: Seat, tmp_path: Path, answered: bool
) -> None:
    bare.answers.to_write = tmp_path / "new.db" if answered else None
    bare.window.actions_["new"].trigger()
    dialog = bare.dialog()
    assert isinstance(dialog, WordsDialog)
    dialog.line.setText("Withy End Care Home")
    dialog.act.click()
    assert (tmp_path / "new.db").exists() is answered
    assert ("Withy End Care Home" in bare.window.windowTitle()) is answered

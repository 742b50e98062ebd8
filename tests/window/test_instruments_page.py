"""The page and the dialogs of instruments."""

from datetime import timedelta

import pytest
from PySide6.QtCore import QDate
from PySide6.QtTest import QAbstractItemModelTester, QTest
from pytestqt.qtbot import QtBot

from estate.domain.instruments import Calibration, Instrument, InstrumentKind
from estate.window.dialogs.instruments import AddInstrumentDialog, CalibrationDialog
from estate.window.marks import Mark
from estate.window.pages.instruments_page import InstrumentsView, calibration_shown
from estate.window.roles import Role
from tests.window.builders import TODAY

A_DAY, A_YEAR = timedelta(days=1), timedelta(days=365)
GOOD = Calibration(TODAY - timedelta(days=65), TODAY + timedelta(days=300), "C-1")
OVER = Calibration(TODAY - A_YEAR - A_DAY, TODAY - A_DAY, "C-0")
SOON = Calibration(TODAY - A_YEAR + 60 * A_DAY, TODAY + 60 * A_DAY)
LAST_DAY = Calibration(TODAY - A_YEAR, TODAY)
AHEAD = Calibration(TODAY + A_DAY, TODAY + A_YEAR)
PROBE = Instrument(1, "T-1", specification="type T", standard_uncertainty_k=0.25, calibrations=(OVER, GOOD))
INSTRUMENTS = (
    PROBE,
    Instrument(2, "T-2", calibrations=(OVER,)),
    Instrument(3, "P-3", InstrumentKind.PRESSURE_GAUGE),
    Instrument(4, "T-4", calibrations=(SOON,)),
    Instrument(5, "T-5", calibrations=(LAST_DAY,)),
    Instrument(6, "T-6", calibrations=(AHEAD,)),
    Instrument(7, "T-7", calibrations=(SOON, AHEAD)),
)

MODE = QAbstractItemModelTester.FailureReportingMode.Warning


@pytest.fixture
def view(qtbot: QtBot) -> InstrumentsView:
    made = InstrumentsView(lambda: TODAY)
    qtbot.addWidget(made)
    made.tell(INSTRUMENTS)
    return made


def cells(view: InstrumentsView, column: int, role: int = 0) -> list[str]:
    model = view.listing.model()
    return [model.index(row, column).data(role) for row in range(model.rowCount())]


def test_that_each_state_has_its_word_and_shape(view: InstrumentsView) -> None:
    tester = QAbstractItemModelTester(view.listing.table, MODE)
    assert tester.model() is view.listing.table
    words = ["in calibration", "out of date", "none on record", "ends in 60 days", "ends today"]
    assert cells(view, 1) == [*words, "not begun", "in calibration"]
    marks = [Mark.TICK, Mark.WEDGE, Mark.RING, Mark.OPEN_WEDGE, Mark.OPEN_WEDGE, Mark.HALF, Mark.TICK]
    assert cells(view, 1, Role.MARK) == marks


def test_that_what_doesn_t_hold_sorts_first(view: InstrumentsView) -> None:
    view.listing.sortByColumn(1, view.listing.horizontalHeader().sortIndicatorOrder())
    assert cells(view, 1)[:3] == ["out of date", "none on record", "not begun"]


def test_that_the_calibration_in_force_is_shown_else_the_latest(view: InstrumentsView) -> None:
    assert cells(view, 6)[:3] == ["21 Sep 2027", "24 Nov 2026", "–"]
    assert cells(view, 7)[:3] == ["C-1", "C-0", "–"]
    assert cells(view, 4)[:2] == ["0.25", "–"]
    assert calibration_shown(INSTRUMENTS[6], TODAY) == SOON
    assert calibration_shown(INSTRUMENTS[2], TODAY) is None


@pytest.mark.parametrize(("wanted", "shown"), [(0, 7), (1, 3), (2, 2)])
def test_that_lines_are_chosen(view: InstrumentsView, wanted: int, shown: int) -> None:
    view.wanted.setCurrentIndex(wanted)
    assert len(cells(view, 0)) == shown


def test_that_words_find_a_certificate_and_all_calibrations_are_told(view: InstrumentsView) -> None:
    view.words.setText("c-0")
    assert cells(view, 0) == ["T-1", "T-2"]
    view.listing.choose(1)
    assert view.detail.text() == (
        "Calibrations of T-1: 21 Sep 2026 to 21 Sep 2027 (C-1), 24 Nov 2025 to 24 Nov 2026 (C-0)."
    )
    view.listing.choose(2)
    assert "doesn't count as a test until a person responsible" in view.detail.text()
    view.words.clear()
    view.listing.choose(3)
    assert "none on record" in view.detail.text()


def test_that_an_instrument_and_a_calibration_are_asked_for(view: InstrumentsView, qtbot: QtBot) -> None:
    with qtbot.waitSignal(view.add_asked):
        view.add.click()
    with qtbot.waitSignal(view.calibration_asked) as asked:
        view.calibrate.click()
    assert asked.args == [PROBE]
    view.tell(())
    assert "Add the first one." in view.counted.text()
    assert not view.calibrate.isEnabled()
    assert view.minimumSizeHint().width() <= 958


@pytest.fixture
def adding(qtbot: QtBot) -> AddInstrumentDialog:
    dialog = AddInstrumentDialog(TODAY, ["T-1"], None)
    qtbot.addWidget(dialog)
    dialog.show_modal()
    return dialog


def test_that_an_instrument_is_given_with_its_calibration(adding: AddInstrumentDialog, qtbot: QtBot) -> None:
    assert not adding.act.isEnabled()
    QTest.keyClicks(adding.reference, "T-9")
    QTest.keyClicks(adding.specification, "type T")
    QTest.keyClicks(adding.uncertainty, "0,2")
    QTest.keyClicks(adding.certificate, "C-9")
    with qtbot.waitSignal(adding.given) as given:
        adding.act.click()
    calibration = Calibration(TODAY, TODAY + A_YEAR, "C-9")
    assert given.args == ["T-9", InstrumentKind.IMMERSION_PROBE, "type T", 0.2, calibration]


def test_that_an_instrument_may_have_no_certificate(adding: AddInstrumentDialog, qtbot: QtBot) -> None:
    QTest.keyClicks(adding.reference, "V-1")
    adding.kind.setCurrentIndex(adding.kind.findData(InstrumentKind.MEASURING_VESSEL))
    adding.due_on.setDate(QDate(2020, 1, 1))
    assert not adding.act.isEnabled()
    adding.calibrated.setChecked(False)
    assert not adding.certificate.isEnabled()
    with qtbot.waitSignal(adding.given) as given:
        adding.act.click()
    assert given.args == ["V-1", InstrumentKind.MEASURING_VESSEL, "", None, None]


@pytest.mark.parametrize(
    ("reference", "uncertainty", "said"),
    [("t 1", "", "in the register already"), ("T-9", "x", "no number"), ("T-9", "-1", "no number")],
)
def test_that_what_can_t_be_taken_is_said_at_once(
    adding: AddInstrumentDialog, reference: str, uncertainty: str, said: str
) -> None:
    QTest.keyClicks(adding.reference, reference)
    QTest.keyClicks(adding.uncertainty, uncertainty)
    assert said in adding.wrong.text()
    assert adding.wrong.isVisible()
    assert not adding.act.isEnabled()


def test_that_a_calibration_can_t_end_before_it_begins(qtbot: QtBot) -> None:
    dialog = CalibrationDialog(PROBE, TODAY, None)
    qtbot.addWidget(dialog)
    dialog.due_on.setDate(QDate(2026, 1, 1))
    assert not dialog.act.isEnabled()
    assert "due again before" in dialog.wrong.text()
    dialog.due_on.setDate(QDate(2027, 6, 1))
    QTest.keyClicks(dialog.certificate, "C-2")
    with qtbot.waitSignal(dialog.given) as given:
        dialog.act.click()
    assert given.args == [Calibration(TODAY, TODAY.replace(2027, 6, 1), "C-2")]
    bare = CalibrationDialog(INSTRUMENTS[2], TODAY, None)
    qtbot.addWidget(bare)
    assert not bare.act.isEnabled()  # Enter alone would put a calibration on record

"""How many steps a day's work takes at the window, counted as a person makes them: keys, clicks, drops."""

from dataclasses import dataclass
from pathlib import Path

from pypdf import PdfReader
from PySide6.QtCore import QMimeData, QPoint, QPointF, Qt, QUrl
from PySide6.QtGui import QDragEnterEvent, QDropEvent, QImage
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QWidget

from estate.domain.due import DueLine
from estate.domain.findings import Verdict
from estate.sample import contractors_round
from estate.window.dialogs.bring_in import BringInDialog
from estate.window.dialogs.preview_report import PreviewDialog
from estate.window.dialogs.record_visit import RecordVisitDialog
from estate.window.dialogs.source_sheet import SourceSheetDialog
from estate.window.models.paper import Paper
from estate.window.pictures import settle
from tests.window.builders import TODAY
from tests.window.conftest import Seat, bare, seat, small_estate  # noqa: F401 - fixtures, found by name

CTRL, NONE = Qt.KeyboardModifier.ControlModifier, Qt.KeyboardModifier.NoModifier
LEFT = Qt.MouseButton.LeftButton
A_KEY_S = 1.5
"""Seconds that a slow typist takes for one key, with a look at the sheet: forty make a minute."""


@dataclass
class Steps:
    """Counts what a person does; a shortcut, a click or a drop is one step, a typed word as many keys.

    Attributes:
        steps: shortcuts, clicks, drops and words.
        keys: every key pressed.
    """

    steps: int = 0
    keys: int = 0

    def press(self, key: Qt.Key, held: Qt.KeyboardModifier = NONE) -> None:
        """Press one key, or a shortcut, wherever the keys go now."""
        QTest.keyClick(_focused(), key, held)
        self.steps, self.keys = self.steps + 1, self.keys + 1
        settle()

    def write(self, words: str) -> None:
        """Type words where the keys go now."""
        QTest.keyClicks(_focused(), words)
        self.steps, self.keys = self.steps + 1, self.keys + len(words)
        settle()

    def click(self, widget: QWidget, at: QPoint | None = None) -> None:
        """Click on something."""
        QTest.mouseClick(widget, LEFT, NONE, widget.rect().center() if at is None else at)
        self.steps += 1
        settle()

    def drop(self, onto: QWidget, file: Path) -> None:
        """Drag a file from the desktop onto a window."""
        data = QMimeData()
        data.setUrls([QUrl.fromLocalFile(str(file))])
        copy = Qt.DropAction.CopyAction
        entered = QDragEnterEvent(QPoint(30, 30), copy, data, LEFT, NONE)
        QApplication.sendEvent(onto, entered)
        assert entered.isAccepted()
        QApplication.sendEvent(onto, QDropEvent(QPointF(30, 30), copy, data, LEFT, NONE))
        self.steps += 1
        settle()


def _focused() -> QWidget:
    found = QApplication.focusWidget()
    assert found is not None
    return found


def _lines(at: Seat) -> tuple[DueLine, ...]:
    assert at.window.showing.reading is not None
    return at.window.showing.reading.lines


def test_that_the_officer_has_the_overdue_list_on_paper_in_three_steps_from_start(
    seat: Seat, tmp_path: Path
) -> None:
    late = [each.ref for each in _lines(seat) if each.overdue]
    seat.window.setFocus()
    seat.answers.to_write = tmp_path / "paper.pdf"
    does = Steps()
    does.press(Qt.Key.Key_P, CTRL)  # the list as it comes on paper
    preview = seat.dialog()
    assert isinstance(preview, PreviewDialog)
    shown = preview.paper
    said = " ".join(shown.words(each.number) for each in shown.sheets)
    assert late
    assert all(ref in said for ref in late)
    as_shown = _coarse(shown)
    does.press(Qt.Key.Key_Return)  # print; the platform's own dialog takes one more Enter
    assert does.steps + 1 == 3
    assert seat.dialogs() == []
    assert len(PdfReader(tmp_path / "paper.pdf").pages) == len(shown.sheets)
    paper = Paper((tmp_path / "paper.pdf").read_bytes())
    printed = _coarse(paper)
    paper.close()
    assert _apart(printed, as_shown) < 4
    assert _apart(printed, _blank(printed)) > 20
    assert "sent to the printer" in seat.window.statusBar().currentMessage()


def _coarse(paper: Paper) -> QImage:
    """The first page, so small that what is drawn twice looks as what is drawn once."""
    how = (Qt.AspectRatioMode.IgnoreAspectRatio, Qt.TransformationMode.SmoothTransformation)
    return paper.drawn(0, 96).scaled(70, 50, *how)


def _apart(one: QImage, other: QImage) -> float:
    """How far two pictures are apart where one bears ink: mean of greys, 0 to 255."""
    greys = [
        (one.pixelColor(x, y).lightness(), other.pixelColor(x, y).lightness())
        for x in range(one.width())
        for y in range(one.height())
    ]
    inked = [abs(first - second) for first, second in greys if min(first, second) < 250]
    return sum(inked) / max(1, len(inked))


def _blank(like: QImage) -> QImage:
    made = QImage(like.size(), QImage.Format.Format_RGB32)
    made.fill(Qt.GlobalColor.white)
    return made


def test_that_the_engineer_records_a_visit_in_under_a_minute_of_keys(seat: Seat) -> None:
    line = next(each for each in _lines(seat) if each.last_visit and not each.also_serves)
    seat.window.showing.show_outlet(line.outlet_id)
    settle()
    before = seat.window.showing.outlet
    assert before is not None
    seat.window.setFocus()
    does = Steps()
    does.press(Qt.Key.Key_R, CTRL)
    dialog = seat.dialog()
    assert isinstance(dialog, RecordVisitDialog)
    for typed in ("60.2", "12.5", "", "", "", "", "41.2"):  # hot, cold, no pressures, mixed as found
        if typed:
            does.write(typed)
        does.press(Qt.Key.Key_Return)
    for typed in ("", "", "", "1.4", "0"):  # no flow, no smaller draw-off; shut after, still flowing
        if typed:
            does.write(typed)
        does.press(Qt.Key.Key_Return)
    for _ in range(3):
        does.press(Qt.Key.Key_Tab)  # past the vessel and the temperature of what does not flow
    does.write("41.9")
    does.press(Qt.Key.Key_Return, CTRL)
    does.press(Qt.Key.Key_Return)
    assert seat.dialogs() == []
    after = seat.window.showing.outlet
    assert after is not None
    assert len(after.history) == len(before.history) + 1
    readings = after.history[0].visit.readings
    assert (readings.hot_c, readings.cold_c, readings.found_c) == (60.2, 12.5, 41.2)
    assert (readings.cold_isolated.shut_s, readings.cold_isolated.max_c) == (1.4, 41.9)
    assert does.keys == 38
    assert does.keys * A_KEY_S < 60


def test_that_the_contractor_drops_a_sheet_and_takes_its_batch_in_two_steps(
    seat: Seat, tmp_path: Path
) -> None:
    sheet = tmp_path / "round.csv"
    sheet.write_bytes(contractors_round(_lines(seat), TODAY))
    overdue = sum(each.overdue for each in _lines(seat))
    does = Steps()
    does.drop(seat.window, sheet)
    dialog = seat.dialog()
    assert isinstance(dialog, BringInDialog)
    does.click(dialog.take)
    assert "taken as one batch" in dialog.done_words.text()
    assert does.steps == 2
    dialog.reject()
    settle()
    assert sum(each.overdue for each in _lines(seat)) < overdue


def test_that_the_auditor_goes_from_a_finding_to_its_row_in_the_sheet_and_to_its_trail(seat: Seat) -> None:
    line = next(each for each in _lines(seat) if each.verdict is Verdict.SATISFACTORY)
    seat.window.setFocus()
    does = Steps()
    does.press(Qt.Key.Key_F, CTRL)
    does.write(line.ref)  # as it stands on the paper
    does.press(Qt.Key.Key_Return)
    page, outlet = seat.window.showing.outlet, seat.window.pages.outlet
    assert page is not None
    assert page.outlet.reference == line.ref
    does.press(Qt.Key.Key_H, CTRL)
    place = next(row for row, each in enumerate(page.history) if each.visit.batch_id is not None)
    entry = page.history[place].visit
    while outlet.history.current_key() != entry.id:
        does.press(Qt.Key.Key_Down)
    source = entry.draft.source
    assert source is not None
    does.click(outlet.past.sheet_button)
    sheet = seat.dialog()
    assert isinstance(sheet, SourceSheetDialog)
    assert sheet.found
    row = sheet.picture.cells.selectionModel().selectedRows()[0].row()
    assert row == source.row - 1
    shown = {
        str(sheet.picture.model.index(row, column).data())
        for column in range(sheet.picture.model.columnCount())
    }
    assert {cell for _, cell in source.cells if cell} <= shown
    does.click(sheet.to_batch)
    assert seat.window.pages.batches.chosen == entry.batch_id
    seat.window.showing.show_outlet(line.outlet_id)
    settle()
    outlet.history.selectRow(place)
    does.click(outlet.past.trail_button)
    assert seat.window.showing.stack.currentWidget() is seat.window.pages.trail
    assert {each.noun for each in seat.window.pages.trail.listing.table.rows} >= {"visit", "judgement"}
    assert does.steps <= 9

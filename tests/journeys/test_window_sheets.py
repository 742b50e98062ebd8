"""The officer brings in a contractor's sheet, answers its questions, finishes it later and undoes it."""

from pathlib import Path

from openpyxl import load_workbook
from PySide6.QtCore import Qt
from PySide6.QtTest import QTest

from estate.domain.questions import Choice
from estate.sample import contractors_round
from estate.window.desk import Desk
from estate.window.dialogs.bring_in import BringInDialog
from estate.window.dialogs.entry import WordsDialog
from estate.window.pictures import settle
from tests.window.builders import TODAY
from tests.window.conftest import Seat, bare, seat, small_estate  # noqa: F401 - fixtures, found by name

CTRL = Qt.KeyboardModifier.ControlModifier


def desk_of(seat: Seat) -> Desk:
    desk = seat.window.showing.desk
    assert desk is not None
    return desk


def begun(seat: Seat, tmp_path: Path) -> BringInDialog:
    """A contractor's round being looked at."""
    sheet = tmp_path / "round.csv"
    sheet.write_bytes(contractors_round(desk_of(seat).due_lines(), TODAY))
    seat.answers.to_open = sheet
    QTest.keyClick(seat.window, Qt.Key.Key_B, CTRL)
    dialog = seat.dialog()
    assert isinstance(dialog, BringInDialog)
    dialog.choose_button.click()
    settle()
    return dialog


def choose(dialog: BringInDialog, code: str) -> None:
    shown = [each.code for each in dialog.preview.questions.ordered.shown()]
    dialog.preview.questions.selectRow(shown.index(code))
    settle()


def test_that_a_question_is_answered_beside_the_sheet_and_the_row_is_taken(
    seat: Seat, tmp_path: Path
) -> None:
    dialog = begun(seat, tmp_path)
    rows = len(dialog.preview.visits.table.rows)
    assert dialog.again.isHidden()
    choose(dialog, "unknown-outlet")
    index = dialog.preview.picture.cells.currentIndex()
    panel = dialog.preview.panel
    assert panel.question is not None
    assert dialog.preview.picture.model.data(index) == panel.question.found
    panel.group.buttons()[0].click()
    assert panel.value.currentText()
    QTest.mouseClick(panel.answer, Qt.MouseButton.LeftButton)
    assert not dialog.take.isEnabled()
    assert dialog.again.text() == "Read again with 1 answer"
    QTest.mouseClick(dialog.again, Qt.MouseButton.LeftButton)
    settle()
    assert "unknown-outlet" not in {each.code for each in dialog.preview.questions.table.rows}
    assert dialog.take.isEnabled()
    assert len(dialog.preview.visits.table.rows) >= rows
    assert dialog.preview.effects.table.rows
    dialog.remembering.keep.setChecked(True)
    QTest.keyClicks(dialog.remembering.name, "Monthly round")
    QTest.mouseClick(dialog.take, Qt.MouseButton.LeftButton)
    settle()
    dialog.reject()
    newest = desk_of(seat).batches()[-1]
    answers = desk_of(seat).batch_page(newest.id).answers
    assert [each.choice for each in answers] == [Choice.OUTLET]


def test_that_a_batch_is_finished_later_and_undone_whole(seat: Seat, tmp_path: Path) -> None:
    dialog = begun(seat, tmp_path)
    QTest.mouseClick(dialog.take, Qt.MouseButton.LeftButton)
    settle()
    dialog.reject()
    seat.window.actions_["batches"].trigger()
    settle()
    page = seat.window.pages.batches
    number = page.chosen
    assert number is not None
    assert "SHA-256" in page.said.text()
    assert page.questions.table.rows
    page.finish.click()
    finishing = seat.dialog()
    assert isinstance(finishing, BringInDialog)
    settle()
    assert finishing.other.isHidden()
    assert not finishing.take.isEnabled()
    choose(finishing, "unknown-outlet")
    finishing.preview.panel.group.buttons()[0].click()
    finishing.preview.panel.answer.click()
    finishing.again.click()
    settle()
    assert finishing.take.text() == "Take 1 row"
    finishing.take.click()
    settle()
    finishing.reject()
    settle()
    follow_up = desk_of(seat).batches()[-1]
    assert follow_up.follows == number
    assert page.listing.choose(number)
    settle()
    assert not page.undo.isEnabled()
    assert "Can't be undone" in page.resting.text()
    for batch in (follow_up.id, number):
        assert page.listing.choose(batch)
        settle()
        page.undo.click()
        asking = seat.dialog()
        assert isinstance(asking, WordsDialog)
        QTest.keyClicks(asking.line, "the wrong month")
        asking.act.click()
        settle()
    undone = [each.undone for each in desk_of(seat).batches()[-2:]]
    assert all(each is not None and each.why == "the wrong month" for each in undone)
    assert not page.undo.isEnabled()


def test_that_a_column_is_read_as_the_person_says(seat: Seat, tmp_path: Path) -> None:
    dialog = begun(seat, tmp_path)
    columns = dialog.preview.columns
    line = next(each for each in columns.lines if each[0].field == "cold_c")
    line[1].setCurrentIndex(line[1].findData(""))
    columns.again.click()
    settle()
    assert dialog.preview.visits.table.rows
    assert all(row.draft.readings.cold_c is None for row in dialog.preview.visits.table.rows)


def test_that_the_questions_and_a_round_sheet_are_written_and_opened(seat: Seat, tmp_path: Path) -> None:
    dialog = begun(seat, tmp_path)
    seat.answers.to_write = tmp_path / "questions.xlsx"
    QTest.mouseClick(dialog.marked, Qt.MouseButton.LeftButton)
    settle()
    dialog.reject()
    seat.answers.to_write = tmp_path / "round.xlsx"
    seat.window.actions_["round-sheet"].trigger()
    settle()
    assert seat.answers.shown == [tmp_path / "questions.xlsx", tmp_path / "round.xlsx"]
    for path in seat.answers.shown:
        assert load_workbook(path).sheetnames
    seat.answers.to_open = tmp_path / "round.xlsx"
    seat.window.actions_["bring-in"].trigger()
    again = seat.dialog()
    assert isinstance(again, BringInDialog)
    again.choose_button.click()
    settle()
    assert not again.preview.questions.table.rows


def test_that_the_file_of_a_batch_is_saved_as_it_came(seat: Seat, tmp_path: Path) -> None:
    dialog = begun(seat, tmp_path)
    dialog.take.click()
    settle()
    dialog.reject()
    seat.window.actions_["batches"].trigger()
    settle()
    seat.answers.to_write = tmp_path / "as it came.csv"
    seat.window.pages.batches.file.click()
    settle()
    assert (tmp_path / "as it came.csv").read_bytes() == (tmp_path / "round.csv").read_bytes()

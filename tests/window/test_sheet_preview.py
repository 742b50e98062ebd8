"""A sheet before it is taken: as it is, its questions and answers, and its columns."""

from datetime import UTC, datetime

from PySide6.QtCore import Qt
from PySide6.QtTest import QAbstractItemModelTester, QTest
from pytestqt.qtbot import QtBot

from estate.domain.layouts import FieldOffer, Form, Layout, SheetKind, ShownSheet, TableColumn, TableMap
from estate.domain.questions import Choice, Question
from estate.domain.register import Batch, BatchUndo
from estate.window.models.answering import Answering
from estate.window.models.field_words import LEFT_OUT, field_words, unit_words
from estate.window.models.shown_sheet import ShownSheetModel
from estate.window.pages.batches_page import BatchesView
from estate.window.widgets.answer_panel import AnswerPanel
from estate.window.widgets.columns_panel import ColumnsPanel
from estate.window.widgets.remembering import Remembering
from estate.window.widgets.sheet_picture import SheetPicture

SHEET = ShownSheet("Round", (("Ref", "Date", "Found"), ("A/1", "12/10/2026", "41,3"), ("A/2", "", "?")))
NOTES = ShownSheet("Notes", (("by hand",),), hidden=True)
TABLE = TableMap(
    "Round",
    Form.ROWS,
    (1,),
    2,
    3,
    (
        TableColumn(0, "Ref", "reference", "", "words"),
        TableColumn(1, "Date", "on", "", "values"),
        TableColumn(2, "Found"),
    ),
)
OFFERS = (FieldOffer("reference"), FieldOffer("on"), FieldOffer("found_c", ("celsius", "fahrenheit")))


def question(
    row: int = 3, code: str = "unknown-outlet", cell: str = "A3", suggested: tuple[str, ...] = ()
) -> Question:
    return Question("Round", row, cell, code, None, "A/2", "Choose one.", suggested)


def test_that_the_sheet_is_shown_as_it_is_with_the_asked_cell_on_a_ground(qtbot: QtBot) -> None:
    picture = SheetPicture()
    qtbot.addWidget(picture)
    picture.tell((NOTES, SHEET), (TABLE,), (question(),))
    QAbstractItemModelTester(picture.model, QAbstractItemModelTester.FailureReportingMode.Warning)
    assert picture.model.sheet is SHEET
    assert picture.model.index(1, 2).data() == "41,3"
    assert picture.model.index(2, 0).data(Qt.ItemDataRole.ToolTipRole) == "Choose one."
    assert picture.model.index(2, 0).data(Qt.ItemDataRole.BackgroundRole) is not None
    assert picture.model.index(1, 0).data(Qt.ItemDataRole.BackgroundRole) is None
    assert picture.model.index(0, 0).data(Qt.ItemDataRole.FontRole).bold()
    assert picture.model.headerData(2, Qt.Orientation.Horizontal, Qt.ItemDataRole.DisplayRole) == "C"
    assert picture.model.headerData(2, Qt.Orientation.Vertical, Qt.ItemDataRole.DisplayRole) == "3"


def test_that_a_question_leads_to_its_cell_and_a_row_to_its_row(qtbot: QtBot) -> None:
    picture = SheetPicture()
    qtbot.addWidget(picture)
    picture.tell((NOTES, SHEET), (TABLE,), ())
    assert picture.go_to("Round", 3, "C3")
    assert (picture.cells.currentIndex().row(), picture.cells.currentIndex().column()) == (2, 2)
    assert picture.go_to("Round", 2)
    assert {index.row() for index in picture.cells.selectedIndexes()} == {1}
    assert not picture.go_to("Round", 99)
    assert not picture.go_to("Another", 1)
    assert picture.sheets.count() == 2
    assert "hidden" in picture.sheets.itemText(0)


def test_that_an_empty_model_of_a_sheet_holds(qtbot: QtBot) -> None:
    model = ShownSheetModel()
    QAbstractItemModelTester(model, QAbstractItemModelTester.FailureReportingMode.Warning)
    assert (model.rowCount(), model.columnCount()) == (0, 0)


def test_that_answers_wait_until_the_sheet_was_read_with_them() -> None:
    answering = Answering()
    first, second = question(2, cell="A2"), question()
    answering.ask((first, second))
    assert answering.alike(first) == 2
    answering.give(first, Choice.OUTLET, "A/1")
    answering.give(second, Choice.LEAVE_OUT, to_all=True)
    assert answering.waiting == 2
    met = [answering.answer_to(each) for each in (first, second)]
    assert [each.choice for each in met if each] == [Choice.OUTLET, Choice.LEAVE_OUT]
    assert answering.take_back(first)
    assert answering.answer_to(first) == answering.answer_to(second)
    answering.ask(())
    assert answering.waiting == 0
    assert not answering.take_back(first)
    answering.forget()
    assert answering.given == ()


def test_that_a_choice_that_needs_a_value_waits_for_it(qtbot: QtBot) -> None:
    panel = AnswerPanel()
    qtbot.addWidget(panel)
    given: list[tuple[object, ...]] = []
    panel.answered.connect(lambda *said: given.append(said))
    asked = question(suggested=("MM/1", "MM/2"))
    panel.ask(asked, None, 3)
    assert not panel.answer.isEnabled()
    outlet, leave = panel.group.buttons()
    outlet.click()
    assert panel.value.currentText() == "MM/1"
    panel.value.setEditText("")
    assert not panel.answer.isEnabled()
    panel.value.setCurrentIndex(1)
    QTest.mouseClick(panel.answer, Qt.MouseButton.LeftButton)
    leave.click()
    panel.alike.setChecked(True)
    panel.answer.click()
    assert given == [(asked, Choice.OUTLET, "MM/2", False), (asked, Choice.LEAVE_OUT, "", True)]


def test_that_a_question_that_only_says_something_has_nothing_to_answer(qtbot: QtBot) -> None:
    panel = AnswerPanel()
    qtbot.addWidget(panel)
    panel.ask(question(code="no-access"), None, 1)
    assert panel.answer.isHidden()
    assert panel.choice is None
    panel.ask(None, None, 0)
    assert "Choose a question" in panel.where.text()


def test_that_an_answer_can_be_taken_back(qtbot: QtBot) -> None:
    panel = AnswerPanel()
    qtbot.addWidget(panel)
    back: list[Question] = []
    panel.taken_back.connect(back.append)
    answering = Answering()
    asked = question()
    panel.ask(asked, answering.give(asked, Choice.OUTLET, "MM/9"), 1)
    assert "MM/9" in panel.given.text()
    assert panel.choice is Choice.OUTLET
    panel.back.click()
    assert back == [asked]


def test_that_changing_a_column_gives_the_layout_to_read_with(qtbot: QtBot) -> None:
    panel = ColumnsPanel()
    qtbot.addWidget(panel)
    asked: list[Layout] = []
    panel.changed.connect(asked.append)
    panel.tell(SheetKind.VISITS, (TABLE,), OFFERS, "Round of Acme")
    assert not panel.again.isEnabled()
    column, field, unit = panel.lines[2]
    assert (column.heading, field.currentText()) == ("Found", LEFT_OUT)
    assert not unit.isEnabled()
    field.setCurrentIndex(field.findData("found_c"))
    unit.setCurrentIndex(unit.findData("fahrenheit"))
    panel.again.click()
    (layout,) = asked
    assert [(each.heading, each.field, each.unit) for each in layout.columns] == [
        ("Ref", "reference", ""),
        ("Date", "on", ""),
        ("Found", "found_c", "fahrenheit"),
    ]
    assert "Round of Acme" in panel.said.text()


def test_that_fields_and_units_are_told_in_words() -> None:
    assert field_words("") == LEFT_OUT
    assert field_words("cold_isolated.residual_ml_min") == "cold isolated: flow still passing, ml/min"
    assert field_words("hot_isolated.said_to_shut") == "hot isolated: said to shut"
    assert field_words("remarks") == "remarks"
    assert (unit_words("fahrenheit"), unit_words("bar")) == ("°F", "bar")


def test_that_a_layout_is_remembered_only_by_a_name(qtbot: QtBot) -> None:
    remembering = Remembering()
    qtbot.addWidget(remembering)
    assert not remembering.name.isEnabled()
    assert remembering.said == ("", "")
    remembering.keep.setChecked(True)
    assert remembering.said == ("", "")
    remembering.tell("Round of Acme")
    remembering.sent_by.setText(" Acme ")
    assert remembering.said == ("Round of Acme", "Acme")


def batch(number: int, undone: BatchUndo | None = None) -> Batch:
    at = datetime(2026, 11, 25, 9, tzinfo=UTC)
    digest = "ab" * 32
    return Batch(number, SheetKind.VISITS, "round.xlsx", digest, 12, 10, 1, 1, "A. Clerk", at, undone=undone)


def test_that_a_batch_can_be_undone_once_and_finished_while_it_counts(qtbot: QtBot) -> None:
    view = BatchesView()
    qtbot.addWidget(view)
    undone = batch(2, undone=BatchUndo("A. Clerk", datetime(2026, 11, 25, 10, tzinfo=UTC), "wrong site"))
    view.tell((batch(1), undone))
    asked: list[Batch] = []
    view.undo_asked.connect(asked.append)
    assert view.chosen == 2
    assert not view.undo.isEnabled()
    assert not view.finish.isEnabled()
    assert view.file.isEnabled()
    assert view.listing.choose(1)
    assert view.finish.isEnabled()
    view.undo.click()
    assert asked == [batch(1)]
    view.tell(())
    assert view.chosen is None
    assert not view.file.isEnabled()

"""Tables: what they show, how they sort, and that Qt finds no fault with them."""

from dataclasses import replace
from datetime import timedelta

import pytest
from PySide6.QtCore import QAbstractItemModel, Qt
from PySide6.QtTest import QAbstractItemModelTester
from pytestqt.qtbot import QtBot

from estate.domain.due import DueLine
from estate.domain.findings import Verdict
from estate.domain.instruments import Instrument
from estate.domain.standing import OutletState
from estate.domain.visits import Readings, Standing
from estate.window.marks import Mark
from estate.window.models.due_rows import COLUMNS, LATE, DueModel, Wanted, wanting
from estate.window.models.history_rows import HistoryModel
from estate.window.models.ordering import Ordered
from estate.window.models.outlet_rows import OutletsModel, outlets_below
from estate.window.models.rule_rows import RulesModel
from estate.window.models.table import TableModel
from estate.window.roles import Role
from tests.builders import healthcare
from tests.window import builders
from tests.window.builders import TODAY, due_line, history_line, tree

FATAL = QAbstractItemModelTester.FailureReportingMode.Warning


def watched(model: QAbstractItemModel) -> QAbstractItemModelTester:
    return QAbstractItemModelTester(model, FATAL)


def column(model: TableModel[DueLine], title: str) -> int:
    return next(place for place, each in enumerate(model.columns) if each.title == title)


def texts(model: QAbstractItemModel, place: int) -> list[str]:
    return [model.index(row, place).data() for row in range(model.rowCount())]


def test_that_the_due_list_is_a_sound_model(qtbot: QtBot) -> None:
    model = DueModel()
    ordered = Ordered(model)
    held = [watched(model), watched(ordered)]
    for lines in ((due_line(1), due_line(2)), (), (due_line(3, verdict=None, last_visit=None),)):
        model.fill(lines)
        assert ordered.rowCount() == len(lines)
    ordered.want(lambda line: False)
    assert ordered.rowCount() == 0
    assert len(held) == 2


def test_that_history_outlets_and_rules_are_sound_models(qtbot: QtBot) -> None:
    history, outlets, rules = HistoryModel(), OutletsModel(), RulesModel()
    held = [watched(history), watched(outlets), watched(rules)]
    history.fill(builders.page().history)
    outlets.fill(outlets_below(tree()[0], [due_line(1)]))
    rules.fill(healthcare().values.values())
    assert (history.rowCount(), outlets.rowCount()) == (3, 3)
    assert rules.rowCount() == len(healthcare().values)
    assert len(held) == 3


def test_that_dates_and_numbers_sort_by_value_and_not_by_their_words(qtbot: QtBot) -> None:
    model = DueModel()
    model.fill([due_line(1, after=-9), due_line(2, after=-100), due_line(3, after=-10)])
    ordered = Ordered(model)
    ordered.sort(LATE, Qt.SortOrder.DescendingOrder)
    assert texts(ordered, LATE) == ["100", "10", "9"]
    ordered.sort(column(model, "Test by"), Qt.SortOrder.AscendingOrder)
    assert texts(ordered, LATE) == ["100", "10", "9"]


def test_that_the_worst_state_sorts_first(qtbot: QtBot) -> None:
    model = DueModel()
    model.fill([due_line(1), due_line(2, verdict=Verdict.OUT_OF_USE), due_line(3, verdict=None)])
    ordered = Ordered(model)
    ordered.sort(0, Qt.SortOrder.AscendingOrder)
    assert texts(ordered, 0) == ["take out of use", "overdue", "never tested"]


def test_that_a_value_that_is_missing_sorts_last_among_numbers(qtbot: QtBot) -> None:
    model = HistoryModel()
    none = history_line(2)
    bare = builders.visit(2, draft=replace(none.visit.draft, readings=Readings()))
    model.fill([replace(none, visit=bare), history_line(1)])
    ordered = Ordered(model)
    ordered.sort(3, Qt.SortOrder.AscendingOrder)
    assert texts(ordered, 3) == ["60.2", "–"]


def test_that_a_row_that_does_not_count_is_struck_and_says_why(qtbot: QtBot) -> None:
    model = HistoryModel()
    model.fill(
        [
            history_line(1),
            history_line(2, standing=Standing.VOID, void_reason="wrong outlet"),
            history_line(3, standing=Standing.CORRECTED),
        ]
    )
    assert [model.index(row, 0).data(Role.STRUCK) for row in range(3)] == [False, True, True]
    assert model.index(0, 0).data(Qt.ItemDataRole.FontRole) is None
    assert model.index(1, 0).data(Qt.ItemDataRole.FontRole).strikeOut()
    assert texts(model, 2) == ["satisfactory", "void", "corrected"]
    assert "wrong outlet" in model.index(1, 2).data(Qt.ItemDataRole.ToolTipRole)


def test_that_the_history_names_instrument_and_source(qtbot: QtBot) -> None:
    model = HistoryModel((Instrument(7, "T-101"),))
    model.fill([history_line(1)])
    shown = [model.index(0, place).data() for place in range(model.columnCount())]
    assert "T-101" in shown
    assert "round.xlsx, Main, row 12" in shown
    tip = model.index(0, model.columnCount() - 1).data(Qt.ItemDataRole.ToolTipRole)
    assert "A. Officer" in tip
    assert "Hot: 60,2" in tip


def test_that_numbers_stand_to_the_right_with_units_in_the_heading(qtbot: QtBot) -> None:
    model = HistoryModel()
    model.fill([history_line(1)])
    heading = model.headerData(3, Qt.Orientation.Horizontal, Qt.ItemDataRole.DisplayRole)
    assert heading == "Hot\n°C"
    for where in (model.index(0, 3).data(Qt.ItemDataRole.TextAlignmentRole),):
        assert where & Qt.AlignmentFlag.AlignRight


@pytest.mark.parametrize(
    ("which", "weeks", "text", "found"),
    [
        (Wanted.OVERDUE, 8, "", [1]),
        (Wanted.WITHIN, 8, "", [1, 2]),
        (Wanted.WITHIN, 2, "", [1]),
        (Wanted.ALL, 8, "", [1, 2, 3]),
        (Wanted.ALL, 8, "g03", [3]),
        (Wanted.ALL, 8, "main basin g02", [2]),
        (Wanted.OVERDUE, 8, "g03", []),
    ],
)
def test_that_the_due_list_shows_what_is_wanted(
    which: Wanted, weeks: int, text: str, found: list[int]
) -> None:
    lines = [due_line(1), due_line(2, 10, 30), due_line(3, 100, 130)]
    wanted = wanting(which, weeks, TODAY, text)
    assert [line.outlet_id for line in lines if wanted(line)] == found


def test_that_due_within_counts_its_last_day() -> None:
    line = due_line(1, 10, 28)
    assert wanting(Wanted.WITHIN, 4, TODAY)(line)
    assert not wanting(Wanted.WITHIN, 4, TODAY - timedelta(days=1))(line)


def test_that_a_group_valve_shows_its_date_at_each_of_its_outlets() -> None:
    line = due_line(1, also_serves=("MM/G/G02/WHB1",))
    rows = outlets_below(tree(3)[0], [line])
    assert [row.due is line for row in rows] == [True, True, False]


def test_that_each_column_of_the_due_list_has_a_heading_of_its_own() -> None:
    titles = [each.title for each in COLUMNS]
    assert len(set(titles)) == len(titles)
    assert titles[LATE] == "Late\ndays"


def test_that_a_mark_stands_beside_its_word(qtbot: QtBot) -> None:
    model = DueModel()
    model.fill([due_line(1)])
    assert model.index(0, 0).data(Role.MARK) == Mark.LOZENGE
    assert model.index(0, 0).data() == OutletState.OVERDUE.value

"""Lines as a person wants them: found by words, gathered, folded, and what was chosen stays chosen."""

import random
from dataclasses import replace

import pytest
from PySide6.QtCore import QPersistentModelIndex, Qt
from PySide6.QtTest import QAbstractItemModelTester
from pytestqt.qtbot import QtBot

from estate.domain.due import DueLine
from estate.domain.findings import Verdict
from estate.domain.places import UserGroup
from estate.window.models.due_rows import COLUMNS, DueModel
from estate.window.models.ordering import Ordered
from estate.window.models.table import TableModel
from estate.window.roles import Role
from tests.window.builders import due_line

FATAL = QAbstractItemModelTester.FailureReportingMode.Warning
STATE, OUTLET, LAST, USERS = (
    next(place for place, each in enumerate(COLUMNS) if each.key == key)
    for key in ("state", "outlet", "last-visit", "users")
)
UP, DOWN = Qt.SortOrder.AscendingOrder, Qt.SortOrder.DescendingOrder


def lines() -> list[DueLine]:
    groups = (UserGroup.PATIENTS, UserGroup.STAFF, UserGroup.PATIENTS, UserGroup.CHILDREN)
    made = [due_line(number, after=-number, user_group=group) for number, group in enumerate(groups, 1)]
    return [*made[:3], replace(made[3], verdict=None, last_visit=None)]


def ordered(count: int = 0) -> Ordered[DueLine]:
    model = DueModel()
    model.fill([due_line(number) for number in range(1, count + 1)] if count else lines())
    return Ordered(model, model)


def ids(found: Ordered[DueLine]) -> list[int]:
    return [line.outlet_id for line in found.shown()]


def seen(found: Ordered[DueLine]) -> list[str]:
    return [found.index(row, OUTLET).data() for row in range(found.rowCount())]


def test_that_every_word_typed_must_stand_in_a_line(qtbot: QtBot) -> None:
    found = ordered()
    found.seek("main G02")
    assert ids(found) == [2]
    found.seek("main nowhere")
    assert (ids(found), found.rowCount(), found.count) == ([], 0, 0)
    found.seek("")
    assert ids(found) == [1, 2, 3, 4]


def test_that_a_list_without_words_of_its_own_is_searched_in_all_its_cells(qtbot: QtBot) -> None:
    model = TableModel(COLUMNS, lambda line: line.outlet_id)
    found = Ordered(model)
    model.fill(lines())
    found.seek("never")
    assert ids(found) == [4]
    model.find_by(lambda line: line.user_group.value)
    model.prepare()
    found.seek("CHILDREN")
    assert ids(found) == [4]
    found.seek("never")
    assert ids(found) == []


def test_that_only_lines_with_values_wanted_are_shown(qtbot: QtBot) -> None:
    found = ordered()
    assert found.texts_of(USERS) == {"children": 1, "patients": 2, "staff": 1}
    found.keep_only(USERS, {"staff", "children"})
    assert (ids(found), set(found.kept_only)) == ([2, 4], {USERS})
    found.want(lambda line: line.outlet_id > 2)
    assert ids(found) == [4]
    found.keep_only(USERS, None)
    assert ids(found) == [3, 4]


def test_that_what_is_missing_stands_last_whichever_way_lines_run(qtbot: QtBot) -> None:
    found = ordered()
    for order in (UP, DOWN):
        found.sort(LAST, order)
        assert ids(found)[-1] == 4
    found.sort(OUTLET, DOWN)
    assert ids(found) == [4, 3, 2, 1]
    found.sort(-1)
    assert ids(found) == [1, 2, 3, 4]


def test_that_lines_are_gathered_under_headings_in_the_order_of_their_column(qtbot: QtBot) -> None:
    found = ordered()
    found.sort(OUTLET, DOWN)
    found.gather_by(USERS)
    assert seen(found) == [
        "children: 1",
        "MM/G/G04/WHB1",
        "patients: 2",
        "MM/G/G03/WHB1",
        "MM/G/G01/WHB1",
        "staff: 1",
        "MM/G/G02/WHB1",
    ]
    assert found.index(0, OUTLET).data(Role.KEY) is None
    assert found.line_at(found.index(0, 0)) is None
    with pytest.raises(LookupError):
        found.row_at(found.index(0, 0))
    found.sort(USERS, DOWN)
    assert [each.words for each in found.headings] == ["staff", "patients", "children"]


def test_that_a_heading_of_a_state_bears_its_shape(qtbot: QtBot) -> None:
    found = ordered()
    found._table.fill([due_line(1), due_line(2, verdict=Verdict.OUT_OF_USE)])
    found.gather_by(STATE)
    assert [(each.words, each.mark) for each in found.headings] == [
        (found._table.cell(1, STATE).text, found._table.cell(1, STATE).mark),
        (found._table.cell(0, STATE).text, found._table.cell(0, STATE).mark),
    ]


def test_that_lines_of_which_a_column_says_nothing_are_told_so_and_stand_last(qtbot: QtBot) -> None:
    found = ordered()
    found._table.fill([replace(due_line(1), rule_set=""), due_line(2)])
    place = next(at for at, each in enumerate(COLUMNS) if each.key == "rule-set")
    found.gather_by(place)
    assert seen(found)[2:] == ["nothing on record: 1", "MM/G/G01/WHB1"]
    found.fold(2)
    assert found.rowCount() == 3


def test_that_folded_lines_count_and_are_shown_when_asked_for(qtbot: QtBot) -> None:
    found = ordered()
    found.gather_by(USERS)
    found.fold(1)
    found.fold(99)
    assert found.rowCount() == 7
    found.fold(2)
    assert (found.rowCount(), found.count, ids(found)) == (5, 4, [4, 1, 3, 2])
    assert not found.mapFromSource(found._table.index(0, 0)).isValid()
    found.show_line(0)
    assert found.mapFromSource(found._table.index(0, 0)).row() == 3
    found.fold_all(True)
    assert seen(found) == ["children: 1", "patients: 2", "staff: 1"]
    found.fold(0, folded=False)
    assert found.rowCount() == 4
    found.fold_all(False)
    found.fold(0, folded=True)
    found.fold(0, folded=True)
    assert found.rowCount() == 6


def test_that_what_was_held_is_held_through_sorting_gathering_and_seeking(qtbot: QtBot) -> None:
    found = ordered()
    held = QPersistentModelIndex(found.index(2, OUTLET))
    found.sort(OUTLET, DOWN)
    assert (held.row(), held.data()) == (1, "MM/G/G03/WHB1")
    found.gather_by(USERS)
    heading = QPersistentModelIndex(found.index(2, 0))
    assert held.data() == "MM/G/G03/WHB1"
    found.seek("g03")
    assert (held.data(), heading.data()) == ("MM/G/G03/WHB1", "patients: 1")
    found.seek("g02")
    assert not held.isValid()
    assert not heading.isValid()


def test_that_further_lines_come_below_or_where_they_belong(qtbot: QtBot) -> None:
    found = ordered()
    reset = [0]
    found.modelReset.connect(lambda: reset.append(1))
    found._table.extend([due_line(5)])
    assert (ids(found), reset) == ([1, 2, 3, 4, 5], [0])
    found.sort(OUTLET, DOWN)
    found._table.extend([due_line(6)])
    assert ids(found)[0] == 6
    found._table.extend([])
    assert found.count == 6


def test_that_qt_finds_no_fault_whatever_is_done_to_lines(qtbot: QtBot) -> None:
    model = DueModel()
    found = Ordered(model, model)
    held = [QAbstractItemModelTester(model, FATAL), QAbstractItemModelTester(found, FATAL)]
    dice = random.Random(7)
    doings = (
        lambda: model.fill(lines() if dice.random() < 0.7 else ()),
        lambda: model.extend([due_line(dice.randrange(9, 99))]),
        lambda: found.sort(dice.randrange(-1, 6), dice.choice((UP, DOWN))),
        lambda: found.gather_by(dice.choice((None, STATE, USERS))),
        lambda: found.fold(dice.randrange(5)),
        lambda: found.fold_all(dice.random() < 0.5),
        lambda: found.seek(dice.choice(("", "g0", "g03", "nowhere"))),
        lambda: found.keep_only(USERS, dice.choice((None, {"patients"}, {"staff", "children"}))),
        lambda: found.want(dice.choice((lambda line: True, lambda line: line.outlet_id % 2 == 1))),
    )
    for _ in range(150):
        dice.choice(doings)()
        assert sum(each.count for each in found.headings) in (0, found.count)
        assert found.rowCount() <= found.count + len(found.headings)
    assert len(held) == 2

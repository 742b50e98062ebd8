"""The page of a place: its outlets in a table, by state, floor by floor."""

from dataclasses import replace

import pytest
from PySide6.QtCore import QEvent, QPointF, Qt
from PySide6.QtGui import QMouseEvent
from PySide6.QtTest import QAbstractItemModelTester, QTest
from pytestqt.qtbot import QtBot

from estate.domain.browsing import PlaceKind, PlaceNode
from estate.domain.standing import OutletState
from estate.window.models.floor_rows import floors_model, floors_of, summary
from estate.window.models.outlet_rows import known_of
from estate.window.pages.place_page import PlaceView
from tests.window.builders import VALVE, due_line, leaf, outlet, parent

LATE, WELL = OutletState.OVERDUE, OutletState.IN_ORDER


def level(number: int, *states: OutletState) -> PlaceNode:
    outlets = [leaf(100 * number + place, state) for place, state in enumerate(states, 1)]
    return parent(
        PlaceKind.LEVEL,
        number,
        f"Level {number}",
        parent(PlaceKind.ROOM, number, f"{number}01  Bay", *outlets),
    )


def building(number: int = 1, levels: int = 2) -> PlaceNode:
    states = ((LATE, WELL, WELL), (WELL,))
    below = [level(number * 10 + each, *states[each % 2]) for each in range(levels)]
    return parent(PlaceKind.BUILDING, number, f"Block {number}", *below)


@pytest.fixture
def view(qtbot: QtBot) -> PlaceView:
    made = PlaceView()
    qtbot.addWidget(made)
    made.resize(900, 700)
    made.tell(building(), [due_line(1)], known_of([outlet(1001, little_used=True)], {1: VALVE}))
    made.show()
    return made


def test_that_a_building_is_told_by_its_levels_and_a_site_by_those_of_each_building() -> None:
    assert [each.label for each in floors_of(building())] == ["Level 11", "Level 10"]
    site = parent(PlaceKind.SITE, 1, "Marlpit Cross", building(1), building(2))
    assert [each.label for each in floors_of(site)][1:3] == ["Block 1 · Level 10", "Block 2 · Level 21"]
    assert summary(floors_of(building())) == (
        "Level 11: 1 outlet; 1 in order\nLevel 10: 3 outlets; 1 overdue, 2 in order"
    )


def test_that_a_site_of_many_levels_is_told_by_its_buildings_and_a_room_not_at_all() -> None:
    site = parent(PlaceKind.SITE, 1, "Marlpit Cross", building(1, 9), building(2, 9))
    assert [(each.label, each.total) for each in floors_of(site)] == [("Block 1", 19), ("Block 2", 19)]
    assert floors_of(level(1, LATE)) == ()
    bare = PlaceNode(PlaceKind.LEVEL, 1, "Level 1", WELL, 0, 0)
    assert [each.words for each in floors_of(parent(PlaceKind.BUILDING, 1, "Block", bare))] == [
        "Level 1: 0 outlets"
    ]


def test_that_the_model_of_floors_behaves() -> None:
    model = floors_model()
    model.fill(floors_of(building()))
    QAbstractItemModelTester(model, QAbstractItemModelTester.FailureReportingMode.Warning)
    assert [model.cell(1, column).text for column in range(3)] == ["Level 10", "3", "1"]


def test_that_states_are_chosen_by_keyboard_and_only_their_outlets_are_listed(view: PlaceView) -> None:
    assert view.listing.ordered.count == 4
    late = view.states.buttons[LATE]
    late.setFocus()
    QTest.keyClick(late, Qt.Key.Key_Space)
    assert late.isChecked()
    assert [row.node.state for row in view.listing.ordered.shown()] == [LATE]
    assert view.listing.narrowing() == ("overdue",)
    view.grab()
    view.tell(building(), [])
    assert view.states.chosen == {LATE}
    view.states.all_button.click()
    assert view.listing.ordered.count == 4
    assert view.states.all_button.isHidden()


def test_that_another_place_is_shown_whole(view: PlaceView) -> None:
    view.states.buttons[LATE].click()
    view.bar.sought.setText("nowhere")
    view.tell(building(2), [])
    assert view.states.chosen == frozenset()
    assert view.listing.ordered.count == 4


def test_that_words_narrow_the_outlets(view: PlaceView) -> None:
    view.bar.sought.setText(view.listing.table.rows[2].node.label.split()[0])
    assert view.listing.ordered.count == 1


def test_that_a_floor_is_chosen_and_opened_by_keyboard(view: PlaceView) -> None:
    asked: list[PlaceNode] = []
    view.place_asked.connect(asked.append)
    view.chart.setFocus()
    assert view.chart.accessibleDescription() == "Level 11: 1 outlet; 1 in order"
    for key in (Qt.Key.Key_Down, Qt.Key.Key_Down, Qt.Key.Key_Return, Qt.Key.Key_Home, Qt.Key.Key_Enter):
        QTest.keyClick(view.chart, key)
    QTest.keyClick(view.chart, Qt.Key.Key_A)
    assert [each.label for each in asked] == ["Level 10", "Level 11"]
    view.grab()


def test_that_a_floor_is_opened_by_the_mouse_and_told_where_it_points(
    view: PlaceView,
) -> None:
    asked: list[PlaceNode] = []
    view.place_asked.connect(asked.append)
    laid = view.chart.laid()
    at = laid.row(1).center()
    none = (Qt.MouseButton.NoButton, Qt.MouseButton.NoButton, Qt.KeyboardModifier.NoModifier)
    for place in (at, QPointF(4, 5000)):
        where = QPointF(view.chart.mapToGlobal(place.toPoint()))
        view.chart.mouseMoveEvent(QMouseEvent(QEvent.Type.MouseMove, place, where, *none))
    view.grab()
    QTest.mouseClick(view.chart, Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier, at.toPoint())
    view.chart.leaveEvent(QEvent(QEvent.Type.Leave))
    assert [each.label for each in asked] == ["Level 10"]


def test_that_each_part_of_a_bar_is_as_long_as_its_share(view: PlaceView) -> None:
    floor = view.chart.floors[1]
    parts = {state: part.width() for state, _, part in view.chart.laid().parts(floor)}
    assert parts[WELL] == pytest.approx(2 * parts[LATE])
    shorter = view.chart.laid().bar(view.chart.floors[0]).width()
    assert view.chart.laid().bar(floor).width() == pytest.approx(3 * shorter)


def test_that_the_floors_are_rows_too_and_a_row_opens_its_floor(view: PlaceView) -> None:
    asked: list[PlaceNode] = []
    view.place_asked.connect(asked.append)
    view.as_table.click()
    assert view.table.isVisible()
    shown = [
        column.plain_title
        for place, column in enumerate(view.table.table.columns)
        if not view.table.isColumnHidden(place)
    ]
    assert shown == ["Place", "Outlets", "To act on", "overdue", "in order"]
    view.table.selectRow(1)
    QTest.keyClick(view.table, Qt.Key.Key_Return)
    assert [each.label for each in asked] == ["Level 10"]
    view.as_table.click()
    assert view.chart.isVisible()


def test_that_columns_tell_what_is_known_of_outlet_and_valve(view: PlaceView) -> None:
    line = replace(due_line(1), ref=view.listing.table.rows[0].node.label.split("  ")[0])
    view.tell(building(), [line], known_of([outlet(1101, little_used=True, pipe_m=1.5)], {1: VALVE}))
    row = next(place for place, each in enumerate(view.listing.table.rows) if each.due is not None)
    told = {
        column.plain_title: view.listing.table.cell(row, place).text
        for place, column in enumerate(view.listing.table.columns)
    }
    assert (told["Valve"], told["Serial"], told["Late days"]) == ("Make A A15", "A15-1", "10")
    assert (told["Test from"], told["Test by"]) == ("26 Sep 2026", "15 Nov 2026")
    assert told["Rule set"] == "uk-healthcare"
    assert told["Last verdict"] == "satisfactory"
    hidden = [each.title for each in view.listing.table.columns if each.hidden_at_first]
    assert hidden == ["Name", "Test from", "Little used", "Last verdict", "Pipe\nm", "Rule set"]


@pytest.mark.parametrize(
    ("kind", "shown"),
    [(PlaceKind.SITE, 3), (PlaceKind.BUILDING, 2), (PlaceKind.LEVEL, 1), (PlaceKind.ROOM, 0)],
)
def test_that_parts_of_the_path_that_are_the_same_for_every_outlet_are_left_out(
    view: PlaceView, kind: PlaceKind, shown: int
) -> None:
    site, floor = parent(PlaceKind.SITE, 1, "Marlpit Cross", building()), building().children[0]
    nodes = {PlaceKind.SITE: site, PlaceKind.BUILDING: building(), PlaceKind.LEVEL: floor}
    view.tell(nodes.get(kind, floor.children[0]), [])
    parts = [
        view.listing.table.cell(0, place).text
        for place, column in enumerate(view.listing.table.columns)
        if column.key in ("building", "storey", "room") and not view.listing.isColumnHidden(place)
    ]
    assert parts == ["Block 1", "Level 10", "1001 Bay"][3 - shown :]

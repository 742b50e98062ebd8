"""The tree at the window: several places chosen, kept through filter and refresh, dragged where they may."""

from collections.abc import Iterator

import pytest
from PySide6.QtCore import QByteArray, QMimeData, QModelIndex, QPointF, Qt
from PySide6.QtGui import QDragEnterEvent, QDragLeaveEvent, QDragMoveEvent, QDropEvent
from PySide6.QtTest import QAbstractItemModelTester, QTest
from PySide6.QtWidgets import QApplication, QWidget
from pytestqt.qtbot import QtBot

from estate.domain.browsing import PlaceKind
from estate.domain.editing import Place
from estate.domain.standing import OutletState
from estate.window.models.place_choice import below, counted, down_to, may_go, told, walk
from estate.window.models.place_tree import PLACES_MIME
from estate.window.pictures import settle
from estate.window.widgets.place_panel import PlacePanel
from tests.window.builders import leaf, parent, tree

LEFT, PLAIN = Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier
CTRL, SHIFT = Qt.KeyboardModifier.ControlModifier, Qt.KeyboardModifier.ShiftModifier
MODE = QAbstractItemModelTester.FailureReportingMode.Warning
ROOMS = tuple((PlaceKind.ROOM, number) for number in (1, 2, 3))


@pytest.fixture
def panel(qtbot: QtBot) -> Iterator[PlacePanel]:
    made = PlacePanel()
    qtbot.addWidget(made)
    made.resize(340, 420)
    made.show()
    made.tell(tree(6))
    made.model.movable = True
    unfold(made)
    yield made


def unfold(panel: PlacePanel) -> None:
    panel.tree.expandAll()
    settle()


def click(panel: PlacePanel, place: Place, held: Qt.KeyboardModifier = PLAIN) -> None:
    spot = panel.tree.visualRect(panel.model.index_of(place)).center()
    QTest.mouseClick(panel.tree.viewport(), LEFT, held, spot)
    settle()


def picked(panel: PlacePanel) -> list[Place]:
    return [(node.kind, node.id) for node in panel.picked_nodes]


def test_that_several_places_are_chosen_with_the_mouse_and_told_with_their_outlets(panel: PlacePanel) -> None:
    click(panel, ROOMS[2])
    click(panel, ROOMS[0], CTRL)
    assert picked(panel) == [ROOMS[0], ROOMS[2]]
    assert panel.found.text() == "2 rooms chosen: 2 outlets"
    click(panel, (PlaceKind.OUTLET, 1), CTRL)
    assert panel.found.text() == "3 places chosen: 2 outlets"
    click(panel, (PlaceKind.OUTLET, 4))
    assert panel.found.text() == "6 outlets"


def test_that_several_places_are_chosen_by_keys_alone(panel: PlacePanel) -> None:
    click(panel, (PlaceKind.OUTLET, 2))
    for _ in range(2):
        QTest.keyClick(panel.tree, Qt.Key.Key_Down, SHIFT)
    assert len(picked(panel)) == 3
    QTest.keyClick(panel.tree, Qt.Key.Key_Down, CTRL)
    QTest.keyClick(panel.tree, Qt.Key.Key_Down, CTRL)
    QTest.keyClick(panel.tree, Qt.Key.Key_Space, CTRL)
    assert len(picked(panel)) == 4
    assert panel.current is not None
    assert (panel.current.kind, panel.current.id) == picked(panel)[-1]


def test_that_coming_to_the_tree_leads_nowhere_until_a_key_chooses(panel: PlacePanel) -> None:
    chosen: list[str] = []
    panel.chosen.connect(lambda node: chosen.append(node.label))
    panel.window().activateWindow()
    panel.search.setFocus()
    settle()
    panel.tree.setFocus(Qt.FocusReason.TabFocusReason)
    settle()
    assert panel.current is not None
    assert (chosen, picked(panel)) == ([], [])
    QTest.keyClick(panel.tree, Qt.Key.Key_Home)
    assert (chosen, picked(panel)) == (["Marlpit Cross"], [(PlaceKind.SITE, 1)])
    QTest.keyClick(panel.tree, Qt.Key.Key_Down)
    assert chosen == ["Marlpit Cross", "Main Block"]


def test_that_what_is_chosen_and_unfolded_stays_through_refresh_and_filter(panel: PlacePanel) -> None:
    panel.tree.setExpanded(panel.model.index_of(ROOMS[1]), False)
    click(panel, ROOMS[0])
    click(panel, ROOMS[2], CTRL)
    panel.tell(tree(6, (OutletState.OVERDUE,)))
    assert picked(panel) == [ROOMS[0], ROOMS[2]]
    panel.search.setText("g03")
    assert picked(panel) == [ROOMS[2]]
    panel.search.setText("g05")
    assert picked(panel) == []
    panel.search.clear()
    assert picked(panel) == [ROOMS[0], ROOMS[2]]
    assert panel.current is not None
    assert (panel.current.kind, panel.current.id) == ROOMS[2]
    assert not panel.tree.isExpanded(panel.model.index_of(ROOMS[1]))
    assert panel.tree.isExpanded(panel.model.index_of(ROOMS[0]))


def test_that_the_scroll_stays_where_it_was_when_the_tree_is_told_again(panel: PlacePanel) -> None:
    panel.tell(tree(60))
    unfold(panel)
    bar = panel.tree.verticalScrollBar()
    bar.setValue(bar.maximum() // 2)
    kept = bar.value()
    assert kept > 0
    panel.tell(tree(60, (OutletState.OVERDUE,)))
    settle()
    assert bar.value() == kept


def test_that_what_was_folded_over_the_current_place_stays_folded(panel: PlacePanel) -> None:
    click(panel, (PlaceKind.OUTLET, 1))
    panel.tree.setExpanded(panel.model.index_of(ROOMS[0]), False)
    panel.tell(tree(6))
    assert not panel.tree.isExpanded(panel.model.index_of(ROOMS[0]))
    assert picked(panel) == [(PlaceKind.OUTLET, 1)]
    panel.open_up(ROOMS[0])
    panel.tell(tree(6))
    assert panel.tree.isExpanded(panel.model.index_of(ROOMS[0]))


def test_that_the_place_around_a_place_that_is_gone_becomes_current(panel: PlacePanel) -> None:
    click(panel, (PlaceKind.OUTLET, 6))
    panel.tell(tree(5))
    assert panel.current is not None
    assert (panel.current.kind, panel.current.id) == (PlaceKind.LEVEL, 1)
    assert picked(panel) == [(PlaceKind.LEVEL, 1)]
    panel.tell(())
    assert panel.current is None


def test_that_a_place_awaited_is_chosen_once_the_tree_has_it(panel: PlacePanel) -> None:
    panel.await_place((PlaceKind.OUTLET, 7))
    panel.tell(tree(6))
    assert panel.current is None
    panel.tell(tree(7))
    assert picked(panel) == [(PlaceKind.OUTLET, 7)]


def test_that_a_search_unfolds_the_way_to_matches_and_not_what_matches_whole(panel: PlacePanel) -> None:
    panel.tell(tree(30))
    panel.tree.collapseAll()
    panel.search.setText("main block")
    assert panel.tree.isExpanded(panel.model.index_of((PlaceKind.SITE, 1)))
    assert not panel.tree.isExpanded(panel.model.index_of((PlaceKind.BUILDING, 1)))
    panel.search.setText("g07")
    assert panel.tree.isExpanded(panel.model.index_of((PlaceKind.ROOM, 7)))


def test_that_a_search_with_more_matches_than_can_be_seen_unfolds_nothing(panel: PlacePanel) -> None:
    assert panel.model.seek("whb1") == 6
    assert panel.model.to_unfold(3) == []
    assert len(panel.model.to_unfold(9)) == 9


def drag(
    panel: PlacePanel, places: list[Place], to: Place | None, carried: QMimeData | None = None
) -> tuple[bool, str, bool]:
    """Drag places over another and let go: whether they may, what was said, whether they were let go."""
    model, over = panel.model, panel.tree.viewport()
    held = carried or model.mimeData([model.index_of(each) for each in places])
    index = QModelIndex() if to is None else model.index_of(to)
    spot = over.rect().bottomLeft() if to is None else panel.tree.visualRect(index).center()
    told = (Qt.DropAction.MoveAction, held, LEFT, PLAIN)
    enters, moves = QDragEnterEvent(spot, *told), QDragMoveEvent(spot, *told)
    QApplication.sendEvent(over, enters)
    QApplication.sendEvent(over, moves)
    said = panel.found.text()
    drop = QDropEvent(QPointF(spot), *told)
    QApplication.sendEvent(over, drop)
    settle()
    return enters.isAccepted() and moves.isAccepted(), said, drop.isAccepted()


def two_levels() -> PlacePanel:
    made = PlacePanel()
    levels = [
        parent(
            PlaceKind.LEVEL,
            1,
            "Level G",
            *(parent(PlaceKind.ROOM, n, f"G{n:02}", leaf(n)) for n in (1, 2, 3)),
        ),
        parent(PlaceKind.LEVEL, 2, "Level 2", parent(PlaceKind.ROOM, 9, "201  Sluice", leaf(9))),
    ]
    made.tell([parent(PlaceKind.SITE, 1, "Marlpit", parent(PlaceKind.BUILDING, 1, "Main Block", *levels))])
    made.model.movable = True
    made.resize(340, 420)
    made.show()
    unfold(made)
    return made


def test_that_rooms_are_dragged_to_another_level_and_nowhere_else(qtbot: QtBot) -> None:
    panel = two_levels()
    qtbot.addWidget(panel)
    moved: list[tuple[object, object]] = []
    panel.moved.connect(lambda places, to: moved.append((places, to)))
    rooms: list[Place] = list(ROOMS)
    assert drag(panel, rooms, (PlaceKind.LEVEL, 2)) == (True, "3 rooms → Level 2", True)
    assert moved == [(ROOMS, (PlaceKind.LEVEL, 2))]
    for to in ((PlaceKind.LEVEL, 1), (PlaceKind.SITE, 1), (PlaceKind.ROOM, 9), (PlaceKind.OUTLET, 9), None):
        assert drag(panel, rooms, to)[::2] == (False, False)
    assert drag(panel, [(PlaceKind.OUTLET, 1)], (PlaceKind.ROOM, 9))[1] == "MM/G/G01/WHB1 → 201 Sluice"
    assert panel.found.text() == "4 outlets"
    panel.model.movable = False
    assert drag(panel, rooms, (PlaceKind.LEVEL, 2))[2] is False
    assert len(moved) == 2


def test_that_what_is_no_place_of_this_tree_is_not_taken(qtbot: QtBot) -> None:
    panel = two_levels()
    qtbot.addWidget(panel)
    sheet, stranger = QMimeData(), QMimeData()
    sheet.setText("a sheet")
    stranger.setData(PLACES_MIME, QByteArray(b'[["room", 77]]'))
    for carried in (sheet, stranger):
        assert drag(panel, [], (PlaceKind.LEVEL, 2), carried)[::2] == (False, False)


def test_that_the_words_of_a_drag_go_when_it_leaves(qtbot: QtBot) -> None:
    panel = two_levels()
    qtbot.addWidget(panel)
    panel.tree.hovered.emit("3 rooms → Level 2")
    QApplication.sendEvent(panel.tree.viewport(), QDragLeaveEvent())
    assert panel.found.text() == "4 outlets"


def test_that_qt_finds_no_fault_while_places_are_filtered_chosen_and_dragged(
    panel: PlacePanel,
) -> None:
    tester = QAbstractItemModelTester(panel.model, MODE)
    for text in ("g0", "g03", "nothing", ""):
        panel.search.setText(text)
        panel.tree.selectAll()
    drag(panel, [ROOMS[0]], (PlaceKind.LEVEL, 1))
    panel.tell(tree(9))
    panel.tell(())
    assert tester.model() is panel.model


def test_that_a_menu_is_asked_for_at_the_place_under_the_mouse(panel: PlacePanel, qtbot: QtBot) -> None:
    spot = panel.tree.visualRect(panel.model.index_of(ROOMS[0])).center()
    with qtbot.waitSignal(panel.menu_asked, timeout=1000) as asked:
        panel.tree.customContextMenuRequested.emit(spot)
    assert asked.args == [panel.tree.viewport().mapToGlobal(spot)]


def test_that_places_are_named_by_what_they_are() -> None:
    nodes = list(walk(tree(3)))
    assert told([nodes[-1]]) == "MM/G/G03/WHB1"
    assert told([each for each in nodes if each.kind is PlaceKind.ROOM]) == "3 rooms"
    assert told(nodes[:2]) == "2 places"
    assert counted(PlaceKind.LEVEL, 1) == "1 level"
    assert [below(each) for each in (PlaceKind.SITE, PlaceKind.OUTLET)] == [PlaceKind.BUILDING, None]
    assert not may_go([], nodes[0])
    (site,) = down_to(tree(3), PlaceKind.LEVEL)
    assert [each.kind for each in walk([site])] == [PlaceKind.SITE, PlaceKind.BUILDING, PlaceKind.LEVEL]


def test_that_a_tree_of_one_choice_takes_no_drag(qtbot: QtBot) -> None:
    single: QWidget = PlacePanel(several=False)
    qtbot.addWidget(single)
    assert isinstance(single, PlacePanel)
    single.tell(tree(3))
    unfold(single)
    single.tree.selectAll()
    assert len(picked(single)) <= 1
    assert not single.tree.acceptDrops()

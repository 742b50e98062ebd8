"""Columns as a person likes them: chosen, moved, made wider, kept from one start to the next."""

from collections.abc import Callable, Iterator
from dataclasses import replace

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtGui import QColor, QContextMenuEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QMenu
from pytestqt.qtbot import QtBot

from estate.domain.due import DueLine
from estate.domain.places import UserGroup
from estate.settings import ListLook, Settings
from estate.window.models.due_rows import COLUMNS, DueModel
from estate.window.preferences import Preferences
from estate.window.schemes import shades_of
from estate.window.widgets.list_menu import TickingMenu, fill_list_menu
from estate.window.widgets.listing import Listing
from tests.window.builders import due_line

KEYS = [each.key for each in COLUMNS]
AT_FIRST = {each.key for each in COLUMNS if not each.hidden_at_first}
Due = Listing[DueLine]


@pytest.fixture
def listing(qtbot: QtBot) -> Iterator[Due]:
    made: Due = Listing(DueModel(), "Due list", known_as="due")
    qtbot.addWidget(made)
    made.resize(900, 400)
    made.table.fill([due_line(1), due_line(2, user_group=UserGroup.STAFF), due_line(3)])
    made.show()
    yield made
    made.hide()


def another(qtbot: QtBot, preferences: Preferences) -> Due:
    made: Due = Listing(DueModel(), "Due list", known_as="due")
    qtbot.addWidget(made)
    made.remember(preferences)
    return made


def preferences(settings: Settings | None = None) -> Preferences:
    return Preferences(settings or Settings(), lambda kept: None, "account")


def shown(listing: Due) -> set[str]:
    return set(listing.liked.shown())


def place(key: str) -> int:
    return KEYS.index(key)


def entries(listing: Due, column: int = -1) -> dict[str, QMenu]:
    menu = QMenu(listing)
    fill_list_menu(menu, listing, column)
    return {action.text(): menu for action in menu.actions()} | {"": menu}


def choose(menu: QMenu, words: str) -> None:
    next(each for each in menu.actions() if each.text() == words).trigger()


def test_that_each_column_is_remembered_by_a_name_of_its_own() -> None:
    assert len(set(KEYS)) == len(KEYS)


def test_that_some_columns_are_there_for_whoever_wants_them(listing: Due) -> None:
    assert shown(listing) == AT_FIRST
    assert {"site", "valve", "rule-set"} <= set(KEYS) - AT_FIRST
    listing.liked.show_column(place("site"), True)
    assert shown(listing) == AT_FIRST | {"site"}
    assert listing.liked.look == ListLook(shown=("site",))


def test_that_the_last_column_stays(listing: Due) -> None:
    listing.liked.choose(KEYS, ["outlet"])
    listing.liked.show_column(place("outlet"), False)
    assert shown(listing) == {"outlet"}
    menu = entries(listing, place("outlet"))[""]
    assert not next(each for each in menu.actions() if each.text() == "Hide Outlet").isEnabled()
    listing.liked.choose(KEYS, [])
    assert len(shown(listing)) == 1


def test_that_what_the_page_suggests_gives_way_to_what_the_person_chose(listing: Due) -> None:
    listing.suggest_hidden({"late-days": True})
    assert "late-days" not in shown(listing)
    listing.liked.show_column(place("late-days"), True)
    listing.suggest_hidden({"late-days": True})
    assert "late-days" in shown(listing)
    listing.liked.show_column(place("users"), False)
    listing.suggest_hidden({"users": False})
    assert "users" not in shown(listing)


def test_that_empty_columns_hide_unless_the_person_asked_for_them(listing: Due) -> None:
    listing.table.fill([replace(due_line(1), rule_set="")])
    listing.liked.show_column(place("rule-set"), True)
    listing.hide_empty()
    assert "rule-set" in shown(listing)
    listing.liked.as_at_first()
    assert "rule-set" not in shown(listing)


def test_that_columns_move_past_those_that_are_shown(listing: Due) -> None:
    listing.suggest_hidden({"where": True})
    listing.liked.move(place("test-by"), -1)
    assert listing.liked.order()[:4] == ("state", "test-by", "outlet", "where")
    listing.liked.move(place("state"), -1)
    assert listing.liked.order()[0] == "state"
    menu = entries(listing, place("state"))[""]
    choose(menu, "Move to the right")
    assert listing.liked.order()[:2] == ("test-by", "state")


def test_that_what_a_person_likes_is_there_at_the_next_start(listing: Due, qtbot: QtBot) -> None:
    kept = preferences()
    listing.remember(kept)
    listing.liked.choose([*KEYS[3:], *KEYS[:3]], ["state", "outlet", "valve"])
    listing.setColumnWidth(place("valve"), 333)
    listing.sortByColumn(place("outlet"), Qt.SortOrder.DescendingOrder)
    listing.liked.group_by(place("users"))
    assert not kept.settings.lists
    listing.hide()
    again = another(qtbot, kept)
    again.table.fill([due_line(1), due_line(2, user_group=UserGroup.STAFF), due_line(3)])
    assert again.liked.look == listing.liked.look
    assert again.liked.order() == (*KEYS[3:], *KEYS[:3])
    assert shown(again) == {"state", "outlet", "valve"}
    assert again.columnWidth(place("valve")) == 333
    assert [line.outlet_id for line in again.ordered.shown()] == [3, 1, 2]
    assert again.horizontalHeader().sortIndicatorSection() == place("outlet")


def test_that_changes_are_kept_soon_and_the_usual_look_is_kept_by_forgetting(
    listing: Due, qtbot: QtBot
) -> None:
    kept = preferences()
    listing.remember(kept)
    listing.liked.show_column(place("site"), True)
    listing._kept_soon.timeout.emit()
    assert kept.settings.lists == {"due": ListLook(shown=("site",))}
    listing.liked.as_at_first()
    listing._kept_soon.timeout.emit()
    assert kept.settings.lists == {}
    assert not listing._kept_soon.isActive()


def test_that_columns_that_are_no_more_and_new_ones_find_their_place(qtbot: QtBot) -> None:
    look = ListLook(("gone", "users", "state"), ("gone",), ("gone",), {"gone": 9}, "gone", True, "gone")
    again = another(qtbot, preferences(Settings(lists={"due": look})))
    order = again.liked.order()
    assert sorted(order) == sorted(KEYS)
    assert order.index("users") < order.index("state") < order.index("outlet")
    assert shown(again) == AT_FIRST
    assert again.ordered.gathered_by is None
    assert again.ordered.sorted_by == -1


def test_that_a_page_may_order_its_lines_until_the_person_does(listing: Due) -> None:
    listing.liked.usually_by(place("outlet"), descending=True)
    assert [line.outlet_id for line in listing.ordered.shown()] == [3, 2, 1]
    assert listing.liked.look == ListLook()
    listing.sortByColumn(place("outlet"), Qt.SortOrder.AscendingOrder)
    assert listing.liked.look.sort == "outlet"
    listing.liked.as_at_first()
    assert [line.outlet_id for line in listing.ordered.shown()] == [3, 2, 1]


def test_that_room_left_goes_to_columns_that_can_use_it_but_not_to_one_made_narrow(listing: Due) -> None:
    listing.liked.choose(KEYS, ["outlet", "why-this-date"])
    assert listing.columnWidth(place("why-this-date")) > 600
    listing.setColumnWidth(place("why-this-date"), 200)
    listing.resize(1200, 400)
    assert listing.columnWidth(place("why-this-date")) == 200


def test_that_the_menu_offers_what_somebody_answers(listing: Due) -> None:
    bare = entries(listing)
    assert {"Save as…", "Print…", "Group by", "Columns…"}.isdisjoint(bare)
    ticks = next(each for each in listing.findChildren(TickingMenu) if each.title() == "Columns")
    choose(ticks, "Site")
    assert "site" in shown(listing)
    listing.served = True
    asked: list[str] = []
    listing.save_asked.connect(lambda: asked.append("save"))
    listing.print_asked.connect(lambda: asked.append("print"))
    listing.columns_asked.connect(lambda: asked.append("columns"))
    menu = entries(listing)[""]
    for words in ("Save as…", "Print…", "Columns…", "As at first"):
        choose(menu, words)
    assert asked == ["save", "print", "columns"]
    assert shown(listing) == AT_FIRST


def submenu(menu: QMenu, title: str) -> QMenu:
    (found,) = (each for each in menu.findChildren(QMenu) if each.title() == title)
    return found


def test_that_lines_are_grouped_and_folded_from_the_menu(listing: Due) -> None:
    listing.served = True
    choose(submenu(entries(listing)[""], "Group by"), "Users")
    assert listing.ordered.gathered_by == place("users")
    groups = submenu(entries(listing)[""], "Group by")
    assert [each.text() for each in groups.actions() if each.isChecked()] == ["Users"]
    choose(groups, "Fold every group")
    assert listing.ordered.rowCount() == 2
    choose(groups, "Unfold every group")
    choose(groups, "Nothing")
    assert listing.ordered.rowCount() == 3


def test_that_values_are_ticked_without_the_menu_closing(listing: Due, qtbot: QtBot) -> None:
    values = submenu(submenu(entries(listing)[""], "Show only"), "Users")
    values.popup(QPoint(0, 0))
    staff = next(each for each in values.actions() if each.text() == "staff (1)")
    values.setActiveAction(staff)
    QTest.keyClick(values, Qt.Key.Key_Space)
    assert values.isVisible()
    assert [line.outlet_id for line in listing.ordered.shown()] == [1, 3]
    assert listing.narrowed() == ("Users: patients",)
    QTest.mouseClick(
        values,
        Qt.MouseButton.LeftButton,
        Qt.KeyboardModifier.NoModifier,
        values.actionGeometry(staff).center(),
    )
    assert (values.isVisible(), listing.ordered.count, listing.narrowed()) == (True, 3, ())
    values.setActiveAction(staff)
    QTest.keyClick(values, Qt.Key.Key_Return)
    QTest.keyClick(values, Qt.Key.Key_Escape)
    choose(submenu(entries(listing)[""], "Show only"), "Everything again")
    assert listing.ordered.count == 3


def popups() -> list[QMenu]:
    return [each for each in QApplication.topLevelWidgets() if isinstance(each, QMenu) and each.isVisible()]


def test_that_the_menu_opens_by_mouse_and_by_keys_on_lines_and_headings(listing: Due, qtbot: QtBot) -> None:
    listing.selectRow(1)
    at = QPoint(3, 3)
    by_mouse, by_key = QContextMenuEvent.Reason.Mouse, QContextMenuEvent.Reason.Keyboard
    doings: tuple[Callable[[], object], ...] = (
        lambda: listing.contextMenuEvent(QContextMenuEvent(by_mouse, at, at)),
        lambda: listing.contextMenuEvent(QContextMenuEvent(by_key, at, at)),
        lambda: QTest.keyClick(listing, Qt.Key.Key_F10, Qt.KeyboardModifier.ShiftModifier),
    )
    for open_it in doings:
        open_it()
        (menu,) = popups()
        assert menu.actions()[0].text() == "Copy the chosen lines"
        menu.close()
    listing.horizontalHeader().customContextMenuRequested.emit(QPoint(5, 5))
    (menu,) = popups()
    assert menu.actions()[0].text() == "Hide State"
    menu.close()


def test_that_a_group_folds_by_mouse_and_keys_and_its_lines_stay_apart(listing: Due, qtbot: QtBot) -> None:
    opened: list[int] = []
    picked: list[int | None] = []
    listing.opened.connect(opened.append)
    listing.picked.connect(picked.append)
    listing.liked.group_by(place("users"))
    listing.selectRow(0)
    assert listing.current_key() == 1
    QTest.keyClick(listing, Qt.Key.Key_Return)
    QTest.keyClick(listing, Qt.Key.Key_Up)
    assert (listing.current_key(), picked[-1], opened) == (None, None, [1])
    for key, rows in (
        (Qt.Key.Key_Left, 3),
        (Qt.Key.Key_Right, 5),
        (Qt.Key.Key_Space, 3),
        (Qt.Key.Key_Return, 5),
    ):
        QTest.keyClick(listing, key)
        assert listing.ordered.rowCount() == rows
    heading = listing.visualRect(listing.ordered.index(0, 0)).center()
    QTest.mouseClick(listing.viewport(), Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier, heading)
    assert listing.ordered.rowCount() == 3
    assert listing.choose(3)
    assert (listing.current_key(), listing.ordered.rowCount(), opened) == (3, 5, [1])
    assert not listing.choose(99)
    listing.grab()


def test_that_a_line_that_is_no_longer_shown_is_no_longer_picked(listing: Due) -> None:
    picked: list[int | None] = []
    listing.picked.connect(picked.append)
    listing.choose(2)
    listing.ordered.seek("g02")
    assert picked == [2]
    listing.ordered.seek("g03")
    assert picked == [2, None]
    assert not listing.choose(2)


def test_that_it_is_seen_where_the_keys_are_when_several_lines_are_chosen(listing: Due, qtbot: QtBot) -> None:
    listing.activateWindow()
    listing.setFocus()
    qtbot.waitUntil(listing.hasFocus)
    accent = QColor(shades_of(listing.palette()).accent)

    def framed(row: int) -> bool:
        edge = QPoint(listing.viewport().width() - 3, listing.rowViewportPosition(row) + 8)
        picture = listing.viewport().grab().toImage()
        return any(picture.pixelColor(edge.x() + by, edge.y()) == accent for by in range(3))

    listing.selectRow(1)
    assert not framed(1)
    QTest.keyClick(listing, Qt.Key.Key_Down, Qt.KeyboardModifier.ShiftModifier)
    assert (framed(1), framed(2)) == (False, True)
    listing.clearSelection()
    assert framed(2)
    listing.clearFocus()
    assert not framed(2)


def test_that_values_beyond_those_offered_are_told_of(listing: Due) -> None:
    listing.table.fill([replace(due_line(at), rule_set=f"set-{at:02}") for at in range(1, 44)])
    values = submenu(submenu(entries(listing)[""], "Show only"), "Rule set")
    values.aboutToShow.emit()
    first = values.actions()[0]
    assert (first.text(), first.isEnabled()) == ("3 further values: ask for them by words", False)
    assert len(values.actions()) == 41

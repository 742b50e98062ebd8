"""Every list of the window: saved, printed, copied and laid out by the same few actions."""

from pathlib import Path
from typing import Any

from openpyxl import load_workbook
from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QGuiApplication
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QPushButton
from pytestqt.qtbot import QtBot

from estate.window.dialogs.list_columns import ColumnsDialog
from estate.window.dialogs.preview_report import PreviewDialog
from estate.window.models.due_rows import DueModel, Wanted
from estate.window.past_window import READING
from estate.window.pictures import settle
from estate.window.widgets.list_bar import ListBar
from estate.window.widgets.listing import Listing
from tests.window.conftest import Seat

PAGES = ("due", "drift", "rules", "batches", "trail", "actions", "people", "upkeep", "instruments")


def act(seat: Seat, action: str) -> None:
    seat.window.actions_[action].trigger()
    settle()


def due(seat: Seat) -> Listing[Any]:
    seat.window.showing.show_due(Wanted.ALL)
    settle()
    return seat.window.pages.due.listing


def dialog(seat: Seat) -> ColumnsDialog:
    found = seat.dialog()
    assert isinstance(found, ColumnsDialog)
    return found


def asks_what_it_can(seat: Seat) -> None:
    listing = seat.window.lists.listing
    assert listing is not None
    assert listing.served
    shown = seat.window.showing.stack.currentWidget()
    bar = next(each for each in shown.findChildren(ListBar) if each.isVisible())
    act(seat, "list-words")
    assert seat.window.focusWidget() is bar.sought
    bar.menu.aboutToShow.emit()
    words = [each.text() for each in bar.menu.actions() if each.text()]
    assert words[:4] == ["Copy the chosen lines", "Copy the list", "Save as…", "Print…"]
    assert words[-2:] == ["Columns…", "As at first"]
    assert listing.shown_list().count == listing.ordered.count


def test_that_every_page_of_a_list_can_be_narrowed_copied_saved_and_printed(seat: Seat) -> None:
    for page in PAGES:
        act(seat, page)
        asks_what_it_can(seat)
    names = [each.known_as for each in seat.window.showing.stack.findChildren(Listing)]
    assert len(set(names)) == len(names)
    assert {"list-words", "list-columns", "list-copy", "list-save", "list-print"} <= READING


def test_that_a_list_is_saved_and_printed_as_it_is_shown(seat: Seat, tmp_path: Path) -> None:
    listing = due(seat)
    act(seat, "list-save")
    assert seat.answers.shown == []
    seat.window.pages.due.sought.setText("shower")
    seat.answers.to_write = tmp_path / "due.xlsx"
    act(seat, "list-save")
    sheet = load_workbook(tmp_path / "due.xlsx")["Due list"]
    shown = [line.ref for line in listing.ordered.shown()]
    assert shown
    assert [row[1].value for row in sheet.iter_rows(min_row=5)] == shown
    seat.answers.to_write = tmp_path / "due.csv"
    listing.save_asked.emit()
    settle()
    assert seat.answers.shown == [tmp_path / "due.xlsx", tmp_path / "due.csv"]
    seat.window.pages.due.sought.clear()
    act(seat, "list-print")
    preview = seat.dialog()
    assert isinstance(preview, PreviewDialog)
    words = " ".join(preview.paper.words(number) for number in range(len(preview.paper.sheets)))
    assert all(line.ref in words for line in listing.ordered.shown())
    assert "All valves" in words
    seat.answers.to_write = tmp_path / "seen.xlsx"
    preview.sheet.click()
    settle()
    assert load_workbook(tmp_path / "seen.xlsx")["Due list"].max_row > len(shown) + 4


def test_that_columns_are_ticked_and_moved_and_kept_and_the_list_with_the_keys_is_meant(
    seat: Seat, qtbot: QtBot
) -> None:
    listing = due(seat)
    act(seat, "list-columns")
    dialog(seat).down.click()
    dialog(seat).listed.item(4).setCheckState(Qt.CheckState.Unchecked)
    dialog(seat).act.click()
    settle()
    assert listing.liked.order()[:2] == ("outlet", "state")
    assert "late-days" not in listing.liked.shown()
    act(seat, "trail")
    assert seat.preferences.settings.lists["due"] == listing.liked.look
    trail = seat.window.pages.trail
    trail.changes.setFocus()
    assert seat.window.lists.listing is trail.changes
    trail.sought.setFocus()
    assert seat.window.lists.listing is trail.listing
    act(seat, "list-copy")
    lines = QGuiApplication.clipboard().text().splitlines()
    assert len(lines) == len(trail.listing.table.rows) + 1
    assert f"{len(lines) - 1:,} lines were copied" in seat.window.statusBar().currentMessage()
    due(seat)
    seat.window.pages.due.sought.setText("nowhere at all")
    seat.window.lists._doings.copy(listing)
    assert "no line" in seat.window.statusBar().currentMessage()
    listing.columns_asked.emit()
    dialog(seat).usual.click()
    settle()
    assert "late-days" in listing.liked.shown()


def test_that_a_page_without_a_list_does_nothing(bare: Seat) -> None:
    for action in ("list-words", "list-copy", "list-save", "list-print", "list-columns"):
        bare.window.lists.runs()[action]()
    listing = bare.window.pages.due.listing
    listing.save_asked.emit()
    listing.print_asked.emit()
    assert bare.dialogs() == []


def test_that_columns_move_up_and_down_and_one_stays(qtbot: QtBot) -> None:
    made = ColumnsDialog("Due list", [("a", "First", True), ("b", "Second", False), ("c", "Third", True)])
    qtbot.addWidget(made)
    given: list[object] = []
    made.given.connect(lambda order, shown: given.extend((order, shown)))
    assert (made.up.isEnabled(), made.down.isEnabled()) == (False, True)
    made.down.click()
    made.down.click()
    assert (made.up.isEnabled(), made.down.isEnabled()) == (True, False)
    made._move(1)
    made.up.click()
    QTest.keyClick(made.listed, Qt.Key.Key_Space)
    assert made.shown() == ["c"]
    made.listed.item(2).setCheckState(Qt.CheckState.Unchecked)
    assert not made.act.isEnabled()
    made.listed.item(0).setCheckState(Qt.CheckState.Checked)
    made.act.click()
    assert given == [["b", "a", "c"], ["b"]]


def test_that_buttons_go_below_the_filter_where_there_is_no_room(qtbot: QtBot) -> None:
    listing: Listing[Any] = Listing(DueModel(), "Due list")
    bar, button = ListBar(listing), QPushButton("Do something about the list")
    for each in (listing, bar):
        qtbot.addWidget(each)
    bar.trail(button)
    bar.show()
    bar.resize(QSize(900, bar.height()))
    settle()
    assert button.x() > bar.button.x()
    assert bar.minimumSizeHint().width() < bar.sizeHint().width()
    bar.resize(QSize(bar.minimumSizeHint().width(), 200))
    settle()
    assert button.y() >= bar.sought.geometry().bottom()

"""The window's own thread asks the register for nothing: no page, no dialog, no action waits for a disk."""

import threading
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any

from PySide6.QtWidgets import QDialog, QPushButton
from sqlalchemy import Engine, event

from estate.window.commands.table import COMMANDS
from estate.window.pictures import settle
from tests.window.conftest import Seat

LEAVING = {"quit", "close-window", "sample", "refresh"}
LOOKS = ("light-", "text-")
"""Schemes and sizes of text: they dress every widget anew, which takes its time and reads nothing."""


@contextmanager
def from_the_window() -> Iterator[list[str]]:
    """Statements that come from the thread of the window, while this lasts."""
    asked: list[str] = []

    def look(connection: Any, cursor: Any, statement: str, *rest: Any) -> None:
        if threading.current_thread() is threading.main_thread():
            asked.append(statement)

    event.listen(Engine, "before_cursor_execute", look)
    yield asked
    event.remove(Engine, "before_cursor_execute", look)


def put_away(seat: Seat) -> None:
    """Close every dialog and every further window."""
    settle()
    for dialog in seat.window.findChildren(QDialog):
        dialog.done(0)
    for window in [*seat.built.further, *seat.built.past]:
        window.close()
    settle()


def show_a_valve(seat: Seat) -> None:
    """Show an outlet with a valve and choose its last entry, unless one is shown."""
    if seat.window.actions_["void"].isEnabled():
        return
    reading = seat.window.showing.reading
    assert reading is not None
    line = next(each for each in reading.lines if each.last_visit is not None)
    seat.window.showing.show_outlet(line.outlet_id)
    settle()
    seat.window.pages.outlet.history.selectRow(0)
    settle()


def run_everything(seat: Seat, asked: list[str]) -> set[str]:
    """Run each entry of the table of actions that is open with an outlet shown; those that asked."""
    guilty: set[str] = set()
    for command in COMMANDS:
        if command.id in LEAVING or command.id.startswith(LOOKS):
            continue
        show_a_valve(seat)
        before = len(asked)
        seat.window.actions_[command.id].trigger()
        put_away(seat)
        if len(asked) > before:
            guilty.add(f"{command.id}: {asked[before]}")
    return guilty


def press_everything(seat: Seat, asked: list[str]) -> set[str]:
    """Press each button of each page; those that asked."""
    guilty: set[str] = set()
    for page, show in seat.window.showing.ways.items():
        show()
        settle()
        for button in page.findChildren(QPushButton):
            before = len(asked)
            if button.isVisible() and button.isEnabled():
                button.click()
                put_away(seat)
            if len(asked) > before:
                guilty.add(f"{type(page).__name__}, {button.text()}: {asked[before]}")
    return guilty


def test_that_a_statement_of_this_thread_is_seen(seat: Seat) -> None:
    desk = seat.window.showing.desk
    assert desk is not None
    with from_the_window() as asked:
        desk.identity()
    assert asked


def test_that_no_action_and_no_button_asks_the_register_on_the_thread_of_the_window(seat: Seat) -> None:
    with from_the_window() as asked:
        assert run_everything(seat, asked) == set()
        assert press_everything(seat, asked) == set()
    assert asked == []

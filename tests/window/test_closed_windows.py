"""A window that was closed takes nothing with it but its place on the screen, and leaves nothing behind."""

import gc
import weakref

from PySide6.QtWidgets import QApplication

from estate.window.main_window import MainWindow
from estate.window.pictures import settle
from tests.window.conftest import Seat


def others(seat: Seat) -> list[MainWindow]:
    shown = [each for each in QApplication.topLevelWidgets() if isinstance(each, MainWindow)]
    return [each for each in shown if each is not seat.window]


def test_that_a_further_window_that_was_closed_frees_what_it_read(seat: Seat) -> None:
    seat.window.actions_["new-window"].trigger()
    settle()
    (further,) = others(seat)
    held = weakref.ref(further.showing)
    assert further.showing.reading is not None
    further.close()
    del further
    settle()
    gc.collect()
    assert held() is None
    assert seat.window.showing.reading is not None

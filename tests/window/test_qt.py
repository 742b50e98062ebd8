"""What the window takes for granted of Qt's binding."""

import gc
import sys
from collections.abc import Callable

import pytest
from PySide6.QtCore import QObject, QStringListModel, Qt, Signal
from PySide6.QtWidgets import QLineEdit
from pytestqt.qtbot import QtBot

CALLS = 500


class Caller(QObject):
    """Has a signal."""

    called = Signal(int)


def lost(run: Callable[[], object], kept: object) -> int:
    """How many references of `kept` so many calls take away."""
    run()
    gc.collect()
    before = sys.getrefcount(kept)
    for _ in range(CALLS):
        run()
    gc.collect()
    return before - sys.getrefcount(kept)


@pytest.mark.parametrize("kept", [None, True], ids=str)
def test_that_calls_into_qt_take_no_reference_away(kept: object, qtbot: QtBot) -> None:
    # PySide6 6.12.0 does so before Python 3.12, and a long day at the window ends in a crash
    field = QLineEdit()
    qtbot.addWidget(field)
    model, caller = QStringListModel(["a"]), Caller()
    caller.called.connect(lambda number: None)
    assert lost(lambda: field.setText("a"), kept) < CALLS / 10
    assert lost(field.isEnabled, kept) < CALLS / 10
    assert lost(lambda: model.index(0, 0).data(Qt.ItemDataRole.FontRole), kept) < CALLS / 10
    assert lost(lambda: caller.called.emit(1), kept) < CALLS / 10

"""For everyone: every control has a name, and the keyboard reaches it."""

from collections.abc import Iterator
from pathlib import Path

from PySide6.QtCore import Qt
from PySide6.QtGui import QAccessible
from PySide6.QtWidgets import (
    QAbstractButton,
    QAbstractItemView,
    QComboBox,
    QDateEdit,
    QLineEdit,
    QPlainTextEdit,
    QSpinBox,
    QTabWidget,
    QWidget,
)

from estate.window import pictures
from estate.window.pictures import Stage
from tests.window.conftest import Seat

CONTROLS = (
    QAbstractButton,
    QAbstractItemView,
    QComboBox,
    QDateEdit,
    QLineEdit,
    QPlainTextEdit,
    QSpinBox,
    QTabWidget,
)


def controls(window: QWidget) -> Iterator[QWidget]:
    """Controls that a person can reach, without the parts that Qt makes inside them."""
    for kind in CONTROLS:
        for each in window.findChildren(kind):
            inside = each.parent()
            within = isinstance(inside, QComboBox | QSpinBox | QDateEdit | QLineEdit | QTabWidget)
            if each.isVisible() and not within and each.focusPolicy() & Qt.FocusPolicy.TabFocus:
                yield each


def nameless(window: QWidget) -> list[str]:
    """Controls without a name for a screen reader."""
    found = []
    for each in controls(window):
        interface = QAccessible.queryAccessibleInterface(each)
        if interface is None or not interface.text(QAccessible.Text.Name).strip():
            found.append(f"{type(each).__name__} {each.objectName()}")
    return found


def test_that_every_control_of_every_page_has_a_name(seat: Seat) -> None:
    stage = Stage(seat.window, Path())
    for scene in (
        pictures.due,
        pictures.outlet,
        pictures.chart,
        pictures.drift,
        pictures.place,
        pictures.rules,
        pictures.trail,
    ):
        shown = scene(stage)
        pictures.settle()
        assert nameless(shown) == []
        assert len(list(controls(shown))) >= 3


def test_that_every_control_of_every_dialog_has_a_name(seat: Seat) -> None:
    stage = Stage(seat.window, Path())
    scenes = (pictures.record, pictures.confirm, pictures.bring_in, pictures.backups, pictures.verified)
    for scene in scenes:
        shown = scene(stage)
        pictures.settle()
        assert nameless(shown) == []
        shown.close()
        pictures.settle()

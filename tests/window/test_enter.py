"""What Enter does in a dialog: what has the keys is pressed, and nothing else is put in anybody's place."""

from datetime import date

import pytest
from PySide6.QtCore import QPoint, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QComboBox, QLineEdit, QPushButton, QScrollArea, QWidget
from pytestqt.qtbot import QtBot

from estate.domain.instruments import Instrument, InstrumentKind
from estate.window.dialogs.bring_in import BringInDialog
from estate.window.dialogs.instruments import CalibrationDialog
from estate.window.dialogs.shell import Shell
from estate.window.pictures import settle
from estate.window.widgets.entry import WordsField
from estate.window.widgets.field_grid import FieldGrid
from estate.window.widgets.focus_ring import FocusRing, FocusRings

PROBE = Instrument(1, "T-1", InstrumentKind.IMMERSION_PROBE, "", None, ())


def asking(qtbot: QtBot, pressed: list[str]) -> tuple[Shell, QLineEdit, QPushButton]:
    """A dialog with a field, a way out and a main button."""
    dialog, line = Shell("Do it?"), QLineEdit()
    dialog.body.addWidget(line)
    leave = dialog.button("Leave", lambda: pressed.append("leave"))
    dialog.button("Do it", lambda: pressed.append("do it"), main=True)
    qtbot.addWidget(dialog)
    dialog.show_modal()
    return dialog, line, leave


@pytest.mark.parametrize("key", [Qt.Key.Key_Return, Qt.Key.Key_Enter])
def test_that_enter_presses_the_button_that_has_the_keys_and_not_the_main_one(
    qtbot: QtBot, key: Qt.Key
) -> None:
    pressed: list[str] = []
    _, line, leave = asking(qtbot, pressed)
    leave.setFocus()
    QTest.keyClick(leave, key)
    assert pressed == ["leave"]
    line.setFocus()
    QTest.keyClick(line, key)
    assert pressed == ["leave", "do it"]


@pytest.mark.parametrize("chosen", [0, 1])
def test_that_enter_leaves_a_name_that_is_not_among_those_offered(qtbot: QtBot, chosen: int) -> None:
    field = WordsField("Decided by", ("A. Thorne", "M. Osei"))
    qtbot.addWidget(field)
    field.show()
    field.setCurrentIndex(chosen)
    field.put("E. Marlow")
    QTest.keyClick(field, Qt.Key.Key_Return)
    assert field.currentText() == "E. Marlow"
    field.put("M. Osei")
    assert (field.currentText(), field.currentIndex()) == ("M. Osei", 1)


def test_that_enter_alone_puts_no_calibration_on_record(qtbot: QtBot) -> None:
    dialog = CalibrationDialog(PROBE, date(2026, 11, 25), None)
    qtbot.addWidget(dialog)
    dialog.show_modal()
    given: list[object] = []
    dialog.given.connect(given.append)
    QTest.keyClick(dialog.on, Qt.Key.Key_Return)
    assert given == []
    QTest.keyClicks(dialog.certificate, "C-1")
    QTest.keyClick(dialog.certificate, Qt.Key.Key_Return)
    assert len(given) == 1


def test_that_a_ring_lies_in_what_scrolls_and_follows_its_field(qapp: QApplication, qtbot: QtBot) -> None:
    rings = FocusRings(qapp)
    dialog, grid, above, box = Shell("Change"), FieldGrid(1), QWidget(), QComboBox()
    above.setFixedHeight(40)
    above.hide()
    grid.add("Users", box)
    dialog.body.addWidget(above)
    dialog.body.addWidget(grid)
    dialog.button("Change", dialog.accept, main=True)
    qtbot.addWidget(dialog)
    dialog.show_modal()
    dialog.activateWindow()
    box.setFocus()
    settle()
    ring = dialog.findChildren(FocusRing)[-1]
    held = dialog.area.widget()
    assert held is not None
    assert ring.parentWidget() is held
    assert ring.geometry().adjusted(2, 2, -2, -2).topLeft() == box.mapTo(held, QPoint())
    before = ring.y()
    above.show()
    settle()
    assert ring.y() > before
    assert ring.geometry().adjusted(2, 2, -2, -2).topLeft() == box.mapTo(held, QPoint())
    rings.deleteLater()
    settle()


def test_that_a_part_that_scrolls_has_a_ring_all_round_it(qapp: QApplication, qtbot: QtBot) -> None:
    rings = FocusRings(qapp)
    window = QWidget()
    area = QScrollArea(window)
    area.setGeometry(10, 10, 100, 100)
    area.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
    window.resize(120, 120)
    qtbot.addWidget(window)
    window.show()
    window.activateWindow()
    area.setFocus()
    settle()
    ring = window.findChildren(FocusRing)[-1]
    assert ring.geometry() == area.geometry().adjusted(-2, -2, 2, 2)
    rings.deleteLater()
    settle()


def test_that_enter_takes_the_rows_of_a_sheet_only_on_the_button_for_that(qtbot: QtBot) -> None:
    dialog = BringInDialog(lambda: None)
    qtbot.addWidget(dialog)
    dialog.show_modal()
    dialog.take.setEnabled(True)
    dialog.take.show()
    pressed: list[bool] = []
    dialog.take.clicked.connect(lambda checked=False: pressed.append(checked))
    dialog.kind.setFocus()
    QTest.keyClick(dialog.kind, Qt.Key.Key_Return)
    assert pressed == []
    dialog.take.setFocus()
    QTest.keyClick(dialog.take, Qt.Key.Key_Return)
    assert pressed == [False]

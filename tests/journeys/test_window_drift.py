"""An officer looks for the worst drifters, over a copy of a sample estate whose groups are fitted."""

from datetime import timedelta
from pathlib import Path

import pytest
from pypdf import PdfReader
from PySide6.QtCore import QSize, Qt
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QWidget
from pytestqt.qtbot import QtBot

from estate.domain.learned import LearnedLine
from estate.operations.fit_groups import fit_groups
from estate.operations.open_register import open_register
from estate.window.models.drift_rows import chance_of
from estate.window.pages.drift_page import DriftView
from estate.window.pictures import settle
from tests.window.builders import NOW, TODAY
from tests.window.conftest import Seat, bare, small_estate  # noqa: F401 - fixtures, found by name

CTRL = Qt.KeyboardModifier.ControlModifier


@pytest.fixture
def fitted(bare: Seat, tmp_path: Path, qtbot: QtBot) -> Seat:
    register = open_register(tmp_path / "copy.db")
    fit_groups(register, TODAY, who="A. Officer", at=NOW)
    register.close()
    bare.window.actions_["sample"].trigger()
    settle()
    return bare


def press(widget: QWidget, key: Qt.Key, held: Qt.KeyboardModifier = Qt.KeyboardModifier.NoModifier) -> None:
    QTest.keyClick(widget, key, held)
    settle()


def drifters(at: Seat) -> tuple[DriftView, list[LearnedLine]]:
    press(at.window, Qt.Key.Key_L, CTRL)
    view = at.window.pages.drift
    assert at.window.showing.stack.currentWidget() is view
    return view, list(view.listing.ordered.shown())


def test_that_the_worst_drifter_is_found_and_its_chart_read_by_keyboard_alone(fitted: Seat) -> None:
    view, lines = drifters(fitted)
    chances = [chance_of(line) for line in lines]
    told = [each for each in chances if each is not None]
    assert len(told) > 10
    assert chances[: len(told)] == sorted(told, reverse=True)
    view.listing.setFocus()
    view.listing.selectRow(0)
    press(view.listing, Qt.Key.Key_Return)
    page = fitted.window.showing.outlet
    assert page is not None
    assert page.outlet.reference == lines[0].ref
    press(fitted.window, Qt.Key.Key_G, CTRL)
    chart = fitted.window.pages.outlet.drift.chart
    assert QApplication.focusWidget() is chart
    press(chart, Qt.Key.Key_End)
    assert chart.accessibleDescription().startswith("Expected on ")
    assert "Chance to reach" in chart.accessibleDescription()
    press(chart, Qt.Key.Key_C, CTRL)
    assert QApplication.clipboard().image().size().width() >= QSize(2000, 0).width()
    press(fitted.window, Qt.Key.Key_H, CTRL)
    assert QApplication.focusWidget() is fitted.window.pages.outlet.history


def test_that_the_chance_of_the_chart_is_that_of_the_table_at_the_same_time(fitted: Seat) -> None:
    _, lines = drifters(fitted)
    desk = fitted.window.showing.desk
    assert desk is not None
    for line in lines[:5]:
        page = desk.outlet_page(line.outlet_id)
        assert page.learned is not None
        assert page.learned.drift is not None
        weeks, chance = page.learned.drift.risk[3]
        found = desk.chance_by(page, page.learned.drift.at + timedelta(weeks=weeks))
        assert found == pytest.approx(chance, abs=1e-9)


def test_that_a_chart_is_printed_where_the_officer_says(fitted: Seat, tmp_path: Path) -> None:
    _, lines = drifters(fitted)
    fitted.window.showing.show_outlet(lines[0].outlet_id)
    settle()
    fitted.window.pages.outlet.go_to_chart()
    button = fitted.window.pages.outlet.drift.print_button
    QTest.mouseClick(button, Qt.MouseButton.LeftButton)
    assert list(tmp_path.glob("*.pdf")) == []
    fitted.answers.to_write = tmp_path / "chart.pdf"
    QTest.mouseClick(button, Qt.MouseButton.LeftButton)
    assert len(PdfReader(tmp_path / "chart.pdf").pages) == 1
    assert lines[0].ref in fitted.window.statusBar().currentMessage()


def test_that_reading_afresh_keeps_the_page(fitted: Seat) -> None:
    _, lines = drifters(fitted)
    fitted.window.showing.refresh()
    settle()
    assert fitted.window.showing.stack.currentWidget() is fitted.window.pages.drift
    assert fitted.window.pages.drift.listing.ordered.shown() == lines

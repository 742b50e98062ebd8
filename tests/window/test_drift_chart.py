"""The chart on the screen: pointed at, stepped through, copied, printed, light and dark."""

from dataclasses import replace
from datetime import timedelta
from pathlib import Path

import pytest
from pypdf import PdfReader
from PySide6.QtCore import QEvent, QPointF, QSize, Qt
from PySide6.QtGui import QColor, QImage, QMouseEvent
from PySide6.QtPrintSupport import QPrinter
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QLabel, QToolTip
from pytestqt.qtbot import QtBot

from estate.domain.browsing import OutletPage
from estate.domain.visits import Standing
from estate.errors import ReportFault
from estate.window.models import drift_words
from estate.window.models.chart_axes import Axes
from estate.window.models.drift_course import Course, course_of
from estate.window.pictures import settle
from estate.window.schemes import DARK, LIGHT, palette_of
from estate.window.shades import Shades
from estate.window.widgets.drift_chart import DriftChart
from estate.window.widgets.drift_panel import DriftPanel
from estate.window.widgets.drift_paper import lie_flat, print_course
from tests.window import builders
from tests.window.builders import TODAY, history_line, learned, page, window
from tests.window.test_drift_course import read


def full(**fields: object) -> OutletPage:
    lines = (
        read(4, 70, 41.6, 41.6),
        read(3, 150, 42.6, 41.0),
        history_line(2, 200, standing=Standing.VOID, void_reason="wrong outlet"),
        read(1, 300, 41.2, 41.2),
    )
    return page(**{"learned": learned(), "window": window(20, 70), "history": lines, **fields})


def course(**fields: object) -> Course:
    return course_of(full(**fields), TODAY, chance=0.034)


@pytest.fixture
def chart(qtbot: QtBot) -> DriftChart:
    made = DriftChart()
    qtbot.addWidget(made)
    made.resize(900, 320)
    made.setPalette(palette_of(LIGHT))
    made.tell(course())
    made.show()
    return made


def axes_of(chart: DriftChart) -> Axes:
    axes = chart.axes()
    assert axes is not None
    return axes


def move_to(chart: DriftChart, at: QPointF) -> None:
    none = Qt.MouseButton.NoButton
    event = QMouseEvent(
        QEvent.Type.MouseMove, at, chart.mapToGlobal(at), none, none, Qt.KeyboardModifier.NoModifier
    )
    QApplication.sendEvent(chart, event)


def heard(chart: DriftChart) -> list[str]:
    said: list[str] = []
    chart.told.connect(said.append)
    return said


def test_that_pointing_at_a_reading_tells_its_values(chart: DriftChart) -> None:
    said, axes = heard(chart), axes_of(chart)
    move_to(chart, QPointF(axes.x(TODAY - timedelta(days=150)) + 3, axes.y(42.6) + 3))
    assert said[-1] == (
        "28 Jun 2026, in-service test by T. Tester: found 42.6 °C, left 41.0 °C, re-adjusted."
    )
    assert "found 42.6 °C" in QToolTip.text()
    move_to(chart, QPointF(axes.x(TODAY - timedelta(days=200)), axes.y(41.4)))
    assert said[-1].endswith("void: wrong outlet, does not count.")


def test_that_pointing_at_the_fan_tells_its_intervals_on_that_day(chart: DriftChart) -> None:
    said, axes = heard(chart), axes_of(chart)
    move_to(chart, QPointF(axes.x(TODAY), axes.y(42.9)))
    assert said[-1] == (
        "Expected on 25 Nov 2026: 41.7 °C; 50 % between 41.5 and 41.9 °C, 95 % between 41.2 and 42.2 °C."
    )
    move_to(chart, QPointF(axes.x(TODAY + timedelta(days=70)), axes.y(42.9)))
    assert said[-1].endswith("Chance to reach 43.0 °C by 3 Feb 2027: 3.4 %.")


def test_that_pointing_at_nothing_tells_nothing(chart: DriftChart) -> None:
    said, axes = heard(chart), axes_of(chart)
    for at in (QPointF(axes.x(TODAY - timedelta(days=250)), axes.top + 4), QPointF(2, 2)):
        move_to(chart, at)
        assert said[-1] == ""
    move_to(chart, QPointF(axes.x(TODAY), axes.y(42.9)))
    QApplication.sendEvent(chart, QEvent(QEvent.Type.Leave))
    assert said[-1] == ""


def test_that_the_arrow_keys_step_through_readings_and_announce_them(chart: DriftChart) -> None:
    said = heard(chart)
    for key, begins in (
        (Qt.Key.Key_Left, "16 Sep 2026"),
        (Qt.Key.Key_Left, "28 Jun 2026"),
        (Qt.Key.Key_Left, "9 May 2026"),
        (Qt.Key.Key_Home, "29 Jan 2026"),
        (Qt.Key.Key_Left, "29 Jan 2026"),
        (Qt.Key.Key_Right, "9 May 2026"),
        (Qt.Key.Key_End, "Expected on 3 Feb 2027"),
        (Qt.Key.Key_Right, "Expected on 3 Feb 2027"),
        (Qt.Key.Key_Left, "16 Sep 2026"),
    ):
        QTest.keyClick(chart, key)
        assert said[-1].startswith(begins)
        assert chart.accessibleDescription() == said[-1]


def test_that_stepping_stays_within_the_years_shown(chart: DriftChart) -> None:
    old = read(9, 4000, 41.0, 41.0)
    chart.tell(course(history=(*full().history, old)))
    chart.show_years(2)
    QTest.keyClick(chart, Qt.Key.Key_Home)
    assert chart.accessibleDescription().startswith("29 Jan 2026")
    chart.show_years(None)
    QTest.keyClick(chart, Qt.Key.Key_Home)
    assert chart.accessibleDescription().startswith("13 Dec 2015")


def test_that_a_chart_is_described_for_those_who_do_not_see_it(chart: DriftChart) -> None:
    assert chart.accessibleName() == "Chart of the mixed temperature"
    words = chart.accessibleDescription()
    assert words.startswith("4 entries with a mixed temperature, 29 Jan 2026 to 16 Sep 2026.")
    assert "Chance to reach 43.0 °C by 3 Feb 2027: 3.4 %" in words


@pytest.mark.parametrize(
    "fields",
    [
        {"history": (), "learned": None, "window": None, "valve": None, "fittings": ()},
        {"history": (read(1, 70, 41.6, None),)},
        {"ceiling_c": None, "set_c": None},
        {"history": tuple(read(number, number * 30, 41.0, 41.5) for number in range(180))},
        {"history": (read(2, 10, 4.14, 414.0), read(1, 70, 41.6, None))},
    ],
    ids=["nothing", "one reading", "no limits", "fifteen years", "slips"],
)
@pytest.mark.parametrize("key", [Qt.Key.Key_Left, Qt.Key.Key_Home, Qt.Key.Key_End])
def test_that_every_kind_of_history_can_be_drawn_and_stepped_through(
    chart: DriftChart, fields: dict[str, object], key: Qt.Key
) -> None:
    before = chart.grab().toImage()
    chart.tell(course_of(full(**fields), TODAY))
    QTest.keyClick(chart, key)
    assert chart.grab().toImage() != before


def colours(image: QImage) -> set[int]:
    return {image.pixel(x, y) for x in range(0, image.width(), 2) for y in range(0, image.height(), 2)}


@pytest.mark.parametrize("shades", [LIGHT, DARK], ids=lambda each: each.name)
def test_that_the_chart_wears_the_scheme_in_use(chart: DriftChart, shades: Shades) -> None:
    chart.setPalette(palette_of(shades))
    seen = colours(chart.grab().toImage())
    assert QColor(shades.base).rgb() in seen
    assert QColor(shades.accent).rgb() in seen
    other = LIGHT if shades is DARK else DARK
    assert QColor(other.accent).rgb() not in seen


def test_that_void_readings_are_hollow(chart: DriftChart) -> None:
    axes, shown = axes_of(chart), chart.grab().toImage()
    ratio = shown.devicePixelRatio()

    def ink(ago: int, celsius: float) -> QColor:
        x, y = axes.x(TODAY - timedelta(days=ago)), axes.y(celsius)
        return shown.pixelColor(int(x * ratio), int(y * ratio))

    assert ink(70, 41.6) == QColor(LIGHT.text)
    assert ink(200, 41.4) != QColor(LIGHT.text)


def test_that_ctrl_c_copies_a_picture_on_a_light_ground(chart: DriftChart) -> None:
    chart.setPalette(palette_of(DARK))
    QApplication.clipboard().clear()
    chart.activateWindow()
    chart.setFocus()
    QTest.keyClick(chart, Qt.Key.Key_C, Qt.KeyboardModifier.ControlModifier)
    image = QApplication.clipboard().image()
    assert image.size() == QSize(2000, 920)
    assert image.pixelColor(3, 3) == QColor(LIGHT.base)
    assert QColor(LIGHT.text).rgb() in colours(image)


def test_that_the_menu_of_the_chart_copies_and_prints(chart: DriftChart) -> None:
    assert [each.text() for each in chart.actions()] == ["Copy as picture", "Print…"]
    assert chart.contextMenuPolicy() is Qt.ContextMenuPolicy.ActionsContextMenu
    asked: list[None] = []
    chart.print_asked.connect(lambda: asked.append(None))
    chart.print_action.trigger()
    assert len(asked) == 1


def printer_to(path: Path) -> QPrinter:
    printer = QPrinter(QPrinter.PrinterMode.HighResolution)
    printer.setOutputFormat(QPrinter.OutputFormat.PdfFormat)
    printer.setOutputFileName(str(path))
    lie_flat(printer, "MM/G/G01/WHB1")
    return printer


def test_that_the_paper_says_what_the_screen_says(chart: DriftChart, tmp_path: Path) -> None:
    to = tmp_path / "chart.pdf"
    print_course(printer_to(to), course(), drift_words.of_page(full()), chart.font())
    (sheet,) = PdfReader(to).pages
    assert sheet.mediabox.width > sheet.mediabox.height
    words = " ".join(sheet.extract_text().split())
    for part in (
        "MM/G/G01/WHB1",
        "Marlpit Cross · Main Block · G · G01 Bathroom · Basin 1. As at 25 Nov 2026.",
        "Never above 43.0 °C",
        "Chance to reach 43.0 °C by 3 Feb 2027: 3.4 %",
        "Level: 41.5 ± 0.4 °C on 16 Sep 2026",
        "Regulation: regulates",
    ):
        assert part in words, part


@pytest.mark.qt_log_ignore("QPainter::begin")
def test_that_a_printer_that_refuses_is_a_known_fault(chart: DriftChart, tmp_path: Path) -> None:
    with pytest.raises(ReportFault, match=r"gone"):
        print_course(printer_to(tmp_path / "gone" / "chart.pdf"), course(), (), chart.font())


@pytest.fixture
def panel(qtbot: QtBot) -> DriftPanel:
    made = DriftPanel()
    qtbot.addWidget(made)
    made.resize(920, 520)
    made.show()
    return made


def said(panel: DriftPanel) -> str:
    return "\n".join(each.text() for each in panel.findChildren(QLabel) if not each.isHidden())


def test_that_what_is_learned_is_told_in_words_with_its_cautions(panel: DriftPanel) -> None:
    panel.tell(full(), course())
    settle()
    words = said(panel)
    for part in (
        "41.5 ± 0.4 °C on 16 Sep 2026",
        "+0.020 ± 0.010 K a week, +1.0 K a year",
        "1.0 %, passed after 14 weeks",
        "Make A A15 at Marlpit Cross: 34 valves with 512 readings up to 25 Nov 2026",
        "Chance to reach 43.0 °C",
        "less than 0.1 %",
        "12 %",
        "60 %",
        "3.5 years shown in order, 1 failure found",
        "2.4 %",
        "0.05 (-0.10 to 0.20)",
    ):
        assert part in words, part
    assert words.count("An estimate, not a permission") == 3


def test_that_before_groups_are_fitted_the_panel_says_why_it_is_silent(panel: DriftPanel) -> None:
    panel.tell(full(learned=None), course_of(full(learned=None), TODAY))
    words = said(panel)
    assert "Groups of valves are fitted when sheets of results are brought in" in words
    assert "Chance" not in words


def test_that_where_nothing_can_be_said_the_panel_says_so(panel: DriftPanel) -> None:
    bare = full(learned=learned(drift=None, shut_off=None, regulation=None))
    panel.tell(bare, course_of(bare, TODAY))
    words = said(panel)
    assert "no reading that says it" in words
    assert "never tested" in words
    assert "too few readings" in words
    open_top = full(ceiling_c=None, learned=learned(drift=builders.drift(risk=(), horizon_weeks=None)))
    panel.tell(open_top, course_of(open_top, TODAY))
    assert "none is given, so no chance is told" in said(panel)


def test_that_the_years_chosen_are_those_shown(panel: DriftPanel) -> None:
    old = replace(full(), history=(*full().history, read(9, 4000, 41.0, 41.0)))
    panel.tell(old, course_of(old, TODAY))
    assert panel.years is None
    wide = panel.chart.grab().toImage()
    panel.span.setCurrentIndex(2)
    assert panel.years == 2
    assert panel.chart.grab().toImage() != wide

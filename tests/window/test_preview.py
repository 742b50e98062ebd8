"""Reports as they come on paper: pages, size, words, printing, saving."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from pypdf import PdfReader
from PySide6.QtCore import QMarginsF, QRectF, QSize, Qt
from PySide6.QtGui import QGuiApplication, QPageLayout, QPageSize, QPainter, QPdfWriter
from PySide6.QtPrintSupport import QPrinter
from PySide6.QtTest import QTest
from pytestqt.qtbot import QtBot

from estate.domain.progress import Cancelled, silent
from estate.errors import ReportFault
from estate.window.dialogs.preview_report import PreviewDialog
from estate.window.models.paper import Paper
from estate.window.notices import Notices
from estate.window.paper_doings import PaperDoings
from estate.window.tasks import Straight, Tasks
from estate.window.widgets.paper_printing import print_paper, set_up, wanted
from estate.window.widgets.paper_view import PaperView
from tests.window.conftest import Answers

A5_LYING_PT = (595, 420)


@pytest.fixture(scope="module")
def content(tmp_path_factory: pytest.TempPathFactory, qapp: object) -> bytes:
    """Three pages of A5, lying; each bears its number and a black square."""
    path = tmp_path_factory.mktemp("paper") / "three.pdf"
    writer = QPdfWriter(str(path))
    size = QPageSize(QPageSize.PageSizeId.A5)
    writer.setPageLayout(QPageLayout(size, QPageLayout.Orientation.Landscape, QMarginsF(0, 0, 0, 0)))
    painter = QPainter(writer)
    for number in range(1, 4):
        if number > 1:
            writer.newPage()
        painter.drawText(QRectF(1500, 1500, 6000, 2000), f"page number {number}")
        painter.fillRect(QRectF(300, 300, 600, 600), Qt.GlobalColor.black)
    painter.end()
    return path.read_bytes()


@pytest.fixture
def paper(content: bytes) -> Iterator[Paper]:
    made = Paper(content)
    yield made
    made.close()


@pytest.fixture
def view(qtbot: QtBot, paper: Paper) -> PaperView:
    made = PaperView()
    qtbot.addWidget(made)
    made.resize(640, 480)
    made.tell(paper)
    made.show()
    return made


def to_file(path: Path, paper: Paper) -> QPrinter:
    printer = QPrinter(QPrinter.PrinterMode.HighResolution)
    printer.setOutputFormat(QPrinter.OutputFormat.PdfFormat)
    printer.setOutputFileName(str(path))
    set_up(printer, paper, "Overdue list")
    return printer


def darkest(paper: Paper, number: int) -> tuple[int, int]:
    """Grey of a place in the black square, and of one in the margin."""
    shown = paper.drawn(number, 96)
    return shown.pixelColor(45, 45).lightness(), shown.pixelColor(5, 5).lightness()


def test_that_a_report_is_known_by_its_pages_their_size_and_words(paper: Paper) -> None:
    assert [each.number for each in paper.sheets] == [0, 1, 2]
    assert [(round(each.wide_pt), round(each.high_pt)) for each in paper.sheets] == [A5_LYING_PT] * 3
    assert all(each.lies for each in paper.sheets)
    assert "page number 2" in paper.words(1)


def test_that_pages_are_drawn_on_white_as_finely_as_asked(paper: Paper) -> None:
    assert darkest(paper, 0) == (0, 255)
    assert [paper.drawn(0, dots).width() for dots in (96, 192)] == [794, 1587]


def test_that_a_printed_report_has_its_pages_its_paper_and_what_was_drawn(
    paper: Paper, tmp_path: Path
) -> None:
    told: list[str] = []
    to = tmp_path / "printed.pdf"
    assert print_paper(to_file(to, paper), paper, lambda done, of, words: told.append(words)) == 3
    assert told == ["Page 1 of 3", "Page 2 of 3", "Page 3 of 3"]
    pages = PdfReader(to).pages
    assert len(pages) == 3
    assert (round(pages[0].mediabox.width), round(pages[0].mediabox.height)) == A5_LYING_PT
    printed = Paper(to.read_bytes())
    assert darkest(printed, 2)[0] < 40
    assert darkest(printed, 2)[1] > 215
    printed.close()


def test_that_only_the_pages_asked_for_are_printed(paper: Paper, tmp_path: Path) -> None:
    printer = to_file(tmp_path / "some.pdf", paper)
    printer.setPrintRange(QPrinter.PrintRange.PageRange)
    printer.setFromTo(2, 3)
    assert [each.number for each in wanted(printer, paper)] == [1, 2]


@pytest.mark.qt_log_ignore("QPainter::begin")
def test_that_printing_stops_when_asked_and_a_printer_that_refuses_is_explained(
    paper: Paper, tmp_path: Path
) -> None:
    def stop(done: int, of: int, words: str) -> None:
        if done:
            raise Cancelled

    with pytest.raises(Cancelled):
        print_paper(to_file(tmp_path / "stopped.pdf", paper), paper, stop)
    with pytest.raises(ReportFault, match="can't be printed"):
        print_paper(to_file(tmp_path / "no" / "such.pdf", paper), paper, silent)


def test_that_keys_turn_pages_and_copy_their_words(view: PaperView) -> None:
    seen: list[int] = []
    view.turned.connect(seen.append)
    for key in (Qt.Key.Key_PageDown, Qt.Key.Key_PageDown, Qt.Key.Key_PageUp, Qt.Key.Key_End):
        QTest.keyClick(view, key)
    assert seen == [2, 3, 2, 3]
    assert view.accessibleDescription() == "Page 3 of 3"
    QTest.keyClick(view, Qt.Key.Key_C, Qt.KeyboardModifier.ControlModifier)
    assert "page number 3" in QGuiApplication.clipboard().text()
    QTest.keyClick(view, Qt.Key.Key_Home)
    assert view.verticalScrollBar().value() == 0


def test_that_pages_fit_the_window_or_are_as_large_as_chosen(view: PaperView) -> None:
    fitting = view.scale
    view.resize(840, 480)
    assert view.scale > fitting
    view.show_at(2.0)
    assert view.scale == 2.0
    assert view.horizontalScrollBar().maximum() > 0
    view.show_at(None)
    assert view.horizontalScrollBar().maximum() == 0
    view.grab()
    view.tell(None)
    assert view.verticalScrollBar().maximum() == 0


def test_that_the_preview_tells_the_page_in_sight_and_prints_by_enter(qtbot: QtBot, paper: Paper) -> None:
    dialog = PreviewDialog("overdue list", paper)
    qtbot.addWidget(dialog)
    asked: list[str] = []
    dialog.print_asked.connect(lambda: asked.append("print"))
    dialog.show()
    dialog.resize(QSize(700, 500))
    dialog.page.setValue(3)
    assert dialog.view.accessibleDescription() == "Page 3 of 3"
    dialog.scale.setCurrentIndex(1)
    assert dialog.view.scale == 0.5
    QTest.keyClick(dialog.view, Qt.Key.Key_Home)
    assert dialog.page.value() == 1
    QTest.keyClick(dialog, Qt.Key.Key_Return)
    assert asked == ["print"]


def test_that_leaving_without_a_printer_or_a_file_does_nothing_and_a_wrong_ending_is_refused(
    qtbot: QtBot, content: bytes, tmp_path: Path
) -> None:
    answers, said = Answers(), Notices()
    with Straight() as executor:
        doings = PaperDoings(Tasks(executor, said), said, answers)
        parent = PaperView()
        qtbot.addWidget(parent)
        doings.show("overdue list", "overdue", lambda to, progress: _written(to, content), parent)
        qtbot.waitUntil(lambda: bool(parent.findChildren(PreviewDialog)))
        (dialog,) = parent.findChildren(PreviewDialog)
        for button in (dialog.print, dialog.pdf, dialog.sheet):
            button.click()
        assert dialog.isVisible()
        answers.to_write = tmp_path / "overdue.xlsx"
        with qtbot.waitSignal(said.fault_met) as met:
            dialog.pdf.click()
        assert "does not end in .pdf" in met.args[0].detail
        assert not answers.to_write.exists()
        answers.to_write = tmp_path / "overdue.pdf"
        with qtbot.waitSignal(said.said):
            dialog.pdf.click()
            dialog.reject()  # before the worker is done
        assert answers.to_write.read_bytes() == content
        assert answers.shown == [answers.to_write]


def _written(to: Path, content: bytes) -> Path:
    to.write_bytes(content)
    return to

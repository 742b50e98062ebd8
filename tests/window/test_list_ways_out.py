"""What leaves a list: onto the clipboard and onto paper, with nothing lost and nothing that runs."""

import csv
import io
from collections.abc import Sequence
from dataclasses import replace
from datetime import date
from itertools import pairwise
from pathlib import Path

import pytest
from pypdf import PdfReader
from PySide6.QtCore import QItemSelectionModel, Qt
from PySide6.QtGui import QGuiApplication
from PySide6.QtTest import QTest
from pytestqt.qtbot import QtBot

from estate.domain.due import DueLine
from estate.domain.neutral import as_it_was, begins_like_a_formula
from estate.domain.progress import Cancelled
from estate.domain.shown_list import ShownCell, ShownColumn, ShownGroup, ShownList
from estate.errors import ReportFault
from estate.window.marks import Mark
from estate.window.models import cells
from estate.window.models.cells import Cell, Column
from estate.window.models.due_rows import DueModel
from estate.window.models.list_layout import Breaking, Piece, Way, paged, strips
from estate.window.models.shown_rows import shown_cell
from estate.window.models.table import TableModel
from estate.window.widgets.list_bar import ListBar
from estate.window.widgets.list_ink import About
from estate.window.widgets.list_paper import paper_family, write_pages
from estate.window.widgets.listing import Listing
from tests.operations.test_formulas_stay_words import HOSTILE
from tests.window.builders import due_line

ABOUT = About("Withy End Care Home", "as at 25 Nov 2026")
DAY = date(2026, 11, 25)
Row = tuple[int, str]


def due(qtbot: QtBot, *lines: DueLine) -> Listing[DueLine]:
    listing: Listing[DueLine] = Listing(DueModel(), "Due list")
    qtbot.addWidget(listing)
    listing.table.fill(lines)
    listing.liked.choose(listing.liked.order(), ["state", "outlet", "test-by", "late-days", "valve"])
    return listing


def pasted() -> list[list[str]]:
    text = QGuiApplication.clipboard().mimeData().text()
    return [line.split("\t") for line in text.splitlines() if line]


def shown(
    rows: Sequence[Sequence[str]], titles: Sequence[str] = (), grouped: bool = False, mark: str = ""
) -> ShownList:
    told = tuple(
        tuple(ShownCell(words, mark=mark if not at else "") for at, words in enumerate(row)) for row in rows
    )
    columns = tuple(ShownColumn(title) for title in titles or [f"T{at}" for at in range(len(rows[0]))])
    groups = (ShownGroup("first", mark, told[:1]), ShownGroup("second", "", told[1:])) if grouped else ()
    return ShownList("A list", columns, groups or (ShownGroup("", "", told),), 99, "Kind" if grouped else "")


def pages(made: ShownList, tmp_path: Path) -> list[str]:
    path = write_pages(made, ABOUT, paper_family(), tmp_path / "list.pdf")
    return [page.extract_text() for page in PdfReader(path).pages]


def test_that_the_list_is_copied_as_shown_with_days_and_numbers_as_such(qtbot: QtBot) -> None:
    listing = due(qtbot, due_line(1), due_line(2, after=9), due_line(3))
    listing.ordered.want(lambda line: line.outlet_id != 3)
    listing.sortByColumn(1, Qt.SortOrder.DescendingOrder)
    listing.liked.move(1, -1)
    assert listing.copy_all() == 2
    assert pasted() == [
        ["Outlet", "State", "Test by", "Late days", "Valve"],
        ["MM/G/G02/WHB1", "window open", "2026-12-04", "", "Make A A15 A15-2"],
        ["MM/G/G01/WHB1", "overdue", "2026-11-15", "10", "Make A A15 A15-1"],
    ]
    html = QGuiApplication.clipboard().mimeData().html()
    assert html.startswith("<table><tr><th>Outlet</th>")
    assert "<td>2026-11-15</td><td>10</td>" in html


def test_that_the_chosen_lines_are_copied_by_their_key(qtbot: QtBot) -> None:
    listing = due(qtbot, due_line(1), due_line(2), due_line(3))
    listing.liked.group_by(0)
    QGuiApplication.clipboard().setText("")
    QTest.keyClick(listing, Qt.Key.Key_C, Qt.KeyboardModifier.ControlModifier)
    assert pasted() == []
    rows = QItemSelectionModel.SelectionFlag.Select | QItemSelectionModel.SelectionFlag.Rows
    for row in (3, 0, 1):
        listing.selectionModel().select(listing.ordered.index(row, 0), rows)
    QTest.keyClick(listing, Qt.Key.Key_C, Qt.KeyboardModifier.ControlModifier)
    assert [line[1] for line in pasted()] == ["Outlet", "MM/G/G01/WHB1", "MM/G/G03/WHB1"]


def test_that_nothing_copied_runs_and_none_loses_a_character(qtbot: QtBot) -> None:
    listing = due(qtbot, *(due_line(at, valve=text) for at, text in enumerate(HOSTILE, 1)))
    listing.liked.choose(listing.liked.order(), ["valve"])
    listing.copy_all()
    copied = [line[0] for line in pasted()][1:]
    assert not [each for each in copied if begins_like_a_formula(each)]
    assert [as_it_was(each) for each in copied] == [" ".join(text.split()) for text in HOSTILE]
    assert ">=" not in QGuiApplication.clipboard().mimeData().html()


def test_that_a_cell_with_breaks_stays_one_cell(qtbot: QtBot) -> None:
    listing = due(qtbot, due_line(1, valve="one\ttwo\n=three"))
    listing.copy_all()
    assert pasted()[1][-1] == "one two =three"


@pytest.mark.parametrize(
    ("cell", "told"),
    [
        (cells.figure(41.0, 1), ShownCell("41.0", 41.0, 1)),
        (cells.figure(12500, None), ShownCell("12500", 12500, 0)),
        (cells.figure(0.0000001, None), ShownCell("1e-07", 0.0000001)),
        (cells.figure(None), ShownCell("")),
        (cells.on_day(DAY), ShownCell("25 Nov 2026", DAY)),
        (cells.on_day(None, "never"), ShownCell("never")),
        (Cell("in order", 1.0, Mark.TICK), ShownCell("in order", mark="tick")),
    ],
)
def test_that_a_cell_tells_its_value_and_how_it_is_shown(cell: Cell, told: ShownCell) -> None:
    assert shown_cell(cell) == told


def _share(row: Row) -> Cell:
    return cells.figure(row[0] / 1e8)


def test_that_a_small_number_is_copied_whole(qtbot: QtBot) -> None:
    columns = (Column("Share", _share),)
    listing: Listing[Row] = Listing(TableModel(columns, lambda row: row[0]), "Shares")
    qtbot.addWidget(listing)
    listing.table.fill([(5, "")])
    listing.copy_all()
    assert float(pasted()[1][0]) == 5e-8


def test_that_what_was_asked_for_goes_with_the_list(qtbot: QtBot) -> None:
    listing = due(qtbot, due_line(1), due_line(2))
    bar = ListBar(listing)
    qtbot.addWidget(bar)
    bar.sought.setText("g02")
    listing.ordered.keep_only(0, {"overdue"})
    listing.liked.group_by(0)
    found = listing.shown_list()
    assert found.narrowed == ("with the words “g02”", "State: overdue")
    assert (found.count, found.held, found.grouped_by) == (1, 2, "State")
    assert [(group.words, group.mark, len(group.rows)) for group in found.groups] == [
        ("overdue", "filled lozenge", 1)
    ]
    assert bar.counted.text() == "1 of 2 shown; only State: overdue; grouped by State"
    assert ListBar.asked(bar) == ("with the words “g02”",)


def test_that_the_bar_says_nothing_where_the_page_says_it(qtbot: QtBot) -> None:
    bar = ListBar(due(qtbot, due_line(1)))
    qtbot.addWidget(bar)
    assert bar.counted.text() == "1 shown"
    bar.say(lambda now, held: "")
    assert bar.counted.isHidden()


def test_that_every_line_is_on_paper_with_headings_and_page_numbers(tmp_path: Path, qtbot: QtBot) -> None:
    rows = [[f"MM/{at:04}", "some words", "more"] for at in range(150)]
    found = pages(replace(shown(rows, ("Outlet", "What", "Why")), narrowed=("overdue",)), tmp_path)
    assert len(found) > 2
    for at, text in enumerate(found, 1):
        for said in (
            "A list",
            "Withy End Care Home",
            "as at 25 Nov 2026",
            "150 of 99 lines; overdue",
            "Outlet",
        ):
            assert said in text
        assert f"page {at} of {len(found)}" in text
    everything = " ".join(found)
    assert all(everything.count(row[0]) == 1 for row in rows)


def test_that_columns_that_do_not_fit_go_onto_further_pages_with_what_tells_lines_apart(
    tmp_path: Path, qtbot: QtBot
) -> None:
    rows = [[f"MM/{line}", *(f"word{at}-{line}-abcdefghij" for at in range(20))] for line in range(3)]
    found = pages(shown(rows), tmp_path)
    assert len(found) > 1
    assert all(f"MM/{line}" in text for line in range(3) for text in found)
    everything = " ".join(found)
    assert all(word in everything for row in rows for word in row)
    assert f"columns, part 1 of {len(found)}" in found[0]


def test_that_no_word_is_cut_however_long(tmp_path: Path, qtbot: QtBot) -> None:
    long = " ".join(f"w{at}" for at in range(1500))
    found = pages(shown([["A", long], ["B", "x" * 900]]), tmp_path)
    words = " ".join(found).split()
    assert {f"w{at}" for at in range(1500)} <= set(words)
    assert sum(word.count("x") for word in words if set(word) == {"x"}) == 900


def test_that_a_group_has_its_heading_shape_and_count(tmp_path: Path, qtbot: QtBot) -> None:
    (text,) = pages(shown([["a", "b"], ["c", "d"]], grouped=True, mark=Mark.TICK.value), tmp_path)
    assert "first: 1" in text
    assert "second: 1" in text
    assert "grouped by Kind" in text


def test_that_an_empty_list_comes_on_one_page(tmp_path: Path, qtbot: QtBot) -> None:
    (text,) = pages(replace(shown([["a"]], ("Outlet",)), groups=()), tmp_path)
    assert "0 of 99 lines" in text
    assert "page 1 of 1" in text


def test_that_a_page_that_cannot_be_written_is_told(tmp_path: Path, qtbot: QtBot) -> None:
    with pytest.raises(ReportFault):
        write_pages(shown([["a"]]), ABOUT, paper_family(), tmp_path / "none" / "list.pdf")


def test_that_writing_pages_can_be_stopped(tmp_path: Path, qtbot: QtBot) -> None:
    def stop(done: int, of: int, words: str) -> None:
        raise Cancelled

    with pytest.raises(Cancelled):
        write_pages(shown([["a"]]), ABOUT, paper_family(), tmp_path / "list.pdf", stop)


def width(words: str) -> float:
    return 10.0 * len(words)


def test_that_days_and_numbers_never_break_and_columns_fill_no_more_than_the_page() -> None:
    told = (ShownCell("25 November 2026", DAY), ShownCell("many words that may break anywhere here " * 4))
    made = ShownList("A", (ShownColumn("Day"), ShownColumn("Why")), (ShownGroup("", "", (told,)),), 1)
    assert strips(made, width, 12, 400, Way.EASY)[0].widths[0] >= 160
    (strip,) = strips(made, width, 12, 300, Way.TIGHT)
    assert strip.widths[0] >= 160
    assert sum(strip.widths) + 10 <= 300 + 1e-6
    assert strips(made, width, 12, 200, Way.TIGHT) == ()
    assert [each.places for each in strips(made, width, 12, 200, Way.PARTED)] == [(0, 1)]


def test_that_lines_break_between_words_and_nothing_is_left_out() -> None:
    breaking = Breaking(width)
    assert breaking.lines("one two three", 80) == ("one two", "three")
    assert breaking.lines("one two three", 80) is breaking.lines("one two three", 80)
    assert breaking.lines("a abcdefghijk b", 50) == ("a", "abcde", "fghij", "k b")
    assert breaking.lines("", 50) == ("",)
    assert breaking.lines("as found 43.1 °C; then", 150) == ("as found", "43.1 °C; then")
    assert breaking.lines("\n", 50) == ("",)


def piece(words: str, high: int = 1, heading: bool = False) -> Piece:
    return Piece((tuple(f"{words}{at}" for at in range(high)),), ("",), high, heading)


def test_that_no_heading_stands_last_on_a_page() -> None:
    made = list(paged(iter([piece("a", 3), piece("h", heading=True), piece("b", 2), piece("c", 2)]), 5))
    assert [[each.cells[0][0] for each in page] for page in made] == [["a0"], ["h0", "b0", "c0"]]
    assert all(sum(each.high for each in page) <= 5 for page in made)


def test_that_a_line_higher_than_a_page_goes_on_on_the_next() -> None:
    made = list(paged(iter([piece("a", 1), piece("b", 12), piece("c", 1)]), 5))
    told = [line for page in made for each in page for line in each.cells[0]]
    assert told == ["a0", *(f"b{at}" for at in range(12)), "c0"]
    assert all(sum(each.high for each in page) <= 5 for page in made)
    assert not any(before is after for before, after in pairwise(made))


def test_that_text_of_the_clipboard_is_delimited_text(qtbot: QtBot) -> None:
    due(qtbot, due_line(1, valve='a "b"')).copy_all()
    text = QGuiApplication.clipboard().mimeData().text()
    rows = list(csv.reader(io.StringIO(text), delimiter="\t", quoting=csv.QUOTE_NONE))
    assert rows[1][-1] == 'a "b"'


def test_that_a_bar_asks_for_nothing_when_it_is_cleared(qtbot: QtBot) -> None:
    listing = due(qtbot, due_line(1), due_line(2))
    bar = ListBar(listing)
    qtbot.addWidget(bar)
    bar.sought.setText("g02")
    listing.ordered.keep_only(0, set())
    assert listing.ordered.count == 0
    bar.clear()
    assert (listing.ordered.count, listing.narrowed(), bar.counted.text()) == (2, (), "2 shown")

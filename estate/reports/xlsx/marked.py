"""Writes somebody's own workbook with marked cells, comments and a list of questions in front."""

import math
import re
from collections.abc import Sequence
from copy import copy
from dataclasses import replace
from datetime import date
from itertools import islice
from pathlib import Path

from openpyxl.cell.cell import Cell as SheetCell
from openpyxl.comments import Comment
from openpyxl.styles import Border, PatternFill, Side
from openpyxl.utils import column_index_from_string, get_column_letter
from openpyxl.workbook import Workbook
from openpyxl.worksheet.worksheet import Worksheet

from estate.domain.progress import Progress, silent
from estate.domain.written_back import QUESTIONS_MARK
from estate.reports.document import Document, Fact, Section
from estate.reports.marked_copy import HOW_TO, CopiedCell, CopiedSheet, Mark, MarkedCopy
from estate.reports.replacing import replacing
from estate.reports.xlsx.appearance import Appearance, CellLook
from estate.reports.xlsx.cells import Look, add_looks, lines_needed, safe_text, set_text, set_words
from estate.reports.xlsx.saving import new_book, save, show_first
from estate.reports.xlsx.sheets import add_read_first, add_table, cell_at, sheet_name

MOST_CELLS = 500_000
"""More cells than these are not copied; the sheets left out are named in what is to be read first."""

MOST_MERGED = 100_000
"""Cells in merged ranges; beyond them ranges are left apart."""

MOST_COMMENTS = 10_000
"""Cells marked; every question is in the list all the same."""

_MOST_WORDS = 4_000
_COMMENT_WIDTH, _COMMENT_LETTERS, _LINE = 340, 48.0, 18
_EDGE = Side("thick", color="9B2C00")
_OUTLINE = Border(_EDGE, _EDGE, _EDGE, _EDGE)
_FILL = PatternFill("solid", "FFE7A3")
_NAME = re.compile(r"([A-Z]{1,3})([0-9]{1,7})")
_FIRST_DAY = "1900-03-01"
"""Earlier days can't be told apart in the form."""


def write_marked(marked: MarkedCopy, path: Path, progress: Progress = silent) -> Path:
    """Write a marked copy to an .xlsx file, whole or not at all; the same copy gives the same bytes.

    Args:
        marked: what is copied and what is marked.
        path: the file; one already there is replaced.
        progress: told of sheets written; may raise `Cancelled`.

    Returns:
        The path written.

    Raises:
        ReportFault: the file can't be written.
    """
    with replacing(path) as written:
        book = new_book(marked.file, marked.front.register)
        add_looks(book)
        kept, left_out = _that_fit(marked.sheets)
        made = _add_sheets(book, kept, Appearance(marked.parts), progress)
        for mark in marked.marks[:MOST_COMMENTS]:
            if mark.sheet in made:
                made[mark.sheet].mark(mark, marked.front.register)
        _add_questions(book, marked, left_out)
        save(book, written, marked.front.as_at)
    progress(len(kept), len(kept), "sheets")
    return path


def _add_questions(book: Workbook, marked: MarkedCopy, left_out: Sequence[str]) -> None:
    """The list of questions and what to read first, in front of the copied sheets."""
    add_read_first(book, _said_first(marked.front, left_out))
    book.move_sheet(book.worksheets[-1], -len(book.worksheets) + 1)
    add_table(book, marked.front, Section(QUESTIONS_MARK), marked.questions, lambda _: None)
    sheet = book.worksheets[-1]
    set_words(cell_at(sheet, 3, 1), HOW_TO, Look.QUIET)
    book.move_sheet(sheet, -len(book.worksheets) + 1)
    show_first(book, 0)


def _said_first(document: Document, names: Sequence[str]) -> Document:
    """What is to be read first, with the sheets that are left out."""
    if not names:
        return document
    words = f"{', '.join(names)}. Correct the rows named in the list in your own file, and send that back."
    return replace(document, facts=(*document.facts, Fact("Too big to be copied here", words)))


def _add_sheets(
    book: Workbook, copied: Sequence[CopiedSheet], appearance: Appearance, progress: Progress
) -> dict[str, "_Sheet"]:
    made = {}
    for done, each in enumerate(copied):
        progress(done, len(copied), each.name)
        made[each.name] = _Sheet(book, each, appearance)
    return made


def _that_fit(sheets: Sequence[CopiedSheet]) -> tuple[list[CopiedSheet], list[str]]:
    kept, left_out, room = [], [], MOST_CELLS
    for each in sheets:
        size = sum(value is not None for row in each.rows for value in row)
        if size > room:
            left_out.append(each.name)
        else:
            kept.append(each)
            room -= size
    return kept, left_out


class _Sheet:
    """One copied sheet, and where marks go in it."""

    def __init__(self, book: Workbook, copied: CopiedSheet, appearance: Appearance) -> None:
        self._copied = copied
        self._height, self._width = len(copied.rows), max(map(len, copied.rows), default=0)
        self._sheet: Worksheet = book.create_sheet(sheet_name(copied.name, book.sheetnames))
        self._sheet.sheet_state = "hidden" if copied.hidden else "visible"
        self._firsts: dict[tuple[int, int], tuple[int, int]] = {}
        self._dress(appearance)
        for number, row in enumerate(copied.rows, start=1):
            for column, value in enumerate(row, start=1):
                if value is not None:
                    _set(cell_at(self._sheet, number, column), value)
        for merged in copied.merged:
            self._merge(*merged)

    def _dress(self, appearance: Appearance) -> None:
        """Give cells, rows and columns their look, as far as the sheet goes."""
        look = appearance.sheet(self._copied.name, self._height, self._width)
        firsts: dict[int, SheetCell] = {}
        for (row, column), number in islice(look.cells.items(), MOST_CELLS):
            cell = cell_at(self._sheet, row, column)
            if number in firsts:
                cell._style = copy(firsts[number]._style)  # type: ignore[attr-defined]  # left out of its types
            else:
                _give(cell, appearance.look(number))
                firsts[number] = cell
        for column, width in look.widths.items():
            self._sheet.column_dimensions[get_column_letter(column)].width = width
        for row, height in look.heights.items():
            self._sheet.row_dimensions[row].height = height
        for column in self._copied.hidden_columns & set(range(self._width)):
            self._sheet.column_dimensions[get_column_letter(column + 1)].hidden = True
        for row in self._copied.hidden_rows & set(range(self._height)):
            self._sheet.row_dimensions[row + 1].hidden = True

    def _merge(self, top: int, left: int, bottom: int, right: int) -> None:
        """Merge a range (0-based) that lies within the sheet and shares no cell with another."""
        size = (bottom - top + 1) * (right - left + 1)
        within = 0 <= top <= bottom < self._height and 0 <= left <= right < self._width
        if not within or size == 1 or size + len(self._firsts) > MOST_MERGED:
            return
        cells = [(row, column) for row in range(top + 1, bottom + 2) for column in range(left + 1, right + 2)]
        if self._firsts.keys().isdisjoint(cells):
            self._firsts |= dict.fromkeys(cells, cells[0])
            self._sheet.merge_cells(
                start_row=top + 1, start_column=left + 1, end_row=bottom + 1, end_column=right + 1
            )

    def mark(self, mark: Mark, author: str) -> None:
        """Fill and outline a cell and tell in a comment why; a place outside the sheet stays unmarked."""
        place = self._place(mark)
        if place is None:
            return
        cell = cell_at(self._sheet, *place)
        cell.fill, cell.border = _FILL, _OUTLINE
        words = safe_text(mark.words)
        words = words if len(words) <= _MOST_WORDS else f"{words[:_MOST_WORDS]} …"
        lines = sum(lines_needed(line, _COMMENT_LETTERS) for line in words.split("\n"))
        cell.comment = Comment(words, safe_text(author), height=_LINE * (lines + 1), width=_COMMENT_WIDTH)

    def _place(self, mark: Mark) -> tuple[int, int] | None:
        """Row and column of a mark: of a merged range its first cell, without a name the first filled one."""
        row, column = mark.row, 1
        if match := _NAME.fullmatch(mark.cell):
            row, column = int(match[2]), column_index_from_string(match[1])
        elif 0 < row <= self._height:
            values = enumerate(self._copied.rows[row - 1], start=1)
            column = next((number for number, value in values if value is not None), 1)
        if not (0 < row <= self._height + 1 and column <= self._width + 1):
            return None
        return self._firsts.get((row, column), (row, column))


def _give(cell: SheetCell, look: CellLook) -> None:
    cell.font, cell.fill, cell.border = look.font, look.fill, look.border
    cell.alignment, cell.number_format = look.alignment, look.number_format


def _set(cell: SheetCell, value: CopiedCell) -> None:
    """Write a value; what the form can't hold as it is becomes words."""
    if isinstance(value, str):
        set_text(cell, value)
    elif isinstance(value, float) and not math.isfinite(value):
        set_text(cell, str(value))
    elif isinstance(value, date) and value.isoformat() < _FIRST_DAY:
        set_text(cell, value.isoformat())
    else:
        cell.value = value

"""Writes a blank round sheet as a workbook."""

from collections.abc import Iterator, Sequence
from itertools import pairwise
from pathlib import Path

from openpyxl.utils import get_column_letter
from openpyxl.workbook import Workbook
from openpyxl.worksheet.pagebreak import Break
from openpyxl.worksheet.worksheet import Worksheet

from estate.domain.progress import Progress, silent
from estate.reports.replacing import replacing
from estate.reports.round_columns import Holds, Part, RoundColumn
from estate.reports.round_sheet import HOW_TO, READ_FIRST, STARRED, RoundLine, RoundSheet, limit_words
from estate.reports.xlsx.cells import Look, add_looks, lines_needed, set_words
from estate.reports.xlsx.round_checks import LISTS, checks
from estate.reports.xlsx.round_looks import RoundLook, add_round_looks
from estate.reports.xlsx.saving import new_book, save, show_first
from estate.reports.xlsx.sheets import add_words, cell_at, print_set_up

SHEET = "Round"
_TOLD_EVERY = 200
_LEAST_LINES = 2
_LIMIT = "limit here"
_BETWEEN, _GAP = 2, 4.0
"""The limits stand a thin empty row above the headings, so that no reader takes them for words of these."""

_MIDDLE = "valve"
_ZOOM = 85
"""Per cent: so that the head and a dozen rows are in sight on a small screen."""

_ROOM = 3
"""Columns that a line for the whole round takes."""

_POINTS = 14.6
"""Height of a line."""

_WIDEST = 24.0
_HEAD_LETTER = 0.85
"""Width of a heading's letters, which are smaller than those that widths are counted in."""


def write_round(round_: RoundSheet, path: Path, progress: Progress = silent) -> Path:
    """Write a round sheet to an .xlsx file, whole or not at all; the same sheet gives the same bytes.

    Args:
        round_: what stands on it.
        path: the file; one already there is replaced.
        progress: told of rows written; may raise `Cancelled`.

    Returns:
        The path written.

    Raises:
        ReportFault: the file can't be written.
    """
    with replacing(path) as written:
        book = new_book(round_.front.title, round_.front.register)
        add_looks(book)
        add_round_looks(book)
        _add_round(book, round_, progress)
        add_words(book, round_.front, _read_first(round_))
        _add_lists(book, round_)
        show_first(book, 0)
        save(book, written, round_.front.as_at)
    return path


def _read_first(round_: RoundSheet) -> Iterator[tuple[str, str]]:
    yield from ((fact.label, fact.words) for fact in round_.front.facts)
    yield ("", "")
    yield from ((caution.about, caution.words) for caution in round_.front.cautions)
    for facts in (READ_FIRST, round_.legend):
        yield ("", "")
        yield from ((fact.label, fact.words) for fact in facts)


def _add_lists(book: Workbook, round_: RoundSheet) -> None:
    """The register's own names behind the drop-downs, as words in cells and never as part of a formula."""
    sheet = book.create_sheet(LISTS)
    sheet.sheet_state = "hidden"
    for column, names in enumerate(round_.lists.values(), start=1):
        for row, name in enumerate(names, start=1):
            set_words(cell_at(sheet, row, column), name, Look.WORDS)


def _add_round(book: Workbook, round_: RoundSheet, progress: Progress) -> None:
    sheet = book.create_sheet(SHEET)
    head = _add_top(sheet, round_)
    rooms = [_room(each, round_) for each in round_.columns]
    _set_head(sheet, round_, head, rooms)
    for number, line in enumerate(round_.lines, start=head + 1):
        _add_line(sheet, number, line, round_.columns, rooms)
        if (number - head) % _TOLD_EVERY == 0:
            progress(number - head, len(round_.lines), "rows")
    for check in checks(round_, head + 1):
        sheet.add_data_validation(check)
    _set_up(sheet, round_, head)
    progress(len(round_.lines), len(round_.lines), "rows")


def _add_top(sheet: Worksheet, round_: RoundSheet) -> int:
    """Everything above the table; returns the row of its headings."""
    set_words(cell_at(sheet, 1, 1), round_.front.title, Look.TITLE)
    cautions = (f"{each.about}. {each.words}" for each in round_.front.cautions)
    lines = [round_.subtitle, *cautions, HOW_TO, STARRED]
    for row, words in enumerate(lines, start=2):
        set_words(cell_at(sheet, row, 1), words, RoundLook.CAUTION)
    whole = len(lines) + 2
    sheet.row_dimensions[whole].height = _height(2)
    middle = [each.name for each in round_.columns].index(_MIDDLE) + 1
    for column, label in ((1, "Tested by:"), (middle, "Instrument:")):
        set_words(cell_at(sheet, whole, column), label, RoundLook.GIVEN_HEAD)
        for number in range(column + 1, column + _ROOM + 1):
            set_words(cell_at(sheet, whole, number), "", RoundLook.ENTRY_WORDS)
        sheet.merge_cells(start_row=whole, end_row=whole, start_column=column + 1, end_column=column + _ROOM)
    return whole + 2 + _BETWEEN


def _set_head(sheet: Worksheet, round_: RoundSheet, head: int, rooms: Sequence[float]) -> None:
    """The headings, and above them the limits that are the same at every outlet."""
    for number, column in enumerate(round_.columns, start=1):
        entry = column.part is Part.ENTRY
        look = RoundLook.ENTRY_HEAD if entry else RoundLook.GIVEN_HEAD
        set_words(cell_at(sheet, head, number), column.title, look)
        sheet.column_dimensions[get_column_letter(number)].width = rooms[number - 1]
        if entry and column.name in round_.shared:
            words = f"{_LIMIT} {limit_words(round_.shared[column.name])}"
            set_words(cell_at(sheet, head - _BETWEEN, number), words, RoundLook.LIMIT)
    sheet.row_dimensions[head - _BETWEEN].height = _height(3)
    sheet.row_dimensions[head - 1].height = _GAP
    lines = max(
        _lines(each.title, room / _HEAD_LETTER) for each, room in zip(round_.columns, rooms, strict=True)
    )
    sheet.row_dimensions[head].height = _height(lines)


def _add_line(
    sheet: Worksheet, row: int, line: RoundLine, columns: Sequence[RoundColumn], rooms: Sequence[float]
) -> None:
    most = _LEAST_LINES
    for number, column in enumerate(columns, start=1):
        cell = cell_at(sheet, row, number)
        if column.part is Part.ENTRY:
            set_words(cell, "", _entry_look(column))
            continue
        limit = column.part is Part.LIMIT
        words = line.limit(column.name) if limit else line.given(column.name)
        set_words(cell, words, RoundLook.LIMIT if limit else RoundLook.GIVEN)
        if column.part is not Part.KEY:
            most = max(most, _lines(words, rooms[number - 1]))
    sheet.row_dimensions[row].height = _height(most)


def _height(lines: int) -> float:
    """Height of a row in points; spreadsheet programs take no more than 409."""
    return min(_POINTS * lines + 2, 409.0)


def _entry_look(column: RoundColumn) -> RoundLook:
    if column.holds is Holds.DATE:
        return RoundLook.ENTRY_DATE
    return RoundLook.ENTRY_WORDS if column.holds in (Holds.WORDS, Holds.LISTED) else RoundLook.ENTRY


def _room(column: RoundColumn, round_: RoundSheet) -> float:
    """Width of a column: no number, and no reference or word of a usual length, is broken over two lines."""
    words: list[str] = []
    if column.part is Part.GIVEN:
        words += [line.given(column.name) for line in round_.lines]
    elif column.part is Part.LIMIT:
        words += [line.limit(column.name) for line in round_.lines]
    elif column.name in round_.shared:
        words.append(limit_words(round_.shared[column.name]))
    body = max((len(piece) for each in words for piece in each.split(" ")), default=0)
    head = max(len(piece) for piece in column.title.split(" "))
    return max(column.room, min(body + 1.5, _WIDEST), head * _HEAD_LETTER + 0.8)


def _lines(words: str, width: float) -> int:
    """Lines that wrapped words take in a column; whole words go on the next line."""
    lines, used = 1, 0.0
    for word in words.split():
        if used and used + 1 + len(word) > width:
            lines, used = lines + 1, 0.0
        used += len(word) + (1 if used else 0)
        lines, used = lines + int(used // (width + 1)), used % (width + 1)
    return max(lines, lines_needed(words, width))


def _set_up(sheet: Worksheet, round_: RoundSheet, head: int) -> None:
    print_set_up(sheet, round_.front)
    sheet.sheet_view.zoomScale = _ZOOM
    sheet.page_setup.paperSize = sheet.PAPERSIZE_A3
    sheet.page_margins.left = sheet.page_margins.right = 0.3
    last = get_column_letter(len(round_.columns))
    sheet.column_dimensions[last].hidden = True
    sheet.freeze_panes = f"B{head + 1}"
    sheet.print_title_rows = f"{head}:{head}"
    sheet.auto_filter.ref = f"A{head}:{last}{head + len(round_.lines)}"
    protection = sheet.protection
    protection.enable()
    protection.formatCells = protection.formatColumns = protection.formatRows = False
    protection.sort = protection.autoFilter = False
    for number, (line, following) in enumerate(pairwise(round_.lines), start=head + 1):
        if (line.path.site, line.path.building) != (following.path.site, following.path.building):
            sheet.row_breaks.append(Break(id=number))

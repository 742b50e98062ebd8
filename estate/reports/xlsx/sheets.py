"""The sheets of a report: one for each table, and one to read first."""

import re
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass

from openpyxl.cell.cell import Cell as SheetCell
from openpyxl.formatting.rule import DataBar, FormatObject, Rule
from openpyxl.utils import get_column_letter
from openpyxl.workbook import Workbook
from openpyxl.worksheet.header_footer import HeaderFooterItem
from openpyxl.worksheet.properties import PageSetupProperties
from openpyxl.worksheet.worksheet import Worksheet

from estate.reports.document import Column, Document, Group, Kind, Row, Section, Table
from estate.reports.xlsx.cells import Look, lines_needed, safe_text, set_value, set_words

_HEAD_ROW = 4
_TOLD_EVERY = 200
_LABEL_WIDTH = 28.0
_WORDS_WIDTH = 110.0
_SHORT_CAUTION = (
    "Scald, isolation and hygiene: see the sheet Read first. Local codes, the maker's instructions and the"
    " site's risk assessment come first; for competent people only."
)
_FORBIDDEN = re.compile(r"[\[\]:*?/\\\x00-\x1f]")


@dataclass(frozen=True, slots=True)
class SheetRow:
    """One row of a table with the place it belongs to."""

    place: tuple[str, ...]
    row: Row


def sheet_name(wanted: str, taken: Sequence[str]) -> str:
    """A name that every spreadsheet program takes: 31 characters, none forbidden, none used twice."""
    plain = _FORBIDDEN.sub(" ", wanted).strip(" '")[:31].strip() or "Table"
    name, number = plain, 2
    while name.casefold() in {each.casefold() for each in taken}:
        mark = f" {number}"
        name, number = plain[: 31 - len(mark)] + mark, number + 1
    return name


def print_set_up(sheet: Worksheet, document: Document) -> None:
    """Landscape A4, as wide as the page, with register and rules at its edges."""
    sheet.page_setup.orientation = "landscape"
    sheet.page_setup.paperSize = sheet.PAPERSIZE_A4
    sheet.page_setup.fitToWidth = 1
    sheet.page_setup.fitToHeight = 0
    sheet.sheet_properties.pageSetUpPr = PageSetupProperties(fitToPage=True)
    _set_edge(sheet.oddHeader, _in_header(document.register), document.as_at_words)
    _set_edge(sheet.oddFooter, _in_header(document.basis), "page &P of &N")


def _set_edge(edge: HeaderFooterItem | None, left: str, right: str) -> None:
    if edge is not None:
        edge.left.text, edge.right.text = left, right


def _in_header(text: str) -> str:
    """Words for a page header: ampersands doubled, cut to what the format holds."""
    return safe_text(text).replace("\n", " ")[:100].replace("&", "&&")


def add_read_first(book: Workbook, document: Document) -> None:
    """A sheet with what the report speaks of, its cautions and what is said beside the tables."""
    add_words(book, document, _first_words(document))


def add_words(book: Workbook, document: Document, lines: Iterable[tuple[str, str]]) -> None:
    """A sheet to read first, with a label and words in each line."""
    sheet = book.create_sheet(sheet_name("Read first", book.sheetnames))
    print_set_up(sheet, document)
    sheet.column_dimensions["A"].width = _LABEL_WIDTH
    sheet.column_dimensions["B"].width = _WORDS_WIDTH
    sheet.sheet_view.showGridLines = False
    set_words(cell_at(sheet, 1, 1), document.title, Look.TITLE)
    for number, (label, words) in enumerate(lines, start=3):
        set_words(cell_at(sheet, number, 1), label, Look.LABEL)
        set_words(cell_at(sheet, number, 2), words, Look.WORDS)
        lines_high = max(lines_needed(label, _LABEL_WIDTH), lines_needed(words, _WORDS_WIDTH))
        sheet.row_dimensions[number].height = height(lines_high)


def _first_words(document: Document) -> Iterator[tuple[str, str]]:
    yield from ((fact.label, fact.words) for fact in document.facts)
    yield ("", "")
    yield from ((caution.about, caution.words) for caution in document.cautions)
    for section in document.sections:
        yield ("", "")
        yield (section.title, " ".join(section.words))


def add_table(
    book: Workbook, document: Document, section: Section, table: Table, told: Callable[[int], None]
) -> None:
    """A sheet with one table: title rows, a head that stays in sight, filters, print titles.

    Args:
        told: called now and then with how many rows of the table are written.
    """
    sheet = book.create_sheet(sheet_name(table.name, book.sheetnames))
    print_set_up(sheet, document)
    places = tuple(Column(title, 12) for title in table.group_columns)
    columns = (*places, *table.columns)
    heading = f"{section.title} · {document.register} · {document.as_at_words}"
    set_words(cell_at(sheet, 1, 1), heading, Look.TITLE)
    set_words(cell_at(sheet, 2, 1), _SHORT_CAUTION, Look.QUIET)
    _set_head(sheet, columns)
    last = _HEAD_ROW
    for last, each in enumerate(_rows(table.groups), start=_HEAD_ROW + 1):
        _set_row(sheet, last, each, columns)
        if (last - _HEAD_ROW) % _TOLD_EVERY == 0:
            told(last - _HEAD_ROW)
    _finish(sheet, columns, last)


def _rows(groups: Sequence[Group]) -> Iterator[SheetRow]:
    for group in groups:
        for row in group.rows:
            yield SheetRow(group.path, row)


def cell_at(sheet: Worksheet, row: int, column: int) -> SheetCell:
    """A cell of a sheet without merged cells."""
    cell = sheet.cell(row, column)
    if not isinstance(cell, SheetCell):
        raise TypeError("a report has no merged cells")
    return cell


def _set_head(sheet: Worksheet, columns: Sequence[Column]) -> None:
    for number, column in enumerate(columns, start=1):
        words = f"{column.title} ({column.unit})" if column.unit else column.title
        look = Look.HEAD_NUMBER if column.kind.numeric else Look.HEAD
        set_words(cell_at(sheet, _HEAD_ROW, number), words, look)
        sheet.column_dimensions[get_column_letter(number)].width = _width(column)
    lines = max(lines_needed(f"{column.title} {column.unit} ", _width(column) - 2) for column in columns)
    sheet.row_dimensions[_HEAD_ROW].height = height(lines)


def _width(column: Column) -> float:
    """Width in characters: enough for a date or a marked word on one line."""
    least = {Kind.DATE: 12.0, Kind.MARK: 15.0}.get(column.kind, 9.0)
    return max(column.room * 1.15, least)


def height(lines: int) -> float:
    """Height of a row in points; spreadsheet programs take no more than 409."""
    return min(13.2 * lines + 2, 409.0)


def _set_row(sheet: Worksheet, number: int, each: SheetRow, columns: Sequence[Column]) -> None:
    values = (*each.place, *each.row.cells)
    for place, (value, column) in enumerate(zip(values, columns, strict=True), start=1):
        cell = cell_at(sheet, number, place)
        set_value(cell, value, column.kind, each.row.strong)
        if column.decimals is not None and isinstance(value, int | float):
            cell.number_format = f"0.{'0' * column.decimals}".rstrip(".")
    lines = max(lines_needed(value, _width(column)) for value, column in zip(values, columns, strict=True))
    sheet.row_dimensions[number].height = height(lines)


def _finish(sheet: Worksheet, columns: Sequence[Column], last: int) -> None:
    letter = get_column_letter(len(columns))
    sheet.freeze_panes = f"A{_HEAD_ROW + 1}"
    sheet.auto_filter.ref = f"A{_HEAD_ROW}:{letter}{last}"
    sheet.print_title_rows = f"{_HEAD_ROW}:{_HEAD_ROW}"
    for number, column in enumerate(columns, start=1):
        if column.kind is Kind.BAR:
            name = get_column_letter(number)
            sheet.conditional_formatting.add(f"{name}{_HEAD_ROW + 1}:{name}{last}", _bars())


def _bars() -> Rule:
    ends = [FormatObject("num", "0"), FormatObject("max")]
    return Rule(
        "dataBar", dataBar=DataBar(minLength=0, maxLength=100, cfvo=ends, color="FF0B5567", showValue=False)
    )

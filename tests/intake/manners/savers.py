"""Saves a sheet as a file: by openpyxl, by hand as a package of XML or OpenDocument, or as text."""

import csv
import io
import zipfile
from collections.abc import Callable, Iterator
from datetime import date, datetime, time, timedelta
from typing import Any
from xml.sax.saxutils import escape, quoteattr

import openpyxl
from openpyxl.utils import get_column_letter
from openpyxl.utils.datetime import CALENDAR_MAC_1904

from tests.intake.manners.paper import Formula, Page, Sheet

MAIN = "http://schemas.openxmlformats.org/spreadsheetml/2006/main"
RELS = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
PACKAGE = "http://schemas.openxmlformats.org/package/2006"
TYPES = "application/vnd.openxmlformats-officedocument.spreadsheetml"
SINCE_1900, SINCE_1904 = datetime(1899, 12, 30), datetime(1904, 1, 1)
HEAD = '<?xml version="1.0" encoding="UTF-8" standalone="yes"?>\n'

STYLES = (
    f'{HEAD}<styleSheet xmlns="{MAIN}"><fonts count="1"><font/></fonts>'
    '<fills count="1"><fill><patternFill patternType="none"/></fill></fills>'
    '<borders count="1"><border/></borders><cellStyleXfs count="1"><xf/></cellStyleXfs>'
    '<cellXfs count="3"><xf numFmtId="0"/><xf numFmtId="14" applyNumberFormat="1"/>'
    '<xf numFmtId="22" applyNumberFormat="1"/></cellXfs>'
    '<cellStyles count="1"><cellStyle name="Normal" xfId="0" builtinId="0"/></cellStyles></styleSheet>'
)
"""Three formats: plain, day, day and time."""


def by_openpyxl(sheet: Sheet) -> bytes:
    """A workbook; formulas lose what they came to, as openpyxl writes none."""
    book = openpyxl.Workbook()
    book.remove(book.worksheets[0])
    if sheet.since_1904:
        book.epoch = CALENDAR_MAC_1904
    for page in sheet.pages:
        tab = book.create_sheet(page.name)
        for row in page.rows:
            tab.append([f"={cell.text}" if isinstance(cell, Formula) else cell for cell in row])
        for top, left, bottom, right in page.merged:
            tab.merge_cells(start_row=top, start_column=left, end_row=bottom, end_column=right)
        for number in page.hidden_rows:
            tab.row_dimensions[number].hidden = True
        tab.sheet_state = "hidden" if page.hidden else "visible"
        for column in range(1, 6):
            tab.column_dimensions[get_column_letter(column)].width = 16
    target = io.BytesIO()
    book.save(target)
    return target.getvalue()


def by_hand(sheet: Sheet) -> bytes:
    """A workbook written cell by cell, text inline, with what its formulas came to."""
    parts = {
        "[Content_Types].xml": _content_types(len(sheet.pages)),
        "_rels/.rels": f'{HEAD}<Relationships xmlns="{PACKAGE}/relationships"><Relationship Id="rId1" '
        f'Type="{RELS}/officeDocument" Target="xl/workbook.xml"/></Relationships>',
        "xl/workbook.xml": _workbook(sheet),
        "xl/_rels/workbook.xml.rels": _relations(len(sheet.pages)),
        "xl/styles.xml": STYLES,
    }
    for number, page in enumerate(sheet.pages, 1):
        parts[f"xl/worksheets/sheet{number}.xml"] = _worksheet(page, sheet.since_1904)
    return _zipped(parts)


def _content_types(pages: int) -> str:
    overrides = "".join(
        f'<Override PartName="/xl/worksheets/sheet{number}.xml" ContentType="{TYPES}.worksheet+xml"/>'
        for number in range(1, pages + 1)
    )
    return (
        f'{HEAD}<Types xmlns="{PACKAGE}/content-types">'
        '<Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/>'
        '<Default Extension="xml" ContentType="application/xml"/>'
        f'<Override PartName="/xl/workbook.xml" ContentType="{TYPES}.sheet.main+xml"/>'
        f'<Override PartName="/xl/styles.xml" ContentType="{TYPES}.styles+xml"/>{overrides}</Types>'
    )


def _workbook(sheet: Sheet) -> str:
    tabs = "".join(
        f'<sheet name={quoteattr(page.name)} sheetId="{number}" '
        f'{"state=" + quoteattr("hidden") if page.hidden else ""} r:id="rId{number}"/>'
        for number, page in enumerate(sheet.pages, 1)
    )
    epoch = '<workbookPr date1904="1"/>' if sheet.since_1904 else ""
    return f'{HEAD}<workbook xmlns="{MAIN}" xmlns:r="{RELS}">{epoch}<sheets>{tabs}</sheets></workbook>'


def _relations(pages: int) -> str:
    tabs = "".join(
        f'<Relationship Id="rId{number}" Type="{RELS}/worksheet" Target="worksheets/sheet{number}.xml"/>'
        for number in range(1, pages + 1)
    )
    styles = f'<Relationship Id="rId{pages + 1}" Type="{RELS}/styles" Target="styles.xml"/>'
    return f'{HEAD}<Relationships xmlns="{PACKAGE}/relationships">{tabs}{styles}</Relationships>'


def _worksheet(page: Page, since_1904: bool) -> str:
    rows = []
    for number, cells in enumerate(page.rows, 1):
        hidden = ' hidden="1"' if number in page.hidden_rows else ""
        inner = "".join(
            _cell(f"{get_column_letter(column)}{number}", cell, since_1904)
            for column, cell in enumerate(cells, 1)
            if cell is not None
        )
        rows.append(f'<row r="{number}"{hidden}>{inner}</row>')
    return (
        f'{HEAD}<worksheet xmlns="{MAIN}"><sheetData>{"".join(rows)}</sheetData>{_merged(page)}</worksheet>'
    )


def _merged(page: Page) -> str:
    blocks = "".join(
        f'<mergeCell ref="{get_column_letter(left)}{top}:{get_column_letter(right)}{bottom}"/>'
        for top, left, bottom, right in page.merged
    )
    return f'<mergeCells count="{len(page.merged)}">{blocks}</mergeCells>' if blocks else ""


def _cell(at: str, cell: Any, since_1904: bool) -> str:
    if isinstance(cell, bool):
        return f'<c r="{at}" t="b"><v>{int(cell)}</v></c>'
    if isinstance(cell, Formula):
        value = "" if cell.cached is None else f"<v>{cell.cached}</v>"
        return f'<c r="{at}"><f>{escape(cell.text)}</f>{value}</c>'
    if isinstance(cell, date):
        timed = isinstance(cell, datetime) and cell.time() != time(0)
        moment = cell if isinstance(cell, datetime) else datetime.combine(cell, time(0))
        serial = (moment - (SINCE_1904 if since_1904 else SINCE_1900)) / timedelta(days=1)
        return f'<c r="{at}" s="{2 if timed else 1}"><v>{serial}</v></c>'
    if isinstance(cell, int | float):
        return f'<c r="{at}"><v>{cell}</v></c>'
    text = escape(str(cell))
    return f'<c r="{at}" t="inlineStr"><is><t xml:space="preserve">{text}</t></is></c>'


def _zipped(parts: dict[str, str]) -> bytes:
    target = io.BytesIO()
    with zipfile.ZipFile(target, "w", zipfile.ZIP_DEFLATED) as package:
        for name, text in parts.items():
            package.writestr(name, text)
    return target.getvalue()


ODF = "urn:oasis:names:tc:opendocument:xmlns"
ODS = "application/vnd.oasis.opendocument.spreadsheet"


def by_open_document(sheet: Sheet) -> bytes:
    """An OpenDocument spreadsheet, written cell by cell."""
    tables = "".join(
        f"<table:table table:name={quoteattr(page.name)}>{''.join(_open_rows(page))}</table:table>"
        for page in sheet.pages
    )
    content = (
        f'{HEAD}<office:document-content xmlns:office="{ODF}:office:1.0" xmlns:table="{ODF}:table:1.0" '
        f'xmlns:text="{ODF}:text:1.0" office:version="1.3"><office:body><office:spreadsheet>{tables}'
        "</office:spreadsheet></office:body></office:document-content>"
    )
    manifest = (
        f'{HEAD}<manifest:manifest xmlns:manifest="{ODF}:manifest:1.0" manifest:version="1.3">'
        f'<manifest:file-entry manifest:full-path="/" manifest:media-type="{ODS}"/>'
        '<manifest:file-entry manifest:full-path="content.xml" manifest:media-type="text/xml"/>'
        "</manifest:manifest>"
    )
    return _zipped({"mimetype": ODS, "content.xml": content, "META-INF/manifest.xml": manifest})


def _open_rows(page: Page) -> Iterator[str]:
    corners = {(top, left): (bottom - top + 1, right - left + 1) for top, left, bottom, right in page.merged}
    for number, cells in enumerate(page.rows, 1):
        hidden = ' table:visibility="collapse"' if number in page.hidden_rows else ""
        inner = "".join(
            _open_cell(cell, corners.get((number, column))) for column, cell in enumerate(cells, 1)
        )
        yield f"<table:table-row{hidden}>{inner or '<table:table-cell/>'}</table:table-row>"


def _open_cell(cell: Any, spans: tuple[int, int] | None) -> str:
    wide = (
        f' table:number-rows-spanned="{spans[0]}" table:number-columns-spanned="{spans[1]}"' if spans else ""
    )
    if cell is None:
        return f"<table:table-cell{wide}/>"
    if isinstance(cell, bool):
        kind = f'office:value-type="boolean" office:boolean-value="{str(cell).lower()}"'
    elif isinstance(cell, date):
        kind = f'office:value-type="date" office:date-value="{cell.isoformat()}"'
    elif isinstance(cell, int | float):
        kind = f'office:value-type="float" office:value="{cell}"'
    else:
        kind = 'office:value-type="string"'
    return f"<table:table-cell {kind}{wide}><text:p>{escape(str(cell))}</text:p></table:table-cell>"


def _as_text(delimiter: str, encoding: str, first: str = "", end: str = "\r\n") -> Callable[[Sheet], bytes]:
    def save(sheet: Sheet) -> bytes:
        text = io.StringIO()
        text.write(first)
        writer = csv.writer(text, delimiter=delimiter, lineterminator=end)
        width = max(len(row) for row in sheet.pages[0].rows)
        for row in sheet.pages[0].rows:
            writer.writerow(["" if cell is None else cell for cell in row] + [""] * (width - len(row)))
        return text.getvalue().encode(encoding)

    return save


SAVERS: dict[str, tuple[str, Callable[[Sheet], bytes]]] = {
    "openpyxl": ("xlsx", by_openpyxl),
    "by hand": ("xlsx", by_hand),
    "open document": ("ods", by_open_document),
    "comma": ("csv", _as_text(",", "utf-8")),
    "comma, marked": ("csv", _as_text(",", "utf-8-sig", end="\n")),
    "semicolon, cp1252": ("csv", _as_text(";", "cp1252")),
    "semicolon, told": ("csv", _as_text(";", "cp1252", first="sep=;\r\n")),
    "tab, utf-16": ("txt", _as_text("\t", "utf-16")),
    "tab": ("tsv", _as_text("\t", "utf-8")),
    "bar": ("csv", _as_text("|", "utf-8")),
}
"""How files are saved with what the project has: name -> (ending, how)."""


def saved(sheet: Sheet) -> tuple[str, bytes]:
    """The file's name and bytes."""
    ending, save = SAVERS[sheet.saver]
    return f"{sheet.manner.replace(' ', '-')}-{sheet.seed}.{ending}", save(sheet)

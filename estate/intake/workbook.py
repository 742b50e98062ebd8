"""Workbooks in: the one module that knows the reader of xlsx files."""

import re
from collections.abc import Mapping, Sequence
from datetime import date, datetime, time
from posixpath import normpath
from xml.etree import ElementTree

from python_calamine import CalamineError, CalamineSheet, CalamineWorkbook, SheetTypeEnum, SheetVisibleEnum

from estate.domain.phrases import phrase
from estate.intake.grid import Cell, Grid, Row, Trouble
from estate.intake.package import Parts, check_cells, check_size, damaged, parts_of, repacked
from estate.intake.sheet_part import PartFacts, facts_of, holds_cells

BOOK = "xl/workbook.xml"
MOST_SHEETS = 300
MOST_BOOK_BYTES = 5_000_000
"""A longer list of sheets is none."""

_RELATIONS = "xl/_rels/workbook.xml.rels"
_ASIDE = re.compile(
    r"(?:docProps|customXml)/|xl/(?:comments\w*|threadedComments|persons|drawings|media|charts?|diagrams|theme"
    r"|externalLinks|pivot\w+|printerSettings|queryTables|connections|ctrlProps|activeX|model|richData)\b"
)
_EPOCH_1904 = re.compile(rb"date1904\s*=\s*[\"'](?:1|true)[\"']")
_STALE = re.compile(rb"fullCalcOnLoad\s*=\s*[\"'](?:1|true)[\"']")
_CLAIM = re.compile(rb"uniqueCount\s*=\s*[\"']([^\"']*)")
_UNSEEN = re.compile(r"[\x00-\x08\x0b-\x1f]")
_ESCAPE = b"_x00"
"""How the form writes characters that XML can't hold, by their number; the reader reads them."""

_READER_FAULTS = (CalamineError, OSError, ValueError, OverflowError)


def grids_of(content: bytes, file: str) -> tuple[Grid, ...]:
    """The sheets of a workbook. Macros, links, comments and pictures are not even unpacked.

    Args:
        content: the file's bytes.
        file: its name, for faults.

    Raises:
        IntakeFault: the file is damaged, locked, too big, or not an xlsx workbook.
    """
    parts = parts_of(content, file, lambda name: not _ASIDE.match(name))
    if BOOK not in parts:
        raise damaged(file, phrase("it is no workbook of the xlsx form"))
    try:
        return _read(parts, file)
    except (*_READER_FAULTS, ElementTree.ParseError) as fault:
        raise damaged(file, str(fault)) from fault
    except BaseException as fault:
        # The reader's own defects come as a panic, which is no Exception and whose class can't be imported.
        if type(fault).__name__ != "PanicException":
            raise
        raise damaged(file, phrase("its parts contradict each other")) from fault


def _read(parts: Parts, file: str) -> tuple[Grid, ...]:
    book = parts[BOOK]
    epoch = date(1904, 1, 1) if _EPOCH_1904.search(book) else date(1899, 12, 30)
    facts = _facts(parts, file, stale=bool(_STALE.search(book)))
    escaped = any(_ESCAPE in part for part in parts.values())
    grids = []
    cells = 0
    with CalamineWorkbook.from_filelike(repacked(parts)) as workbook:
        for index, sheet in enumerate(workbook.sheets_metadata):
            if sheet.typ is not SheetTypeEnum.WorkSheet:
                continue
            found = workbook.get_sheet_by_index(index)
            last_row, last_column = found.end or (-1, -1)
            check_size(last_row + 1, last_column + 1, file)
            cells += (last_row + 1) * (last_column + 1)
            check_cells(cells, file)
            if sheet.name not in facts:
                raise damaged(file, phrase("its sheet “{name}” is not where its list says", name=sheet.name))
            known = facts[sheet.name]
            rows = _with_troubles(_rows(found, escaped), known.troubles)
            merged = tuple((*first, *last) for first, last in found.merged_cell_ranges or [])
            hidden = sheet.visible is not SheetVisibleEnum.Visible
            grids.append(
                Grid(sheet.name, rows, merged, epoch, hidden, known.hidden_rows, known.hidden_columns)
            )
    return tuple(grids)


def _rows(sheet: CalamineSheet, escaped: bool) -> list[list[Cell]]:
    rows = sheet.to_python(skip_empty_area=False)
    if escaped:
        return [[_cell(cell) for cell in row] for row in rows]
    # Nearly all cells are figures and texts, which are taken as they are.
    return [
        [
            cell if type(cell) is float else (cell or None) if type(cell) is str else _cell(cell)
            for cell in row
        ]
        for row in rows
    ]


def _cell(cell: object) -> Cell:
    if isinstance(cell, str):
        return _UNSEEN.sub("", cell) or None
    if isinstance(cell, datetime):
        return cell.date() if cell.time() == time() else cell
    return cell  # type: ignore[return-value]  # every type the reader can give is one of Cell's


def _with_troubles(rows: list[list[Cell]], troubles: Mapping[tuple[int, int], Trouble]) -> Sequence[Row]:
    for (row, column), trouble in troubles.items():
        while len(rows) <= row:
            rows.append([])
        rows[row].extend([None] * (column + 1 - len(rows[row])))
        rows[row][column] = trouble
    return rows


def _facts(parts: Parts, file: str, stale: bool) -> dict[str, PartFacts]:
    """What is known of each sheet besides its values, by its name.

    Raises:
        IntakeFault: the workbook claims more than it holds, or gives one part out for several sheets.
    """
    for name, part in parts.items():
        limit = MOST_BOOK_BYTES if name in (BOOK, _RELATIONS) else len(part)
        claims = _CLAIM.findall(part)
        if len(part) > limit or not all(claim.isdigit() and int(claim) <= limit for claim in claims):
            # The reader makes room for what is claimed before it looks.
            raise damaged(file, phrase("it claims to hold more than it does"))
    known = {
        name.casefold(): facts_of(part, file, stale) for name, part in parts.items() if holds_cells(part)
    }
    listed = _sheet_parts(parts)
    sheets, targets = {sheet for sheet, _ in listed}, {part for _, part in listed}
    if len(listed) > MOST_SHEETS or not len(sheets) == len(targets) == len(listed):
        raise damaged(file, phrase("its list of sheets is not that of a workbook"))
    return {sheet: known[part] for sheet, part in listed if part in known}


def _sheet_parts(parts: Parts) -> list[tuple[str, str]]:
    """Each sheet's name with that of its part, in the order of the workbook."""
    relations = ElementTree.fromstring(parts.get(_RELATIONS, b"<none/>"))
    targets = {each.get("Id"): _absolute(each.get("Target", "")) for each in relations}
    found = []
    for element in ElementTree.fromstring(parts[BOOK]).iter():
        if _local(element.tag) == "sheet":
            relation = next((value for key, value in element.attrib.items() if _local(key) == "id"), None)
            found.append((element.get("name", ""), targets.get(relation, "").casefold()))
    return found


def _absolute(target: str) -> str:
    return target.lstrip("/") if target.startswith("/") else normpath(f"xl/{target}")


def _local(tag: str) -> str:
    return tag.rpartition("}")[2]

"""Workbooks in: the one module that knows the reader of xlsx files."""

import re
from collections.abc import Mapping, Sequence
from datetime import date, datetime, time
from io import BytesIO
from posixpath import normpath
from xml.etree import ElementTree

from python_calamine import CalamineError, CalamineWorkbook, SheetTypeEnum, SheetVisibleEnum

from estate.intake.grid import Cell, Grid, Row, Trouble
from estate.intake.package import check_size, damaged, holds_sheet, parts_of, repacked

_TROUBLE = re.compile(rb"<(?:\w+:)?f[\s/>]|\st\s*=\s*[\"']e[\"']")
_EPOCH_1904 = re.compile(rb"date1904\s*=\s*[\"'](?:1|true)[\"']")
_CELL = re.compile(r"([A-Z]{1,3})([0-9]{1,7})")
_READER_FAULTS = (CalamineError, OSError, ValueError, OverflowError)


def grids_of(content: bytes, file: str) -> tuple[Grid, ...]:
    """The sheets of a workbook.

    Args:
        content: the file's bytes.
        file: its name, for faults.

    Raises:
        IntakeFault: the file is damaged, locked, too big, or not an xlsx workbook.
    """
    parts = parts_of(content, file)
    try:
        return _read(parts, file)
    except (*_READER_FAULTS, ElementTree.ParseError) as fault:
        raise damaged(file, str(fault)) from fault
    except BaseException as fault:
        # The reader's own defects come as a panic, which is no Exception and whose class can't be imported.
        if type(fault).__name__ != "PanicException":
            raise
        raise damaged(file, "its parts contradict each other") from fault


def _read(parts: Mapping[str, bytes], file: str) -> tuple[Grid, ...]:
    epoch = date(1904, 1, 1) if _EPOCH_1904.search(parts["xl/workbook.xml"]) else date(1899, 12, 30)
    troubles = _troubles(parts)
    grids = []
    with CalamineWorkbook.from_filelike(repacked(parts)) as workbook:
        for sheet in workbook.sheets_metadata:
            if sheet.typ is not SheetTypeEnum.WorkSheet:
                continue
            hidden = sheet.visible is not SheetVisibleEnum.Visible
            found = workbook.get_sheet_by_name(sheet.name)
            height, width = found.total_height, found.total_width
            check_size(height, width, file)
            rows = [_cells(row) for row in found.to_python(skip_empty_area=False)]
            merged = tuple((*first, *last) for first, last in found.merged_cell_ranges or [])
            whole = _with_troubles(rows, troubles.get(sheet.name, {}))
            grids.append(Grid(sheet.name, whole, merged, epoch, hidden))
    return tuple(grids)


def _cells(row: Sequence[object]) -> list[Cell]:
    return [None if cell == "" else _cell(cell) for cell in row]


def _cell(cell: object) -> Cell:
    if isinstance(cell, datetime):
        return cell.date() if cell.time() == time() else cell
    return cell  # type: ignore[return-value]  # every type the reader can give is one of Cell's


def _with_troubles(rows: list[list[Cell]], troubles: Mapping[tuple[int, int], Trouble]) -> list[Row]:
    for (row, column), trouble in troubles.items():
        while len(rows) <= row:
            rows.append([])
        rows[row].extend([None] * (column + 1 - len(rows[row])))
        rows[row][column] = trouble
    return list(rows)


def _troubles(parts: Mapping[str, bytes]) -> dict[str, dict[tuple[int, int], Trouble]]:
    """Cells that hold a formula without a value or an error: the reader gives both as blanks."""
    suspects = {name for name, part in parts.items() if holds_sheet(part) and _TROUBLE.search(part)}
    if not suspects:
        return {}
    names = _sheet_parts(parts)
    return {sheet: _troubles_in(parts[part]) for sheet, part in names.items() if part in suspects}


def _sheet_parts(parts: Mapping[str, bytes]) -> dict[str, str]:
    relations = ElementTree.fromstring(parts.get("xl/_rels/workbook.xml.rels", b"<none/>"))
    targets = {each.get("Id"): _absolute(each.get("Target", "")) for each in relations}
    found = {}
    for element in ElementTree.fromstring(parts["xl/workbook.xml"]).iter():
        if _local(element.tag) == "sheet":
            relation = next((value for key, value in element.attrib.items() if _local(key) == "id"), None)
            found[element.get("name", "")] = targets.get(relation, "")
    return found


def _absolute(target: str) -> str:
    return target.lstrip("/") if target.startswith("/") else normpath(f"xl/{target}")


def _troubles_in(part: bytes) -> dict[tuple[int, int], Trouble]:
    found = {}
    row = column = -1
    for event, element in ElementTree.iterparse(BytesIO(part), events=("start", "end")):
        name = _local(element.tag)
        if event == "start" and name == "row":
            row, column = int(element.get("r", row + 2)) - 1, -1
        elif event == "start" and name == "c":
            row, column = _place(element.get("r"), row, column + 1)
        elif name == "c":
            if trouble := _trouble(element):
                found[row, column] = trouble
        elif event == "end" and name == "row":
            element.clear()
    return found


def _place(reference: str | None, row: int, column: int) -> tuple[int, int]:
    match = _CELL.fullmatch(reference or "")
    if match is None:
        return row, column
    number = 0
    for letter in match[1]:
        number = number * 26 + ord(letter) - ord("A") + 1
    return int(match[2]) - 1, number - 1


def _trouble(cell: ElementTree.Element) -> Trouble | None:
    texts = {_local(child.tag): child.text or "" for child in cell}
    kind = cell.get("t", "n")
    if kind == "e":
        return Trouble("unreadable-value", texts.get("v") or "error")
    if "f" in texts and not texts.get("v") and kind != "str":
        return Trouble("formula-without-value", f"={texts['f']}")
    return None


def _local(tag: str) -> str:
    return tag.rpartition("}")[2]

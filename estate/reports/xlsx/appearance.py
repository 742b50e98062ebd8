"""How the sheets of somebody's workbook look: only what is drawn, nothing that runs or leads elsewhere."""

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from posixpath import normpath
from typing import Any
from xml.etree import ElementTree
from xml.parsers import expat

from openpyxl.styles import Alignment, Border, Font, PatternFill
from openpyxl.styles.fills import Fill
from openpyxl.styles.numbers import BUILTIN_FORMATS
from openpyxl.utils import column_index_from_string

BOOK, RELATIONS, STYLES = "xl/workbook.xml", "xl/_rels/workbook.xml.rels", "xl/styles.xml"
MOST_STYLE_BYTES = 4_000_000
MOST_SHEET_BYTES = 40_000_000
"""Beyond these a copy goes without the formatting."""

_WIDEST, _HIGHEST = 255.0, 409.0
_DIGITS = 7
_LONGEST_FORMAT = 255
_NAME = re.compile(r"([A-Z]{1,3})([0-9]{1,7})")
_NO_LOOK = ElementTree.Element("xf")
_MOST_SHAPES = 2_000
# What the library raises on elements that no spreadsheet program writes: the cell then looks plain.
_ODD = (TypeError, ValueError, KeyError, IndexError, AttributeError)


@dataclass(frozen=True, slots=True)
class CellLook:
    """How a cell looks."""

    font: Font
    fill: Fill
    border: Border
    alignment: Alignment
    number_format: str


@dataclass(slots=True)
class SheetLook:
    """How a sheet looks.

    Attributes:
        cells: number of the look of each cell, by 1-based row and column.
        widths: by 1-based column, in characters; heights: by 1-based row, in points.
    """

    cells: dict[tuple[int, int], int] = field(default_factory=dict)
    widths: dict[int, float] = field(default_factory=dict)
    heights: dict[int, float] = field(default_factory=dict)


class Appearance:
    """The formatting of a workbook, from its parts.

    Args:
        parts: measured and plain parts of the workbook, by name; without them nothing is formatted.
    """

    def __init__(self, parts: Mapping[str, bytes]) -> None:
        small = sum(map(len, parts.values())) <= MOST_SHEET_BYTES
        self._parts = parts if small and len(parts.get(STYLES, b"")) <= MOST_STYLE_BYTES else {}
        self._styles = _Styles(_tree(self._parts.get(STYLES, b"")))
        self._names = dict(_sheet_parts(self._parts))

    def sheet(self, name: str, rows: int, columns: int) -> SheetLook:
        """How the sheet of a name looks, as far as its rows and columns go; plain where it is not known."""
        listener = _Listener(rows, columns)
        try:
            listener.parser.Parse(self._parts.get(self._names.get(name, ""), b""), True)
        except (expat.ExpatError, ValueError):
            return SheetLook()
        return listener.look

    def look(self, number: int) -> CellLook:
        """The look of a number."""
        return self._styles.look(number)


class _Styles:
    def __init__(self, tree: ElementTree.Element) -> None:
        groups = {_local(each.tag): list(each) for each in tree}
        self._fonts, self._fills = groups.get("fonts", []), groups.get("fills", [])
        self._borders, self._looks = groups.get("borders", []), groups.get("cellXfs", [])
        formats = groups.get("numFmts", [])
        self._formats = {each.get("numFmtId", ""): each.get("formatCode", "") for each in formats}
        self._made: dict[int, CellLook] = {}

    def look(self, number: int) -> CellLook:
        if number not in self._made:
            self._made[number] = self._make(number)
        return self._made[number]

    def _make(self, number: int) -> CellLook:
        known = self._looks[number] if number < len(self._looks) else _NO_LOOK
        alignment = next((each for each in known if _local(each.tag) == "alignment"), None)
        return CellLook(
            font=_made(Font, _at(self._fonts, known.get("fontId")), Font("Calibri", 11)),
            fill=_made(Fill, _at(self._fills, known.get("fillId")), PatternFill()),
            border=_made(Border, _at(self._borders, known.get("borderId")), Border()),
            alignment=_made(Alignment, alignment, Alignment()),
            number_format=self._format(known.get("numFmtId", "0")),
        )

    def _format(self, number: str) -> str:
        own = self._formats.get(number)
        if own is None:
            own = BUILTIN_FORMATS.get(_whole(number) or 0)
        return own if own and len(own) <= _LONGEST_FORMAT else "General"


class _Listener:
    """Hears how a sheet's cells, rows and columns look, and keeps nothing else of it."""

    def __init__(self, rows: int, columns: int) -> None:
        self.look = SheetLook()
        self._rows, self._columns = rows, columns
        self.parser = expat.ParserCreate()
        self.parser.StartElementHandler = self._start
        self._row = self._column = 0
        self._shaped: set[int] = set()
        self._shapes = 0

    def _start(self, name: str, attributes: dict[str, str]) -> None:
        match _local_name(name):
            case "row":
                self._row, self._column = int(attributes.get("r", self._row + 1)), 0
                if 0 < self._row <= self._rows:
                    _keep(self.look.heights, self._row, attributes.get("ht"), _HIGHEST)
            case "c":
                self._cell(attributes)
            case "col":
                self._shape(attributes)

    def _cell(self, attributes: dict[str, str]) -> None:
        self._column += 1
        if named := _NAME.fullmatch(attributes.get("r", "")):
            self._row, self._column = int(named[2]), column_index_from_string(named[1])
        look = _whole(attributes.get("s"))
        if look and 0 < self._row <= self._rows and self._column <= self._columns:
            self.look.cells[self._row, self._column] = look

    def _shape(self, attributes: dict[str, str]) -> None:
        self._shapes += 1
        first, last = int(attributes.get("min", 1)), int(attributes.get("max", 1))
        if self._shapes > _MOST_SHAPES:
            return
        for column in range(max(first, 1), min(last, self._columns) + 1):
            if column not in self._shaped:
                self._shaped.add(column)
                _keep(self.look.widths, column, attributes.get("width"), _WIDEST)


def _keep(sizes: dict[int, float], number: int, text: str | None, most: float) -> None:
    size = float(text) if text else 0.0
    if 0 < size <= most:
        sizes[number] = size


def _made(kind: Any, element: ElementTree.Element | None, plain: Any) -> Any:
    if element is None:
        return plain
    try:
        return kind.from_tree(element) or plain
    except _ODD:
        return plain


def _at(elements: list[ElementTree.Element], number: str | None) -> ElementTree.Element | None:
    place = _whole(number)
    return None if place is None or place >= len(elements) else elements[place]


def _whole(text: str | None) -> int | None:
    return int(text) if text and len(text) < _DIGITS and text.isascii() and text.isdigit() else None


def _sheet_parts(parts: Mapping[str, bytes]) -> Iterator[tuple[str, str]]:
    relations = _tree(parts.get(RELATIONS, b""))
    targets = {each.get("Id"): each.get("Target", "") for each in relations}
    for element in _tree(parts.get(BOOK, b"")).iter():
        if _local(element.tag) == "sheet":
            relation = next((value for key, value in element.attrib.items() if _local(key) == "id"), None)
            target = targets.get(relation, "")
            yield element.get("name", ""), target[1:] if target[:1] == "/" else normpath(f"xl/{target}")


def _tree(part: bytes) -> ElementTree.Element:
    try:
        return ElementTree.fromstring(part)
    except (ElementTree.ParseError, ValueError):
        return ElementTree.Element("none")


def _local(tag: str) -> str:
    return tag.rpartition("}")[2]


def _local_name(name: str) -> str:
    return name.rpartition(":")[2]

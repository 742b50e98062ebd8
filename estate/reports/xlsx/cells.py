"""Values into cells: words stay words, numbers and dates are real."""

import math
import re
from dataclasses import dataclass
from datetime import date
from enum import StrEnum

from openpyxl.cell.cell import Cell as SheetCell
from openpyxl.styles import Alignment, Border, Font, NamedStyle, PatternFill, Side
from openpyxl.workbook import Workbook

from estate.domain.neutral import begins_like_a_formula
from estate.reports.document import Cell, Kind

_ILLEGAL = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\ud800-\udfff\ufffe\uffff]")
_LONGEST = 32_767
_CUT = " [cut]"

_ACCENT = "0B5567"
_HAIR = Side("thin", color="D3D9DD")


class Look(StrEnum):
    """The named styles of the workbook."""

    TITLE = "Report title"
    HEAD = "Report column"
    HEAD_NUMBER = "Report column of numbers"
    QUIET = "Report remark"
    WORDS = "Report words"
    LABEL = "Report label"
    CELL = "Report cell"
    DATE = "Report date"
    NUMBER = "Report number"
    STRONG = "Report sum"
    STRONG_NUMBER = "Report sum of numbers"


@dataclass(frozen=True, slots=True)
class _Shape:
    font: Font
    alignment: Alignment
    border: Border | None = None
    fill: PatternFill | None = None


_TOP = Alignment(vertical="top")
_WRAPPED = Alignment(vertical="top", wrap_text=True)
_RIGHT = Alignment("right", "top", indent=1)
_UNDER = Border(bottom=_HAIR)
_TINT = PatternFill("solid", "EFF4F5")
_HEAD_FONT = Font("Calibri", 10, bold=True)
_HEAD_LINE = Border(bottom=Side("medium", color=_ACCENT))

_LOOKS = {
    Look.TITLE: _Shape(Font("Calibri", 16, bold=True), Alignment(vertical="center")),
    Look.HEAD: _Shape(_HEAD_FONT, Alignment(vertical="bottom", wrap_text=True), _HEAD_LINE),
    Look.HEAD_NUMBER: _Shape(_HEAD_FONT, Alignment("right", "bottom", wrap_text=True, indent=1), _HEAD_LINE),
    Look.QUIET: _Shape(Font("Calibri", 10, color="56626B"), _TOP),
    Look.WORDS: _Shape(Font("Calibri", 10), _WRAPPED),
    Look.LABEL: _Shape(Font("Calibri", 10, bold=True, color=_ACCENT), _WRAPPED),
    Look.CELL: _Shape(Font("Calibri", 10), _WRAPPED, _UNDER),
    Look.DATE: _Shape(Font("Calibri", 10), Alignment("left", "top"), _UNDER),
    Look.NUMBER: _Shape(Font("Calibri", 10), _RIGHT, _UNDER),
    Look.STRONG: _Shape(Font("Calibri", 10, bold=True), _WRAPPED, _UNDER, _TINT),
    Look.STRONG_NUMBER: _Shape(Font("Calibri", 10, bold=True), _RIGHT, _UNDER, _TINT),
}

_FORMATS = {Kind.WHOLE: "#,##0", Kind.NUMBER: "General", Kind.SHARE: "0.0%", Kind.BAR: "#,##0"}
_DATE_FORMAT = "d mmm yyyy"


def add_looks(book: Workbook) -> None:
    """Make the styles known to a workbook."""
    for look, shape in _LOOKS.items():
        style = NamedStyle(look.value, font=shape.font, alignment=shape.alignment)
        if shape.border is not None:
            style.border = shape.border
        if shape.fill is not None:
            style.fill = shape.fill
        book.add_named_style(style)


def safe_text(text: str) -> str:
    """The text without what XML forbids and no longer than a cell holds, showing where it was cut."""
    kept = _ILLEGAL.sub("", text)
    return kept if len(kept) <= _LONGEST else kept[: _LONGEST - len(_CUT)] + _CUT


def set_words(cell: SheetCell, text: str, look: StrEnum) -> None:
    """Write words in a named style; no spreadsheet program can take them for a formula."""
    cell.style = look.value
    set_text(cell, text)


def set_text(cell: SheetCell, text: str) -> None:
    """Write words that no spreadsheet program can take for a formula, whatever they begin with."""
    kept = safe_text(text)
    if not kept:
        return
    cell.value = kept.replace("\r\n", "\n").replace("\r", "\n")
    cell.data_type = "s"
    if begins_like_a_formula(kept):
        cell.quotePrefix = True


def set_value(cell: SheetCell, value: Cell, kind: Kind, strong: bool) -> None:
    """Write one cell of a table; a missing value leaves it empty.

    Args:
        strong: whether the row sums up others.
    """
    if isinstance(value, date):
        cell.style = Look.DATE.value
        cell.value = value
        cell.number_format = _DATE_FORMAT
    elif isinstance(value, int | float):
        cell.style = (Look.STRONG_NUMBER if strong else Look.NUMBER).value
        cell.value = value
        cell.number_format = _FORMATS.get(kind, "General")
    else:
        set_words(cell, "" if value is None else str(value), Look.STRONG if strong else Look.CELL)


def lines_needed(value: Cell, width: float) -> int:
    """How many lines a cell takes in a column about so many characters wide."""
    if not isinstance(value, str):
        return 1
    return max(1, sum(math.ceil(len(line) / width) for line in value.splitlines()))

"""One sheet of a workbook of the old form: its cells, what is merged and what is hidden."""

import struct
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field

from estate.intake.grid import Cell, Row, Trouble
from estate.intake.old_book import Book
from estate.intake.old_formula import gives_a_number
from estate.intake.old_strings import text_at
from estate.intake.package import check_size

_ERRORS = {
    0x00: "#NULL!",
    0x07: "#DIV/0!",
    0x0F: "#VALUE!",
    0x17: "#REF!",
    0x1D: "#NAME?",
    0x24: "#NUM!",
    0x2A: "#N/A",
}
_ROW_HIDDEN = 0x20
_NOT_A_NUMBER = b"\xff\xff"
_TEXT, _TRUTH, _ERROR = 0, 1, 2
_TO_BE_WORKED_OUT = 2
_UNKNOWN_FORMULA = "a formula"


@dataclass(slots=True)
class Sheet:
    """What has been read of one sheet.

    Attributes:
        awaiting: the cell whose formula gave a text that the next record holds.
    """

    book: Book
    cells: dict[tuple[int, int], Cell] = field(default_factory=dict)
    merged: list[tuple[int, int, int, int]] = field(default_factory=list)
    hidden_rows: set[int] = field(default_factory=set)
    hidden_columns: set[int] = field(default_factory=set)
    awaiting: tuple[int, int] | None = None

    def hear(self, kind: int, data: bytes) -> None:
        """Take in one record.

        Raises:
            IndexError, ValueError, struct.error: it is too short for what it should hold.
        """
        heard = _HEARD.get(kind)
        if heard:
            heard(self, data)

    def rows(self, file: str) -> list[Row]:
        """The cells as rows.

        Raises:
            IntakeFault: they reach too far.
        """
        height = max((row for row, _ in self.cells), default=-1) + 1
        width = max((column for _, column in self.cells), default=-1) + 1
        check_size(height, width, file)
        rows: list[list[Cell]] = [[None] * width for _ in range(height)]
        for (row, column), cell in self.cells.items():
            rows[row][column] = cell
        return list(rows)


def _number(sheet: Sheet, data: bytes) -> None:
    row, column, style, number = struct.unpack_from("<3Hd", data)
    sheet.cells[row, column] = sheet.book.value(number, style)


def _short_number(sheet: Sheet, data: bytes) -> None:
    row, column, style, short = struct.unpack_from("<3HI", data)
    sheet.cells[row, column] = sheet.book.value(_lengthened(short), style)


def _short_numbers(sheet: Sheet, data: bytes) -> None:
    row, column = struct.unpack_from("<2H", data)
    for style, short in struct.iter_unpack("<HI", data[4 : 4 + (len(data) - 6) // 6 * 6]):
        sheet.cells[row, column] = sheet.book.value(_lengthened(short), style)
        column += 1


def _lengthened(short: int) -> float:
    """A number from the 30 bits that the form keeps of most: whole, or the top of a float; or a hundredth."""
    if short & 2:
        whole = short >> 2
        number = float(whole - (1 << 30) if whole >= 1 << 29 else whole)
    else:
        (number,) = struct.unpack("<d", struct.pack("<2I", 0, short & 0xFFFFFFFC))
    return number / 100 if short & 1 else number


def _shared_text(sheet: Sheet, data: bytes) -> None:
    row, column, number = struct.unpack_from("<2H2xI", data)
    sheet.cells[row, column] = sheet.book.strings[number] or None


def _own_text(sheet: Sheet, data: bytes) -> None:
    row, column = struct.unpack_from("<2H", data)
    sheet.cells[row, column] = text_at(data, 6, 2) or None


def _truth_or_error(sheet: Sheet, data: bytes) -> None:
    row, column, value, is_error = struct.unpack_from("<2H2x2B", data)
    sheet.cells[row, column] = _error(value) if is_error else bool(value)


def _formula(sheet: Sheet, data: bytes) -> None:
    row, column, style, value, signs, length = struct.unpack_from("<3H8sH4xH", data)
    sheet.awaiting = (row, column) if _is_special(value, _TEXT) else None
    sheet.cells[row, column] = _result(
        sheet.book, value, style, bool(signs & _TO_BE_WORKED_OUT), data[22 : 22 + length]
    )


def _result(book: Book, value: bytes, style: int, unsettled: bool, written: bytes) -> Cell:
    """What a formula gave, as the program that wrote the file left it.

    Programs that don't work formulas out write a nought and ask for it to be done on opening, or write that
    the formula gave an empty text, which only some formulas can.
    """
    if _is_special(value, _TRUTH):
        return bool(value[2])
    if _is_special(value, _ERROR):
        return _error(value[2])
    without = Trouble("formula-without-value", _UNKNOWN_FORMULA)
    if value.endswith(_NOT_A_NUMBER):
        return without if unsettled or value[0] == _TEXT or gives_a_number(written) else None
    (number,) = struct.unpack("<d", value)
    return without if unsettled and not number else book.value(number, style)


def _is_special(value: bytes, kind: int) -> bool:
    return value.endswith(_NOT_A_NUMBER) and value[0] == kind


def _text_of_formula(sheet: Sheet, data: bytes) -> None:
    if sheet.awaiting:
        sheet.cells[sheet.awaiting] = text_at(data, 0, 2) or None
        sheet.awaiting = None


def _error(code: int) -> Trouble:
    return Trouble("unreadable-value", _ERRORS.get(code, "error"))


def _row(sheet: Sheet, data: bytes) -> None:
    row, signs = struct.unpack_from("<H10xH", data)
    if signs & _ROW_HIDDEN:
        sheet.hidden_rows.add(row)


def _columns(sheet: Sheet, data: bytes) -> None:
    first, last, signs = struct.unpack_from("<2H4xH", data)
    if signs & 1:
        sheet.hidden_columns |= set(range(first, min(last, 255) + 1))


def _merged(sheet: Sheet, data: bytes) -> None:
    whole = 2 + (len(data) - 2) // 8 * 8
    for top, bottom, left, right in struct.iter_unpack("<4H", data[2:whole]):
        sheet.merged.append((top, left, bottom, right))


_HEARD: Mapping[int, Callable[[Sheet, bytes], None]] = {
    0x0203: _number,
    0x027E: _short_number,
    0x00BD: _short_numbers,
    0x00FD: _shared_text,
    0x0204: _own_text,
    0x00D6: _own_text,
    0x0205: _truth_or_error,
    0x0006: _formula,
    0x0207: _text_of_formula,
    0x0208: _row,
    0x007D: _columns,
    0x00E5: _merged,
}

"""What holds for every sheet of a workbook of the old form: its sheets, formats and shared texts."""

import struct
from collections.abc import Iterator
from dataclasses import dataclass, field
from datetime import date

from estate.domain.phrases import phrase
from estate.intake.grid import Cell
from estate.intake.number_formats import Shown, built_in, value_of, written
from estate.intake.old_strings import shared_strings, text_at
from estate.intake.package import damaged, locked
from estate.intake.signatures import RESAVED, other_kind

MOST_SHEETS = 300

_BOF, _EOF, _CONTINUE = 0x0809, 0x000A, 0x003C
_FILE_PASS, _EPOCH, _SHEET, _FORMAT, _STYLE, _STRINGS = 0x002F, 0x0022, 0x0085, 0x041E, 0x00E0, 0x00FC
_FORM_OF_1997 = 0x0600
_WORKSHEET = 0


@dataclass(frozen=True, slots=True)
class Listed:
    """A sheet as the workbook lists it: where its records begin, whether it is hidden, its name."""

    start: int
    hidden: bool
    name: str


@dataclass(slots=True)
class Book:
    """What holds for every sheet.

    Attributes:
        styles: the number of the format of each style.
    """

    epoch: date = date(1899, 12, 30)
    sheets: list[Listed] = field(default_factory=list)
    formats: dict[int, Shown] = field(default_factory=dict)
    styles: list[int] = field(default_factory=list)
    strings: list[str] = field(default_factory=list)

    def value(self, number: float, style: int) -> Cell:
        """A number as a style shows it."""
        chosen = self.styles[style] if style < len(self.styles) else 0
        return value_of(number, self.formats.get(chosen) or built_in(chosen), self.epoch)


def records(stream: bytes, start: int) -> Iterator[tuple[int, bytes, int]]:
    """The records of one part of a stream, without those of charts that lie in it.

    Yields:
        Each record's kind, its data, and where it ends.

    Raises:
        ValueError: the part does not begin as one, or the stream ends within it.
    """
    at, depth = start, 0
    while True:
        kind, length = struct.unpack_from("<2H", stream, at)
        end = at + 4 + length
        if end > len(stream):
            raise ValueError("a record is cut off")
        if kind == _BOF:
            depth += 1
        elif at == start:
            raise ValueError("it does not begin as it should")
        elif kind == _EOF:
            depth -= 1
        if depth == 1:
            yield kind, stream[at + 4 : end], end
        elif depth < 1:
            return
        at = end


def book_of(stream: bytes, file: str) -> Book:
    """What a workbook says before its sheets.

    Raises:
        IntakeFault: it is locked, older than 1997, or its list of sheets is none.
        ValueError, struct.error: a record is cut off.
    """
    book = Book()
    texts: list[bytes] = []
    last = 0
    for kind, data, _ in records(stream, 0):
        if kind == _CONTINUE:
            if last == _STRINGS:
                texts.append(data)
            continue
        last = kind
        if kind == _STRINGS:
            texts = [data]
        else:
            _hear(book, kind, data, file)
    if texts:
        book.strings = shared_strings(texts, file)
    if len({sheet.start for sheet in book.sheets}) < len(book.sheets) or len(book.sheets) > MOST_SHEETS:
        raise damaged(file, phrase("its list of sheets is not that of a workbook"))
    return book


def _hear(book: Book, kind: int, data: bytes, file: str) -> None:
    if kind == _BOF and int.from_bytes(data[:2], "little") != _FORM_OF_1997:
        raise other_kind(file, phrase("a workbook of a form from before 1997"), RESAVED)
    if kind == _FILE_PASS:
        raise locked(file)
    if kind == _EPOCH and data[:1] == b"\1":
        book.epoch = date(1904, 1, 1)
    elif kind == _SHEET:
        start, hidden, form = struct.unpack_from("<I2B", data)
        if form == _WORKSHEET:
            book.sheets.append(Listed(start, bool(hidden & 3), text_at(data, 6, 1)))
    elif kind == _FORMAT:
        book.formats[int.from_bytes(data[:2], "little")] = written(text_at(data, 2, 2))
    elif kind == _STYLE:
        book.styles.append(struct.unpack_from("<2xH", data)[0])

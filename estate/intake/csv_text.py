"""Delimited text in: its encoding, its delimiter, its rows."""

import csv
from io import StringIO
from itertools import islice

from estate.errors import IntakeFault
from estate.intake.grid import Cell, Grid
from estate.intake.package import check_size

DELIMITERS = (";", ",", "\t", "|")
_MARKS = (
    (b"\xff\xfe\x00\x00", "utf-32"),
    (b"\x00\x00\xfe\xff", "utf-32"),
    (b"\xef\xbb\xbf", "utf-8-sig"),
    (b"\xff\xfe", "utf-16"),
    (b"\xfe\xff", "utf-16"),
)
_TRIAL_ROWS = 300


def text_of(content: bytes, file: str) -> str:
    """Decode a text file.

    Tried in order: the byte-order mark, UTF-16 without one, UTF-8, Windows western European, Latin-1.

    Raises:
        IntakeFault: it is not text.
    """
    for encoding in _encodings(content):
        try:
            text = content.decode(encoding)
        except UnicodeDecodeError:
            continue
        if "\0" not in text:
            return text
    raise IntakeFault(
        "This is not a sheet",
        f"“{file}” is neither an xlsx workbook nor text.",
        "Save it as .xlsx or .csv in a spreadsheet program and bring that in.",
    )


def _encodings(content: bytes) -> list[str]:
    marked = next((encoding for mark, encoding in _MARKS if content.startswith(mark)), None)
    if marked:
        return [marked]
    if content[1:2] == b"\0" and content[3:4] == b"\0":
        return ["utf-16-le"]
    if content[:1] == b"\0" and content[2:3] == b"\0":
        return ["utf-16-be"]
    return ["utf-8", "cp1252", "latin-1"]


def trials_of(text: str, name: str, file: str) -> tuple[tuple[str, Grid], ...]:
    """The first rows under each delimiter that can part them, to choose the delimiter by.

    Raises:
        IntakeFault: no delimiter gives rows.
    """
    found = []
    faults = []
    for delimiter in DELIMITERS:
        try:
            grid = _parted(text, delimiter, name, file, _TRIAL_ROWS)
        except csv.Error as fault:
            faults.append(str(fault))
            continue
        found.append((delimiter, grid))
    if not found:
        raise _not_rows(file, faults[0])
    return tuple(found)


def grid_of(text: str, delimiter: str, name: str, file: str) -> Grid:
    """All rows of a text.

    Args:
        text: the file's text.
        delimiter: what parts its cells.
        name: the sheet's name.
        file: the file's name, for faults.

    Raises:
        IntakeFault: a quotation mark is never closed, or the file is too big.
    """
    try:
        return _parted(text, delimiter, name, file, None)
    except csv.Error as fault:
        raise _not_rows(file, str(fault)) from fault


def _parted(text: str, delimiter: str, name: str, file: str, limit: int | None) -> Grid:
    reader = csv.reader(StringIO(text, newline=""), delimiter=delimiter, strict=True)
    rows: list[list[Cell]] = []
    for row in islice(reader, limit):
        rows.append([cell or None for cell in row])
        check_size(len(rows), len(row), file)
    return Grid(name, rows)


def _not_rows(file: str, why: str) -> IntakeFault:
    remedy = "Look for a quotation mark without its partner, or save the file again as .csv or .xlsx."
    return IntakeFault("The file can't be parted into rows", f"“{file}”: {why}.", remedy)

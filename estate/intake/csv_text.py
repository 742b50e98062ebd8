"""Delimited text in: its encoding, its delimiter, its rows."""

import csv
import re
from io import StringIO
from itertools import islice

from estate.domain.phrases import phrase
from estate.errors import IntakeFault
from estate.intake.grid import Cell, Grid
from estate.intake.package import check_cells, check_size
from estate.intake.signatures import RESAVED, other_kind
from estate.intake.text_encoding import encodings_of

DELIMITERS = (";", ",", "\t", "|")
_UNSEEN = re.compile(r"[\x01-\x08\x0b\x0e-\x1f\x7f]")
_SAID = re.compile(r'"?sep=(.)"?[ \t;,|]*(?:\r\n|\r|\n|$)', re.IGNORECASE)
_LOOKED_AT = 100_000
_MOST_UNSEEN = 50
"""Text has no more than one control character in so many; the file is something else."""

_TRIAL_ROWS = 300


def text_of(content: bytes, file: str) -> str:
    """Decode a text file, by its mark, by its zeros, else by what reads best.

    Raises:
        IntakeFault: it is not text.
    """
    for encoding in encodings_of(content):
        try:
            text = content.decode(encoding)
        except UnicodeDecodeError:
            continue
        unseen = len(_UNSEEN.findall(text[:_LOOKED_AT]))
        if "\0" not in text and unseen * _MOST_UNSEEN <= len(text[:_LOOKED_AT]):
            return _UNSEEN.sub("", text)
    raise other_kind(file, phrase("neither a workbook nor text"), RESAVED)


def said_delimiter(text: str) -> tuple[str, str]:
    """The delimiter that the first line names for spreadsheet programs, and the text below that line.

    Returns:
        No delimiter and the whole text where the first line is none such. No program shows or counts it.
    """
    said = _SAID.match(text)
    return (said[1], text[said.end() :]) if said else ("", text)


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
    # One line of millions of cells would be made whole before it could be counted.
    check_cells(text.count(delimiter), file)
    reader = csv.reader(StringIO(text, newline=""), delimiter=delimiter, strict=True)
    rows: list[list[Cell]] = []
    widest = cells = 0
    for row in islice(reader, limit):
        rows.append([cell or None for cell in row])
        cells += len(row)
        widest = max(widest, len(row))
        check_size(len(rows), 1, file)
        check_size(1, widest, file)
        check_cells(cells, file)
    return Grid(name, rows)


def _not_rows(file: str, why: str) -> IntakeFault:
    remedy = phrase("Look for a quotation mark without its partner, or save the file again as .csv or .xlsx.")
    return IntakeFault("The file can't be parted into rows", f"“{file}”: {why}.", remedy)

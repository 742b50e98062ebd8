"""A workbook's container, unpacked within bounds and repacked plain, so that no reader meets a bomb."""

import re
import zipfile
import zlib
from collections.abc import Mapping
from io import BytesIO

from estate.errors import IntakeFault

MOST_BYTES = 300_000_000
"""More than this is not unpacked from one workbook."""

MOST_PARTS = 2_000
MOST_ROWS = 200_000
MOST_COLUMNS = 1_000
MOST_CELLS = 5_000_000

_REFERENCE = re.compile(rb"\sr\s*=\s*[\"']\s*\$?([A-Za-z]{0,8})\$?([0-9]{1,12})\s*[\"']")
_VEILED = re.compile(rb"\sr\s*=\s*[\"'][^\"'<>]{0,20}&")
_FAULTS = (zipfile.BadZipFile, zlib.error, EOFError, OSError, ValueError, NotImplementedError, RuntimeError)


def parts_of(content: bytes, file: str) -> dict[str, bytes]:
    """The XML parts of a container, by name.

    Raises:
        IntakeFault: the container is damaged, locked, too big, or not a workbook of this form.
    """
    try:
        with zipfile.ZipFile(BytesIO(content)) as archive:
            parts = _unpacked(archive, file)
    except _FAULTS as fault:
        raise damaged(file, str(fault)) from fault
    if "xl/workbook.xml" not in parts:
        raise IntakeFault(
            "This is not a workbook of the xlsx form",
            f"“{file}” is a container of another kind.",
            "Open it in a spreadsheet program, save it as .xlsx or .csv, and bring that in.",
        )
    for part in parts.values():
        if holds_sheet(part):
            _check_extent(part, file)
    return parts


def holds_sheet(part: bytes) -> bool:
    """Whether a part is one sheet's cells."""
    return b"sheetData" in part


def repacked(parts: Mapping[str, bytes]) -> BytesIO:
    """The same parts in a plain container: what was measured is exactly what is read next."""
    packed = BytesIO()
    with zipfile.ZipFile(packed, "w", zipfile.ZIP_STORED) as archive:
        for name, part in parts.items():
            archive.writestr(name, part)
    packed.seek(0)
    return packed


def damaged(file: str, why: str) -> IntakeFault:
    """The fault of a file that can't be opened."""
    remedy = "Ask for the file again, or open it in a spreadsheet program and save it as a new .xlsx file."
    return IntakeFault(
        "The file is damaged", f"“{file}” can't be opened: {why or 'it ends too soon'}.", remedy
    )


def too_big(file: str, what: str) -> IntakeFault:
    """The fault of a file beyond the bounds."""
    remedy = "Delete what is not the table (empty rows and columns too), or save the table alone as .csv."
    return IntakeFault("The file is too big", f"“{file}” holds {what}.", remedy)


def check_size(rows: int, columns: int, file: str) -> None:
    """Refuse a sheet beyond the bounds.

    Raises:
        IntakeFault: it has too many rows, columns or cells.
    """
    if rows > MOST_ROWS or columns > MOST_COLUMNS or rows * columns > MOST_CELLS:
        raise too_big(file, f"a sheet that reaches to row {rows:,} and column {columns:,}")


def _unpacked(archive: zipfile.ZipFile, file: str) -> dict[str, bytes]:
    members = archive.infolist()
    if len(members) > MOST_PARTS or len({each.filename for each in members}) < len(members):
        raise damaged(file, "its list of parts is not that of a workbook")
    parts: dict[str, bytes] = {}
    left = MOST_BYTES
    for member in members:
        if member.flag_bits & 1:
            raise damaged(file, "it is locked with a password")
        if not member.filename.endswith((".xml", ".rels")):
            continue
        if member.compress_type not in (zipfile.ZIP_STORED, zipfile.ZIP_DEFLATED):
            raise damaged(file, "it is packed in an unusual manner")
        with archive.open(member) as part:
            parts[member.filename] = part.read(left + 1)
        left -= len(parts[member.filename])
        if left < 0:
            raise too_big(file, f"more than {MOST_BYTES // 1_000_000} MB once unpacked")
        if b"\0" in parts[member.filename]:
            raise damaged(file, "its parts are not in UTF-8")
    return parts


def _check_extent(part: bytes, file: str) -> None:
    """Refuse a sheet with a cell so far out that a grid up to it would fill the memory."""
    if _VEILED.search(part):
        raise damaged(file, "the names of its cells are not plain")
    references = set(_REFERENCE.findall(part))
    rows = max((int(row) for _, row in references), default=0)
    columns = max((_column(letters) for letters in {letters for letters, _ in references}), default=0)
    check_size(rows, columns, file)


def _column(letters: bytes) -> int:
    number = 0
    for letter in letters.upper():
        number = number * 26 + letter - ord("A") + 1
    return number

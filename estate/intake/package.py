"""A zipped container, unpacked within bounds and repacked plain, so that no reader meets a bomb."""

import re
import zipfile
import zlib
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from io import BytesIO

from estate.domain.phrases import phrase
from estate.errors import IntakeFault

MOST_BYTES = 150_000_000
"""More than this is not unpacked from one file."""

MOST_MARKS = 10_000_000
"""More opening brackets than this are not read from one file: the smallest elements fill the memory first."""

MOST_PARTS = 2_000
MOST_ROWS = 200_000
MOST_COLUMNS = 1_000
MOST_CELLS = 3_000_000

Parts = dict[str, bytes]
"""The XML parts of a container, by name."""

_ENTRY = b"PK\x01\x02"
# zipfile says NotImplementedError of a way of packing that it does not know, RuntimeError of a locked part.
_FAULTS = (zipfile.BadZipFile, zlib.error, EOFError, OSError, ValueError, NotImplementedError, RuntimeError)
_XML = (".xml", ".rels")
_UNSEEN = bytes({*range(32)} - {9, 10, 13})
_DECLARED = re.compile(rb"^\s*<\?xml[^>]*\sencoding\s*=\s*[\"']([\w.-]+)")


def parts_of(content: bytes, file: str, wanted: Callable[[str], bool]) -> Parts:
    """The XML parts of a container that are wanted.

    Args:
        content: the file's bytes.
        file: its name, for faults.
        wanted: whether a part of this name is to be unpacked; the others stay unread.

    Raises:
        IntakeFault: the container is damaged, locked or too big.
    """
    with _opened(content, file) as archive:
        parts = _unpacked(archive, file, wanted)
    if sum(part.count(b"<") for part in parts.values()) > MOST_MARKS:
        raise too_big(file, phrase("more cells than can be read"))
    return parts


def names_in(content: bytes, file: str) -> tuple[str, ...]:
    """The names of a container's parts.

    Raises:
        IntakeFault: the container is damaged.
    """
    with _opened(content, file) as archive:
        return tuple(_tidy(name) for name in archive.namelist())


@contextmanager
def _opened(content: bytes, file: str) -> Iterator[zipfile.ZipFile]:
    if content.count(_ENTRY) > MOST_PARTS:
        raise damaged(file, phrase("its list of parts is not that of a workbook"))
    try:
        with zipfile.ZipFile(BytesIO(content)) as archive:
            yield archive
    except _FAULTS as fault:
        raise damaged(file, str(fault)) from fault


def check_plain(part: bytes, file: str) -> None:
    """Refuse XML that defines its own entities, is not in UTF-8 or holds control characters.

    Raises:
        IntakeFault: it does.
    """
    if b"\0" in part:
        raise damaged(file, phrase("its parts are not in UTF-8"))
    declared = _DECLARED.match(part[:300].removeprefix(b"\xef\xbb\xbf"))
    if declared and declared[1].lower() not in (b"utf-8", b"us-ascii", b"ascii"):
        raise damaged(file, phrase("its parts are not in UTF-8"))
    if len(part.translate(None, _UNSEEN)) < len(part):
        raise damaged(file, phrase("its parts hold characters that no sheet can"))
    # A single byte is sought several times faster than two, and most sheets have none of it.
    if b"!" in part and (b"<!DOCTYPE" in part or b"<!ENTITY" in part):
        raise damaged(file, phrase("it defines entities of its own, which no sheet needs"))


def repacked(parts: Parts) -> BytesIO:
    """The same parts in a plain container: what was measured is exactly what is read next.

    The parts are taken out of the mapping one by one, so that the memory never holds them twice.
    """
    packed = BytesIO()
    with zipfile.ZipFile(packed, "w", zipfile.ZIP_STORED) as archive:
        while parts:
            archive.writestr(*parts.popitem())
    packed.seek(0)
    return packed


def damaged(file: str, why: str) -> IntakeFault:
    """The fault of a file that can't be opened."""
    remedy = phrase(
        "Ask for the file again, or open it in a spreadsheet program and save it as a new .xlsx file."
    )
    return IntakeFault(
        "The file is damaged",
        phrase("“{file}” can't be opened: {why}.", file=file, why=why or phrase("it ends too soon")),
        remedy,
    )


def locked(file: str) -> IntakeFault:
    """The fault of a file that only a password opens."""
    remedy = phrase(
        "Open it with its password in a spreadsheet program and save it without one, or ask the sender to."
    )
    return IntakeFault(
        "The file is locked with a password", phrase("“{file}” is encrypted.", file=file), remedy
    )


def too_big(file: str, what: str) -> IntakeFault:
    """The fault of a file beyond the bounds."""
    remedy = phrase(
        "Delete what is not the table (empty rows and columns too), or save the table alone as .csv."
    )
    return IntakeFault("The file is too big", phrase("“{file}” holds {what}.", file=file, what=what), remedy)


def check_size(rows: int, columns: int, file: str) -> None:
    """Refuse a sheet beyond the bounds.

    Raises:
        IntakeFault: it has too many rows, columns or cells.
    """
    if rows > MOST_ROWS or columns > MOST_COLUMNS or rows * columns > MOST_CELLS:
        raise too_big(
            file,
            phrase("a sheet that reaches to row {rows:,} and column {columns:,}", rows=rows, columns=columns),
        )


def check_cells(cells: int, file: str) -> None:
    """Refuse sheets that together go beyond the bounds.

    Raises:
        IntakeFault: they have too many cells.
    """
    if cells > MOST_CELLS:
        raise too_big(
            file, phrase("sheets of more than {most_cells:,} cells together", most_cells=MOST_CELLS)
        )


def _unpacked(archive: zipfile.ZipFile, file: str, wanted: Callable[[str], bool]) -> Parts:
    members = archive.infolist()
    if len({_tidy(each.filename) for each in members}) < len(members):
        raise damaged(file, phrase("its list of parts is not that of a workbook"))
    parts: Parts = {}
    left = MOST_BYTES
    for member in members:
        name = _tidy(member.filename)
        if member.flag_bits & 1:
            raise locked(file)
        if not name.endswith(_XML) or not wanted(name):
            continue
        if member.compress_type not in (zipfile.ZIP_STORED, zipfile.ZIP_DEFLATED):
            raise damaged(file, phrase("it is packed in an unusual manner"))
        with archive.open(member) as part:
            parts[name] = part.read(left + 1)
        left -= len(parts[name])
        if left < 0:
            raise too_big(
                file, phrase("more than {most_bytes} MB once unpacked", most_bytes=MOST_BYTES // 1_000_000)
            )
        check_plain(parts[name], file)
    return parts


def _tidy(name: str) -> str:
    """A part's name with the strokes that the form asks for: some programs write others."""
    return name.replace("\\", "/").removeprefix("/")

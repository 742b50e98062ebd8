"""OpenDocument spreadsheets in, packed (ods) or flat (fods), element by element: no tree fills the memory."""

from xml.parsers import expat

from estate.domain.phrases import phrase
from estate.intake.grid import Grid
from estate.intake.open_cells import Sheets
from estate.intake.package import MOST_MARKS, check_plain, damaged, locked, parts_of, too_big
from estate.intake.signatures import AS_SHEET, other_kind

CELLS = "content.xml"
LOCKED = "encrypted-package"
"""The part in which some programs lock a whole document."""

_MANIFEST = "META-INF/manifest.xml"
_LOCKED_PART = b"encryption-data"
_FLAT = b"urn:oasis:names:tc:opendocument:xmlns:office"
_FLAT_WITHIN = 2_000
_BETWEEN = " "


def is_flat(content: bytes) -> bool:
    """Whether a file is a document in one XML file."""
    head = content[:_FLAT_WITHIN]
    return head.removeprefix(b"\xef\xbb\xbf").lstrip().startswith(b"<") and _FLAT in head


def grids_of(content: bytes, file: str) -> tuple[Grid, ...]:
    """The sheets of a packed document.

    Args:
        content: the file's bytes.
        file: its name, for faults.

    Raises:
        IntakeFault: the file is damaged, locked, too big, or no spreadsheet.
    """
    manifest = parts_of(content, file, lambda name: name == _MANIFEST).get(_MANIFEST, b"")
    if _LOCKED_PART in manifest:
        raise locked(file)
    parts = parts_of(content, file, lambda name: name == CELLS)
    if CELLS not in parts:
        raise locked(file)
    return _heard(parts[CELLS], file)


def grids_of_flat(content: bytes, file: str) -> tuple[Grid, ...]:
    """The sheets of a document in one XML file.

    Args:
        content: the file's bytes.
        file: its name, for faults.

    Raises:
        IntakeFault: the file is damaged, too big, or no spreadsheet.
    """
    check_plain(content, file)
    if content.count(b"<") > MOST_MARKS:
        raise too_big(file, phrase("more cells than can be read"))
    return _heard(content, file)


def _heard(part: bytes, file: str) -> tuple[Grid, ...]:
    sheets = Sheets(file)
    parser = expat.ParserCreate(namespace_separator=_BETWEEN)
    parser.buffer_text = True
    parser.StartElementHandler = sheets.start
    parser.EndElementHandler = sheets.end
    parser.CharacterDataHandler = sheets.text
    try:
        parser.Parse(part, True)
    except (expat.ExpatError, ValueError, OverflowError) as fault:
        raise damaged(file, str(fault)) from fault
    if not sheets.is_spreadsheet:
        raise other_kind(file, phrase("a document without a spreadsheet"), AS_SHEET)
    return tuple(sheets.grids)

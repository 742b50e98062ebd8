"""What a file is that is no sheet, so that the refusal can name it and the way out."""

import re
from collections.abc import Collection

from estate.errors import IntakeFault

AS_SHEET = "Ask for the table as .xlsx or .csv."
RESAVED = "Open it in a spreadsheet program, save it as .xlsx, and bring that in."
UNPACKED = "Unpack it and bring in the sheet that is in it."

_HEADS = (
    (b"\x89PNG", "a picture", AS_SHEET),
    (b"\xff\xd8\xff", "a picture", AS_SHEET),
    (b"GIF8", "a picture", AS_SHEET),
    (b"II*\0", "a picture", AS_SHEET),
    (b"MM\0*", "a picture", AS_SHEET),
    (b"RIFF", "a picture or a recording", AS_SHEET),
    (b"{\\rtf", "a text document", AS_SHEET),
    (b"\x1f\x8b", "a packed archive", UNPACKED),
    (b"7z\xbc\xaf", "a packed archive", UNPACKED),
    (b"Rar!", "a packed archive", UNPACKED),
    (b"BZh", "a packed archive", UNPACKED),
    (b"\xfd7zXZ", "a packed archive", UNPACKED),
    (b"SQLite format 3\0", "a database", AS_SHEET),
    (b"MZ", "a program", AS_SHEET),
    (b"\x7fELF", "a program", AS_SHEET),
)
_PDF_WITHIN = 1_024
"""A PDF document may begin this late."""

_WEB_PAGE = re.compile(rb"\s*(?:<!doctype\s+html|<(?:html|head|body|meta|table|style|div)[\s>])", re.I)
_MAIL = re.compile(rb"(?:^|\n)(?:MIME-Version|Received|Return-Path|Delivered-To|Message-ID): ", re.I)
_HEAD_BYTES = 4_096

_IN_CONTAINERS = (
    ("xl/workbook.bin", "a workbook of the binary xlsb form", RESAVED),
    ("word/", "a text document", AS_SHEET),
    ("ppt/", "a set of slides", AS_SHEET),
    ("visio/", "a drawing", AS_SHEET),
    ("index/", "a workbook of a form that is not read here", RESAVED),
)
_IN_OLD_CONTAINERS = (
    ("book", "a workbook of a form from before 1997", RESAVED),
    ("worddocument", "a text document", AS_SHEET),
    ("powerpoint document", "a set of slides", AS_SHEET),
    ("__properties_version1.0", "a mail", "Save the sheet attached to it and bring that in."),
)


def check_is_sheet(content: bytes, file: str) -> None:
    """Refuse a file that is plainly something else than delimited text.

    Raises:
        IntakeFault: it is.
    """
    head = content[:_HEAD_BYTES].removeprefix(b"\xef\xbb\xbf").replace(b"\0", b"")
    for sign, kind, remedy in _HEADS:
        if content.startswith(sign):
            raise other_kind(file, kind, remedy)
    if b"%PDF-" in head[:_PDF_WITHIN]:
        raise other_kind(file, "a PDF document", AS_SHEET)
    head = head.removeprefix(b"\xff\xfe").removeprefix(b"\xfe\xff")
    if _WEB_PAGE.match(head):
        raise other_kind(file, "a web page, whatever its name says", RESAVED)
    if head.lstrip().startswith(b"<?xml"):
        raise other_kind(file, "an XML file", RESAVED)
    if len(_MAIL.findall(head)) > 1:
        raise other_kind(file, "a mail", "Save the sheet attached to it and bring that in.")


def other_container(names: Collection[str], file: str) -> IntakeFault:
    """The fault of a zipped container that is no workbook."""
    for start, kind, remedy in _IN_CONTAINERS:
        if any(name.lower().startswith(start) for name in names):
            return other_kind(file, kind, remedy)
    return other_kind(file, "a packed folder", UNPACKED)


def other_old_container(names: Collection[str], file: str) -> IntakeFault:
    """The fault of an old compound container that is no workbook."""
    for wanted, kind, remedy in _IN_OLD_CONTAINERS:
        if wanted in {name.lower() for name in names}:
            return other_kind(file, kind, remedy)
    return other_kind(file, "a container of another program", AS_SHEET)


def other_kind(file: str, kind: str, remedy: str) -> IntakeFault:
    """The fault of a file that is not a sheet."""
    return IntakeFault("This is not a sheet that can be read", f"“{file}” is {kind}.", remedy)

"""What a file is that is no sheet, so that the refusal can name it and the way out."""

import re
from collections.abc import Collection

from estate.domain.phrases import phrase
from estate.errors import IntakeFault

AS_SHEET = "Ask for the table as .xlsx or .csv."
RESAVED = "Open it in a spreadsheet program, save it as .xlsx, and bring that in."
UNPACKED = "Unpack it and bring in the sheet that is in it."

_HEADS = (
    (b"\x89PNG", phrase("a picture"), AS_SHEET),
    (b"\xff\xd8\xff", phrase("a picture"), AS_SHEET),
    (b"GIF8", phrase("a picture"), AS_SHEET),
    (b"II*\0", phrase("a picture"), AS_SHEET),
    (b"MM\0*", phrase("a picture"), AS_SHEET),
    (b"RIFF", phrase("a picture or a recording"), AS_SHEET),
    (b"{\\rtf", phrase("a text document"), AS_SHEET),
    (b"\x1f\x8b", phrase("a packed archive"), UNPACKED),
    (b"7z\xbc\xaf", phrase("a packed archive"), UNPACKED),
    (b"Rar!", phrase("a packed archive"), UNPACKED),
    (b"BZh", phrase("a packed archive"), UNPACKED),
    (b"\xfd7zXZ", phrase("a packed archive"), UNPACKED),
    (b"SQLite format 3\0", phrase("a database"), AS_SHEET),
    (b"MZ", phrase("a program"), AS_SHEET),
    (b"\x7fELF", phrase("a program"), AS_SHEET),
)
_PDF_WITHIN = 1_024
"""A PDF document may begin this late."""

_WEB_PAGE = re.compile(rb"\s*(?:<!doctype\s+html|<(?:html|head|body|meta|table|style|div)[\s>])", re.I)
_MAIL = re.compile(rb"(?:^|\n)(?:MIME-Version|Received|Return-Path|Delivered-To|Message-ID): ", re.I)
_HEAD_BYTES = 4_096

_IN_CONTAINERS = (
    ("xl/workbook.bin", phrase("a workbook of the binary xlsb form"), RESAVED),
    ("word/", phrase("a text document"), AS_SHEET),
    ("ppt/", phrase("a set of slides"), AS_SHEET),
    ("visio/", phrase("a drawing"), AS_SHEET),
    ("index/", phrase("a workbook of a form that is not read here"), RESAVED),
)
_IN_OLD_CONTAINERS = (
    ("book", phrase("a workbook of a form from before 1997"), RESAVED),
    ("worddocument", phrase("a text document"), AS_SHEET),
    ("powerpoint document", phrase("a set of slides"), AS_SHEET),
    ("__properties_version1.0", phrase("a mail"), "Save the sheet attached to it and bring that in."),
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
        raise other_kind(file, phrase("a PDF document"), AS_SHEET)
    head = head.removeprefix(b"\xff\xfe").removeprefix(b"\xfe\xff")
    if _WEB_PAGE.match(head):
        raise other_kind(file, phrase("a web page, whatever its name says"), RESAVED)
    if head.lstrip().startswith(b"<?xml"):
        raise other_kind(file, phrase("an XML file"), RESAVED)
    if len(_MAIL.findall(head)) > 1:
        raise other_kind(file, phrase("a mail"), "Save the sheet attached to it and bring that in.")


def other_container(names: Collection[str], file: str) -> IntakeFault:
    """The fault of a zipped container that is no workbook."""
    for start, kind, remedy in _IN_CONTAINERS:
        if any(name.lower().startswith(start) for name in names):
            return other_kind(file, kind, remedy)
    return other_kind(file, phrase("a packed folder"), UNPACKED)


def other_old_container(names: Collection[str], file: str) -> IntakeFault:
    """The fault of an old compound container that is no workbook."""
    for wanted, kind, remedy in _IN_OLD_CONTAINERS:
        if wanted in {name.lower() for name in names}:
            return other_kind(file, kind, remedy)
    return other_kind(file, phrase("a container of another program"), AS_SHEET)


def other_kind(file: str, kind: str, remedy: str) -> IntakeFault:
    """The fault of a file that is not a sheet."""
    return IntakeFault(
        "This is not a sheet that can be read", phrase("“{file}” is {kind}.", file=file, kind=kind), remedy
    )

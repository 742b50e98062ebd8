"""What kind of file some bytes are, by what they hold and not by their name; anything else is refused.

Only beginnings and a container's list of parts are looked at: nothing is decoded, run or shown. Sources of
the marks: ISO 32000-2 (PDF), W3C PNG 3rd edition, ISO/IEC 10918-1 (JPEG), ISO/IEC 23008-12 (HEIC), ECMA-376
part 2 and OASIS OpenDocument 1.3 part 2 (containers).
"""

from pathlib import PurePosixPath
from typing import Final

from estate.domain.document_containers import in_container
from estate.domain.documents import MediaType
from estate.domain.phrases import phrase
from estate.errors import EntryFault

KEPT: Final = phrase("PDF, JPEG, PNG, HEIC, plain text, .xlsx, .docx, .ods and .odt")
_REMEDY: Final = phrase(
    "Kept are {kept}. Print or save it as a PDF and add that; nothing was kept.", kept=KEPT
)
_STARTS: Final = (
    (b"%PDF-", MediaType.PDF),
    (b"\x89PNG\r\n\x1a\n\x00\x00\x00\rIHDR", MediaType.PNG),
    (b"\xff\xd8\xff", MediaType.JPEG),
)
_PROGRAMS: Final = (
    (b"MZ", phrase("a program for Windows")),
    (b"\x7fELF", phrase("a program for Linux")),
    (b"\xcf\xfa\xed\xfe", phrase("a program for macOS")),
    (b"\xce\xfa\xed\xfe", phrase("a program for macOS")),
    (b"\xca\xfe\xba\xbe", phrase("a program")),
    (b"#!", phrase("a script")),
    (b"L\x00\x00\x00\x01\x14\x02\x00", phrase("a shortcut")),
    (b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1", phrase("an old office document, which may carry macros")),
    (b"{\\rtf", phrase("rich text, which may carry other files")),
)
_HEIC_BRANDS: Final = frozenset({b"heic", b"heix", b"heim", b"heis", b"mif1"})
_ACTIVE_IN_PDF: Final = (b"/JavaScript", b"/Launch", b"/EmbeddedFile", b"/RichMedia")
_TEXT_CONTROLS: Final = frozenset("\t\n\r\f")
_MARKUP: Final = ("<!doctype", "<html", "<svg", "<?xml", "<script", "<?php")


def kind_of(content: bytes, name: str) -> MediaType:
    """The kind of a file.

    Args:
        content: its bytes.
        name: its name, whose ending must go with the content.

    Raises:
        EntryFault: it is empty, of a kind that is not kept, carries something that runs, or bears another
            kind's ending.
    """
    if not content:
        raise EntryFault(
            "The file is empty", f"{name}.", "Look whether it was copied whole; nothing was kept."
        )
    for start, what in _PROGRAMS:
        if content.startswith(start):
            raise _refused(name, phrase("it is {what}", what=what))
    kind = _by_content(content, name)
    ending = PurePosixPath(name.casefold()).suffix
    if ending not in kind.endings:
        detail = phrase(
            "{name}: the content is a {kind}, the name does not end in {either}.",
            name=name,
            kind=kind.words,
            either=_either(kind),
        )
        remedy = phrase("Find out which of the two is right, and give the file the ending of its kind.")
        raise EntryFault(
            "Name and content of the file differ", detail, phrase("{remedy} Nothing was kept.", remedy=remedy)
        )
    return kind


def _by_content(content: bytes, name: str) -> MediaType:
    for start, kind in _STARTS:
        if content.startswith(start):
            if kind is MediaType.PDF:
                _must_not_act(content, name)
            return kind
    if content.startswith(b"PK"):
        kind_or_why = in_container(content)
        if isinstance(kind_or_why, MediaType):
            return kind_or_why
        raise _refused(name, kind_or_why)
    if content[4:8] == b"ftyp" and content[8:12] in _HEIC_BRANDS:
        return MediaType.HEIC
    if _is_text(content):
        return MediaType.TEXT
    raise _refused(name, phrase("its content is of none of the kinds that are kept"))


def _must_not_act(content: bytes, name: str) -> None:
    for mark in _ACTIVE_IN_PDF:
        if mark in content:
            raise _refused(
                name,
                phrase("it may run something or carries other files ({mark})", mark=mark.decode()[1:]),
            )


def _is_text(content: bytes) -> bool:
    try:
        text = content.decode("utf-8-sig")
    except UnicodeDecodeError:
        return False
    if text.lstrip().casefold().startswith(_MARKUP):
        return False
    return all(each in _TEXT_CONTROLS or (each >= " " and each != "\x7f") for each in set(text))


def _either(kind: MediaType) -> str:
    return " or ".join(kind.endings)


def _refused(name: str, why: str) -> EntryFault:
    return EntryFault("The file is not kept", phrase("{name}: {why}.", name=name, why=why), _REMEDY)

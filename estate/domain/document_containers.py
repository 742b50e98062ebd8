"""Office documents in zipped containers: which kind, or why one is refused; parts are listed, hardly read."""

import re
import zipfile
import zlib
from collections.abc import Sequence
from io import BytesIO
from typing import Final

from estate.domain.documents import MediaType

_MOST_PARTS: Final = 5_000
_MOST_BYTES: Final = 1_000_000
"""No part that is read may be greater: relations and lists of types have a few thousand bytes."""

_TYPES, _OPEN_TYPE = "[Content_Types].xml", "mimetype"
_OPEN_KINDS: Final = {each.value: each for each in (MediaType.ODS, MediaType.ODT)}
_MAIN_PARTS: Final = {"xl/workbook.xml": MediaType.XLSX, "word/document.xml": MediaType.DOCX}
_MACROS: Final = re.compile(
    r"(^|/)(vbaproject\.bin|vbadata\.xml)$|(^|/)(macrosheets|activex|customui)/|^(basic|scripts)/",
    re.IGNORECASE,
)
_OTHER_FILES: Final = re.compile(r"(^|/)embeddings/|\.(exe|dll|bat|cmd|js|vbs|ps1|jar)$", re.IGNORECASE)
_FETCHING: Final = re.compile(rb"/(attachedTemplate|oleObject|frame|subDocument|externalLinkPath)\"")
_EXTERNAL: Final = re.compile(rb"TargetMode\s*=\s*[\"']External[\"']")
_RELATION: Final = re.compile(rb"<[^<>]*>")
# zipfile says NotImplementedError of a way of packing that it does not know, RuntimeError of a locked part.
_UNREADABLE: Final = (zipfile.BadZipFile, zlib.error, EOFError, ValueError, NotImplementedError, RuntimeError)


class _TooBig(ValueError):
    """A part that has to be read is greater than any such part is."""


def in_container(content: bytes) -> MediaType | str:
    """The kind of an office document, or in words why it is refused.

    Args:
        content: the file's bytes, which begin as a zipped container does.
    """
    try:
        with zipfile.ZipFile(BytesIO(content)) as archive:
            return _kind(archive)
    except _UNREADABLE:
        return "it is a damaged or locked container"


def _kind(archive: zipfile.ZipFile) -> MediaType | str:
    names = archive.namelist()
    if len(names) > _MOST_PARTS:
        return "it has more parts than an office document has"
    if any(_MACROS.search(each) for each in names):
        return "it carries macros or other things that run"
    if any(_OTHER_FILES.search(each) for each in names):
        return "it carries other files"
    if names and names[0] == _OPEN_TYPE:
        said = _part(archive, _OPEN_TYPE).decode("ascii", "replace").strip()
        return _OPEN_KINDS.get(said, "it is an open document of another kind")
    if _TYPES not in names:
        return "it is a container of other files"
    return _packaged(archive, names)


def _packaged(archive: zipfile.ZipFile, names: Sequence[str]) -> MediaType | str:
    if b"macroenabled" in _part(archive, _TYPES).lower():
        return "it carries macros or other things that run"
    for name in names:
        if name.endswith(".rels") and _fetches(_part(archive, name)):
            return "it fetches something from elsewhere when it is opened"
    kinds = [kind for part, kind in _MAIN_PARTS.items() if part in names]
    return kinds[0] if len(kinds) == 1 else "it is an office document of another kind"


def _fetches(relations: bytes) -> bool:
    return any(_FETCHING.search(each) and _EXTERNAL.search(each) for each in _RELATION.findall(relations))


def _part(archive: zipfile.ZipFile, name: str) -> bytes:
    with archive.open(name) as part:
        read = part.read(_MOST_BYTES + 1)
    if len(read) > _MOST_BYTES:
        raise _TooBig
    return read

"""Documents and photographs of places, valves, visits and instruments: what is kept, and of which kinds."""

from dataclasses import dataclass
from datetime import datetime
from enum import StrEnum
from typing import Final

SIZE_BOUND_MB: Final = 20
"""Greatest size in MB (10^6 bytes) unless the settings say otherwise. A photograph of a telephone has 2 to 12
and a scanned certificate of some pages as much; what is greater would be copied with every backup."""

OPENING_CAUTION: Final = (
    "The file was checked by its kind and not for what it does. Open it only if you know where it comes "
    "from. A read-only copy in a private folder is handed to the program with which this machine opens such "
    "files."
)


class MediaType(StrEnum):
    """The kinds of files that are kept."""

    PDF = "application/pdf"
    PNG = "image/png"
    JPEG = "image/jpeg"
    HEIC = "image/heic"
    TEXT = "text/plain"
    XLSX = "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"
    DOCX = "application/vnd.openxmlformats-officedocument.wordprocessingml.document"
    ODS = "application/vnd.oasis.opendocument.spreadsheet"
    ODT = "application/vnd.oasis.opendocument.text"

    @property
    def words(self) -> str:
        """The kind, as people say it."""
        return _WORDS[self]

    @property
    def endings(self) -> tuple[str, ...]:
        """Endings of names that go with it, the usual one first."""
        return _ENDINGS[self]

    @property
    def is_picture(self) -> bool:
        """Whether it is a photograph or a drawing that a window can show small."""
        return self in (MediaType.PNG, MediaType.JPEG)


_WORDS: Final = {
    MediaType.PDF: "PDF",
    MediaType.PNG: "PNG picture",
    MediaType.JPEG: "JPEG photograph",
    MediaType.HEIC: "HEIC photograph",
    MediaType.TEXT: "plain text",
    MediaType.XLSX: "spreadsheet (.xlsx)",
    MediaType.DOCX: "text document (.docx)",
    MediaType.ODS: "spreadsheet (.ods)",
    MediaType.ODT: "text document (.odt)",
}
_ENDINGS: Final = {
    MediaType.PDF: (".pdf",),
    MediaType.PNG: (".png",),
    MediaType.JPEG: (".jpg", ".jpeg"),
    MediaType.HEIC: (".heic", ".heif"),
    MediaType.TEXT: (".txt", ".csv", ".log"),
    MediaType.XLSX: (".xlsx",),
    MediaType.DOCX: (".docx",),
    MediaType.ODS: (".ods",),
    MediaType.ODT: (".odt",),
}


@dataclass(frozen=True, slots=True)
class Owner:
    """What a document belongs to.

    Attributes:
        noun: the table: ``outlet``, ``valve``, ``visit``, ``instrument``, ``building`` and so on.
        words: as people name it, such as ``outlet MX-G-01-B1``.
    """

    noun: str
    row_id: int
    words: str = ""


@dataclass(frozen=True, slots=True)
class DocumentVoid:
    """Who said, when (UTC) and why, that a document counts no more."""

    who: str
    at: datetime
    why: str


@dataclass(frozen=True, slots=True)
class Document:
    """A file that is kept, without its bytes.

    Attributes:
        owner: what it belongs to.
        name: the file's name when it was added.
        size_bytes: of the content.
        sha256: hex, of the content.
        who, at: who added it and when (UTC).
        void: who voided it; None where it counts.
    """

    id: int
    owner: Owner
    name: str
    media_type: MediaType
    size_bytes: int
    sha256: str
    at: datetime
    who: str
    remark: str
    void: DocumentVoid | None = None

    @property
    def size_words(self) -> str:
        """The size, such as 1.3 MB."""
        if self.size_bytes < 1000:
            return f"{self.size_bytes} bytes"
        if self.size_bytes < 999_950:
            return f"{self.size_bytes / 1e3:.0f} kB"
        return f"{self.size_bytes / 1e6:.1f} MB"

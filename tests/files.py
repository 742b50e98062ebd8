"""Small files of every kind, made from the marks of their formats."""

import struct
import zipfile
import zlib
from collections.abc import Mapping
from io import BytesIO

PDF = b"%PDF-1.7\n1 0 obj << /Type /Catalog >> endobj\n%%EOF\n"
JPEG = b"\xff\xd8\xff\xe0\x00\x10JFIF\x00" + b"\x00" * 40
HEIC = b"\x00\x00\x00\x18ftypheic\x00\x00\x00\x00mif1heic"
TEXT = "Found 41,2 °C; cap refitted.\r\n".encode()
TYPES = "[Content_Types].xml"
_ODF = "application/vnd.oasis.opendocument."


def zipped(parts: Mapping[str, str]) -> bytes:
    """A container with these parts, in this order."""
    kept = BytesIO()
    with zipfile.ZipFile(kept, "w") as archive:
        for name, text in parts.items():
            archive.writestr(name, text)
    return kept.getvalue()


def png(width: int, height: int) -> bytes:
    """A grey picture."""

    def chunk(kind: bytes, data: bytes) -> bytes:
        return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))

    head = struct.pack(">IIBBBBB", width, height, 8, 0, 0, 0, 0)
    rows = zlib.compress((b"\x00" + b"\x80" * width) * height)
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + chunk(b"IDAT", rows) + chunk(b"IEND", b"")


XLSX = zipped({TYPES: "<Types/>", "xl/workbook.xml": "<workbook/>"})
DOCX = zipped({TYPES: "<Types/>", "word/document.xml": "<document/>"})
ODS = zipped({"mimetype": f"{_ODF}spreadsheet", "content.xml": "<x/>"})
ODT = zipped({"mimetype": f"{_ODF}text", "content.xml": "<x/>"})

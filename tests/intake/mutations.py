"""Spoils sheets in ways that accident and malice have, each from a seed."""

import random
import re
import struct
import zipfile
import zlib
from collections.abc import Callable
from io import BytesIO
from pathlib import Path

from tests.intake.making import FORMS, SHEETS

Chance = random.Random
EVIL_NUMBERS = (0, 1, 2, 0x7F, 0xFF, 0x7FFF, 0xFFFF, 0x7FFFFFFF, 0x80000000, 0xFFFFFFFE, 0xFFFFFFFF)
EVIL_VALUES = (
    b"",
    b"0",
    b"-1",
    b"1e999",
    b"NaN",
    b"4294967295",
    b"9223372036854775807",
    b"99999999999999999999",
    b"XFD1048576",
    b"A1:XFD1048576",
    b"&#65;1",
    b"&e9;",
    b"\xff\xfe",
    b"9" * 400,
    b"1048576",
    b"true",
    b"str",
    b"e",
    b"d",
    b"2026-02-30T99:00",
    b"PT999999H",
    b"../../sheet1.xml",
    b"_x0000_",
)
EVIL_FRAGMENTS = (
    b'<row r="1048576"><c r="XFD1048576"><v>1</v></c></row>',
    b"<c><v>1</v></c>" * 40,
    b'<c r="A1" r="XFD9"><v>1</v></c>',
    b"<!-- -->",
    b"<![CDATA[<c>]]>",
    b'<!DOCTYPE x [<!ENTITY e "ha">]>',
    b"<a>" * 300,
    b"</row>",
    b"<f/>",
    b'<mergeCell ref="A1:XFD1048576"/>',
    b'<table:table-cell table:number-columns-repeated="99999" office:value-type="float" office:value="1"/>',
    b'<table:table-row table:number-rows-repeated="1048576"/>',
    b"\0",
)
EVIL_TEXT = (
    b'"',
    b'""',
    b";",
    b",",
    b"\t",
    b"\r",
    b"\n",
    b"\0",
    b"\xff\xfe",
    b"\xef\xbb\xbf",
    b"sep=;\n",
    b"=1+1",
    b"\x1a",
)
ORIGINALS = (
    SHEETS / "round-messy.xlsx",
    SHEETS / "round-titled.xlsx",
    SHEETS / "round-csv.csv",
    *(FORMS / name for name in ("every-cell.xlsx", "every-cell.xls", "every-cell.ods", "not-worked-out.xls")),
)


def spoilt(number: int, seed: int) -> tuple[str, bytes]:
    """The spoilt file of a number in a series: its name, and its bytes.

    Args:
        number: which one.
        seed: which series.
    """
    chance = Chance(f"{seed}-{number}")
    original = chance.choice(ORIGINALS)
    content = original.read_bytes()
    ways = [bytes_changed, cut_off, spliced, *_WAYS[original.suffix]]
    for _ in range(chance.choice((1, 1, 1, 2, 3))):
        content = chance.choice(ways)(content, chance) or content
    return f"{original.stem}-{number}{original.suffix}", content


def bytes_changed(content: bytes, chance: Chance) -> bytes:
    """Some bytes changed, cut out or doubled."""
    changed = bytearray(content)
    for _ in range(chance.randint(1, 8)):
        at = chance.randrange(len(changed))
        span = chance.randint(1, 40)
        match chance.randrange(4):
            case 0:
                changed[at] = chance.randrange(256)
            case 1:
                del changed[at : min(at + span, len(changed) - 1)]
            case 2:
                changed[at:at] = changed[at : at + span]
            case _:
                changed[at] ^= 1 << chance.randrange(8)
    return bytes(changed)


def cut_off(content: bytes, chance: Chance) -> bytes:
    """The end cut off."""
    return content[: chance.randrange(1, len(content) + 1)]


def spliced(content: bytes, chance: Chance) -> bytes:
    """The beginning of one file and the end of another."""
    other = chance.choice(ORIGINALS).read_bytes()
    return content[: chance.randrange(1, len(content) + 1)] + other[chance.randrange(len(other)) :]


def numbers_changed(content: bytes, chance: Chance) -> bytes:
    """Some sizes, counts and places replaced by the worst ones."""
    changed = bytearray(content)
    for _ in range(chance.randint(1, 6)):
        width, form = chance.choice(((2, "<H"), (4, "<I")))
        at = chance.randrange(max(len(changed) - width, 1)) // 2 * 2
        evil = chance.choice(EVIL_NUMBERS) & ((1 << 8 * width) - 1)
        changed[at : at + width] = struct.pack(form, evil)
    return bytes(changed)


def header_changed(content: bytes, chance: Chance) -> bytes:
    """The same within the first sector, where an old container says how it is built."""
    return numbers_changed(content[:512], chance) + content[512:]


def records_changed(content: bytes, chance: Chance) -> bytes:
    """A record of an old workbook changed in kind, length or content."""
    changed = bytearray(content)
    kinds = (
        0x00FC,
        0x0085,
        0x0006,
        0x00FD,
        0x027E,
        0x00BD,
        0x0203,
        0x0207,
        0x041E,
        0x00E0,
        0x00E5,
        0x007D,
        0x003C,
    )
    sign = struct.pack("<H", chance.choice(kinds))
    places = [found.start() for found in re.finditer(re.escape(sign), bytes(changed)) if found.start() >= 512]
    if places:
        at = chance.choice(places) + chance.randrange(14)
        changed[at : at + 2] = struct.pack("<H", chance.choice(EVIL_NUMBERS) & 0xFFFF)
    return bytes(changed)


def parts_changed(content: bytes, chance: Chance) -> bytes | None:
    """One part of a sound container changed, dropped, doubled or renamed; None where it is not sound."""
    try:
        with zipfile.ZipFile(BytesIO(content)) as archive:
            parts = [(name, archive.read(name)) for name in archive.namelist()]
    except (  # zipfile says NotImplementedError of an unknown way of packing, RuntimeError of a locked part
        zipfile.BadZipFile,
        ValueError,
        EOFError,
        OSError,
        NotImplementedError,
        RuntimeError,
        zlib.error,
    ):
        return None
    at = chance.randrange(len(parts))
    wanted = [index for index, (name, _) in enumerate(parts) if _TELLING.search(name)]
    if wanted and chance.random() < 0.9:
        at = chance.choice(wanted)
    name, part = parts[at]
    match chance.randrange(12):
        case 0:
            del parts[at]
        case 1:
            parts[at] = name, chance.choice(parts)[1]
        case 2:
            parts[at] = chance.choice((name.upper(), name.replace("/", "\\"), "/" + name, "xl/x.xml")), part
        case 3 | 4 if part:
            parts[at] = name, chance.choice((bytes_changed, cut_off))(part, chance)
        case _:
            parts[at] = name, xml_changed(part, chance)
    return _packed(parts)


def xml_changed(part: bytes, chance: Chance) -> bytes:
    """Values, elements and texts of a part replaced by the worst ones."""
    for _ in range(chance.randint(1, 4)):
        pattern, evil = chance.choice(
            ((rb'="[^"]*"', EVIL_VALUES), (rb">[^<]+<", EVIL_VALUES), (rb"<[^>]+>", EVIL_FRAGMENTS))
        )
        places = list(re.finditer(pattern, part))
        if places:
            found = chance.choice(places)
            part = part[: found.start()] + _replaced(found[0], chance.choice(evil)) + part[found.end() :]
    return part


def text_changed(content: bytes, chance: Chance) -> bytes:
    """Signs that part or end cells put where they do not belong, or the text in another encoding."""
    if chance.random() < 0.2:
        encoding = chance.choice(
            ("utf-16", "utf-16-le", "utf-16-be", "utf-32", "utf-8-sig", "cp850", "mac_roman")
        )
        return content.decode("utf-8", "replace").encode(encoding, "replace")
    for _ in range(chance.randint(1, 10)):
        at = chance.randrange(len(content) + 1)
        content = content[:at] + chance.choice(EVIL_TEXT) + content[at:]
    return content


def _replaced(found: bytes, evil: bytes) -> bytes:
    if found.startswith(b"="):
        return b'="' + evil + b'"'
    return b">" + evil + b"<" if found.startswith(b">") else found + evil


def _packed(parts: list[tuple[str, bytes]]) -> bytes:
    packed = BytesIO()
    with zipfile.ZipFile(packed, "w", zipfile.ZIP_DEFLATED, compresslevel=1) as archive:
        for name in dict.fromkeys(name for name, _ in parts):
            archive.writestr(name, dict(parts)[name])
    return packed.getvalue()


_TELLING = re.compile(r"sheet\d|workbook|sharedStrings|styles|content\.xml|manifest")
_Way = Callable[[bytes, Chance], bytes | None]
_WAYS: dict[str, tuple[_Way, ...]] = {
    ".xlsx": (parts_changed,) * 8,
    ".ods": (parts_changed,) * 8,
    ".xls": (numbers_changed, header_changed, *(records_changed,) * 4),
    ".csv": (text_changed,) * 3,
}


def spoilt_file(folder: Path, number: int, seed: int) -> Path:
    """Writes the spoilt file of a number in a series."""
    name, content = spoilt(number, seed)
    path = folder / name
    path.write_bytes(content)
    return path

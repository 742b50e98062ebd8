"""Makes workbooks of the old form sector by sector, so that tests can spoil any of them."""

import struct
from collections.abc import Sequence

SECTOR = 512
FREE, END, TABLE = 0xFFFFFFFF, 0xFFFFFFFE, 0xFFFFFFFD
SMALL_BELOW = 4_096


def compound(streams: Sequence[tuple[str, bytes]], small_below: int = SMALL_BELOW) -> bytes:
    """A container with streams at its root; those that are small lie in the stream of the small."""
    large = [_padded(data) if len(data) >= small_below else b"" for _, data in streams]
    small = [b"" if len(data) >= small_below else _padded(data, 64) for _, data in streams]
    sectors: list[bytes] = []
    chains: list[int] = []

    def add(data: bytes) -> int:
        first = len(sectors)
        pieces = [data[at : at + SECTOR] for at in range(0, len(data), SECTOR)]
        sectors.extend(pieces)
        chains.extend([first + index + 1 for index in range(len(pieces) - 1)] + [END] * bool(pieces))
        return first if pieces else END

    starts = [add(data) for data in large]
    mini = b"".join(small)
    mini_chain: list[int] = []
    for index, data in enumerate(small):
        if data:
            starts[index] = len(mini_chain)
            mini_chain += [*range(len(mini_chain) + 1, len(mini_chain) + len(data) // 64), END]
    mini_start = add(_padded(mini))
    mini_table = add(_padded(struct.pack(f"<{len(mini_chain)}I", *mini_chain), fill=b"\xff"))
    entries = [_entry("Root Entry", 5, mini_start, len(mini), child=1)]
    for index, (name, data) in enumerate(streams):
        following = index + 2 if index + 1 < len(streams) else FREE
        entries.append(_entry(name, 2, starts[index], len(data), right=following))
    directory = add(_padded(b"".join(entries)))
    chains.append(TABLE)
    table = _padded(struct.pack(f"<{len(chains)}I", *chains), fill=b"\xff")
    assert len(table) == SECTOR, "only containers of one table sector are made here"
    header = bytearray(SECTOR)
    header[:8] = b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"
    struct.pack_into("<5H", header, 24, 0x3E, 3, 0xFFFE, 9, 6)
    struct.pack_into("<8I", header, 44, 1, directory, 0, small_below, mini_table, 1, END, 0)
    struct.pack_into("<109I", header, 76, len(sectors), *[FREE] * 108)
    return bytes(header) + b"".join(sectors) + table


def record(kind: int, data: bytes = b"") -> bytes:
    """One record of a workbook."""
    return struct.pack("<2H", kind, len(data)) + data


def begin(form: int, version: int = 0x0600) -> bytes:
    """The record that begins the book (5), a sheet (16) or a chart (32)."""
    return record(0x0809, struct.pack("<2H4xII", version, form, 0, 0))


FINISH = record(0x000A)


def old_book(sheet: bytes, globals_: bytes = b"", *, hidden: int = 0, form: int = 0) -> bytes:
    """The stream of a workbook with one sheet."""
    name = b"Round"
    listed = record(0x0085, struct.pack("<I2B", 0, hidden, form) + bytes([len(name), 0]) + name)
    start = len(begin(5) + globals_ + listed + FINISH)
    listed = record(0x0085, struct.pack("<I2B", start, hidden, form) + bytes([len(name), 0]) + name)
    return begin(5) + globals_ + listed + FINISH + begin(16) + sheet + FINISH


def old_workbook(sheet: bytes, globals_: bytes = b"", **listed: int) -> bytes:
    """A workbook with one sheet."""
    return compound([("Workbook", old_book(sheet, globals_, **listed))])


def _padded(data: bytes, to: int = SECTOR, fill: bytes = b"\0") -> bytes:
    return data + fill * (-len(data) % to)


def _entry(name: str, kind: int, start: int, size: int, child: int = FREE, right: int = FREE) -> bytes:
    written = (name + "\0").encode("utf-16-le")
    head = written.ljust(64, b"\0") + struct.pack("<H2B3I", len(written), kind, 1, FREE, right, child)
    return head.ljust(116, b"\0") + struct.pack("<2I4x", start, size)

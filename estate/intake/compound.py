"""Old compound containers: the streams that lie at their root, read within the file's own length.

The form is published as [MS-CFB]: sectors in chains, small streams in one stream of their own.
"""

import struct
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property

from estate.domain.phrases import phrase
from estate.intake.package import damaged

SIGN = b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"
_HEADER_BYTES = 512
_ENTRY_BYTES = 128
_LAST_SECTOR = 0xFFFFFFFA
_NONE = 0xFFFFFFFF
_STREAM = 2


@dataclass(frozen=True, slots=True)
class _Entry:
    name: str
    kind: int
    left: int
    right: int
    child: int
    start: int
    size: int


@dataclass(frozen=True)
class Compound:
    """A container and its name for faults.

    Every method raises IntakeFault where the container contradicts itself.
    """

    content: bytes
    file: str

    def names(self) -> tuple[str, ...]:
        """The streams at the root."""
        return tuple(entry.name for entry in self._at_root)

    def stream(self, name: str) -> bytes:
        """The bytes of a stream at the root, by its name without regard to case."""
        for entry in self._at_root:
            if entry.name.lower() == name.lower():
                return self._bytes_of(entry)
        raise damaged(self.file, phrase("it has no part “{name}”", name=name))

    def _bytes_of(self, entry: _Entry) -> bytes:
        if entry.size >= self._cutoff:
            return self._joined(entry.start)[: entry.size]
        width = 1 << self._mini_shift
        small = self._mini_stream
        pieces = (small[at * width : (at + 1) * width] for at in self._chain(entry.start, self._mini_table))
        return b"".join(pieces)[: entry.size]

    @cached_property
    def _header(self) -> tuple[int, ...]:
        if len(self.content) < _HEADER_BYTES:
            raise damaged(self.file, phrase("it ends too soon"))
        found = struct.unpack_from("<2H10x8I", self.content, 30)
        if found[0] not in (9, 12) or not 2 <= found[1] < found[0]:
            raise damaged(self.file, phrase("its sectors have no usual size"))
        return found

    @property
    def _shift(self) -> int:
        return self._header[0]

    @property
    def _mini_shift(self) -> int:
        return self._header[1]

    @property
    def _cutoff(self) -> int:
        return self._header[5]

    def _sector(self, number: int) -> bytes:
        start = (number + 1) << self._shift
        return self.content[start : start + (1 << self._shift)]

    def _numbers(self, sector: bytes) -> Sequence[int]:
        count = len(sector) // 4
        return struct.unpack(f"<{count}I", sector[: count * 4])

    @cached_property
    def _table(self) -> Sequence[int]:
        """For each sector the next one of its chain."""
        table: list[int] = []
        for sector in self._table_sectors():
            table += self._numbers(self._sector(sector))
            if len(table) * 4 > len(self.content) + (1 << self._shift):
                raise damaged(self.file, phrase("its table of sectors is longer than the file"))
        return table

    def _table_sectors(self) -> Iterator[int]:
        yield from (each for each in struct.unpack_from("<109I", self.content, 76) if each < _LAST_SECTOR)
        following = self._header[8]
        seen = set()
        while following < _LAST_SECTOR and following not in seen:
            seen.add(following)
            numbers = self._numbers(self._sector(following))
            if not numbers:
                return
            yield from (each for each in numbers[:-1] if each < _LAST_SECTOR)
            following = numbers[-1]

    def _chain(self, start: int, table: Sequence[int]) -> Iterator[int]:
        left = len(table)
        while start < _LAST_SECTOR:
            if start >= len(table) or not left:
                raise damaged(self.file, phrase("its sectors run in a circle or out of the file"))
            yield start
            start = table[start]
            left -= 1

    def _joined(self, start: int) -> bytes:
        return b"".join(self._sector(sector) for sector in self._chain(start, self._table))

    @cached_property
    def _mini_table(self) -> Sequence[int]:
        return self._numbers(self._joined(self._header[6]))

    @cached_property
    def _mini_stream(self) -> bytes:
        return self._joined(self._entries[0].start)

    @cached_property
    def _entries(self) -> tuple[_Entry, ...]:
        directory = self._joined(self._header[3])
        whole = range(0, len(directory) - _ENTRY_BYTES + 1, _ENTRY_BYTES)
        entries = tuple(_entry(directory[at : at + _ENTRY_BYTES]) for at in whole)
        if not entries:
            raise damaged(self.file, phrase("it has no list of parts"))
        return entries

    @cached_property
    def _at_root(self) -> tuple[_Entry, ...]:
        found = []
        waiting = [self._entries[0].child]
        seen: set[int] = set()
        while waiting:
            number = waiting.pop()
            if number in seen or number >= len(self._entries):
                continue
            seen.add(number)
            entry = self._entries[number]
            waiting += [entry.left, entry.right]
            if entry.kind == _STREAM:
                found.append(entry)
        return tuple(found)


def _entry(found: bytes) -> _Entry:
    length, kind, left, right, child, start, size = struct.unpack_from("<HBx3I36x2I", found, 64)
    name = found[: max(min(length, 64) - 2, 0)].decode("utf-16-le", "replace")
    return _Entry(name, kind, left, right, child, start, size)

"""Many rows under one digest, with a mark for each row by which one that was altered is found."""

import json
from base64 import b64decode, b64encode
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from hashlib import sha256
from itertools import islice, pairwise
from struct import error as struct_error
from struct import pack, unpack
from typing import Any
from zlib import crc32

from sqlalchemy import Table

from estate.store.canonical import converters, text_of, texts_of
from estate.store.columns import rows_at_once


@dataclass(frozen=True, slots=True)
class Cover:
    """What an entry tells of many rows.

    Attributes:
        rows: how many.
        first_id, last_id: the range that holds all of them; 0 where there are none.
        columns: the columns whose values the digest covers; every other one is empty.
        digest: hex, over the rows' lines.
        marks: the check sum of each row's line, to tell which row differs; no proof by itself.
        gaps: ids in the range that no row has, from and to.
    """

    rows: int
    first_id: int
    last_id: int
    columns: tuple[str, ...]
    digest: str
    marks: tuple[int, ...]
    gaps: tuple[tuple[int, int], ...]

    @property
    def by_id(self) -> dict[int, int]:
        """The marks, by row."""
        without = {each for first, last in self.gaps for each in range(first, last + 1)}
        ids = (each for each in range(self.first_id, self.last_id + 1) if each not in without)
        return dict(zip(ids, self.marks, strict=True))


def lines(table: Table, names: Sequence[str], rows: Iterable[Sequence[Any]]) -> Iterator[bytes]:
    """Each row as a line of canonical JSON: an array of its values by the order of the columns' names.

    Args:
        table: the table.
        names: its columns, in the order in which `rows` have their values.
        rows: values, as the program writes them or as a driver gives them.
    """
    order = sorted(range(len(names)), key=lambda place: names[place])
    convert = dict(converters(table, names))
    following = iter(rows)
    while some := list(islice(following, rows_at_once(table))):
        columns = list(zip(*some, strict=True))
        for place, change in convert.items():
            columns[place] = tuple([None if each is None else change(each) for each in columns[place]])
        for row in zip(*[texts_of(columns[place]) for place in order], strict=True):
            yield f"[{','.join(row)}]\n".encode()


def cover(table: Table, names: Sequence[str], rows: Sequence[Sequence[Any]]) -> str:
    """What an entry tells of rows that are given with their ids first, lowest first, as JSON."""
    return cover_of(lines(table, names, rows), [row[0] for row in rows], names)


def cover_of(written: Iterable[bytes], ids: Sequence[int], names: Sequence[str]) -> str:
    """What an entry tells of rows' lines, as JSON; one line at a time is held.

    Args:
        written: the lines.
        ids: the rows' ids, lowest first; whole when the last line is taken.
        names: the columns.
    """
    whole, marks = sha256(), bytearray()
    for line in written:
        whole.update(line)
        marks += pack(">I", crc32(line))
    told: dict[str, Any] = {
        "rows": len(marks) // 4,
        "first_id": ids[0] if ids else 0,
        "last_id": ids[-1] if ids else 0,
        "columns": sorted(names),
        "digest": whole.hexdigest(),
        "marks": b64encode(bytes(marks)).decode(),
    }
    gaps = [[one + 1, other - 1] for one, other in pairwise(ids) if other > one + 1]
    return text_of(told | ({"gaps": gaps} if gaps else {}))


def read_cover(after: str) -> Cover:
    """What `cover` told.

    Raises:
        ValueError: the text is no such thing.
    """
    told = json.loads(after)
    try:
        packed = b64decode(told["marks"], validate=True)
        marks = unpack(f">{len(packed) // 4}I", packed)
        numbers = (int(told["rows"]), int(told["first_id"]), int(told["last_id"]))
        gaps = tuple((int(first), int(last)) for first, last in told.get("gaps", ()))
        return Cover(*numbers, tuple(told["columns"]), str(told["digest"]), marks, gaps)
    except (KeyError, TypeError, struct_error) as error:
        raise ValueError("no cover of rows") from error

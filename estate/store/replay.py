"""The ledger told again: what every table should hold, compared with what it holds, a row at a time."""

import json
from collections.abc import Callable, Iterator, Mapping, Sequence
from hashlib import sha256
from typing import Any, Final
from zlib import crc32

from sqlalchemy import Table
from sqlalchemy.orm import Session

from estate.domain.trust import Misfit
from estate.store import misfits
from estate.store.beginning import STOOD
from estate.store.canonical import UNTOLD, converters, plain, settled
from estate.store.columns import Row
from estate.store.covering import Cover, lines, read_cover
from estate.store.raw_rows import raw_rows, tables
from estate.store.schema import EVIDENCE

Values = Mapping[str, Any]
_ALIKE: Final = "It was changed past the program, by someone who took care that it would not show."


class _Rows:
    """The rows of one table of evidence by id, the next one in sight."""

    def __init__(self, session: Session, table: Table) -> None:
        self.table = table
        self.names = tuple(table.columns.keys())
        self._convert = converters(table, self.names)
        self._rows = raw_rows(session, table, self.names)
        self.count = 0
        self.raw: tuple[Any, ...] | None = None
        self.advance()

    def advance(self) -> None:
        self.raw = next(self._rows, None)
        self.count += self.raw is not None

    def values(self) -> Values:
        """The row in sight as the ledger would tell it."""
        assert self.raw is not None
        (row,) = settled([self.raw], self._convert)
        return as_told(dict(zip(self.names, row, strict=True)))


def as_told(values: Values) -> dict[str, Any]:
    """Values without empty ones, and bytes as their digest."""
    return {
        name: plain(value) if isinstance(value, bytes | memoryview) else value
        for name, value in values.items()
        if value is not None
    }


class Replay:
    """Every table as the ledger tells it so far.

    Of evidence nothing is held: its rows are walked beside the entries, both by number. Of places, valves and
    the like, which are few, the rows told so far are.
    """

    def __init__(self, session: Session) -> None:
        self._session = session
        every = {table.name: table for table in tables()}
        self._evidence = {name: _Rows(session, table) for name, table in every.items() if name in EVIDENCE}
        self._told: dict[str, dict[int, dict[str, Any]]] = {
            name: {} for name in every if name not in EVIDENCE
        }
        self._held = 0
        self._acts: dict[str, Callable[[int, str, Any, Values, Values], Iterator[Misfit]]] = {
            "added": self._added,
            "amended": self._amended,
            "removed": self._removed,
        }

    @property
    def rows(self) -> int:
        """Rows compared."""
        return self._held + sum(each.count for each in self._evidence.values())

    def apply(
        self, entry_id: int, noun: str, row_id: Any, action: str, before: str, after: str
    ) -> Iterator[Misfit]:
        """Take one entry.

        Raises:
            ValueError, KeyError, TypeError: the entry tells nothing that could be followed.
        """
        if noun in self._evidence and action in ("added many", STOOD):
            yield from self._covered(entry_id, self._evidence[noun], read_cover(after))
        elif action == STOOD:
            self._told[noun] = {each["id"]: each for each in map(as_told, json.loads(after)["rows"])}
        else:
            written = [json.loads(each) if each else {} for each in (before, after)]
            yield from self._acts[action](entry_id, noun, row_id, *written)

    def _added(self, entry_id: int, noun: str, row_id: Any, _: Values, after: Values) -> Iterator[Misfit]:
        if noun in self._evidence:
            yield from self._stepped(entry_id, self._evidence[noun], row_id, {**after, "id": row_id})
            return
        if row_id in self._told[noun]:
            yield misfits.entry_misfit(entry_id, f"{noun} {row_id} is added twice", misfits.PAST_PROGRAM)
        self._told[noun][row_id] = {**after, "id": row_id, UNTOLD: 1}

    def _stepped(self, entry_id: int, rows: _Rows, row_id: int, told: Values) -> Iterator[Misfit]:
        yield from self._extra_below(rows, row_id)
        name = rows.table.name
        if rows.raw is None or rows.raw[0] != row_id:
            yield misfits.missing(self._session, name, row_id, entry_id, told)
            return
        changes = misfits.differing(told, rows.values())
        if changes:
            yield misfits.altered(self._session, name, row_id, entry_id, changes)
        rows.advance()

    def _extra_below(self, rows: _Rows, row_id: int) -> Iterator[Misfit]:
        while rows.raw is not None and rows.raw[0] < row_id:
            yield misfits.extra(self._session, rows.table.name, rows.raw[0], rows.values())
            rows.advance()

    def _covered(self, entry_id: int, rows: _Rows, cover: Cover) -> Iterator[Misfit]:
        if not cover.rows:
            return
        yield from self._extra_below(rows, cover.first_id)
        whole, found = sha256(), dict[int, int]()
        places = [rows.names.index(name) for name in cover.columns]
        others = [place for place in range(len(rows.names)) if place not in places]
        filled: list[int] = []

        def taken() -> Iterator[list[Any]]:
            while rows.raw is not None and rows.raw[0] <= cover.last_id:
                if any(rows.raw[place] is not None for place in others):
                    filled.append(rows.raw[0])
                found[rows.raw[0]] = 0
                yield [rows.raw[place] for place in places]
                rows.advance()

        marks = []
        for line in lines(rows.table, cover.columns, taken()):
            whole.update(line)
            marks.append(crc32(line))
        if filled or whole.hexdigest() != cover.digest:
            there = dict(zip(found, marks, strict=True))
            yield from self._unlike(entry_id, rows.table.name, cover, there, filled)

    def _unlike(
        self, entry_id: int, name: str, cover: Cover, there: Mapping[int, int], filled: Sequence[int]
    ) -> Iterator[Misfit]:
        told = cover.by_id
        before = len(told.keys() ^ there.keys())
        for row_id in sorted(told.keys() | there.keys()):
            if row_id not in there:
                before += 1
                yield misfits.missing(self._session, name, row_id, entry_id, {})
            elif row_id not in told:
                yield misfits.extra(self._session, name, row_id, {})
            elif told[row_id] != there[row_id] or row_id in filled:
                before += 1
                yield misfits.altered(
                    self._session, name, row_id, entry_id, [("the row", "other values", "changed")]
                )
        if not before:
            what = f"the digest of rows {cover.first_id} to {cover.last_id} of {name} is another"
            yield misfits.entry_misfit(entry_id, what, _ALIKE)

    def _amended(
        self, entry_id: int, noun: str, row_id: Any, before: Values, after: Values
    ) -> Iterator[Misfit]:
        row = self._told[noun].get(row_id)
        if row is None:
            yield misfits.entry_misfit(
                entry_id, f"{noun} {row_id} is amended and never was added", misfits.PAST_PROGRAM
            )
            return
        if any(row.get(name) != value for name, value in before.items()):
            what = f"{noun} {row_id} was not as this amendment says that it found it"
            yield misfits.entry_misfit(entry_id, what, misfits.PAST_PROGRAM)
        row.update(after)
        row[UNTOLD] = row[UNTOLD] + 1
        for name in [each for each, value in after.items() if value is None]:
            del row[name]

    def _removed(self, entry_id: int, noun: str, row_id: Any, before: Values, _: Values) -> Iterator[Misfit]:
        row = self._told[noun].pop(row_id, None)
        if row is None or row != as_told(before):
            what = f"{noun} {row_id} was not as this removal says that it found it"
            yield misfits.entry_misfit(entry_id, what, misfits.PAST_PROGRAM)

    def finish(self) -> Iterator[Misfit]:
        """What is there beyond all entries, and what of places, valves and the like stands otherwise."""
        for rows in self._evidence.values():
            while rows.raw is not None:
                yield misfits.extra(self._session, rows.table.name, rows.raw[0], rows.values())
                rows.advance()
        for name, told in self._told.items():
            yield from self._compared(Row.metadata.tables[name], told)

    def _compared(self, table: Table, told: dict[int, dict[str, Any]]) -> Iterator[Misfit]:
        names = tuple(table.columns.keys())
        left = set(told)
        for row in settled(raw_rows(self._session, table, names), converters(table, names)):
            self._held += 1
            there = as_told(dict(zip(names, row, strict=True)))
            row_id = row[0]
            if row_id not in told:
                yield misfits.extra(self._session, table.name, row_id, there)
                continue
            left.discard(row_id)
            changes = misfits.differing(told[row_id], there)
            if changes:
                yield misfits.altered(self._session, table.name, row_id, None, changes)
        for row_id in sorted(left):
            yield misfits.missing(self._session, table.name, row_id, None, told[row_id])

"""Rows of results: each a visit, an attempt, a blank row of a round sheet, or questions about it."""

from dataclasses import fields
from enum import Enum
from typing import Any, NamedTuple

from estate.domain.intake import AttemptRow, PlaceWords, VisitRow
from estate.domain.visits import Isolation, Readings, VisitKind
from estate.intake.facts import Facts
from estate.intake.grid import Cell, is_blank
from estate.intake.mixed import Mixed
from estate.intake.no_access import Reason, no_access, no_test
from estate.intake.row_reader import RowReader
from estate.intake.table import Table
from estate.intake.values import Doubt

_MIXED = ("found_c", "left_c", "adjusted")
_NO_ACCESS = Doubt("no-access", "Nothing was measured: plan another visit.")
_NOTHING = Doubt("nothing-measured", "Enter what was measured, or leave the row out of the sheet.")
_NO_TEST = Doubt("nothing-measured", "Nothing was measured: see to what it says, or leave the row out.")
_NO_REFERENCE = Doubt("missing-reference", "Enter the outlet's reference.")
_NO_DATE = Doubt("missing-date", "Enter the day of the visit, such as 17 Oct 2026.")
_ISOLATIONS = ("cold_isolated", "hot_isolated")
_FLAT = [
    name
    for each in fields(Readings)
    for name in (
        [f"{each.name}.{inner.name}" for inner in fields(Isolation)]
        if each.name in _ISOLATIONS
        else [each.name]
    )
]
_SLOTS = {name: slot for slot, name in enumerate(_FLAT)}
"""Where each value stands among those of a visit, those of its isolations between the others."""
_COLD, _HOT, _SEEN = _SLOTS["cold_isolated.max_c"], _SLOTS["hot_isolated.max_c"], _SLOTS["adjusted"]
_FOUND, _LEFT = _SLOTS["found_c"], _SLOTS["left_c"]


class Blank(Enum):
    """What a row of a round sheet is in which nothing was entered."""

    BLANK = "blank"


class _Row(NamedTuple):
    reference: str
    key: str
    place: PlaceWords
    remarks: str


class VisitReader:
    """Reads the rows of one table of results.

    Args:
        table: its columns.
        file: the file's name.
        facts: what the lines around the table say.
    """

    def __init__(self, table: Table, file: str, facts: Facts) -> None:
        self._file, self._facts = file, facts
        self._mixed = Mixed(table)
        self._isolations: dict[tuple[Any, ...], Isolation] = {}
        plan = [(name, holds) for name, holds in table.holds.items() if name not in _MIXED]
        self._numbers = tuple(name for name, holds in plan if holds == "number" and name in table.firsts)
        self._answers = tuple((_SLOTS[name], name) for name, holds in plan if holds == "answer")
        told = [name for name, holds in plan if holds in ("number", "answer")]
        self._measures = (*told, *(name for name in _MIXED if name in table.holds))
        self._columns: list[tuple[int, int, str, dict[Cell, float | None]]] | None = None
        self._kinds: dict[Cell, VisitKind] = {None: facts.kind or VisitKind.IN_SERVICE}

    def read(self, reader: RowReader) -> VisitRow | AttemptRow | Blank | None:
        """Read one row.

        Args:
            reader: the row; its doubts say why it was not taken. An attempt has a doubt too.

        Returns:
            None where the reader has doubts and it is no attempt whose day is known.
        """
        on = reader.date("on")
        if on is None and is_blank(reader.cell("on")):
            reader.ask("on", _NO_DATE)
        row = _Row(reader.text("reference"), reader.text("key"), reader.place(), reader.text("remarks"))
        person, instrument = reader.name("person"), reader.name("instrument")
        if not _is_named(row) and is_blank(reader.cell("reference")):
            reader.ask("reference", _NO_REFERENCE)
        kind = self._kind(reader)
        readings, measured = self._readings(reader, row.remarks)
        if reader.doubted or not measured or on is None:
            return self._other(reader, row, measured)
        return VisitRow(
            reader.row.source(self._file),
            row.reference,
            kind,
            on,
            readings,
            person or self._facts.person,
            instrument or self._facts.instrument,
            reader.noted(row.remarks),
            reader.row.places(),
            row.key,
            row.place,
        )

    def _kind(self, reader: RowReader) -> VisitKind:
        cell = reader.cell("kind")
        known = self._kinds.get(cell)
        if known is not None:
            return known
        if reader.cells.says_nothing(cell):
            return self._kinds[None]
        said = reader.choice("kind", "unreadable-value")
        if said is None:
            return VisitKind.IN_SERVICE
        if not reader.cells.is_ditto(cell):
            self._kinds[cell] = VisitKind(said)
        return VisitKind(said)

    def _readings(self, reader: RowReader, remarks: str) -> tuple[Readings, bool]:
        """What was measured, and whether anything was."""
        values: list[Any] = [None] * len(_FLAT)
        values[_FOUND], values[_LEFT], values[_SEEN] = self._mixed.read(reader, remarks)
        self._take_numbers(reader, values)
        for slot, name in self._answers:
            values[slot] = reader.answer(name)
        isolations = (self._isolation(tuple(values[_COLD:_HOT])), self._isolation(tuple(values[_HOT:_SEEN])))
        measured = values.count(None) < len(values)
        return Readings(*[*values[:_COLD], *isolations, *values[_SEEN:]]), measured

    def _take_numbers(self, reader: RowReader, values: list[Any]) -> None:
        """Take the numbers; most contents of a column are known from the rows before."""
        if self._columns is None:
            known, firsts = reader.cells.numbers, reader.row.table.firsts
            self._columns = [(_SLOTS[name], firsts[name], name, known[name].plain) for name in self._numbers]
        cells = () if reader.answered else reader.row.cells
        width = len(cells)
        for slot, index, name, plain in self._columns:
            cell = cells[index] if index < width else True
            known_here = cell in plain and cell is not True and cell is not False
            values[slot] = plain[cell] if known_here else reader.number(name)

    def _isolation(self, values: tuple[Any, ...]) -> Isolation:
        """Isolations are alike in most rows."""
        found = self._isolations.get(values)
        if found is None:
            found = self._isolations[values] = Isolation(*values)
        return found

    def _other(self, reader: RowReader, row: _Row, measured: bool) -> AttemptRow | Blank | None:
        """What a row is that is no visit."""
        if row.key and not (measured or row.remarks) and not self._entered(reader):
            reader.forget()
            return Blank.BLANK
        if reason := no_access(reader, measured):
            return self._attempt(reader, row, reason)
        if not measured and (reason := no_test(reader)):
            reader.forget()
            reader.ask(reason.field, _NO_TEST, reason.said)
        elif not reader.doubted:
            reader.ask("reference", _NOTHING)
        return None

    def _entered(self, reader: RowReader) -> bool:
        return any(not is_blank(reader.cell(name)) for name in ("on", *self._measures))

    def _attempt(self, reader: RowReader, row: _Row, reason: Reason) -> AttemptRow | None:
        reader.forget()
        on = reader.date("on")
        reader.forget()
        reader.ask(reason.field, _NO_ACCESS, reason.said)
        if on is None or not _is_named(row):
            return None
        person = reader.name("person") or self._facts.person
        return AttemptRow(
            source=reader.row.source(self._file),
            reference=row.reference,
            on=on,
            why=reason.why,
            person=person,
            cells=reader.row.places(),
            key=row.key,
            place=row.place,
        )


def _is_named(row: _Row) -> bool:
    return bool(row.reference or row.key or row.place.told)

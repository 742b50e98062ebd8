"""In which unit the temperatures of a sheet are: as it says, else as they can be true together."""

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass, field

from estate.domain.phrases import phrase
from estate.intake.grid import Cell
from estate.intake.numbers import DEGREE, bare_number
from estate.intake.rows import TableRow
from estate.intake.table import Table
from estate.intake.values import Doubt
from estate.intake.words import Unit, Words

CELSIUS, FAHRENHEIT = "celsius", "fahrenheit"
FEWEST_ROWS = 3
"""So many rows tell °F by one temperature alone; a row with two or more tells it at once."""

UNSURE = Doubt("unsure-unit", phrase("This may be °C or °F: write the unit with the number, such as 41 °C."))

_BOTH, _C, _F = 3, 1, 2
_Range = tuple[float, float]
_RANGES: Mapping[str, tuple[_Range, _Range]] = {
    "hot_c": ((0, 95), (20, 95)),
    "cold_c": ((0, 65), (0.5, 40)),
    "set_c": ((20, 70), (30, 65)),
    "cold_isolated": ((0, 95), (10, 95)),
    "hot_isolated": ((0, 95), (0, 70)),
    "": ((0, 75), (20, 70)),
}
"""What can be met in a column where the number is °C, and where it is °F, both in °C; the first is wider
since a bare number is °C unless the sheet as a whole can't be. Under "" all mixed temperatures."""


@dataclass(frozen=True, slots=True)
class Units:
    """How the temperatures of a table are to be read.

    Attributes:
        settled: field to the unit of its bare numbers, where the values tell it.
        doubtful: number of a row to the fields whose bare numbers there may be °C or °F.
    """

    settled: Mapping[str, Unit] = field(default_factory=dict)
    doubtful: Mapping[int, Collection[str]] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class _Group:
    """Temperature columns whose headings say the same.

    Attributes:
        unit: name of the unit that the headings say; empty where they say none.
    """

    unit: str
    fields: tuple[str, ...]


_Weighed = tuple[int, int, int]
"""Number of a row, the scales that all its bare numbers allow, and how many those are."""


def settle_units(table: Table, rows: Sequence[TableRow], words: Words) -> Units:
    """Tell the unit of temperatures whose headings and cells say none, from all of them together.

    A cold supply of 55 may be °F or a crossed pipe, but beside a mixed temperature of 104 it is °F: so each
    row is weighed as a whole, and all rows must agree. A heading goes first, yet where every row denies it
    the rows are asked about.

    Args:
        table: its columns.
        rows: its rows of data.
        words: units.
    """
    groups = _groups(table)
    said = {group.unit for group in groups if group.unit}
    by_name = {unit.name: unit for unit in words.units}
    settled: dict[str, Unit] = {}
    doubtful: dict[int, frozenset[str]] = {}
    for group in groups:
        weighed = _weighed(rows, group.fields, words)
        unit, doubted = ("", _denied(weighed, group.unit)) if group.unit else _bare(list(weighed), said)
        settled |= dict.fromkeys(group.fields, by_name[unit]) if unit else {}
        for row in doubted:
            doubtful[row] = doubtful.get(row, frozenset()) | frozenset(group.fields)
    return Units(settled, doubtful)


def _groups(table: Table) -> list[_Group]:
    by_unit: dict[str, list[str]] = {}
    for name in table.holds:
        column = table.column(name)
        if column is not None and column.field is not None and column.field.dimension == "temperature":
            unit = column.unit.name if column.unit and column.unit.name != DEGREE else ""
            by_unit.setdefault(unit, []).append(name)
    return [_Group(unit, tuple(names)) for unit, names in by_unit.items()]


def _weighed(rows: Sequence[TableRow], names: Sequence[str], words: Words) -> Iterator[_Weighed]:
    known: dict[str, dict[Cell, int]] = {name: {None: 0} for name in names}
    for row in rows:
        scales, count = _BOTH, 0
        for name in names:
            cell = row.cell(name)
            allowed = known[name].get(cell)
            if allowed is None:
                allowed = known[name][cell] = _allowed(cell, name, words)
            if allowed:
                scales, count = scales & allowed, count + 1
        if count:
            yield row.number, scales & _BOTH, count


def _allowed(cell: Cell, name: str, words: Words) -> int:
    """The scales that a cell's number can be in, and a further bit; 0 where it is no bare number."""
    value = None if isinstance(cell, bool) else bare_number(cell, words)
    if value is None:
        return 0
    celsius, fahrenheit = _RANGES.get(name) or _RANGES.get(name.partition(".")[0]) or _RANGES[""]
    as_celsius = celsius[0] <= value <= celsius[1]
    as_fahrenheit = fahrenheit[0] <= (value - 32) * 5 / 9 <= fahrenheit[1]
    return 4 | (_C if as_celsius else 0) | (_F if as_fahrenheit else 0)


def _tells(rows: Sequence[_Weighed], scale: int) -> bool:
    """Whether rows tell a scale, and enough of them."""
    counts = [count for _, scales, count in rows if scales == scale]
    return len(counts) >= FEWEST_ROWS or any(count > 1 for count in counts)


def _bare(rows: Sequence[_Weighed], said: Collection[str]) -> tuple[str, Sequence[int]]:
    """The unit of columns whose headings say none, and the rows that stay in doubt."""
    scales = {row[1] for row in rows}
    if not rows:
        return "", ()
    if _C in scales and _F not in scales and FAHRENHEIT not in said:
        return CELSIUS, ()
    if _C not in scales and _tells(rows, _F) and CELSIUS not in said:
        return FAHRENHEIT, ()
    if not {_C, _F} & scales and len(said) == 1:
        return next(iter(said)), ()
    if _C in scales and FAHRENHEIT not in said:
        return CELSIUS, [number for number, each, _ in rows if each != _C]
    return "", [number for number, _, _ in rows]


def _denied(rows: Iterator[_Weighed], unit: str) -> Sequence[int]:
    """The rows of columns whose headings say a unit in which none of them can be."""
    own, other = (_C, _F) if unit == CELSIUS else (_F, _C)
    found = []
    for row in rows:
        if row[1] == own:
            return ()
        found.append(row)
    return [number for number, scales, _ in found if scales == other] if _tells(found, other) else ()

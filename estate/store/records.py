"""Between rows and values: how a reading, a valve or a finding is laid out in columns."""

import json
from collections.abc import Mapping, Sequence
from dataclasses import asdict, fields
from enum import StrEnum
from functools import cache, lru_cache
from json.encoder import encode_basestring
from operator import attrgetter
from typing import Any, Final

from estate.domain.findings import Finding, Outcome, Severity
from estate.domain.places import Outlet, OutletPath, Use, UserGroup
from estate.domain.valves import EnType, ModelLimits, SchemeClass, Valve
from estate.domain.visits import Isolation, Readings, Source

ISOLATIONS: Final = ("cold_isolated", "hot_isolated")
_ISOLATION_FIELDS: Final = tuple(each.name for each in fields(Isolation))
_PATHS: Final = tuple(
    path
    for each in fields(Readings)
    for path in (
        [f"{each.name}.{inner}" for inner in _ISOLATION_FIELDS] if each.name in ISOLATIONS else [each.name]
    )
)
_COLUMNS: Final = tuple(path.replace(".", "_") for path in _PATHS)
_readings_of: Final = attrgetter(*_PATHS)
_use, _user_group, _scheme_class, _en_type = cache(Use), cache(UserGroup), cache(SchemeClass), cache(EnType)
"""The few words and kinds that all rows of an estate share are looked up once."""
SOURCE_COLUMNS: Final = ("source_file", "source_sheet", "source_row", "source_cells")


def reading_columns() -> tuple[str, ...]:
    """Columns of `visit` that hold the readings, in the order of the fields of `Readings`."""
    return _COLUMNS


def readings_row(readings: Readings) -> tuple[Any, ...]:
    """Readings in the order of `reading_columns`."""
    found: tuple[Any, ...] = _readings_of(readings)
    return found


def reading_values(readings: Readings) -> dict[str, Any]:
    """Readings by column."""
    return dict(zip(_COLUMNS, readings_row(readings), strict=True))


def source_row(source: Source | None) -> tuple[Any, ...]:
    """A source in the order of `SOURCE_COLUMNS`.

    Its cells are JSON: a list of headings and a list of what stood below them.
    """
    if source is None:
        return None, None, None, None
    return source.file, source.sheet, source.row, _cells_text(source.cells)


def source_values(source: Source | None) -> dict[str, Any]:
    """A source by column."""
    return dict(zip(SOURCE_COLUMNS, source_row(source), strict=True))


def _cells_text(cells: tuple[tuple[str, str], ...]) -> str:
    if not cells:
        return "[]"
    headings, stood = zip(*cells, strict=True)
    return f"[{_headings_text(headings)}, {_texts(stood)}]"


@lru_cache(maxsize=256)
def _headings_text(headings: tuple[str, ...]) -> str:
    """The headings of a sheet, which are those of its every row."""
    return _texts(headings)


def _texts(texts: tuple[str, ...]) -> str:
    """Texts as JSON, the commonest work of a batch: without the encoder's preparations for any value."""
    return f"[{', '.join(map(encode_basestring, texts))}]"


def source_of(file: str | None, sheet: str | None, row: int | None, cells: str | None) -> Source | None:
    """The source that a row of `visit` tells; None where it was entered by hand."""
    if file is None:
        return None
    return Source(file, sheet or "", row or 0, tuple(zip(*json.loads(cells or "[]"), strict=True)))


def outlet_of(row: Sequence[Any]) -> Outlet:
    """An outlet from a row of `places.outlet_query`: id, reference, six words of its place, the rest."""
    use, users, *others = row[8:]
    return Outlet(row[0], row[1], OutletPath(*row[2:8]), _use(use), _user_group(users), *others)


@lru_cache(maxsize=1024)
def _designations(text: str) -> tuple[str, ...]:
    return tuple(json.loads(text))


@lru_cache(maxsize=1024)
def _limits(min_differential_k: float | None, max_pressure_ratio: float | None) -> ModelLimits:
    return ModelLimits(min_differential_k, max_pressure_ratio)


def valve_values(fields_of_valve: Mapping[str, Any]) -> dict[str, Any]:
    """Some or all fields of a valve by column; its id is left to the database."""
    values: dict[str, Any] = {}
    for name, value in fields_of_valve.items():
        if isinstance(value, ModelLimits):
            values |= asdict(value)
        elif name == "designations":
            values[name] = json.dumps(list(value))
        elif name != "id":
            values[name] = value.value if isinstance(value, StrEnum) else value
    return values


VALVE_COLUMNS: Final = (
    *("id", "make", "model", "serial", "scheme_class", "en_type", "designations", "size_mm", "set_c"),
    *("check_valves", "strainers", "isolating_valves", "min_differential_k", "max_pressure_ratio"),
)


def valve_of(row: Sequence[Any]) -> Valve:
    """A valve from its `VALVE_COLUMNS`."""
    scheme_class, en_type, designations, size_mm, set_c = row[4:9]
    check_valves, strainers, isolating_valves, *limits = row[9:]
    return Valve(
        id=row[0],
        make=row[1],
        model=row[2],
        serial=row[3],
        scheme_class=None if scheme_class is None else _scheme_class(scheme_class),
        en_type=None if en_type is None else _en_type(en_type),
        designations=_designations(designations),
        size_mm=size_mm,
        set_c=set_c,
        check_valves=check_valves,
        strainers=strainers,
        isolating_valves=isolating_valves,
        limits=_limits(*limits),
    )


FINDING_COLUMNS: Final = (
    *("code", "outcome", "words", "severity", "required", "measured", "limit_value", "unit"),
    *("source", "action", "retest_from_weeks", "retest_to_weeks"),
)


def finding_row(finding: Finding) -> tuple[Any, ...]:
    """A finding in the order of `FINDING_COLUMNS`, without its judgement."""
    code, outcome, words, severity, *figures, retest = finding
    told = None if severity is None else severity.value
    return (code, outcome.value, words, told, *figures, *(retest or (None, None)))


def finding_of(row: Any) -> Finding:
    """A finding from its row."""
    retest = None if row.retest_from_weeks is None else (row.retest_from_weeks, row.retest_to_weeks)
    return Finding(
        code=row.code,
        outcome=Outcome(row.outcome),
        words=row.words,
        severity=None if row.severity is None else Severity(row.severity),
        required=row.required,
        measured=row.measured,
        limit=row.limit_value,
        unit=row.unit,
        source=row.source,
        action=row.action,
        retest_weeks=retest,
    )

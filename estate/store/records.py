"""Between rows and values: how a reading, a valve or a finding is laid out in columns."""

import json
from collections.abc import Mapping
from dataclasses import asdict, fields
from enum import StrEnum
from functools import lru_cache
from operator import attrgetter
from typing import Any, Final

from estate.domain.findings import Finding, Outcome, Severity
from estate.domain.places import Outlet, OutletPath, Use, UserGroup
from estate.domain.valves import EnType, ModelLimits, SchemeClass, Valve
from estate.domain.visits import Isolation, Readings, Source

_JSON: Final = json.JSONEncoder(ensure_ascii=False)
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


def reading_columns() -> tuple[str, ...]:
    """Columns of `visit` that hold the readings, in the order of the fields of `Readings`."""
    return _COLUMNS


def reading_values(readings: Readings) -> dict[str, Any]:
    """Readings by column."""
    return dict(zip(_COLUMNS, _readings_of(readings), strict=True))


def source_values(source: Source | None) -> dict[str, Any]:
    """A source by column; its cells as JSON: a list of headings and a list of what stood below them."""
    if source is None:
        return {"source_file": None, "source_sheet": None, "source_row": None, "source_cells": None}
    return {
        "source_file": source.file,
        "source_sheet": source.sheet,
        "source_row": source.row,
        "source_cells": _cells_text(source.cells),
    }


def _cells_text(cells: tuple[tuple[str, str], ...]) -> str:
    if not cells:
        return "[]"
    headings, stood = zip(*cells, strict=True)
    return f"[{_headings_text(headings)}, {_JSON.encode(stood)}]"


@lru_cache(maxsize=256)
def _headings_text(headings: tuple[str, ...]) -> str:
    """The headings of a sheet, which are those of its every row."""
    return _JSON.encode(headings)


def source_of(file: str | None, sheet: str | None, row: int | None, cells: str | None) -> Source | None:
    """The source that a row of `visit` tells; None where it was entered by hand."""
    if file is None:
        return None
    return Source(file, sheet or "", row or 0, tuple(zip(*json.loads(cells or "[]"), strict=True)))


def outlet_of(row: Any) -> Outlet:
    """An outlet from a row of `places.outlet_query`."""
    path = OutletPath(row.site, row.building, row.level, row.room_number, row.room, row.name)
    return Outlet(
        id=row.id,
        reference=row.reference,
        path=path,
        use=Use(row.use),
        user_group=UserGroup(row.user_group),
        position_id=row.position_id,
        little_used=row.little_used,
        pipe_m=row.pipe_m,
        rule_set=row.rule_set,
        retired_on=row.retired_on,
    )


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


def valve_of(row: Any) -> Valve:
    """A valve from its row."""
    return Valve(
        id=row.id,
        make=row.make,
        model=row.model,
        serial=row.serial,
        scheme_class=None if row.scheme_class is None else SchemeClass(row.scheme_class),
        en_type=None if row.en_type is None else EnType(row.en_type),
        designations=tuple(json.loads(row.designations)),
        size_mm=row.size_mm,
        set_c=row.set_c,
        check_valves=row.check_valves,
        strainers=row.strainers,
        isolating_valves=row.isolating_valves,
        limits=ModelLimits(row.min_differential_k, row.max_pressure_ratio),
    )


def finding_values(finding: Finding) -> dict[str, Any]:
    """A finding by column, without its judgement."""
    earliest, latest = finding.retest_weeks or (None, None)
    return {
        "code": finding.code,
        "outcome": finding.outcome.value,
        "words": finding.words,
        "severity": None if finding.severity is None else finding.severity.value,
        "required": finding.required,
        "measured": finding.measured,
        "limit_value": finding.limit,
        "unit": finding.unit,
        "source": finding.source,
        "action": finding.action,
        "retest_from_weeks": earliest,
        "retest_to_weeks": latest,
    }


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

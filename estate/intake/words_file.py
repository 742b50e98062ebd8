"""Reads the words file strictly: what is missing, unknown or said twice is a fault."""

import tomllib
from collections.abc import Iterable, Mapping
from dataclasses import fields
from enum import StrEnum
from pathlib import Path
from typing import Any

from estate.assets import resource
from estate.domain.intake import AssetRow, PlaceWords
from estate.domain.layouts import SheetKind
from estate.domain.phrases import phrase
from estate.domain.places import Use, UserGroup
from estate.domain.valves import EnType, SchemeClass
from estate.domain.visits import Isolation, Readings, VisitKind
from estate.errors import IntakeFault
from estate.intake.words import Dimension, Field, Unit, Words, fold
from estate.intake.words import phrase as phrase_in

ANSWERS = (
    "yes", "no", "so", "not_so", "same", "dash", "absent", "ditto", "nil", "trace", "less_than",
    "no_access", "no_test", "adjusted", "denied", "around_dates",
)  # fmt: skip
CHOICES: Mapping[str, type[StrEnum]] = {
    "kind": VisitKind,
    "use": Use,
    "user_group": UserGroup,
    "scheme_class": SchemeClass,
    "en_type": EnType,
}
LABELS = ("instrument", "person", "below", "totals", "places", "other_days", "temperature")
NOT_READ = ("headings", "words")
HOLDS = ("text", "date", "choice", "number", "answer", "codes")

_LISTS = ("words", "weak", "told", "last")
_ISOLATIONS = ("cold_isolated", "hot_isolated")
_FIELDS = {
    SheetKind.ASSETS: {each.name for each in fields(AssetRow)},
    SheetKind.VISITS: {"reference", "key", "on", "kind", "person", "instrument", "remarks"}
    | {each.name for each in fields(PlaceWords)}
    | {each.name for each in fields(Readings)}
    | {f"{group}.{each.name}" for group in _ISOLATIONS for each in fields(Isolation)},
}


def load(path: Path | None = None) -> Words:
    """Read the words file.

    Args:
        path: another file than the program's own, for tests.

    Raises:
        IntakeFault: a key is missing, unknown or of the wrong type, or one phrase stands for two fields.
    """
    where = path or resource("intake", "words.toml")
    try:
        raw = tomllib.loads(where.read_text(encoding="utf-8"))
    except (OSError, ValueError) as fault:
        raise _fault(where, "the file", str(fault)) from fault
    return _Loader(where, raw).words()


def _fault(where: Path, key: str, wrong: str) -> IntakeFault:
    remedy = phrase("Put the words file back as it was delivered.")
    return IntakeFault(
        "The words for reading sheets are damaged",
        phrase("{name}, {key}: {wrong}.", name=where.name, key=key, wrong=wrong),
        remedy,
    )


class _Loader:
    def __init__(self, where: Path, raw: dict[str, Any]) -> None:
        self._where = where
        self._raw = raw
        top = {"fillers", "dimensions", "units", "visits", "assets", "not_read"}
        top |= {"answers", "choices", "labels", "months", "weekdays"}
        self._same_keys("top level", raw, top)
        self._fillers = frozenset(map(fold, self._list("fillers", raw["fillers"])))

    def words(self) -> Words:
        dimensions = {name: self._dimension(name, body) for name, body in self._table("dimensions").items()}
        units = tuple(self._unit(name, body, set(dimensions)) for name, body in self._table("units").items())
        self._check_standards(dimensions, units)
        self._same_keys("choices", self._table("choices"), set(CHOICES))
        choices = {}
        for name, body in self._table("choices").items():
            choices[name] = self._choices(f"choices.{name}", body, {each.value for each in CHOICES[name]})
        return Words(
            fillers=self._fillers,
            dimensions=dimensions,
            units=units,
            fields={kind: self._fields(kind, set(dimensions)) for kind in SheetKind},
            answers=self._groups("answers", ANSWERS),
            choices=choices,
            labels=self._groups("labels", LABELS),
            months=self._numbered("months", 12),
            weekdays=self._numbered("weekdays", 7),
            not_read=self._groups("not_read", NOT_READ),
        )

    def _numbered(self, key: str, last: int) -> dict[str, int]:
        named = self._choices(key, self._table(key), {str(number) for number in range(1, last + 1)})
        return {word: int(number) for word, number in named.items()}

    def _check_standards(self, dimensions: Mapping[str, Dimension], units: Iterable[Unit]) -> None:
        plain = {(unit.name, name) for unit in units if not unit.converts for name in unit.dimensions}
        for name, dimension in dimensions.items():
            if (dimension.standard, name) not in plain:
                raise _fault(
                    self._where, f"dimensions.{name}", phrase("its standard is no unit without conversion")
                )

    def _table(self, key: str) -> dict[str, Any]:
        found = self._raw[key]
        if not isinstance(found, dict):
            raise _fault(self._where, key, phrase("must be a table"))
        return found

    def _same_keys(self, key: str, found: Mapping[str, Any], expected: set[str]) -> None:
        if odd := sorted(expected ^ set(found)):
            raise _fault(self._where, key, phrase("missing or unknown: {odd}", odd=", ".join(odd)))

    def _list(self, key: str, found: object) -> tuple[str, ...]:
        if not isinstance(found, list) or not all(isinstance(each, str) for each in found):
            raise _fault(self._where, key, phrase("must be a list of texts"))
        return tuple(found)

    def _typed(
        self, key: str, body: object, types: Mapping[str, type], optional: Iterable[str] = ()
    ) -> dict[str, Any]:
        if not isinstance(body, dict):
            raise _fault(self._where, key, phrase("must be a table"))
        self._same_keys(key, {name: 0 for name in body if name not in optional}, set(types) - set(optional))
        for name, value in body.items():
            if type(value) is not types[name]:
                raise _fault(
                    self._where, f"{key}.{name}", phrase("must be of type {name}", name=types[name].__name__)
                )
        return body

    def _dimension(self, name: str, body: object) -> Dimension:
        types = {"standard": str, "assumed": bool, "lowest": float, "highest": float}
        return Dimension(name=name, **self._typed(f"dimensions.{name}", body, types))

    def _unit(self, name: str, body: object, dimensions: set[str]) -> Unit:
        key = f"units.{name}"
        types = {"dimensions": list, "written": list, "subtract": float, "multiply": float, "divide": float}
        good = self._typed(key, body, types, ("subtract", "multiply", "divide"))
        measures = self._list(key, good["dimensions"])
        if unknown := sorted(set(measures) - dimensions):
            raise _fault(self._where, key, phrase("unknown dimension {unknown}", unknown=", ".join(unknown)))
        written = tuple(each.casefold() for each in self._list(key, good["written"]))
        return Unit(**(good | {"name": name, "dimensions": measures, "written": written}))

    def _fields(self, kind: SheetKind, dimensions: set[str]) -> tuple[Field, ...]:
        found = tuple(self._field(f"{kind}.{name}", name, body) for name, body in self._table(kind).items())
        taken: dict[tuple[str, str], str] = {}
        if unknown := sorted({field.name for field in found} - _FIELDS[kind]):
            raise _fault(self._where, kind, phrase("unknown field {unknown}", unknown=", ".join(unknown)))
        for field in found:
            if (field.dimension in dimensions) != (field.holds == "number"):
                raise _fault(
                    self._where,
                    f"{kind}.{field.name}",
                    phrase("needs a known dimension if and only if it holds numbers"),
                )
            last = {f"{each} (last)" for each in field.last}
            for each in field.phrases | field.weak | field.told | last:
                other = taken.setdefault((each, field.dimension), field.name)
                if other != field.name:
                    raise _fault(
                        self._where,
                        f"{kind}.{field.name}",
                        phrase("shares the phrase “{each}” with {other}", each=each, other=other),
                    )
        return found

    def _field(self, key: str, name: str, body: object) -> Field:
        types = {"holds": str, "dimension": str, "unit_needed": bool} | dict.fromkeys(_LISTS, list)
        good = self._typed(key, body, types, (*_LISTS[1:], "dimension", "unit_needed"))
        if good["holds"] not in HOLDS:
            raise _fault(self._where, key, phrase("holds must be one of {holds}", holds=", ".join(HOLDS)))
        sure, weak, told, last = (self._phrases(key, good.get(name, [])) for name in _LISTS)
        return Field(
            name=name,
            holds=good["holds"],
            phrases=sure,
            weak=weak - sure,
            dimension=good.get("dimension", ""),
            unit_needed=good.get("unit_needed", False),
            told=told - sure - weak,
            last=last - sure - weak,
        )

    def _phrases(self, key: str, found: object) -> frozenset[str]:
        return frozenset(phrase_in(each, self._fillers) for each in self._list(key, found))

    def _groups(self, name: str, keys: tuple[str, ...]) -> dict[str, frozenset[str]]:
        table = self._table(name)
        self._same_keys(name, table, set(keys))
        return {key: frozenset(map(fold, self._list(f"{name}.{key}", body))) for key, body in table.items()}

    def _choices(self, key: str, table: object, values: set[str]) -> dict[str, str]:
        if not isinstance(table, dict):
            raise _fault(self._where, key, phrase("must be a table"))
        self._same_keys(key, table, values)
        found: dict[str, str] = {}
        for value, body in table.items():
            for word in map(fold, self._list(f"{key}.{value}", body)):
                if found.setdefault(word, value) != value:
                    raise _fault(
                        self._where,
                        f"{key}.{value}",
                        phrase("shares the word “{word}” with {found}", word=word, found=found[word]),
                    )
        return found

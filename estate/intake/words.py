"""The words by which columns, units and answers are known."""

import unicodedata
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property, lru_cache

from estate.domain.layouts import SheetKind


@dataclass(frozen=True, slots=True)
class Dimension:
    """What a number measures: its standard unit and what is physically plausible in it."""

    name: str
    standard: str
    assumed: bool
    lowest: float
    highest: float


@dataclass(frozen=True, slots=True)
class Unit:
    """One unit and how it is written; see `standard`."""

    name: str
    dimensions: tuple[str, ...]
    written: tuple[str, ...]
    subtract: float = 0.0
    multiply: float = 1.0
    divide: float = 1.0

    @property
    def converts(self) -> bool:
        """Whether a number in this unit changes on its way to the standard unit."""
        return (self.subtract, self.multiply, self.divide) != (0.0, 1.0, 1.0)

    def standard(self, value: float) -> float:
        """A number in the standard unit of its dimension, to a thousandth where it had to be converted."""
        if not self.converts:
            return value
        return round((value - self.subtract) * self.multiply / self.divide, 3)


@dataclass(frozen=True, slots=True)
class Field:
    """What a column can hold.

    Attributes:
        holds: text, date, choice, number, answer or codes.
        dimension: what a number measures; empty for anything but a number.
        unit_needed: whether the heading must name the unit to be taken for this field.
    """

    name: str
    holds: str
    phrases: frozenset[str]
    weak: frozenset[str] = frozenset()
    dimension: str = ""
    unit_needed: bool = False


@dataclass(frozen=True)
class Words:
    """Everything of the words file, folded for comparison."""

    fillers: frozenset[str]
    dimensions: Mapping[str, Dimension]
    units: tuple[Unit, ...]
    fields: Mapping[SheetKind, tuple[Field, ...]]
    answers: Mapping[str, frozenset[str]]
    choices: Mapping[str, Mapping[str, str]]
    labels: Mapping[str, frozenset[str]]
    months: Mapping[str, int]

    @cached_property
    def _by_phrase(self) -> Mapping[tuple[SheetKind, bool, str], tuple[Field, ...]]:
        found: dict[tuple[SheetKind, bool, str], tuple[Field, ...]] = {}
        for kind, fields in self.fields.items():
            for field in fields:
                for weak, phrases in ((False, field.phrases), (True, field.weak)):
                    for said in phrases:
                        found[kind, weak, said] = (*found.get((kind, weak, said), ()), field)
        return found

    def named(self, kind: SheetKind, weak: bool, said: str) -> tuple[Field, ...]:
        """The fields that a heading's phrase stands for."""
        return self._by_phrase.get((kind, weak, said), ())

    def units_written(self, text: str) -> tuple[Unit, ...]:
        """The units that a text names."""
        tidy = " ".join(text.casefold().split())
        return self._by_writing.get(tidy, ())

    @cached_property
    def _by_writing(self) -> Mapping[str, tuple[Unit, ...]]:
        written = {each for unit in self.units for each in unit.written}
        return {text: tuple(unit for unit in self.units if text in unit.written) for text in written}

    def unit(self, text: str, dimension: str) -> Unit | None:
        """The unit of a dimension that a text names, or None."""
        found = self.units_written(text)
        return next((each for each in found if dimension in each.dimensions), None)

    def answered(self, answer: str, text: str) -> bool:
        """Whether a whole cell says one of the answers, such as ``same``."""
        return fold(text) in self.answers[answer]


def fold(text: str) -> str:
    """Words of a text without case, accents, punctuation and doubled spaces.

    A text of punctuation alone, such as a dash, stays as it is; symbols such as ticks are kept.
    """
    return _remembered(text) if len(text) <= _SHORT else _folded(text)


def _folded(text: str) -> str:
    kept = []
    for character in unicodedata.normalize("NFKD", text.casefold()):
        category = unicodedata.category(character)
        if category.startswith("M"):
            continue
        kept.append(character if category[0] in "LNS" and character != "°" else " ")
    return " ".join("".join(kept).split()) or text.strip()


_SHORT = 100
_remembered = lru_cache(maxsize=20_000)(_folded)


def phrase(text: str, fillers: frozenset[str]) -> str:
    """A heading's words that matter, in their order; empty if it has only fillers."""
    folded = fold(text)
    return " ".join(word for word in folded.split() if word not in fillers and any(map(str.isalnum, word)))

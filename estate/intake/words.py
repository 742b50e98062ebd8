"""The words by which columns, units and answers are known."""

import re
import unicodedata
from collections.abc import Mapping
from dataclasses import dataclass, replace
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

    @property
    def shown(self) -> str:
        """How a person writes it."""
        return self.written[0].replace("°c", "°C").replace("°f", "°F")

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
        told: phrases that count only where the heading names a unit too.
        last: phrases that count only where no field claims them by `phrases` or `weak`.
        dimension: what a number measures; empty for anything but a number.
        unit_needed: whether the heading must name the unit to be taken for this field.
    """

    name: str
    holds: str
    phrases: frozenset[str]
    weak: frozenset[str] = frozenset()
    dimension: str = ""
    unit_needed: bool = False
    told: frozenset[str] = frozenset()
    last: frozenset[str] = frozenset()


@dataclass(frozen=True)
class Words:
    """Everything of the words file, folded for comparison.

    Attributes:
        months: 1 to 12 by name.
        weekdays: 1 to 7, Monday first, by name.
        not_read: headings known to be neither measured nor about the visit: whole ones, and words that
            tell it of any heading that has them (limits, targets, earlier results, days to come).
    """

    fillers: frozenset[str]
    dimensions: Mapping[str, Dimension]
    units: tuple[Unit, ...]
    fields: Mapping[SheetKind, tuple[Field, ...]]
    answers: Mapping[str, frozenset[str]]
    choices: Mapping[str, Mapping[str, str]]
    labels: Mapping[str, frozenset[str]]
    months: Mapping[str, int]
    weekdays: Mapping[str, int]
    not_read: Mapping[str, frozenset[str]]

    @cached_property
    def _by_phrase(self) -> Mapping[tuple[SheetKind, bool, str], tuple[Field, ...]]:
        found: dict[tuple[SheetKind, bool, str], tuple[Field, ...]] = {}
        for kind, fields in self.fields.items():
            for field in fields:
                needy = replace(field, unit_needed=True)
                lists = ((False, field, field.phrases), (False, needy, field.told), (True, field, field.weak))
                for weak, meant, phrases in lists:
                    for said in phrases:
                        found[kind, weak, said] = (*found.get((kind, weak, said), ()), meant)
        return found

    def named(self, kind: SheetKind, weak: bool, said: str) -> tuple[Field, ...]:
        """The fields that a heading's phrase stands for."""
        return self._by_phrase.get((kind, weak, said), ())

    def named_last(self, kind: SheetKind, said: str) -> Field | None:
        """The field that a phrase stands for where nothing else claims it, or None."""
        return next((field for field in self.fields[kind] if said in field.last), None)

    def is_set_aside(self, heading: str) -> bool:
        """Whether a heading that names no field is known to hold no reading of this visit.

        Such a column is never taken for one by the shape of its values.
        """
        said = fold(heading)
        return said in self.not_read["headings"] or not self.not_read["words"].isdisjoint(said.split())

    def units_written(self, text: str) -> tuple[Unit, ...]:
        """The units that a text names; a full stop behind does not matter."""
        tidy = " ".join(text.casefold().split())
        return self._by_writing.get(tidy) or self._by_writing.get(tidy.rstrip("."), ())

    @cached_property
    def _by_writing(self) -> Mapping[str, tuple[Unit, ...]]:
        written = {each for unit in self.units for each in unit.written}
        return {text: tuple(unit for unit in self.units if text in unit.written) for text in written}

    def unit(self, text: str, dimension: str) -> Unit | None:
        """The unit of a dimension that a text names, or None."""
        found = self.units_written(text)
        return next((each for each in found if dimension in each.dimensions), None)

    def answered(self, answer: str, text: str) -> bool:
        """Whether a whole cell says one of the answers, such as ``same``; a mark such as "?" unsays it."""
        if answer not in self._with_digits and _DIGIT.search(text):
            return False
        return fold(text) in self.answers[answer] and not _UNSURE.search(text)

    @cached_property
    def _with_digits(self) -> frozenset[str]:
        """Answers that words with a digit give; as folding keeps digits, no text with one gives another."""
        return frozenset(name for name, said in self.answers.items() if any(map(_DIGIT.search, said)))


_DIGIT = re.compile(r"[0-9]")
_UNSURE = re.compile(r"[?*†‡¿？]")


def _is_kept(character: str) -> bool:
    return unicodedata.category(character)[0] in "LNS" and character != "°"


def fold(text: str) -> str:
    """Words of a text without case, accents, punctuation and doubled spaces.

    A text of punctuation alone, such as a dash, stays as it is; symbols such as ticks are kept.
    """
    return _remembered(text) if len(text) <= _SHORT else _folded(text)


_PLAIN = str.maketrans({chr(code): " " for code in range(128) if not _is_kept(chr(code))})


def _folded(text: str) -> str:
    if text.isascii():
        return " ".join(text.lower().translate(_PLAIN).split()) or text.strip()
    kept = []
    for character in unicodedata.normalize("NFKD", text.casefold()):
        if unicodedata.category(character).startswith("M"):
            continue
        kept.append(character if _is_kept(character) else " ")
    return " ".join("".join(kept).split()) or text.strip()


_SHORT = 100
_remembered = lru_cache(maxsize=20_000)(_folded)


def phrase(text: str, fillers: frozenset[str]) -> str:
    """A heading's words that matter, in their order; empty if it has only fillers."""
    folded = fold(text)
    return " ".join(word for word in folded.split() if word not in fillers and any(map(str.isalnum, word)))

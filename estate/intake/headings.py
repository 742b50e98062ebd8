"""What one heading means: a field, and the unit it names."""

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

from estate.domain.layouts import SheetKind
from estate.intake.words import Field, Unit, Words, phrase

LONGEST_HEADING = 120
"""A longer text is no heading; characters."""

_BRACKETED = re.compile(r"[(\[]([^()\[\]]*)[)\]]")


@dataclass(frozen=True, slots=True)
class Column:
    """One column of a table; `field` is None where the heading is not understood."""

    index: int
    heading: str
    field: Field | None = None
    unit: Unit | None = None


@dataclass(frozen=True, slots=True)
class _Meaning:
    field: Field
    unit: Unit | None


def understand(columns: Iterable[tuple[int, str]], words: Words, kind: SheetKind) -> tuple[Column, ...]:
    """Give each heading its field, sure words first; weak words only for fields that no heading named surely.

    Args:
        columns: index and heading of each column, as written.
        words: the words of headings.
        kind: what the sheet is read as.
    """
    headings = [(index, " ".join(text.split())) for index, text in columns]
    sure = [_meaning(text, words, kind, weak=False) for _, text in headings]
    taken = {meaning.field.name for meaning in sure if meaning}
    found = []
    for (index, text), meaning in zip(headings, sure, strict=True):
        known = meaning or _meaning(text, words, kind, weak=True)
        if known and (meaning or known.field.name not in taken):
            found.append(Column(index, text, known.field, known.unit))
        else:
            found.append(Column(index, text))
    return tuple(found)


def _meaning(text: str, words: Words, kind: SheetKind, weak: bool) -> _Meaning | None:
    if len(text) > LONGEST_HEADING:
        return None
    whole = _match(text, words, kind, weak)
    if whole is not None or "/" not in text:
        return whole
    parts = [_match(part, words, kind, weak) for part in text.split("/")]
    same = {part.field.name for part in parts if part}
    return parts[0] if len(same) == 1 and all(parts) else None


def _match(text: str, words: Words, kind: SheetKind, weak: bool) -> _Meaning | None:
    for rest, units in _readings(text, words):
        said = phrase(rest, words.fillers)
        fields = words.named(kind, weak, said)
        if units:
            pairs = [
                (field, unit) for field in fields for unit in units if field.dimension in unit.dimensions
            ]
            if len(pairs) == 1:
                return _Meaning(*pairs[0])
        elif said and (chosen := _without_unit(fields)):
            return _Meaning(chosen, None)
    return None


def _without_unit(fields: Sequence[Field]) -> Field | None:
    plain = [field for field in fields if not field.dimension]
    numbers = [field for field in fields if field.dimension and not field.unit_needed]
    return next((found[0] for found in (plain, numbers) if len(found) == 1), None)


def _readings(text: str, words: Words) -> Iterable[tuple[str, tuple[Unit, ...]]]:
    """Ways to part a heading into words and units, the one that names a unit first."""
    bracketed = _BRACKETED.search(text)
    if bracketed and (units := words.units_written(bracketed[1])):
        yield text[: bracketed.start()] + text[bracketed.end() :], units
    pieces = text.replace(",", " ").split()
    for cut in range(len(pieces)):
        if units := words.units_written(" ".join(pieces[cut:])):
            yield " ".join(pieces[:cut]), units
            break
    yield text, ()

"""What one heading means: a field, and the unit it names."""

import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from estate.domain.layouts import Layout, SheetKind
from estate.domain.phrases import phrase
from estate.errors import IntakeFault
from estate.intake.composed import composed
from estate.intake.dates import DayReader
from estate.intake.words import Field, Unit, Words, fold
from estate.intake.words import phrase as phrase_in

LONGEST_HEADING = 120
"""A longer text is no heading; characters."""

SURE, COMPOSED = "sure", "composed"
STRENGTHS = (SURE, COMPOSED, "weak", "last")
"""How plainly a phrase stands for a field; see the words file."""

_BRACKETED = re.compile(r"[(\[]([^()\[\]]*)[)\]]")


@dataclass(frozen=True, slots=True)
class Column:
    """One column of a table; `field` is None where the heading is not understood.

    Attributes:
        how: ``words``, ``layout``, ``values`` or ``neighbours``; empty where it is not understood.
        sure: whether the words of the heading stand for the field and for nothing else.
        unit_from: where the unit stands: ``heading``, ``layout`` or ``plausibility``; empty without one.
        suggested: name of the field that the values look like, for a person to confirm.
    """

    index: int
    heading: str
    field: Field | None = None
    unit: Unit | None = None
    how: str = ""
    sure: bool = True
    unit_from: str = ""
    suggested: str = ""


@dataclass(frozen=True, slots=True)
class Understood:
    """The columns of a header, and the name of the remembered layout that gave them."""

    columns: tuple[Column, ...]
    layout: Layout | None = None


@dataclass(frozen=True, slots=True)
class Meaning:
    """The field that a heading stands for, and the unit it names."""

    field: Field
    unit: Unit | None


class Headings:
    """Gives headings their fields: by a layout, else by words.

    Args:
        words: the words of headings.
        kind: what the sheet is read as.
        layouts: remembered ones; one whose headings are those of a table is used for it.
        layout: one that is used whatever the headings are.

    Raises:
        IntakeFault: a layout of the kind names a field or a unit that is not known.
    """

    def __init__(
        self, words: Words, kind: SheetKind, layouts: Iterable[Layout] = (), layout: Layout | None = None
    ) -> None:
        self.words = words
        self.days = DayReader(words)
        self.kind = kind
        self.forced = layout if layout is not None and layout.kind is kind else None
        self._fields = {field.name: field for field in words.fields[kind]}
        self._units = {unit.name: unit for unit in words.units}
        self._by_headings: dict[frozenset[str], Layout] = {}
        for each in (*layouts, *([self.forced] if self.forced else [])):
            if each.kind is kind:
                self._check(each)
                self._by_headings.setdefault(_set_of(column.heading for column in each.columns), each)
        self._meanings: dict[tuple[str, str], Meaning | None] = {}
        self._known: dict[str, bool] = {}
        self._parts: dict[str, tuple[Meaning | None, str]] = {}
        self._remembered = {
            fold(column.heading): column.field
            for each in self._by_headings.values()
            for column in each.columns
        }

    def field(self, name: str) -> Field | None:
        """The field of a name; None where the kind has none such."""
        return self._fields.get(name)

    def knows(self, text: str) -> bool:
        """Whether a text alone is a heading that is understood or remembered."""
        if text not in self._known:
            understood = any(self.meaning(text, strength) is not None for strength in STRENGTHS)
            self._known[text] = understood or fold(text) in self._remembered
        return self._known[text]

    def known_otherwise(self, text: str) -> bool:
        """Whether a heading is one of another kind of sheet, such as a serial number among results."""
        others = (kind for kind in SheetKind if kind is not self.kind)
        return any(_meaning(text, self.words, kind, SURE) is not None for kind in others)

    def hint(self, text: str) -> str:
        """Name of the field that a text alone most likely stands for; empty where it tells none."""
        meanings = (self.meaning(text, strength) for strength in STRENGTHS)
        known = next((meaning for meaning in meanings if meaning is not None), None)
        if self.forced is None and known is not None:
            return known.field.name
        return self._remembered.get(fold(text), known.field.name if known else "")

    def meaning(self, text: str, strength: str) -> Meaning | None:
        """What a heading means by words of some strength."""
        key = (text, strength)
        if key not in self._meanings:
            by_parts = strength == COMPOSED and len(text) <= LONGEST_HEADING
            self._meanings[key] = (
                self._parted(text)[0] if by_parts else _meaning(text, self.words, self.kind, strength)
            )
        return self._meanings[key]

    def _parted(self, text: str) -> tuple[Meaning | None, str]:
        """What a heading means by its parts, else the name of the field to suggest."""
        if text not in self._parts:
            fields = self._fields if self.kind is SheetKind.VISITS else {}
            self._parts[text] = _by_parts(text, self.words, fields)
        return self._parts[text]

    def understand(self, columns: Iterable[tuple[int, str]]) -> Understood:
        """Give each heading its field.

        Args:
            columns: index and heading of each column, as written.
        """
        headings = [(index, " ".join(text.split())) for index, text in columns]
        layout = self.forced or self._by_headings.get(_set_of(text for _, text in headings))
        if layout is None:
            return Understood(self._by_words(headings, frozenset()))
        return Understood(self._by_layout(headings, layout), layout)

    def _by_layout(self, headings: Sequence[tuple[int, str]], layout: Layout) -> tuple[Column, ...]:
        named: dict[str, list[tuple[str, str]]] = {}
        for column in layout.columns:
            named.setdefault(fold(column.heading), []).append((column.field, column.unit))
        rest = [each for each in headings if fold(each[1]) not in named]
        claimed = frozenset(column.field for column in layout.columns)
        found = {column.index: column for column in self._by_words(rest, claimed)}
        for index, text in headings:
            if index in found:
                continue
            told = named[fold(text)]
            field, unit = told.pop(0) if len(told) > 1 else told[0]
            found[index] = self._column_of(index, text, field, unit)
        return tuple(found[index] for index, _ in headings)

    def _column_of(self, index: int, text: str, name: str, unit_name: str) -> Column:
        field = self._fields.get(name)
        if field is None:
            return Column(index, text)
        unit = self._units.get(unit_name)
        if unit is not None:
            return Column(index, text, field, unit, "layout", unit_from="layout")
        unit = _unit_in(text, field, self.words)
        return Column(index, text, field, unit, "layout", unit_from="heading" if unit else "")

    def _by_words(self, headings: Sequence[tuple[int, str]], claimed: frozenset[str]) -> tuple[Column, ...]:
        """Sure words first, weaker ones only for fields that no heading named by stronger words."""
        found: dict[int, Column] = {}
        taken = set(claimed)
        for strength in STRENGTHS:
            left = [each for each in headings if each[0] not in found]
            known = [(index, text, self.meaning(text, strength)) for index, text in left]
            for index, text, meaning in known:
                if meaning is not None and meaning.field.name not in taken:
                    found[index] = _column(index, text, meaning, strength == SURE)
            taken |= {column.field.name for column in found.values() if column.field}
        return tuple(found.get(index) or self._suggested(index, text, taken) for index, text in headings)

    def _suggested(self, index: int, text: str, taken: set[str]) -> Column:
        """A column that is not understood, with the field that most of its words name."""
        name = self._parted(text)[1]
        return Column(index, text, suggested="" if name in taken else name)

    def _check(self, layout: Layout) -> None:
        for column in layout.columns:
            unknown = column.field if column.field and column.field not in self._fields else ""
            if unknown or (column.unit and column.unit not in self._units):
                detail = phrase(
                    "“{name}”, heading “{heading}”: {unknown} is not known.",
                    name=layout.name,
                    heading=column.heading,
                    unknown=unknown or column.unit,
                )
                raise IntakeFault("The layout does not fit", detail, "Make the layout again from a sheet.")


def lacking(layout: Layout, met: Iterable[str]) -> tuple[str, ...]:
    """The headings of a layout that stand for something and are not among those met."""
    there = _set_of(met)
    return tuple(each.heading for each in layout.columns if each.field and fold(each.heading) not in there)


def _column(index: int, text: str, meaning: Meaning, sure: bool) -> Column:
    unit_from = "heading" if meaning.unit else ""
    return Column(index, text, meaning.field, meaning.unit, "words", sure, unit_from)


def _set_of(headings: Iterable[str]) -> frozenset[str]:
    return frozenset(fold(text) for text in headings if text.strip())


def understand(columns: Iterable[tuple[int, str]], words: Words, kind: SheetKind) -> tuple[Column, ...]:
    """Give each heading its field by words alone."""
    return Headings(words, kind).understand(columns).columns


def _unit_in(text: str, field: Field, words: Words) -> Unit | None:
    """The unit that a heading names for a field that a person gave it."""
    for _, units in _readings(text, words):
        for unit in units:
            if field.dimension in unit.dimensions:
                return unit
    return None


def _meaning(text: str, words: Words, kind: SheetKind, strength: str) -> Meaning | None:
    if len(text) > LONGEST_HEADING:
        return None
    whole = _match(text, words, kind, strength)
    if whole is not None or "/" not in text:
        return whole
    parts = [_match(part, words, kind, strength) for part in text.split("/")]
    same = {part.field.name for part in parts if part}
    return parts[0] if len(same) == 1 and all(parts) else None


def _by_parts(text: str, words: Words, fields: Mapping[str, Field]) -> tuple[Meaning | None, str]:
    """What a heading of results means by its parts, else the name of the field to suggest."""
    holds = frozenset((field.name, field.dimension) for field in fields.values())
    for rest, units in _readings(text, words) if fields else ():
        measures = frozenset(each for unit in units for each in unit.dimensions)
        found = composed(rest, measures, holds)
        if found.field:
            field = fields[found.field]
            named = [*units, *(each for each in words.units if each.name == found.unit)]
            unit = next((each for each in named if field.dimension in each.dimensions), None)
            return Meaning(field, unit), ""
        if found.suggested:
            return None, found.suggested
    return None, ""


def _match(text: str, words: Words, kind: SheetKind, strength: str) -> Meaning | None:
    for rest, units in _readings(text, words):
        said = phrase_in(rest, words.fillers)
        fields = _named(said, words, kind, strength)
        if units:
            pairs = [
                (field, unit) for field in fields for unit in units if field.dimension in unit.dimensions
            ]
            if len(pairs) == 1:
                return Meaning(*pairs[0])
        elif said and (chosen := _temperature(rest, fields, words) or _without_unit(fields)):
            return Meaning(chosen, None)
    return None


def _named(said: str, words: Words, kind: SheetKind, strength: str) -> tuple[Field, ...]:
    if strength == "last":
        field = words.named_last(kind, said)
        return (field,) if field is not None else ()
    return words.named(kind, strength == "weak", said)


def _without_unit(fields: Sequence[Field]) -> Field | None:
    plain = [field for field in fields if not field.dimension]
    numbers = [field for field in fields if field.dimension and not field.unit_needed]
    return next((found[0] for found in (plain, numbers) if len(found) == 1), None)


def _temperature(text: str, fields: Sequence[Field], words: Words) -> Field | None:
    """The one temperature among fields, where the heading says in words that it is one."""
    if words.labels["temperature"].isdisjoint(fold(text).split()):
        return None
    found = [field for field in fields if field.dimension == "temperature"]
    return found[0] if len(found) == 1 else None


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
    # Group words over headings may end in the unit of all that stands under them.
    for place, piece in enumerate(pieces[:-1]):
        if (piece.startswith("°") or "/" in piece) and (units := words.units_written(piece)):
            yield " ".join([*pieces[:place], *pieces[place + 1 :]]), units
            break
    yield text, ()

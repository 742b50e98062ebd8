"""Find the outlet of each row of a sheet: by key, reference, look-alike, learnt words or place."""

import re
from collections import defaultdict
from collections.abc import Collection, Hashable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from functools import cached_property

from estate.domain.aliases import Alias
from estate.domain.intake import AttemptRow, PlaceWords, VisitRow
from estate.domain.phrases import phrase
from estate.domain.places import Outlet
from estate.domain.questions import Answer, Choice
from estate.domain.references import reference_key
from estate.domain.round_key import read_key
from estate.intake.likeness import NearReferences, look_alike_key
from estate.intake.place_words import NOTHING_TOLD, Told, told
from estate.operations.match_places import Claim, Settled, settle
from estate.operations.places_known import PlacesKnown, told_by

Row = VisitRow | AttemptRow

MOST_SUGGESTED = 5
MOST_LOOKED_UP = 200
"""Rows for which the whole register is searched for something like them; that takes its time."""
LOOK_ALIKE = 0.95
"""Confidence in a reference that differs by look-alike letters and figures alone."""
MOSTLY = 0.5
"""From this share of known references on, the sheet's references are the register's."""

_CLASSES = re.compile(r"[^\W\d_]+|\d+")
_FIGURES = re.compile(r"\d+")
_PLACE_FIELDS = ("outlet", "room", "room_number", "level", "building", "site")


@dataclass(frozen=True, slots=True)
class Found:
    """A row's outlet.

    Attributes:
        by: ``key``, ``reference``, ``look-alike``, ``alias`` or ``place``.
        confidence: 0 to 1.
        learnt: the sheet's words, where a person told what they stand for.
    """

    outlet: Outlet
    by: str
    confidence: float = 1.0
    learnt: str = ""


@dataclass(frozen=True, slots=True)
class Unfound:
    """Why a row has no outlet, and what it may be, likeliest first."""

    code: str
    found: str
    remedy: str
    suggested: tuple[str, ...] = ()


def words_of(row: Row) -> str:
    """What a row calls its outlet: the reference, or all its place words where that says too little."""
    key = reference_key(row.reference)
    telling = len(key) > 3 or (len(key) == 3 and not key.isalpha() and not key.isdecimal())
    if telling:
        return row.reference.strip()
    place = (getattr(row.place, field) for field in reversed(_PLACE_FIELDS))
    return ", ".join(part.strip() for part in (row.reference, *place) if part.strip())


def cell_of(row: Row) -> str:
    """The cell in which a row names its outlet."""
    cells = dict(row.cells)
    return next((cells[field] for field in ("reference", *_PLACE_FIELDS, "key") if field in cells), "")


class OutletFinder:
    """Finds the outlets of one sheet.

    Args:
        outlets: of the register, retired ones too.
        identifier: of the register, as its round sheets' keys tell it.
        aliases: what a person confirmed of words.
        answers: what a person answered for this sheet.
    """

    def __init__(
        self,
        outlets: Sequence[Outlet],
        identifier: str,
        aliases: Iterable[Alias] = (),
        answers: Iterable[Answer] = (),
    ) -> None:
        self._outlets = outlets
        self._identifier = identifier
        self._by_id = {each.id: number for number, each in enumerate(outlets)}
        self._by_key = {reference_key(each.reference): number for number, each in enumerate(outlets)}
        self._aliases = {reference_key(each.words): each.outlet_id for each in aliases}
        self._answers: dict[tuple[str, int], list[Answer]] = defaultdict(list)
        for answer in answers:
            if answer.choice is Choice.OUTLET and answer.row:
                self._answers[answer.sheet, answer.row].append(answer)
        self._places = PlacesKnown(outlets)
        self._looked_up = 0

    def find(self, rows: Sequence[Row]) -> list[Found | Unfound]:
        """Find the outlet of each row; the order of the rows makes no difference.

        Returns:
            One for each row, in order.
        """
        results: dict[int, Found | Unfound] = {}
        for number, row in enumerate(rows):
            if named := self._named(row):
                results[number] = named
        self._by_look_alike(rows, results)
        self._by_place(rows, results)
        return [results[number] for number in range(len(rows))]

    def answered(self, row: Row) -> Found | None:
        """The outlet that a person gave for a row."""
        if not self._answers:
            return None
        given = self._answers.get((row.source.sheet, row.source.row), ())
        for answer in reversed([*given, *self._answers.get(("", row.source.row), ())]):
            which = self._by_key.get(reference_key(answer.value))
            if which is not None and answer.cell in ("", *dict(row.cells).values()):
                return Found(self._outlets[which], "alias", learnt=words_of(row))
        return None

    def _named(self, row: Row) -> Found | Unfound | None:
        """What a row's key or reference names; None where they name nothing."""
        if found := self.answered(row):
            return found
        which = self._by_key.get(reference_key(row.reference)) if row.reference else None
        if row.key:
            return self._by_register_key(row, which)
        if which is None:
            return None
        return self._unless_contradicted(row, which, "reference")

    def _by_register_key(self, row: Row, by_reference: int | None) -> Found | Unfound:
        key = read_key(row.key)
        suggested = () if by_reference is None else (self._reference(by_reference),)
        if key is not None and key.register != self._identifier:
            remedy = phrase(
                "Another register wrote this round sheet: bring it in there, or choose the outlet."
            )
            return Unfound("other-register", row.key, remedy, suggested)
        which = None if key is None else self._by_id.get(key.outlet_id)
        if which is None:
            remedy = phrase("The key of the row was changed or its outlet is no more: choose the outlet.")
            return Unfound("unknown-outlet", row.key, remedy, suggested)
        if by_reference not in (None, which):
            remedy = phrase(
                "The hidden key and the reference name different outlets: was a part of the row moved?"
            )
            both = (self._reference(which), *suggested)
            return Unfound("several-outlets", row.reference, remedy, both)
        return self._unless_contradicted(row, which, "key")

    def _unless_contradicted(self, row: Row, which: int, by: str, confidence: float = 1.0) -> Found | Unfound:
        """An outlet, unless the place words of the row tell clearly of another."""
        if row.place.told and not self._places.are_words_of(row.place, which):
            said = told_by(row.place)
            elsewhere = self._places.is_elsewhere(row.place, which)
            denied = elsewhere or self._places.contradicts(said, which)
            if denied and (others := self._identified(said, row.on)) and which not in others:
                references = [self._reference(each) for each in sorted(others)[: MOST_SUGGESTED - 1]]
                remedy = phrase(
                    "The name is {named}'s, but the place words tell of {others}: choose the right one.",
                    named=self._reference(which),
                    others=" or ".join(references),
                )
                return Unfound(
                    "several-outlets", _row_words(row), remedy, (self._reference(which), *references)
                )
        return Found(self._outlets[which], by, confidence)

    def _by_look_alike(self, rows: Sequence[Row], results: dict[int, Found | Unfound]) -> None:
        """Rows by learnt words, or by a reference that one outlet alone looks like and no other row names."""
        claims: dict[tuple[Hashable, int], set[str]] = defaultdict(set)
        for number, found in results.items():
            if isinstance(found, Found):
                claims[_group(rows[number]), self._by_id[found.outlet.id]].add("")
        waiting: list[tuple[int, int]] = []
        for number, row in enumerate(rows):
            if number in results:
                continue
            alike = self._alike.get(look_alike_key(row.reference), ()) if row.reference else ()
            learnt = self._by_id.get(self._aliases.get(reference_key(words_of(row)), 0))
            if named := self._learnt_or_alike(row, learnt, alike):
                results[number] = named
            elif alike:
                waiting.append((number, alike[0]))
                claims[_group(row), alike[0]].add(reference_key(row.reference))
        for number, which in waiting:
            results[number] = self._alone(rows[number], which, claims)

    def _learnt_or_alike(self, row: Row, learnt: int | None, alike: Sequence[int]) -> Found | Unfound | None:
        if learnt is not None and (not alike or learnt in alike):
            return self._unless_contradicted(row, learnt, "alias")
        if len(alike) + (learnt is not None) > 1:
            fitting = [*([] if learnt is None else [learnt]), *alike]
            remedy = phrase("Several outlets look like this: choose the right one.")
            return Unfound("several-outlets", row.reference, remedy, self._references(fitting))
        return None

    def _alone(
        self, row: Row, which: int, claims: Mapping[tuple[Hashable, int], Collection[str]]
    ) -> Found | Unfound:
        if len(claims[_group(row), which]) > 1:
            remedy = phrase(
                "It looks like {other}, which another row names: choose the outlet.",
                other=self._reference(which),
            )
            return Unfound("several-outlets", row.reference, remedy, (self._reference(which),))
        return self._unless_contradicted(row, which, "look-alike", LOOK_ALIKE)

    def _by_place(self, rows: Sequence[Row], results: dict[int, Found | Unfound]) -> None:
        """The rows left, by their place words, over the whole sheet at once."""
        left = [number for number in range(len(rows)) if number not in results]
        if not left:
            return
        named = sum(1 for number in results if rows[number].reference)
        mostly_ours = named >= MOSTLY * (named + sum(1 for number in left if rows[number].reference))
        said = {number: self._told(rows[number], mostly_ours) for number in left}
        claims = [self._claim(number, rows[number], said[number]) for number in left]
        taken: dict[Hashable, set[int]] = defaultdict(set)
        for number, found in results.items():
            if isinstance(found, Found):
                taken[_group(rows[number])].add(self._by_id[found.outlet.id])
        settled = settle(claims, taken)
        for number in left:
            results[number] = self._settled(rows[number], said[number], settled[number])

    def _told(self, row: Row, mostly_ours: bool) -> Told:
        """What may name a row's outlet besides its reference; nothing where the reference has to be right."""
        place = told_by(row.place)
        if not row.reference:
            return place
        if self._places.is_descriptive(row.reference):
            return place | told(row.reference)
        near = {self._by_key[reference_key(each)] for each in self._near.one_slip_away(row.reference)}
        if not near:
            foreign = not mostly_ours and _shape(row.reference) not in self._shapes
            return place if foreign else NOTHING_TOLD
        return place if self._bears_out(row, place, near) else NOTHING_TOLD

    def _bears_out(self, row: Row, place: Told, near: Collection[int]) -> bool:
        """Whether the place words name one of the outlets that a reference is one slip away from.

        Figures that differ have to be told by the place words too.
        """
        fitting = self._identified(place, row.on)
        if len(fitting) != 1 or not set(near).issuperset(fitting):
            return False
        wanted = _FIGURES.findall(reference_key(self._reference(next(iter(fitting)))))
        written = _FIGURES.findall(reference_key(row.reference))
        told_figures = {int(figures) for each in place.numbers for figures in _FIGURES.findall(each.text)}
        return all(int(each) in told_figures for each in wanted if each not in written)

    def _claim(self, number: int, row: Row, said: Told) -> Claim:
        readings = row.readings if isinstance(row, VisitRow) else row.why
        words = "|".join((row.reference, *(getattr(row.place, field) for field in _PLACE_FIELDS)))
        fitting = {
            which: likeness
            for which, likeness in self._places.fitting(said).items()
            if self._in_use(which, row.on)
        }
        return Claim(number, _group(row), words, (words, readings), fitting)

    def _settled(self, row: Row, said: Told, settled: Settled) -> Found | Unfound:
        if settled.outlet is not None and self._places.identified(said, settled.outlet):
            return Found(self._outlets[settled.outlet], "place", round(settled.likeness, 2))
        if settled.outlet is None and settled.rivals:
            remedy = phrase("More than one outlet or row fits these words: choose the outlet.")
            return Unfound("several-outlets", _row_words(row), remedy, self._references(settled.rivals))
        remedy = phrase("Correct the reference, or add the outlet to the register first.")
        return Unfound("unknown-outlet", _row_words(row), remedy, self._suggested(row, settled.rivals))

    def _suggested(self, row: Row, fitting: Sequence[int]) -> tuple[str, ...]:
        """References that may be meant, likeliest first."""
        found: dict[str, None] = {}
        place = told_by(row.place)
        if row.reference:
            found.update(dict.fromkeys(self._near.smudged(row.reference)))
            found.update(dict.fromkeys(self._near.one_slip_away(row.reference)))
        found.update(dict.fromkeys(self._references(fitting)))
        if self._looked_up < MOST_LOOKED_UP:
            self._looked_up += 1
            if self._places.is_descriptive(row.reference):
                place |= told(row.reference)
            found.update(dict.fromkeys(self._near.nearest(row.reference) if row.reference else ()))
            found.update(dict.fromkeys(self._references(self._places.likeliest(place))))
        return tuple(found)[:MOST_SUGGESTED]

    def _identified(self, said: Told, on: date) -> dict[int, float]:
        """The outlets in use on a day that words fit and tell enough of."""
        return {
            which: likeness
            for which, likeness in self._places.fitting(said).items()
            if self._in_use(which, on) and self._places.identified(said, which)
        }

    def _in_use(self, which: int, on: date) -> bool:
        retired_on = self._outlets[which].retired_on
        return retired_on is None or on < retired_on

    def _reference(self, which: int) -> str:
        return self._outlets[which].reference

    def _references(self, which: Iterable[int]) -> tuple[str, ...]:
        return tuple(dict.fromkeys(self._reference(each) for each in which))[:MOST_SUGGESTED]

    @cached_property
    def _alike(self) -> Mapping[str, list[int]]:
        found: dict[str, list[int]] = defaultdict(list)
        for key, which in self._by_key.items():
            found[look_alike_key(key)].append(which)
        return found

    @cached_property
    def _near(self) -> NearReferences:
        return NearReferences(each.reference for each in self._outlets)

    @cached_property
    def _shapes(self) -> frozenset[str]:
        return frozenset(_shape(each.reference) for each in self._outlets)


def _group(row: Row) -> Hashable:
    return row.on, row.kind if isinstance(row, VisitRow) else "attempt"


def _row_words(row: Row) -> str:
    place: PlaceWords = row.place
    words = (row.reference, *(getattr(place, field) for field in reversed(_PLACE_FIELDS)))
    return ", ".join(part.strip() for part in words if part.strip())


def _shape(reference: str) -> str:
    """Which runs of letters and figures a reference has, such as ``A9``."""
    return "".join("9" if run[0].isdigit() else "A" for run in _CLASSES.findall(reference_key(reference)))

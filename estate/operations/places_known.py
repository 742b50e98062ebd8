"""The register's outlets by the words for their places, and which of them a sheet's words fit."""

from collections import Counter, defaultdict
from collections.abc import Callable, Collection, Hashable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import TypeVar

from estate.domain.intake import PlaceWords
from estate.domain.places import Outlet, Use
from estate.domain.references import level_key, reference_key
from estate.intake.likeness import WordLikeness
from estate.intake.place_words import Number, Told, told, vocabulary

_Key = TypeVar("_Key", bound=Hashable)

LEAST_TOLD = 3
"""Things that a row has to tell of a place where it tells no number of it."""

UNTOLD = 0.1
"""How much less well words fit an outlet whose room or name has a word that they do not tell."""

_FIELDS = ("site", "building", "level", "room_number", "room", "outlet")
_INSIDE = ("room", "outlet")
_AROUND = ("site", "building", "level")
_ROOM = ("room", "room_number")
_USES = {
    Use.BASIN: Told(kinds=frozenset({"basin"})),
    Use.SHOWER: Told(kinds=frozenset({"shower"})),
    Use.BATH: Told(kinds=frozenset({"bath"})),
    Use.ASSISTED_BATH: Told(words=("assisted",), kinds=frozenset({"bath"})),
    Use.BIDET: Told(kinds=frozenset({"bidet"})),
    Use.HAIR_WASH: Told(kinds=frozenset({"hairwash"})),
    Use.OTHER: Told(),
}


def told_by(place: PlaceWords) -> Told:
    """What the place words of a row tell."""
    found = Told()
    for field in _FIELDS:
        if text := getattr(place, field):
            found |= told(text, field)
    return found


@dataclass(frozen=True, slots=True)
class Spot:
    """What the register tells of an outlet's place.

    Attributes:
        inside: words of the room and the outlet alone.
        kinds: what the outlet is.
        room_kinds: kinds that the room is named after, as in a room called Shower.
    """

    words: frozenset[str]
    inside: frozenset[str]
    kinds: frozenset[str]
    room_kinds: frozenset[str]
    storeys: frozenset[float]
    numbers: Mapping[str, tuple[Number, ...]]


def spot_of(outlet: Outlet) -> Spot:
    """What the register tells of an outlet's place."""
    path = outlet.path
    around = told(path.site, "site") | told(path.building, "building")
    level, room = told(path.level, "level"), told(path.room_number, "room_number") | told(path.room, "room")
    own = told(path.outlet, "outlet") | _USES[outlet.use]
    whole = around | level | room | own
    numbers: dict[str, tuple[Number, ...]] = {}
    for number in whole.numbers:
        numbers[number.text] = (*numbers.get(number.text, ()), number)
    return Spot(
        words=frozenset((*whole.words, *_initials(path.building))),
        inside=frozenset((*room.words, *own.words)),
        kinds=own.kinds,
        room_kinds=room.kinds,
        storeys=level.storeys or whole.storeys,
        numbers=numbers,
    )


def _initials(name: str) -> tuple[str, ...]:
    words = [word for word in name.casefold().split() if word[0].isalpha()]
    return ("".join(word[0] for word in words),) if len(words) > 1 else ()


class PlacesKnown:
    """Every outlet of the register by its place; an outlet goes by its number in `outlets`."""

    def __init__(self, outlets: Sequence[Outlet]) -> None:
        self._outlets = outlets
        self._known = vocabulary()
        self._spots: dict[int, Spot] = {}

    def spot(self, which: int) -> Spot:
        """The place of an outlet."""
        if which not in self._spots:
            self._spots[which] = spot_of(self._outlets[which])
        return self._spots[which]

    def fitting(self, row: Told) -> dict[int, float]:
        """The outlets that everything told fits, with how well: 1 where the words are the register's own.

        Numbers, storeys and kinds have to be the same; of words each has to be like one of the outlet's.
        """
        posted = sorted(self._posted_for(row), key=len)
        found = set(posted[0]).intersection(*posted[1:]) if posted else set()
        return {which: self._likeness_of(row, which) for which in found if self._fits(row, which)}

    def identified(self, row: Told, which: int) -> bool:
        """Whether a row tells enough to be an outlet's, if it fits no other.

        It has to tell a number of the room or the outlet, and every number that the register gives a word
        of them, such as bed 4; or, without any number, the room by name with enough beside it.
        """
        spot = self.spot(which)
        here = [number for number in row.numbers if number.field not in _AROUND]
        if here:
            said = {number.text for number in row.numbers}
            return all(number.text in said for number in self._worded(spot)) and self._is_inside(here, spot)
        count = len(row.words) + len(row.kinds) + len(row.storeys)
        return count >= LEAST_TOLD and any(self._among(word, spot.inside) for word in row.words)

    def contradicts(self, row: Told, which: int) -> bool:
        """Whether a row tells another number, storey or kind than an outlet has.

        A room's bare number is enough, whatever the row calls the room beside it.
        """
        spot = self.spot(which)
        storeys = bool(row.storeys and spot.storeys and not row.storeys & spot.storeys)
        kinds = bool(row.kinds and spot.kinds and not self._kinds_fit(row, spot))
        return kinds or storeys or not all(self._number_stands(number, spot) for number in row.numbers)

    def are_words_of(self, place: PlaceWords, which: int) -> bool:
        """Whether what a row tells of a place is as an outlet has it, but for case and punctuation."""
        path = self._outlets[which].path
        for field in _FIELDS:
            said = getattr(place, field)
            key = level_key if field == "level" else reference_key
            if said and said != (own := getattr(path, field)) and key(said) != key(own):
                return False
        return True

    def is_elsewhere(self, place: PlaceWords, which: int) -> bool:
        """Whether a row names another building than an outlet has: a word of it is unlike all of its own."""
        path = self._outlets[which].path
        own = told(path.site, "site") | told(path.building, "building")
        here = {*own.words, *own.kinds, *_initials(path.building)}
        said = told(place.building, "building")
        numbers = {number.text for number in own.numbers}
        strange = any(not self._among(word, here) for word in said.words)
        return strange or any(number.text not in numbers for number in said.numbers)

    def likeliest(self, row: Told, most: int = 5) -> list[int]:
        """The outlets that most of what is told fits, likeliest first; none where no number fits."""
        counts: Counter[int] = Counter()
        for number in row.numbers:
            there = self._by_number.get(number.text, ())
            counts.update({which: 2 for which in there if self._number_stands(number, self.spot(which))})
        for which in counts:
            spot = self.spot(which)
            counts[which] += len(row.kinds & spot.kinds) + len(row.storeys & spot.storeys)
            counts[which] += sum(self._among(word, spot.words) for word in row.words)
        return sorted(counts, key=lambda which: (-counts[which], which))[:most]

    def is_descriptive(self, text: str) -> bool:
        """Whether every word of a text is known from places, so that it is no reference but tells a place."""
        row = told(text)
        known = all(word in self._by_word or word in self._names for word in row.words)
        return known and bool(row.words or row.kinds) and all(number.of for number in row.numbers)

    def _posted_for(self, row: Told) -> Iterator[Collection[int]]:
        for number in row.numbers:
            yield self._by_number.get(number.text, ())
        for kind in row.kinds:
            yield self._by_kind.get(kind, ())
        if row.storeys:
            yield set().union(*(self._by_storey.get(storey, ()) for storey in row.storeys))
        for word in row.words:
            likes = self._likeness.likes(word)
            posted = (self._by_kind if like in self._known.kinds else self._by_word for like in likes)
            yield set().union(*(where.get(like, ()) for where, like in zip(posted, likes, strict=True)))

    def _fits(self, row: Told, which: int) -> bool:
        spot = self.spot(which)
        kinds = not row.kinds or self._kinds_fit(row, spot)
        return kinds and all(self._number_fits(number, spot) for number in row.numbers)

    def _likeness_of(self, row: Told, which: int) -> float:
        spot = self.spot(which)
        here = spot.words | spot.kinds | spot.room_kinds
        exact = len(row.numbers) + len(row.kinds) + len(row.storeys)
        likes = [self._likeness.likes(word) for word in row.words]
        best = [max(likeness for like, likeness in each.items() if like in here) for each in likes]
        untold = not spot.inside.issubset(like for each in likes for like in each)
        return (exact + sum(best)) / max(1, exact + len(best)) - (UNTOLD if untold else 0.0)

    def _kinds_fit(self, row: Told, spot: Spot) -> bool:
        return bool(row.kinds & spot.kinds) and row.kinds <= spot.kinds | spot.room_kinds

    def _number_fits(self, number: Number, spot: Spot) -> bool:
        return any(self._is_same(number, other, spot) for other in spot.numbers.get(number.text, ()))

    def _number_stands(self, number: Number, spot: Spot) -> bool:
        there = spot.numbers.get(number.text, ())
        bare = any(other.field in _ROOM and not other.of for other in there)
        return self._number_fits(number, spot) or (bare and number.field in _ROOM)

    def _is_same(self, number: Number, other: Number, spot: Spot) -> bool:
        """Whether two equal numbers count the same: bed 3 is not bay 3, and basin 1 not room 1."""
        if number.of and other.of:
            return other.of == number.of or other.of in self._likeness.likes(number.of)
        if number.of:
            return other.field == "room" and self._among(number.of, spot.inside)
        if other.of in self._known.kinds:
            return number.field == "outlet"
        if number.field in _AROUND or other.field in _AROUND:
            return number.field == other.field
        return number.field != "outlet" or other.field == "outlet"

    def _worded(self, spot: Spot) -> Iterator[Number]:
        for numbers in spot.numbers.values():
            for number in numbers:
                if number.field in _INSIDE and number.of and number.of not in self._known.kinds:
                    yield number

    def _is_inside(self, numbers: Iterable[Number], spot: Spot) -> bool:
        found = (other for number in numbers for other in spot.numbers.get(number.text, ()))
        return any(other.field in _INSIDE for other in found)

    def _among(self, word: str, words: Collection[str]) -> bool:
        return any(like in words for like in self._likeness.likes(word))

    @cached_property
    def _by_word(self) -> Mapping[str, set[int]]:
        return self._posted(lambda spot: spot.words)

    @cached_property
    def _by_kind(self) -> Mapping[str, set[int]]:
        return self._posted(lambda spot: spot.kinds | spot.room_kinds)

    @cached_property
    def _by_storey(self) -> Mapping[float, set[int]]:
        return self._posted(lambda spot: spot.storeys)

    @cached_property
    def _by_number(self) -> Mapping[str, set[int]]:
        return self._posted(lambda spot: spot.numbers)

    def _posted(self, of: Callable[[Spot], Iterable[_Key]]) -> Mapping[_Key, set[int]]:
        found: dict[_Key, set[int]] = defaultdict(set)
        for which in range(len(self._outlets)):
            for each in of(self.spot(which)):
                found[each].add(which)
        return found

    @cached_property
    def _names(self) -> frozenset[str]:
        return frozenset(word for phrase in self._known.phrases.values() for word in phrase)

    @cached_property
    def _likeness(self) -> WordLikeness:
        return WordLikeness({*self._by_word, *self._known.kinds}, self._names)

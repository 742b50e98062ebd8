"""Give rows that name no outlet the one that their place words fit, over the whole sheet at once."""

from collections import defaultdict
from collections.abc import Collection, Hashable, Iterable, Mapping, Sequence
from dataclasses import dataclass

from estate.intake.likeness import assign

NEAR = 0.08
"""A rival within this likeness is as good: a person has to choose."""
FIRM = 0.97
"""From this likeness on, a row that fits one outlet alone keeps it from others that fit it less."""
LEAST = 0.8
"""Words less like an outlet's than this do not name it."""
MOST_FITTING = 40
"""A row that fits more outlets than this is not told apart from them by any other row."""


@dataclass(frozen=True, slots=True)
class Claim:
    """What outlets a row may stand for.

    Attributes:
        row: the row's number among those looked at.
        group: the day and the kind of the visit: in it an outlet is visited once.
        words: what the row says; rows that say the same are not told apart.
        entry: all that the row enters; rows that enter the same are one visit told twice.
        fitting: likeness of each outlet that its words fit.
    """

    row: int
    group: Hashable
    words: str
    entry: Hashable
    fitting: Mapping[int, float]


@dataclass(frozen=True, slots=True)
class Settled:
    """What a row came to: the outlet that it alone fits best, or None, and the outlets in question."""

    outlet: int | None
    likeness: float
    rivals: tuple[int, ...]


def settle(claims: Iterable[Claim], taken: Mapping[Hashable, Collection[int]]) -> dict[int, Settled]:
    """Settle the rows of a sheet, those of one day and kind together.

    Args:
        claims: of the rows that name no outlet by reference.
        taken: outlets that rows of the same group name by reference.

    Returns:
        What each row came to, by its number.
    """
    groups: dict[Hashable, list[Claim]] = defaultdict(list)
    for claim in claims:
        groups[claim.group].append(claim)
    settled: dict[int, Settled] = {}
    for group, members in groups.items():
        members.sort(key=lambda each: each.words)
        settled |= _Group(members, taken.get(group, ())).settled()
    return settled


class _Group:
    """The rows of one day and kind, in an order that does not come from the sheet."""

    def __init__(self, claims: Sequence[Claim], taken: Collection[int]) -> None:
        self._claims = claims
        self._entries = [each.entry for each in claims]
        self._open = [dict(each.fitting) if len(each.fitting) <= MOST_FITTING else {} for each in claims]
        self._rows_of: dict[int, list[int]] = defaultdict(list)
        self._drop_what_others_hold(taken)
        for place, fitting in enumerate(self._open):
            for outlet in fitting:
                self._rows_of[outlet].append(place)

    def _drop_what_others_hold(self, taken: Collection[int]) -> None:
        """An outlet that another row fits firmly, and clearly better, does not come into question.

        Of two that a row fits alike neither is dropped: what others leave over is no evidence.
        """
        held = dict.fromkeys(taken, 1.0)
        for fitting in self._open:
            outlet, likeness = _firmly(fitting)
            held[outlet] = max(likeness, held.get(outlet, 0.0))
        for fitting in self._open:
            best = max(fitting.values(), default=0.0)
            for outlet, likeness in list(fitting.items()):
                if likeness < best and held.get(outlet, 0.0) >= likeness + NEAR:
                    del fitting[outlet]

    def settled(self) -> dict[int, Settled]:
        """What each row came to."""
        first = {entry: place for place, entry in reversed([*enumerate(self._entries)])}
        scores = {
            (place, outlet): likeness
            for place in first.values()
            for outlet, likeness in self._open[place].items()
        }
        given = assign(scores)
        return {
            claim.row: self._settled(place, given.get(first[claim.entry]))
            for place, claim in enumerate(self._claims)
        }

    def _settled(self, place: int, outlet: int | None) -> Settled:
        claim, fitting = self._claims[place], self._open[place]
        likeliest = _likeliest(fitting or claim.fitting)
        if outlet is None or self._has_rivals(place, outlet):
            return Settled(None, 0.0, likeliest)
        return Settled(outlet, fitting[outlet], (outlet, *(each for each in likeliest if each != outlet)))

    def _has_rivals(self, place: int, outlet: int) -> bool:
        own = self._open[place]
        least = own[outlet] - NEAR
        if least + NEAR < LEAST or any(own[each] >= least for each in own if each != outlet):
            return True
        others = (each for each in self._rows_of[outlet] if self._entries[each] != self._entries[place])
        return any(self._wants(each, outlet, least) for each in others)

    def _wants(self, place: int, outlet: int, least: float) -> bool:
        """Whether a row fits an outlet nearly as well, and no other outlet as well as that."""
        own = self._open[place]
        near = [each for each, likeness in own.items() if likeness >= max(own.values()) - NEAR]
        return own[outlet] >= least and near == [outlet]


def _firmly(fitting: Mapping[int, float]) -> tuple[int, float]:
    """The outlet that a row fits and no other nearly as well, with its likeness; (-1, 0) without one."""
    likeliest = _likeliest(fitting)
    if not likeliest or fitting[likeliest[0]] < FIRM:
        return -1, 0.0
    best = fitting[likeliest[0]]
    alone = all(fitting[each] < best - NEAR for each in likeliest[1:])
    return (likeliest[0], best) if alone else (-1, 0.0)


def _likeliest(fitting: Mapping[int, float]) -> tuple[int, ...]:
    return tuple(sorted(fitting, key=lambda each: (-fitting[each], each)))

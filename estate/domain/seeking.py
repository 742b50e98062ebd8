"""Finds things by a few letters: the best first, fast enough to follow each key."""

from collections.abc import Iterable, Iterator, Sequence
from itertools import chain, islice
from unicodedata import normalize

from estate.domain.references import reference_key
from estate.domain.things import Thing, ThingKind

_EDGE = "\n"
_RANK = {kind: place for place, kind in enumerate(ThingKind)}


class Seeker:
    """Things with what they are found by, worked out once.

    Letters of any width, case and punctuation of references are folded as `reference_key` folds them.

    Args:
        things: of one kind, the earlier come first among those that fit equally well.
    """

    def __init__(self, things: Iterable[Thing]) -> None:
        self.things = tuple(sorted(things, key=lambda each: _RANK[each.kind]))
        self._codes = [_codes(each) for each in self.things]
        self._heard = [
            f" {_folded(f'{each.label} {each.said} {each.heard}')}{codes}"
            for each, codes in zip(self.things, self._codes, strict=True)
        ]
        self._last: tuple[tuple[str, ...], Sequence[int]] = ((), range(len(self.things)))

    def seek(self, text: str, most: int = 50) -> tuple[int, tuple[Thing, ...]]:
        """Find what has every word of a text.

        First comes what has the text as its whole reference, serial or number, then what has one that
        begins so, then what is called so from its beginning, then what has words that begin so.

        Returns:
            How many things fit, and the best of them; none for a text without a letter or digit.
        """
        sought = tuple(word for word in _folded(text).split() if reference_key(word))
        if not sought:
            return 0, ()
        left = self._fitting(sought)
        found: dict[int, None] = {}
        for place in chain.from_iterable(self._tiers(left, sought, reference_key(text))):
            found[place] = None
            if len(found) == most:
                break
        return len(left), tuple(self.things[place] for place in islice(found, most))

    def _fitting(self, sought: tuple[str, ...]) -> Sequence[int]:
        before, among = self._last
        # What a longer text fits, its beginning fitted as well: only that is looked at again.
        longer = len(before) <= len(sought) and all(map(str.startswith, sought, before))
        left: Sequence[int] = among if longer else range(len(self.things))
        for word in sought:
            left = self._having(left, word)
        self._last = (sought, left)
        return left

    def _having(self, among: Sequence[int], word: str) -> Sequence[int]:
        heard, codes, key = self._heard, self._codes, reference_key(word)
        if key == word:
            return [place for place in among if word in heard[place]]
        return [place for place in among if word in heard[place] or key in codes[place]]

    def _tiers(self, left: Sequence[int], sought: tuple[str, ...], key: str) -> Iterator[Sequence[int]]:
        heard, codes, said = self._heard, self._codes, " ".join(sought)
        whole, begins = f"{_EDGE}{key}{_EDGE}", f"{_EDGE}{key}"
        yield [place for place in left if whole in codes[place]]
        yield [place for place in left if begins in codes[place]]
        yield [place for place in left if heard[place].startswith(said, 1)]
        start = left
        for word in sought:
            begun = f" {word}"
            start = [place for place in start if begun in heard[place]]
        yield start
        yield left


def _folded(text: str) -> str:
    """Words in one case and width, parted by single spaces."""
    return " ".join(_width(text).casefold().split())


def _width(text: str) -> str:
    return text if text.isascii() else normalize("NFKC", text)


def _codes(thing: Thing) -> str:
    keys = [key for key in map(reference_key, thing.codes) if key]
    return f"{_EDGE}{_EDGE.join(keys)}{_EDGE}" if keys else ""

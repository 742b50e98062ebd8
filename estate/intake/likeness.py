"""How alike words and references are, and which rows and outlets belong together as a whole."""

from collections import defaultdict
from collections.abc import Collection, Iterable, Mapping
from functools import cached_property

from rapidfuzz import process
from rapidfuzz.distance import OSA

from estate.domain.references import reference_key

SHORTENED, SQUEEZED = 0.9, 0.85
"""Likeness of a word to the one that it begins (``treat``) or whose consonants it is (``trtmnt``)."""
INITIAL = 0.8
"""Likeness of a word to its first letter and a point, such as ``M.``."""
MOST_TOGETHER = 400
"""More rows that could all change places with each other are not assigned: a person has to look."""

_LOOK_ALIKES = str.maketrans("oil", "011")
_SMUDGED = str.maketrans("oilsbz", "011582")
_VOWELS = frozenset("aeiouy")


def look_alike_key(reference: str) -> str:
    """A reference's key with O as 0 and I and L as 1."""
    return reference_key(reference).translate(_LOOK_ALIKES)


def smudged_key(reference: str) -> str:
    """The same with S as 5, B as 8 and Z as 2 too: enough to suggest an outlet, not to take it."""
    return reference_key(reference).translate(_SMUDGED)


class WordLikeness:
    """Finds the words of a vocabulary that a written word may stand for.

    Args:
        vocabulary: words as the register has them.
        names: words that mean what they say; none of them is ever taken for another.
    """

    def __init__(self, vocabulary: Collection[str], names: Collection[str] = ()) -> None:
        self._vocabulary = frozenset(vocabulary)
        self._choices = sorted(self._vocabulary)
        self._names = frozenset(names)
        self._found: dict[str, Mapping[str, float]] = {}

    def likes(self, word: str) -> Mapping[str, float]:
        """The words that one may stand for, with likeness up to 1; itself alone if it is known."""
        if word not in self._found:
            self._found[word] = self._likes(word)
        return self._found[word]

    def _likes(self, word: str) -> Mapping[str, float]:
        if word in self._vocabulary:
            return {word: 1.0}
        if len(word) == 2 and word.endswith("."):
            return {choice: INITIAL for choice in self._choices if choice.startswith(word[0])}
        if word in self._names or len(word) < 3:
            return {}
        near = process.extract(word, self._choices, scorer=OSA.distance, score_cutoff=2, limit=None)
        found = {choice: _misspelt(word, choice, int(distance)) for choice, distance, _ in near}
        for choice in self._choices:
            found[choice] = max(found.get(choice, 0.0), _shortened(word, choice))
        return {choice: likeness for choice, likeness in found.items() if likeness > 0.0}


def one_slip_apart(one: str, other: str) -> bool:
    """Whether two words differ by one letter wrong, missing, too many or swapped with its neighbour."""
    return abs(len(one) - len(other)) < 2 and OSA.distance(one, other, score_cutoff=1) == 1


def _misspelt(word: str, choice: str, distance: int) -> float:
    """Likeness of a word with one slip, or two where it is long; 0 where too much differs."""
    short, long = sorted((len(word), len(choice)))
    swapped = len(word) == len(choice) and sorted(word) == sorted(choice)
    allowed = 2 if short >= 8 else 1 if short >= 5 or (short == 4 and swapped) else 0
    if distance > allowed or (word[0] != choice[0] and short < 7):
        return 0.0
    return 1.0 - distance / long


def _shortened(word: str, choice: str) -> float:
    if word[0] != choice[0] or len(choice) < len(word) + 2:
        return 0.0
    if choice.startswith(word):
        return SHORTENED
    if _VOWELS.intersection(word[1:]) or len(choice) > 3 * len(word):
        return 0.0
    letters = iter(choice)
    return SQUEEZED if all(letter in letters for letter in word) else 0.0


class NearReferences:
    """Finds references that are one slip away from a written one.

    Args:
        references: as the register has them.
    """

    def __init__(self, references: Iterable[str]) -> None:
        self._by_key = {reference_key(each): each for each in references}

    @cached_property
    def _with_a_letter_less(self) -> Mapping[str, list[str]]:
        found: dict[str, list[str]] = defaultdict(list)
        for key in self._by_key:
            for less in _with_a_letter_less(key):
                found[less].append(key)
        return found

    @cached_property
    def _smudged(self) -> Mapping[str, list[str]]:
        found: dict[str, list[str]] = defaultdict(list)
        for key in self._by_key:
            found[key.translate(_SMUDGED)].append(key)
        return found

    def one_slip_away(self, reference: str) -> tuple[str, ...]:
        """References with one letter or figure wrong, missing, too many or swapped, in order."""
        key = reference_key(reference)
        if not key:
            return ()
        near = set(self._with_a_letter_less.get(key, ()))
        for less in _with_a_letter_less(key):
            near.update(self._with_a_letter_less.get(less, ()))
            near.update((less,) if less in self._by_key else ())
        close = {each for each in near if OSA.distance(each, key) == 1}
        return tuple(sorted(self._by_key[each] for each in close))

    def smudged(self, reference: str) -> tuple[str, ...]:
        """References that differ by look-alike letters and figures alone, in order."""
        return tuple(sorted(self._by_key[each] for each in self._smudged.get(smudged_key(reference), ())))

    def nearest(self, reference: str, most: int = 5) -> tuple[str, ...]:
        """The references most like a written one, likeliest first; none where nothing is like it."""
        key = reference_key(reference)
        least = max(1, len(key) // 4)
        near = process.extract(key, self._by_key.keys(), scorer=OSA.distance, score_cutoff=least, limit=None)
        likeliest = sorted((int(distance), self._by_key[choice]) for choice, distance, _ in near)
        return tuple(reference for _, reference in likeliest[:most])


def _with_a_letter_less(key: str) -> set[str]:
    return {key[:place] + key[place + 1 :] for place in range(len(key))}


def assign(scores: Mapping[tuple[int, int], float]) -> dict[int, int]:
    """Give each row at most one outlet and each outlet at most one row, alike as a whole as can be.

    Rows that can't change places with each other are settled apart. The order of rows makes no difference
    but between equals.

    Args:
        scores: likeness, above 0, of each row with each outlet that it may stand for.

    Returns:
        The outlet of each row that was given one.
    """
    given: dict[int, int] = {}
    for rows, outlets in _apart(scores):
        if len(rows) <= MOST_TOGETHER:
            given |= _assigned(rows, outlets, scores)
    return given


def _assigned(rows: list[int], outlets: list[int], scores: Mapping[tuple[int, int], float]) -> dict[int, int]:
    from scipy.optimize import linear_sum_assignment  # noqa: PLC0415 - scipy loads only where places contend

    grid = [[scores.get((row, outlet), 0.0) for outlet in outlets] for row in rows]
    places = zip(*linear_sum_assignment(grid, maximize=True), strict=True)
    return {rows[row]: outlets[outlet] for row, outlet in places if grid[row][outlet] > 0.0}


def _apart(scores: Iterable[tuple[int, int]]) -> list[tuple[list[int], list[int]]]:
    """Rows and outlets parted into groups that have nothing to do with each other."""
    rows_of: dict[int, list[int]] = defaultdict(list)
    outlets_of: dict[int, list[int]] = defaultdict(list)
    for row, outlet in scores:
        rows_of[outlet].append(row)
        outlets_of[row].append(outlet)
    groups: list[tuple[list[int], list[int]]] = []
    done: set[int] = set()
    for start, first in outlets_of.items():
        if start in done:
            continue
        done.add(start)
        rows, outlets, ahead = [start], set(first), list(first)
        while ahead:
            for row in rows_of[ahead.pop()]:
                if row not in done:
                    done.add(row)
                    rows.append(row)
                    ahead += [each for each in outlets_of[row] if each not in outlets]
                    outlets.update(outlets_of[row])
        groups.append((sorted(rows), sorted(outlets)))
    return groups

"""Slips in the words for a place put right: a space in the wrong spot, a letter wrong, initials with points.

Only a whole phrase that the program knows is ever put in place of what was written, and only where no other
is as near; numbers and codes are never touched.
"""

import re
from collections import defaultdict
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from estate.intake.likeness import one_slip_apart

SHORTEST = 4
"""Letters of the shortest phrase that is taken for misspelt."""

_INITIALS = re.compile(r"\b(?:[^\W\d_]\.){2,}[^\W\d_]?\.?|\b[^\W\d_](?:\.\.?[^\W\d_]+)+\.?")
_TAIL = re.compile(r"^(.*?)[\s.]*(\d*)\s*$", re.DOTALL)
_MENDED = ("room", "outlet")


@dataclass(frozen=True)
class Slips:
    """The phrases of places by their letters alone.

    Attributes:
        phrases: what each stands for, by its letters without spaces.
    """

    phrases: Mapping[str, tuple[str, ...]]

    def mended(self, text: str, field: str) -> str:
        """A text with slips put right; itself where nothing is to be mended.

        Args:
            text: without case and accents.
            field: where it stands; only rooms and outlets are mended, for their words are few and known.
        """
        joined = _INITIALS.sub(lambda found: found[0].replace(".", "") + " ", text)
        if field not in _MENDED:
            return joined
        parted = _TAIL.match(joined)
        words, number = (parted[1], parted[2]) if parted else (joined, "")
        letters = "".join(each for each in words if each.isalpha())
        if any(map(str.isdigit, words)) or len(letters) < SHORTEST:
            return joined
        meant = self._meant(letters)
        return joined if meant is None else f"{meant} {number}".rstrip()

    def _meant(self, letters: str) -> str | None:
        """The one phrase that letters stand for; None where none does, or two that mean different things."""
        if letters in self.phrases:
            return " ".join(self.phrases[letters])
        near: dict[tuple[str, ...], None] = {}
        for phrase, meaning in self.phrases.items():
            if len(phrase) >= SHORTEST and one_slip_apart(letters, phrase):
                near[meaning] = None
        return " ".join(next(iter(near))) if len(near) == 1 else None


def slips_of(phrases: Iterable[tuple[str, tuple[str, ...]]]) -> Slips:
    """The slips of a vocabulary; letters that stand for two things stand for neither."""
    found: dict[str, set[tuple[str, ...]]] = defaultdict(set)
    for phrase, meaning in phrases:
        if phrase.replace(" ", "").isalpha():
            found[phrase.replace(" ", "")].add(meaning)
    return Slips({letters: meaning.pop() for letters, meaning in found.items() if len(meaning) == 1})

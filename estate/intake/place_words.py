"""What the words for a place come to: storeys, numbers with what they count, and plain words.

Spellings of one thing become one word (``WHB``, ``Waschbecken``: basin), so that a sheet's words can be
compared with the register's. Numbers and codes are kept apart from words: they have to be the same.
"""

import re
import tomllib
import unicodedata
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from functools import cache, cached_property, lru_cache
from pathlib import Path
from typing import Any

from estate.assets import resource
from estate.domain.phrases import phrase
from estate.domain.references import reference_key
from estate.errors import IntakeFault
from estate.intake.place_slips import Slips, slips_of

LONGEST_PHRASE = 5
"""Words of the longest phrase that stands for one thing."""

_PIECE = re.compile(r"\d+(?:\.\d+)+[a-z]?|[^\W_]+")
_JOINED = re.compile(r"\b([a-z]{1,2})[-.](?=\d)")
_INITIAL_OR_PIECE = re.compile(rf"\b[^\W\d_]\.(?=\s+[^\W\d_]{{2}})|{_PIECE.pattern}")
_NAMED = ("site", "building")
_LETTERED = re.compile(r"([^\W\d_]+)(\d.*)")
_NUMBERED = re.compile(r"(\d+)([^\W\d_]+)")
_ZEROS = re.compile(r"(?<!\d)0+(?=\d)")
_DOTTED = re.compile(r"\d+\.0\d")


@dataclass(frozen=True, slots=True)
class Number:
    """A number or code.

    Attributes:
        text: without leading zeros, such as ``3``, ``g3`` or ``4a``.
        of: the word it counts, such as ``ward``; empty where it stands alone.
        field: where it was said, such as ``room`` or ``outlet``.
    """

    text: str
    of: str
    field: str


@dataclass(frozen=True, slots=True)
class Told:
    """What some words for a place tell.

    Attributes:
        words: plain words in their order, each once.
        kinds: what water is drawn from, such as ``basin``.
        storeys: over ground, in storeys.
    """

    words: tuple[str, ...] = ()
    kinds: frozenset[str] = frozenset()
    storeys: frozenset[float] = frozenset()
    numbers: frozenset[Number] = frozenset()

    def __or__(self, other: "Told") -> "Told":
        return Told(
            tuple(dict.fromkeys((*self.words, *other.words))),
            self.kinds | other.kinds,
            self.storeys | other.storeys,
            self.numbers | other.numbers,
        )


NOTHING_TOLD = Told()


@dataclass(frozen=True)
class Vocabulary:
    """The writings of places.toml; a phrase is its folded words with single spaces."""

    phrases: Mapping[str, tuple[str, ...]]
    kinds: frozenset[str]
    fillers: frozenset[str]
    counting: frozenset[str]
    storeys: Mapping[str, float]
    before: frozenset[str]
    after: frozenset[str]
    ordinals: Mapping[str, int]
    suffixes: frozenset[str]
    alone: Mapping[str, float]

    @cached_property
    def slips(self) -> Slips:
        """The phrases by their letters, to put slips right."""
        return slips_of((said, meaning) for said, meaning in self.phrases.items())

    def known(self, word: str) -> bool:
        """Whether a single word is one of the writings."""
        return word in self.phrases or word in self.fillers or word in self.before


@cache
def vocabulary() -> Vocabulary:
    """The words for places that the program brings with it.

    Raises:
        IntakeFault: the file is damaged.
    """
    return read_vocabulary(resource("intake", "places.toml"))


def read_vocabulary(path: Path) -> Vocabulary:
    """Read a file of words for places.

    Raises:
        IntakeFault: it can't be read, a part is missing, or one writing stands for two things.
    """
    try:
        raw = tomllib.loads(path.read_text("utf-8"))
        return _vocabulary(raw)
    except (OSError, ValueError, KeyError) as fault:
        remedy = phrase("Install the program afresh.")
        raise IntakeFault("The words for places are damaged", f"{path.name}: {fault}", remedy) from fault


def _vocabulary(raw: Mapping[str, Any]) -> Vocabulary:
    storeys = raw["storeys"]
    return Vocabulary(
        phrases=dict(_phrases(raw)),
        kinds=frozenset(raw["kinds"]),
        fillers=frozenset(raw["fillers"]),
        counting=frozenset(raw["counting"]),
        storeys={said: float(level) for level, writings in raw["levels"].items() for said in writings},
        before=frozenset(storeys["before"]),
        after=frozenset(storeys["after"]),
        ordinals=storeys["ordinals"],
        suffixes=frozenset(storeys["suffixes"]),
        alone={said: float(level) for said, level in storeys["alone"].items()},
    )


def _phrases(raw: Mapping[str, Any]) -> Iterator[tuple[str, tuple[str, ...]]]:
    seen: dict[str, str] = {}
    for table in ("kinds", "expanded", "words"):
        for name, writings in raw[table].items():
            for said in (*writings, name):
                if seen.setdefault(said, name) != name:
                    raise ValueError(f"“{said}” stands for {seen[said]} and {name}")
                yield said, tuple(name.split())


def plain(text: str) -> str:
    """A text without case and accents."""
    parts = unicodedata.normalize("NFKD", text.casefold())
    return "".join(each for each in parts if not unicodedata.combining(each))


@lru_cache(maxsize=50_000)
def told(text: str, field: str = "") -> Told:
    """What a text tells of a place.

    Args:
        text: as written, such as ``Ward 3 bed 4 WHB``.
        field: where it stands: ``site``, ``building``, ``level``, ``room_number``, ``room``, ``outlet``.
    """
    if not text or text.isspace():
        return NOTHING_TOLD
    if field == "level":
        storey = storey_alone(text)
        return _Reader(text, field).told() if storey is None else Told(storeys=frozenset((storey,)))
    if field == "room_number" and (code := _room_number(text)):
        return Told(numbers=frozenset((Number(code, "", "room"),)))
    return _Reader(text, "room" if field == "room_number" else field).told()


def storey_alone(text: str) -> float | None:
    """The storey of a text that tells a storey and nothing else; None where it does not."""
    words = vocabulary()
    said = " ".join(_PIECE.findall(plain(text)))
    if said in words.alone:
        return words.alone[said]
    if (ordinal := _ordinal_alone(said, words)) is not None:
        return ordinal
    number = text.strip().removeprefix("+")
    if number.removeprefix("-").isdecimal() and len(number) < 4:
        return float(number)
    found = _Reader(text, "level").told()
    alone = len(found.storeys) == 1 and not (found.words or found.kinds or found.numbers)
    return next(iter(found.storeys)) if alone else None


def _ordinal_alone(said: str, words: Vocabulary) -> float | None:
    """The storey of an ordinal that stands for itself in a column of storeys, such as ``1st``."""
    if said in words.ordinals:
        return float(words.ordinals[said])
    numbered = _NUMBERED.fullmatch(said)
    return float(numbered[1]) if numbered and numbered[2] in words.suffixes else None


def _room_number(text: str) -> str:
    """A room's number without punctuation; empty where words stand beside it."""
    joined = text.strip()
    if not any(map(str.isdigit, joined)) or any(map(str.isspace, joined)):
        return ""
    letters = _LETTERED.fullmatch(plain(joined))
    if letters and (len(letters[1]) > 2 or vocabulary().known(letters[1])):
        return ""
    return number_text(reference_key(joined))


def number_text(text: str) -> str:
    """A number or code as numbers are compared: ``G03`` and ``g3`` alike, ``1.03`` as ``103``."""
    return _ZEROS.sub("", text.replace(".", "") if _DOTTED.fullmatch(text) else text)


class _Reader:
    """Reads one text from left to right."""

    def __init__(self, text: str, field: str) -> None:
        self._known = vocabulary()
        self._field = field
        mended = self._known.slips.mended(_JOINED.sub(r"\1", plain(text)), field)
        self._pieces = list(self._split(mended))
        self._at = 0
        self._last = ""
        self._words: dict[str, None] = {}
        self._kinds: set[str] = set()
        self._storeys: set[float] = set()
        self._numbers: set[Number] = set()

    def told(self) -> Told:
        """What the text tells."""
        while self._at < len(self._pieces):
            if not (self._storey() or self._phrase() or self._number()):
                self._word(self._pieces[self._at], 1)
        return Told(
            tuple(self._words), frozenset(self._kinds), frozenset(self._storeys), frozenset(self._numbers)
        )

    def _split(self, text: str) -> Iterator[str]:
        """The pieces of a text; letters and figures run together are parted where the letters are a word."""
        for piece in (_INITIAL_OR_PIECE if self._field in _NAMED else _PIECE).findall(text):
            lettered = _LETTERED.fullmatch(piece)
            if lettered and (len(lettered[1]) > 2 or self._known.known(lettered[1])):
                yield from lettered.groups()
            else:
                yield piece

    def _piece(self, ahead: int) -> str:
        place = self._at + ahead
        return self._pieces[place] if place < len(self._pieces) else ""

    def _storey(self) -> bool:
        for length in range(min(LONGEST_PHRASE, len(self._pieces) - self._at), 0, -1):
            said = " ".join(self._pieces[self._at : self._at + length])
            if said in self._known.storeys:
                return self._found_storey(self._known.storeys[said], length)
        first, second = self._piece(0), self._piece(1)
        if first in self._known.before and _short(second):
            return self._found_storey(float(second), 2)
        number = self._ordinal(first)
        if number is not None and second in self._known.after:
            return self._found_storey(float(number), 2)
        after = second in self._known.after and not _short(self._piece(2))
        return _short(first) and after and self._found_storey(float(first), 2)

    def _found_storey(self, storey: float, length: int) -> bool:
        self._storeys.add(storey)
        self._at += length
        self._last = ""
        return True

    def _ordinal(self, piece: str) -> int | None:
        if piece in self._known.ordinals:
            return self._known.ordinals[piece]
        numbered = _NUMBERED.fullmatch(piece)
        return int(numbered[1]) if numbered and numbered[2] in self._known.suffixes else None

    def _phrase(self) -> bool:
        for length in range(min(LONGEST_PHRASE, len(self._pieces) - self._at), 0, -1):
            said = " ".join(self._pieces[self._at : self._at + length])
            if said in self._known.phrases:
                for word in self._known.phrases[said][:-1]:
                    self._keep(word)
                self._word(self._known.phrases[said][-1], length)
                return True
            if said in self._known.fillers or said in self._known.before:
                return self._filler(length)
        return False

    def _filler(self, length: int) -> bool:
        """Passes over a filler; a letter behind it, as in ``Room B``, is a number of its own."""
        self._at += length
        if self._is_letter(self._piece(0)) and length == 1 and len(self._pieces[self._at - 1]) > 1:
            self._add(self._piece(0), self._last)
            self._at += 1
        return True

    def _word(self, word: str, length: int) -> None:
        self._keep(word)
        self._at += length
        self._last = word
        if self._is_letter(self._piece(0)):
            self._add(self._piece(0), word)
            self._at += 1

    def _keep(self, word: str) -> None:
        if word in self._known.kinds:
            self._kinds.add(word)
        elif word not in self._known.counting:
            self._words.setdefault(word)

    def _number(self) -> bool:
        piece = self._piece(0)
        if not any(map(str.isdigit, piece)):
            return False
        self._add(piece, "" if piece[0].isalpha() else self._last)
        self._at += 1
        return True

    def _add(self, text: str, of: str) -> None:
        self._numbers.add(Number(number_text(text), of, self._field))
        self._last = ""

    @staticmethod
    def _is_letter(piece: str) -> bool:
        return len(piece) == 1 and piece.isalpha()


def _short(piece: str) -> bool:
    return piece.isdecimal() and len(piece) < 3

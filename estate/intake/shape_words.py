"""The words by which the shape of a sheet is told, read strictly."""

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path

from estate.assets import resource
from estate.domain.phrases import phrase
from estate.errors import IntakeFault
from estate.intake.words import fold

LISTS = ("now", "plain_sheets")
PLACES = ("site", "building", "level")


@dataclass(frozen=True, slots=True)
class ShapeWords:
    """Words, folded for comparison; what each list is for stands in the file.

    Attributes:
        places: word to the place that it names, such as ``building``.
    """

    now: frozenset[str]
    plain_sheets: frozenset[str]
    places: Mapping[str, str]


@lru_cache(maxsize=4)
def shape_words(path: Path | None = None) -> ShapeWords:
    """Read the words file.

    Args:
        path: another file than the program's own, for tests.

    Raises:
        IntakeFault: it can't be read, or a list is missing, unknown or no list of texts.
    """
    where = path or resource("intake", "shapes.toml")
    try:
        raw = tomllib.loads(where.read_text(encoding="utf-8"))
    except (OSError, ValueError) as fault:
        raise _fault(where, str(fault)) from fault
    places = raw.pop("places", None)
    if not isinstance(places, dict) or set(places) != set(PLACES) or set(raw) != set(LISTS):
        raise _fault(where, phrase("a list is missing or unknown"))
    lists = {name: _folded(where, body) for name, body in raw.items()}
    by_word = {word: name for name, body in places.items() for word in _folded(where, body)}
    return ShapeWords(**lists, places=by_word)


def _folded(where: Path, body: object) -> frozenset[str]:
    if not isinstance(body, list) or not all(isinstance(each, str) for each in body):
        raise _fault(where, phrase("a list holds something that is no text"))
    return frozenset(map(fold, body))


def _fault(where: Path, wrong: str) -> IntakeFault:
    remedy = phrase("Put the words file back as it was delivered.")
    return IntakeFault(
        "The words for reading sheets are damaged",
        phrase("{name}: {wrong}.", name=where.name, wrong=wrong),
        remedy,
    )

"""What a heading means by its parts: which water, what of it, when, and with which supply off."""

import re
from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass
from functools import lru_cache

from estate.intake.parts_file import Parts, Rule, parts_of_headings
from estate.intake.words import fold

MOST_WORDS = 14
"""A longer heading is a sentence; it is not taken apart."""

_LONGEST_PHRASE = 4
_WAITED = re.compile(
    r"\b(?:(\d{1,3})|one|a|eine[r]?|une)\s*(s|secs?|seconds?|sek|mins?|minutes?|minuten?)\b", re.IGNORECASE
)
_MILLILITRES = re.compile(r"(?<![\w/])(?:mls?|cc|cm3)(?![\w/])", re.IGNORECASE)
_BLOCKER = frozenset({"blocker"})
_HALF_MINUTE_S, _MINUTE_S = 30, 60


@dataclass(frozen=True, slots=True)
class Composed:
    """What the parts of a heading say.

    Attributes:
        field: name of the field meant; empty where the parts do not tell one.
        suggested: name of the field likely meant, where a word is not known.
        unit: name of a unit that the parts tell together, such as ml over a minute.
    """

    field: str = ""
    suggested: str = ""
    unit: str = ""


NOTHING = Composed()


def blocked(heading: str) -> bool:
    """Whether a word of a heading says that it holds no reading of this visit."""
    return not parts_of_headings().blockers.isdisjoint(fold(heading).split())


def is_other_day(heading: str) -> bool:
    """Whether a word of a heading says that its days are not those of the visit."""
    return not parts_of_headings().other_days.isdisjoint(fold(heading).split())


@lru_cache(maxsize=4096)
def composed(text: str, dimensions: frozenset[str], holds: frozenset[tuple[str, str]]) -> Composed:
    """Compose the meaning of a heading from its words.

    Args:
        text: the heading without its unit.
        dimensions: what the heading's unit measures; none where it names none.
        holds: name and dimension of each field there is; the dimension is empty for what is no number.
    """
    parts = parts_of_headings()
    rest, waited, unit = _without_waiting(text, bool(dimensions))
    if unit:
        dimensions = frozenset({"residual"})
    words = fold(rest).split()
    if not words or len(words) > MOST_WORDS:
        return NOTHING
    played = list(_said(words, parts))
    if _BLOCKER in played:
        return NOTHING
    said = [*played, *([frozenset({"waited"})] if waited and not unit else [])]
    if "?" in text:
        said.append(frozenset({"answer", "filler"}))
    known = [each for each in said if each]
    names = _meant(known, parts.rules, dimensions, dict(holds))
    if len(names) != 1:
        return NOTHING
    if len(known) < len(said):
        return Composed("", names[0], unit)
    return Composed(names[0], "", unit)


def _without_waiting(text: str, has_unit: bool) -> tuple[str, bool, str]:
    """A heading without the seconds waited, whether it tells some, and the unit of millilitres over them."""
    found = _WAITED.search(text)
    if found is None or text[: found.start()].rstrip().endswith("/"):
        return text, False, ""
    rest = text[: found.start()] + " " + text[found.end() :]
    seconds = int(found[1] or 1) * (1 if found[2].casefold().startswith("s") else 60)
    units = {_HALF_MINUTE_S: "ml_half_min", _MINUTE_S: "ml_min"}
    if not has_unit and _MILLILITRES.search(rest) and seconds in units:
        return _MILLILITRES.sub(" ", rest), True, units[seconds]
    return rest, True, ""


def _said(words: list[str], parts: Parts) -> Iterator[frozenset[str]]:
    """The parts that each word plays, longest phrase first; none for a word that is not known."""
    place = 0
    while place < len(words):
        for length in range(min(_LONGEST_PHRASE, len(words) - place), 0, -1):
            roles = parts.roles.get(" ".join(words[place : place + length]))
            if roles:
                break
        alone = length == 1 and words[place] in parts.blockers
        yield _BLOCKER if alone else roles or frozenset()
        place += length


def _meant(
    said: Collection[frozenset[str]],
    rules: Collection[Rule],
    dimensions: frozenset[str],
    holds: Mapping[str, str],
) -> list[str]:
    there = frozenset[str]().union(*said)
    found: dict[str, None] = {}
    for rule in rules:
        if rule.field not in holds or not _fits(rule, dimensions, holds[rule.field], there):
            continue
        accounted = all(not each.isdisjoint(rule.parts) or "filler" in each for each in said)
        if accounted and all(not there.isdisjoint(group) for group in rule.needs):
            found[rule.field] = None
    return list(found)


def _fits(rule: Rule, dimensions: frozenset[str], dimension: str, there: frozenset[str]) -> bool:
    """Whether a heading's unit, or its words where it names none, say what a rule's field measures."""
    if dimensions:
        return dimension in dimensions
    return not dimension or not there.isdisjoint(rule.or_says)

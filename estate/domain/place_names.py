"""Names of places as a person may give them: what a place needs, and which storey lies above which."""

from collections.abc import Mapping
from types import MappingProxyType
from typing import Final

from estate.domain.browsing import PlaceKind
from estate.domain.editing import PlaceNames
from estate.domain.phrases import phrase
from estate.domain.references import reference_key
from estate.errors import EntryFault

ABOVE: Final[Mapping[PlaceKind, PlaceKind | None]] = MappingProxyType(
    {
        PlaceKind.SITE: None,
        PlaceKind.BUILDING: PlaceKind.SITE,
        PlaceKind.LEVEL: PlaceKind.BUILDING,
        PlaceKind.ROOM: PlaceKind.LEVEL,
        PlaceKind.OUTLET: PlaceKind.ROOM,
    }
)
"""The storey that each storey lies in."""

MOST_CHARACTERS: Final = 120


def tidied(kind: PlaceKind, names: PlaceNames) -> PlaceNames:
    """Names as they are kept: without spaces around them, one space between words.

    Raises:
        EntryFault: nothing tells the place from others, a name is too long, or another place than a room
            has a number.
    """
    name, number = (" ".join(each.split()) for each in (names.name, names.number))
    if number and kind is not PlaceKind.ROOM:
        raise EntryFault(
            "Only a room has a number",
            phrase('"{number}" for a {kind}.', number=number, kind=phrase(kind.value)),
            "Leave it empty.",
        )
    if not reference_key(name) and not reference_key(number):
        what = phrase("a number or a name") if kind is PlaceKind.ROOM else phrase("a name")
        detail = phrase('"{number}" has no letter or figure.', number=number or name)
        raise EntryFault(
            phrase("A {kind} needs {what}", kind=phrase(kind.value), what=what),
            detail,
            "Give letters or figures.",
        )
    for each in (name, number):
        must_fit(each)
    return PlaceNames(name, number)


def must_fit(words: str) -> None:
    """Refuse words that no list could show.

    Raises:
        EntryFault: they are longer than `MOST_CHARACTERS`.
    """
    if len(words) > MOST_CHARACTERS:
        detail = phrase(
            '"{words}…" has {count} characters; at most {most_characters} are kept.',
            words=words[:40],
            count=len(words),
            most_characters=MOST_CHARACTERS,
        )
        raise EntryFault("That is too long", detail, "Shorten it.")


def room_words(names: PlaceNames) -> str:
    """Number and name in one phrase."""
    return f"{names.number} {names.name}".strip()

"""What the trail tells of one change, and what may be looked for in it."""

from dataclasses import dataclass
from datetime import date, datetime
from typing import Final

_NOUNS: Final = {
    "alias": "words that stand for an outlet",
    "attempt_void": "void of an attempt",
    "batch_question": "question of a batch",
    "batch_row": "note of what a batch wrote",
    "batch_undo": "undoing of a batch",
    "group_fit": "fitted group of valves",
    "ledger_entry": "the ledger",
    "person_key": "person's key",
    "position": "valve position",
    "register": "the register",
    "rule_override": "site's own value",
    "visit_void": "void of a visit",
}


def noun_words(noun: str) -> str:
    """A table in words, for one of its rows."""
    return _NOUNS.get(noun, noun.replace("_", " "))


@dataclass(frozen=True, slots=True)
class TrailChange:
    """One value that an entry tells of; None where it stood empty, or where the entry does not tell it."""

    name: str
    before: str | None
    after: str | None


@dataclass(frozen=True, slots=True)
class TrailLine:
    """One entry of the trail.

    Attributes:
        at: the moment, UTC.
        local_at: the moment by the writer's clock on the wall; None in entries older than the chain.
        batch_id: the batch that wrote it.
        what: what was done.
        noun, row_id: the table and its row; no row where the entry tells of several.
        place: the row in words, with its outlet and day where they are known.
        action: what was done to the row, see docs/trust.md.
        why: the reason, where one was given.
        digest: hex; empty in entries older than the chain.
    """

    id: int
    at: datetime
    local_at: datetime | None
    who: str
    program: str
    batch_id: int | None
    what: str
    noun: str
    row_id: int | None
    place: str
    action: str
    changes: tuple[TrailChange, ...]
    why: str
    digest: str


@dataclass(frozen=True, slots=True)
class TrailWanted:
    """What of the trail is wanted; everything where nothing is said.

    Attributes:
        who: the person whose entries are wanted.
        text: words that must all stand in an entry, or in the reference of the outlet that it is about.
        first, last: days by the writer's clock, both included.
        about: table and row: what happened to a visit or an outlet, and to what hangs on it.
    """

    who: str = ""
    text: str = ""
    first: date | None = None
    last: date | None = None
    about: tuple[str, int] | None = None


@dataclass(frozen=True, slots=True)
class TrailPage:
    """Some entries, newest first.

    Attributes:
        below: the entry to go on below; None where no older one is wanted.
    """

    lines: tuple[TrailLine, ...]
    below: int | None

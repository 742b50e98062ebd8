"""Browse the trail: who changed what and when, newest first, a page at a time."""

from dataclasses import replace
from typing import Final

from estate.domain.trail import TrailLine, TrailPage, TrailWanted
from estate.operations.column_words import column_words
from estate.operations.register import Register
from estate.store import trail

AT_ONCE: Final = 200


def trail_page(
    register: Register, wanted: TrailWanted, below: int | None = None, *, most: int = AT_ONCE
) -> TrailPage:
    """Entries of the trail, newest first.

    Args:
        register: the open register.
        wanted: what is looked for.
        below: only entries older than this one; None begins with the newest.
        most: how many at the most.

    Raises:
        RegisterFault: the register is in use, damaged or out of reach.
    """
    with register.database.reading() as session:
        found = trail.page(session, wanted, below, most)
    return replace(found, lines=tuple(_in_words(each) for each in found.lines))


def _in_words(line: TrailLine) -> TrailLine:
    changes = tuple(replace(each, name=column_words(each.name)) for each in line.changes)
    return replace(line, changes=changes)


def trail_count(register: Register, wanted: TrailWanted) -> int:
    """How many entries are wanted; with words to look for, every entry is read."""
    with register.database.reading() as session:
        return trail.how_many(session, wanted)


def trail_people(register: Register) -> tuple[str, ...]:
    """Everybody who wrote an entry."""
    with register.database.reading() as session:
        return trail.people(session)

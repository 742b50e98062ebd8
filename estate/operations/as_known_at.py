"""The register as it was known at a past moment, for every page and report."""

from dataclasses import replace
from datetime import UTC, datetime

from estate.domain.dates import moment_words
from estate.domain.phrases import phrase
from estate.domain.progress import Progress, silent
from estate.errors import EntryFault
from estate.operations.register import Register
from estate.store.unwinding import as_it_stood


def as_known_at(
    register: Register, moment: datetime, progress: Progress = silent, *, now: datetime | None = None
) -> Register:
    """A register that holds exactly what was known at a moment, and can only be read.

    It is rebuilt in memory from the ledger; close it when it is done with.

    Args:
        register: the open register; nothing is written to it.
        moment: with its time zone; an entry made at it is known.
        progress: told how far the work is.
        now: the moment after which nothing can be known yet; None does not ask.

    Raises:
        EntryFault: the moment is still to come.
        RegisterFault: the register or its trail began later.
        Cancelled: the person stopped it.
    """
    if now is not None and moment > now:
        detail = phrase(
            "Asked for {moment}; it is {now}.",
            moment=moment_words(moment),
            now=moment_words(now),
        )
        raise EntryFault("That moment is still to come", detail, "Give a past one.")
    database = as_it_stood(register.database, moment, progress)
    return replace(register, database=database, known_at=moment.astimezone(UTC))

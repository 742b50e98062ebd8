"""Move a register to a server, or back into a file: every row, the ledger and all numbers whole."""

from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from estate.domain.phrases import phrase
from estate.domain.progress import Progress, silent
from estate.errors import RegisterFault
from estate.operations.register import Register
from estate.store import moving, upgrade
from estate.store.database import Database, normal_url
from estate.store.moving import TableCount
from estate.store.transaction import writing

__all__ = ["Moved", "TableCount", "move"]


@dataclass(frozen=True, slots=True)
class Moved:
    """What was moved.

    Attributes:
        where: the new place, as people may see it.
        tables: rows and digests, the same in both places.
    """

    where: str
    tables: tuple[TableCount, ...]

    @property
    def rows(self) -> int:
        """Rows of all tables."""
        return sum(each.rows for each in self.tables)


def move(
    register: Register, to_url: str | Path, *, who: str, at: datetime, progress: Progress = silent
) -> Moved:
    """Copy a register whole into an empty database or a new file; the old one stays as it is.

    Counts and digests of all tables are compared before the copy is kept. Its ledger then tells of the move.

    Args:
        register: the register to move; nobody should write to it meanwhile.
        to_url: a file that does not exist yet, or an empty PostgreSQL database.
        who: who moves it.
        at: now, with its time zone.
        progress: told which table is being copied.

    Raises:
        RegisterFault: something is there already, a place can't be read or written, or the copy differs;
            then nothing is left behind.
        Cancelled: the person stopped it; nothing is left behind.
    """
    with register.database.reading() as source, upgrade.made_empty(normal_url(to_url)) as database:
        tables = moving.every_table()
        names = [each.name for each in tables]
        with database.changing() as target:
            moving.copy_rows(
                source, target, lambda name: progress(names.index(name), len(names), f"Copying {name}")
            )
            there = _compared(moving.counts(source), moving.counts(target), database)
        with writing(database, who, f"moved the register here from {register.database.shown}", at) as tx:
            moving.note_move(tx)
        progress(len(names), len(names), "Moved")
        return Moved(database.shown, there)


def _compared(
    here: tuple[TableCount, ...], there: tuple[TableCount, ...], database: Database
) -> tuple[TableCount, ...]:
    differing = [one.table for one, other in zip(here, there, strict=True) if one != other]
    if differing:
        detail = phrase(
            "{shown}: other rows in {differing}.", shown=database.shown, differing=", ".join(differing)
        )
        remedy = phrase("Nothing was kept there. Verify the register, and try again.")
        raise RegisterFault("The copy differs", detail, remedy)
    return there

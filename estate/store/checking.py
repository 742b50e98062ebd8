"""What else has to hold: the file itself, its definitions, and the guards of evidence."""

from collections.abc import Iterator

from sqlalchemy import text
from sqlalchemy.exc import DBAPIError
from sqlalchemy.orm import Session

from estate.domain.trust import KnownHead, Misfit
from estate.store import misfits
from estate.store.schema import EVIDENCE


def until_unreadable(found: Iterator[Misfit]) -> Iterator[Misfit]:
    """Misfits as they are found; where the database can't be read on, that is the last one."""
    try:
        yield from found
    except DBAPIError as error:
        means = "The file is damaged or was changed byte by byte; go on from the latest backup."
        yield misfits.register_misfit(f"it can't be read on ({error.orig})", means, "the register's file")


def checkpoints(session: Session) -> tuple[KnownHead, ...]:
    """The checkpoints that the register itself keeps."""
    rows = session.execute(text("SELECT id, last_entry_id, digest FROM checkpoint ORDER BY id"))
    return tuple(KnownHead(row[1], row[2], f"checkpoint {row[0]}") for row in rows)


def file_misfits(session: Session, quick: bool = False) -> Iterator[Misfit]:
    """What SQLite itself says of the file; nothing of a server, which looks after its own."""
    if session.connection().dialect.name != "sqlite":
        return
    check = "quick_check" if quick else "integrity_check"
    said = session.execute(text(f"PRAGMA {check}")).scalars().all()
    if said != ["ok"]:
        means = "The file is damaged or was changed byte by byte; go on from the latest backup."
        yield misfits.register_misfit("; ".join(str(each) for each in said[:3]), means, "the register's file")
    if not quick and session.execute(text("PRAGMA foreign_key_check")).first() is not None:
        yield misfits.register_misfit("rows point to rows that are not there", misfits.PAST_PROGRAM)


def guard_misfits(session: Session) -> Iterator[Misfit]:
    """Tables of evidence whose guards are not there."""
    sqlite = session.connection().dialect.name == "sqlite"
    query = (
        "SELECT tbl_name, name FROM sqlite_master WHERE type = 'trigger'"
        if sqlite
        else "SELECT c.relname, t.tgname FROM pg_trigger t JOIN pg_class c ON c.oid = t.tgrelid "
        "JOIN pg_namespace n ON n.oid = c.relnamespace "
        "WHERE n.nspname = current_schema() AND NOT t.tgisinternal AND t.tgenabled <> 'D'"
    )
    there = {tuple(row) for row in session.execute(text(query))}
    kinds = ("no_update", "no_delete", "no_replace") if sqlite else ("no_change",)
    for noun in sorted(EVIDENCE):
        if any((noun, f"{noun}_{kind}") not in there for kind in kinds):
            what = "a trigger that keeps its rows from being changed is not there"
            yield misfits.register_misfit(what, misfits.PAST_PROGRAM, f"table {noun}")


def revision_misfits(session: Session, revision: str) -> Iterator[Misfit]:
    """Where the register does not say that it is of this revision, once."""
    there = session.execute(text("SELECT version_num FROM alembic_version")).scalars().all()
    if there != [revision]:
        what = f"the revision is {', '.join(map(str, there)) or 'missing'}"
        yield misfits.register_misfit(what, misfits.PAST_PROGRAM, "table alembic_version")


def schema_misfits(session: Session, fresh: dict[str, str | None]) -> Iterator[Misfit]:
    """Tables, indexes and triggers of a file that are others than the program makes.

    Args:
        fresh: the definitions of a new register, by name.
    """
    rows = session.execute(text("SELECT name, sql FROM sqlite_master WHERE name NOT LIKE 'sqlite_stat%'"))
    found = {str(row[0]): row[1] for row in rows}
    for name in sorted(fresh.keys() | found.keys()):
        if fresh.get(name) != found.get(name) or (name in fresh) != (name in found):
            yield misfits.register_misfit(
                "it is defined otherwise", misfits.PAST_PROGRAM, f"schema of {name}"
            )

"""Remember how a sender's sheets lie, and hand a layout on as a text file."""

from dataclasses import replace
from datetime import datetime
from pathlib import Path

from estate.domain.conflicts import Seen
from estate.domain.layouts import Layout
from estate.domain.phrases import phrase
from estate.errors import IntakeFault, ReportFault
from estate.intake.remembered import layout_from_text, layout_text
from estate.operations.register import Register
from estate.store import layouts as store_layouts
from estate.store import row_versions
from estate.store.retrying import retried
from estate.store.transaction import writing


def layouts(register: Register) -> tuple[Layout, ...]:
    """Every remembered layout, in the order of the alphabet."""
    with register.database.reading() as session:
        return store_layouts.layouts(session)


def layout(register: Register, name: str) -> Layout:
    """The remembered layout of a name, however it is written.

    Raises:
        NotFoundFault: there is none.
    """
    with register.database.reading() as session:
        return store_layouts.layout(session, name)


@retried
def keep_layout(
    register: Register, kept: Layout, *, who: str, at: datetime, seen: Seen | None = None
) -> None:
    """Remember a layout; one of the same name is replaced, and the ledger tells both.

    Args:
        register: the open register.
        kept: the layout.
        who: who keeps it.
        at: now, UTC.
        seen: the layout of that name as it was read; None asks nothing.

    Raises:
        EntryFault: it has no name or no column.
        ConflictFault: somebody else changed it meanwhile.
    """
    with writing(register.database, who, f"remembered the layout {kept.name}", at) as tx:
        row_versions.must_be_as_seen(tx, seen)
        store_layouts.keep_layout(tx, kept)


@retried
def forget_layout(register: Register, name: str, *, who: str, at: datetime) -> None:
    """No longer remember a layout; batches that were read by it still name it.

    Raises:
        NotFoundFault: there is none of that name.
    """
    with writing(register.database, who, f"forgot the layout {name}", at) as tx:
        store_layouts.forget_layout(tx, name)


def write_layout(register: Register, name: str, path: Path) -> None:
    """Write a remembered layout to a TOML file, for another register.

    Raises:
        NotFoundFault: there is none of that name.
        ReportFault: the file can't be written.
    """
    text = layout_text(layout(register, name))
    try:
        path.write_text(text, encoding="utf-8")
    except OSError as error:
        remedy = phrase("Choose a folder that you may write in.")
        raise ReportFault("The layout can't be written", f"{path}: {error.strerror}.", remedy) from error


def take_layout(register: Register, path: Path, name: str = "", *, who: str, at: datetime) -> Layout:
    """Remember a layout from a file that `write_layout` wrote.

    Args:
        register: the open register.
        path: the file.
        name: what to call it; empty keeps its own name.
        who: who takes it.
        at: now, UTC.

    Raises:
        IntakeFault: the file can't be read or holds no layout.
        EntryFault: it has no name or no column.
    """
    try:
        text = path.read_text(encoding="utf-8")
    except (OSError, UnicodeDecodeError) as error:
        why = error.strerror if isinstance(error, OSError) else phrase("it is no text")
        remedy = phrase("Choose a file that this program wrote for a layout.")
        raise IntakeFault(
            "The layout can't be read", phrase("{path}: {why}.", path=path, why=why), remedy
        ) from error
    read = layout_from_text(text)
    kept = replace(read, name=name or read.name)
    keep_layout(register, kept, who=who, at=at)
    return kept

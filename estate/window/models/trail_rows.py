"""Columns of the trail and of one entry's values; what is said of an entry."""

from datetime import datetime

from estate.domain.trail import TrailChange, TrailLine
from estate.window import words
from estate.window.models import cells
from estate.window.models.cells import Cell, Column
from estate.window.models.table import TableModel

_EMPTY = "empty"
_LONG = 60


def _utc(line: TrailLine) -> Cell:
    return Cell(f"{words.day(line.at.date())} {line.at:%H:%M:%S}", line.at.timestamp(), to_right=True)


def local_words(at: datetime | None) -> str:
    """A moment by the clock on the wall where it was written, with its offset."""
    return words.NOTHING if at is None else f"{words.day(at.date())} {at:%H:%M} {at:%z}"


def summary(line: TrailLine) -> str:
    """What an entry did to its row, in a few words."""
    if line.action != "amended":
        return action_words(line)
    told = [f"{each.name} {_short(each.before)} → {_short(each.after)}" for each in line.changes]
    return words.listed(told, 2)


def action_words(line: TrailLine) -> str:
    """What was done to the row, or to how many rows at once."""
    rows = next((each.after for each in line.changes if each.name == "rows"), None)
    if line.row_id is not None or rows is None:
        return line.action
    return "added" if rows == "1" else f"{line.action}: {int(rows):,} rows"


def _short(value: str | None) -> str:
    if value is None or not value:
        return _EMPTY
    return f"{value[:_LONG]}…" if len(value) > _LONG else value


TRAIL_COLUMNS: tuple[Column[TrailLine], ...] = (
    Column("Entry", lambda line: Cell(f"{line.id:,}", float(line.id), to_right=True), "400,000 "),
    Column("UTC", _utc, "25 Nov 2026 09:30:00", tip="The moment, UTC"),
    Column("Who", lambda line: cells.text(line.who), "T. A. Person, estates"),
    Column("What", lambda line: cells.text(line.what), "brought in history.csv"),
    Column("Row", lambda line: cells.text(line.place), "visit 3,053: MM/G/G08/WHB1, 3 Jul 2026"),
    Column("Change", lambda line: cells.text(summary(line)), "name House → Main house", stretches=True),
    Column("Why", lambda line: cells.text(line.why), "Tested the basin next to it"),
    Column("Batch", lambda line: cells.figure(line.batch_id, 0, tip="The batch that wrote it"), "1,000 "),
    Column(
        "Local time",
        lambda line: cells.text(local_words(line.local_at)),
        "25 Nov 2026 09:30 +0100",
        tip="The moment by the clock on the wall where it was written, with its offset",
    ),
    Column("Program", lambda line: cells.text(line.program), "estate-register 0.1.0"),
)


def trail_model() -> TableModel[TrailLine]:
    """Entries of the trail, newest first."""
    return TableModel(TRAIL_COLUMNS, lambda line: line.id)


def _value(value: str | None) -> Cell:
    return cells.text(_short(value) if value is not None else "", value or "")


CHANGE_COLUMNS: tuple[Column[tuple[int, TrailChange]], ...] = (
    Column("What", lambda row: cells.text(row[1].name), "cold isolated residual (ml/min)"),
    Column("Before", lambda row: _value(row[1].before), "the first value of it", stretches=True),
    Column("After", lambda row: _value(row[1].after), "the second value of it", stretches=True),
)


def changes_model() -> TableModel[tuple[int, TrailChange]]:
    """Values of one entry, numbered: before and after."""
    return TableModel(CHANGE_COLUMNS, lambda row: row[0])


def entry_words(line: TrailLine) -> str:
    """Who, when, with what and why, and the digest: a line each."""
    batch = f", batch {line.batch_id}" if line.batch_id is not None else ""
    lines = [
        f"{words.sentence(line.what)}. {words.sentence(action_words(line))}: {line.place}.",
        f"{line.who or 'Nobody named'}, {words.day(line.at.date())} {line.at:%H:%M:%S} UTC"
        f" (there {local_words(line.local_at)}), with {line.program or 'an earlier program'}{batch}.",
        f"Why: {line.why}" if line.why else "",
        f"Digest {line.digest}" if line.digest else "Older than the chain: no digest covers it.",
    ]
    return "\n".join(each for each in lines if each)

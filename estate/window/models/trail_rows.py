"""Columns of the trail and of one entry's values; what is said of an entry."""

import re
from datetime import UTC, date, datetime
from typing import Final

from estate.domain.trail import TrailChange, TrailLine
from estate.window import words
from estate.window.models import cells
from estate.window.models.cells import Cell, Column
from estate.window.models.table import TableModel
from estate.window.translating import said, tr

_EMPTY = said("empty")
_LONG, _LONG_ALONE = 60, 400
_DAY: Final = re.compile(r"[0-9]{4}-[01][0-9]-[0-3][0-9]")
_MOMENT: Final = re.compile(_DAY.pattern + r"T[0-9:.]+\+[0-9:]{5}")


def _utc(line: TrailLine) -> Cell:
    return Cell(_seconds(line.at), line.at.timestamp(), to_right=True)


def local_words(at: datetime | None) -> str:
    """A moment by the clock on the wall where it was written, with its offset."""
    return words.NOTHING if at is None else f"{words.day(at.date())} {at:%H:%M} {at:%z}"


def summary(line: TrailLine) -> str:
    """What an entry did to its row, in a few words."""
    if line.action != "amended":
        return action_words(line)
    told = [f"{each.name} {_short(read(each.before))} → {_short(read(each.after))}" for each in line.changes]
    return words.listed(told, 2)


def action_words(line: TrailLine) -> str:
    """What was done to the row, or to how many rows at once."""
    rows = next((each.after for each in line.changes if each.name == "rows"), None)
    if line.row_id is not None or rows is None:
        return line.action
    return tr("added") if rows == "1" else tr("{action}: {rows:,} rows", action=line.action, rows=int(rows))


def read(value: str | None) -> str | None:
    """A value as people read it: days and moments, which are kept as ISO 8601, as everywhere else."""
    try:
        if value is not None and _DAY.fullmatch(value):
            return words.day(date.fromisoformat(value))
        if value is not None and _MOMENT.fullmatch(value):
            return tr("{moment} UTC", moment=_seconds(datetime.fromisoformat(value).astimezone(UTC)))
    except ValueError:
        return value  # no day that there is
    return value


def _seconds(at: datetime) -> str:
    return f"{words.day(at.date())} {at:%H:%M:%S}"


def _short(value: str | None, most: int = _LONG) -> str:
    if value is None or not value:
        return tr(_EMPTY)
    return f"{value[:most]}…" if len(value) > most else value


TRAIL_COLUMNS: tuple[Column[TrailLine], ...] = (
    Column(
        said("Entry"),
        lambda line: Cell(f"{line.id:,}", float(line.id), to_right=True),
        "400,000 ",
        id="entry",
    ),
    Column("UTC", _utc, "25 Nov 2026 09:30:00", tip=said("The moment, UTC"), id="utc"),
    Column(said("Who"), lambda line: cells.text(line.who), "T. A. Person, estates", groups=True, id="who"),
    Column(said("What"), lambda line: cells.text(line.what), "brought in history.csv", id="what"),
    Column(
        said("Row"), lambda line: cells.text(line.place), "visit 3,053: MM/G/G08/WHB1, 3 Jul 2026", id="row"
    ),
    Column(
        said("Change"),
        lambda line: cells.text(summary(line)),
        "name House → Main house",
        stretches=True,
        id="change",
    ),
    Column(said("Why"), lambda line: cells.text(line.why), "Tested the basin next to it", id="why"),
    Column(
        said("Batch"),
        lambda line: cells.figure(line.batch_id, 0, tip=tr("The batch that wrote it")),
        "1,000 ",
        groups=True,
        id="batch",
    ),
    Column(
        said("Local time"),
        lambda line: cells.text(local_words(line.local_at)),
        "25 Nov 2026 09:30 +0100",
        tip=said("The moment by the clock on the wall where it was written, with its offset"),
        id="local-time",
    ),
    Column(said("Program"), lambda line: cells.text(line.program), "estate-register 0.1.0", id="program"),
)


def trail_model() -> TableModel[TrailLine]:
    """Entries of the trail, newest first."""
    return TableModel(TRAIL_COLUMNS, lambda line: line.id)


def _value(value: str | None) -> Cell:
    return cells.text(_short(read(value), _LONG_ALONE) if value is not None else "", value or "")


CHANGE_COLUMNS: tuple[Column[tuple[int, TrailChange]], ...] = (
    Column(said("What"), lambda row: cells.text(row[1].name), "cold isolated residual (ml/min)", id="what"),
    Column(
        said("Before"),
        lambda row: _value(row[1].before),
        "the first value of it",
        stretches=True,
        id="before",
    ),
    Column(
        said("After"), lambda row: _value(row[1].after), "the second value of it", stretches=True, id="after"
    ),
)


def changes_model() -> TableModel[tuple[int, TrailChange]]:
    """Values of one entry, numbered: before and after."""
    return TableModel(CHANGE_COLUMNS, lambda row: row[0])


def entry_words(line: TrailLine) -> str:
    """Who, when, with what and why, and the digest: a line each."""
    program = line.program or tr("an earlier program")
    if line.batch_id is not None:
        program = tr("{program}, batch {batch_id}", program=program, batch_id=line.batch_id)
    lines = [
        f"{words.sentence(line.what)}. {words.sentence(action_words(line))}: {line.place}.",
        tr(
            "{who}, {day} {at:%H:%M:%S} UTC (there {local}), with {program}.",
            who=line.who or tr("Nobody named"),
            day=words.day(line.at.date()),
            at=line.at,
            local=local_words(line.local_at),
            program=program,
        ),
        tr("Why: {why}", why=line.why) if line.why else "",
        tr("Digest {digest}", digest=words.in_eights(line.digest))
        if line.digest
        else tr("Older than the chain: no digest covers it."),
    ]
    return "\n".join(each for each in lines if each)

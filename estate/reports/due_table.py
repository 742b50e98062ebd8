"""Due lines as a table: gathered under the places they belong to, in walking order."""

from collections.abc import Iterable
from itertools import groupby

from estate.domain.due import DueLine, walking_key
from estate.reports.document import Column, Group, Kind, Row, Table
from estate.reports.wording import state_words, verdict_words

_COLUMNS = (
    Column("Outlet reference", 13),
    Column("Also serves", 10, below=True),
    Column("Room", 17),
    Column("Outlet", 9, below=True),
    Column("Valve", 14),
    Column("Users", 10, below=True),
    Column("Late", 6, Kind.WHOLE, "days"),
    Column("Test due by", 9, Kind.DATE),
    Column("Last visit", 9, Kind.DATE, below=True),
    Column("State", 12, Kind.MARK),
    Column("Last verdict", 12, Kind.MARK, below=True),
    Column("Reason for the date", 29),
    Column("Source", 24, below=True),
)


def due_table(name: str, lines: Iterable[DueLine]) -> Table:
    """A table of due lines with one group for each level of each building."""
    walked = sorted(lines, key=lambda line: walking_key(line.path, line.ref))
    by_level = groupby(walked, key=lambda line: (line.path.site, line.path.building, line.path.level))
    groups = tuple(Group(place, tuple(_row(line) for line in group)) for place, group in by_level)
    return Table(name, _COLUMNS, groups, ("Site", "Building", "Level"))


def _row(line: DueLine) -> Row:
    return Row(
        (
            line.ref,
            ", ".join(line.also_serves),
            line.path.room_words,
            line.path.outlet,
            line.valve,
            line.user_group.value,
            line.days_late,
            line.window.not_after,
            line.last_visit,
            state_words(line.state),
            verdict_words(line.verdict),
            line.window.reason.words,
            line.window.reason.source,
        )
    )

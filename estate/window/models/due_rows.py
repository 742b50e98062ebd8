"""Columns of the due list, and which of its lines are wanted."""

from collections.abc import Callable
from datetime import date, timedelta
from enum import StrEnum

from estate.domain.due import DueLine
from estate.window.models import cells
from estate.window.models.cells import Cell, Column
from estate.window.models.table import TableModel


class Wanted(StrEnum):
    """Which lines of the due list are shown."""

    OVERDUE = "overdue"
    WITHIN = "due within"
    ALL = "all valves"
    THESE = "these valves"


def _where(line: DueLine) -> Cell:
    path = line.path
    words = " · ".join(part for part in (path.building, path.level, path.room_words) if part)
    return Cell(words, words.casefold(), tip=f"{path.site} · {words}")


def _outlet(line: DueLine) -> Cell:
    return cells.text(line.path.outlet or line.use.value, f"{line.use.value}, {line.user_group.value}")


def _late(line: DueLine) -> Cell:
    if line.days_late:
        return cells.figure(line.days_late, 0)
    return Cell("", float(-(line.window.not_after - line.today).days - 1), to_right=True, tip="not late")


def _reason(line: DueLine) -> Cell:
    reason = line.window.reason
    return Cell(reason.words, reason.words.casefold(), tip=f"{reason.words}\nSource: {reason.source}")


COLUMNS: tuple[Column[DueLine], ...] = (
    Column("State", lambda line: cells.state(line.state), "take out of use", marked=True),
    Column("Outlet", lambda line: cells.text(line.ref, line.valve), "WW/W/W00/WHB1"),
    Column("Where", _where, "Main building · 1 · W00 Assisted bat"),
    Column("Test by", lambda line: cells.on_day(line.window.not_after), "25 Nov 2026"),
    Column("Late\ndays", _late, "1,000", tip="Days past the test window"),
    Column("Last visit", lambda line: cells.on_day(line.last_visit, "never"), "25 Nov 2026"),
    Column("Last verdict", lambda line: cells.verdict(line.verdict), "take out of use", marked=True),
    Column("Test from", lambda line: cells.on_day(line.window.not_before), "25 Nov 2026"),
    Column("Serves", _outlet, "Wash-hand basin 1"),
    Column("Users", lambda line: cells.text(line.user_group.value), "dependent people"),
    Column("Why this date", _reason, "Retest within 4 weeks after the visit of", stretches=True),
)
LATE = 4


class DueModel(TableModel[DueLine]):
    """The due list in walking order."""

    def __init__(self) -> None:
        super().__init__(COLUMNS, lambda line: line.outlet_id)


def wanting(which: Wanted, weeks: int, today: date, text: str = "") -> Callable[[DueLine], bool]:
    """A test for lines: overdue, due within some weeks (overdue ones too), or all; and by words."""
    last = today + timedelta(weeks=weeks)
    sought = text.casefold().split()

    def wanted(line: DueLine) -> bool:
        if which is Wanted.OVERDUE and not line.overdue:
            return False
        if which is Wanted.WITHIN and line.window.not_after > last:
            return False
        return not sought or all(word in _heard(line) for word in sought)

    return wanted


def _heard(line: DueLine) -> str:
    parts = (line.ref, line.valve, str(line.path), line.path.site, line.state.value, line.use.value)
    return " ".join(parts).casefold()

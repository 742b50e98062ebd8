"""Columns of the due list, and which of its lines are wanted."""

from collections.abc import Callable
from datetime import date, timedelta
from enum import StrEnum

from estate.domain.due import DueLine
from estate.domain.places import OutletPath
from estate.window.models import cells
from estate.window.models.cells import Cell, Column
from estate.window.models.path_columns import path_columns
from estate.window.models.table import TableModel
from estate.window.translating import said, tr


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
    return cells.text(
        line.path.outlet or tr(line.use.value), f"{tr(line.use.value)}, {tr(line.user_group.value)}"
    )


def _late(line: DueLine) -> Cell:
    if line.days_late:
        return cells.figure(line.days_late, 0)
    return Cell("", float(-(line.window.not_after - line.today).days - 1), to_right=True, tip=tr("not late"))


def _reason(line: DueLine) -> Cell:
    reason = line.window.reason
    told = tr(reason.words)
    return Cell(
        told,
        told.casefold(),
        tip=tr("{reason}\nSource: {source}", reason=told, source=reason.source),
    )


def _path(line: DueLine) -> OutletPath:
    return line.path


COLUMNS: tuple[Column[DueLine], ...] = (
    Column(said("State"), lambda line: cells.state(line.state), "take out of use", marked=True, id="state"),
    Column(said("Outlet"), lambda line: cells.text(line.ref, line.valve), "WW/W/W00/WHB1", id="outlet"),
    Column(said("Where"), _where, "Main building · 1 · W00 Assisted bat", id="where"),
    Column(said("Test by"), lambda line: cells.on_day(line.window.not_after), "25 Nov 2026", id="test-by"),
    Column(said("Late\ndays"), _late, "1,000", tip=said("Days past the test window"), id="late-days"),
    Column(
        said("Last visit"),
        lambda line: cells.on_day(line.last_visit, tr("never")),
        "25 Nov 2026",
        id="last-visit",
    ),
    Column(
        said("Last verdict"),
        lambda line: cells.verdict(line.verdict),
        "take out of use",
        marked=True,
        id="last-verdict",
    ),
    Column(
        said("Test from"), lambda line: cells.on_day(line.window.not_before), "25 Nov 2026", id="test-from"
    ),
    Column(said("Serves"), _outlet, "Wash-hand basin 1", id="serves"),
    Column(
        said("Users"),
        lambda line: cells.text(tr(line.user_group.value)),
        "dependent people",
        groups=True,
        id="users",
    ),
    Column(
        said("Why this date"),
        _reason,
        "Retest within 4 weeks after the visit of",
        stretches=True,
        id="why-this-date",
    ),
    Column(
        said("Use"),
        lambda line: cells.text(tr(line.use.value)),
        "assisted bath",
        hidden_at_first=True,
        groups=True,
        id="use",
    ),
    Column(
        said("Valve"),
        lambda line: cells.text(line.valve),
        "Make Model WW-000000",
        hidden_at_first=True,
        id="valve",
    ),
    *path_columns(_path),
    Column(
        said("Also serves"),
        lambda line: cells.text(", ".join(line.also_serves)),
        "WW/W/W00/WHB1",
        hidden_at_first=True,
        id="also-serves",
    ),
    Column(
        said("Rule set"),
        lambda line: cells.text(line.rule_set),
        "uk-care",
        hidden_at_first=True,
        groups=True,
        id="rule-set",
    ),
    Column(
        said("Source of the date"),
        lambda line: cells.text(line.window.reason.source),
        "D08-80: a scheme",
        hidden_at_first=True,
        id="source",
    ),
    Column(
        said("Action"),
        lambda line: cells.text(tr("open") if line.to_do else ""),
        "open",
        tip=said("Whether an action is open at any of its outlets"),
        hidden_at_first=True,
        groups=True,
        id="action",
    ),
)
LATE = 4


class DueModel(TableModel[DueLine]):
    """The due list in walking order."""

    def __init__(self) -> None:
        super().__init__(COLUMNS, lambda line: line.outlet_id, told=_heard)


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
    parts = (line.ref, line.valve, str(line.path), line.path.site, tr(line.state.value), tr(line.use.value))
    return " ".join(parts).casefold()

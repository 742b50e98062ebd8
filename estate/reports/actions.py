"""The open actions: what must be done, by whom and by when, the most pressing first."""

from collections.abc import Sequence

from estate.domain.dates import day_words
from estate.domain.findings import Severity
from estate.domain.life.lists import ActionLine
from estate.domain.life.outlet_use import OutletUse
from estate.domain.life.policy import NO_TARGET
from estate.domain.register import AsAt
from estate.reports.document import (
    Cell,
    Column,
    Document,
    Fact,
    Group,
    Kind,
    Mark,
    Marked,
    Row,
    Section,
    Table,
)
from estate.reports.wording import CAUTIONS, basis, counted, identity_facts, number_words

_COLUMNS = (
    Column("Action", 5, Kind.WHOLE),
    Column("Outlet reference", 13),
    Column("Where", 13, below=True),
    Column("What was found", 27),
    Column("What to do now", 27, below=True),
    Column("Severity", 11, Kind.MARK),
    Column("State", 11, below=True),
    Column("Outlet", 8, Kind.MARK),
    Column("Also serves", 8, below=True),
    Column("Owner", 8),
    Column("Found on", 8, Kind.DATE),
    Column("Target", 8, Kind.DATE, below=True),
    Column("Age", 4, Kind.WHOLE, "days"),
    Column("Late", 4, Kind.WHOLE, "days"),
    Column("Tell", 12),
)
_SEVERITIES = {
    Severity.OUT_OF_USE: Mark.STOP,
    Severity.PUT_RIGHT: Mark.MEND,
    Severity.WATCH: Mark.WATCH,
    Severity.NOTE: Mark.GOOD,
}
_USES = {
    OutletUse.IN_USE: Mark.OPEN,
    OutletUse.OUT_OF_USE: Mark.STOP,
    OutletUse.RETIRED: Mark.UNKNOWN,
}


def actions(lines: Sequence[ActionLine], as_at: AsAt) -> Document:
    """Say which actions are open on a day.

    Args:
        lines: the live actions, the most pressing first.
        as_at: the day and the register.

    Returns:
        The list; an empty one says what that means and what it does not.
    """
    return Document(
        title="Open actions at thermostatic mixing valves",
        register=as_at.register.name,
        as_at=as_at.today,
        basis=basis(as_at),
        facts=(*_counts(lines), *identity_facts(as_at)),
        cautions=CAUTIONS,
        sections=(_list_of(lines) if lines else _nothing(as_at),),
    )


def _counts(lines: Sequence[ActionLine]) -> tuple[Fact, ...]:
    late = sum(each.days_late > 0 for each in lines)
    unowned = sum(not each.action.owner for each in lines)
    stopping = [each for each in lines if each.action.severity is Severity.OUT_OF_USE]
    in_use = sum(each.use.use is OutletUse.IN_USE for each in stopping)
    return (
        Fact("Open", f"{counted(len(lines), 'action')}, {number_words(late)} past the target date"),
        Fact(
            "To be taken out of use",
            f"{number_words(len(stopping))}, of these {number_words(in_use)} at outlets that are in use",
        ),
        Fact("Without an owner", number_words(unowned)),
    )


def _list_of(lines: Sequence[ActionLine]) -> Section:
    words = (
        "The most pressing first. An action is done when a later visit found every failed check in order; "
        "what was not measured again still stands. Target dates are the site's policy and no permission to "
        "leave an outlet in use until then.",
    )
    table = Table("Open actions", _COLUMNS, (Group((), tuple(_row(each) for each in lines)),))
    return Section("What must be done", words, table)


def _row(line: ActionLine) -> Row:
    action = line.action
    cells: tuple[Cell, ...] = (
        action.id,
        line.outlet.reference,
        str(line.outlet.path),
        action.opening.words,
        line.next_step,
        Marked(action.severity.words, _SEVERITIES[action.severity]),
        action.state.value,
        Marked(line.use.use.value, _USES[line.use.use]),
        ", ".join(line.also_serves),
        action.owner,
        action.opening.found_on,
        action.target_on,
        line.age_days,
        line.days_late,
        _told(line),
    )
    return Row(cells)


def _told(line: ActionLine) -> str:
    if line.action.target_on is None:
        return NO_TARGET
    return "" if line.escalation is None else line.escalation.whom


def _nothing(as_at: AsAt) -> Section:
    words = (
        f"No action was open in the register on {day_words(as_at.today)}.",
        "It means that no fault found by a visit in the register stands without having been dealt with.",
        "It does not mean that every valve works: a valve can fail between two tests without showing it in "
        "use, and what was never measured is no fault on record. See the list of overdue tests.",
    )
    return Section("Nothing is open", words)

"""Columns of the list of actions, and what is said of one."""

from estate.domain.findings import Severity
from estate.domain.life.actions import ActionEvent, ActionState
from estate.domain.life.lists import ActionLine
from estate.domain.life.policy import NO_TARGET
from estate.window import words
from estate.window.marks import Mark
from estate.window.models import cells
from estate.window.models.cells import Cell, Column
from estate.window.models.table import TableModel

_SEVERITY_MARKS = {
    Severity.OUT_OF_USE: Mark.BARRED,
    Severity.PUT_RIGHT: Mark.WEDGE,
    Severity.WATCH: Mark.OPEN_WEDGE,
    Severity.NOTE: Mark.DOT,
}
_STATE_MARKS = {
    ActionState.OPEN: Mark.RING,
    ActionState.MADE_SAFE: Mark.HALF,
    ActionState.PUT_RIGHT: Mark.TARGET,
    ActionState.RETESTED: Mark.TICK,
    ActionState.CLOSED: Mark.DASH,
    ActionState.CANCELLED: Mark.DASH,
}


def _severity(line: ActionLine) -> Cell:
    found = line.action.severity
    return Cell(found.words, float(-found), _SEVERITY_MARKS[found])


def _state(line: ActionLine) -> Cell:
    found = line.action.state
    return Cell(found.value, float(list(ActionState).index(found)), _STATE_MARKS[found])


def _late(line: ActionLine) -> Cell:
    if not line.days_late:
        in_time = line.action.target_on is not None or not line.action.state.live
        return cells.figure(None, tip="not past its target date" if in_time else NO_TARGET)
    return cells.figure(
        float(line.days_late), 0, tip="" if line.escalation is None else line.escalation.words
    )


ACTION_COLUMNS: tuple[Column[ActionLine], ...] = (
    Column("Severity", _severity, "take out of use", marked=True),
    Column("Outlet", lambda line: cells.text(line.outlet.reference), "MM/G/G08/WHB1"),
    Column("What must be done", lambda line: cells.text(line.action.opening.words), "", stretches=True),
    Column("Stands", _state, "retest passed", marked=True),
    Column("Owner", lambda line: cells.text(line.action.owner), "T. A. Person"),
    Column("Done by", lambda line: cells.on_day(line.action.target_on, NO_TARGET), "25 Nov 2026"),
    Column("Late\ndays", _late, "1,000"),
)


def actions_model() -> TableModel[ActionLine]:
    """Actions; those that are done stand struck through."""
    return TableModel(ACTION_COLUMNS, lambda line: line.action.id, lambda line: not line.action.state.live)


def event_words(event: ActionEvent) -> str:
    """One thing done about an action, in a line."""
    draft = event.draft
    said = [draft.step.value]
    if draft.owner:
        said.append(f"to {draft.owner}")
    if draft.target_on is not None:
        said.append(f"{words.day(draft.target_on)}")
    why = f": {draft.why}" if draft.why else ""
    by = "the register" if draft.by_itself else event.who
    counts = "" if event.counts else " (does not count: the action could not go through it)"
    return f"{words.day(draft.on)}  {' '.join(said)}{why}  – {by}{counts}"


def action_facts(line: ActionLine) -> list[tuple[str, str, str]]:
    """What is known of an action, for a panel of facts."""
    action = line.action
    facts = [
        ("What", action.opening.words, ""),
        ("Where", f"{line.outlet.path.site} · {line.outlet.path}", ""),
        ("Valve", line.valve or "none", ""),
        ("Outlet", line.use.use.value, ""),
        ("Opened", f"{words.day(action.opened_at.date())} by {action.opened_by}", ""),
        ("Found", f"{words.day(action.opening.found_on)}, {words.count(line.age_days, 'day')} ago", ""),
        ("Owner", action.owner or "nobody yet", ""),
    ]
    if line.also_serves:
        facts.insert(2, ("Also serves", words.listed(list(line.also_serves)), ""))
    if line.escalation is not None:
        facts.append(("To be told", line.escalation.words, ""))
    facts.append(("What", action.opening.words, ""))
    return facts

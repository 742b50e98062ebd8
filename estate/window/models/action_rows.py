"""Columns of the list of actions, and what is said of one."""

from estate.domain.findings import Severity
from estate.domain.life.actions import ActionEvent, ActionState
from estate.domain.life.lists import ActionLine
from estate.domain.life.policy import NO_TARGET
from estate.domain.places import OutletPath
from estate.window import words
from estate.window.marks import Mark
from estate.window.models import cells
from estate.window.models.cells import Cell, Column
from estate.window.models.path_columns import path_columns
from estate.window.models.table import TableModel
from estate.window.translating import said, tr, tr_count

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
    return Cell(tr(found.words), float(-found), _SEVERITY_MARKS[found])


def _state(line: ActionLine) -> Cell:
    found = line.action.state
    return Cell(tr(found.value), float(list(ActionState).index(found)), _STATE_MARKS[found])


def _late(line: ActionLine) -> Cell:
    if not line.days_late:
        in_time = line.action.target_on is not None or not line.action.state.live
        return cells.figure(None, tip=tr("not past its target date") if in_time else NO_TARGET)
    return cells.figure(
        float(line.days_late), 0, tip="" if line.escalation is None else tr(line.escalation.words)
    )


def _path(line: ActionLine) -> OutletPath:
    return line.outlet.path


ACTION_COLUMNS: tuple[Column[ActionLine], ...] = (
    Column(said("Severity"), _severity, "take out of use", marked=True, id="severity"),
    Column(said("Outlet"), lambda line: cells.text(line.outlet.reference), "MM/G/G08/WHB1", id="outlet"),
    Column(
        said("What must be done"),
        lambda line: cells.text(line.action.opening.words),
        "",
        stretches=True,
        id="what-must-be-done",
    ),
    Column(said("Stands"), _state, "retest passed", marked=True, id="stands"),
    Column(
        said("Owner"), lambda line: cells.text(line.action.owner), "T. A. Person", groups=True, id="owner"
    ),
    Column(
        said("Done by"),
        lambda line: cells.on_day(line.action.target_on, tr(NO_TARGET)),
        "25 Nov 2026",
        id="done-by",
    ),
    Column(said("Late\ndays"), _late, "1,000", id="late-days"),
    Column(
        said("Valve"), lambda line: cells.text(line.valve), "Make Model", hidden_at_first=True, id="valve"
    ),
    *path_columns(_path),
    Column(
        said("Also serves"),
        lambda line: cells.text(", ".join(line.also_serves)),
        "MM/G/G08/WHB1",
        hidden_at_first=True,
        id="also-serves",
    ),
    Column(
        said("Found"),
        lambda line: cells.on_day(line.action.opening.found_on),
        "25 Nov 2026",
        hidden_at_first=True,
        id="found",
    ),
    Column(
        said("Age\ndays"),
        lambda line: cells.figure(line.age_days, 0),
        "1,000",
        hidden_at_first=True,
        id="age-days",
    ),
    Column(
        said("Opened by"),
        lambda line: cells.text(line.action.opened_by),
        "T. A. Person",
        hidden_at_first=True,
        groups=True,
        id="opened-by",
    ),
    Column(
        said("To be told"),
        lambda line: cells.text("" if line.escalation is None else tr(line.escalation.words)),
        "the person responsible",
        hidden_at_first=True,
        groups=True,
        id="to-be-told",
    ),
    Column(
        said("What to do now"),
        lambda line: cells.text(tr(line.next_step)),
        "Take it out of use, then",
        hidden_at_first=True,
        id="next-step",
    ),
)


def actions_model() -> TableModel[ActionLine]:
    """Actions; those that are done stand struck through."""
    return TableModel(ACTION_COLUMNS, lambda line: line.action.id, lambda line: not line.action.state.live)


def event_words(event: ActionEvent) -> str:
    """One thing done about an action, in a line."""
    draft = event.draft
    said = [tr(draft.step.value)]
    if draft.owner:
        said.append(tr("to {owner}", owner=draft.owner))
    if draft.target_on is not None:
        said.append(f"{words.day(draft.target_on)}")
    why = f": {draft.why}" if draft.why else ""
    by = tr("the register") if draft.by_itself else event.who
    counts = "" if event.counts else tr("(does not count: the action could not go through it)")
    return words.together(f"{words.day(draft.on)}  {' '.join(said)}{why}  – {by}", counts)


def action_facts(line: ActionLine) -> list[tuple[str, str, str]]:
    """What is known of an action, for a panel of facts."""
    action = line.action
    facts = [
        (tr("What"), action.opening.words, ""),
        (tr("Where"), f"{line.outlet.path.site} · {line.outlet.path}", ""),
        (tr("Valve"), line.valve or tr("none"), ""),
        (tr("Outlet"), tr(line.use.use.value), ""),
        (
            tr("Opened"),
            tr("{day} by {opened_by}", day=words.day(action.opened_at.date()), opened_by=action.opened_by),
            "",
        ),
        (
            tr("Found"),
            tr_count(
                line.age_days,
                "{day}, {n:,} day ago",
                "{day}, {n:,} days ago",
                day=words.day(action.opening.found_on),
            ),
            "",
        ),
        (tr("Owner"), action.owner or tr("nobody yet"), ""),
    ]
    if line.also_serves:
        facts.insert(2, (tr("Also serves"), words.listed(list(line.also_serves)), ""))
    if line.escalation is not None:
        facts.append((tr("To be told"), tr(line.escalation.words), ""))
    facts.append((tr("What"), action.opening.words, ""))
    return facts

"""The way back from each kind of step, over a real register: evidence is added, never taken away."""

import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest

from estate.domain.browsing import HistoryLine, OutletPage
from estate.domain.due import DueLine
from estate.domain.findings import Severity
from estate.domain.life.actions import ActionState
from estate.domain.life.actions import Step as ActionStep
from estate.domain.life.lists import ActionLine
from estate.domain.life.outlet_use import OutletUse, UseStep
from estate.domain.visits import Readings, VisitDraft, VisitKind
from estate.operations.open_register import open_register
from estate.window.register_desk import RegisterDesk
from estate.window.undoing import Step, Turned
from estate.window.ways_back import WaysBack, chosen_at
from estate.window.ways_back_in_work import Moved, Used, WorkWaysBack
from tests.window.builders import NOW, TODAY

WHO = "A. Officer"


@pytest.fixture
def desk(small_estate: Path, tmp_path: Path) -> Iterator[RegisterDesk]:
    copy = tmp_path / "copy.db"
    shutil.copyfile(small_estate, copy)
    made = RegisterDesk(open_register(copy), str(copy), lambda: TODAY, lambda: NOW)
    yield made
    made.close()


def turned(step: Step | Turned) -> Turned:
    """Go the way of a step, or once more."""
    assert callable(step.way)
    return step.way()


def a_line(desk: RegisterDesk) -> DueLine:
    return next(each for each in desk.due_lines() if each.last_visit is not None and not each.also_serves)


def history(desk: RegisterDesk, line: DueLine) -> tuple[HistoryLine, ...]:
    return desk.outlet_page(line.outlet_id).history


def a_draft(line: DueLine) -> VisitDraft:
    readings = Readings(hot_c=60.0, cold_c=12.0, left_c=41.3)
    return VisitDraft(line.valve_id, line.outlet_id, VisitKind.IN_SERVICE, TODAY, readings, WHO)


def ways(desk: RegisterDesk) -> WaysBack:
    return WaysBack(desk, lambda: WHO)


def work_ways(desk: RegisterDesk) -> WorkWaysBack:
    return WorkWaysBack(desk, lambda: WHO)


def test_that_a_recorded_visit_is_undone_as_void_and_done_again_as_a_new_entry(desk: RegisterDesk) -> None:
    line = a_line(desk)
    before = len(history(desk, line))
    step = ways(desk).recorded(desk.record(a_draft(line), WHO), line.ref)
    assert step.words == f"record visit {line.ref}"
    undone = turned(step)
    newest = history(desk, line)[0].visit
    assert (newest.counts, newest.void_reason) == (False, f"undone by {WHO}")
    again = turned(undone)
    assert "new entry" in again.said
    assert [each.visit.counts for each in history(desk, line)[:2]].count(True) == 1
    turned(again)
    assert len(history(desk, line)) == before + 2


def test_that_a_void_is_undone_by_the_same_readings_and_made_again_with_its_reason(
    desk: RegisterDesk,
) -> None:
    line = a_line(desk)
    entry = next(each for each in history(desk, line) if each.visit.counts)
    step = ways(desk).voided(entry, line.ref, "wrong outlet")
    desk.void(entry.visit.id, "wrong outlet", WHO)
    undone = turned(step)
    assert "void one stays on record" in undone.said
    added = next(
        each.visit for each in history(desk, line) if each.visit.on == entry.visit.on and each.visit.counts
    )
    assert added.draft.readings == entry.visit.draft.readings
    turned(undone)
    reasons = {each.visit.id: each.visit.void_reason for each in history(desk, line)}
    assert (reasons[entry.visit.id], reasons[added.id]) == ("wrong outlet", "wrong outlet")


def test_that_a_correction_is_undone_by_a_further_one(desk: RegisterDesk) -> None:
    line = a_line(desk)
    entry = next(each for each in history(desk, line) if each.visit.counts)
    made = desk.correct(entry.visit.id, a_draft(line), WHO)
    step = ways(desk).corrected(entry, made, line.ref)
    undone = turned(step)
    counting = {each.visit.corrects: each.visit for each in history(desk, line) if each.visit.counts}
    assert counting[made.visit.id].draft.readings == entry.visit.draft.readings
    turned(undone)
    counting = {each.visit.corrects: each.visit for each in history(desk, line) if each.visit.counts}
    assert a_draft(line).readings in [each.draft.readings for each in counting.values()]


def test_that_a_correction_over_somebody_elses_is_left_to_the_person(desk: RegisterDesk) -> None:
    line = a_line(desk)
    entry = next(each for each in history(desk, line) if each.visit.counts)
    theirs = desk.correct(entry.visit.id, a_draft(line), "B. Engineer")
    mine = desk.correct(theirs.visit.id, entry.visit.draft, WHO)
    assert "somebody else" in str(ways(desk).corrected(entry, mine, line.ref).way)


def test_that_a_value_of_the_sites_own_goes_back_to_what_was_in_force(desk: RegisterDesk) -> None:
    key, rules = "mixed.ceiling.basin", desk.rules("estate")
    published = rules.get(key)
    assert published is not None
    desk.override(rules.id, key, "estate", 42.0, who=WHO, why="risk assessment")
    step = ways(desk).overridden(rules.id, key, published, 42.0)
    own = desk.rules("estate").get(key)
    desk.override(rules.id, key, "estate", 41.5, who=WHO, why="lower still")
    second = ways(desk).overridden(rules.id, key, own, 41.5)

    def in_force() -> object:
        found = desk.rules("estate").get(key)
        return None if found is None else found.value

    undone = turned(second)
    assert in_force() == 42.0
    turned(step)
    assert in_force() == published.value
    turned(undone)
    assert in_force() == 41.5


@pytest.mark.parametrize("kind", ["building", "outlet"])
def test_that_a_choice_of_rules_goes_back_to_the_former(desk: RegisterDesk, kind: str) -> None:
    ids = {"building": desk.tree()[0].children[0].id, "outlet": a_line(desk).outlet_id}
    place = f"{kind}:{ids[kind]}"
    before = desk.rules(place).id
    other = next(each.id for each in desk.rule_sets() if each.id != before)
    step = ways(desk).chosen(place, chosen_at(desk, place), other)
    desk.choose_rules(place, other, who=WHO)
    undone = turned(step)
    assert desk.rules(place).id == before
    turned(undone)
    assert desk.rules(place).id == other


def in_use(desk: RegisterDesk) -> OutletPage:
    """An outlet that could be put back in use as soon as it is out of it."""
    for line in desk.due_lines():
        page = desk.outlet_page(line.outlet_id)
        if page.use.use is OutletUse.IN_USE and not page.actions and page.judgement and page.state.rank > 8:
            return page
    raise AssertionError("the sample has one in order")


def test_that_an_outlet_taken_out_of_use_is_put_back_where_the_rules_let_it(desk: RegisterDesk) -> None:
    outlet = in_use(desk).outlet
    made = Used(outlet, UseStep.TAKE_OUT, TODAY, "leak", "the ward sister", True)
    desk.work.use(
        outlet.id,
        UseStep.TAKE_OUT,
        on=TODAY,
        why="leak",
        who_told="the ward sister",
        sign_placed=True,
        who=WHO,
    )
    step = work_ways(desk).used(made)
    undone = turned(step)
    assert "sign" in undone.said
    assert desk.work.outlet_life(outlet.id).use.use is OutletUse.IN_USE
    turned(undone)
    assert desk.work.outlet_life(outlet.id).use.use is OutletUse.OUT_OF_USE


def test_that_putting_back_in_use_is_not_undone_as_nobody_was_told(desk: RegisterDesk) -> None:
    step = work_ways(desk).used(Used(in_use(desk).outlet, UseStep.PUT_BACK, TODAY, "mended"))
    assert "who was told" in str(step.way)


def test_that_a_retired_outlet_is_taken_up_again_and_is_out_of_use_first(desk: RegisterDesk) -> None:
    outlet = in_use(desk).outlet
    desk.work.use(
        outlet.id, UseStep.RETIRE, on=TODAY, why="room closed", who_told="", sign_placed=None, who=WHO
    )
    undone = turned(work_ways(desk).used(Used(outlet, UseStep.RETIRE, TODAY, "room closed")))
    assert "out of use" in undone.said
    assert desk.work.outlet_life(outlet.id).use.use is OutletUse.OUT_OF_USE


def an_action(desk: RegisterDesk) -> ActionLine:
    outlet_id = a_line(desk).outlet_id
    known = {each.action.id for each in desk.work.outlet_life(outlet_id).actions}
    desk.work.open(
        outlet_id,
        words="handle loose",
        severity=Severity.PUT_RIGHT,
        asks_retest=False,
        owner="",
        on=TODAY,
        who=WHO,
    )
    (made,) = [each for each in desk.work.outlet_life(outlet_id).actions if each.action.id not in known]
    return made


def now(desk: RegisterDesk, line: ActionLine) -> ActionLine:
    lines = desk.work.outlet_life(line.outlet.id).actions
    return next(each for each in lines if each.action.id == line.action.id)


def test_that_an_action_opened_by_hand_is_cancelled_and_reopened(desk: RegisterDesk) -> None:
    line = an_action(desk)
    undone = turned(work_ways(desk).opened(line.outlet, line.action))
    assert now(desk, line).action.state is ActionState.CANCELLED
    turned(undone)
    assert now(desk, line).action.state is ActionState.OPEN
    assert "Cancel it" in str(work_ways(desk).opened(line.outlet, None).way)


def move(desk: RegisterDesk, line: ActionLine, made: Moved) -> Step:
    step = work_ways(desk).moved(line, made)
    desk.work.move(
        line.action.id, made.step, on=TODAY, why=made.why, owner=made.owner, target_on=made.target_on, who=WHO
    )
    return step


def test_that_an_action_put_right_is_reopened_and_an_owner_given_back(desk: RegisterDesk) -> None:
    line = an_action(desk)
    assert isinstance(move(desk, line, Moved(ActionStep.ASSIGN, owner="R. Velde")).way, str)
    line = now(desk, line)
    turned(move(desk, line, Moved(ActionStep.ASSIGN, owner="M. Osei")))
    assert now(desk, line).action.owner == "R. Velde"
    target = line.action.target_on
    assert target is not None
    turned(move(desk, line, Moved(ActionStep.RETARGET, "part on order", target_on=TODAY)))
    assert now(desk, line).action.target_on == target
    undone = turned(move(desk, line, Moved(ActionStep.PUT_RIGHT, "handle tightened")))
    assert now(desk, line).action.state is ActionState.OPEN
    turned(undone)
    assert now(desk, line).action.state is ActionState.PUT_RIGHT

"""No change is possible but those that `docs/states.md` tells: tables compared, every step tried."""

import re
from collections.abc import Mapping
from dataclasses import replace
from datetime import timedelta
from pathlib import Path

import pytest
from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, invariant, rule, run_state_machine_as_test

from estate.domain.findings import Severity
from estate.domain.life.actions import MOVES, Action, ActionKind, ActionState, EventDraft, Step
from estate.domain.life.faults import JudgedVisit, read_faults
from estate.domain.life.following import follow
from estate.domain.life.guards import BY_ITSELF, GUARDS, Ground, refusal
from estate.domain.life.outlet_use import (
    USE_GUARDS,
    USE_MOVES,
    OutletUse,
    UseDraft,
    UseEvent,
    UseGround,
    UseStep,
    use_of,
    use_refusal,
)
from tests.domain.life.builders import (
    HOT,
    NOW,
    SLOW,
    TODAY,
    body,
    done,
    failed,
    step,
    target,
    visit,
    work,
    written,
)

DOC = Path(__file__).resolve().parents[3] / "docs" / "states.md"


def table_under(heading: str) -> list[list[str]]:
    """The rows of the table under a heading of the page."""
    part = DOC.read_text("utf-8").partition(f"## {heading}\n")[2].partition("\n## ")[0]
    rows = [line for line in part.splitlines() if line.startswith("|")]
    return [[cell.strip() for cell in re.split(r"(?<!\\)\|", row)[1:-1]] for row in rows[2:]]


def moves_of(rows: list[list[str]]) -> dict[tuple[str, str], str]:
    return {(state, done_now): becomes for state, done_now, becomes, _ in rows}


def test_that_the_page_tells_every_change_of_an_action_and_its_guard() -> None:
    rows = table_under("Actions")
    assert moves_of(rows) == {(state.value, each.value): to.value for (state, each), to in MOVES.items()}
    assert {(each, guard) for _, each, _, guard in rows} == {
        (each.value, words) for each, words in GUARDS.items()
    }


def test_that_the_page_tells_every_change_of_an_outlet_and_its_guard() -> None:
    rows = table_under("Outlets")
    assert moves_of(rows) == {(use.value, each.value): to.value for (use, each), to in USE_MOVES.items()}
    assert {(each, guard) for _, each, _, guard in rows} == {
        (each.value, words) for each, words in USE_GUARDS.items()
    }


@pytest.mark.parametrize("state", ActionState)
@pytest.mark.parametrize("which", Step)
def test_that_a_step_outside_the_table_is_refused_and_does_not_count(state: ActionState, which: Step) -> None:
    action = replace(work(), state=state)
    after = done(action, step(which))
    if (state, which) in MOVES:
        assert after.state is MOVES[state, which]
        assert after.events[-1].counts
    else:
        assert (after.state, after.events[-1].counts) == (state, False)
        said = refusal(action, step(which), Ground(read_faults([])))
        assert said == f'From "{state.value}" it can\'t be "{which.value}".'


@pytest.mark.parametrize("use", OutletUse)
@pytest.mark.parametrize("which", UseStep)
def test_that_a_change_of_use_outside_the_table_is_refused(use: OutletUse, which: UseStep) -> None:
    stands = replace(use_of((), None), use=use)
    said = use_refusal(stands, UseDraft(which, TODAY, "said", "the ward sister"), UseGround((), None))
    assert (said is None) is ((use, which) in USE_MOVES)


CHECKS: Mapping[str, Severity] = {HOT: Severity.OUT_OF_USE, SLOW: Severity.PUT_RIGHT}


class Life(RuleBasedStateMachine):
    """Visits come, are voided and corrected; people do what they like; only what the tables tell happens."""

    def __init__(self) -> None:
        super().__init__()
        self.series: list[JudgedVisit] = []
        self.gone: dict[int, str] = {}
        self.actions: tuple[Action, ...] = ()
        self.uses: list[UseEvent] = []
        self.made = 0

    def _follow(self) -> None:
        now = body(self.series, self.actions, gone=self.gone)
        before = self.actions
        self.actions = written(before, list(follow(now, target, TODAY)))
        self._only_known_moves(before)

    def _only_known_moves(self, before: tuple[Action, ...]) -> None:
        old = {each.id: each for each in before}
        for action in self.actions:
            was = old.get(action.id)
            events = action.events if was is None else action.events[len(was.events) :]
            state = ActionState.OPEN if was is None else was.state
            for event in events:
                assert event.counts
                state = MOVES[state, event.step]
            assert action.state is state

    @rule(bad=st.sets(st.sampled_from(sorted(CHECKS))), tested=st.sets(st.sampled_from(sorted(CHECKS))))
    def a_visit_is_recorded(self, bad: set[str], tested: set[str]) -> None:
        self.made += 1
        checks = [failed(code, CHECKS[code]) for code in sorted(bad)]
        self.series.append(visit(self.made, *checks, met=sorted(tested - bad)))
        self._follow()

    @rule(which=st.integers(0, 30))
    def a_visit_is_voided(self, which: int) -> None:
        if self.series:
            lost = self.series.pop(which % len(self.series))
            self.gone[lost.id] = "The visit is void: wrong outlet"
            self._follow()

    @rule(which=st.integers(0, 30), bad=st.sets(st.sampled_from(sorted(CHECKS))))
    def a_visit_is_corrected(self, which: int, bad: set[str]) -> None:
        if self.series:
            place = which % len(self.series)
            old = self.series[place]
            self.made += 1
            checks = [failed(code, CHECKS[code]) for code in sorted(bad)]
            met = sorted(CHECKS.keys() - bad)
            self.series[place] = visit(self.made, *checks, met=met, corrects=old.id)
            self.gone[old.id] = "The visit was corrected by a later entry."
            self._follow()

    @rule(which=st.integers(0, 30), what=st.sampled_from(Step), said=st.booleans())
    def a_person_does_something(self, which: int, what: Step, said: bool) -> None:
        if not self.actions:
            return
        action = self.actions[which % len(self.actions)]
        draft = step(what) if said else step(what, why="", owner="", target_on=None)
        now = read_faults(self.series)
        if refusal(action, draft, Ground(now, self._use() is OutletUse.OUT_OF_USE)) is not None:
            return
        assert what not in BY_ITSELF
        assert what is not Step.RETEST
        if what is Step.CLOSE:
            assert not now.stand(action.findings)
        before = self.actions
        kept = {each.id: each for each in before}
        kept[action.id] = done(action, draft)
        self.actions = tuple(kept.values())
        self._only_known_moves(before)
        self._follow()

    def _use(self) -> OutletUse:
        return use_of(self.uses, None).use

    @rule(what=st.sampled_from([UseStep.TAKE_OUT, UseStep.PUT_BACK]), which=st.integers(0, 30))
    def the_use_changes(self, what: UseStep, which: int) -> None:
        live = [each.id for each in self.actions if each.state.live]
        asked = live[which % len(live)] if live and what is UseStep.TAKE_OUT else None
        draft = UseDraft(what, TODAY, "said", "the ward sister", True, asked)
        before, now = self._use(), read_faults(self.series)
        if use_refusal(use_of(self.uses, None), draft, UseGround(self.actions, now)) is not None:
            return
        cause = use_of(self.uses, None).action_id
        self.uses.append(UseEvent(len(self.uses) + 1, 1, draft, "A. Officer", NOW))
        assert USE_MOVES[before, what] is self._use()
        if what is UseStep.PUT_BACK:
            assert HOT not in {each.code for each in now.standing}
            for action in self.actions:
                if action.id == cause or HOT in action.codes:
                    assert action.retest_id is not None or not now.stand(action.findings)

    @invariant()
    def no_fault_has_two_live_actions_unless_a_person_reopened_one(self) -> None:
        live = [each for each in self.actions if each.state.live]
        reopened = [each for each in live if any(e.step is Step.REOPEN for e in each.events)]
        assert len(live) <= 1 + len(reopened)

    @invariant()
    def every_standing_fault_is_dealt_with(self) -> None:
        for fault in read_faults(self.series).standing:
            pair = (fault.visit_id, fault.code)
            assert any(pair in each.findings for each in self.actions)

    @invariant()
    def no_retest_is_passed_while_a_fault_of_it_stands(self) -> None:
        now = read_faults(self.series)
        for action in self.actions:
            if action.state is ActionState.RETESTED:
                assert not now.stand(action.findings)

    @invariant()
    def writing_again_changes_nothing(self) -> None:
        again = list(follow(body(self.series, self.actions, gone=self.gone), target, TODAY))
        assert again == []


def test_that_no_other_change_is_possible() -> None:
    often = settings(max_examples=60, stateful_step_count=25, deadline=None)
    run_state_machine_as_test(Life, settings=often)


def test_that_a_day_before_the_finding_is_refused() -> None:
    early = step(Step.PUT_RIGHT, on=work().opening.found_on - timedelta(days=1))
    said = refusal(work(), early, Ground(read_faults([])))
    assert said == "It was found on 2 Nov 2026, after that day."


@pytest.mark.parametrize(
    ("draft", "words"),
    [
        (step(Step.MAKE_SAFE, why=" "), "Nothing was said."),
        (step(Step.PUT_RIGHT, why=""), "Nothing was said."),
        (step(Step.CANCEL, why=""), "Nothing was said."),
        (step(Step.NOTE, why=""), "Nothing was said."),
        (step(Step.ASSIGN, owner=" "), "Nobody was named."),
        (step(Step.RETARGET, target_on=None), "No day was given."),
        (step(Step.FOUND_AGAIN), "The register does that by itself"),
        (step(Step.CORRECT), "The register does that by itself"),
        (step(Step.RETEST), "Name a visit to this valve that counts."),
    ],
)
def test_that_what_has_to_be_said_is_asked_for(draft: EventDraft, words: str) -> None:
    said = refusal(work(), draft, Ground(read_faults([])))
    assert said is not None
    assert words in said


def test_that_work_asked_for_by_hand_is_retested_by_a_later_satisfactory_visit() -> None:
    asked = work(asks_retest=True, valve_id=1)
    early, bad, good = visit(2), visit(330, failed()), visit(331)
    ground = Ground(read_faults([early, bad, good]))
    for wrong in (early, bad):
        said = refusal(asked, step(Step.RETEST, visit_id=wrong.id), ground)
        assert said is not None
        assert "came before, or was not satisfactory" in said
    assert refusal(asked, step(Step.RETEST, visit_id=good.id), ground) is None


def test_that_a_person_does_not_pass_the_retest_of_a_fault() -> None:
    fault = written((), list(follow(body([visit(1, failed())]), target, TODAY)))[0]
    said = refusal(fault, step(Step.RETEST, visit_id=1), Ground(read_faults([visit(1, failed())])))
    assert said == "The register does that by itself, when the visit is recorded."


def test_that_a_fault_put_right_is_not_closed_without_its_retest() -> None:
    asked = done(work(asks_retest=True), step(Step.PUT_RIGHT))
    said = refusal(asked, step(Step.CLOSE), Ground(read_faults([])))
    assert said is not None
    assert "asks for a retest" in said
    plain = done(work(), step(Step.PUT_RIGHT))
    assert refusal(plain, step(Step.CLOSE), Ground(read_faults([]))) is None


def test_that_a_standing_fault_is_not_cancelled_away() -> None:
    hot, slow = visit(1, failed()), visit(1, failed(SLOW, Severity.PUT_RIGHT))
    stopping = written((), list(follow(body([hot]), target, TODAY)))[0]
    said = refusal(stopping, step(Step.CANCEL), Ground(read_faults([hot])))
    assert said is not None
    assert "asks for the outlet to be out of use" in said
    assert refusal(stopping, step(Step.CANCEL), Ground(read_faults([hot]), retired=True)) is None
    lesser = written((), list(follow(body([slow]), target, TODAY)))[0]
    ground = Ground(read_faults([slow]))
    assert refusal(lesser, step(Step.CANCEL), ground) is None
    out = refusal(lesser, step(Step.CANCEL), replace(ground, out_of_use=True))
    assert out is not None
    assert "the outlet is out of use" in out


def test_that_a_commissioning_asked_for_is_not_cancelled_while_the_outlet_is_out_of_use() -> None:
    asked = replace(work(), opening=replace(work().opening, kind=ActionKind.COMMISSIONING))
    ground = Ground(read_faults([]), out_of_use=True)
    assert (
        refusal(asked, step(Step.CANCEL), ground)
        == "Its outlet is out of use until the valve is commissioned."
    )
    assert refusal(asked, step(Step.CANCEL), replace(ground, out_of_use=False)) is None

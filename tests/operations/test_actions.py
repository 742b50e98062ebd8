from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path
from typing import Any

import pytest

from estate.domain.changes import ChangeSet
from estate.domain.findings import Severity, Verdict
from estate.domain.instruments import Calibration
from estate.domain.life.actions import Action, ActionKind, ActionState, Step
from estate.domain.life.outlet_use import OutletUse, UseStep
from estate.domain.places import Use, UserGroup
from estate.domain.valves import Valve
from estate.domain.visits import Readings, VisitDraft, VisitKind
from estate.errors import EntryFault
from estate.operations import browse, browse_actions, set_rules
from estate.operations.as_known_at import as_known_at
from estate.operations.justify_visit import justify_visit, take_back_justification
from estate.operations.keep_instruments import add_instrument
from estate.operations.move_action import move_action
from estate.operations.open_action import open_action, open_for_standing
from estate.operations.record_visit import correct_visit, record_visit, void_visit
from estate.operations.register import Register
from estate.operations.replace_valve import replace_valve
from estate.operations.use_outlet import use_outlet
from estate.operations.verify_register import verify
from estate.store import actions, places
from estate.store.transaction import writing
from tests.builders import GOOD, TODAY
from tests.operations.conftest import NOW, WHO, bring
from tests.operations.test_undo_batch import HEAD, VISIT_BATCH, undo

BATH, BASIN, SHOWER, OTHER = "MM/1/101/BTH1", "MM/G/G01/WHB1", "MM/G/G02/SHR1", "MM/G/G02/SHR2"
DAY = date(2026, 11, 20)
HOT = replace(GOOD, found_c=46.9, left_c=46.9)


def record(
    register: Register, readings: Readings = GOOD, on: date = DAY, ref: str = BASIN, **fields: Any
) -> int:
    outlet = browse.find_outlet(register, ref)
    page = browse.outlet_page(register, outlet.id, TODAY)
    assert page.valve is not None
    kind = fields.pop("kind", VisitKind.IN_SERVICE)
    draft = VisitDraft(page.valve.id, outlet.id, kind, on, readings, "A. Thorne", **fields)
    return record_visit(register, draft, who=WHO, at=NOW, today=TODAY).visit.id


def mended(register: Register, ref: str = BASIN) -> int:
    """The visit after the repair: an adjusted valve is set up anew (D08-64)."""
    return record(register, replace(GOOD, found_c=None), TODAY, ref, kind=VisitKind.SERVICE)


def at(register: Register, ref: str = BASIN) -> tuple[Action, ...]:
    outlet_id = browse.find_outlet(register, ref).id
    with register.database.reading() as session:
        return actions.actions_at(session, [outlet_id])


def only(register: Register, ref: str = BASIN) -> Action:
    (action,) = at(register, ref)
    return action


def move(register: Register, step: Step, ref: str = BASIN, **fields: Any) -> ChangeSet:
    said: dict[str, Any] = {"on": TODAY, "why": "said"}
    return move_action(register, at(register, ref)[-1].id, step, who=WHO, at=NOW, **(said | fields))


def use(register: Register, step: UseStep, ref: str = BASIN, **fields: Any) -> ChangeSet:
    said: dict[str, Any] = {"on": TODAY, "why": "too hot", "who_told": "the ward sister", "sign_placed": True}
    outlet_id = browse.find_outlet(register, ref).id
    return use_outlet(register, outlet_id, step, who=WHO, at=NOW, **(said | fields))


def stands(register: Register, ref: str = BASIN) -> OutletUse:
    return browse_actions.outlet_life(register, browse.find_outlet(register, ref).id, TODAY).use.use


def test_that_a_hot_basin_opens_an_action_with_the_visit(register: Register) -> None:
    visit_id = record(register, HOT)
    action = only(register)
    assert (action.state, action.severity, action.asks_retest) == (
        ActionState.OPEN,
        Severity.OUT_OF_USE,
        True,
    )
    assert {"left-above-ceiling", "found-above-ceiling"} <= action.stop_codes
    assert action.visit_ids == {visit_id}
    assert (action.opening.found_on, action.target_on) == (DAY, DAY + timedelta(days=7))
    assert "ceiling 43.0 °C" in action.opening.words


def test_that_a_good_visit_opens_nothing(register: Register) -> None:
    record(register)
    assert at(register) == ()


def test_that_an_action_goes_the_whole_way_to_closed(register: Register) -> None:
    record(register, HOT)
    use(register, UseStep.TAKE_OUT)
    assert (stands(register), only(register).state) == (OutletUse.OUT_OF_USE, ActionState.MADE_SAFE)
    assert only(register).events[-1].draft.why == (
        "MM/G/G01/WHB1 taken out of use; the ward sister told; a sign was put up."
    )
    move(register, Step.ASSIGN, owner="E. Fitter")
    move(register, Step.PUT_RIGHT, why="thermostat replaced")
    with pytest.raises(EntryFault, match="asks for a retest"):
        move(register, Step.CLOSE)
    with pytest.raises(EntryFault, match="A finding that asks for it to be out of use stands"):
        use(register, UseStep.PUT_BACK)
    retest = mended(register)
    assert (only(register).state, only(register).retest_id) == (ActionState.RETESTED, retest)
    use(register, UseStep.PUT_BACK, why="retested")
    move(register, Step.CLOSE)
    assert (stands(register), only(register).state) == (OutletUse.IN_USE, ActionState.CLOSED)
    assert verify(register).fits


def test_that_a_test_that_finds_the_valve_changed_by_the_repair_asks_for_setting_up_anew(
    register: Register,
) -> None:
    record(register, HOT)
    move(register, Step.PUT_RIGHT)
    record(register, on=TODAY)
    action = only(register)
    assert (action.state, action.events[-1].step) == (ActionState.OPEN, Step.FOUND_AGAIN)
    assert action.events[-1].draft.codes == ("changed-since-previous",)
    mended(register)
    assert only(register).state is ActionState.RETESTED


def test_that_a_voided_retest_opens_the_action_again_though_it_was_closed(register: Register) -> None:
    record(register, HOT)
    retest = mended(register)
    move(register, Step.CLOSE)
    void_visit(register, retest, reason="another basin", who=WHO, at=NOW)
    assert only(register).state is ActionState.OPEN


def test_that_a_voided_finding_cancels_the_action_and_tells_why(register: Register) -> None:
    found = record(register, HOT)
    void_visit(register, found, reason="another basin", who=WHO, at=NOW)
    action = only(register)
    assert action.state is ActionState.CANCELLED
    assert action.events[-1].draft.why == "The visit of 20 Nov 2026 is void: another basin"
    assert action.events[-1].draft.by_itself


def test_that_a_correction_that_finds_it_in_order_cancels_the_action(register: Register) -> None:
    found = record(register, HOT)
    page = browse.outlet_page(register, browse.find_outlet(register, BASIN).id, TODAY)
    draft = replace(page.history[0].visit.draft, readings=GOOD)
    correct_visit(register, found, draft, who=WHO, at=NOW, today=TODAY)
    assert only(register).state is ActionState.CANCELLED
    assert "was corrected by a later entry" in only(register).events[-1].draft.why


def test_that_a_correction_that_still_fails_keeps_the_action(register: Register) -> None:
    found = record(register, HOT)
    page = browse.outlet_page(register, browse.find_outlet(register, BASIN).id, TODAY)
    draft = replace(page.history[0].visit.draft, readings=replace(HOT, left_c=46.5, found_c=46.5))
    correct_visit(register, found, draft, who=WHO, at=NOW, today=TODAY)
    action = only(register)
    assert (action.state, action.events[-1].step) == (ActionState.OPEN, Step.CORRECT)


def test_that_a_sheet_opens_actions_for_what_stands_and_its_undoing_cancels_them(register: Register) -> None:
    action = only(register, BATH)
    assert (action.batch_id, action.opening.found_on) == (VISIT_BATCH, date(2026, 2, 24))
    assert action.days_late(TODAY) == (TODAY - date(2026, 3, 3)).days
    undo(register, VISIT_BATCH)
    action = only(register, BATH)
    assert action.state is ActionState.CANCELLED
    assert action.events[-1].draft.why.endswith("is void: Batch 2 was undone: the wrong file")
    assert verify(register).fits


def test_that_a_sheet_of_old_history_in_order_since_opens_nothing(register: Register, tmp_path: Path) -> None:
    rows = f"{BASIN},2026-03-01,In-service,60,13,46.9,46.9,0\n{BASIN},2026-04-01,Service,60,13,,41,0\n"
    bring(register, tmp_path, f"{HEAD}\n{rows}", "old.csv")
    assert at(register) == ()


def test_that_a_sheet_passes_a_retest_and_its_undoing_takes_that_back(
    register: Register, tmp_path: Path
) -> None:
    record(register, replace(HOT, found_c=None), on=date(2026, 3, 1), kind=VisitKind.SERVICE)
    text = f"{HEAD}\n{BASIN},2026-04-01,Service,60,13,,41,0\n"
    batch_id = bring(register, tmp_path, text, "retest.csv").batch_id
    assert only(register).state is ActionState.RETESTED
    assert batch_id is not None
    undo(register, batch_id)
    assert only(register).state is ActionState.OPEN


def test_that_an_action_is_about_every_outlet_of_its_valve(register: Register) -> None:
    record(register, HOT, ref=SHOWER)
    (line,) = [
        each for each in browse_actions.action_lines(register, TODAY) if each.outlet.reference == SHOWER
    ]
    assert line.also_serves == (OTHER,)
    use(register, UseStep.TAKE_OUT, OTHER, action_id=line.action.id)
    with pytest.raises(EntryFault, match="A finding that asks for it to be out of use stands"):
        use(register, UseStep.PUT_BACK, OTHER)
    with pytest.raises(EntryFault, match="about another valve than MM/G/G01/WHB1"):
        use(register, UseStep.TAKE_OUT, BASIN, action_id=line.action.id)


def test_that_an_outlet_taken_out_for_a_lesser_fault_waits_for_its_retest_too(register: Register) -> None:
    record(register, replace(GOOD, cap_refitted=False))
    action = only(register)
    assert not action.stop_codes
    use(register, UseStep.TAKE_OUT)
    move(register, Step.PUT_RIGHT)
    with pytest.raises(EntryFault, match=f"Action {action.id} asks for a retest that has not passed"):
        use(register, UseStep.PUT_BACK)
    with pytest.raises(EntryFault, match="the outlet is out of use: test again first"):
        move(register, Step.CANCEL)
    record(register, on=TODAY)
    use(register, UseStep.PUT_BACK)


def test_that_taking_out_of_use_asks_who_was_told_and_why(register: Register) -> None:
    for fields, words in (({"who_told": " "}, "Nobody in charge"), ({"why": ""}, "Nothing was said of why")):
        with pytest.raises(EntryFault, match=words):
            use(register, UseStep.TAKE_OUT, **fields)
    with pytest.raises(EntryFault, match="it can't be put back in use"):
        use(register, UseStep.PUT_BACK)
    with pytest.raises(EntryFault, match="lies ahead"):
        use(register, UseStep.TAKE_OUT, on=TODAY + timedelta(days=2))
    use(register, UseStep.TAKE_OUT)
    with pytest.raises(EntryFault, match="out of use since 25 Nov 2026"):
        use(register, UseStep.PUT_BACK, on=DAY)
    use(register, UseStep.PUT_BACK)
    assert stands(register) is OutletUse.IN_USE


def test_that_a_retired_outlet_taken_up_again_is_out_of_use_first(register: Register) -> None:
    use(register, UseStep.RETIRE)
    assert browse.find_outlet(register, BASIN).retired_on == TODAY
    assert stands(register) is OutletUse.RETIRED
    use(register, UseStep.TAKE_UP)
    assert browse.find_outlet(register, BASIN).retired_on is None
    assert stands(register) is OutletUse.OUT_OF_USE
    use(register, UseStep.PUT_BACK)
    assert stands(register) is OutletUse.IN_USE


def test_that_an_action_at_a_retired_outlet_is_cancelled_and_its_finding_still_keeps_it_out_of_use(
    register: Register,
) -> None:
    record(register, HOT)
    with pytest.raises(EntryFault, match="asks for the outlet to be out of use"):
        move(register, Step.CANCEL)
    use(register, UseStep.RETIRE)
    move(register, Step.CANCEL, why="the basin was taken away")
    use(register, UseStep.TAKE_UP)
    with pytest.raises(EntryFault, match="A finding that asks for it to be out of use stands"):
        use(register, UseStep.PUT_BACK)


def test_that_a_replacement_asks_for_commissioning_and_ends_what_was_open(register: Register) -> None:
    record(register, HOT)
    use(register, UseStep.TAKE_OUT)
    outlet_id = browse.find_outlet(register, BASIN).id
    replace_valve(register, outlet_id, Valve(0, "Make D", "D1", "D-9"), on=TODAY, who=WHO, at=NOW)
    old, new = at(register)
    assert old.state is ActionState.CANCELLED
    assert old.events[-1].draft.why == (
        f"The body was taken out on 25 Nov 2026; action {new.id} asks for the new one's commissioning."
    )
    assert (new.opening.kind, new.state) == (ActionKind.COMMISSIONING, ActionState.OPEN)
    with pytest.raises(
        EntryFault, match=f"Action {new.id} asks for a retest that has not passed: Commission"
    ):
        use(register, UseStep.PUT_BACK)
    with pytest.raises(EntryFault, match="out of use until the valve is commissioned"):
        move(register, Step.CANCEL)
    done = record(register, replace(GOOD, found_c=None), TODAY, kind=VisitKind.COMMISSIONING)
    assert (at(register)[-1].state, at(register)[-1].retest_id) == (ActionState.RETESTED, done)
    use(register, UseStep.PUT_BACK)


def test_that_a_rule_that_no_longer_finds_fault_cancels_the_action(register: Register) -> None:
    record(register, replace(GOOD, found_c=43.5, left_c=43.5))
    assert "left-above-ceiling" in only(register).codes
    said: dict[str, Any] = {"who": WHO, "at": NOW, "why": "decided by the water safety group"}
    set_rules.override(register, "uk-healthcare", "mixed.ceiling.basin", "estate", 45.0, **said)
    last = only(register)
    assert last.state is (
        ActionState.OPEN
        if last.codes - {"left-above-ceiling", "found-above-ceiling"}
        else (ActionState.CANCELLED)
    )


def test_that_a_target_of_the_sites_own_counts(register: Register) -> None:
    said: dict[str, Any] = {"who": WHO, "at": NOW, "why": "decided by the water safety group"}
    set_rules.override(register, "uk-healthcare", "action.target.out-of-use", "estate", 2.0, **said)
    set_rules.override(
        register, "uk-healthcare", "action.then-told", "estate", "the water safety group", **said
    )
    record(register, HOT, on=date(2026, 11, 2))
    (line,) = browse_actions.action_lines(register, TODAY, outlet_id=browse.find_outlet(register, BASIN).id)
    assert (line.action.target_on, line.days_late) == (date(2026, 11, 4), 21)
    assert line.escalation is not None
    assert line.escalation.whom == "the water safety group"
    assert "site's own value" in line.escalation.words


def test_that_an_action_is_opened_by_hand_and_retested_by_a_visit_that_is_named(register: Register) -> None:
    outlet_id = browse.find_outlet(register, BASIN).id
    said: dict[str, Any] = {"on": date(2026, 11, 2), "who": WHO, "at": NOW}
    number, _ = open_action(register, outlet_id, words="Clear the access.", asks_retest=True, **said)
    action = only(register)
    assert (action.id, action.opening.kind, action.owner) == (number, ActionKind.WORK, "")
    assert action.target_on == date(2026, 11, 30)
    visit_id = record(register)
    move(register, Step.RETEST, visit_id=visit_id)
    move(register, Step.CLOSE)
    assert only(register).state is ActionState.CLOSED
    for fields, words in (
        ({"words": " "}, "Nothing is said"),
        ({"words": "x", "on": TODAY + timedelta(days=2)}, "lies ahead"),
        ({"words": "x", "target_on": date(2026, 11, 1)}, "before it was seen"),
    ):
        with pytest.raises(EntryFault, match=words):
            open_action(register, outlet_id, **(said | fields))


def test_that_an_outlet_without_a_valve_has_actions_too(register: Register) -> None:
    with writing(register.database, WHO, "added an outlet", NOW) as tx:
        room_id = places.ensure_room(tx, "Marlpit Cross", "Main Block", "G", "G09", "Sluice")
        position_id = places.add_position(tx, room_id, "by the door")
        outlet_id = places.add_outlet(
            tx,
            room_id=room_id,
            position_id=position_id,
            reference="MM/G/G09/WHB1",
            name="Basin",
            use=Use.BASIN,
            user_group=UserGroup.STAFF,
            pipe_m=None,
        )
    open_action(register, outlet_id, words="Fit a valve.", on=DAY, who=WHO, at=NOW)
    use(register, UseStep.TAKE_OUT, "MM/G/G09/WHB1")
    move(register, Step.PUT_RIGHT, "MM/G/G09/WHB1")
    use(register, UseStep.PUT_BACK, "MM/G/G09/WHB1")
    move(register, Step.CLOSE, "MM/G/G09/WHB1")
    (line,) = browse_actions.action_lines(register, TODAY, live_only=False, outlet_id=outlet_id)
    assert (line.valve, line.action.state, line.use.use) == ("", ActionState.CLOSED, OutletUse.IN_USE)


def test_that_a_step_lies_neither_ahead_nor_before_the_finding(register: Register) -> None:
    record(register, HOT)
    with pytest.raises(EntryFault, match="lies ahead"):
        move(register, Step.PUT_RIGHT, on=TODAY + timedelta(days=2))
    with pytest.raises(EntryFault, match="It was found on 20 Nov 2026"):
        move(register, Step.PUT_RIGHT, on=DAY - timedelta(days=1))


def test_that_the_past_knows_the_action_as_it_stood(register: Register) -> None:
    record(register, HOT)
    outlet_id = browse.find_outlet(register, BASIN).id
    later = NOW + timedelta(hours=2)
    use_outlet(
        register,
        outlet_id,
        UseStep.TAKE_OUT,
        on=TODAY,
        why="too hot",
        who_told="the sister",
        who=WHO,
        at=later,
    )
    past = as_known_at(register, NOW + timedelta(hours=1))
    assert (only(past).state, stands(past)) == (ActionState.OPEN, OutletUse.IN_USE)
    assert (only(register).state, stands(register)) == (ActionState.MADE_SAFE, OutletUse.OUT_OF_USE)
    past.close()


def test_that_faults_of_a_register_from_before_there_were_actions_open_theirs_when_asked(
    register: Register,
) -> None:
    opened, _ = open_for_standing(register, who=WHO, at=NOW)
    assert opened == 0


def out_of_date(register: Register) -> int:
    ended = Calibration(date(2025, 1, 1), date(2025, 12, 31))
    add_instrument(register, "T-9", calibration=ended, who=WHO, at=NOW)
    number = {each.reference: each.id for each in browse.instruments(register)}["T-9"]
    return record(register, instrument_id=number)


def test_that_a_visit_with_an_instrument_out_of_date_counts_when_it_is_justified(register: Register) -> None:
    visit_id = out_of_date(register)
    page = browse.outlet_page(register, browse.find_outlet(register, BASIN).id, TODAY)
    assert page.judgement is not None
    assert page.judgement.verdict is Verdict.PUT_RIGHT
    assert only(register).codes == {"instrument-out-of-calibration"}
    justify_visit(register, visit_id, why="compared with T-1 the same day", who=WHO, at=NOW)
    page = browse.outlet_page(register, browse.find_outlet(register, BASIN).id, TODAY)
    assert page.judgement is not None
    assert page.judgement.verdict.satisfactory
    (finding,) = [each for each in page.judgement.findings if each.code == "instrument-out-of-calibration"]
    assert finding.severity is Severity.NOTE
    assert "Counts all the same, said A. Officer on 25 Nov 2026: compared with T-1" in finding.words
    assert only(register).state is ActionState.CANCELLED
    take_back_justification(register, visit_id, why="T-1 was out of date too", who=WHO, at=NOW)
    assert only(register).state is ActionState.OPEN


def test_that_a_justification_needs_a_reason_and_something_to_justify(register: Register) -> None:
    good = record(register)
    with pytest.raises(EntryFault, match="nothing to justify"):
        justify_visit(register, good, why="why not", who=WHO, at=NOW)
    with pytest.raises(EntryFault, match="No reason"):
        justify_visit(register, good, why=" ", who=WHO, at=NOW)
    with pytest.raises(EntryFault, match="No reason"):
        take_back_justification(register, good, why=" ", who=WHO, at=NOW)
    void_visit(register, good, reason="another basin", who=WHO, at=NOW)
    with pytest.raises(EntryFault, match="does not count"):
        justify_visit(register, good, why="why not", who=WHO, at=NOW)


def test_that_the_list_of_actions_is_narrowed_and_ordered(register: Register) -> None:
    record(register, HOT)
    record(register, replace(GOOD, cap_refitted=False), ref=SHOWER)
    move(register, Step.ASSIGN, owner="E. Fitter")
    lines = browse_actions.action_lines(register, TODAY)
    assert [each.outlet.reference for each in lines] == [BATH, BASIN, SHOWER]
    assert [
        each.outlet.reference for each in browse_actions.action_lines(register, TODAY, late_only=True)
    ] == [BATH]
    owned = browse_actions.action_lines(register, TODAY, owner="e. fitter")
    assert [each.outlet.reference for each in owned] == [BASIN]
    mended(register)
    move(register, Step.CLOSE)
    every = browse_actions.action_lines(register, TODAY, live_only=False)
    assert [each.action.state.live for each in every] == [True, True, False]
    assert every[-1].next_step == ""
    found = browse_actions.tally(register, TODAY)
    assert (found.live, found.late, found.unowned, found.out_of_use) == (2, 1, 2, 0)
    line = browse_actions.action_line(register, every[-1].action.id, TODAY)
    assert line.possible == (Step.NOTE, Step.REOPEN)


def test_that_an_outlet_page_says_what_may_be_done_and_why_not(register: Register) -> None:
    outlet_id = browse.find_outlet(register, BASIN).id
    life = browse_actions.outlet_life(register, outlet_id, TODAY)
    assert (life.may, life.refused, life.actions) == ((UseStep.TAKE_OUT, UseStep.RETIRE), "", ())
    record(register, HOT)
    use(register, UseStep.TAKE_OUT)
    life = browse_actions.outlet_life(register, outlet_id, TODAY)
    assert life.may == (UseStep.PUT_BACK, UseStep.RETIRE)
    assert "Test again first" in life.refused
    assert browse_actions.out_of_use(register)[outlet_id].since == TODAY

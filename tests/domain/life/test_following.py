from estate.domain.findings import Severity
from estate.domain.life.actions import Action, ActionDraft, ActionKind, ActionState, Step, opened
from estate.domain.life.following import follow
from estate.domain.visits import VisitKind
from tests.domain.life.builders import (
    HOT,
    NOW,
    SLOW,
    STABLE,
    TODAY,
    body,
    done,
    failed,
    followed,
    step,
    target,
    visit,
)

HOT_NOW = visit(1, failed())
COOL_AGAIN = visit(2, met=[HOT])


def only(actions: tuple[Action, ...]) -> Action:
    (action,) = actions
    return action


def test_that_a_finding_to_be_taken_out_of_use_opens_an_action_by_itself() -> None:
    action = only(followed([HOT_NOW]))
    assert (action.state, action.severity, action.outlet_id) == (ActionState.OPEN, Severity.OUT_OF_USE, 1)
    assert (action.codes, action.stop_codes, action.asks_retest) == (frozenset({HOT}), frozenset({HOT}), True)
    assert action.opening.words == "left-above-ceiling failed."
    assert action.target_on == target(Severity.OUT_OF_USE, HOT_NOW.on)


def test_that_nothing_is_written_twice() -> None:
    for series in ([HOT_NOW], [HOT_NOW, visit(2, failed(SLOW))], [HOT_NOW, COOL_AGAIN]):
        actions = followed(series)
        assert followed(series, actions) == actions


def test_that_old_history_that_a_later_visit_found_in_order_opens_nothing() -> None:
    assert followed([HOT_NOW, COOL_AGAIN]) == ()


def test_that_a_visit_that_left_the_check_untested_does_not_answer_it() -> None:
    assert only(followed([HOT_NOW, visit(2, met=[SLOW])])).state is ActionState.OPEN


def test_that_a_body_that_is_not_in_place_opens_nothing() -> None:
    assert followed([HOT_NOW], in_place=False) == ()


def test_that_faults_of_several_visits_make_one_action() -> None:
    slow = failed(SLOW, Severity.PUT_RIGHT)
    action = only(followed([HOT_NOW, visit(3, slow)]))
    assert action.findings == {(1, HOT), (3, SLOW)}
    assert [each.step for each in action.events] == [Step.FOUND_AGAIN]
    assert action.stop_codes == {HOT}


def test_that_many_failed_checks_are_told_with_their_number() -> None:
    checks = [failed(f"check-{number}") for number in range(5)]
    assert only(followed([visit(1, *checks)])).opening.words.endswith("; and 2 more.")


def test_that_the_same_fault_found_again_joins_its_action() -> None:
    first = followed([HOT_NOW])
    again = only(followed([HOT_NOW, visit(9, failed())], first))
    assert again.findings == {(1, HOT), (9, HOT)}
    assert again.target_on == first[0].target_on


def test_that_a_fault_found_again_after_it_was_put_right_opens_it_with_a_new_target() -> None:
    mended = done(only(followed([HOT_NOW])), step(Step.PUT_RIGHT))
    again = only(followed([HOT_NOW, visit(9, failed())], [mended]))
    assert again.state is ActionState.OPEN
    assert again.target_on == target(Severity.OUT_OF_USE, visit(9).on)


def test_that_a_worse_fault_brings_the_target_forward() -> None:
    slow = followed([visit(1, failed(SLOW, Severity.PUT_RIGHT))])
    worse = only(followed([visit(1, failed(SLOW, Severity.PUT_RIGHT)), visit(2, failed())], slow))
    assert worse.severity is Severity.OUT_OF_USE
    assert worse.target_on == target(Severity.OUT_OF_USE, visit(2).on)


def test_that_a_later_visit_in_order_passes_the_retest() -> None:
    action = only(followed([HOT_NOW, COOL_AGAIN], followed([HOT_NOW])))
    assert (action.state, action.retest_id) == (ActionState.RETESTED, 2)


def test_that_a_retest_has_to_find_every_failed_check_in_order() -> None:
    both = visit(1, failed(), failed(STABLE))
    half = only(followed([both, COOL_AGAIN], followed([both])))
    assert half.state is ActionState.OPEN
    whole = only(followed([both, COOL_AGAIN, visit(3, met=[STABLE])], [half]))
    assert (whole.state, whole.retest_id) == (ActionState.RETESTED, 3)


def test_that_a_voided_retest_opens_the_action_again() -> None:
    passed = followed([HOT_NOW, COOL_AGAIN], followed([HOT_NOW]))
    assert only(followed([HOT_NOW], passed)).state is ActionState.OPEN


def test_that_a_voided_retest_opens_a_closed_action_again() -> None:
    passed = followed([HOT_NOW, COOL_AGAIN], followed([HOT_NOW]))
    closed = done(only(passed), step(Step.CLOSE))
    assert only(followed([HOT_NOW], [closed])).target_on == target(Severity.OUT_OF_USE, TODAY)
    again = only(followed([HOT_NOW, visit(3, failed(SLOW))], [closed]))
    assert again.state is ActionState.OPEN
    assert again.findings == {(1, HOT), (3, SLOW)}
    assert followed([HOT_NOW, visit(3, failed(SLOW))], [again]) == (again,)


def test_that_another_visit_takes_the_place_of_a_voided_retest() -> None:
    passed = followed([HOT_NOW, COOL_AGAIN], followed([HOT_NOW]))
    action = only(followed([HOT_NOW, visit(5, met=[HOT])], passed))
    assert (action.state, action.retest_id) == (ActionState.RETESTED, 5)


def test_that_the_fault_of_a_closed_action_found_anew_opens_another() -> None:
    closed = done(only(followed([HOT_NOW, COOL_AGAIN], followed([HOT_NOW]))), step(Step.CLOSE))
    actions = followed([HOT_NOW, COOL_AGAIN, visit(9, failed())], [closed])
    assert [each.state for each in actions] == [ActionState.CLOSED, ActionState.OPEN]


def test_that_a_lost_retest_of_a_closed_action_joins_the_live_one() -> None:
    closed = done(only(followed([HOT_NOW, COOL_AGAIN], followed([HOT_NOW]))), step(Step.CLOSE))
    two = followed([HOT_NOW, COOL_AGAIN, visit(9, failed(SLOW))], [closed])
    series = [HOT_NOW, visit(9, failed(SLOW))]
    first, second = followed(series, two)
    assert first.state is ActionState.CLOSED
    assert second.findings == {(1, HOT), (9, SLOW)}
    assert followed(series, (first, second)) == (first, second)


def test_that_a_voided_finding_cancels_its_action_with_the_reason() -> None:
    action = only(
        followed([], followed([HOT_NOW]), gone={1: "The visit of 2 Jan 2026 is void: wrong outlet"})
    )
    assert action.state is ActionState.CANCELLED
    assert action.events[-1].draft.why == "The visit of 2 Jan 2026 is void: wrong outlet"


def test_that_a_finding_judged_otherwise_now_cancels_its_action() -> None:
    action = only(followed([visit(1, met=[HOT])], followed([HOT_NOW])))
    assert action.state is ActionState.CANCELLED
    assert action.events[-1].draft.why.startswith("Judged again")


def test_that_a_finding_that_counts_again_opens_its_action_again() -> None:
    cancelled = followed([], followed([HOT_NOW]))
    assert only(followed([HOT_NOW], cancelled)).state is ActionState.OPEN


def test_that_an_action_cancelled_by_a_person_stays_so_until_the_fault_is_found_anew() -> None:
    slow = visit(1, failed(SLOW, Severity.PUT_RIGHT))
    cancelled = done(only(followed([slow])), step(Step.CANCEL))
    assert followed([slow], [cancelled]) == (cancelled,)
    anew = followed([slow, visit(4, failed(SLOW, Severity.PUT_RIGHT))], [cancelled])
    assert [each.state for each in anew] == [ActionState.CANCELLED, ActionState.OPEN]


def test_that_a_corrected_finding_keeps_its_action() -> None:
    corrected = visit(2, failed(), corrects=1)
    action = only(followed([corrected], followed([HOT_NOW])))
    assert (action.state, [each.step for each in action.events]) == (ActionState.OPEN, [Step.CORRECT])
    assert followed([corrected], [action]) == (action,)


def test_that_a_corrected_finding_answered_later_passes_the_retest() -> None:
    series = [visit(2, failed(), corrects=1), visit(3, met=[HOT])]
    assert only(followed(series, followed([HOT_NOW]))).state is ActionState.RETESTED


def test_that_a_visit_in_doubt_answers_nothing_and_asks_for_another() -> None:
    doubt = failed("instrument-out-of-calibration", Severity.PUT_RIGHT)
    action = only(followed([HOT_NOW, visit(2, doubt, met=[HOT])], followed([HOT_NOW])))
    assert action.state is ActionState.OPEN
    assert action.codes == {HOT, doubt.code}


def test_that_two_live_actions_of_one_body_take_a_fault_once() -> None:
    closed = done(only(followed([HOT_NOW, COOL_AGAIN], followed([HOT_NOW]))), step(Step.CLOSE))
    series = [HOT_NOW, COOL_AGAIN, visit(9, failed(SLOW))]
    first, second = followed(series, [closed])
    both = (done(first, step(Step.REOPEN)), second)
    later = [*series, visit(12, failed(STABLE))]
    after = followed(later, both)
    assert [(12, STABLE) in each.findings for each in after] == [False, True]
    assert after[0].state is ActionState.RETESTED


def commissioning(number: int = 1) -> Action:
    draft = ActionDraft(
        outlet_id=1,
        kind=ActionKind.COMMISSIONING,
        severity=Severity.OUT_OF_USE,
        words="Commission it.",
        found_on=visit(0).on,
        asks_retest=True,
        valve_id=1,
    )
    return opened(number, draft, "A. Officer", NOW)


def test_that_a_satisfactory_commissioning_answers_what_a_replacement_asked_for() -> None:
    tested = visit(1, met=[HOT])
    assert followed([tested], [commissioning()]) == (commissioning(),)
    done_now = visit(2, met=[HOT], kind=VisitKind.COMMISSIONING)
    action = only(followed([tested, done_now], [commissioning()]))
    assert (action.state, action.retest_id) == (ActionState.RETESTED, 2)
    assert followed([tested, done_now], [action]) == (action,)
    assert only(followed([tested], [action])).state is ActionState.OPEN


def test_that_a_failed_commissioning_opens_a_fault_beside_it() -> None:
    bad = visit(2, failed(), kind=VisitKind.COMMISSIONING)
    first, second = followed([bad], [commissioning()])
    assert (first.state, second.opening.kind) == (ActionState.OPEN, ActionKind.FAULT)


def test_that_a_policy_without_a_day_leaves_the_target_empty() -> None:
    found = body([HOT_NOW, visit(2, failed(SLOW))])
    (deed,) = follow(found, lambda severity, on: None, TODAY)
    assert deed.opening is not None
    assert deed.opening.target_on is None
    assert [each.target_on for each in deed.events] == [None]

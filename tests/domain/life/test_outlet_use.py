from datetime import date

from estate.domain.life.actions import ActionState, Step
from estate.domain.life.faults import read_faults
from estate.domain.life.next_step import next_step, possible_steps
from estate.domain.life.outlet_use import OutletUse, UseDraft, UseEvent, UseOfOutlet, UseStep, use_of
from tests.domain.life.builders import NOW, TODAY, done, failed, followed, step, visit, work
from tests.domain.life.test_following import commissioning

DAY = date(2026, 11, 2)
IN_USE, OUT = UseOfOutlet(), UseOfOutlet(OutletUse.OUT_OF_USE)


def event(number: int, what: UseStep, on: date = DAY, action_id: int | None = None) -> UseEvent:
    return UseEvent(number, 1, UseDraft(what, on, "said", action_id=action_id), "A. Officer", NOW)


def test_that_an_outlet_without_events_is_in_use() -> None:
    assert use_of((), None) == UseOfOutlet(OutletUse.IN_USE)


def test_that_an_outlet_stands_as_its_last_event_left_it() -> None:
    out = use_of([event(1, UseStep.TAKE_OUT, action_id=4)], None)
    assert (out.use, out.since, out.action_id) == (OutletUse.OUT_OF_USE, DAY, 4)
    back = use_of([event(1, UseStep.TAKE_OUT, action_id=4), event(2, UseStep.PUT_BACK, TODAY)], None)
    assert (back.use, back.since, back.action_id) == (OutletUse.IN_USE, TODAY, None)


def test_that_an_event_outside_the_table_does_not_count() -> None:
    found = use_of([event(1, UseStep.PUT_BACK)], None)
    assert (found.use, found.since, len(found.events)) == (OutletUse.IN_USE, None, 1)


def test_that_an_asset_list_retires_an_outlet_too_and_takes_it_up_out_of_use() -> None:
    retired = use_of((), DAY)
    assert (retired.use, retired.since) == (OutletUse.RETIRED, DAY)
    assert use_of([event(1, UseStep.RETIRE)], None).use is OutletUse.OUT_OF_USE


def test_that_the_next_step_follows_the_state_of_action_and_outlet() -> None:
    (hot,) = followed([visit(1, failed())])
    assert next_step(hot, IN_USE).startswith("Take the outlet out of use now")
    assert next_step(hot, OUT) == "Have it put right by a competent person, then test again."
    assert next_step(done(hot, step(Step.PUT_RIGHT)), OUT).startswith("Test again; a valve that was adjusted")
    (passed,) = followed([visit(1, failed()), visit(2, met=["left-above-ceiling"])], [hot])
    assert next_step(passed, OUT) == "The retest passed: put the outlet back in use and close it."
    assert next_step(passed, IN_USE) == "The retest passed: close it."
    assert next_step(done(passed, step(Step.CLOSE)), IN_USE) == ""
    assert next_step(work(), IN_USE) == "Have it put right by a competent person."
    assert next_step(done(work(), step(Step.PUT_RIGHT)), IN_USE) == "Close it."
    assert next_step(commissioning(), OUT) == "Commission the valve and record the visit."
    (doubt,) = followed([visit(1, failed("instrument-out-of-calibration"))])
    assert next_step(doubt, OUT).startswith("Test again with an instrument in calibration")


def test_that_what_a_person_may_do_follows_the_table() -> None:
    (hot,) = followed([visit(1, failed())])
    assert Step.RETEST not in possible_steps(hot)
    assert Step.RETEST in possible_steps(work())
    assert Step.CLOSE not in possible_steps(done(hot, step(Step.PUT_RIGHT)))
    assert Step.CLOSE in possible_steps(done(work(), step(Step.PUT_RIGHT)))


def test_that_age_and_lateness_end_when_it_is_done() -> None:
    (hot,) = followed([visit(1, failed())])
    assert hot.age_days(TODAY) == (TODAY - visit(1).on).days
    assert hot.days_late(TODAY) > 0
    cancelled = done(work(target_on=date(2026, 11, 3)), step(Step.CANCEL, on=date(2026, 11, 12)))
    assert cancelled.state is ActionState.CANCELLED
    assert (cancelled.age_days(TODAY), cancelled.days_late(TODAY)) == (10, 0)
    assert work().days_late(TODAY) == 0
    assert read_faults([]).standing == ()

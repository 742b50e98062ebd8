"""The first page of a register, and the shares of past days: a second way to the same answer."""

from dataclasses import replace
from datetime import date, timedelta

from estate.domain.compliance import summarise
from estate.domain.life.outlet_use import UseStep
from estate.domain.today import Behind, Figure, Share, Today, month_ends
from estate.operations import browse
from estate.operations.past_shares import past_shares
from estate.operations.plan_basis import read_plan_basis
from estate.operations.plan_retests import due_lines
from estate.operations.register import Register
from estate.operations.today import today_of, with_past
from estate.operations.use_outlet import use_outlet
from tests.builders import GOOD, TODAY
from tests.operations.conftest import NOW, WHO
from tests.operations.test_actions import BASIN, BATH, HOT, SHOWER, record
from tests.operations.test_learn import learned

__all__ = ["learned"]


def shares(register: Register, *days: date) -> tuple[Share, ...]:
    with register.database.reading() as session:
        return past_shares(session, read_plan_basis(session, register.published, TODAY), days)


def as_planned(register: Register, *days: date) -> tuple[Share, ...]:
    """The same by planning as at each day."""
    totals = [(day, summarise(due_lines(register, day), day).total) for day in days]
    return tuple(Share(day, total.valves, total.good) for day, total in totals)


def figure(today: Today, behind: Behind) -> Figure:
    (found,) = [each for each in today.figures if each.asks.behind is behind]
    return found


def use(register: Register, step: UseStep, ref: str, on: date = TODAY) -> None:
    outlet_id = browse.find_outlet(register, ref).id
    use_outlet(register, outlet_id, step, on=on, why="too hot", who_told="the ward sister", who=WHO, at=NOW)


def test_that_a_past_day_says_what_planning_as_at_that_day_says(register: Register) -> None:
    days = tuple(date(2026, 1, 1) + timedelta(days=17 * number) for number in range(20))
    found = shares(register, *days)
    assert found == as_planned(register, *days)
    assert len({each.good for each in found}) > 2


def test_that_fits_made_by_a_day_are_taken_for_it(learned: Register) -> None:
    days = (*month_ends(TODAY, 12), TODAY)
    assert shares(learned, *days) == as_planned(learned, *days)


def test_that_a_failure_that_was_not_tested_again_stands_on_past_days(register: Register) -> None:
    untested = replace(GOOD, cold_isolated=replace(GOOD.cold_isolated, residual_ml_min=None, shut_s=None))
    leaking = replace(GOOD.cold_isolated, residual_ml_min=900.0, said_to_shut=False)
    record(register, replace(GOOD, cold_isolated=leaking), date(2026, 5, 4))
    record(register, replace(untested, small_draw_c=None, cap_refitted=None), date(2026, 6, 1))
    record(register, HOT, date(2026, 8, 3), SHOWER)
    record(register, GOOD, date(2026, 9, 1))
    days = tuple(date(2026, month, 20) for month in range(1, 12))
    assert shares(register, *days) == as_planned(register, *days)


def test_that_an_outlet_retired_later_still_counts_before(register: Register) -> None:
    before, retired = date(2026, 3, 31), date(2026, 6, 1)
    (then,) = shares(register, before)
    use(register, UseStep.RETIRE, BASIN, retired)
    assert shares(register, before, retired) == (then, Share(retired, 3, 0))


def test_that_no_day_asked_gives_no_share(register: Register) -> None:
    assert shares(register) == ()
    assert today_of(register, TODAY).shares == (Share(TODAY, 4, 0),)


def test_that_the_first_page_tells_of_the_register(register: Register) -> None:
    today = with_past(register, today_of(register, TODAY))
    assert (today.estate, today.valves, len(today.shares)) == ("Marlpit Cross", 4, 13)
    assert today.share == as_planned(register, TODAY)[0]
    assert len(today.not_in_date.outlet_ids) == today.valves - today.share.good
    bath = browse.find_outlet(register, BATH).id
    assert figure(today, Behind.STOP).asks.outlet_ids == {bath}
    assert figure(today, Behind.OVERDUE).count == len(today.workload.overdue)
    assert figure(today, Behind.SHOWER_HEADS).count == 2
    assert figure(today, Behind.OUT_OF_USE).count == 0


def test_that_an_outlet_taken_out_of_use_is_told_as_such(register: Register) -> None:
    use(register, UseStep.TAKE_OUT, BATH)
    today = with_past(register, today_of(register, TODAY))
    assert figure(today, Behind.STOP).count == 0
    (out,) = today.out_of_use
    assert (out.outlet.reference, out.use.since) == (BATH, TODAY)
    assert figure(today, Behind.FLUSHING).asks.outlet_ids == {out.outlet.id}


def test_that_an_empty_register_has_no_share(empty: Register) -> None:
    today = with_past(empty, today_of(empty, TODAY))
    assert {each.of_one for each in today.shares} == {None}
    assert today.workload.overdue == ()
    assert not any(each.count for each in today.figures)


def test_that_a_retest_asked_for_by_a_satisfactory_visit_ends_the_window_on_past_days(
    register: Register,
) -> None:
    record(register, replace(GOOD, found_c=43.1, adjusted=True), date(2026, 3, 2))
    days = tuple(date(2026, 3, 2) + timedelta(weeks=week) for week in range(16))
    found = shares(register, *days)
    assert found == as_planned(register, *days)

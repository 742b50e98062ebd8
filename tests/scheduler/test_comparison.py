import pytest

from estate.scheduler.comparison import compare, times_fewer
from estate.scheduler.policies import DriftRisk, Fixed
from estate.scheduler.simulate import Trial
from estate.scheduler.truths import TRUTHS

SIX_MONTHLY, OURS = Fixed(26), DriftRisk(0.05)


def test_that_with_no_more_visits_than_six_monthly_it_is_above_the_ceiling_3_5_times_less() -> None:
    """The prototype's figures are 2.00 visits and 2.06 %, 2.11 visits and 0.58 %."""
    outcomes = compare([Trial(valves=2500)], (SIX_MONTHLY, OURS))
    six_monthly, ours = outcomes
    assert six_monthly.visits_a_year == pytest.approx(2.00, abs=0.01)
    assert six_monthly.weeks_above == pytest.approx(0.0206, abs=0.003)
    assert ours.visits_a_year <= six_monthly.visits_a_year
    assert ours.weeks_above < 0.0058
    assert times_fewer(outcomes, OURS.name, SIX_MONTHLY.name) > 3.5


def test_that_a_smaller_risk_costs_visits_and_saves_weeks() -> None:
    strict, loose = compare([Trial(valves=600, years=4)], (DriftRisk(0.01), DriftRisk(0.10)))
    assert strict.visits_a_year > loose.visits_a_year
    assert strict.weeks_above < loose.weeks_above


def test_that_outcomes_come_trial_by_trial_with_progress_to_the_end() -> None:
    told: list[float] = []
    trials = [Trial(truth, valves=20, years=1) for truth in TRUTHS[:2]]
    outcomes = compare(trials, (Fixed(13), Fixed(26)), told.append)
    assert [(each.truth, each.policy) for each in outcomes] == [
        (truth.name, policy.name) for truth in TRUTHS[:2] for policy in (Fixed(13), Fixed(26))
    ]
    assert told == sorted(told)
    assert told[-1] == 1.0

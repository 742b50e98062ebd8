import numpy as np
import pytest

from estate.scheduler.arrays import Floats
from estate.scheduler.comparison import POLICIES
from estate.scheduler.drift import run_filter
from estate.scheduler.fit import ASSUMED
from estate.scheduler.panel import Panel
from estate.scheduler.passage import reached
from estate.scheduler.policies import (
    DriftRisk,
    Fixed,
    Policy,
    SimpleResponse,
    Stages,
    Staircase,
    small_change_weeks,
)
from estate.scheduler.records import Records
from estate.scheduler.simulate import Trial, recorded
from estate.scheduler.staging import staged_weeks
from estate.scheduler.states import DriftParameters, DriftState

ESTATE = recorded(Fixed(26), Trial(valves=300, years=4))


def history(*found: float, apart: float = 13.0) -> Panel:
    """One valve set to 41.0 and found as given, left alone."""
    records = Records(1, 41.0)
    for number, each in enumerate(found, start=1):
        one = np.array([0])
        records.add(one, number * apart, np.array([each]), np.array([np.nan]), np.array([False]))
    return records.panel()


def weeks(policy: Policy, panel: Panel) -> Floats:
    return policy.weeks_to_next(panel)


@pytest.mark.parametrize("policy", POLICIES, ids=lambda each: each.name)
def test_that_every_policy_gives_each_valve_an_interval_within_a_year(policy: Policy) -> None:
    found = weeks(policy.learned(ESTATE), ESTATE)
    assert found.shape == (300,)
    assert ((found >= 1) & (found <= 52)).all()


def test_that_names_tell_the_policies_apart() -> None:
    assert len({policy.name for policy in POLICIES}) == len(POLICIES)


def test_that_a_fixed_interval_is_fixed() -> None:
    assert weeks(Fixed(39), history(41.0, 48.0)).tolist() == [39]


@pytest.mark.parametrize(
    ("found", "expected"),
    [([], 26), ([41.0], 32.5), ([42.8], 26), ([43.1], 13), ([38.9], 13), ([41.0] * 9, 52), ([44.0] * 9, 4)],
)
def test_that_the_staircase_climbs_from_half_a_year(found: list[float], expected: float) -> None:
    assert weeks(Staircase(), history(*found))[0] == expected


def test_that_method_a1_responds_from_half_a_year() -> None:
    assert weeks(SimpleResponse(), history())[0] == 26
    assert weeks(SimpleResponse(), history(41.5, 43.0))[0] == pytest.approx(26 * 1.1**2)
    assert weeks(SimpleResponse(), history(41.0, 43.5))[0] == pytest.approx(26 * 1.1 * (1 - 0.8365), rel=1e-3)
    assert weeks(SimpleResponse(), history(float("nan")))[0] == 26


def test_that_the_stages_come_first_and_end_at_a_year() -> None:
    assert weeks(Stages(), history())[0] == 8
    assert weeks(Stages(10.0), history(41.0, 41.0, 41.0))[0] == 52


@pytest.mark.parametrize("risk", [0.01, 0.05, 0.2])
def test_that_a_drift_interval_uses_up_the_risk_accepted(risk: float) -> None:
    policy = DriftRisk(risk, floor=0.1, longest=500.0)
    found = weeks(policy, ESTATE)
    state = run_filter(ESTATE, ASSUMED).state
    chance = reached(state, ASSUMED.sigma, 43.0, found[:, None])[:, 0]
    drifting = (found > 0.1) & (found < 500) & (found < small_change_weeks(state))
    assert drifting.sum() > 100
    assert chance[drifting] == pytest.approx(risk, rel=0.05)
    assert (chance[found > 0.1] <= risk + 1e-9).all()


def test_that_a_smaller_risk_never_gives_a_later_test() -> None:
    assert (weeks(DriftRisk(0.01), ESTATE) <= weeks(DriftRisk(0.05), ESTATE)).all()


def test_that_no_drift_interval_is_below_the_floor_or_beyond_a_year() -> None:
    assert weeks(DriftRisk(0.05), history(43.4, 45.0))[0] == 4
    quiet = DriftRisk(0.05, parameters=DriftParameters(0.0, 1e-4, 1e-3, 0.1))
    assert weeks(quiet, history(41.0, 41.0))[0] == 52


def test_that_with_stages_first_a_drift_interval_is_never_later_than_they_allow() -> None:
    staged = np.maximum(staged_weeks(ESTATE, 1.0), 1.0)
    both = weeks(DriftRisk(0.05, growth=1.0), ESTATE)
    assert (both <= staged).all()
    assert (both <= weeks(DriftRisk(0.05), ESTATE)).all()


def test_that_a_fast_faller_is_tested_before_its_change_is_more_than_small() -> None:
    one = np.ones(1)
    state = DriftState(41 * one, -0.1 * one, 0.01 * one, 0 * one, 0 * one)
    assert small_change_weeks(state)[0] == pytest.approx(20)


def test_that_the_risk_policy_learns_from_the_records_and_the_others_do_not() -> None:
    learned = DriftRisk().learned(ESTATE)
    assert learned.parameters != ASSUMED
    assert learned.parameters.mu == pytest.approx(0.015, abs=0.01)
    assert Fixed(26).learned(ESTATE) == Fixed(26)
    assert Stages().learned(ESTATE) == Stages()
    assert Staircase().learned(ESTATE) == Staircase()
    assert SimpleResponse().learned(ESTATE) == SimpleResponse()

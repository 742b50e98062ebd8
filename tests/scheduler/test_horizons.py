from dataclasses import replace
from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from estate.domain.findings import Verdict
from estate.domain.learned import DriftEstimate, GroupParameters, Learned, ShutOffEstimate
from estate.domain.standing import OutletState, state_of
from estate.domain.visits import VisitKind
from estate.domain.windows import Candidate
from estate.scheduler.horizons import drift_candidate, shut_off_candidate
from estate.scheduler.interval import plan
from estate.scheduler.life import ValveLife
from tests.builders import TODAY, draft, healthcare

BEGAN = date(2024, 1, 8)
REFERENCE = draft(BEGAN, VisitKind.COMMISSIONING, found_c=None, left_c=41.0)
TESTS = tuple(draft(BEGAN + timedelta(weeks=week), found_c=41.2, left_c=41.2) for week in (7, 13, 26, 52))
LIFE = ValveLife(BEGAN, (REFERENCE, *TESTS))
LAST = TESTS[-1].on
GROUP = GroupParameters("A15", 0.01, 0.02, 0.1, 0.2, 2.0, 40.0, 30, 200, LAST, "1")
DRIFT = DriftEstimate(LAST, 41.8, 0.2, 0.03, 0.01, 0.0005, ((26, 0.2),), 12.5, 0.05)
SHUT = ShutOffEstimate(2.0, 0, 0.05, ((26, 0.01),), 20.5, 0.02)


def days(window: Candidate) -> tuple[int, int]:
    return ((window.not_before - LAST).days, (window.not_after - LAST).days)


def test_that_the_drift_asks_for_its_horizon_rounded_down_to_a_day() -> None:
    found = drift_candidate(LAST, healthcare(), DRIFT)
    assert found is not None
    assert found.reason.code == "drift"
    assert days(found) == (75, 87)
    for words in ("41.8 ± 0.4", "+0.030 ± 0.020", "5.0 %", "12.5 weeks"):
        assert words in found.reason.words


def test_that_the_expected_change_stays_small() -> None:
    steep = replace(DRIFT, drift_k_per_week=-0.1, horizon_weeks=52.0)
    found = drift_candidate(LAST, healthcare(), steep)
    assert found is not None
    assert days(found)[1] == 140
    assert "expected change stays within 2 K for 20.0 weeks" in found.reason.words


def test_that_below_the_floor_the_valve_is_put_right_instead() -> None:
    near = replace(DRIFT, horizon_weeks=1.5)
    window = plan(LIFE, healthcare(), TODAY, Learned(GROUP, near))
    assert window.reason.code == "drift-put-right"
    assert (window.not_after - LAST).days == 28
    assert "put the valve right" in window.reason.words
    assert state_of(Verdict.SATISFACTORY, window, LAST) is OutletState.PUT_RIGHT


def test_that_the_shut_off_asks_for_its_horizon() -> None:
    found = shut_off_candidate(LAST, healthcare(), SHUT)
    assert found is not None
    assert (found.reason.code, days(found)[1]) == ("shut-off", 143)
    assert "2.0 %" in found.reason.words


def test_that_nothing_learned_asks_for_nothing() -> None:
    for drift in (None, replace(DRIFT, accepted_risk=None), replace(DRIFT, horizon_weeks=None)):
        assert drift_candidate(LAST, healthcare(), drift) is None
    for shut in (None, replace(SHUT, accepted_share=None), replace(SHUT, horizon_weeks=None)):
        assert shut_off_candidate(LAST, healthcare(), shut) is None


def test_that_the_earliest_of_all_reasons_binds() -> None:
    codes = {
        12.5: "drift",
        200.0: "shut-off",
    }
    for horizon, code in codes.items():
        learned = Learned(GROUP, replace(DRIFT, horizon_weeks=horizon, drift_k_per_week=0.001), SHUT)
        assert plan(LIFE, healthcare(), TODAY, learned).reason.code == code


@pytest.mark.parametrize("growth", [1.0, 1.25, 1.5])
def test_that_an_interval_grows_only_by_the_policys_factor(growth: float) -> None:
    rules = healthcare()
    value = replace(rules.values["policy.growth"], value=growth)
    grown = replace(rules, values={**rules.values, "policy.growth": value})
    window = plan(LIFE, grown, TODAY)
    shown = next(each for each in window.candidates if each.reason.code == "shown-interval")
    assert (shown.not_after - LAST).days == int(26 * 7 * growth)


@given(
    gaps=st.lists(st.integers(1, 120), min_size=1, max_size=10),
    found=st.lists(st.one_of(st.none(), st.floats(36, 48)), min_size=10, max_size=10),
    horizon=st.floats(0, 520),
    slope=st.floats(-0.5, 0.5),
    share=st.floats(0, 520),
)
def test_that_no_estimate_passes_the_limits_or_falls_below_the_floor(
    gaps: list[int], found: list[float | None], horizon: float, slope: float, share: float
) -> None:
    """Never later than without the estimate, and never earlier than the floor because of it."""
    visits, number = [REFERENCE], 0
    for gap, value in zip(gaps, found, strict=False):
        number += gap
        visits.append(draft(BEGAN + timedelta(weeks=number), found_c=value, left_c=value))
    life, last = ValveLife(BEGAN, tuple(visits)), visits[-1].on
    learned = Learned(
        GROUP,
        replace(DRIFT, horizon_weeks=horizon, drift_k_per_week=slope),
        replace(SHUT, horizon_weeks=share),
    )
    without, window = (plan(life, healthcare(), TODAY, each) for each in (None, learned))
    assert window.not_after <= without.not_after <= last + timedelta(days=366)
    if window.not_after < without.not_after:
        assert window.reason.code.startswith(("drift", "shut-off"))
        assert window.not_after >= last + timedelta(weeks=4)
    assert all(each.not_before <= each.not_after for each in window.candidates)

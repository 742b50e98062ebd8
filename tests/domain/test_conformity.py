import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import integrate, stats

from estate.domain.conformity import (
    Decision,
    decide,
    decide_lower,
    probability_above,
    probability_conforming,
    two_sided_probability,
)
from estate.errors import EntryFault

readings = st.floats(min_value=-100, max_value=100).map(lambda value: round(value, 2))
uncertainties = st.floats(min_value=0.01, max_value=5).map(lambda value: round(value, 2))
ORDER = [Decision.PASS, Decision.CONDITIONAL_PASS, Decision.CONDITIONAL_FAIL, Decision.FAIL]


@given(readings, readings, uncertainties)
def test_that_both_sides_of_a_limit_make_up_certainty(measured: float, limit: float, u: float) -> None:
    total = probability_conforming(measured, limit, u) + probability_above(measured, limit, u)
    assert total == pytest.approx(1)


@pytest.mark.parametrize(
    ("measured", "limit", "u"), [(42.4, 43.0, 0.25), (43.3, 43.0, 0.4), (40.0, 43.0, 1.0)]
)
def test_that_the_probability_is_the_area_under_the_bell_curve(
    measured: float, limit: float, u: float
) -> None:
    area, _ = integrate.quad(lambda x: stats.norm.pdf(x, measured, u), measured - 12 * u, limit)
    assert probability_conforming(measured, limit, u) == pytest.approx(area, abs=1e-9)


def test_that_two_limits_leave_what_neither_takes_away() -> None:
    inside = two_sided_probability(13.6, 12.5, 16.3, 1.8)
    below = 1 - probability_above(13.6, 12.5, 1.8)
    above = 1 - probability_conforming(13.6, 16.3, 1.8)
    assert inside == pytest.approx(1 - below - above)


def test_that_limits_the_wrong_way_round_are_refused() -> None:
    with pytest.raises(EntryFault, match="lower limit 5 is above the upper limit 4"):
        two_sided_probability(4.5, 5, 4, 0.1)


@given(readings, readings, uncertainties)
def test_that_uncertainty_never_moves_a_value_across_its_limit(
    measured: float, limit: float, u: float
) -> None:
    simple = decide(measured, limit, None)
    assert decide(measured, limit, u).accepted is simple.accepted
    assert simple.accepted is (measured <= limit)


@given(readings, readings, readings, uncertainties)
def test_that_a_hotter_value_is_never_judged_milder(one: float, other: float, limit: float, u: float) -> None:
    cooler = ORDER.index(decide(min(one, other), limit, u))
    hotter = ORDER.index(decide(max(one, other), limit, u))
    assert cooler <= hotter


@given(readings, readings, uncertainties)
def test_that_a_lower_limit_mirrors_an_upper_one(measured: float, limit: float, u: float) -> None:
    assert decide_lower(measured, limit, u) is decide(-measured, -limit, u)


@pytest.mark.parametrize(
    ("hot_c", "decision"),
    [
        (55.6, Decision.PASS),
        (55.5, Decision.CONDITIONAL_PASS),
        (55.0, Decision.CONDITIONAL_PASS),
        (54.9, Decision.CONDITIONAL_FAIL),
        (54.5, Decision.CONDITIONAL_FAIL),
        (54.4, Decision.FAIL),
    ],
)
def test_that_hot_water_is_judged_from_below(hot_c: float, decision: Decision) -> None:
    assert decide_lower(hot_c, 55.0, 0.25) is decision


def test_that_a_value_just_off_the_limit_fails_simple_acceptance() -> None:
    assert decide(43.1, 43.0, None) is Decision.FAIL
    assert decide_lower(54.9, 55.0, None) is Decision.FAIL


def test_that_binary_fractions_do_not_move_a_value_off_its_limit() -> None:
    assert decide(0.1 + 0.2, 0.3, None) is Decision.PASS
    assert decide(41.9, 42.4, 0.25) is Decision.CONDITIONAL_PASS
    assert decide(0.1 + 0.2 + 0.4, 0.3, 0.2) is Decision.CONDITIONAL_FAIL


@pytest.mark.parametrize("u", [0.0, -0.25, math.nan, math.inf])
def test_that_an_impossible_uncertainty_is_refused(u: float) -> None:
    with pytest.raises(EntryFault) as fault:
        decide(42.0, 43.0, u)
    assert "standard uncertainty above zero" in fault.value.remedy


@pytest.mark.parametrize("measured", [math.nan, math.inf, -math.inf])
@pytest.mark.parametrize("u", [None, 0.25])
def test_that_what_is_no_number_is_refused_rather_than_judged(measured: float, u: float | None) -> None:
    with pytest.raises(EntryFault):
        decide(measured, 43.0, u)
    with pytest.raises(EntryFault):
        decide(42.0, measured, u)

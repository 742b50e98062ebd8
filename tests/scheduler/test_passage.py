import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from estate.scheduler.drift import DriftState, predictive_interval, run_filter
from estate.scheduler.fit import fit_pooled
from estate.scheduler.passage import above, fallen, longest_horizon, mirrored, reached
from estate.scheduler.states import forecast
from tests.scheduler.histories import TRUTH, simulated, without_last

WEEKS = np.array([0.0, 1.0, 4.0, 13.0, 52.0, 520.0])


def state(
    level: float, slope: float, level_sd: float, slope_sd: float, correlation: float = 0.0
) -> DriftState:
    values = (level, slope, level_sd**2, correlation * level_sd * slope_sd, slope_sd**2)
    return DriftState(*(np.array([each]) for each in values))


states = st.builds(
    state,
    st.floats(30, 50),
    st.floats(-0.3, 0.3),
    st.floats(0, 2),
    st.floats(0, 0.2),
    st.floats(-0.99, 0.99),
)


@settings(deadline=None)
@given(states, st.floats(0, 1))
def test_that_a_chance_is_a_chance_and_never_falls_with_time(valve: DriftState, sigma: float) -> None:
    chance = reached(valve, sigma, 43.0, WEEKS)[0]
    assert np.isfinite(chance).all()
    assert ((chance >= 0) & (chance <= 1)).all()
    assert (np.diff(chance) >= -2e-3).all()


@pytest.mark.parametrize("sigma", [0.0, 1e-4, 0.01, 0.05, 0.2])
@pytest.mark.parametrize("slope_sd", [0.0, 0.003, 0.03])
def test_that_a_few_nodes_are_as_good_as_thousands(sigma: float, slope_sd: float) -> None:
    valve = state(42.2, 0.02, 0.25, slope_sd, 0.4)
    weeks = np.array([4.0, 13.0, 26.0, 52.0])
    deviate = np.linspace(-7, 7, 40_001)
    share = np.exp(-(deviate**2) / 2)
    share /= share.sum()
    none = np.zeros_like(deviate)
    slopes = 0.02 + 0.4 * slope_sd * deviate
    rest = np.full_like(deviate, slope_sd**2 * (1 - 0.4**2))
    given = DriftState(42.2 + 0.25 * deviate, slopes, none, none, rest)
    expected = share @ reached(given, sigma, 43.0, weeks)
    assert reached(valve, sigma, 43.0, weeks)[0] == pytest.approx(expected, abs=5e-4)


@settings(deadline=None)
@given(states, st.floats(0.05, 1))
def test_that_reaching_is_never_less_likely_than_being_above(valve: DriftState, sigma: float) -> None:
    assert (reached(valve, sigma, 43.0, WEEKS) >= above(valve, sigma, 43.0, WEEKS) - 1e-5).all()


@settings(deadline=None)
@given(states, st.floats(0, 1), st.floats(0.001, 0.3))
def test_that_the_horizon_keeps_the_risk_and_nothing_longer_does(
    valve: DriftState, sigma: float, risk: float
) -> None:
    weeks = longest_horizon(valve, sigma, 43.0, risk, 104.0, 0.01)[0]
    assert 0 <= weeks <= 104
    at, later = reached(valve, sigma, 43.0, np.array([weeks, weeks + 0.02]))[0]
    assert weeks == 0 or at <= risk + 1e-9
    assert weeks == 104 or later > risk - 1e-6 or sigma < 0.05


@pytest.mark.parametrize("slope_sd", [0.0, 0.02])
def test_that_a_level_at_the_ceiling_has_reached_it(slope_sd: float) -> None:
    just = reached(state(43.0, -0.1, 0.0, slope_sd), 0.1, 43.0, WEEKS[1:])
    assert just[0].tolist() == pytest.approx([1.0] * 5, abs=1e-6)
    assert reached(state(44.0, -0.1, 0.0, slope_sd), 0.1, 43.0, WEEKS)[0].tolist() == [1.0] * 6
    assert longest_horizon(state(44.0, -0.1, 0.0, slope_sd), 0.1, 43.0, 0.05, 104.0)[0] == 0


def test_that_without_wandering_a_known_drift_arrives_on_its_day() -> None:
    chance = reached(state(41.0, 0.02, 0.0, 0.0), 0.0, 43.0, np.array([99.9, 100.1]))[0]
    assert chance.tolist() == [0.0, 1.0]
    assert longest_horizon(state(41.0, 0.02, 0.0, 0.0), 0.0, 43.0, 0.05, 520.0)[0] == pytest.approx(
        100, abs=0.05
    )


def test_that_without_wandering_an_uncertain_level_is_reached_as_the_normal_law_says() -> None:
    valve = state(41.0, 0.02, 0.5, 0.0)
    weeks = np.array([13.0, 50.0, 100.0])
    expected = above(valve, 0.0, 43.0, weeks)[0]
    assert reached(valve, 0.0, 43.0, weeks)[0] == pytest.approx(expected, abs=1e-6)
    assert reached(valve, 1e-3, 43.0, weeks)[0] == pytest.approx(expected, abs=5e-3)


def test_that_a_little_wandering_is_nearly_none() -> None:
    valve = state(41.5, 0.03, 0.2, 0.02, 0.4)
    weeks = np.array([13.0, 26.0, 52.0])
    assert reached(valve, 0.01, 43.0, weeks)[0] == pytest.approx(
        reached(valve, 0.0, 43.0, weeks)[0], abs=5e-3
    )


def test_that_at_no_time_at_all_only_the_level_counts() -> None:
    valve = state(42.5, 0.1, 0.3, 0.02)
    assert reached(valve, 0.1, 43.0, np.array([0.0]))[0] == pytest.approx(
        above(valve, 0.1, 43.0, np.array([0.0]))[0], abs=1e-6
    )


def test_that_a_lower_limit_is_the_upper_one_seen_in_a_mirror() -> None:
    valve = state(41.0, -0.03, 0.2, 0.02, 0.3)
    weeks = np.array([4.0, 26.0])
    assert fallen(valve, 0.1, 39.0, weeks)[0].tolist() == (
        reached(mirrored(valve), 0.1, -39.0, weeks)[0].tolist()
    )
    assert fallen(valve, 0.1, 39.0, weeks)[0, 1] > reached(valve, 0.1, 43.0, weeks)[0, 1]


def test_that_every_valve_has_its_own_wandering_ceiling_risk_and_times() -> None:
    two = DriftState(
        *(np.array(each) for each in ([41.0, 42.0], [0.02] * 2, [0.05] * 2, [0.0] * 2, [4e-4] * 2))
    )
    sigma, ceiling = np.array([0.1, 0.2]), np.array([43.0, 46.0])
    weeks = np.array([[4.0, 8.0], [13.0, 26.0]])
    both = reached(two, sigma, ceiling, weeks)
    for valve in (0, 1):
        alone = DriftState(*(getattr(two, name)[[valve]] for name in DriftState.__slots__))
        assert both[valve] == pytest.approx(reached(alone, sigma[valve], ceiling[valve], weeks[valve])[0])
    risks = longest_horizon(two, sigma, ceiling, np.array([0.05, 0.01]), np.array([520.0, 3.0]))
    assert risks[1] == 3.0
    assert forecast(two, sigma, weeks)[0].shape == (2, 2)


def test_that_many_valves_are_worked_on_in_parts_without_a_seam() -> None:
    estate = simulated(7000, 4, seed=21).panel
    run = run_filter(estate, TRUTH).state
    weeks = longest_horizon(run, 0.1, 43.0, 0.05, 104.0)
    some = DriftState(*(getattr(run, name)[2300:2400] for name in DriftState.__slots__))
    assert longest_horizon(some, 0.1, 43.0, 0.05, 104.0).tolist() == weeks[2300:2400].tolist()
    assert reached(some, 0.1, 43.0, WEEKS).tolist() == reached(run, 0.1, 43.0, WEEKS)[2300:2400].tolist()


def test_that_there_may_be_no_valve_at_all() -> None:
    none = DriftState(*(np.zeros(0) for _ in range(5)))
    assert reached(none, 0.1, 43.0, WEEKS).shape == (0, 6)
    assert longest_horizon(none, 0.1, 43.0, 0.05, 104.0).shape == (0,)


@pytest.mark.parametrize("level", [0.5, 0.8, 0.95])
def test_that_hidden_readings_of_2000_valves_are_covered_within_2_points(level: float) -> None:
    estate = simulated(2000, 9, seed=22).panel
    shown = without_last(estate)
    fit = fit_pooled(shown).parameters
    gap = estate.weeks[:, -1] - estate.weeks[:, -2]
    low, high = predictive_interval(run_filter(shown, fit).state, fit, gap, level)
    covered = np.mean((estate.found[:, -1] >= low) & (estate.found[:, -1] <= high))
    assert covered == pytest.approx(level, abs=0.02)

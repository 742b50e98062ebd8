import math
import random
from statistics import fmean, stdev

import pytest
from hypothesis import given
from hypothesis import strategies as st

from estate.domain.mixing import (
    collected_flow,
    fixed_mixer_temperature,
    hot_fraction,
    hot_opening,
    mixed_temperature,
)
from estate.errors import EntryFault

flows = st.floats(min_value=0.01, max_value=50)
colds_c = st.floats(min_value=1, max_value=25)
hots_c = st.floats(min_value=40, max_value=80)


@given(flows, hots_c, flows, colds_c)
def test_that_the_mix_lies_between_its_supplies(hot: float, hot_c: float, cold: float, cold_c: float) -> None:
    assert cold_c - 1e-9 <= mixed_temperature(hot, hot_c, cold, cold_c) <= hot_c + 1e-9


@given(flows, hots_c, flows, colds_c)
def test_that_the_hot_fraction_undoes_the_mixing(
    hot: float, hot_c: float, cold: float, cold_c: float
) -> None:
    mixed_c = mixed_temperature(hot, hot_c, cold, cold_c)
    assert hot_fraction(mixed_c, hot_c, cold_c) == pytest.approx(hot / (hot + cold), abs=1e-9)


def test_that_one_supply_alone_keeps_its_temperature() -> None:
    assert mixed_temperature(6, 58, 0, 12) == 58
    assert mixed_temperature(0, 58, 6, 12) == 12


@pytest.mark.parametrize(("hot", "cold"), [(0, 0), (-1, 5), (5, -1)])
def test_that_nothing_flowing_or_a_flow_below_zero_is_refused(hot: float, cold: float) -> None:
    with pytest.raises(EntryFault, match="nothing to mix"):
        mixed_temperature(hot, 60, cold, 15)


@pytest.mark.parametrize("hot_c", [15.0, 14.0])
def test_that_nothing_is_said_where_hot_is_not_warmer_than_cold(hot_c: float) -> None:
    assert hot_fraction(41, hot_c, 15) is None


def test_that_readings_which_contradict_each_other_show_outside_nought_to_one() -> None:
    above = hot_fraction(62, 60, 15)
    below = hot_fraction(14, 60, 15)
    assert above is not None
    assert below is not None
    assert above > 1
    assert below < 0


@given(st.floats(min_value=0.1, max_value=10), st.floats(min_value=0.2, max_value=5))
def test_that_only_the_ratio_of_pressures_matters_to_a_fixed_mixer(bar: float, factor: float) -> None:
    plain = fixed_mixer_temperature(60, 15, 2, 1)
    assert fixed_mixer_temperature(60, 15, 2 * bar * factor, bar * factor) == pytest.approx(plain)


def test_that_a_fixed_mixer_follows_flows_by_the_root_of_pressure() -> None:
    by_flows = mixed_temperature(0.3 * math.sqrt(3), 62, 0.7 * math.sqrt(1.5), 11)
    assert fixed_mixer_temperature(62, 11, 3, 1.5, hot_opening=0.3) == pytest.approx(by_flows)


@given(hots_c, colds_c, flows, flows, st.floats(min_value=0, max_value=1))
def test_that_an_opening_undoes_the_fixed_mixer(
    hot_c: float, cold_c: float, hot_bar: float, cold_bar: float, opening: float
) -> None:
    mixed_c = fixed_mixer_temperature(hot_c, cold_c, hot_bar, cold_bar, opening)
    found = hot_opening(min(hot_c, max(cold_c, mixed_c)), hot_c, cold_c, hot_bar, cold_bar)
    assert found == pytest.approx(opening, abs=1e-9)


@pytest.mark.parametrize(
    ("mixed_c", "hot_c", "hot_bar"),
    [(61.0, 60.0, 2.0), (14.0, 60.0, 2.0), (41.0, 15.0, 2.0), (41.0, 60.0, 0.0)],
)
def test_that_no_opening_gives_what_cannot_be_mixed(mixed_c: float, hot_c: float, hot_bar: float) -> None:
    assert hot_opening(mixed_c, hot_c, 15.0, hot_bar, 1.0) is None


def test_that_without_cold_pressure_a_fixed_mixer_gives_hot_water() -> None:
    assert fixed_mixer_temperature(60, 15, 2, 0) == 60


@pytest.mark.parametrize(
    ("hot_bar", "cold_bar", "opening"), [(-1, 2, 0.5), (2, -1, 0.5), (2, 2, 1.1), (2, 2, -0.1)]
)
def test_that_impossible_pressures_and_openings_are_refused(
    hot_bar: float, cold_bar: float, opening: float
) -> None:
    with pytest.raises(EntryFault, match="can't be worked out"):
        fixed_mixer_temperature(60, 15, hot_bar, cold_bar, opening)


def test_that_the_uncertainty_of_a_collected_flow_agrees_with_a_simulation() -> None:
    drawn = random.Random(41)
    flow = collected_flow(300, 20, 6, 0.3)
    sample = [60 * drawn.gauss(300, 6) / drawn.gauss(20, 0.3) for _ in range(20_000)]
    assert fmean(sample) == pytest.approx(flow.ml_min, rel=0.002)
    assert stdev(sample) == pytest.approx(flow.u_ml_min, rel=0.03)


def test_that_nothing_collected_is_no_flow_with_the_uncertainty_of_the_vessel() -> None:
    flow = collected_flow(0, 60, 5, 1)
    assert flow.ml_min == 0
    assert flow.u_ml_min == pytest.approx(5)


@pytest.mark.parametrize(
    ("volume", "time", "u_volume", "u_time"),
    [(100, 0, 1, 1), (100, -5, 1, 1), (-1, 60, 1, 1), (100, 60, -1, 1), (100, 60, 1, -1)],
)
def test_that_an_impossible_collection_is_refused(
    volume: float, time: float, u_volume: float, u_time: float
) -> None:
    with pytest.raises(EntryFault, match="flow can't be worked out"):
        collected_flow(volume, time, u_volume, u_time)

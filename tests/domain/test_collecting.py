"""A flow from a vessel and a stop-watch, with how well it is known."""

from math import sqrt

import pytest
from hypothesis import given
from hypothesis import strategies as st

from estate.domain.collecting import Collected, Reading, collected_of, with_collected
from estate.domain.steps import NOTHING_SEEN
from estate.errors import EntryFault
from tests.builders import draft

READ = Reading(graduation_ml=10.0, reaction_s=0.2)


def test_that_two_minutes_halve_the_volume() -> None:
    assert Collected(240.0, 120.0).flow_ml_min == 120.0


def test_that_both_uncertainties_are_carried_through_the_quotient() -> None:
    found = Collected(120.0, 60.0, u_volume_ml=3.0, u_seconds=0.5)
    relative = sqrt((3.0 / 120.0) ** 2 + (0.5 / 60.0) ** 2)
    assert found.u_flow_ml_min == pytest.approx(120.0 * relative)


def test_that_an_empty_vessel_is_still_only_known_within_its_lines() -> None:
    found = READ.collected(0.0, 60.0)
    assert found.flow_ml_min == 0.0
    assert found.u_flow_ml_min == pytest.approx(10.0 / 2 / sqrt(3.0))


@given(st.floats(0, 5_000), st.floats(5, 600), st.floats(0, 50), st.floats(0, 5))
def test_that_the_uncertainty_is_that_of_small_changes(
    volume: float, time: float, u_v: float, u_t: float
) -> None:
    found = Collected(volume, time, u_v, u_t)
    step = 1e-6
    by_volume = (Collected(volume + step, time).flow_ml_min - found.flow_ml_min) / step * u_v
    by_time = (Collected(volume, time + step).flow_ml_min - found.flow_ml_min) / step * u_t
    assert found.u_flow_ml_min == pytest.approx(sqrt(by_volume**2 + by_time**2), rel=1e-3, abs=1e-2)


@pytest.mark.parametrize(
    ("volume", "seconds"), [(-1.0, 60.0), (10.0, 0.0), (float("nan"), 60.0), (10.0, float("inf"))]
)
def test_that_what_can_not_be_read_off_is_refused(volume: float, seconds: float) -> None:
    with pytest.raises(EntryFault, match="more than 0"):
        Collected(volume, seconds)


@pytest.mark.parametrize("supply", ["cold", "hot"])
def test_that_volume_and_time_stay_beside_the_flow(supply: str) -> None:
    made = with_collected(draft(), supply, READ.collected(30.0, 45.0))
    isolation = getattr(made.readings, f"{supply}_isolated")
    assert isolation.residual_ml_min == 40.0
    assert collected_of(made.steps, supply, READ) == READ.collected(30.0, 45.0)
    assert collected_of(NOTHING_SEEN, supply, READ) is None

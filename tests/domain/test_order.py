"""Temperatures of one visit that can't stand beside each other are found, and good ones left alone."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from estate.domain.order import COLDEST_C, SLACK_K, out_of_order
from estate.domain.visits import Isolation, Readings


@pytest.mark.parametrize(
    ("field", "readings"),
    [
        ("hot_c", Readings(hot_c=13.2, cold_c=60.1, found_c=41.0)),
        ("hot_c", Readings(hot_c=5.84, cold_c=13.0, found_c=40.9)),
        ("cold_c", Readings(hot_c=60.0, cold_c=1.31, found_c=40.9)),
        ("found_c", Readings(hot_c=41.2, found_c=60.1)),
        ("found_c", Readings(hot_c=60.0, cold_c=15.0, found_c=4.13)),
        ("left_c", Readings(hot_c=57.0, cold_c=15.0, found_c=41.6, left_c=4.16)),
        ("left_c", Readings(found_c=41.6, left_c=4.16)),
        ("found_c", Readings(found_c=4.16, left_c=41.6)),
        ("cold_isolated.max_c", Readings(hot_c=60.0, cold_isolated=Isolation(max_c=71.0))),
    ],
)
def test_that_a_temperature_that_cannot_be_is_named(field: str, readings: Readings) -> None:
    found = out_of_order(readings)
    assert found is not None
    assert found[0] == field
    assert found[1].endswith("?")


@given(
    cold=st.none() | st.floats(COLDEST_C, 30),
    hot=st.none() | st.floats(30, 90),
    share=st.floats(0, 1),
    slack=st.floats(-SLACK_K, SLACK_K),
)
def test_that_a_mix_between_its_supplies_is_left_alone(
    cold: float | None, hot: float | None, share: float, slack: float
) -> None:
    low, high = cold or 10.0, hot or 90.0
    mixed = low + share * (high - low)
    readings = Readings(hot_c=hot, cold_c=cold, found_c=mixed, left_c=mixed)
    assert out_of_order(readings) is None
    near = Readings(
        hot_c=hot, cold_c=cold, found_c=max(mixed + slack * 0.99, 0.1) if share in (0, 1) else mixed
    )
    assert out_of_order(near) is None


def test_that_nothing_measured_is_nothing_to_doubt() -> None:
    assert out_of_order(Readings()) is None

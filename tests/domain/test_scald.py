import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from estate.domain.scald import CAUTION, FULL_THICKNESS_PAIRS, burn_seconds, burn_words

anywhere_c = st.floats(allow_nan=False, allow_infinity=False)
within_c = st.floats(min_value=44, max_value=60)


def test_that_time_is_interpolated_in_its_logarithm() -> None:
    assert burn_seconds(50) == pytest.approx(math.sqrt(600 * 252))
    assert burn_seconds(46) == pytest.approx(math.sqrt(10_800 * 2_700))


@pytest.mark.parametrize("temperature_c", [43.999, 60.001, 0.0, 100.0, math.inf, -math.inf, math.nan])
def test_that_the_table_is_never_extrapolated(temperature_c: float) -> None:
    assert burn_seconds(temperature_c) is None


@given(within_c, within_c)
def test_that_hotter_water_never_burns_later(one_c: float, other_c: float) -> None:
    cooler, hotter = burn_seconds(min(one_c, other_c)), burn_seconds(max(one_c, other_c))
    assert cooler is not None
    assert hotter is not None
    assert hotter <= cooler * (1 + 1e-12)


@given(anywhere_c)
def test_that_the_words_always_carry_caution_and_source(temperature_c: float) -> None:
    words = burn_words(temperature_c)
    assert CAUTION in words
    assert "Children and older people burn sooner" in words
    assert "not a permitted exposure" in words
    assert "Source: Moritz and Henriques" in words


@pytest.mark.parametrize(
    ("temperature_c", "time"),
    [(60, "5 s"), (55, "30 s"), (51, "4 min"), (49, "10 min"), (48, "20 min"), (47, "45 min")],
)
def test_that_published_times_are_said_as_published(temperature_c: float, time: str) -> None:
    assert f"At {temperature_c:g} °C" in burn_words(temperature_c)
    assert f"about {time}." in burn_words(temperature_c)


def test_that_hours_are_said_as_hours() -> None:
    assert "about 6 h." in burn_words(44)
    assert "about 3 h." in burn_words(45)
    assert "about 1 h 30 min." in burn_words(46)


@given(within_c)
def test_that_a_time_is_never_said_longer_than_it_is(temperature_c: float) -> None:
    said = burn_words(temperature_c).split("about ")[1].split(".")[0].split()
    in_seconds = {"s": 1, "min": 60, "h": 3600}
    total = sum(int(count) * in_seconds[unit] for count, unit in zip(said[::2], said[1::2], strict=True))
    seconds = burn_seconds(temperature_c)
    assert seconds is not None
    assert 0 < total <= seconds + 1e-5


def test_that_above_the_table_the_words_say_sooner_and_give_no_own_time() -> None:
    words = burn_words(63.2)
    assert "63.2 °C is above the table, which ends at 60 °C with 5 s" in words
    assert "sooner than that" in words


def test_that_below_the_table_the_words_do_not_call_it_safe() -> None:
    words = burn_words(43.5)
    assert "43.5 °C is not in the table, which begins at 44 °C" in words
    assert "not to say it is safe" in words


def test_that_the_pairs_are_in_rising_order_of_temperature_and_falling_order_of_time() -> None:
    temperatures = [pair[0] for pair in FULL_THICKNESS_PAIRS]
    times = [pair[1] for pair in FULL_THICKNESS_PAIRS]
    assert temperatures == sorted(set(temperatures))
    assert times == sorted(set(times), reverse=True)

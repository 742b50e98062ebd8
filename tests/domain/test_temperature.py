from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from estate.domain.temperature import (
    Scale,
    highest_figure,
    on_scale,
    step_on_scale,
    to_celsius,
    to_fahrenheit,
    to_fahrenheit_steps,
    to_kelvins,
    told,
    told_apart,
    told_limit,
)

TENTHS = st.integers(320, 2120).map(lambda each: each / 10)


@pytest.mark.parametrize(("celsius", "fahrenheit"), [(0, 32), (100, 212), (50, 122), (60, 140), (45, 113)])
def test_that_temperatures_convert_exactly(celsius: float, fahrenheit: float) -> None:
    assert to_celsius(fahrenheit) == celsius
    assert to_fahrenheit(celsius) == fahrenheit


@given(TENTHS)
def test_that_a_reading_in_fahrenheit_comes_back_as_it_was(fahrenheit: float) -> None:
    assert to_fahrenheit(to_celsius(fahrenheit)) == fahrenheit


@given(TENTHS, TENTHS)
def test_that_conversion_keeps_the_order_of_readings_and_limits(reading: float, limit: float) -> None:
    assert (to_celsius(reading) <= to_celsius(limit)) is (reading <= limit)


@given(st.integers(32, 212))
def test_that_a_whole_degree_is_the_nearest_number_to_its_fraction(fahrenheit: int) -> None:
    assert to_celsius(fahrenheit) == float(Fraction(5 * (fahrenheit - 32), 9))


def test_that_a_difference_has_no_offset() -> None:
    assert (to_kelvins(9), to_fahrenheit_steps(2)) == (5, 3.6)


def test_that_a_person_reads_the_scale_of_choice() -> None:
    assert (on_scale(50, Scale.CELSIUS), on_scale(50, Scale.FAHRENHEIT)) == (50, 122)
    assert (step_on_scale(2, Scale.CELSIUS), step_on_scale(2, Scale.FAHRENHEIT)) == (2, 3.6)
    assert (told(43), told(43.3, Scale.FAHRENHEIT)) == ("43.0 °C", "109.9 °F")
    assert (Scale.CELSIUS.step, Scale.FAHRENHEIT.step) == ("K", "°F")


@pytest.mark.parametrize(("limit", "shown"), [(43.0, "43"), (43.5, "43.5"), (to_celsius(120), "48.88")])
def test_that_the_figure_of_a_limit_is_short_and_never_higher(limit: float, shown: str) -> None:
    assert highest_figure(limit) == shown


@pytest.mark.parametrize(
    ("celsius", "scale", "shown"),
    [
        (43, Scale.CELSIUS, "43.0 °C"),
        (to_celsius(120), Scale.CELSIUS, "48.88 °C"),
        (to_celsius(120), Scale.FAHRENHEIT, "120.0 °F"),
        (43.5, Scale.FAHRENHEIT, "110.3 °F"),
    ],
)
def test_that_a_highest_temperature_is_never_shown_higher_than_it_is(
    celsius: float, scale: Scale, shown: str
) -> None:
    assert told_limit(celsius, scale) == shown


@given(st.floats(20, 60), st.sampled_from(Scale))
def test_that_a_shown_limit_is_no_higher_than_the_exact_one(celsius: float, scale: Scale) -> None:
    assert float(told_limit(celsius, scale).split()[0]) <= on_scale(celsius, scale)


@pytest.mark.parametrize(
    ("value", "limit", "shown"),
    [
        (41.1, 43.0, ("41.1", "43.0")),
        (43.0, 43.0, ("43.0", "43.0")),
        (43.04, 43.0, ("43.04", "43.00")),
        (43.3, to_celsius(110), ("43.30", "43.33")),
        (43.34, to_celsius(110), ("43.34", "43.33")),
        (43.0 + 1e-14, 43.0, ("43.00000000000001", "43.00000000000000")),
    ],
)
def test_that_a_figure_is_shown_with_enough_digits(
    value: float, limit: float, shown: tuple[str, str]
) -> None:
    assert told_apart(value, limit) == shown


@given(st.floats(0, 100), st.floats(30, 60))
def test_that_a_shown_figure_stands_to_its_limit_as_the_exact_one_does(value: float, limit: float) -> None:
    shown, most = told_apart(value, limit)
    assert (float(shown) <= float(most)) is (value <= limit)
    assert (float(shown) >= float(most)) is (value >= limit)

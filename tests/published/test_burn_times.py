"""Burn times against the published pairs and against the curve of a contact-surface standard."""

import math

import pytest

from estate.domain.scald import burn_seconds, burn_words

# Trade facts 4.1: Moritz and Henriques 1947, full thickness, by a secondary table; °C and seconds.
PAIRS = [
    (44, 6 * 3600),
    (45, 3 * 3600),
    (47, 45 * 60),
    (48, 20 * 60),
    (49, 10 * 60),
    (51, 4.2 * 60),
    (55, 30),
    (60, 5),
]


def curve_a_c(seconds: float) -> float:
    """Curve A of ASTM C1055 as BURN-01 gives it: temperature at which a time burns, °C."""
    log_ms = math.log(1000 * seconds)
    return 15.005 + 0.51907 * log_ms + 352.97 / log_ms


@pytest.mark.parametrize(("temperature_c", "seconds"), PAIRS)
def test_that_each_published_pair_comes_out(temperature_c: float, seconds: float) -> None:
    assert burn_seconds(temperature_c) == pytest.approx(seconds)


# BURN-01: within 1.2 K at the pairs, and the pairs lie close enough for the same between them.
@pytest.mark.parametrize("temperature_c", [44 + step / 4 for step in range(65)])
def test_that_interpolated_times_lie_on_curve_a_within_1_2_kelvins(temperature_c: float) -> None:
    seconds = burn_seconds(temperature_c)
    assert seconds is not None
    assert curve_a_c(seconds) == pytest.approx(temperature_c, abs=1.2)


def test_that_time_halves_about_each_kelvin_from_45_to_49() -> None:  # BURN-04: 2.0, 2.25, 2.0
    for cooler_c, hotter_c, factor in ((45, 47, 4.0), (47, 48, 2.25), (48, 49, 2.0)):
        longer, shorter = burn_seconds(cooler_c), burn_seconds(hotter_c)
        assert longer is not None
        assert shorter is not None
        assert longer / shorter == pytest.approx(factor)


def test_that_the_words_name_their_source_as_second_hand() -> None:
    words = burn_words(48)
    assert "Moritz and Henriques" in words
    assert "not verified in the source" in words

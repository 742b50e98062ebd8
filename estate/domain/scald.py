"""How long until an adult's skin burns, from published pairs; never a permitted exposure."""

import math
from itertools import pairwise

from estate.domain.phrases import phrase, together

SOURCE = (
    "Moritz and Henriques, Studies of thermal injury II, Am J Pathol 1947;23:695-720, "
    "full-thickness burn of adult skin, as given in a secondary table (not verified in the source)"
)
CAUTION = phrase("Children and older people burn sooner, and this is not a permitted exposure.")

# Table 4.1 of the trade facts: water temperature in °C, time in seconds to a full-thickness burn.
FULL_THICKNESS_PAIRS: tuple[tuple[float, float], ...] = (
    (44.0, 21_600.0),
    (45.0, 10_800.0),
    (47.0, 2_700.0),
    (48.0, 1_200.0),
    (49.0, 600.0),
    (51.0, 252.0),
    (55.0, 30.0),
    (60.0, 5.0),
)
_LOWEST_C, _HIGHEST_C = FULL_THICKNESS_PAIRS[0][0], FULL_THICKNESS_PAIRS[-1][0]


def burn_seconds(temperature_c: float) -> float | None:
    """Time to a full-thickness burn of adult skin in seconds, interpolated in the logarithm of time.

    Args:
        temperature_c: water temperature, °C.

    Returns:
        Seconds, or None below 44 °C and above 60 °C: the table is never extrapolated.
    """
    for (cooler_c, longer_s), (hotter_c, shorter_s) in pairwise(FULL_THICKNESS_PAIRS):
        if cooler_c <= temperature_c <= hotter_c:
            share = (temperature_c - cooler_c) / (hotter_c - cooler_c)
            return math.exp((1 - share) * math.log(longer_s) + share * math.log(shorter_s))
    return None


def burn_words(temperature_c: float) -> str:
    """Say in plain words how soon water of a temperature burns, with the caution and the source.

    Args:
        temperature_c: water temperature, °C.
    """
    return together(_time_words(temperature_c), CAUTION, phrase("Source: {source}.", source=SOURCE))


def _time_words(temperature_c: float) -> str:
    seconds = burn_seconds(temperature_c)
    if seconds is not None:
        return phrase(
            "At {temperature:g} °C an adult's skin can burn through its full thickness in about {time}.",
            temperature=temperature_c,
            time=_duration(seconds),
        )
    if temperature_c > _HIGHEST_C:
        shortest_s = FULL_THICKNESS_PAIRS[-1][1]
        return phrase(
            "{temperature:g} °C is above the table, which ends at {highest:.0f} °C with {time:.0f} s for an "
            "adult: expect a burn sooner than that.",
            temperature=temperature_c,
            highest=_HIGHEST_C,
            time=shortest_s,
        )
    longest_s = FULL_THICKNESS_PAIRS[0][1]
    return phrase(
        "{temperature:g} °C is not in the table, which begins at {lowest:.0f} °C with {time} for an adult: "
        "no time is given, which is not to say it is safe.",
        temperature=temperature_c,
        lowest=_LOWEST_C,
        time=_duration(longest_s),
    )


def _duration(seconds: float) -> str:
    """Words for a time, cut to the whole second, minute or ten minutes below it, never rounded up."""
    whole = int(seconds + 1e-6)
    if whole < 120:
        return f"{whole} s"
    if whole < 3600:
        return f"{whole // 60} min"
    hours, minutes = divmod(whole // 600 * 10, 60)
    return f"{hours} h {minutes} min" if minutes else f"{hours} h"

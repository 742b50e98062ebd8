"""Temperatures and differences of temperature in °C, K and °F; figures shown never change their order.

Everything is kept and judged in °C and K. A conversion is worked out in whole fractions and rounded once,
to the nearest number that can be kept, so that a reading taken at a limit in °F meets that limit exactly.
"""

from enum import StrEnum
from fractions import Fraction
from math import floor

_MOST_DECIMALS = 15


class Scale(StrEnum):
    """The scale in which a person reads temperatures."""

    CELSIUS = "C"
    FAHRENHEIT = "F"

    @property
    def sign(self) -> str:
        """As it stands behind a temperature."""
        return f"°{self.value}"

    @property
    def step(self) -> str:
        """As it stands behind a difference of temperatures."""
        return "K" if self is Scale.CELSIUS else "°F"


def to_celsius(fahrenheit: float) -> float:
    """A temperature in °F as °C."""
    return float((Fraction(str(fahrenheit)) - 32) * 5 / 9)


def to_fahrenheit(celsius: float) -> float:
    """A temperature in °C as °F, to ten decimals: a reading taken in °F comes back as it was."""
    return round(float(Fraction(str(celsius)) * 9 / 5 + 32), 10)


def to_kelvins(fahrenheit_steps: float) -> float:
    """A difference of temperatures in °F as K."""
    return float(Fraction(str(fahrenheit_steps)) * 5 / 9)


def to_fahrenheit_steps(kelvins: float) -> float:
    """A difference of temperatures in K as °F."""
    return float(Fraction(str(kelvins)) * 9 / 5)


def on_scale(celsius: float, scale: Scale) -> float:
    """A temperature in °C on the scale of a person."""
    return celsius if scale is Scale.CELSIUS else to_fahrenheit(celsius)


def step_on_scale(kelvins: float, scale: Scale) -> float:
    """A difference in K on the scale of a person."""
    return kelvins if scale is Scale.CELSIUS else to_fahrenheit_steps(kelvins)


def told(celsius: float, scale: Scale = Scale.CELSIUS) -> str:
    """A temperature in °C as a person reads it, to a tenth, such as ``43.0 °C``."""
    return f"{on_scale(celsius, scale):.1f} {scale.sign}"


def told_limit(celsius: float, scale: Scale = Scale.CELSIUS) -> str:
    """A highest temperature in °C as a person reads it: never shown higher than it is.

    To a tenth where it is one, such as ``43.0 °C``, else cut after the hundredth: ``48.88 °C`` for 120 °F.
    """
    exact = on_scale(celsius, scale)
    if round(exact, 1) == exact:
        return f"{exact:.1f} {scale.sign}"
    return f"{floor(exact * 100) / 100:.2f} {scale.sign}"


def highest_figure(limit: float) -> str:
    """The figure of a highest value in few digits, never higher: ``43``, or ``48.88`` for 120 °F."""
    short = f"{limit:g}"
    return short if float(short) == limit else f"{floor(limit * 100) / 100:.2f}"


def told_apart(value: float, limit: float, decimals: int = 1) -> tuple[str, str]:
    """Two figures with as many decimals as it takes to tell them apart.

    A value above its limit never looks as if it were at it, nor one within as if it were above.

    Args:
        value: what was measured, in any unit.
        limit: what it is held against, in the same unit.
        decimals: shown at least.
    """
    first = f"{value:.{decimals}f}", f"{limit:.{decimals}f}"
    if first[0] != first[1] or value == limit:
        return first
    pairs = ((f"{value:.{each}f}", f"{limit:.{each}f}") for each in range(decimals + 1, _MOST_DECIMALS))
    return next((pair for pair in pairs if pair[0] != pair[1]), (repr(value), repr(limit)))

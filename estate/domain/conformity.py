"""Whether a measured value meets a limit, given the instrument (JCGM 106:2012, ILAC-G8:09/2019)."""

import math
from enum import StrEnum
from statistics import NormalDist

from estate.domain.phrases import phrase
from estate.errors import EntryFault

# Margins are compared at this many decimals, so that a value written as exactly the limit is exactly at it.
_DECIMALS = 9


class Decision(StrEnum):
    """The outcomes of ILAC-G8:09/2019 4.2.3; simple acceptance knows only the first and the last."""

    PASS = "pass"
    CONDITIONAL_PASS = "conditional pass"
    CONDITIONAL_FAIL = "conditional fail"
    FAIL = "fail"

    @property
    def accepted(self) -> bool:
        """Whether the measured value itself lies on the good side of the limit."""
        return self in (Decision.PASS, Decision.CONDITIONAL_PASS)


def probability_conforming(measured: float, upper_limit: float, u: float) -> float:
    """Probability that the true value is at or below an upper limit: Φ((limit − y)/u), JCGM 106.

    Args:
        measured: the measured value y.
        upper_limit: the limit, in the unit of y.
        u: standard uncertainty (k = 1), in the unit of y.

    Raises:
        EntryFault: u is not above zero, or a number is not finite.
    """
    _check(u, measured, upper_limit)
    return NormalDist().cdf((upper_limit - measured) / u)


def probability_above(measured: float, lower_limit: float, u: float) -> float:
    """Probability that the true value is at or above a lower limit; as `probability_conforming`."""
    return probability_conforming(-measured, -lower_limit, u)


def two_sided_probability(measured: float, lower_limit: float, upper_limit: float, u: float) -> float:
    """Probability that the true value lies between two limits (JCGM 106); as `probability_conforming`.

    Raises:
        EntryFault: the limits are the wrong way round, u is not above zero, or a number is not finite.
    """
    _check(u, measured, lower_limit, upper_limit)
    if lower_limit > upper_limit:
        raise EntryFault(
            "The limits are the wrong way round",
            phrase(
                "The lower limit {lower_limit:g} is above the upper limit {upper_limit:g}.",
                lower_limit=lower_limit,
                upper_limit=upper_limit,
            ),
            "Give the lower limit first.",
        )
    normal = NormalDist(measured, u)
    return max(0.0, normal.cdf(upper_limit) - normal.cdf(lower_limit))


def decide(measured: float, limit: float, u: float | None) -> Decision:
    """Decide about an upper limit.

    Args:
        measured: the measured value.
        limit: the highest value that conforms, in the same unit; exactly the limit is accepted (MU-01).
        u: standard uncertainty (k = 1) in the same unit; None gives simple acceptance, a guard band
            of zero. Otherwise the guard band is w = 2u (MU-03, MU-04).

    Returns:
        Pass below limit − w, conditional pass up to the limit, conditional fail up to limit + w, then fail.

    Raises:
        EntryFault: u is not above zero, or a number is not finite.
    """
    _check(1.0 if u is None else u, measured, limit)
    margin = round(limit - measured, _DECIMALS)
    if u is None:
        return Decision.PASS if margin >= 0 else Decision.FAIL
    guard = round(2 * u, _DECIMALS)
    if margin > guard:
        return Decision.PASS
    if margin >= 0:
        return Decision.CONDITIONAL_PASS
    return Decision.CONDITIONAL_FAIL if margin >= -guard else Decision.FAIL


def decide_lower(measured: float, limit: float, u: float | None) -> Decision:
    """Decide about a lower limit: `decide` mirrored, so exactly the limit is accepted."""
    return decide(-measured, -limit, u)


def _check(u: float, *values: float) -> None:
    if math.isfinite(u) and u > 0 and all(map(math.isfinite, values)):
        return
    raise EntryFault(
        "The measurement can't be judged",
        phrase(
            "Value and limit {values}, standard uncertainty {u:g}.",
            values=", ".join(f"{value:g}" for value in values),
            u=u,
        ),
        "Give numbers, and a standard uncertainty above zero; leave it empty where it is not known.",
    )

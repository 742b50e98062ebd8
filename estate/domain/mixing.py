"""The physics of mixing hot and cold water, with equal density and heat capacity."""

import math
from dataclasses import dataclass

from estate.domain.phrases import phrase
from estate.errors import EntryFault


@dataclass(frozen=True, slots=True)
class CollectedFlow:
    """A flow found by collecting water: the flow and its standard uncertainty (k = 1), both ml/min."""

    ml_min: float
    u_ml_min: float


def mixed_temperature(hot_l_min: float, hot_c: float, cold_l_min: float, cold_c: float) -> float:
    """Temperature of two flows mixed, °C (PH-01).

    Args:
        hot_l_min, cold_l_min: the two flows, l/min (any one unit will do).
        hot_c, cold_c: their temperatures, °C.

    Raises:
        EntryFault: a flow is below zero, or nothing flows.
    """
    if min(hot_l_min, cold_l_min) < 0 or hot_l_min + cold_l_min <= 0:
        raise EntryFault(
            "There is nothing to mix",
            phrase(
                "Hot flow {hot_l_min:g} l/min, cold flow {cold_l_min:g} l/min.",
                hot_l_min=hot_l_min,
                cold_l_min=cold_l_min,
            ),
            "Give flows of zero or more, at least one of them above zero.",
        )
    return (hot_l_min * hot_c + cold_l_min * cold_c) / (hot_l_min + cold_l_min)


def hot_fraction(mixed_c: float, hot_c: float, cold_c: float) -> float | None:
    """Share of hot water in the mix, (Tm − Tc)/(Th − Tc) (PH-02).

    Args:
        mixed_c, hot_c, cold_c: temperatures, °C.

    Returns:
        The share, outside 0 to 1 where the readings contradict each other; None where hot is not
        warmer than cold, for nothing can be said then.
    """
    if hot_c <= cold_c:
        return None
    return (mixed_c - cold_c) / (hot_c - cold_c)


def fixed_mixer_temperature(
    hot_c: float, cold_c: float, hot_bar: float, cold_bar: float, hot_opening: float = 0.5
) -> float:
    """Temperature behind a mixer that does not regulate, °C: each flow goes with √pressure (PH-03, PH-04).

    Args:
        hot_c, cold_c: supply temperatures, °C.
        hot_bar, cold_bar: flow pressures above that of the outlet, bar.
        hot_opening: share of the open area on the hot side, 0 to 1.

    Raises:
        EntryFault: a pressure is below zero, the share outside 0 to 1, or nothing flows.
    """
    if min(hot_bar, cold_bar) < 0 or not 0 <= hot_opening <= 1:
        raise EntryFault(
            "The mixer can't be worked out",
            phrase(
                "Pressures {hot_bar:g} and {cold_bar:g} bar, hot side open by {hot_opening:g}.",
                hot_bar=hot_bar,
                cold_bar=cold_bar,
                hot_opening=hot_opening,
            ),
            "Give pressures of zero or more and an opening from 0 to 1.",
        )
    hot_flow = hot_opening * math.sqrt(hot_bar)
    cold_flow = (1 - hot_opening) * math.sqrt(cold_bar)
    return mixed_temperature(hot_flow, hot_c, cold_flow, cold_c)


def hot_opening(mixed_c: float, hot_c: float, cold_c: float, hot_bar: float, cold_bar: float) -> float | None:
    """Share of the open area on the hot side at which a mixer gives a temperature: what undoes its mixing.

    Args:
        mixed_c, hot_c, cold_c: temperatures, °C.
        hot_bar, cold_bar: flow pressures above that of the outlet, bar.

    Returns:
        The share, 0 to 1; None where the temperature can't be mixed from these supplies, or a supply has
        no pressure.
    """
    share = hot_fraction(mixed_c, hot_c, cold_c)
    if share is None or not 0 <= share <= 1 or min(hot_bar, cold_bar) <= 0:
        return None
    hot, cold = share * math.sqrt(cold_bar), (1 - share) * math.sqrt(hot_bar)
    return hot / (hot + cold)


def collected_flow(volume_ml: float, time_s: float, u_volume_ml: float, u_time_s: float) -> CollectedFlow:
    """Flow from a collected volume, q = V/t, with u(q)² = (u_V/t)² + (V·u_t/t²)² (MU-12).

    Args:
        volume_ml: volume collected, ml; zero where nothing came.
        time_s: time of collecting, s.
        u_volume_ml, u_time_s: their standard uncertainties (k = 1), ml and s.

    Raises:
        EntryFault: the time is not above zero, or another number is below zero.
    """
    if time_s <= 0 or min(volume_ml, u_volume_ml, u_time_s) < 0:
        raise EntryFault(
            "The flow can't be worked out",
            phrase(
                "Volume {volume_ml:g} ml in {time_s:g} s, uncertainties {u_volume_ml:g} ml and "
                "{u_time_s:g} s.",
                volume_ml=volume_ml,
                time_s=time_s,
                u_volume_ml=u_volume_ml,
                u_time_s=u_time_s,
            ),
            "Give a time above zero, and a volume and uncertainties of zero or more.",
        )
    u_per_s = math.hypot(u_volume_ml / time_s, volume_ml * u_time_s / time_s**2)
    return CollectedFlow(60 * volume_ml / time_s, 60 * u_per_s)

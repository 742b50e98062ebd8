"""How far a mixer that does not regulate would swing with these supplies: why there is a thermostat.

Its two openings stand still: set so that it gives the wanted temperature with the supplies as they are, each
flow goes with the root of its pressure (PH-01, PH-03). What it then gives when a supply changes is
what the thermostat has to cancel.
"""

from dataclasses import dataclass

from estate.domain.mixing import fixed_mixer_temperature, hot_opening
from estate.domain.phrases import phrase
from estate.domain.scald import burn_words
from estate.domain.suitability.footing import Footing

SOURCE = "PH-01, PH-03: mixing balance, flow with the root of pressure (computed)"
HOT_STEP_K = 5.0


@dataclass(frozen=True, slots=True)
class Swing:
    """What a mixer that does not regulate would give after one change of a supply.

    Attributes:
        change: of the supply, in words.
        mixed_c: °C.
        moved_k: from the wanted temperature, K.
        above_ceiling: whether it would pass the use's ceiling; None where there is none.
        burn: what water above the ceiling does; empty if it is not above.
    """

    change: str
    mixed_c: float
    moved_k: float
    above_ceiling: bool | None
    burn: str = ""


@dataclass(frozen=True, slots=True)
class Swings:
    """The swings of one place.

    Attributes:
        wanted_c: where the mixer stands before, °C.
        hot_opening: share of the open area on the hot side.
        measured: whether both flow pressures were measured; False took them as equal.
    """

    wanted_c: float
    hot_opening: float
    measured: bool
    swings: tuple[Swing, ...]


def mechanical_swings(on: Footing) -> Swings | None:
    """Work the swings out; None where a temperature is missing, or the wanted one can't be mixed of both."""
    hot_c, cold_c, wanted = on.survey.hot.temperature_c, on.survey.cold.temperature_c, on.set_c
    if hot_c is None or cold_c is None or wanted is None:
        return None
    bars = (on.survey.hot.flow_bar, on.survey.cold.flow_bar)
    measured = None not in bars and min(each or 0.0 for each in bars) > 0
    hot_bar, cold_bar = (each if measured and each is not None else 1.0 for each in bars)
    opening = hot_opening(wanted.value, hot_c, cold_c, hot_bar, cold_bar)
    if not opening:
        return None
    ceiling = None if on.ceiling_c is None else on.ceiling_c.value
    changes = [
        (phrase("cold pressure halved"), hot_c, cold_c, hot_bar, cold_bar / 2),
        (phrase("cold pressure doubled"), hot_c, cold_c, hot_bar, cold_bar * 2),
        (phrase("hot pressure halved"), hot_c, cold_c, hot_bar / 2, cold_bar),
        (phrase("hot pressure doubled"), hot_c, cold_c, hot_bar * 2, cold_bar),
        (
            phrase("hot supply {step:g} K hotter", step=HOT_STEP_K),
            hot_c + HOT_STEP_K,
            cold_c,
            hot_bar,
            cold_bar,
        ),
        (
            phrase("hot supply {step:g} K cooler", step=HOT_STEP_K),
            hot_c - HOT_STEP_K,
            cold_c,
            hot_bar,
            cold_bar,
        ),
        (phrase("cold supply lost"), hot_c, cold_c, hot_bar, 0.0),
    ]
    found = tuple(
        _swing(words, fixed_mixer_temperature(hot, cold, hot_now, cold_now, opening), wanted.value, ceiling)
        for words, hot, cold, hot_now, cold_now in changes
    )
    return Swings(wanted.value, opening, measured, found)


def _swing(change: str, mixed_c: float, wanted_c: float, ceiling_c: float | None) -> Swing:
    above = None if ceiling_c is None else mixed_c > ceiling_c
    burn = burn_words(round(mixed_c, 1)) if above else ""
    return Swing(change, mixed_c, mixed_c - wanted_c, above, burn)

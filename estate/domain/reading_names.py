"""What each reading is called and its unit, for sheets, pages and certificates alike."""

from collections.abc import Mapping
from types import MappingProxyType
from typing import Final

from estate.domain.phrases import phrase
from estate.domain.visits import Readings, measured

SIDES: Final = MappingProxyType({"hot": phrase("hot"), "cold": phrase("cold")})
"""The two supplies, within a sentence."""

PLAIN_NAMES: Final[Mapping[str, tuple[str, str]]] = MappingProxyType(
    {
        "hot_c": ("hot supply", "°C"),
        "cold_c": ("cold supply", "°C"),
        "found_c": ("mixed as found", "°C"),
        "left_c": ("mixed as left", "°C"),
        "flow_l_min": ("flow", "l/min"),
        "small_draw_c": ("mixed at small draw-off", "°C"),
        "small_draw_l_min": ("small draw-off", "l/min"),
        "hot_static_bar": ("hot static pressure", "bar"),
        "cold_static_bar": ("cold static pressure", "bar"),
        "hot_flow_bar": ("hot flow pressure", "bar"),
        "cold_flow_bar": ("cold flow pressure", "bar"),
        "adjusted": ("adjuster turned", ""),
        "strainers_cleaned": ("strainers cleaned", ""),
        "check_valves_good": ("check valves in good order", ""),
        "isolating_valves_open": ("isolating valves fully open", ""),
        "cap_refitted": ("cap refitted", ""),
    }
)
"""Name and unit by field of `Readings`; no unit where the field is yes or no."""

ISOLATION_NAMES: Final[Mapping[str, tuple[str, str]]] = MappingProxyType(
    {
        "max_c": ("highest mixed", "°C"),
        "stabilised_c": ("stabilised", "°C"),
        "residual_ml_min": ("flow still passing", "ml/min"),
        "residual_c": ("temperature of what still passes", "°C"),
        "shut_s": ("time to shut", "s"),
        "said_to_shut": ("said to shut", ""),
    }
)
"""Name and unit by field of `Isolation`."""


def reading_name(field: str) -> tuple[str, str]:
    """Name and unit of a reading.

    Args:
        field: its dotted name, such as ``cold_isolated.max_c``.

    Raises:
        KeyError: there is no such reading.
    """
    group, _, part = field.rpartition(".")
    if not group:
        return PLAIN_NAMES[field]
    name, unit = ISOLATION_NAMES[part]
    return f"{group.partition('_')[0]} isolated: {name}", unit


def readings_in_words(readings: Readings) -> tuple[tuple[str, str, float | bool], ...]:
    """Field, name with unit and value of each reading that was taken, in the order of the record."""
    found = []
    for field, value in measured(readings).items():
        name, unit = reading_name(field)
        found.append((field, f"{name}, {unit}" if unit else name, value))
    return tuple(found)

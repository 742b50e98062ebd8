"""The columns of outlets and valves in words."""

from typing import Final

_WORDS: Final = {
    "name": "name",
    "use": "use",
    "user_group": "users",
    "pipe_m": "blended pipe (m)",
    "rule_set": "rule set",
    "retired_on": "retired on",
    "position_id": "valve position",
    "en_type": "EN 1111 type",
    "scheme_class": "class",
    "size_mm": "size (mm)",
    "set_c": "set temperature (°C)",
    "min_differential_k": "least differential (K)",
    "max_pressure_ratio": "greatest pressure ratio",
}


def column_words(column: str) -> str:
    """What a column holds, with its unit."""
    return _WORDS.get(column, column.replace("_", " "))

"""The columns of tables in words."""

from typing import Final

_WORDS: Final = {
    "name": "name",
    "use": "use",
    "user_group": "users",
    "pipe_m": "blended pipe (m)",
    "rule_set": "rule set",
    "retired_on": "retired on",
    "position_id": "valve position",
    "room_id": "room",
    "en_type": "EN 1111 type",
    "scheme_class": "class",
    "size_mm": "size (mm)",
    "set_c": "set temperature (°C)",
    "min_differential_k": "least differential (K)",
    "max_pressure_ratio": "greatest pressure ratio",
}
_UNITS: Final = {
    "_l_min": " (l/min)",
    "_ml_min": " (ml/min)",
    "_bar": " (bar)",
    "_c": " (°C)",
    "_k": " (K)",
    "_m": " (m)",
    "_s": " (s)",
    "_id": " number",
}


def column_words(column: str) -> str:
    """What a column holds, with its unit."""
    ending = max((each for each in _UNITS if column.endswith(each)), key=len, default="")
    plain = column.removesuffix(ending).replace("_", " ") + _UNITS.get(ending, "")
    return _WORDS.get(column, plain)

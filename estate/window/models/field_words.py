"""The fields and units of a sheet as a person reads them."""

from estate.domain.reading_names import ISOLATION_NAMES, PLAIN_NAMES

_FIELDS = {
    "reference": "outlet's reference",
    "key": "key of a round sheet",
    "on": "day of the visit",
    "kind": "kind of visit",
    "person": "tester",
    "instrument": "measuring instrument",
    **{field: f"{name}, {unit}" for field, (name, unit) in PLAIN_NAMES.items() if unit},
    "set_c": "set temperature, °C",
    "size_mm": "size, mm",
    "pipe_m": "pipe to the outlet, m",
    "en_type": "EN 1111 type",
    "scheme_class": "scheme class",
    "user_group": "who uses it",
    "min_differential_k": "least hot-to-mixed difference, K",
    "max_pressure_ratio": "greatest pressure ratio, to 1",
}
_PARTS = {field: f"{name}, {unit}" if unit else name for field, (name, unit) in ISOLATION_NAMES.items()}
_UNITS = {
    "celsius": "°C",
    "fahrenheit": "°F",
    "degree": "°",
    "kilopascal": "kPa",
    "megapascal": "MPa",
    "millibar": "mbar",
    "pounds_per_square_inch": "psi",
    "l_h": "l/h",
    "m3_h": "m³/h",
    "ml_half_min": "ml in 30 s",
    "ml_s": "ml/s",
    "residual_l_h": "l/h",
    "l_min": "l/min",
    "l_s": "l/s",
    "ml_min": "ml/min",
    "residual_l_min": "l/min",
    "second": "s",
    "minute": "min",
    "metre": "m",
    "centimetre": "cm",
    "millimetre": "mm",
    "length_millimetre": "mm",
    "kelvin": "K",
    "fahrenheit_step": "°F",
    "to_one": "to 1",
}
LEFT_OUT = "left out"


def field_words(name: str) -> str:
    """A field in words; an empty name is a column left out."""
    if not name:
        return LEFT_OUT
    supply, dot, part = name.partition(".")
    if dot:
        return f"{supply.split('_')[0]} isolated: {_PARTS.get(part, part.replace('_', ' '))}"
    return _FIELDS.get(name, name.replace("_", " "))


def unit_words(name: str) -> str:
    """A unit as it is written."""
    return _UNITS.get(name, name.replace("_", " "))

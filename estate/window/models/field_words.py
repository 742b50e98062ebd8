"""The fields and units of a sheet as a person reads them."""

from estate.domain.reading_names import ISOLATION_NAMES, PLAIN_NAMES
from estate.window.translating import said, tr

_FIELDS = {
    "reference": said("outlet's reference"),
    "key": said("key of a round sheet"),
    "on": said("day of the visit"),
    "kind": said("kind of visit"),
    "person": said("tester"),
    "instrument": said("measuring instrument"),
    "set_c": said("set temperature, °C"),
    "size_mm": said("size, mm"),
    "pipe_m": said("pipe to the outlet, m"),
    "en_type": said("EN 1111 type"),
    "scheme_class": said("scheme class"),
    "user_group": said("who uses it"),
    "min_differential_k": said("least hot-to-mixed difference, K"),
    "max_pressure_ratio": said("greatest pressure ratio, to 1"),
}
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
    "ml_half_min": said("ml in 30 s"),
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
    "to_one": said("to 1"),
}
LEFT_OUT = said("left out")
SUPPLIES = {"cold": said("cold"), "hot": said("hot")}


def field_words(name: str) -> str:
    """A field in words; an empty name is a column left out."""
    if not name:
        return tr(LEFT_OUT)
    supply, dot, part = name.partition(".")
    if dot:
        return tr(
            "{supply} isolated: {what}",
            supply=tr(SUPPLIES[supply.split("_")[0]]),
            what=_measured(*ISOLATION_NAMES.get(part, (part.replace("_", " "), ""))),
        )
    named, unit = PLAIN_NAMES.get(name, ("", ""))
    if unit and name not in _FIELDS:
        return _measured(named, unit)
    return tr(_FIELDS.get(name, name.replace("_", " ")))


def _measured(name: str, unit: str) -> str:
    return f"{tr(name)}, {unit}" if unit else tr(name)


def unit_words(name: str) -> str:
    """A unit as it is written."""
    return tr(_UNITS.get(name, name.replace("_", " ")))

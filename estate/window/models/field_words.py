"""The fields and units of a sheet as a person reads them."""

_FIELDS = {
    "reference": "outlet's reference",
    "key": "key of a round sheet",
    "on": "day of the visit",
    "kind": "kind of visit",
    "person": "tester",
    "instrument": "measuring instrument",
    "hot_c": "hot supply, °C",
    "cold_c": "cold supply, °C",
    "found_c": "mixed as found, °C",
    "left_c": "mixed as left, °C",
    "flow_l_min": "flow, l/min",
    "small_draw_c": "mixed at small draw-off, °C",
    "small_draw_l_min": "small draw-off, l/min",
    "hot_static_bar": "hot static pressure, bar",
    "cold_static_bar": "cold static pressure, bar",
    "hot_flow_bar": "hot flow pressure, bar",
    "cold_flow_bar": "cold flow pressure, bar",
    "set_c": "set temperature, °C",
    "size_mm": "size, mm",
    "pipe_m": "pipe to the outlet, m",
    "en_type": "EN 1111 type",
    "scheme_class": "scheme class",
    "user_group": "who uses it",
    "min_differential_k": "least hot-to-mixed difference, K",
    "max_pressure_ratio": "greatest pressure ratio, to 1",
}
_PARTS = {
    "max_c": "highest mixed, °C",
    "stabilised_c": "stabilised, °C",
    "residual_ml_min": "flow still passing, ml/min",
    "residual_c": "temperature of what still passes, °C",
    "shut_s": "time to shut, s",
    "said_to_shut": "said to shut",
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

"""Values that can't be true of water from a tap: asked about before they are taken."""

from dataclasses import fields

from estate.domain.phrases import phrase
from estate.domain.visits import Isolation, Readings

_RANGES: dict[str, tuple[float, float, str]] = {
    "_c": (0.0, 100.0, "°C"),
    "_bar": (0.0, 25.0, "bar"),
    "_l_min": (0.0, 200.0, "l/min"),
    "_ml_min": (0.0, 30000.0, "ml/min"),
    "_s": (0.0, 600.0, "s"),
}


def implausible(readings: Readings) -> tuple[str, ...]:
    """Say which readings lie outside what is physically possible.

    Returns:
        One phrase a value, such as ``found_c 412.0: expected 0 to 100 °C``; empty if all are possible.
    """
    return (
        *_check(readings, ""),
        *_check(readings.cold_isolated, "cold_isolated."),
        *_check(readings.hot_isolated, "hot_isolated."),
    )


def _check(record: Readings | Isolation, prefix: str) -> tuple[str, ...]:
    found = []
    for each in fields(record):
        value = getattr(record, each.name)
        if isinstance(value, bool) or not isinstance(value, int | float):
            continue
        low, high, unit = next(limits for end, limits in _SORTED if each.name.endswith(end))
        if not low <= value <= high:
            name = f"{prefix}{each.name}"
            said = phrase(
                "{name} {value}: expected {low:g} to {high:g} {unit}",
                name=name,
                value=value,
                low=low,
                high=high,
                unit=unit,
            )
            found.append(said)
    return tuple(found)


_SORTED = sorted(_RANGES.items(), key=lambda pair: -len(pair[0]))

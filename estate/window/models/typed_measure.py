"""A measure as a person types it: a number, with the field's own unit after it if they like."""

from collections.abc import Mapping
from types import MappingProxyType
from typing import Final

from estate.window.models.visit_fields import parse_number
from estate.window.translating import tr

_ALSO: Final[Mapping[str, tuple[str, ...]]] = MappingProxyType({"°C": ("c",), ": 1": (":1", "to 1")})


def parse_measure(name: str, text: str, unit: str, most: float) -> float | None:
    """What was typed, in the field's unit; None where it is blank.

    Args:
        name: of the field.
        text: as typed, such as ``41,5`` or ``41.5 °C``.
        unit: of the field.
        most: the largest number that can be true, in that unit.

    Raises:
        ValueError: it is no number in that unit, or can't be true; says so in words, with the field.
    """
    typed = text.strip()
    for ending in (unit, *_ALSO.get(unit, ())):
        if typed.casefold().endswith(ending.casefold()):
            typed = typed[: -len(ending)].rstrip()
            break
    told = {"name": name, "text": text.strip(), "unit": unit}
    try:
        value = parse_number(typed)
    except ValueError:
        said = tr("{name}: “{text}” is no number in {unit}. Type a number in {unit}, such as 12.5.", **told)
        raise ValueError(said) from None
    if value is not None and not 0 < value <= most:
        said = tr(
            "{name}: “{text}” can't be true. Type more than 0 and at most {most:g} {unit}.", most=most, **told
        )
        raise ValueError(said)
    return value

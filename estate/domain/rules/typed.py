"""A rule value as a person types it, in the unit of the catalogue or in °F."""

import re

from estate.domain.rules.catalogue import CATALOGUE
from estate.domain.temperature import to_celsius, to_kelvins

_IN_FAHRENHEIT = re.compile(r"(.+?)\s*°?\s*F", re.IGNORECASE)
_CONVERTED = {"degC": to_celsius, "K": to_kelvins}


def typed_value(key: str, written: str) -> float | str:
    """What was typed for a key: a number in the unit of its catalogue where the key holds one.

    Args:
        key: of the catalogue; an unknown one is read as a number if it can be.
        written: such as ``43``, ``43,5`` or, for a temperature or a difference, ``110 °F``.

    Returns:
        The text itself where it is no number: checking it says what is wrong.
    """
    entry, text = CATALOGUE.get(key), written.strip()
    if entry is not None and entry.choices:
        return text
    convert = _CONVERTED.get(entry.unit) if entry is not None else None
    fahrenheit = _IN_FAHRENHEIT.fullmatch(text) if convert is not None else None
    try:
        number = float((fahrenheit[1] if fahrenheit else text).replace(",", "."))
    except ValueError:
        return text
    return convert(number) if fahrenheit and convert else number

"""Figures of a valve body that can't be true: refused before they are kept."""

from collections.abc import Iterator, Mapping
from types import MappingProxyType
from typing import Final

from estate.domain.phrases import phrase, together
from estate.domain.valves import DESIGNATIONS, Valve
from estate.errors import EntryFault

POSSIBLE: Final[Mapping[str, tuple[str, float, float, str]]] = MappingProxyType(
    {
        "set_c": (phrase("set temperature"), 20.0, 70.0, "°C"),
        "size_mm": (phrase("size"), 1.0, 200.0, "mm"),
        "min_differential_k": (phrase("least differential"), 0.0, 80.0, "K"),
        "max_pressure_ratio": (phrase("greatest pressure ratio"), 1.0, 100.0, "to 1"),
    }
)
"""What each figure may be, in words, with its least and greatest value and its unit."""


def must_be_possible(valve: Valve) -> None:
    """Refuse a body whose figures or designations can't be true.

    Raises:
        EntryFault: says which; a figure that is not recorded is no fault.
    """
    found = list(_impossible(valve))
    if found:
        remedy = phrase("Correct it, or leave it empty where it is not known.")
        raise EntryFault(
            "That can't be true of a valve", phrase("{found}.", found=together(*found, between="; ")), remedy
        )


def _impossible(valve: Valve) -> Iterator[str]:
    figures = {
        "set_c": valve.set_c,
        "size_mm": valve.size_mm,
        "min_differential_k": valve.limits.min_differential_k,
        "max_pressure_ratio": valve.limits.max_pressure_ratio,
    }
    for name, value in figures.items():
        words, least, greatest, unit = POSSIBLE[name]
        if value is not None and not least <= value <= greatest:
            yield phrase(
                "{words} {value:g} {unit}: {least:g} to {greatest:g} {unit} is possible",
                words=words,
                value=value,
                unit=unit,
                least=least,
                greatest=greatest,
            )
    unknown = [each for each in valve.designations if each not in DESIGNATIONS]
    if unknown:
        yield phrase("{unknown} is no designation", unknown=", ".join(unknown))

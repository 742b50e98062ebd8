"""Designation codes and the uses that they are for (D08-10..12, D08-50)."""

from collections.abc import Mapping, Sequence
from types import MappingProxyType

from estate.domain.places import Use

USE_LETTERS: Mapping[Use, tuple[str, ...]] = MappingProxyType(
    {
        Use.BIDET: ("B",),
        Use.SHOWER: ("S",),
        Use.BASIN: ("W",),
        Use.BATH: ("T", "T44"),
        Use.ASSISTED_BATH: ("T", "T46"),
    }
)
"""Ends of the codes that serve a use; a use that is not here has no code of its own."""

BANDS: Mapping[str, str] = MappingProxyType({"hp": "high pressure", "lp": "low pressure"})
"""The two pressure bands of a code, as they stand in rule keys."""


def bands_of(designations: Sequence[str]) -> tuple[str, ...]:
    """The pressure bands that some codes name, in the order of `BANDS`; unknown codes name none."""
    named = {each.strip()[:2].casefold() for each in designations}
    return tuple(band for band in BANDS if band in named)


def endings_of(designations: Sequence[str]) -> set[str]:
    """The uses' letters of some codes, such as ``W`` of ``HP-W``."""
    return {each.strip().upper().partition("-")[2] for each in designations} - {""}

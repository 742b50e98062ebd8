"""What speaks for and against a cause."""

from dataclasses import dataclass
from enum import StrEnum

PRACTICE = "common practice, no source"
"""Of lines that rest on experience alone."""
FAULT_LISTS = "PH-08: trade fault lists, order of checks D08-72 (not verified in the source)"
BEFORE_ADJUSTING = "D08-72: TMV3 scheme procedure in makers' manuals (not verified in the source)"
SERVICE_NEEDED = "D08-74: TMV3 scheme procedure in makers' manuals (not verified in the source)"
SUPPLIES_MATTER = "D08-07: TMV3 scheme guide (2017)"


class Bearing(StrEnum):
    """How a piece of evidence bears on a cause."""

    SEEN = "seen"
    FOR = "for"
    AGAINST = "against"
    MISSING = "missing"


@dataclass(frozen=True, slots=True)
class Evidence:
    """One thing that bears on a cause, or one measurement that would.

    Attributes:
        words: with its numbers; of what is missing: what to measure.
    """

    bearing: Bearing
    words: str
    source: str = ""


def seen(words: str, source: str) -> Evidence:
    """What was looked at and found so."""
    return Evidence(Bearing.SEEN, words, source)


def speaks_for(words: str, source: str) -> Evidence:
    """What makes a cause likelier."""
    return Evidence(Bearing.FOR, words, source)


def speaks_against(words: str, source: str) -> Evidence:
    """What makes a cause less likely."""
    return Evidence(Bearing.AGAINST, words, source)


def missing(words: str) -> Evidence:
    """A measurement that would help."""
    return Evidence(Bearing.MISSING, words)

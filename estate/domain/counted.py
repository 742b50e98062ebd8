"""Counted things in words: the noun, the verb and the days that go with a count."""

from collections.abc import Sequence


def noun(of: Sequence[object], one: str, many: str = "") -> str:
    """The noun that goes with how many there are."""
    return one if len(of) == 1 else (many or f"{one}s")


def verb(of: Sequence[object], one: str, many: str) -> str:
    """The word that goes with one of them or with none or many."""
    return one if len(of) == 1 else many


def days(count: int) -> str:
    """A count of days, such as ``1 day`` or ``1,204 days``."""
    return f"{count:,} day{'' if count == 1 else 's'}"

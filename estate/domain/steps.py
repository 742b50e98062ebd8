"""What was seen and done at a visit, step by step, beside its readings; nothing said is None, never yes."""

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import cached_property


@dataclass(frozen=True, slots=True)
class Seen:
    """One step of a procedure, as it was seen.

    Attributes:
        key: the step's, see `estate.domain.procedures`.
        said: yes or no; None where it was not looked at.
        number: what was measured in `unit`; None where nothing was.
    """

    key: str
    said: bool | None = None
    number: float | None = None
    unit: str = ""
    remark: str = ""


@dataclass(frozen=True, slots=True)
class Part:
    """A part that was put in; `quantity` is None where it was not counted."""

    name: str
    quantity: float | None = None
    remark: str = ""


@dataclass(frozen=True)
class Steps:
    """All that was seen and done at one visit."""

    seen: tuple[Seen, ...] = ()
    parts: tuple[Part, ...] = ()

    def __bool__(self) -> bool:
        return bool(self.seen or self.parts)

    @cached_property
    def by_key(self) -> Mapping[str, Seen]:
        """Each step by its key; of one that was said twice, the later."""
        return {each.key: each for each in self.seen}

    def said(self, key: str) -> bool | None:
        """The yes or no of a step; None where it was not looked at."""
        found = self.by_key.get(key)
        return None if found is None else found.said

    def number(self, key: str) -> float | None:
        """What was measured at a step; None where nothing was."""
        found = self.by_key.get(key)
        return None if found is None else found.number


NOTHING_SEEN = Steps()

_PART = re.compile(r"(?P<name>.*?\S)(?:\s+(?P<quantity>\d{1,4}))?")


def parts_in(words: str) -> tuple[Part, ...]:
    """Parts as a person types them in one line: ``strainer 2, washer``."""
    found = [_PART.fullmatch(each.strip()) for each in words.split(",")]
    return tuple(
        Part(each["name"], float(each["quantity"]) if each["quantity"] else None) for each in found if each
    )


def parts_words(parts: Iterable[Part]) -> str:
    """Parts in one line, as `parts_in` reads them."""
    return ", ".join(
        each.name if each.quantity is None else f"{each.name} {each.quantity:g}" for each in parts
    )

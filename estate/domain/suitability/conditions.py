"""One condition: whether it holds, by how much, and what would mend it."""

from dataclasses import dataclass
from enum import StrEnum

from estate.domain.suitability.bounds import Bound, Sureness

_DECIMALS = 9


class Held(StrEnum):
    """What a condition came to; a missing value never holds."""

    HOLDS = "holds"
    FAILS = "fails"
    UNTOLD = "can't be told"


@dataclass(frozen=True, slots=True)
class Condition:
    """One condition of a place and a valve.

    Attributes:
        code: stable name, such as ``hot-flow-pressure``.
        name: what is compared.
        value: the figure in `unit`; None where it is missing or no number.
        low, high: the limits; None where that end is open or not known.
        strict: whether the figure must stay below `high` and not only reach it.
        margin: room to the nearer limit in `unit`, below zero where it fails; None if nothing is compared.
        words: more than the numbers say; empty if nothing.
        mend: what would mend it, or what has to be measured or looked up, in order.
    """

    code: str
    name: str
    held: Held
    value: float | None = None
    unit: str = ""
    low: Bound | None = None
    high: Bound | None = None
    strict: bool = False
    margin: float | None = None
    words: str = ""
    mend: tuple[str, ...] = ()

    @property
    def limits(self) -> tuple[Bound, ...]:
        """The limits that it rests on."""
        return tuple(each for each in (self.low, self.high) if each is not None)

    @property
    def limit_words(self) -> str:
        """The limits in one phrase, such as ``1 to 5 bar``; empty without a number to compare."""
        if not self.unit or not self.limits:
            return ""
        ratio = ":1" if self.unit == ": 1" else f" {self.unit}"
        if self.low is None or self.high is None:
            sign = "≥" if self.high is None else "<" if self.strict else "≤"
            return f"{sign} {self.limits[0].value:g}{ratio}"
        return f"{self.low.value:g} to {self.high.value:g}{ratio}"

    @property
    def value_words(self) -> str:
        """The figure with its unit, such as ``3.5 bar`` or ``not known``; empty where none is compared."""
        if self.value is None:
            return "not known" if self.unit else ""
        return f"{self.value:.4g} {self.unit}".replace(" : 1", ":1")

    @property
    def source(self) -> str:
        """Where its limits come from, each once."""
        return "; ".join(dict.fromkeys(each.source for each in self.limits))

    @property
    def rests_on(self) -> str:
        """Where its limits come from and how sure they are; empty without a limit."""
        unsaid = self.sureness is not None and self.sureness not in self.source
        return f"{self.source}; {self.sureness}" if unsaid else self.source

    @property
    def sureness(self) -> Sureness | None:
        """How sure its limits are, the least sure one; None without a limit."""
        order = list(Sureness)
        return max((each.sureness for each in self.limits), key=order.index, default=None)


def compared(
    code: str,
    name: str,
    value: float | None,
    unit: str,
    *,
    low: Bound | None = None,
    high: Bound | None = None,
    strict: bool = False,
    missing: str = "",
    unknown: str = "",
    words: str = "",
) -> Condition:
    """Hold a figure against its limits.

    Args:
        code, name: of the condition.
        value: the figure; None where it is missing.
        unit: of figure and limits.
        low, high: limits; exactly a limit holds, but for a `strict` upper one.
        strict: whether exactly the upper limit fails.
        missing: what to measure where the figure is missing.
        unknown: what to look up where no limit is known.
        words: more than the numbers say.
    """
    mend = tuple(
        words
        for words, lacks in ((missing, value is None), (unknown, low is None and high is None))
        if words and lacks
    )
    margins = [] if value is None else [round(value - low.value, _DECIMALS)] if low is not None else []
    if value is not None and high is not None:
        margins.append(round(high.value - value, _DECIMALS))
    if not margins:
        return Condition(code, name, Held.UNTOLD, value, unit, low, high, strict, words=words, mend=mend)
    margin = min(margins)
    too_high = strict and high is not None and margins[-1] <= 0
    held = Held.FAILS if margin < 0 or too_high else Held.HOLDS
    return Condition(code, name, held, value, unit, low, high, strict, margin, words)


def seen(code: str, name: str, told: bool | None, bound: Bound | None, words: str, mend: str) -> Condition:
    """A condition that is no number: told to be so, told not to be so, or not told."""
    held = Held.UNTOLD if told is None else Held.HOLDS if told else Held.FAILS
    return Condition(code, name, held, low=bound, words=words, mend=() if told else (mend,))

"""Every key a rule set may hold: its unit, what it may be, and its words for people.

The ranges are no limits of the trade: they keep out slips of the hand (a ceiling of 430 °C) and overrides
that no site may make (records kept for less than HSE-18 asks).
"""

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from types import MappingProxyType

from estate.domain.phrases import phrase

UNIT_WORDS: Mapping[str, str] = MappingProxyType(
    {
        "degC": "°C",
        "degF": "°F",
        "K": "K",
        "s": "s",
        "ml/min": "ml/min",
        "bar": "bar",
        "ratio": "to 1",
        "m": "m",
        "day": "days",
        "week": "weeks",
        "month": "months",
        "year": "years",
        "share": "of 1",
        "class": "",
        "person": "",
    }
)


@dataclass(frozen=True, slots=True)
class Entry:
    """What one key may hold.

    Attributes:
        low, high: range of a number in `unit`, ends included; unused where there are choices.
        choices: the texts allowed; empty for a number.
        whole: whether the number must be whole.
        published_high: the highest that a rule set may publish where that is above what a site may choose.
    """

    key: str
    unit: str
    words: str
    low: float = 0.0
    high: float = 0.0
    choices: tuple[str, ...] = ()
    whole: bool = False
    published_high: float | None = None

    @property
    def expected(self) -> str:
        """What is expected, in words for a fault."""
        if self.choices:
            return "one of the texts " + ", ".join(f'"{choice}"' for choice in self.choices)
        kind = "a whole number" if self.whole else "a number"
        return f"{kind} of {self.unit} from {self.low:g} to {self.high:g}"

    def accepts(self, value: object) -> bool:
        """Whether a value is of the right kind and within range."""
        if self.choices:
            return isinstance(value, str) and value in self.choices
        if isinstance(value, bool) or not isinstance(value, int | float) or not math.isfinite(value):
            return False
        return self.low <= value <= self.high and (not self.whole or float(value).is_integer())

    def publishes(self, value: object) -> bool:
        """Whether a value is of the right kind and within the range of what is published somewhere."""
        high = self.high if self.published_high is None else self.published_high
        return replace(self, high=high).accepts(value)


_HIGHEST_PUBLISHED_C = 55
"""New Zealand, work before November 2023 (NZ-01); no site may choose as much for itself."""

_USES = {
    "basin": phrase("basin"),
    "shower": phrase("shower"),
    "bath": phrase("bath"),
    "assisted-bath": phrase("assisted bath"),
    "bidet": phrase("bidet"),
    "hair-wash": phrase("hair wash"),
    "other": phrase("other use"),
}
_GROUPS = {
    "staff": phrase("staff"),
    "public": phrase("the public"),
    "patients": phrase("patients"),
    "residents": phrase("residents"),
    "children": phrase("children"),
    "dependent": phrase("dependent people"),
}
_DESIGNATIONS = {"hp": phrase("high-pressure"), "lp": phrase("low-pressure")}
_STAGES = {
    "stage.1": phrase("first test after commissioning"),
    "stage.2": phrase("second test after commissioning"),
    "stage.3.long": phrase("third test after commissioning, little change seen"),
    "stage.3.short": phrase("third test after commissioning, change seen"),
}
_RETESTS = {
    "put-right": phrase("something had to be put right"),
    "not-tested": phrase("required values were not measured"),
    "readjusted": phrase("the temperature was readjusted"),
}


def _mixed() -> Iterator[Entry]:
    for use, words in _USES.items():
        yield Entry(
            f"mixed.set.{use}", "degC", phrase("highest set mixed temperature, {words}", words=words), 20, 48
        )
        yield Entry(
            f"mixed.ceiling.{use}",
            "degC",
            phrase("highest stabilised mixed temperature, {words}", words=words),
            20,
            50,
            published_high=_HIGHEST_PUBLISHED_C,
        )
    yield Entry(
        "mixed.never-above", "degC", phrase("mixed temperature never to be passed at any use"), 30, 50
    )
    yield Entry(
        "mixed.immersion-max", "degC", phrase("highest temperature where a whole body is immersed"), 30, 46
    )
    yield Entry(
        "mixed.set-tolerance", "K", phrase("deviation from the set temperature that is accepted"), 0, 5
    )
    yield Entry(
        "mixed.ceiling-over-set",
        "K",
        phrase("ceiling above the set temperature, uses without their own"),
        0,
        5,
    )
    yield Entry("change.small", "K", phrase("change of mixed temperature that counts as small"), 0.1, 2)
    yield Entry("change.large", "K", phrase("change of mixed temperature that counts as large"), 0.5, 5)


def _isolation() -> Iterator[Entry]:
    yield Entry("isolation.wait", "s", phrase("wait after isolating a supply before judging"), 0, 60)
    yield Entry("isolation.max-rise", "K", phrase("rise of the isolation maximum over the last test"), 0.1, 5)
    yield Entry(
        "isolation.residual-over-set", "K", phrase("residual flow hotter than the set temperature by"), 0, 5
    )
    yield Entry("isolation.residual-flow", "ml/min", phrase("residual flow after isolating a supply"), 0, 500)


def _supplies() -> Iterator[Entry]:
    yield Entry("hot.legionella-min", "degC", phrase("lowest hot supply for legionella control"), 45, 75)
    yield Entry("cold.legionella-max", "degC", phrase("highest cold supply for legionella control"), 10, 25)
    for kind in ("2", "3"):
        yield Entry(
            f"hot.class-min.type-{kind}",
            "degC",
            phrase("lowest hot supply, Type {kind} valve", kind=kind),
            40,
            70,
        )
        yield Entry(
            f"hot.class-max.type-{kind}",
            "degC",
            phrase("highest hot supply, Type {kind} valve", kind=kind),
            50,
            90,
        )
        yield Entry(
            f"cold.class-max.type-{kind}",
            "degC",
            phrase("highest cold supply, Type {kind} valve", kind=kind),
            10,
            30,
        )
        yield Entry(
            f"pressure.static-max.type-{kind}",
            "bar",
            phrase("highest static pressure, Type {kind} valve", kind=kind),
            1,
            25,
        )
        for code, words in _DESIGNATIONS.items():
            where = phrase("Type {kind} valve, {words}", kind=kind, words=words)
            yield Entry(
                f"pressure.flow-min.type-{kind}.{code}",
                "bar",
                phrase("lowest flow pressure, {where}", where=where),
                0.01,
                16,
            )
            yield Entry(
                f"pressure.flow-max.type-{kind}.{code}",
                "bar",
                phrase("highest flow pressure, {where}", where=where),
                0.01,
                16,
            )
    yield Entry("cold.class-min.type-3", "degC", phrase("lowest cold supply, Type 3 valve"), 0, 20)
    yield Entry("pressure.ratio", "ratio", phrase("ratio of the supply pressures"), 1, 20)


def _planning() -> Iterator[Entry]:
    yield Entry("pipe.blended", "m", phrase("blended pipe from valve to outlet"), 0, 20)
    yield Entry(
        "strainers.interval", "month", phrase("longest time between strainer services"), 1, 24, whole=True
    )
    yield Entry("test.maximum-interval", "month", phrase("longest time between tests"), 1, 24, whole=True)
    for stage, words in _STAGES.items():
        yield Entry(f"{stage}.from", "week", phrase("{words}: not before", words=words), 0, 104)
        yield Entry(f"{stage}.to", "week", phrase("{words}: not after", words=words), 0, 104)
    for retest, words in _RETESTS.items():
        yield Entry(
            f"retest.{retest}.from", "week", phrase("retest because {words}: not before", words=words), 0, 52
        )
        yield Entry(
            f"retest.{retest}.to", "week", phrase("retest because {words}: not after", words=words), 0, 52
        )
    yield Entry(
        "retest.out-of-use.to", "week", phrase("retest of an outlet taken out of use: not after"), 0, 52
    )
    yield Entry("window.opening", "share", phrase("share of the interval after which the window opens"), 0, 1)
    yield Entry("records.results", "year", phrase("how long results are kept at least"), 5, 100, whole=True)
    for group, words in _GROUPS.items():
        yield Entry(
            f"class.needed.{group}",
            "class",
            phrase("valve class needed for {words}", words=words),
            choices=("2", "3"),
        )


def _policy() -> Iterator[Entry]:
    for group, words in _GROUPS.items():
        yield Entry(
            f"policy.risk.{group}",
            "share",
            phrase("accepted chance to reach the ceiling before the next test, {words}", words=words),
            0.0001,
            0.2,
        )
        yield Entry(
            f"policy.unavailability.{group}",
            "share",
            phrase("accepted share of time without a working shut-off, {words}", words=words),
            0.0001,
            0.2,
        )
    yield Entry(
        "policy.floor", "week", phrase("shortest interval; below it put right, not test more often"), 1, 26
    )
    yield Entry(
        "policy.growth",
        "ratio",
        phrase("growth of an interval beyond the longest that tests have shown"),
        1,
        2,
    )


_TOLD = (
    "the person in charge of the area",
    "the estates manager",
    "the responsible person for water safety",
    "the water safety group",
)


def _actions() -> Iterator[Entry]:
    for severity, words in (
        ("out-of-use", "take out of use"),
        ("put-right", "put right"),
        ("watch", "watch"),
        ("note", "note"),
    ):
        yield Entry(
            f"action.target.{severity}",
            "day",
            phrase("done and tested again, severity {words}", words=words),
            0,
            365,
        )
    yield Entry(
        "action.escalate-after", "day", phrase("days past the target before the second person is told"), 0, 90
    )
    yield Entry("action.first-told", "person", phrase("who is told first of a late action"), choices=_TOLD)
    yield Entry("action.then-told", "person", phrase("who is told next of a late action"), choices=_TOLD)
    yield Entry("care.flushing", "day", phrase("longest time between flushes of a little-used outlet"), 1, 31)
    yield Entry(
        "care.shower-head",
        "month",
        phrase("longest time between cleanings of a shower head"),
        1,
        12,
        whole=True,
    )
    yield Entry(
        "review.interval", "month", phrase("longest time until a valve is asked for anew"), 1, 36, whole=True
    )


CATALOGUE: Mapping[str, Entry] = MappingProxyType(
    {
        entry.key: entry
        for family in (_mixed, _isolation, _supplies, _planning, _policy, _actions)
        for entry in family()
    }
)


def _pairs() -> Iterator[tuple[str, str]]:
    yield ("change.small", "change.large")
    for key in CATALOGUE:
        for lower, upper in ((".set.", ".ceiling."), ("-min.", "-max.")):
            if lower in key and key.replace(lower, upper) in CATALOGUE:
                yield (key, key.replace(lower, upper))
        if key.endswith(".from"):
            yield (key, key.removesuffix("from") + "to")


ORDERED_PAIRS: tuple[tuple[str, str], ...] = tuple(_pairs())
"""Pairs of keys whose first value may not be above the second."""


def describe(key: str) -> str:
    """Words for a key, such as ``highest set mixed temperature, basin``; the key itself if unknown."""
    entry = CATALOGUE.get(key)
    return key if entry is None else entry.words

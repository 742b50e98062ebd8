"""Values of a rule set: each with its unit, source and how sure it is."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date, datetime, timedelta
from enum import StrEnum
from functools import cached_property
from types import MappingProxyType

from estate.domain.temperature import to_celsius

NOT_VERIFIED = "(not verified in the source)"
"""Stands in the shown source of a value that no reader checked in the document itself."""

TO_BE_FILLED_IN = "to be filled in by the site, with its source"
"""Stands for a value that no source known to this register gives."""

FAHRENHEIT = "degF"
"""Unit of a temperature that was published in °F; it is kept as published and judged in °C."""


class ChosenBy(StrEnum):
    """Which day decides between the dated values of a key."""

    VISIT = "visit"
    FITTING = "fitting"


@dataclass(frozen=True, slots=True)
class RuleSource:
    """Where a value was published; `document` may be ``common practice, no source``."""

    document: str
    edition: str = ""
    clause: str = ""

    def __str__(self) -> str:
        return ", ".join(part for part in (self.document, self.edition, self.clause) if part)


@dataclass(frozen=True)
class RuleValue:
    """One value of a rule set.

    Attributes:
        key: dotted name, such as ``mixed.ceiling.basin``.
        value: as published, in `unit`; empty for a blank.
        unit: one of the units of `estate.domain.rules.catalogue`, or `FAHRENHEIT`.
        fact: id of the fact in the project's table of trade facts, such as ``D08-32``.
        verified: whether a reader checked it in the source itself.
        effective: first day on which it applies.
        override: who replaced the published value, when and why; None for a published value.
        rule_set: id of the rule set, where values of several are listed together; else empty.
        until: last day on which it applies; None where the next dated value ends it.
        chosen_by: whether `effective` and `until` are days of visits, or of fitting the valve (new work).
        chosen: in words, why this one of several dated values applies; empty where there is no choice.
        blank: nothing is published: the site fills it in.
    """

    key: str
    value: float | str
    unit: str
    source: RuleSource
    fact: str
    verified: bool
    effective: date
    note: str = ""
    override: "Override | None" = None
    rule_set: str = ""
    until: date | None = None
    chosen_by: ChosenBy = ChosenBy.VISIT
    chosen: str = ""
    blank: bool = False

    @property
    def number(self) -> float:
        """The value as a number in the unit of the catalogue; a text value is a defect of the catalogue."""
        return to_celsius(float(self.value)) if self.unit == FAHRENHEIT else float(self.value)

    @property
    def in_catalogue_unit(self) -> float | str:
        """The value as a site would give it: a temperature in °C, however it was published."""
        return self.value if isinstance(self.value, str) else self.number

    @property
    def figure(self) -> str:
        """The value as it was published, without its unit."""
        return self.value if isinstance(self.value, str) else f"{self.value:g}"

    @cached_property
    def shown_source(self) -> str:
        """Source in one line, saying so where it is unverified or overridden."""
        if self.override is not None:
            made = self.override
            return f"site's own value, {made.who}, {made.at:%Y-%m-%d}: {made.why} (published: {self.fact})"
        if self.blank:
            return TO_BE_FILLED_IN
        scale = f", published as {self.figure} °F" if self.unit == FAHRENHEIT else ""
        chosen = f"; {self.chosen}" if self.chosen else ""
        doubt = "" if self.verified else f" {NOT_VERIFIED}"
        return f"{self.fact}: {self.source}{scale}{chosen}{doubt}"


@dataclass(frozen=True, slots=True)
class Override:
    """A site's own value in place of a published one; kept for good.

    Attributes:
        place: ``estate``, ``building:ID`` or ``outlet:ID``.
        value: None withdraws an earlier override.
    """

    rule_set: str
    key: str
    place: str
    value: float | str | None
    who: str
    at: datetime
    why: str


@dataclass(frozen=True, slots=True)
class Remark:
    """What a rule set says beside its values.

    Attributes:
        facts: ids of the facts that it rests on.
        words: what they say.
        applied: of sources that disagree, what this rule set goes by; empty for other remarks.
    """

    facts: tuple[str, ...]
    words: str
    applied: str = ""


@dataclass(frozen=True)
class RuleSet:
    """A rule set as it applies at one place on one day: published values with overrides laid over.

    Attributes:
        values: by key; as `estate.domain.rules.days.as_of` chooses them, else the newest.
        place: the country or state whose rules these are.
        dated: every value of the keys that hold several, or one that ends or depends on the day of fitting.
        left_aside: parts of keys that the rule set has no use for, so that they are no blanks.
        disagreements: sources that disagree, each with what is applied; nothing is averaged.
        not_judged: what its sources ask for beside the values, which nothing here judges.
        chosen: the rule set as of other days, kept once worked out.
    """

    id: str
    title: str
    edition: str
    scope: str
    cautions: tuple[str, ...]
    values: Mapping[str, RuleValue] = field(default_factory=lambda: MappingProxyType({}))
    place: str = ""
    dated: Mapping[str, tuple[RuleValue, ...]] = field(default_factory=lambda: MappingProxyType({}))
    left_aside: tuple[str, ...] = ()
    disagreements: tuple[Remark, ...] = ()
    not_judged: tuple[Remark, ...] = ()
    chosen: dict[object, "RuleSet"] = field(default_factory=dict, init=False, compare=False, repr=False)

    @cached_property
    def days_of_change(self) -> Mapping[ChosenBy, tuple[date, ...]]:
        """The days from which another value applies, in order: of visits, and of fitting a valve."""
        found: dict[ChosenBy, set[date]] = {each: set() for each in ChosenBy}
        published = [each for each in self.values.values() if each.override is None]
        for value in (*published, *(each for dated in self.dated.values() for each in dated)):
            ends = () if value.until is None else (value.until + timedelta(days=1),)
            found[value.chosen_by].update((value.effective, *ends))
        return {each: tuple(sorted(days)) for each, days in found.items()}

    @cached_property
    def newest_from(self) -> date | None:
        """The first day of visits by which the newest values apply; None where days of fitting matter."""
        visits, fittings = (self.days_of_change[each] for each in ChosenBy)
        return None if fittings else max(visits, default=date.min)

    def get(self, key: str) -> RuleValue | None:
        """The value of a key, or None where the rule set has none (nothing is judged by it then)."""
        return self.values.get(key)

    def number(self, key: str) -> float | None:
        """The number of a key, or None."""
        found = self.values.get(key)
        return None if found is None else found.number

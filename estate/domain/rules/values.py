"""Values of a rule set: each with its unit, source and how sure it is."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date, datetime
from functools import cached_property
from types import MappingProxyType

NOT_VERIFIED = "(not verified in the source)"
"""Stands in the shown source of a value that no reader checked in the document itself."""


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
        unit: one of the units of `estate.domain.rules.catalogue`.
        fact: id of the fact in the project's table of trade facts, such as ``D08-32``.
        verified: whether a reader checked it in the source itself.
        effective: first day on which it applies.
        override: who replaced the published value, when and why; None for a published value.
        rule_set: id of the rule set, where values of several are listed together; else empty.
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

    @property
    def number(self) -> float:
        """The value as a number; a text value is a defect of the catalogue."""
        return float(self.value)

    @cached_property
    def shown_source(self) -> str:
        """Source in one line, saying so where it is unverified or overridden."""
        if self.override is not None:
            made = self.override
            return f"site's own value, {made.who}, {made.at:%Y-%m-%d}: {made.why} (published: {self.fact})"
        doubt = "" if self.verified else f" {NOT_VERIFIED}"
        return f"{self.fact}: {self.source}{doubt}"


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


@dataclass(frozen=True)
class RuleSet:
    """A rule set as it applies at one place on one day: published values with overrides laid over."""

    id: str
    title: str
    edition: str
    scope: str
    cautions: tuple[str, ...]
    values: Mapping[str, RuleValue] = field(default_factory=lambda: MappingProxyType({}))

    def get(self, key: str) -> RuleValue | None:
        """The value of a key, or None where the rule set has none (nothing is judged by it then)."""
        return self.values.get(key)

    def number(self, key: str) -> float | None:
        """The number of a key, or None."""
        found = self.values.get(key)
        return None if found is None else found.number

"""A limit with where it comes from and how sure it is."""

from collections.abc import Iterable
from dataclasses import dataclass
from enum import StrEnum

from estate.domain.rules.checking import COMMON_PRACTICE, OWN_DEFAULT
from estate.domain.rules.values import RuleSet, RuleValue


class Sureness(StrEnum):
    """How sure a limit is, in words for a person."""

    SITE = "the site's own value"
    MAKER = "the maker's figure, as entered"
    SEEN = "seen in the source"
    NOT_SEEN = "not verified in the source"
    PRACTICE = COMMON_PRACTICE
    OWN = OWN_DEFAULT


@dataclass(frozen=True, slots=True)
class Bound:
    """One limit.

    Attributes:
        value: in the unit of its condition.
        source: where it comes from, ready to show.
    """

    value: float
    source: str
    sureness: Sureness


def rule_bound(rules: RuleSet, key: str) -> Bound | None:
    """The limit of a key; None where the rule set leaves it blank."""
    value = rules.get(key)
    return None if value is None else Bound(value.number, value.shown_source, sureness_of(value))


def sureness_of(value: RuleValue) -> Sureness:
    """How sure a value of a rule set is."""
    if value.override is not None:
        return Sureness.SITE
    if value.source.document in (COMMON_PRACTICE, OWN_DEFAULT):
        return Sureness(value.source.document)
    return Sureness.SEEN if value.verified else Sureness.NOT_SEEN


def maker_bound(value: float | None, fact: str) -> Bound | None:
    """A figure of the model's maker; None where not entered."""
    if value is None:
        return None
    return Bound(value, f"{fact}: the maker's own figure for this model", Sureness.MAKER)


def lowest(bounds: Iterable[Bound | None]) -> Bound | None:
    """The lowest of the limits that there are."""
    return min((each for each in bounds if each is not None), key=lambda each: each.value, default=None)

"""The temperature limits that hold for a valve, from the uses it serves and the rule set in force."""

from collections.abc import Sequence
from dataclasses import dataclass

from estate.domain.places import Outlet, Use
from estate.domain.rules.values import RuleSet
from estate.domain.valves import Valve


@dataclass(frozen=True, slots=True)
class Limit:
    """A number with the words that say where it comes from."""

    value: float
    source: str


@dataclass(frozen=True, slots=True)
class Limits:
    """Set temperature and site-test ceiling, °C; None where nothing is published or entered."""

    set_c: Limit | None
    ceiling_c: Limit | None


def rule_limit(rules: RuleSet, key: str) -> Limit | None:
    """The limit of a key with its shown source, or None where the rule set leaves it blank."""
    value = rules.get(key)
    return None if value is None else Limit(value.number, value.shown_source)


def strictest(*limits: Limit | None) -> Limit | None:
    """The lowest of the limits that there are."""
    return min((each for each in limits if each is not None), key=lambda each: each.value, default=None)


def use_key(use: Use) -> str:
    """A use as it stands in rule keys, such as ``assisted-bath``."""
    return use.value.replace(" ", "-")


def limits_for(outlets: Sequence[Outlet], valve: Valve, rules: RuleSet) -> Limits:
    """Find the limits for a valve: the strictest over every outlet that it serves.

    A use without a published limit takes the valve's own set temperature and the published
    pattern "ceiling = set + 2 K" (D08-35); without a set temperature it has no limit at all.
    """
    sets = [rule_limit(rules, f"mixed.set.{use_key(each.use)}") or _own_set(valve) for each in outlets]
    ceilings = [_ceiling(each.use, valve, rules) for each in outlets]
    if any(each is None for each in ceilings):
        return Limits(strictest(*sets), None)
    return Limits(strictest(*sets), strictest(*ceilings, rule_limit(rules, "mixed.never-above")))


def _own_set(valve: Valve) -> Limit | None:
    return None if valve.set_c is None else Limit(valve.set_c, "the valve's own set temperature")


def _ceiling(use: Use, valve: Valve, rules: RuleSet) -> Limit | None:
    published = rule_limit(rules, f"mixed.ceiling.{use_key(use)}")
    over = rule_limit(rules, "mixed.ceiling-over-set")
    if published is not None:
        return published
    if valve.set_c is None or over is None:
        return None
    return Limit(
        valve.set_c + over.value, f"the valve's own set temperature + {over.value:g} K; {over.source}"
    )


def residual_limit(limits: Limits, valve: Valve, rules: RuleSet) -> Limit | None:
    """Highest temperature of water still flowing with a supply isolated (D08-59, D08-91: the strictest)."""
    over = rule_limit(rules, "isolation.residual-over-set")
    own = valve.set_c if valve.set_c is not None else (limits.set_c.value if limits.set_c else None)
    if over is None or own is None:
        return limits.ceiling_c
    return strictest(
        limits.ceiling_c, Limit(own + over.value, f"set {own:g} °C + {over.value:g} K; {over.source}")
    )

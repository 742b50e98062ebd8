"""A site's own values laid over the published ones."""

from collections.abc import Iterable, Sequence
from dataclasses import replace
from types import MappingProxyType

from estate.domain.rules.catalogue import CATALOGUE
from estate.domain.rules.checking import RuleDoubt, check_order, check_value
from estate.domain.rules.values import Override, RuleSet, RuleSource, RuleValue
from estate.errors import RuleFault

_NOTHING_PUBLISHED = RuleSource("nothing published in this rule set")


def check_override(key: str, value: object) -> float | str | None:
    """Return the value if it may stand in place of a published one; None withdraws.

    Args:
        key: a key of the catalogue.
        value: a number in the key's unit, a text where the key holds one, or None.

    Raises:
        RuleFault: the key is unknown, or the value of the wrong kind or out of range.
    """
    try:
        return None if value is None and key in CATALOGUE else check_value(key, value)
    except RuleDoubt as doubt:
        raise _fault(str(doubt)) from doubt


def check_rules(rule_set: RuleSet) -> None:
    """See that laid-over values agree with each other, such as a set temperature with its ceiling.

    Raises:
        RuleFault: a lower bound is above its upper bound.
    """
    try:
        check_order(rule_set.values)
    except RuleDoubt as doubt:
        raise _fault(str(doubt)) from doubt


def lay_over(rule_set: RuleSet, overrides: Sequence[Override], places: Sequence[str]) -> RuleSet:
    """Lay the overrides that reach a place over a rule set.

    Args:
        rule_set: as published.
        overrides: every override of the register, oldest first; those of other rule sets are left aside.
        places: the places that hold the outlet, widest first: ``("estate", "building:3", "outlet:12")``.

    Returns:
        The rule set as it applies there: for each key the latest override of the narrowest place wins. A
        withdrawn override counts as none, so the next wider place's value or the published one applies.

    Raises:
        RuleFault: an override that reaches the place has an unknown key or a value that the key can't hold.
    """
    values = dict(rule_set.values)
    for place in places:
        for override in _latest(rule_set.id, overrides, place):
            laid = _laid(rule_set.values.get(override.key), override)
            if laid is not None:
                values[override.key] = laid
    return replace(rule_set, values=MappingProxyType(values))


def _latest(rule_set_id: str, overrides: Iterable[Override], place: str) -> Iterable[Override]:
    here = [each for each in overrides if each.place == place and each.rule_set == rule_set_id]
    return {each.key: each for each in sorted(here, key=lambda each: each.at)}.values()


def _laid(published: RuleValue | None, override: Override) -> RuleValue | None:
    value = check_override(override.key, override.value)
    if value is None:
        return None
    if published is not None:
        unit = CATALOGUE[override.key].unit
        return replace(published, value=value, unit=unit, override=override, until=None, chosen="")
    return RuleValue(
        key=override.key,
        value=value,
        unit=CATALOGUE[override.key].unit,
        source=_NOTHING_PUBLISHED,
        fact="none",
        verified=False,
        effective=override.at.date(),
        override=override,
    )


def _fault(detail: str) -> RuleFault:
    return RuleFault(
        "The site's own value can't be used",
        f"{detail}.",
        "Give a value that is expected, or withdraw the site's own value so that the published one applies.",
    )

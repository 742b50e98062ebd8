"""The limit beside each field of a round sheet, in words, with where it comes from."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from estate.domain.limits import Limit, limits_for, residual_limit, rule_limit
from estate.domain.places import Outlet, Use
from estate.domain.rules.values import NOT_VERIFIED, RuleSet
from estate.domain.temperature import highest_figure
from estate.domain.valves import SchemeClass, Valve


@dataclass(frozen=True, slots=True)
class FieldLimit:
    """What a measured value is held against.

    Attributes:
        words: in the unit of its field, such as ``≤ 43``.
        sources: where each number comes from, with the number where there are several.
    """

    words: str
    sources: tuple[str, ...]

    @property
    def verified(self) -> bool:
        """Whether each number was checked in its source, or is the site's own."""
        return not any(NOT_VERIFIED in each for each in self.sources)


def field_limits(outlets: Sequence[Outlet], valve: Valve, rules: RuleSet) -> Mapping[str, FieldLimit]:
    """The limits that judging holds measured values against, by field such as ``cold_isolated.max_c``.

    Args:
        outlets: every outlet that the valve serves.
        valve: the body in place.
        rules: the rules in force there.

    Returns:
        Only fields for which there is a limit.
    """
    limits = limits_for(outlets, valve, rules)
    ceiling = _at_most(limits.ceiling_c)
    flow = _at_most(rule_limit(rules, "isolation.residual-flow"))
    wait = _at_most(rule_limit(rules, "isolation.wait"))
    found = {
        "hot_c": _hot(valve, rules),
        "cold_c": _cold(valve, rules),
        "found_c": ceiling,
        "left_c": _left(outlets, valve, rules),
        "cold_isolated.max_c": ceiling,
        "cold_isolated.stabilised_c": _at_most(residual_limit(limits, valve, rules)),
        "cold_isolated.residual_ml_min": flow,
        "cold_isolated.shut_s": wait,
        "hot_isolated.residual_ml_min": flow,
        "hot_isolated.shut_s": wait,
    }
    return {field: limit for field, limit in found.items() if limit is not None}


def _class_limit(valve: Valve, rules: RuleSet, key: str) -> Limit | None:
    """A condition of use of the valve's class; Type 1 (no thermostat) has none published."""
    kind = valve.scheme_class
    return None if kind in (None, SchemeClass.TYPE_1) else rule_limit(rules, f"{key}.type-{kind}")


def _hot(valve: Valve, rules: RuleSet) -> FieldLimit | None:
    """Legionella control and the class's conditions of use (HSE-01, D08-22, T2-01)."""
    lows = (rule_limit(rules, "hot.legionella-min"), _class_limit(valve, rules, "hot.class-min"))
    low = max((each.value for each in lows if each), default=None)
    high = _class_limit(valve, rules, "hot.class-max")
    return _limit(_range(low, f"≤ {high.value:g}" if high else ""), (*lows, high))


def _cold(valve: Valve, rules: RuleSet) -> FieldLimit | None:
    """As for the hot supply; legionella control wants it below its number, not at it (HSE-03)."""
    below, low = rule_limit(rules, "cold.legionella-max"), _class_limit(valve, rules, "cold.class-min")
    high = _class_limit(valve, rules, "cold.class-max")
    ends = [(each.value, sign) for each, sign in ((below, "<"), (high, "≤")) if each]
    value, sign = min(ends, default=(0.0, ""))
    return _limit(_range(low.value if low else None, f"{sign} {value:g}" if sign else ""), (below, low, high))


def _left(outlets: Sequence[Outlet], valve: Valve, rules: RuleSet) -> FieldLimit | None:
    """The set temperature with its tolerance, the ceiling, and the immersion limit of a bath (HSE-12)."""
    limits, tolerance = limits_for(outlets, valve, rules), rule_limit(rules, "mixed.set-tolerance")
    immersion = rule_limit(rules, "mixed.immersion-max") if _immerses(outlets) else None
    parts = []
    if limits.set_c:
        parts.append(f"{limits.set_c.value:g}" + (f" ± {tolerance.value:g}" if tolerance else ""))
    if limits.ceiling_c:
        parts.append(f"≤ {highest_figure(limits.ceiling_c.value)}")
    if immersion:
        parts.append(f"immersed ≤ {immersion.value:g}")
    used = (limits.set_c, tolerance if limits.set_c else None, limits.ceiling_c, immersion)
    return _limit(", ".join(parts), used)


def _immerses(outlets: Sequence[Outlet]) -> bool:
    baths = any(each.use in (Use.BATH, Use.ASSISTED_BATH) for each in outlets)
    return baths and any(each.user_group.at_risk for each in outlets)


def _at_most(limit: Limit | None) -> FieldLimit | None:
    return None if limit is None else _limit(f"≤ {highest_figure(limit.value)}", (limit,))


def _range(low: float | None, high: str) -> str:
    if low is None:
        return high
    return f"{low:g} to {high.removeprefix('≤ ')}" if high else f"≥ {low:g}"


def _limit(words: str, used: Sequence[Limit | None]) -> FieldLimit | None:
    return FieldLimit(words, tuple(_sources(used))) if words else None


def _sources(used: Sequence[Limit | None]) -> Iterator[str]:
    known = [each for each in used if each is not None]
    for each in known:
        yield f"{each.value:g}: {each.source}" if len(known) > 1 else each.source

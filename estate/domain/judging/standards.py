"""What the visits of a valve are held against, worked out once from the rules, the valve and its outlets."""

from collections.abc import Callable, Hashable, Sequence
from dataclasses import dataclass, field
from typing import Any, TypeVar, TypeVarTuple

from estate.domain.findings import Finding, Severity
from estate.domain.judging.suitability import check_suitability
from estate.domain.limits import Limit, limits_for, residual_limit, rule_limit
from estate.domain.places import Outlet, Use, UserGroup
from estate.domain.rules.values import RuleSet
from estate.domain.valves import SchemeClass, Valve

Weeks = tuple[float, float]
"""A retest window, in weeks from the visit."""

MOST_KEPT = 20_000
"""So many findings are kept of what was measured before."""

_Read = TypeVarTuple("_Read")
_Told = TypeVar("_Told")


@dataclass(frozen=True, slots=True)
class Span:
    """A range of conditions of use; either end may be blank.

    Attributes:
        shown: its ends in words.
    """

    low: Limit | None
    high: Limit | None
    shown: str


@dataclass(frozen=True, slots=True)
class Retests:
    """The retests that the rules ask for; None where they ask for none."""

    put_right: Weeks | None
    out_of_use: Weeks | None
    not_tested: Weeks | None
    readjusted: Weeks | None


@dataclass(frozen=True, slots=True)
class Standards:
    """All that checks compare readings with; None where nothing is published or entered.

    Nothing of a visit is in it: valves of one kind that serve alike under the same rules have equal ones.

    Attributes:
        set_c, ceiling_c, residual_c: of the mixed water, °C; the strictest over the outlets served.
        immersion_c: of a bath of people at risk, °C (D08-37); None where no such outlet is served.
        hot_class, cold_class, flow_class, static_class: conditions of use of the valve's class.
        scald: how much it matters that water may scald (HSE-15).
        suitability: the checks of class and designation, on which no reading bears.
    """

    rule_set: str
    edition: str
    set_c: Limit | None
    ceiling_c: Limit | None
    residual_c: Limit | None
    immersion_c: Limit | None
    set_tolerance: Limit | None
    small_change: Limit | None
    large_change: Limit | None
    residual_flow: Limit | None
    rise: Limit | None
    wait: Limit | None
    hot_least: Limit | None
    hot_class: Span
    cold_most: Limit | None
    cold_class: Span
    static_class: Span
    flow_class: Span
    differential: Limit | None
    pressure_ratio: Limit | None
    pipe: Limit | None
    strainers: Limit | None
    has_strainers: bool
    scald: Severity
    retests: Retests
    suitability: tuple[Finding, ...]
    _known: dict[Hashable, Any] = field(default_factory=dict, init=False, compare=False, repr=False)

    def once(self, check: Callable[["Standards", *_Read], _Told], *read: *_Read) -> _Told:
        """What a check says of what was read: most visits of an estate read alike, and are told once for all.

        Args:
            check: a pure function of these standards and what was read.
            read: numbers, yes or no, or None.
        """
        key = (check, *map(repr, read)) if 0.0 in read else (check, *read)  # -0.0 equals 0.0, in other words
        told: _Told | None = self._known.get(key)
        if told is None:
            if len(self._known) >= MOST_KEPT:
                self._known.clear()
            told = self._known[key] = check(self, *read)
        return told

    def retest_for(self, severity: Severity) -> Weeks | None:
        """The retest that a severity asks for."""
        if severity is Severity.OUT_OF_USE:
            return self.retests.out_of_use
        return self.retests.put_right if severity is Severity.PUT_RIGHT else None


def standards_for(outlets: Sequence[Outlet], valve: Valve, rules: RuleSet) -> Standards:
    """Work out the standards of a valve.

    Args:
        outlets: every outlet that the valve serves.
        valve: the body.
        rules: the rules in force there.
    """
    limits, kind = limits_for(outlets, valve, rules), _class_key(valve)
    users = max((each.user_group for each in outlets), key=lambda group: group.vulnerability)
    return Standards(
        rule_set=rules.id,
        edition=rules.edition,
        set_c=limits.set_c,
        ceiling_c=limits.ceiling_c,
        residual_c=residual_limit(limits, valve, rules),
        immersion_c=rule_limit(rules, "mixed.immersion-max") if _immerses(outlets, users) else None,
        set_tolerance=rule_limit(rules, "mixed.set-tolerance"),
        small_change=rule_limit(rules, "change.small"),
        large_change=rule_limit(rules, "change.large"),
        residual_flow=rule_limit(rules, "isolation.residual-flow"),
        rise=rule_limit(rules, "isolation.max-rise"),
        wait=rule_limit(rules, "isolation.wait"),
        hot_least=rule_limit(rules, "hot.legionella-min"),
        hot_class=_class_span(rules, "hot", kind),
        cold_most=rule_limit(rules, "cold.legionella-max"),
        cold_class=_class_span(rules, "cold", kind),
        static_class=_span(None, rule_limit(rules, f"pressure.static-max.{kind}")),
        flow_class=_flow_span(valve, rules, kind),
        differential=_differential(valve),
        pressure_ratio=_pressure_ratio(valve, rules),
        pipe=rule_limit(rules, "pipe.blended"),
        strainers=rule_limit(rules, "strainers.interval"),
        has_strainers=valve.strainers is not False,
        scald=Severity.OUT_OF_USE if users.at_risk else Severity.PUT_RIGHT,
        retests=Retests(*(_retest(rules, each) for each in _RETESTS)),
        suitability=check_suitability(outlets, users, valve, rules),
    )


_RETESTS = ("put-right", "out-of-use", "not-tested", "readjusted")


def _retest(rules: RuleSet, name: str) -> Weeks | None:
    last = rules.number(f"retest.{name}.to")
    return None if last is None else (rules.number(f"retest.{name}.from") or 0.0, last)


def _immerses(outlets: Sequence[Outlet], users: UserGroup) -> bool:
    return users.at_risk and any(each.use in (Use.BATH, Use.ASSISTED_BATH) for each in outlets)


def _class_key(valve: Valve) -> str | None:
    """The class as it stands in rule keys; Type 1 (no thermostat) has no published conditions of use."""
    kind = valve.scheme_class
    return None if kind in (None, SchemeClass.TYPE_1) else f"type-{kind}"


def _span(low: Limit | None, high: Limit | None) -> Span:
    return Span(low, high, " to ".join(f"{each.value:g}" for each in (low, high) if each is not None))


def _class_span(rules: RuleSet, supply: str, kind: str | None) -> Span:
    return _span(*(rule_limit(rules, f"{supply}.class-{end}.{kind}") for end in ("min", "max")))


def _flow_span(valve: Valve, rules: RuleSet, kind: str | None) -> Span:
    """The flow pressures of the valve's own designations; of several the widest (D08-13)."""
    bands = sorted({code[:2].casefold() for code in valve.designations})
    lows = [rule_limit(rules, f"pressure.flow-min.{kind}.{band}") for band in bands]
    highs = [rule_limit(rules, f"pressure.flow-max.{kind}.{band}") for band in bands]
    low = min((each for each in lows if each), key=lambda each: each.value, default=None)
    high = max((each for each in highs if each), key=lambda each: each.value, default=None)
    return _span(low, high)


def _differential(valve: Valve) -> Limit | None:
    least = valve.limits.min_differential_k
    return None if least is None else Limit(least, "D08-24: the maker's own figure for this model")


def _pressure_ratio(valve: Valve, rules: RuleSet) -> Limit | None:
    own = valve.limits.max_pressure_ratio
    if own:
        return Limit(own, "D08-26: the maker's own figure for this model")
    return rule_limit(rules, "pressure.ratio")

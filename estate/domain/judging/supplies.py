"""Hot and cold supplies: legionella control, the class's conditions of use, pressures and balance."""

from estate.domain.findings import Finding, Severity
from estate.domain.judging.case import Case, failed, met, not_tested
from estate.domain.limits import Limit, rule_limit
from estate.domain.temperature import told_apart
from estate.domain.valves import SchemeClass

TELL_WATER_SAFETY = (
    "Tell the person responsible for water safety: too cool a hot supply lets legionella grow. "
    "Do not raise a storage temperature without checking every valve downstream."
)
OUTSIDE_CLASS = (
    "Outside its conditions of use the class's approval does not apply (D08-27): look at the supply."
)


def check_supplies(case: Case) -> list[Finding]:
    """Judge supply temperatures and pressures (HSE-01, HSE-03, D08-20..26, T2-01, T2-02, TP-04)."""
    return [*_hot(case), *_cold(case), _reversed(case), _differential(case), *_pressures(case), _ratio(case)]


def class_key(case: Case) -> str | None:
    """The class as it stands in rule keys; Type 1 (no thermostat) has no published conditions of use."""
    kind = case.valve.scheme_class
    return None if kind in (None, SchemeClass.TYPE_1) else f"type-{kind}"


def between(code: str, name: str, value: float, low: Limit | None, high: Limit | None, unit: str) -> Finding:
    """Judge a value against a range of conditions of use; either end may be blank."""
    broken = low if low is not None and value < low.value else None
    broken = high if high is not None and value > high.value else broken
    shown = " to ".join(f"{each.value:g}" for each in (low, high) if each is not None)
    words = f"{name} {value:.1f} {unit}, conditions of use {shown} {unit}"
    if low is None and high is None:
        return not_tested(code, f"{name} {value:.1f} {unit}: no conditions of use are known for this class.")
    if broken is None:
        return met(code, words, high or low, value, unit)
    return failed(code, words, Severity.WATCH, limit=broken, measured=value, unit=unit, action=OUTSIDE_CLASS)


def _hot(case: Case) -> list[Finding]:
    code, hot = "hot-too-cool", case.readings.hot_c
    if hot is None:
        return [not_tested(code, "Hot supply temperature was not measured.", required=True, case=case)]
    limit, kind = rule_limit(case.rules, "hot.legionella-min"), class_key(case)
    low, high = (rule_limit(case.rules, f"hot.class-{end}.{kind}") for end in ("min", "max"))
    in_class = between("hot-outside-class", "Hot supply", hot, low, high, "°C")
    if limit is None:
        return [not_tested(code, "No limit for legionella control is set."), in_class]
    words = (
        f"Hot supply {told_apart(hot, limit.value)[0]} °C, at least {limit.value:g} °C for legionella control"
    )
    if hot >= limit.value:
        return [met(code, words, limit, hot, "°C"), in_class]
    finding = failed(
        code,
        words,
        Severity.PUT_RIGHT,
        limit=limit,
        measured=hot,
        unit="°C",
        action=TELL_WATER_SAFETY,
        retest=case.retest_for(Severity.PUT_RIGHT),
    )
    return [finding, in_class]


def _cold(case: Case) -> list[Finding]:
    code, cold = "cold-too-warm", case.readings.cold_c
    if cold is None:
        return [not_tested(code, "Cold supply temperature was not measured.", required=True, case=case)]
    limit, kind = rule_limit(case.rules, "cold.legionella-max"), class_key(case)
    low, high = (rule_limit(case.rules, f"cold.class-{end}.{kind}") for end in ("min", "max"))
    in_class = between("cold-outside-class", "Cold supply", cold, low, high, "°C")
    if limit is None:
        return [not_tested(code, "No limit for cold water is set."), in_class]
    shown = told_apart(cold, limit.value)[0]
    words = f"Cold supply {shown} °C, below {limit.value:g} °C wanted for legionella control"
    if cold < limit.value:
        return [met(code, words, limit, cold, "°C"), in_class]
    action = "Tell the person responsible for water safety; look for heat gain or a passing check valve."
    finding = failed(code, words, Severity.WATCH, limit=limit, measured=cold, unit="°C", action=action)
    return [finding, in_class]


def _reversed(case: Case) -> Finding:
    code, hot, cold = "supplies-reversed", case.readings.hot_c, case.readings.cold_c
    if hot is None or cold is None:
        return not_tested(code, "Hot and cold the right way round: a supply temperature is missing.")
    words = f"Hot {hot:.1f} °C, cold {cold:.1f} °C"
    if hot > cold:
        return met(code, words, None)
    action = (
        "Hot and cold look reversed (or the readings were swapped): check the pipes and test again (TP-07)."
    )
    severity = case.scald_severity()
    return failed(code, words, severity, action=action, retest=case.retest_for(severity))


def _differential(case: Case) -> Finding:
    code, least = "differential-too-small", case.valve.limits.min_differential_k
    hot, mixed = case.readings.hot_c, case.readings.as_left_c
    if least is None or hot is None or mixed is None:
        return not_tested(
            code, "Hot-to-mix differential: a temperature or the model's own figure is missing."
        )
    limit = Limit(least, "D08-24: the maker's own figure for this model")
    words = f"Hot supply is {hot - mixed:.1f} K above the mixed water; the model needs {least:g} K"
    difference = round(hot - mixed, 6)
    if difference >= least:
        return met(code, words, limit, difference, "K")
    return failed(
        code,
        words,
        Severity.PUT_RIGHT,
        limit=limit,
        measured=difference,
        unit="K",
        action="Below this the valve may not shut off when the cold fails: raise the supply or change it.",
        retest=case.retest_for(Severity.PUT_RIGHT),
    )


def _pressures(case: Case) -> list[Finding]:
    kind, read = class_key(case), case.readings
    static = rule_limit(case.rules, f"pressure.static-max.{kind}")
    low, high = _flow_range(case, kind)
    sides = (
        ("hot", read.hot_static_bar, read.hot_flow_bar),
        ("cold", read.cold_static_bar, read.cold_flow_bar),
    )
    checks: list[Finding] = []
    for side, at_rest, flowing in sides:
        for code, name, value, ends in (
            (f"{side}-static-pressure", f"{side.title()} static pressure", at_rest, (None, static)),
            (f"{side}-flow-pressure", f"{side.title()} flow pressure", flowing, (low, high)),
        ):
            missing = not_tested(code, f"{name} was not measured.")
            checks.append(missing if value is None else between(code, name, value, *ends, "bar"))
    return checks


def _flow_range(case: Case, kind: str | None) -> tuple[Limit | None, Limit | None]:
    """The flow pressures of the valve's own designations; of several the widest (D08-13)."""
    bands = {code[:2].casefold() for code in case.valve.designations}
    lows = [rule_limit(case.rules, f"pressure.flow-min.{kind}.{band}") for band in sorted(bands)]
    highs = [rule_limit(case.rules, f"pressure.flow-max.{kind}.{band}") for band in sorted(bands)]
    low = min((each for each in lows if each), key=lambda each: each.value, default=None)
    high = max((each for each in highs if each), key=lambda each: each.value, default=None)
    return low, high


def _ratio(case: Case) -> Finding:
    code, read, own = "pressure-ratio", case.readings, case.valve.limits.max_pressure_ratio
    pairs = ((read.hot_flow_bar, read.cold_flow_bar), (read.hot_static_bar, read.cold_static_bar))
    pair = next(((hot, cold) for hot, cold in pairs if hot is not None and cold is not None), None)
    limit = (
        Limit(own, "D08-26: the maker's own figure for this model")
        if own
        else rule_limit(case.rules, "pressure.ratio")
    )
    if pair is None or limit is None or min(pair) <= 0:
        return not_tested(code, "Pressure ratio: a pressure or the limit is missing.")
    ratio = max(pair) / min(pair)
    words = f"Pressures {pair[0]:.1f} and {pair[1]:.1f} bar, ratio {ratio:.1f} : 1, limit {limit.value:g} : 1"
    if ratio <= limit.value:
        return met(code, words, limit, ratio, ": 1")
    action = "Balance the supplies, for example by a pressure-reducing valve."
    return failed(code, words, Severity.PUT_RIGHT, limit=limit, measured=ratio, unit=": 1", action=action)

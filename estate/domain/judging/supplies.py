"""Hot and cold supplies: legionella control, the class's conditions of use, pressures and balance."""

from typing import Final

from estate.domain.findings import Finding, Severity
from estate.domain.judging.case import Case
from estate.domain.judging.checks import failed, met, missing, not_tested
from estate.domain.judging.standards import Span, Standards
from estate.domain.limits import Limit
from estate.domain.temperature import told_apart

TELL_WATER_SAFETY = (
    "Tell the person responsible for water safety: too cool a hot supply lets legionella grow. "
    "Do not raise a storage temperature without checking every valve downstream."
)
OUTSIDE_CLASS = (
    "Outside its conditions of use the class's approval does not apply (D08-27): look at the supply."
)
_ONE_WAY: Final = not_tested(
    "supplies-reversed", "Hot and cold the right way round: a supply temperature is missing."
)
_NO_DIFFERENTIAL: Final = not_tested(
    "differential-too-small",
    "Hot-to-mix differential: a temperature or the model's own figure is missing.",
)
_NO_RATIO: Final = not_tested("pressure-ratio", "Pressure ratio: a pressure or the limit is missing.")
_PRESSURES: Final = ("hot-static", "hot-flow", "cold-static", "cold-flow")
_NO_PRESSURE: Final = {
    each: not_tested(f"{each}-pressure", f"{each.replace('-', ' ').capitalize()} pressure was not measured.")
    for each in _PRESSURES
}


def check_supplies(case: Case) -> list[Finding]:
    """Judge supply temperatures and pressures (HSE-01, HSE-03, D08-20..26, T2-01, T2-02, TP-04)."""
    read, once = case.readings, case.standards.once
    return [
        *once(_hot, read.hot_c),
        *once(_cold, read.cold_c),
        _reversed(case),
        _differential(case),
        *once(_pressures, read.hot_static_bar, read.hot_flow_bar, read.cold_static_bar, read.cold_flow_bar),
    ]


def between(code: str, name: str, value: float, span: Span, unit: str) -> Finding:
    """Judge a value against a range of conditions of use; either end may be blank."""
    low, high = span.low, span.high
    if low is None and high is None:
        return not_tested(code, f"{name} {value:.1f} {unit}: no conditions of use are known for this class.")
    broken = low if low is not None and value < low.value else None
    broken = high if high is not None and value > high.value else broken
    words = f"{name} {value:.1f} {unit}, conditions of use {span.shown} {unit}"
    if broken is None:
        return met(code, words, high or low, value, unit)
    return failed(code, words, Severity.WATCH, limit=broken, measured=value, unit=unit, action=OUTSIDE_CLASS)


def _hot(held: Standards, hot: float | None) -> list[Finding]:
    code, limit = "hot-too-cool", held.hot_least
    if hot is None:
        return [missing(code, "Hot supply temperature was not measured.", held.retests.not_tested)]
    in_class = between("hot-outside-class", "Hot supply", hot, held.hot_class, "°C")
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
        retest=held.retests.put_right,
    )
    return [finding, in_class]


def _cold(held: Standards, cold: float | None) -> list[Finding]:
    code, limit = "cold-too-warm", held.cold_most
    if cold is None:
        return [missing(code, "Cold supply temperature was not measured.", held.retests.not_tested)]
    in_class = between("cold-outside-class", "Cold supply", cold, held.cold_class, "°C")
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
        return _ONE_WAY
    words = f"Hot {hot:.1f} °C, cold {cold:.1f} °C"
    if hot > cold:
        return met(code, words, None)
    action = (
        "Hot and cold look reversed (or the readings were swapped): check the pipes and test again (TP-07)."
    )
    severity = case.standards.scald
    return failed(code, words, severity, action=action, retest=case.standards.retest_for(severity))


def _differential(case: Case) -> Finding:
    code, limit = "differential-too-small", case.standards.differential
    hot, mixed = case.readings.hot_c, case.readings.as_left_c
    if limit is None or hot is None or mixed is None:
        return _NO_DIFFERENTIAL
    words = f"Hot supply is {hot - mixed:.1f} K above the mixed water; the model needs {limit.value:g} K"
    difference = round(hot - mixed, 6)
    if difference >= limit.value:
        return met(code, words, limit, difference, "K")
    return failed(
        code,
        words,
        Severity.PUT_RIGHT,
        limit=limit,
        measured=difference,
        unit="K",
        action="Below this the valve may not shut off when the cold fails: raise the supply or change it.",
        retest=case.standards.retests.put_right,
    )


def _pressures(held: Standards, *bars: float | None) -> list[Finding]:
    """The four pressures in the order of `_PRESSURES`, and how those of hot and cold stand to each other."""
    spans = (held.static_class, held.flow_class) * 2
    checks = [
        _NO_PRESSURE[name] if value is None else _pressure(name, value, span)
        for name, value, span in zip(_PRESSURES, bars, spans, strict=True)
    ]
    hot_static, hot_flow, cold_static, cold_flow = bars
    return [*checks, _ratio(held.pressure_ratio, (hot_flow, cold_flow), (hot_static, cold_static))]


def _pressure(name: str, value: float, span: Span) -> Finding:
    return between(f"{name}-pressure", f"{name.replace('-', ' ').capitalize()} pressure", value, span, "bar")


def _ratio(limit: Limit | None, *pairs: tuple[float | None, float | None]) -> Finding:
    code = "pressure-ratio"
    pair = next(((hot, cold) for hot, cold in pairs if hot is not None and cold is not None), None)
    if pair is None or limit is None or min(pair) <= 0:
        return _NO_RATIO
    ratio = max(pair) / min(pair)
    words = f"Pressures {pair[0]:.1f} and {pair[1]:.1f} bar, ratio {ratio:.1f} : 1, limit {limit.value:g} : 1"
    if ratio <= limit.value:
        return met(code, words, limit, ratio, ": 1")
    action = "Balance the supplies, for example by a pressure-reducing valve."
    return failed(code, words, Severity.PUT_RIGHT, limit=limit, measured=ratio, unit=": 1", action=action)

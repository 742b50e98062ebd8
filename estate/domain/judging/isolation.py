"""The shut-off: what the valve lets through when one supply fails."""

from typing import Final

from estate.domain.findings import Finding, Outcome, Severity
from estate.domain.judging.case import Case
from estate.domain.judging.change import SERVICE
from estate.domain.judging.checks import failed, met, not_tested
from estate.domain.judging.temperature import STOP_USE
from estate.domain.temperature import told_apart
from estate.domain.visits import Isolation

_NO_FLOW: Final = not_tested(
    "cold-isolated-flow", "Residual flow with the cold isolated was not measured; its temperature was."
)
_STABILISED = "Stabilised temperature with the cold isolated was not measured"
_DRY: Final = not_tested("cold-isolated-stabilised", f"{_STABILISED} (nothing flowed to measure).")
_NO_STABILISED: Final = not_tested("cold-isolated-stabilised", f"{_STABILISED}.")
_NO_HIGHEST: Final = not_tested(
    "cold-isolated-highest", "Highest temperature after isolating the cold was not measured (D08-59)."
)
_NO_RISE: Final = not_tested(
    "cold-isolated-rise",
    "Rise of the highest temperature since the previous test: a value is missing.",
)
_NO_TIME: Final = {
    supply: not_tested(
        f"{supply}-isolated-time", f"Time to shut with the {supply} isolated was not measured."
    )
    for supply in ("cold", "hot")
}
_NO_HOT_FLOW: Final = not_tested(
    "hot-isolated-flow", "Shut-off with the hot isolated was not measured (D08-61, TP-06)."
)


def check_isolations(case: Case) -> list[Finding]:
    """Judge both isolations (D08-59, D08-74, D08-90, D08-91, TP-02, TP-06)."""
    cold, hot = case.readings.cold_isolated, case.readings.hot_isolated
    return [
        _shut_off(case, cold),
        _stabilised(case, cold),
        _highest(case, cold),
        _rise(case, cold),
        _time(case, "cold", cold),
        _hot_isolated(case, hot),
        _time(case, "hot", hot),
    ]


def _fail(case: Case, found: Finding, severity: Severity, action: str) -> Finding:
    """The same check as not met: with its severity, what to do and the retest it asks for."""
    return found._replace(
        outcome=Outcome.NOT_MET,
        severity=severity,
        action=action,
        retest_weeks=case.standards.retest_for(severity),
    )


def _did_not_shut(case: Case, code: str, severity: Severity, action: str) -> Finding:
    words = "The tester says that it did not shut off."
    return failed(code, words, severity, action=action, retest=case.standards.retest_for(severity))


def _shut_off(case: Case, cold: Isolation) -> Finding:
    """The required proof: residual flow or the temperature of what flows; a tick alone is no measurement."""
    code, limit = "cold-isolated-flow", case.standards.residual_flow
    flow = cold.residual_ml_min
    if flow is not None and limit is not None and flow > limit.value:
        words = (
            f"With the cold isolated {flow:.0f} ml/min still flowed; {limit.value:.0f} ml/min are accepted"
        )
        check = met(code, words, limit, flow, "ml/min")
        return _fail(case, check, _hot_flow_severity(case, cold), STOP_USE)
    if cold.said_to_shut is False:
        return _did_not_shut(case, code, case.standards.scald, STOP_USE)
    if flow is not None and limit is not None:
        words = f"With the cold isolated {flow:.0f} ml/min still flowed"
        return met(code, words, limit, flow, "ml/min")
    if cold.stabilised_c is not None:
        return _NO_FLOW
    said = "reported as shutting off, nothing measured" if cold.said_to_shut else "not measured"
    return case.missing(code, f"Shut-off with the cold isolated: {said}.")


def _hot_flow_severity(case: Case, cold: Isolation) -> Severity:
    """A flow known to be no hotter than the limit must be put right; any other is a scald in waiting."""
    limit = case.standards.residual_c
    values = [each for each in (cold.residual_c, cold.stabilised_c) if each is not None]
    harmless = limit is not None and bool(values) and max(values) <= limit.value
    return Severity.PUT_RIGHT if harmless else case.standards.scald


def _stabilised(case: Case, cold: Isolation) -> Finding:
    code, limit = "cold-isolated-stabilised", case.standards.residual_c
    values = [each for each in (cold.stabilised_c, cold.residual_c) if each is not None]
    if not values or limit is None:
        return _DRY if cold.residual_ml_min == 0 else _NO_STABILISED
    hottest = max(values)
    shown, most = told_apart(hottest, limit.value)
    words = f"With the cold isolated it stabilised at {shown} °C, limit {most} °C"
    check = met(code, words, limit, hottest, "°C")
    if hottest <= limit.value:
        return check
    return _fail(case, check, case.standards.scald, f"{STOP_USE} {SERVICE}")


def _highest(case: Case, cold: Isolation) -> Finding:
    code, limit = "cold-isolated-highest", case.standards.ceiling_c
    if cold.max_c is None or limit is None:
        return _NO_HIGHEST
    shown, most = told_apart(cold.max_c, limit.value)
    words = f"Highest after isolating the cold {shown} °C, ceiling {most} °C"
    check = met(code, words, limit, cold.max_c, "°C")
    if cold.max_c <= limit.value:
        return check
    action = "Accepted only if brief (D08-38): record how long and the stabilised temperature."
    return _fail(case, check, Severity.WATCH, action)


def _rise(case: Case, cold: Isolation) -> Finding:
    code, limit = "cold-isolated-rise", case.standards.rise
    before = None if case.previous is None else case.previous.readings.cold_isolated.max_c
    if cold.max_c is None or before is None or limit is None:
        return _NO_RISE
    rise = round(cold.max_c - before, 6)
    words = (
        f"Highest after isolating the cold rose by {rise:+.1f} K since the previous test ({before:.1f} °C)"
    )
    check = met(code, words, limit, rise, "K")
    return check if rise <= limit.value else _fail(case, check, Severity.PUT_RIGHT, SERVICE)


def _time(case: Case, supply: str, isolated: Isolation) -> Finding:
    code, limit = f"{supply}-isolated-time", case.standards.wait
    if isolated.shut_s is None or limit is None:
        return _NO_TIME[supply]
    words = f"Shut in {isolated.shut_s:.1f} s with the {supply} isolated; judged after {limit.value:g} s"
    check = met(code, words, limit, isolated.shut_s, "s")
    return check if isolated.shut_s <= limit.value else _fail(case, check, Severity.PUT_RIGHT, SERVICE)


def _hot_isolated(case: Case, hot: Isolation) -> Finding:
    code, limit = "hot-isolated-flow", case.standards.residual_flow
    if hot.said_to_shut is False:
        return _did_not_shut(case, code, Severity.PUT_RIGHT, SERVICE)
    if hot.residual_ml_min is None or limit is None:
        return _NO_HOT_FLOW
    words = f"With the hot isolated {hot.residual_ml_min:.0f} ml/min still flowed"
    check = met(code, words, limit, hot.residual_ml_min, "ml/min")
    return check if hot.residual_ml_min <= limit.value else _fail(case, check, Severity.PUT_RIGHT, SERVICE)

"""The shut-off: what the valve lets through when one supply fails."""

from typing import Final

from estate.domain.findings import Finding, Outcome, Severity
from estate.domain.judging.case import Case
from estate.domain.judging.change import SERVICE
from estate.domain.judging.checks import failed, met, missing, not_tested
from estate.domain.judging.standards import Standards
from estate.domain.judging.temperature import STOP_USE
from estate.domain.temperature import told_apart

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
    cold, hot, once = case.readings.cold_isolated, case.readings.hot_isolated, case.standards.once
    before = None if case.previous is None else case.previous.readings.cold_isolated.max_c
    still = (cold.residual_ml_min, cold.stabilised_c, cold.residual_c, cold.said_to_shut)
    return [
        *once(_cold_isolated, *still),
        once(_highest, cold.max_c),
        once(_rise, cold.max_c, before),
        once(_cold_time, cold.shut_s),
        *once(_hot_isolated, hot.residual_ml_min, hot.said_to_shut, hot.shut_s),
    ]


def _cold_isolated(
    held: Standards, flow: float | None, stabilised: float | None, residual: float | None, said: bool | None
) -> list[Finding]:
    """What the tests with the cold isolated say of the flow and of its temperature."""
    temperatures = [each for each in (stabilised, residual) if each is not None]
    hottest = max(temperatures, default=None)
    return [_shut_off(held, flow, stabilised, hottest, said), _stabilised(held, hottest, flow)]


def _fail(held: Standards, found: Finding, severity: Severity, action: str) -> Finding:
    """The same check as not met: with its severity, what to do and the retest it asks for."""
    return found._replace(
        outcome=Outcome.NOT_MET,
        severity=severity,
        action=action,
        retest_weeks=held.retest_for(severity),
    )


def _did_not_shut(held: Standards, code: str, severity: Severity, action: str) -> Finding:
    words = "The tester says that it did not shut off."
    return failed(code, words, severity, action=action, retest=held.retest_for(severity))


def _shut_off(
    held: Standards, flow: float | None, stabilised: float | None, hottest: float | None, said: bool | None
) -> Finding:
    """The required proof: residual flow or the temperature of what flows; a tick alone is no measurement."""
    code, limit = "cold-isolated-flow", held.residual_flow
    if flow is not None and limit is not None and flow > limit.value:
        words = (
            f"With the cold isolated {flow:.0f} ml/min still flowed; {limit.value:.0f} ml/min are accepted"
        )
        check = met(code, words, limit, flow, "ml/min")
        return _fail(held, check, _hot_flow_severity(held, hottest), STOP_USE)
    if said is False:
        return _did_not_shut(held, code, held.scald, STOP_USE)
    if flow is not None and limit is not None:
        words = f"With the cold isolated {flow:.0f} ml/min still flowed"
        return met(code, words, limit, flow, "ml/min")
    if stabilised is not None:
        return _NO_FLOW
    told = "reported as shutting off, nothing measured" if said else "not measured"
    return missing(code, f"Shut-off with the cold isolated: {told}.", held.retests.not_tested)


def _hot_flow_severity(held: Standards, hottest: float | None) -> Severity:
    """A flow known to be no hotter than the limit must be put right; any other is a scald in waiting."""
    limit = held.residual_c
    harmless = limit is not None and hottest is not None and hottest <= limit.value
    return Severity.PUT_RIGHT if harmless else held.scald


def _stabilised(held: Standards, hottest: float | None, flow: float | None) -> Finding:
    code, limit = "cold-isolated-stabilised", held.residual_c
    if hottest is None or limit is None:
        return _DRY if flow == 0 else _NO_STABILISED
    shown, most = told_apart(hottest, limit.value)
    words = f"With the cold isolated it stabilised at {shown} °C, limit {most} °C"
    check = met(code, words, limit, hottest, "°C")
    if hottest <= limit.value:
        return check
    return _fail(held, check, held.scald, f"{STOP_USE} {SERVICE}")


def _highest(held: Standards, highest: float | None) -> Finding:
    code, limit = "cold-isolated-highest", held.ceiling_c
    if highest is None or limit is None:
        return _NO_HIGHEST
    shown, most = told_apart(highest, limit.value)
    words = f"Highest after isolating the cold {shown} °C, ceiling {most} °C"
    check = met(code, words, limit, highest, "°C")
    if highest <= limit.value:
        return check
    action = "Accepted only if brief (D08-38): record how long and the stabilised temperature."
    return _fail(held, check, Severity.WATCH, action)


def _rise(held: Standards, highest: float | None, before: float | None) -> Finding:
    code, limit = "cold-isolated-rise", held.rise
    if highest is None or before is None or limit is None:
        return _NO_RISE
    rise = round(highest - before, 6)
    words = (
        f"Highest after isolating the cold rose by {rise:+.1f} K since the previous test ({before:.1f} °C)"
    )
    check = met(code, words, limit, rise, "K")
    return check if rise <= limit.value else _fail(held, check, Severity.PUT_RIGHT, SERVICE)


def _cold_time(held: Standards, seconds: float | None) -> Finding:
    return _time(held, "cold", seconds)


def _time(held: Standards, supply: str, seconds: float | None) -> Finding:
    code, limit = f"{supply}-isolated-time", held.wait
    if seconds is None or limit is None:
        return _NO_TIME[supply]
    words = f"Shut in {seconds:.1f} s with the {supply} isolated; judged after {limit.value:g} s"
    check = met(code, words, limit, seconds, "s")
    return check if seconds <= limit.value else _fail(held, check, Severity.PUT_RIGHT, SERVICE)


def _hot_isolated(
    held: Standards, flow: float | None, said: bool | None, seconds: float | None
) -> list[Finding]:
    return [_hot_flow(held, flow, said), _time(held, "hot", seconds)]


def _hot_flow(held: Standards, flow: float | None, said: bool | None) -> Finding:
    code, limit = "hot-isolated-flow", held.residual_flow
    if said is False:
        return _did_not_shut(held, code, Severity.PUT_RIGHT, SERVICE)
    if flow is None or limit is None:
        return _NO_HOT_FLOW
    words = f"With the hot isolated {flow:.0f} ml/min still flowed"
    check = met(code, words, limit, flow, "ml/min")
    return check if flow <= limit.value else _fail(held, check, Severity.PUT_RIGHT, SERVICE)

"""Mixed temperature as found and as left, against the set temperature and the ceiling of the use."""

from typing import Final

from estate.domain.conformity import Decision, decide
from estate.domain.findings import Finding, Severity
from estate.domain.judging.case import Case
from estate.domain.judging.checks import failed, met, not_tested
from estate.domain.limits import Limit
from estate.domain.scald import burn_words
from estate.domain.temperature import told_apart

CHECK_FIRST = (
    "Before re-adjusting check in this order: strainers clean, check valves in good order, "
    "isolating valves fully open (D08-72)."
)
STOP_USE = (
    "Take the outlet out of use, put a sign on it and tell the person in charge of the area. Hot water can "
    "scald: isolate the supplies before work on the valve. Put right by a competent person, then test again "
    "before use."
)
_NO_SMALL_DRAW: Final = not_tested(
    "small-draw-above-ceiling", "Mixed temperature at a smaller draw-off was not measured (D08-57)."
)
_NO_SET: Final = not_tested(
    "left-off-set", "As left against the set temperature: value or set temperature missing."
)


def check_temperatures(case: Case) -> list[Finding]:
    """Judge the mixed temperatures of a visit (D08-30..35, HSE-12, TP-01, T2-05)."""
    checks = [_left(case), _left_against_set(case), _small_draw(case), *_immersion(case)]
    return [_found(case), *checks] if case.is_test else checks


def _against_ceiling(case: Case, code: str, name: str, value: float) -> Finding:
    """Above the ceiling stops use; nearer to it than the measurement can tell is watched."""
    ceiling = case.standards.ceiling_c
    if ceiling is None:
        words = (
            f"{name} {value:.1f} °C: no limit is set for this use; enter the valve's set temperature "
            "or a limit of the site's own."
        )
        return case.missing(code, words)
    decision = decide(value, ceiling.value, case.uncertainty_k)
    shown, most = told_apart(value, ceiling.value)
    words = f"{name} {shown} °C, ceiling {most} °C"
    if decision is Decision.PASS:
        return met(code, words, ceiling, value, "°C")
    severity, action = case.standards.scald, STOP_USE
    if decision is Decision.CONDITIONAL_PASS:
        words += ": within the ceiling, but not by more than the measurement uncertainty (ILAC-G8, MU-03)"
        severity, action = Severity.WATCH, "Watch at the next test."
    elif decision is Decision.CONDITIONAL_FAIL:
        words += ": above the ceiling, though not by more than the measurement uncertainty (ILAC-G8, MU-03)"
    if value > ceiling.value:
        words += f". {burn_words(value)}"
    return failed(
        code,
        words,
        severity,
        limit=ceiling,
        measured=value,
        unit="°C",
        action=action,
        retest=case.standards.retest_for(severity),
    )


def _found(case: Case) -> Finding:
    code, found = "found-above-ceiling", case.readings.found_c
    if found is None:
        return case.missing(code, "Mixed temperature as found was not measured.")
    ceiling, left = case.standards.ceiling_c, case.readings.as_left_c
    finding = _against_ceiling(case, code, "As found", found)
    if ceiling is None or left is None or not left <= ceiling.value < found:
        return finding
    return finding._replace(
        severity=Severity.WATCH,
        words=f"{finding.words} It was re-adjusted to {left:.1f} °C at the visit.",
        action=f"{CHECK_FIRST} Find out why it rose; test again soon.",
        retest_weeks=case.standards.retests.readjusted,
    )


def _left(case: Case) -> Finding:
    code, left = "left-above-ceiling", case.readings.as_left_c
    if left is None:
        return case.missing(code, "Mixed temperature as left was not measured.")
    return _against_ceiling(case, code, "As left", left)


def _small_draw(case: Case) -> Finding:
    code, value = "small-draw-above-ceiling", case.readings.small_draw_c
    if value is None:
        return _NO_SMALL_DRAW
    return _against_ceiling(case, code, "At the smaller draw-off", value)


def _left_against_set(case: Case) -> Finding:
    code, left, limit = "left-off-set", case.readings.as_left_c, case.standards.set_c
    if left is None or limit is None:
        return _NO_SET
    tolerance = case.standards.set_tolerance
    words = f"As left {left:.1f} °C, set temperature {limit.value:.1f} °C"
    if tolerance is None or abs(left - limit.value) <= tolerance.value:
        return met(code, words, limit, left, "°C")
    accepted = Limit(limit.value, f"{limit.source}; ± {tolerance.value:g} K accepted, {tolerance.source}")
    action = "Set the valve again."
    return failed(code, words, Severity.NOTE, limit=accepted, measured=left, unit="°C", action=action)


def _immersion(case: Case) -> list[Finding]:
    limit, left = case.standards.immersion_c, case.readings.as_left_c
    if limit is None or left is None:
        return []
    code = "bath-above-immersion-limit"
    words = f"Bath left at {left:.1f} °C; limit for people at risk who may be immersed {limit.value:.1f} °C"
    if left <= limit.value:
        return [met(code, words, limit, left, "°C")]
    action = "Fill above this only where a competent person always supervises the bather (D08-37)."
    return [failed(code, words, Severity.WATCH, limit=limit, measured=left, unit="°C", action=action)]

"""Mixed temperature as found and as left, against the set temperature and the ceiling of the use."""

from typing import Final

from estate.domain.conformity import Decision, decide
from estate.domain.findings import Finding, Severity
from estate.domain.judging.case import Case
from estate.domain.judging.checks import failed, met, missing, not_tested
from estate.domain.judging.standards import Standards
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
    read, held, u = case.readings, case.standards, case.uncertainty_k
    left = read.as_left_c
    checks = held.once(_as_left, left, read.small_draw_c, u)
    return [held.once(_found, read.found_c, left, u), *checks] if case.is_test else [*checks]


def _as_left(held: Standards, left: float | None, small_draw: float | None, u: float | None) -> list[Finding]:
    checks = [_left(held, left, u), _left_against_set(held, left), _small_draw(held, small_draw, u)]
    return [*checks, *_immersion(held, left)]


def _against_ceiling(held: Standards, code: str, name: str, value: float, u: float | None) -> Finding:
    """Above the ceiling stops use; nearer to it than the measurement can tell is watched.

    Args:
        u: standard uncertainty of the thermometer, K.
    """
    ceiling = held.ceiling_c
    if ceiling is None:
        words = (
            f"{name} {value:.1f} °C: no limit is set for this use; enter the valve's set temperature "
            "or a limit of the site's own."
        )
        return missing(code, words, held.retests.not_tested)
    decision = decide(value, ceiling.value, u)
    shown, most = told_apart(value, ceiling.value)
    words = f"{name} {shown} °C, ceiling {most} °C"
    if decision is Decision.PASS:
        return met(code, words, ceiling, value, "°C")
    severity, action = held.scald, STOP_USE
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
        retest=held.retest_for(severity),
    )


def _found(held: Standards, found: float | None, left: float | None, u: float | None) -> Finding:
    code, ceiling = "found-above-ceiling", held.ceiling_c
    if found is None:
        return missing(code, "Mixed temperature as found was not measured.", held.retests.not_tested)
    finding = _against_ceiling(held, code, "As found", found, u)
    if ceiling is None or left is None or not left <= ceiling.value < found:
        return finding
    return finding._replace(
        severity=Severity.WATCH,
        words=f"{finding.words} It was re-adjusted to {left:.1f} °C at the visit.",
        action=f"{CHECK_FIRST} Find out why it rose; test again soon.",
        retest_weeks=held.retests.readjusted,
    )


def _left(held: Standards, left: float | None, u: float | None) -> Finding:
    code = "left-above-ceiling"
    if left is None:
        return missing(code, "Mixed temperature as left was not measured.", held.retests.not_tested)
    return _against_ceiling(held, code, "As left", left, u)


def _small_draw(held: Standards, value: float | None, u: float | None) -> Finding:
    if value is None:
        return _NO_SMALL_DRAW
    return _against_ceiling(held, "small-draw-above-ceiling", "At the smaller draw-off", value, u)


def _left_against_set(held: Standards, left: float | None) -> Finding:
    code, limit = "left-off-set", held.set_c
    if left is None or limit is None:
        return _NO_SET
    tolerance = held.set_tolerance
    words = f"As left {left:.1f} °C, set temperature {limit.value:.1f} °C"
    if tolerance is None or abs(left - limit.value) <= tolerance.value:
        return met(code, words, limit, left, "°C")
    accepted = Limit(limit.value, f"{limit.source}; ± {tolerance.value:g} K accepted, {tolerance.source}")
    action = "Set the valve again."
    return failed(code, words, Severity.NOTE, limit=accepted, measured=left, unit="°C", action=action)


def _immersion(held: Standards, left: float | None) -> list[Finding]:
    limit = held.immersion_c
    if limit is None or left is None:
        return []
    code = "bath-above-immersion-limit"
    words = f"Bath left at {left:.1f} °C; limit for people at risk who may be immersed {limit.value:.1f} °C"
    if left <= limit.value:
        return [met(code, words, limit, left, "°C")]
    action = "Fill above this only where a competent person always supervises the bather (D08-37)."
    return [failed(code, words, Severity.WATCH, limit=limit, measured=left, unit="°C", action=action)]

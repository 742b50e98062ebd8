"""Where and how the valve is fitted and kept: class, designation, pipe, strainers, what was seen."""

from typing import Final

from estate.domain.dates import day_words
from estate.domain.findings import Finding, Severity
from estate.domain.judging.case import Case
from estate.domain.judging.checks import failed, met, not_tested
from estate.domain.judging.standards import Standards
from estate.domain.limits import Limit

_SEEN: Final = (
    ("check-valves", "Check valves in good order"),
    ("isolating-valves", "Isolating valves fully open"),
    ("cap", "Cap refitted over the adjuster"),
)
_NOT_SEEN: Final = {code: not_tested(code, f"{name}: not recorded.") for code, name in _SEEN}
_GOOD: Final = {code: met(code, f"{name}: yes", None) for code, name in _SEEN}


def check_installation(case: Case) -> list[Finding]:
    """Judge the fitting and its upkeep (D08-06, D08-10..12, D08-50, D08-72, HSE-10, TP-03, TP-06)."""
    read = case.readings
    seen = (read.check_valves_good, read.isolating_valves_open, read.cap_refitted)
    return [
        case.standards.once(_pipe, case.pipe_m),
        *case.standards.suitability,
        _strainers(case),
        *[_seen(code, name, value, case) for (code, name), value in zip(_SEEN, seen, strict=True)],
    ]


def _pipe(held: Standards, longest: float | None) -> Finding:
    code, limit = "pipe-too-long", held.pipe
    if longest is None or limit is None:
        return not_tested(code, "Length of blended pipe: the length or the limit is missing.")
    words = f"Blended pipe {longest:.1f} m, limit {limit.value:g} m"
    if longest <= limit.value:
        return met(code, words, limit, longest, "m")
    action = "Mount the valve closer to the outlet or have the site's risk assessment say why not."
    return failed(code, words, Severity.WATCH, limit=limit, measured=longest, unit="m", action=action)


def _strainers(case: Case) -> Finding:
    code, limit, cleaned = "strainers-overdue", case.standards.strainers, case.readings.strainers_cleaned
    if cleaned or not case.standards.has_strainers:
        return case.standards.once(_clean, bool(cleaned))
    if case.strainers_due is None or limit is None:
        return not_tested(code, "Strainers: no cleaning is on record.")
    words = f"Strainers due by {day_words(case.strainers_due)}, not cleaned at this visit"
    if case.visit.on <= case.strainers_due:
        return met(code, words, limit)
    action = "Inspect, clean, descale and disinfect the strainers; isolate hot and cold first."
    return failed(code, words, Severity.WATCH, limit=limit, action=action)


def _clean(held: Standards, cleaned: bool) -> Finding:
    return met("strainers-overdue", "Strainers cleaned" if cleaned else "No strainers", held.strainers)


def _seen(code: str, name: str, value: bool | None, case: Case) -> Finding:
    if value is None:
        return _NOT_SEEN[code]
    if value:
        return _GOOD[code]
    limit = Limit(0.0, "D08-72, TP-06")
    action = "Put right, then test again."
    retest = case.standards.retests.put_right
    return failed(code, f"{name}: no", Severity.PUT_RIGHT, limit=limit, action=action, retest=retest)

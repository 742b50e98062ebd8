"""Change of the mixed temperature since the previous test and since the reference."""

from estate.domain.dates import day_words
from estate.domain.findings import Finding, Severity
from estate.domain.judging.case import Case
from estate.domain.judging.checks import failed, met, not_tested
from estate.domain.judging.standards import Standards
from estate.domain.judging.temperature import CHECK_FIRST
from estate.domain.visits import VisitDraft

SERVICE = (
    "Service the valve and look at its supplies; re-commission it afterwards (D08-64). "
    "Isolate hot and cold first."
)


def check_changes(case: Case) -> list[Finding]:
    """Judge the changes of an in-service test (D08-72, D08-74, and 1.7: over 2 K is significant)."""
    if not case.is_test:
        return []
    held, found = case.standards, case.readings.found_c
    checks = [_change(held, "changed-since-previous", "the previous visit", found, case.previous)]
    if case.reference is not None and case.reference is not case.previous:
        checks.append(_change(held, "changed-since-reference", "the reference", found, case.reference))
    return checks


def _change(
    held: Standards, code: str, name: str, found: float | None, earlier: VisitDraft | None
) -> Finding:
    before = None if earlier is None else earlier.readings.as_left_c
    if found is None or before is None or earlier is None:
        return not_tested(code, f"Change since {name}: one of the two values is missing.")
    change = round(found - before, 6)
    small, large = held.small_change, held.large_change
    words = f"Changed by {change:+.1f} K since {name} ({before:.1f} °C on {day_words(earlier.on)})"
    if large is not None and abs(change) > large.value:
        return failed(
            code,
            words,
            Severity.PUT_RIGHT,
            limit=large,
            measured=change,
            unit="K",
            action=f"{CHECK_FIRST} {SERVICE}",
            retest=held.retests.put_right,
        )
    if small is not None and abs(change) > small.value:
        return failed(code, words, Severity.WATCH, limit=small, measured=change, unit="K", action=CHECK_FIRST)
    return met(code, words, small, change, "K")

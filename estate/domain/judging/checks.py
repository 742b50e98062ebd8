"""How a check is told: met, not met, or not tested."""

from typing import Final

from estate.domain.findings import Finding, Outcome, Severity
from estate.domain.limits import Limit

_MET: Final = Outcome.MET
_NOT_MET: Final = Outcome.NOT_MET
_NOT_TESTED: Final = Outcome.NOT_TESTED


def met(code: str, words: str, limit: Limit | None, measured: float | None = None, unit: str = "") -> Finding:
    """A check that was met."""
    if limit is None:
        return Finding(code, _MET, words, None, False, measured, None, unit)
    value = limit.value if unit else None
    return Finding(code, _MET, words, None, False, measured, value, unit, limit.source)


def failed(
    code: str,
    words: str,
    severity: Severity,
    *,
    limit: Limit | None = None,
    measured: float | None = None,
    unit: str = "",
    action: str = "",
    retest: tuple[float, float] | None = None,
) -> Finding:
    """A check that was not met."""
    return Finding(
        code=code,
        outcome=_NOT_MET,
        words=words,
        severity=severity,
        measured=measured,
        limit=limit.value if limit is not None and unit else None,
        unit=unit,
        source="" if limit is None else limit.source,
        action=action,
        retest_weeks=retest,
    )


def not_tested(code: str, words: str) -> Finding:
    """A check whose value is missing, and not required."""
    return Finding(code, _NOT_TESTED, words)


def missing(code: str, words: str, retest: tuple[float, float] | None) -> Finding:
    """A check whose required value is missing: it asks for the test again."""
    return Finding(
        code, _NOT_TESTED, words, required=True, action="Make the missing measurement.", retest_weeks=retest
    )

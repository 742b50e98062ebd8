"""The instrument: in calibration on the day, and of the same specification as last time."""

from typing import Final

from estate.domain.dates import day_words
from estate.domain.findings import Finding, Severity
from estate.domain.judging.case import Case
from estate.domain.judging.checks import failed, met, not_tested
from estate.domain.limits import Limit

OUT_OF_DATE: Final = "instrument-out-of-calibration"
_NONE_NAMED: Final = not_tested(OUT_OF_DATE, "Calibration: no instrument of the register is named.")


def check_instrument(case: Case) -> list[Finding]:
    """Judge the instrument of a visit (D08-60, D08-71, MU-05)."""
    return [_calibration(case), *_specification(case)]


def _calibration(case: Case) -> Finding:
    code, instrument = OUT_OF_DATE, case.instrument
    if instrument is None:
        if not case.visit.instrument_words:
            return _NONE_NAMED
        named = f'("{case.visit.instrument_words}" is not in the register)'
        return not_tested(code, f"Calibration: no instrument of the register is named {named}.")
    limit = Limit(0.0, "D08-60, D08-71: the equipment used is recorded and repeated")
    calibration = instrument.calibration_on(case.visit.on)
    if calibration is not None:
        words = f"{instrument.reference} in calibration until {day_words(calibration.due_on)}"
        return met(code, words, limit)
    last = max((each.due_on for each in instrument.calibrations), default=None)
    since = (
        f"ran out on {day_words(last)}" if last is not None and last < case.visit.on else "is not on record"
    )
    return failed(
        code,
        f"{instrument.reference}: its calibration {since}",
        Severity.PUT_RIGHT,
        limit=limit,
        action="The readings are doubtful: test again with an instrument in calibration, or have a "
        "person responsible say why the visit counts.",
        retest=case.standards.retests.not_tested,
    )


def _specification(case: Case) -> list[Finding]:
    now, before = case.instrument, case.previous_instrument
    if now is None or before is None:
        return []
    same = now.id == before.id or (now.specification, now.kind) == (before.specification, before.kind)
    words = f"Measured with {now.reference}, last time with {before.reference}"
    code = "instrument-of-other-kind"
    limit = Limit(0.0, "D08-71: the same instrument or one of the same specification")
    if same:
        return [met(code, words, limit)]
    action = "Compare with care: part of a change may be the instruments'."
    return [failed(code, words, Severity.NOTE, limit=limit, action=action)]

"""The person: competent on the day, where the register knows the name; of others nothing is judged."""

from estate.domain.dates import day_words
from estate.domain.findings import Finding, Severity
from estate.domain.judging.case import Case
from estate.domain.judging.checks import failed, met, not_tested
from estate.domain.limits import Limit

COMPETENCE = "person-competence"
_LIMIT = Limit(0.0, "HSE-09: maintenance by competent persons (not verified in the source)")


def check_person(case: Case) -> list[Finding]:
    """Judge the competence of a known person on the day of the visit."""
    person, day = case.person, case.visit.on
    if person is None:
        return []
    held = person.competence_on(day)
    if held is not None:
        until = "" if held.until_on is None else f" until {day_words(held.until_on)}"
        return [met(COMPETENCE, f"{person.name}: {held.subject}{until}", _LIMIT)]
    if not person.competences:
        return [not_tested(COMPETENCE, f"{person.name}: no competence is on record.")]
    ended = [each.until_on for each in person.competences if each.until_on and each.until_on < day]
    since = f"ended on {day_words(max(ended))}" if ended else "begins later"
    action = "Renew it, or enter the certificate that covers the day."
    return [
        failed(COMPETENCE, f"{person.name}: competence {since}", Severity.NOTE, limit=_LIMIT, action=action)
    ]

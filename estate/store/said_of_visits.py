"""What judging said of every visit, as little of it as tells whether a valve stood in order after it."""

from collections import defaultdict
from dataclasses import dataclass
from typing import Final

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from estate.domain.findings import Outcome, Severity, Verdict
from estate.store.visit_schema import FindingRow, JudgementRow

_SATISFACTORY: Final = frozenset(each.value for each in Verdict if each.satisfactory)


@dataclass(frozen=True, slots=True)
class SaidOfVisits:
    """The latest judgements of all visits, by the visit's id.

    Attributes:
        untested: of those that were satisfactory the codes of the checks that were not tested, separated by
            spaces; no entry for any other.
        failed: codes of the checks that found something to put right or worse.
        asking: visits of which some judgement asks for a retest.
    """

    untested: dict[int, str]
    failed: dict[int, frozenset[str]]
    asking: frozenset[int]


def said_of_visits(session: Session) -> SaidOfVisits:
    """Read what judging said, in three queries whatever the number of visits."""
    latest = select(func.max(JudgementRow.id)).group_by(JudgementRow.visit_id)
    columns = (JudgementRow.visit_id, JudgementRow.verdict, JudgementRow.untested_codes)
    said = session.execute(select(*columns).where(JudgementRow.id.in_(latest)))
    untested = {visit_id: codes for visit_id, verdict, codes in said if verdict in _SATISFACTORY}
    joined = select(JudgementRow.visit_id, FindingRow.code).join(
        FindingRow, FindingRow.judgement_id == JudgementRow.id
    )
    grave = (FindingRow.severity >= Severity.PUT_RIGHT.value, FindingRow.outcome == Outcome.NOT_MET.value)
    failed: defaultdict[int, set[str]] = defaultdict(set)
    for visit_id, code in session.execute(joined.where(JudgementRow.id.in_(latest), *grave)):
        failed[visit_id].add(code)
    asking = session.execute(joined.where(FindingRow.retest_to_weeks.is_not(None)))
    return SaidOfVisits(
        untested,
        {visit_id: frozenset(codes) for visit_id, codes in failed.items()},
        frozenset(visit_id for visit_id, _ in asking),
    )

"""Visits after which something has to be done: found in one reading, so that the others cost nothing."""

from sqlalchemy import or_, select
from sqlalchemy.orm import Session

from estate.domain.findings import Severity
from estate.store.visit_schema import FindingRow, JudgementRow


def grave_visits(session: Session) -> frozenset[int]:
    """Ids of visits of which some judgement asked for a retest or found something to put right or worse."""
    grave = FindingRow.severity >= Severity.PUT_RIGHT.value
    query = (
        select(JudgementRow.visit_id)
        .join(FindingRow, FindingRow.judgement_id == JudgementRow.id)
        .where(or_(grave, FindingRow.retest_to_weeks.is_not(None)))
        .distinct()
    )
    return frozenset(session.execute(query).scalars())

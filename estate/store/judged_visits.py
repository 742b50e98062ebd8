"""What judging said of the visits of some bodies, read lean: failed checks and those in order."""

from collections import defaultdict
from collections.abc import Collection
from dataclasses import dataclass, field
from typing import Any, Final

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from estate.domain.dates import day_words
from estate.domain.findings import Outcome, Severity, Verdict
from estate.domain.life.faults import FailedCheck, JudgedVisit
from estate.domain.visits import VisitKind
from estate.store.parting import AT_ONCE, parts
from estate.store.visit_schema import FindingRow, JudgementRow, VisitRow, VisitVoidRow

_SATISFACTORY: Final = frozenset(each.value for each in Verdict if each.satisfactory)


@dataclass(slots=True)
class _Said:
    satisfactory: bool
    failed: list[FailedCheck] = field(default_factory=list)
    in_order: set[str] = field(default_factory=set)


def failing_valves(session: Session, valve_ids: Collection[int]) -> set[int]:
    """Those of some bodies of which some judgement found something to put right or worse."""
    failing = (
        select(VisitRow.valve_id)
        .join(JudgementRow, JudgementRow.visit_id == VisitRow.id)
        .join(FindingRow, FindingRow.judgement_id == JudgementRow.id)
        .where(FindingRow.severity >= Severity.PUT_RIGHT.value)
        .distinct()
    )
    if len(valve_ids) > AT_ONCE:
        # So many are found sooner from the side of the findings, most of which are milder.
        return set(session.execute(failing).scalars()).intersection(valve_ids)
    found: set[int] = set()
    for part in parts(valve_ids):
        found.update(session.execute(failing.where(VisitRow.valve_id.in_(part))).scalars())
    return found


def judged_visits(
    session: Session, valve_ids: Collection[int], back: int, since: dict[int, int]
) -> dict[int, tuple[JudgedVisit, ...]]:
    """The last visits that count of some bodies, in order, by the valve's id.

    Args:
        back: how many visits before the last one to read.
        since: visits to read from at least, by the valve's id, where that is further back.
    """
    series: defaultdict[int, list[Any]] = defaultdict(list)
    for part in parts(valve_ids):
        for row in session.execute(_counting(part)):
            series[row.valve_id].append(row)
    recent = {valve_id: _recent(rows, back, since.get(valve_id)) for valve_id, rows in series.items()}
    said = _said(session, [row.id for rows in recent.values() for row in rows])
    return {
        valve_id: tuple(_judged(row, said[row.id]) for row in rows if row.id in said)
        for valve_id, rows in recent.items()
    }


def _counting(valve_ids: Collection[int]) -> Any:
    void = select(VisitVoidRow.visit_id)
    corrected = select(VisitRow.corrects).where(VisitRow.corrects.is_not(None), VisitRow.id.not_in(void))
    columns = (
        *(VisitRow.id, VisitRow.valve_id, VisitRow.outlet_id),
        *(VisitRow.kind, VisitRow.visited_on, VisitRow.corrects),
    )
    return (
        select(*columns)
        .where(VisitRow.valve_id.in_(valve_ids), VisitRow.id.not_in(void), VisitRow.id.not_in(corrected))
        .order_by(VisitRow.valve_id, VisitRow.visited_on, VisitRow.id)
    )


def _recent(rows: list[Any], back: int, since: int | None) -> list[Any]:
    first = max(0, len(rows) - 1 - back)
    known = next((place for place, row in enumerate(rows) if since in (row.id, row.corrects)), None)
    return rows[first if known is None else min(first, known) :]


def _judged(row: Any, said: _Said) -> JudgedVisit:
    return JudgedVisit(
        id=row.id,
        outlet_id=row.outlet_id,
        kind=VisitKind(row.kind),
        on=row.visited_on,
        failed=tuple(said.failed),
        in_order=frozenset(said.in_order),
        satisfactory=said.satisfactory,
        corrects=row.corrects,
    )


def _said(session: Session, visit_ids: Collection[int]) -> dict[int, _Said]:
    found: dict[int, _Said] = {}
    for part in parts(visit_ids):
        newest = select(func.max(JudgementRow.id)).where(JudgementRow.visit_id.in_(part))
        latest = JudgementRow.id.in_(newest.group_by(JudgementRow.visit_id))
        columns = (JudgementRow.visit_id, JudgementRow.verdict, JudgementRow.met_codes)
        for visit_id, verdict, met_codes in session.execute(select(*columns).where(latest)):
            found[visit_id] = _Said(verdict in _SATISFACTORY, in_order=set(met_codes.split()))
        checks = (
            select(JudgementRow.visit_id, *_CHECK)
            .join(JudgementRow, JudgementRow.id == FindingRow.judgement_id)
            .where(latest, FindingRow.outcome == Outcome.NOT_MET.value)
            .order_by(FindingRow.id)
        )
        for visit_id, code, severity, words, retest in session.execute(checks):
            _sort_in(found[visit_id], code, Severity(severity or 1), words, retest is not None)
    return found


_CHECK: Final = (FindingRow.code, FindingRow.severity, FindingRow.words, FindingRow.retest_to_weeks)


def _sort_in(said: _Said, code: str, severity: Severity, words: str, asks_retest: bool) -> None:
    if severity >= Severity.PUT_RIGHT:
        said.failed.append(FailedCheck(code, severity, words, asks_retest))
    else:
        said.in_order.add(code)


def gone(session: Session, visit_ids: Collection[int]) -> dict[int, str]:
    """Why some visits no longer count, in words, by id; those that count are left out."""
    found: dict[int, str] = {}
    for part in parts(visit_ids):
        corrected = (
            select(VisitRow.corrects)
            .where(VisitRow.corrects.in_(part), VisitRow.id.not_in(select(VisitVoidRow.visit_id)))
            .distinct()
        )
        later = set(session.execute(corrected).scalars())
        query = (
            select(VisitRow.id, VisitRow.visited_on, VisitVoidRow.reason)
            .outerjoin(VisitVoidRow, VisitVoidRow.visit_id == VisitRow.id)
            .where(VisitRow.id.in_(part))
        )
        for visit_id, on, reason in session.execute(query):
            if reason is not None:
                found[visit_id] = f"The visit of {day_words(on)} is void: {reason}"
            elif visit_id in later:
                found[visit_id] = f"The visit of {day_words(on)} was corrected by a later entry."
    return found

"""What judging said of visits; a visit judged again gets a further judgement, and the latest counts."""

from collections import defaultdict
from collections.abc import Collection, Iterable
from functools import cache
from typing import Any

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from estate.domain.findings import Finding, Judgement, Outcome, Severity, Verdict, verdict_of
from estate.domain.judging.names import CHECK_NAMES
from estate.store.parting import parts
from estate.store.records import FINDING_COLUMNS, finding_of, finding_row
from estate.store.transaction import Transaction
from estate.store.visit_schema import FindingRow, JudgementRow

_MET, _NOT_TESTED = Outcome.MET, Outcome.NOT_TESTED
_MET_WORDS = "met when the visit was judged"
_COLUMNS = (
    *("visit_id", "rule_set", "rule_set_edition", "verdict"),
    *("met_count", "met_codes", "untested_codes", "judged_at"),
)


def add_judgement(tx: Transaction, visit_id: int, judgement: Judgement) -> None:
    """Keep the judgement of a visit."""
    add_judgements(tx, [(visit_id, judgement)])


def add_judgements(tx: Transaction, pairs: Iterable[tuple[int, Judgement]]) -> None:
    """Keep judgements, fast.

    Kept are the rule set, its edition, the verdict, and every check that was not met or whose required
    value was missing; of the others, a dozen at each visit, their codes alone.

    Args:
        pairs: ids of visits with their judgements.
    """
    rows: list[tuple[Any, ...]] = []
    whole: list[list[Finding]] = []
    for visit_id, judgement in pairs:
        row, kept = _sorted_out(judgement)
        rows.append((visit_id, *row, tx.at))
        whole.append(kept)
    ids = tx.insert_rows(JudgementRow, _COLUMNS, rows)
    findings = [
        (judgement_id, *finding_row(check))
        for judgement_id, kept in zip(ids, whole, strict=True)
        for check in kept
    ]
    tx.insert_rows(FindingRow, ("judgement_id", *FINDING_COLUMNS), findings)
    tx.touch(visits=[row[0] for row in rows])


def _sorted_out(judgement: Judgement) -> tuple[tuple[Any, ...], list[Finding]]:
    """The row of a judgement in the order of `_COLUMNS`, and its checks that are kept whole."""
    met, untested = _MET, _NOT_TESTED
    met_codes: list[str] = []
    untested_codes: list[str] = []
    kept: list[Finding] = []
    for check in judgement.checks:
        outcome = check.outcome
        if outcome is met:
            met_codes.append(check.code)
        elif outcome is untested and not check.required:
            untested_codes.append(check.code)
        else:
            kept.append(check)
    codes = (len(met_codes), " ".join(met_codes), " ".join(untested_codes))
    verdict = verdict_of(kept, any_met=bool(met_codes))
    return (judgement.rule_set, judgement.rule_set_edition, verdict.value, *codes), kept


def verdicts(session: Session) -> dict[int, Verdict]:
    """The latest verdict of every visit that was judged, by the visit's id."""
    words = {verdict.value: verdict for verdict in Verdict}
    query = select(JudgementRow.visit_id, JudgementRow.verdict).order_by(JudgementRow.id)
    return {visit_id: words[verdict] for visit_id, verdict in session.execute(query)}


def judgement(session: Session, visit_id: int) -> Judgement | None:
    """The latest judgement of a visit; None if it was not judged."""
    return judgements(session, [visit_id]).get(visit_id)


def judgements(session: Session, visit_ids: Collection[int]) -> dict[int, Judgement]:
    """The latest judgements of some visits, by the visit's id."""
    found: dict[int, Judgement] = {}
    for part in parts(visit_ids):
        found |= _latest(session, part)
    return found


def severe(session: Session) -> frozenset[int]:
    """Ids of visits of which some judgement found something to put right or worse."""
    query = (
        select(JudgementRow.visit_id)
        .join(FindingRow, FindingRow.judgement_id == JudgementRow.id)
        .where(FindingRow.severity >= Severity.PUT_RIGHT.value)
        .distinct()
    )
    return frozenset(session.execute(query).scalars())


def _latest(session: Session, visit_ids: list[int]) -> dict[int, Judgement]:
    newest = select(func.max(JudgementRow.id)).where(JudgementRow.visit_id.in_(visit_ids))
    table = JudgementRow.__table__
    query = select(*table.columns).where(table.c.id.in_(newest.group_by(JudgementRow.visit_id)))
    rows = session.execute(query).all()
    checks: dict[int, list[Finding]] = defaultdict(list)
    kept = select(*FindingRow.__table__.columns).where(FindingRow.judgement_id.in_([row.id for row in rows]))
    for each in session.execute(kept.order_by(FindingRow.id)):
        checks[each.judgement_id].append(finding_of(each))
    return {row.visit_id: _judgement_of(row, checks[row.id]) for row in rows}


def _judgement_of(row: Any, kept: list[Finding]) -> Judgement:
    met = map(_met, row.met_codes.split())
    untested = map(_untested, row.untested_codes.split())
    return Judgement(row.rule_set, row.rule_set_edition, (*kept, *untested, *met))


@cache
def _met(code: str) -> Finding:
    return Finding(code, Outcome.MET, _MET_WORDS)


@cache
def _untested(code: str) -> Finding:
    return Finding(code, Outcome.NOT_TESTED, f"{CHECK_NAMES.get(code, code)}: not tested.")

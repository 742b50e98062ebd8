"""Say why a visit with an instrument out of date counts; take that back."""

from datetime import datetime

from estate.domain.changes import ChangeSet
from estate.domain.findings import Judgement, Outcome, Severity
from estate.domain.judging.instrument import OUT_OF_DATE
from estate.domain.phrases import phrase
from estate.errors import EntryFault
from estate.operations.record_visit import judge_again
from estate.operations.register import Register
from estate.store import judgements, justifications, visits
from estate.store.retrying import retried
from estate.store.transaction import writing


@retried
def justify_visit(register: Register, visit_id: int, *, why: str, who: str, at: datetime) -> ChangeSet:
    """Let a visit count though its instrument was out of date; the finding stays as a note that tells why.

    Raises:
        EntryFault: no reason is given, the instrument was in date, or it is justified already.
        NotFoundFault: there is no such visit.
    """
    if not why.strip():
        raise EntryFault("No reason", "A visit in doubt counts with a reason.", "Say why its readings hold.")
    with writing(register.database, who, "justified a visit", at, why=why.strip()) as tx:
        visit = visits.visit(tx.session, visit_id)
        if not visit.counts:
            raise EntryFault(
                "That entry does not count",
                phrase("visit {visit_id}: {standing}.", visit_id=visit_id, standing=phrase(visit.standing)),
                "Choose another.",
            )
        justifications.add_justification(tx, visit_id, why)
        if not _in_doubt(judgements.judgement(tx.session, visit_id)):
            detail = phrase(
                "visit {visit_id}: its instrument was in calibration, or none of the register is named.",
                visit_id=visit_id,
            )
            raise EntryFault("There is nothing to justify", detail, "Nothing has to be done.")
        judge_again(tx, register, {visit.draft.valve_id: visit.on})
    return tx.changes


@retried
def take_back_justification(
    register: Register, visit_id: int, *, why: str, who: str, at: datetime
) -> ChangeSet:
    """Take it back: the visit is in doubt again.

    Raises:
        EntryFault: no reason is given.
        NotFoundFault: there is no such visit, or it is not justified.
    """
    if not why.strip():
        raise EntryFault("No reason", "It is taken back with a reason.", "Say why the readings don't hold.")
    with writing(register.database, who, "took back a justification", at, why=why.strip()) as tx:
        visit = visits.visit(tx.session, visit_id)
        justifications.take_back_justification(tx, visit_id, why)
        judge_again(tx, register, {visit.draft.valve_id: visit.on})
    return tx.changes


def _in_doubt(judgement: Judgement | None) -> bool:
    checks = () if judgement is None else judgement.checks
    return any(
        each.code == OUT_OF_DATE and each.outcome is Outcome.NOT_MET and each.severity is Severity.PUT_RIGHT
        for each in checks
    )

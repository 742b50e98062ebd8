"""Record, void or correct a visit; judge a draft while it is being typed."""

from collections.abc import Collection, Mapping
from dataclasses import dataclass, replace
from datetime import date, datetime

from estate.domain.changes import ChangeSet
from estate.domain.dates import day_words
from estate.domain.findings import Judgement
from estate.domain.judging.justifying import justified
from estate.domain.phrases import phrase, together
from estate.domain.plausibility import implausible
from estate.domain.visits import Visit, VisitDraft, measured
from estate.errors import EntryFault
from estate.operations.follow_faults import follow_faults
from estate.operations.holdings import Holdings, read_holdings
from estate.operations.judge_series import Bench, before
from estate.operations.query_reading import UNLIKELY, unlikely_in, with_query
from estate.operations.register import Register
from estate.store import judgements, justifications, overtaken, visits
from estate.store.retrying import retried
from estate.store.transaction import Transaction, writing


@dataclass(frozen=True, slots=True)
class Recorded:
    """A visit now in the register, its judgement, and what changed."""

    visit: Visit
    judgement: Judgement
    changes: ChangeSet


def judge_draft(register: Register, draft: VisitDraft, without: int | None = None) -> Judgement:
    """Judge a draft against the visits before it; nothing is written.

    Args:
        register: the open register.
        draft: the visit as typed so far.
        without: id of the entry that the draft is to correct.
    """
    with register.database.reading() as session:
        holdings = read_holdings(session, register.published, {draft.valve_id}, on=draft.on)
    return _judge(holdings, draft, without)


def _judge(holdings: Holdings, draft: VisitDraft, without: int | None = None) -> Judgement:
    others = [each.draft for each in holdings.counting(draft.valve_id) if each.id != without]
    judgement = Bench(holdings).judge(draft, before(others, draft))
    return with_query(judgement, unlikely_in(holdings, draft, without))


def check_draft(holdings: Holdings, draft: VisitDraft, today: date, without: int | None = None) -> None:
    """Refuse what can't be true.

    Args:
        holdings: what the register holds.
        draft: the visit.
        today: the day of entry.
        without: id of the entry that the draft is to correct.

    Raises:
        EntryFault: the day lies ahead or before the valve was fitted, nothing was measured, a value
            is impossible, or the same visit is already there.
    """
    if draft.on > today:
        raise _fault(
            "The visit lies ahead",
            phrase(
                "It is dated {day}, today is {today}.",
                day=day_words(draft.on),
                today=day_words(today),
            ),
            phrase("date"),
        )
    fitted = [each.fitted_on for each in holdings.fittings_of.get(draft.valve_id, ()) if each.fitted_on]
    if fitted and draft.on < min(fitted):
        raise _fault(
            "The visit comes before the valve",
            phrase(
                "It is dated {day}, the valve was fitted on {fitted_day}.",
                day=day_words(draft.on),
                fitted_day=day_words(min(fitted)),
            ),
            phrase("date, or the day of fitting"),
        )
    if not measured(draft.readings):
        raise _fault("Nothing was measured", "The visit has no reading at all.", phrase("readings"))
    if impossible := implausible(draft.readings):
        raise _fault(
            "A value can't be true",
            phrase("{found}.", found=together(*impossible, between="; ")),
            phrase("value and its unit"),
        )
    for each in holdings.counting(draft.valve_id):
        if each.id != without and replace(each.draft, source=None) == replace(draft, source=None):
            detail = phrase("Visit {id} of {day} says the very same.", id=each.id, day=day_words(each.on))
            raise EntryFault(
                "The visit is already there", detail, "Nothing was recorded; nothing has to be done."
            )


def _fault(title: str, detail: str, what: str) -> EntryFault:
    return EntryFault(title, detail, phrase("Correct the {what}; nothing was recorded.", what=what))


@retried
def record_visit(register: Register, draft: VisitDraft, *, who: str, at: datetime, today: date) -> Recorded:
    """Record one visit with its judgement, in one transaction.

    Raises:
        EntryFault: the draft can't be true; nothing is written.
    """
    with writing(register.database, who, "recorded a visit", at) as tx:
        holdings = read_holdings(tx.session, register.published, {draft.valve_id}, on=draft.on)
        check_draft(holdings, draft, today)
        judgement = _judge(holdings, draft)
        visit = visits.add_visit(tx, draft)
        judgements.add_judgement(tx, visit.id, judgement)
        judge_again(tx, register, {draft.valve_id: draft.on}, {visit.id})
    return Recorded(visit, judgement, tx.changes)


@retried
def void_visit(register: Register, visit_id: int, *, reason: str, who: str, at: datetime) -> ChangeSet:
    """Mark a visit as void; it stays on record with the reason.

    Raises:
        EntryFault: no reason is given.
        ConflictFault: somebody else corrected it or made it void meanwhile.
        NotFoundFault: there is no such visit.
    """
    if not reason.strip():
        raise EntryFault("No reason", "A visit is voided with a reason.", "Say why it does not count.")
    with writing(register.database, who, "voided a visit", at, why=reason.strip()) as tx:
        visit = overtaken.must_count(tx.session, visit_id)
        visits.void_visit(tx, visit_id, reason.strip())
        judge_again(tx, register, {visit.draft.valve_id: visit.on})
    return tx.changes


@retried
def correct_visit(
    register: Register,
    visit_id: int,
    draft: VisitDraft,
    *,
    who: str,
    at: datetime,
    today: date,
    why: str = "",
) -> Recorded:
    """Correct a visit by a further entry; the first one stays on record and no longer counts.

    Args:
        register: the open register.
        visit_id: the entry.
        draft: what counts in its place.
        who: who corrects it.
        at: now, UTC.
        today: no visit lies ahead of it.
        why: the reason, for the ledger; empty where none was given.

    Raises:
        EntryFault: the draft can't be true; nothing is written.
        ConflictFault: somebody else corrected it or made it void meanwhile.
        NotFoundFault: there is no such visit.
    """
    with writing(register.database, who, "corrected a visit", at, why=why.strip()) as tx:
        overtaken.must_count(tx.session, visit_id)
        holdings = read_holdings(tx.session, register.published, {draft.valve_id}, on=draft.on)
        check_draft(holdings, draft, today, without=visit_id)
        judgement = _judge(holdings, draft, without=visit_id)
        visit = visits.add_visit(tx, draft, corrects=visit_id)
        judgements.add_judgement(tx, visit.id, judgement)
        judge_again(tx, register, {draft.valve_id: draft.on}, {visit.id})
    return Recorded(visit, judgement, tx.changes)


def judge_again(
    tx: Transaction,
    register: Register,
    since: Mapping[int, date],
    judged: Collection[int] = (),
    batch_id: int | None = None,
) -> int:
    """Judge visits anew whose background has changed, and let the actions agree with them.

    A changed judgement is a further entry.

    Args:
        tx: the transaction in hand.
        register: the open register.
        since: valves whose visits, rules or fitting changed, with the first day to judge anew from.
        judged: ids of visits that were judged against this very background already.
        batch_id: the batch that brings the visits; actions that they open are noted with it.

    Returns:
        How many judgements were added.
    """
    holdings = read_holdings(tx.session, register.published, set(since))
    series = {valve_id: holdings.counting(valve_id) for valve_id in since}
    later = [each for valve_id, day in since.items() for each in series[valve_id] if each.on >= day]
    later = [each for each in later if each.id not in judged]
    kept = judgements.judgements(tx.session, [each.id for each in later])
    bench, said = Bench(holdings), justifications.justifications(tx.session)
    pairs: list[tuple[int, Judgement]] = []
    for visit in later:
        counting = series[visit.draft.valve_id]
        earlier = [each.draft for each in counting[: counting.index(visit)]]
        fresh = _with_kept_query(bench.judge(visit.draft, earlier), kept.get(visit.id))
        if visit.id in said:
            fresh = justified(fresh, said[visit.id])
        if visit.id not in kept or not _same(kept[visit.id], fresh):
            pairs.append((visit.id, fresh))
    judgements.add_judgements(tx, pairs)
    follow_faults(tx, register, since, holdings, batch_id)
    return len(pairs)


def _with_kept_query(fresh: Judgement, kept: Judgement | None) -> Judgement:
    """A reading that was confirmed stays confirmed."""
    query = [each for each in kept.checks if each.code == UNLIKELY] if kept is not None else []
    return replace(fresh, checks=(*fresh.checks, *query))


def _same(kept: Judgement, fresh: Judgement) -> bool:
    return (
        kept.rule_set == fresh.rule_set
        and kept.rule_set_edition == fresh.rule_set_edition
        and kept.verdict is fresh.verdict
        and kept.findings == fresh.findings
        and _untested(kept) == _untested(fresh)
    )


def _untested(judgement: Judgement) -> set[tuple[str, bool]]:
    return {(each.code, each.required) for each in judgement.not_tested}

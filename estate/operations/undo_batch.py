"""Undo a batch whole, unless later work rests on it; evidence is voided, never deleted."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime

from estate.domain.changes import ChangeSet
from estate.domain.phrases import phrase, some_of
from estate.domain.progress import Progress, silent
from estate.domain.register import WrittenEntry
from estate.domain.visits import Visit
from estate.errors import EntryFault
from estate.operations.fit_groups import fit_within
from estate.operations.holdings import read_holdings
from estate.operations.record_visit import judge_again
from estate.operations.register import Register
from estate.operations.resting import resting
from estate.store import aliases, attempts, batches, fits, taking_back, visits
from estate.store.retrying import retried
from estate.store.transaction import Transaction, writing

_SHOWN = 12


@dataclass(frozen=True, slots=True)
class Undone:
    """What undoing a batch came to.

    Attributes:
        visits, attempts: entries that are void now.
        places: outlets and valves that were removed or put back as they were.
    """

    changes: ChangeSet
    visits: int
    attempts: int
    places: int


def what_rests_on(register: Register, batch_id: int) -> tuple[str, ...]:
    """Later work that rests on a batch, in words; nothing where it can be undone.

    Raises:
        NotFoundFault: there is no such batch.
    """
    with register.database.reading() as session:
        return resting(session, batch_id)


@retried
def undo_batch(
    register: Register,
    batch_id: int,
    *,
    who: str,
    at: datetime,
    today: date,
    why: str,
    progress: Progress = silent,
) -> Undone:
    """Undo a batch, whole, in one transaction; its file may be brought in again afterwards.

    Its visits and attempts become void and stay on record, entries that it corrected count again, what it
    added to places and valves is removed and what it changed put back, and words it taught are withdrawn.
    Layouts stay.

    Args:
        register: the open register.
        batch_id: the batch.
        who: who undoes it.
        at: now, UTC.
        today: the day the groups are fitted anew for.
        why: kept for good.
        progress: told how far the work is.

    Raises:
        EntryFault: no reason is given, it is undone already, or later work rests on it.
        NotFoundFault: there is no such batch.
    """
    progress(0, 3, f"Looking at what rests on batch {batch_id}")
    with writing(register.database, who, f"undid batch {batch_id}", at, why=why.strip()) as tx:
        _nothing_may_rest(tx, batch_id)
        batches.mark_undone(tx, batch_id, why)
        progress(1, 3, "Taking it back")
        reason = f"Batch {batch_id} was undone: {why.strip()}"
        voided = visits.void_visits_of_batch(tx, batch_id, reason)
        tried = attempts.void_attempts_of_batch(tx, batch_id, reason)
        aliases.withdraw_of_batch(tx, batch_id)
        written = batches.rows_of(tx.session, batch_id)
        taking_back.take_back(tx, written)
        progress(2, 3, "Judging anew")
        judge_again(tx, register, _since(tx, register, voided, written))
        if (voided or written) and not fit_within(tx, register, today):
            fits.withdraw_fits(tx, today)
    progress(3, 3, f"Batch {batch_id} is undone")
    places = {(each.noun, each.row_id) for each in written if each.noun in ("outlet", "valve")}
    return Undone(tx.changes, len(voided), tried, len(places))


def _nothing_may_rest(tx: Transaction, batch_id: int) -> None:
    found = resting(tx.session, batch_id)
    if not found:
        return
    detail = phrase("batch {batch_id}: {found}.", batch_id=batch_id, found=some_of(found, _SHOWN))
    remedy = phrase("Undo or void that first where it is wrong; what was measured stays on record for good.")
    raise EntryFault("Later work rests on this batch", detail, remedy)


def _since(
    tx: Transaction, register: Register, voided: Sequence[Visit], written: Sequence[WrittenEntry]
) -> dict[int, date]:
    """Valves to judge anew, with the first day to judge from."""
    again = [visits.visit(tx.session, each.corrects) for each in voided if each.corrects is not None]
    since: dict[int, date] = {}
    for visit in (*voided, *again):
        valve_id = visit.draft.valve_id
        since[valve_id] = min(visit.on, since.get(valve_id, visit.on))
    changed = {(each.noun, each.row_id) for each in written if each.action == "changed"}
    if changed:
        for valve_id, day in _last_visits(tx, register, changed).items():
            since[valve_id] = min(day, since.get(valve_id, day))
    return since


def _last_visits(tx: Transaction, register: Register, changed: set[tuple[str, int]]) -> dict[int, date]:
    """The last visit of each valve that, or whose outlet, was changed."""
    holdings = read_holdings(tx.session, register.published)
    positions = {each.position_id for each in holdings.outlets if ("outlet", each.id) in changed}
    valve_ids = {each.valve_id for each in holdings.fittings if each.position_id in positions}
    valve_ids |= {row_id for noun, row_id in changed if noun == "valve"}
    counting = {valve_id: holdings.counting(valve_id) for valve_id in sorted(valve_ids)}
    return {valve_id: series[-1].on for valve_id, series in counting.items() if series}

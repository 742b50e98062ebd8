"""Retire outlets or take them out of use, many at once: all or none."""

from collections.abc import Sequence
from datetime import date, datetime

from estate.domain.editing import Edited
from estate.domain.life.outlet_use import UseDraft, UseStep
from estate.operations.register import Register
from estate.operations.rename_place import nothing_changes
from estate.operations.use_outlet import change_use
from estate.store import places
from estate.store.retrying import retried
from estate.store.transaction import writing


@retried
def use_outlets(
    register: Register,
    outlet_ids: Sequence[int],
    step: UseStep,
    *,
    on: date,
    why: str,
    who_told: str = "",
    sign_placed: bool | None = None,
    who: str,
    at: datetime,
) -> Edited:
    """Change whether people draw water at outlets, by the rules of `use_outlet`, in one transaction.

    Args:
        register: the open register.
        outlet_ids: the outlets.
        step: what is done.
        on: the day on which it was done.
        why: the reason.
        who_told: who in charge of the area was told.
        sign_placed: whether signs were put up; None where nothing was said.
        who: who records it.
        at: now, UTC.

    Raises:
        EntryFault: it can't be done; names each outlet that it can't be done to, and why. Nothing is written.
        NotFoundFault: there is no such outlet.
    """
    ids = list(dict.fromkeys(outlet_ids))
    if not ids:
        raise nothing_changes("No outlet was chosen.")
    what = f"outlet {step.value}" if len(ids) == 1 else f"{len(ids)} outlets {step.value}"
    with writing(register.database, who, what, at, why=why.strip()) as tx:
        outlets = places.outlets_by_id(tx.session, ids)
        change_use(tx, register, outlets, UseDraft(step, on, why.strip(), who_told.strip(), sign_placed))
    return Edited(tx.changes, tx.written)

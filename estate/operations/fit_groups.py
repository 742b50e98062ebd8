"""Fit the groups of valves anew and keep the parameters beside those of earlier days."""

from collections.abc import Sequence
from datetime import date, datetime

from estate.domain.changes import ChangeSet
from estate.domain.learned import GroupParameters
from estate.domain.visits import Visit
from estate.operations.holdings import Holdings
from estate.operations.learn import names_of
from estate.operations.plan_basis import plan_basis_with, read_plan_basis
from estate.operations.register import Register
from estate.store import fits
from estate.store.retrying import retried
from estate.store.transaction import Transaction, writing


@retried
def fit_groups(
    register: Register, on: date, *, who: str, at: datetime
) -> tuple[tuple[GroupParameters, ...], ChangeSet]:
    """Fit the groups to all visits up to a day and keep the parameters.

    Bringing in a sheet of visits does this by itself.

    Returns:
        The parameters, and what changed; no parameters without a visit.
    """
    with writing(register.database, who, f"fitted the groups as at {on}", at) as tx:
        found = fit_within(tx, register, on)
        tx.touch(everything=bool(found))
    return found, tx.changes


def fit_within(
    tx: Transaction,
    register: Register,
    on: date,
    known: Holdings | None = None,
    added: Sequence[Visit] = (),
) -> tuple[GroupParameters, ...]:
    """The same inside a transaction in hand; nothing where the login may not fit for the whole estate.

    Args:
        tx: the transaction.
        register: the open register.
        on: day up to which visits are used.
        known: the register as it stood before this transaction, if it has been read; None reads it.
        added: the visits that this transaction added to what is known, in their order.
    """
    from estate.scheduler.fitting import fit_estate  # noqa: PLC0415 - scipy loads only where groups are fitted

    if not fits.may_be_added(tx.session):
        return ()
    if known is None:
        basis = read_plan_basis(tx.session, register.published, on, judged=False)
    else:
        basis = plan_basis_with(known, added, on)
    outlets = {each.position_id: each for each in reversed(basis.outlets)}
    fittings = [each for each in basis.fittings if each.position_id in outlets]
    if not fittings:
        return ()
    there = [outlets[each.position_id] for each in fittings]
    found = fit_estate(
        basis.lives(fittings),
        [names_of(basis, *each) for each in zip(fittings, there, strict=True)],
        [basis.rules_at(each).number("isolation.residual-flow") for each in there],
        on,
    )
    fits.add_fits(tx, found)
    return found

"""Fit the groups of valves anew and keep the parameters beside those of earlier days."""

from datetime import date, datetime

from estate.domain.changes import ChangeSet
from estate.domain.learned import GroupParameters
from estate.operations.holdings import read_holdings
from estate.operations.learn import names_of
from estate.operations.register import Register
from estate.store import fits
from estate.store.transaction import Transaction, writing


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


def fit_within(tx: Transaction, register: Register, on: date) -> tuple[GroupParameters, ...]:
    """The same inside a transaction in hand."""
    from estate.scheduler.fitting import fit_estate  # noqa: PLC0415 - scipy loads only where groups are fitted

    holdings = read_holdings(tx.session, register.published, on=on)
    outlets = {each.position_id: each for each in reversed(holdings.outlets)}
    fittings = [each for each in holdings.fittings if each.position_id in outlets]
    if not fittings:
        return ()
    found = fit_estate(
        [holdings.life(each) for each in fittings],
        [names_of(holdings, each, outlets[each.position_id]) for each in fittings],
        [holdings.rules_at(outlets[each.position_id]).number("isolation.residual-flow") for each in fittings],
        on,
    )
    fits.add_fits(tx, found)
    return found

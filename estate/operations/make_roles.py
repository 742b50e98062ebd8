"""Roles and accounts of a register on a server; the database enforces them."""

from datetime import datetime

from estate.domain.changes import ChangeSet
from estate.domain.phrases import phrase
from estate.domain.roles import Deed, Role, why_not
from estate.errors import EntryFault, RegisterFault
from estate.operations.register import Register
from estate.store import places, roles
from estate.store.retrying import retried
from estate.store.transaction import Transaction, writing

__all__ = ["Deed", "Role", "add_account", "make_roles", "may", "my_role", "withdraw_account"]


@retried
def make_roles(register: Register, *, who: str, at: datetime) -> ChangeSet:
    """Make the groups of a register, with their rights and row policies.

    It can be done again at any time, and must be after the program brought the register up to date.

    Raises:
        RegisterFault: the register is a file, or the login does not own it.
    """
    _must_be_owner(register, Deed.MAKE_ROLES)
    with writing(register.database, who, "made the roles", at) as tx:
        roles.make_groups(tx)
    return tx.changes


@retried
def add_account(
    register: Register, name: str, role: Role, building_id: int | None = None, *, who: str, at: datetime
) -> ChangeSet:
    """Make a login with a role; its password is set with the server's own means, never through us.

    Args:
        register: the open register.
        name: the login.
        role: not `Role.OWNER`, which the server knows by itself.
        building_id: for a recorder: the building to keep to; None for all. Each further building is
            a further call.

    Raises:
        EntryFault: the name, role or building can't be taken.
        RegisterFault: the register is a file, or the login of the connection does not own it.
    """
    _must_be_owner(register, Deed.KEEP_ACCOUNTS)
    if not name.strip() or role is Role.OWNER:
        remedy = phrase("Give a name, and reader, recorder, officer or keeper.")
        raise EntryFault(
            "No such account", phrase('"{name}", {role}.', name=name, role=phrase(role.value)), remedy
        )
    if building_id is not None and role is not Role.RECORDER:
        detail = phrase("{role} is not held to a building.", role=phrase(role.value))
        raise EntryFault("A role of the whole estate", detail, "Leave the building out.")
    with writing(register.database, who, f"made the account {name}", at) as tx:
        _check_building(tx, building_id)
        roles.add_login(tx, name.strip(), role, building_id)
    return tx.changes


@retried
def withdraw_account(register: Register, name: str, *, who: str, at: datetime) -> ChangeSet:
    """Take an account's role away.

    Raises:
        EntryFault: there is no such account.
        RegisterFault: the register is a file, or the login of the connection does not own it.
    """
    _must_be_owner(register, Deed.KEEP_ACCOUNTS)
    with writing(register.database, who, f"withdrew the account {name}", at) as tx:
        roles.withdraw_login(tx, name)
    return tx.changes


def my_role(register: Register) -> Role:
    """The role of the login that opened the register; a file has no accounts, so everyone is its owner."""
    with register.database.reading() as session:
        return roles.role_of_login(session)


def may(register: Register, what: Deed) -> str | None:
    """Why the login may not do something, in words; None where it may."""
    return why_not(my_role(register), what)


def _must_be_owner(register: Register, deed: Deed) -> None:
    with register.database.reading() as session:
        if not roles.is_server(session):
            remedy = phrase("Move it to a server first; whoever may write to a file may do everything.")
            raise RegisterFault("A file has no accounts", f"{register.database.shown}.", remedy)
    refused = may(register, deed)
    if refused is not None:
        raise RegisterFault("That is not yours to do", refused, "Ask whoever owns the database.")


def _check_building(tx: Transaction, building_id: int | None) -> None:
    if building_id is None:
        return
    # Of a site without a building the number is 0, which is no building's.
    known = {each.building_id for each in places.rooms(tx.session, bare=True)} - {0}
    if building_id not in known:
        raise EntryFault(
            "No such building",
            phrase("Number {building_id}.", building_id=building_id),
            "Choose one of the register.",
        )

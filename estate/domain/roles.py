"""Who may do what in a register on a server; the database enforces it, the window tells of it."""

from collections.abc import Mapping
from enum import StrEnum
from typing import Final


class Role(StrEnum):
    """What a login may do; each from officer on may also do what the one before may."""

    READER = "reader"
    RECORDER = "recorder"
    OFFICER = "officer"
    KEEPER = "keeper"
    OWNER = "owner"


class Deed(StrEnum):
    """What a role is asked for."""

    RECORD = "record"
    AMEND = "amend"
    TAKE_CHECKPOINTS = "take checkpoints"
    COUNTERSIGN = "countersign"
    KEEP_KEYS = "keep keys"
    SET_RULES = "set rules"
    KEEP_ACCOUNTS = "keep accounts"
    MAKE_ROLES = "make roles"


_OFFICERS: Final = frozenset({Role.OFFICER, Role.KEEPER, Role.OWNER})
ALLOWED: Final[Mapping[Deed, frozenset[Role]]] = {
    Deed.RECORD: _OFFICERS | {Role.RECORDER},
    Deed.AMEND: _OFFICERS,
    Deed.TAKE_CHECKPOINTS: _OFFICERS,
    Deed.COUNTERSIGN: _OFFICERS,
    Deed.KEEP_KEYS: _OFFICERS,
    Deed.SET_RULES: frozenset({Role.KEEPER, Role.OWNER}),
    Deed.KEEP_ACCOUNTS: frozenset({Role.OWNER}),
    Deed.MAKE_ROLES: frozenset({Role.OWNER}),
}
_WORDS: Final[Mapping[Deed, str]] = {
    Deed.RECORD: "record visits",
    Deed.AMEND: "change places, valves and instruments",
    Deed.TAKE_CHECKPOINTS: "take checkpoints",
    Deed.COUNTERSIGN: "countersign",
    Deed.KEEP_KEYS: "add and withdraw keys",
    Deed.SET_RULES: "change rules",
    Deed.KEEP_ACCOUNTS: "keep accounts",
    Deed.MAKE_ROLES: "make the roles",
}


def why_not(role: Role, deed: Deed) -> str | None:
    """Why a role may not do something, in words; None where it may."""
    allowed = ALLOWED[deed]
    if role in allowed:
        return None
    holders = " or ".join(each.value for each in Role if each in allowed)
    return f"Your account is {role.value}; only {holders} may {_WORDS[deed]}."


def refusals(role: Role) -> Mapping[Deed, str]:
    """Every deed that a role may not do, with the reason in words."""
    return {deed: said for deed in Deed if (said := why_not(role, deed)) is not None}


def writes_nothing(role: Role) -> bool:
    """Whether a role may do none of the deeds."""
    return all(role not in allowed for allowed in ALLOWED.values())

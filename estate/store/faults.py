"""What the database says when it refuses, in words a person can act on."""

import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager

from sqlalchemy.exc import DBAPIError, OperationalError

from estate.domain.phrases import phrase
from estate.errors import PasswordFault, RegisterFault

_IN_USE = "The register is in use"
_AGAIN = "Wait a moment and do it again; nothing was written."
_NOT_WRITTEN = "The register can't be written"
_ASK_OWNER = (
    "Your account on the server has not the right to do that: ask whoever gives out the accounts of this "
    "register, the owner of its database. Nothing was written."
)
_BACKUP = "Keep the file as it is and go on from the latest backup; backups lie beside the register."

_KNOWN: tuple[tuple[tuple[str, ...], str, str], ...] = (
    (
        ("is locked", "lock timeout", "could not obtain lock", "could not serialize", "deadlock detected"),
        _IN_USE,
        _AGAIN,
    ),
    (
        ("disk is full", "no space left"),
        phrase("There is no room on the disk"),
        phrase("Make room and do it again; nothing was written."),
    ),
    (
        ("readonly database", "read-only", "permission denied", "row-level security", "must be owner"),
        _NOT_WRITTEN,
        phrase("Ask for the right to write to the file and to its folder."),
    ),
    (
        ("unable to open database file",),
        phrase("The register can't be opened"),
        phrase("Check that the folder exists and that you may read and write in it."),
    ),
    (
        ("disk i/o error",),
        phrase("The disk can't be read or written"),
        phrase(
            "Check the disk, or the share and its cable, and the room on it, and do it again; nothing was "
            "written. If it stays so, go on from the latest backup on another disk."
        ),
    ),
    (("malformed", "not a database", "encrypted"), phrase("The register is damaged"), _BACKUP),
)
_OVERTAKEN = ("40001", "40P01")  # serialization_failure, deadlock_detected
_PASSWORD = ("no password supplied", "password authentication failed")
_PASSFILE = (
    "Write it into the server's passfile (~/.pgpass, on Windows %APPDATA%\\postgresql\\pgpass.conf), "
    "or give it in the window, which forgets it on closing."
)
_SERVER = (
    "connection",
    "server closed",
    "translate host",
    "resolve host",
    "authentication",
    "does not exist",
)


def fault_of(error: Exception, where: str) -> RegisterFault | None:
    """The known fault behind a database error.

    Args:
        error: what the driver raised.
        where: the register as it is shown to a person, without passwords.

    Returns:
        The fault, or None where the error is a defect of the program.
    """
    cause = error.orig if isinstance(error, DBAPIError) and error.orig is not None else error
    said = str(cause).casefold()
    detail = f"{where}: {str(cause).strip()}."
    for words, title, remedy in _KNOWN:
        if any(each in said for each in words):
            on_server = title == _NOT_WRITTEN and not isinstance(cause, sqlite3.Error)
            return RegisterFault(title, detail, _ASK_OWNER if on_server else remedy)
    unreachable = isinstance(error, OperationalError) and not isinstance(cause, sqlite3.Error)
    if unreachable and any(each in said for each in _PASSWORD):
        return PasswordFault("The server asks for a password", detail, _PASSFILE)
    if unreachable and any(each in said for each in _SERVER):
        return out_of_reach(cause, where)
    return None


def out_of_reach(error: BaseException, where: str) -> RegisterFault:
    """The fault of a server that does not answer."""
    remedy = phrase("Check the address, that the server runs and that you may connect to it.")
    return RegisterFault("The register's server can't be reached", f"{where}: {str(error).strip()}.", remedy)


def is_in_use(fault: RegisterFault) -> bool:
    """Whether a fault only says that somebody else is writing."""
    return fault.title == _IN_USE


def was_overtaken(fault: RegisterFault) -> bool:
    """Whether a server broke a transaction off in favour of another one, and took all of it back."""
    cause = getattr(fault.__cause__, "orig", None)
    return getattr(cause, "sqlstate", None) in _OVERTAKEN


@contextmanager
def told_plainly(where: str) -> Iterator[None]:
    """Turn database errors that a person can do something about into known faults; others pass."""
    try:
        yield
    except (DBAPIError, sqlite3.Error) as error:
        fault = fault_of(error, where)
        if fault is None:
            raise
        raise fault from error
    except UnicodeDecodeError as error:  # the driver's words about a damaged schema hold its broken bytes
        detail = phrase("{where}: a text in it can't be read.", where=where)
        raise RegisterFault("The register is damaged", detail, _BACKUP) from error

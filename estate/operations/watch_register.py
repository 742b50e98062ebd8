"""Watch what others write into a register on a server."""

from collections.abc import Generator

from estate.domain.changes import ChangeSet
from estate.errors import RegisterFault
from estate.operations.register import Register
from estate.store import listening
from estate.store.database import sqlite_path


def watch(register: Register, timeout_s: float) -> Generator[ChangeSet, None, None]:
    """The change set of every commit, one's own too, as it is kept.

    The first is empty and says that the watch has begun: what is read after it misses nothing.

    Args:
        register: a register on a server.
        timeout_s: how long to watch, in seconds; then it ends, and may be begun again.

    Raises:
        RegisterFault: the register is a file, or the connection was lost: read everything afresh then.
    """
    if sqlite_path(register.database.url) is not None:
        remedy = "Look again from time to time, or move it to a server."
        raise RegisterFault("A file tells nobody", f"{register.database.shown}.", remedy)
    yield from listening.listen(register.database, timeout_s)

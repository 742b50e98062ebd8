"""Watch what others write into a register."""

from collections.abc import Generator
from datetime import datetime

from estate.domain.changes import ChangeSet, OthersChange
from estate.domain.phrases import phrase
from estate.errors import RegisterFault
from estate.operations.register import Register
from estate.store import ledger, listening
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
        remedy = phrase("Look again from time to time, or move it to a server.")
        raise RegisterFault("A file tells nobody", f"{register.database.shown}.", remedy)
    yield from listening.listen(register.database, timeout_s)


class Watch:
    """Looks now and then whether others changed a register; where nobody did, that costs next to nothing.

    Args:
        register: the open register, in a file or on a server.
    """

    def __init__(self, register: Register) -> None:
        self._database = register.database
        self._ear: listening.Ear | None = None
        self._seen: int | None = None

    def look(self) -> tuple[OthersChange, ...]:
        """What others did since the last look, oldest first; the first look only begins to listen.

        After a fault the next look connects anew, and tells what was missed meanwhile.

        Raises:
            RegisterFault: the register is out of reach.
        """
        try:
            return self._heard()
        except RegisterFault:
            self.close()
            raise

    def _heard(self) -> tuple[OthersChange, ...]:
        anew = self._ear is None
        if self._ear is None:
            self._ear = listening.ear(self._database)
        if not self._ear.stirred() and not anew:
            return ()
        before = self._seen
        with self._database.reading() as session:
            self._seen = ledger.newest(session)
            if before is None:
                return ()
            done = ledger.done_since(session, before, self._database.own_entries(before))
        return tuple(OthersChange(each.who, each.what, each.at, _clock(each)) for each in done)

    def close(self) -> None:
        """Listen no longer."""
        if self._ear is not None:
            self._ear.close()
            self._ear = None


def _clock(done: ledger.Doings) -> str:
    return f"{datetime.fromisoformat(done.local_at) if done.local_at else done.at:%H:%M}"

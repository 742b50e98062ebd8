"""Verify a register: walk its ledger, replay it, and say the first place that does not fit."""

from collections.abc import Callable, Iterable, Iterator, Sequence
from itertools import islice

from estate.domain.progress import Progress, silent
from estate.domain.trust import KnownHead, Misfit, Verification
from estate.operations.register import Register
from estate.store import ledger, misfits
from estate.store.chain import head
from estate.store.checking import (
    checkpoints,
    file_misfits,
    guard_misfits,
    revision_misfits,
    schema_misfits,
    until_unreadable,
)
from estate.store.database import Session
from estate.store.signature_misfits import signature_misfits
from estate.store.upgrade import fresh_schema, newest_revision
from estate.store.verifying import Walk

Signatures = Callable[[Session], Iterable[Misfit]]
SHOWN = 50
RECENT = 200
_STEP = 2000


def verify(
    register: Register,
    progress: Progress = silent,
    known_head: KnownHead | None = None,
    *,
    known_heads: Sequence[KnownHead] = (),
    signatures: Signatures = signature_misfits,
) -> Verification:
    """Walk the whole ledger and compare every row with what it tells.

    Args:
        register: the open register; nothing is written to it.
        progress: told how far the work is, in entries.
        known_head: the newest entry that this machine saw.
        known_heads: printed or mailed checkpoints, see `estate.operations.checkpoints.read_checkpoint`.
        signatures: what checks the signatures and says which do not fit.

    Raises:
        RegisterFault: the register is in use or out of reach.
        Cancelled: the person stopped it.
    """
    known = [*known_heads, *([known_head] if known_head is not None else [])]
    with register.database.reading() as session:
        walk, found = Walk(session, known), _Found()
        found.take(until_unreadable(_everything(session, walk, progress, signatures)))
        return found.verification(walk, True)


def _everything(session: Session, walk: Walk, progress: Progress, signatures: Signatures) -> Iterator[Misfit]:
    yield from file_misfits(session)
    walk.know(checkpoints(session))
    replay = walk.replay()
    yield from walk.misfits(told=_teller(progress, ledger.newest(session)))
    if walk.chained:
        yield from replay.finish()
    else:
        yield misfits.unchained()
    yield from signatures(session)
    yield from revision_misfits(session, newest_revision())
    if session.connection().dialect.name == "sqlite":
        yield from schema_misfits(session, fresh_schema())
    else:
        yield from guard_misfits(session)


def verify_quick(
    register: Register, known_head: KnownHead | None = None, *, recent: int = RECENT
) -> Verification:
    """A look that costs little, for opening: the newest entries, the guards and what was seen before.

    Args:
        recent: how many of the newest entries are walked.

    Raises:
        RegisterFault: the register is in use or out of reach.
    """
    with register.database.reading() as session:
        walk, found = Walk(session, [known_head] if known_head is not None else []), _Found()
        found.take(until_unreadable(_newest(session, walk, known_head, recent)))
        return found.verification(walk, False)


def _newest(session: Session, walk: Walk, known_head: KnownHead | None, recent: int) -> Iterator[Misfit]:
    yield from guard_misfits(session)
    above = head(session).entry_id - recent
    if known_head is not None:
        above = min(above, known_head.entry_id - 1)
    yield from walk.misfits(above if above > 0 else None)
    if not walk.chained:
        yield misfits.unchained()


class _Found:
    """The first misfits, and how many more there are."""

    def __init__(self) -> None:
        self._misfits: list[Misfit] = []
        self._more = 0

    def take(self, misfits: Iterable[Misfit]) -> None:
        each = iter(misfits)
        self._misfits.extend(islice(each, max(SHOWN - len(self._misfits), 0)))
        self._more += sum(1 for _ in each)

    def verification(self, walk: Walk, whole: bool) -> Verification:
        counts = (walk.entries, walk.chained, walk.rows)
        return Verification(*counts, tuple(self._misfits), self._more, walk.last, whole)


def _teller(progress: Progress, of: int) -> Callable[[int], None]:
    def told(number: int) -> None:
        if number % _STEP == 0:
            progress(number, of, f"Entry {number} of {of}")

    progress(0, of, f"{of} entries")
    return told

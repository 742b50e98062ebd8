"""Walking the ledger: the chain link by link, known digests, and every row against what is told of it."""

import json
from collections.abc import Callable, Iterable, Iterator, Sequence
from hashlib import sha256
from typing import Any, Final

from sqlalchemy import Table
from sqlalchemy.orm import Session

from estate.domain.trust import KnownHead, Misfit
from estate.store import misfits
from estate.store.beginning import BEGINS, OLD_COLUMNS, STOOD
from estate.store.canonical import converters, settled, text_of
from estate.store.chain import COLUMNS, digest_of
from estate.store.covering import lines, read_cover
from estate.store.raw_rows import raw_rows
from estate.store.replay import Replay
from estate.store.schema import LedgerEntryRow

REWRITTEN: Final = "The ledger was written anew after that; go on from a backup that still fits."
CHANGED: Final = "The entry was changed after it was written, or another was put in its place."
_ACTIONS: Final = frozenset({"added", "added many", "amended", "removed", STOOD, BEGINS})
_LEDGER: Final[Table] = LedgerEntryRow.metadata.tables["ledger_entry"]


class Walk:
    """One walk along the ledger.

    Attributes:
        entries, chained: entries met so far, and those under the chain.
        last: the newest entry met.
    """

    def __init__(self, session: Session, known: Iterable[KnownHead]) -> None:
        self._session = session
        self._replay: Replay | None = None
        self._known: dict[int, list[KnownHead]] = {}
        self.know(known)
        self.entries = 0
        self.chained = 0
        self.last = KnownHead(0, "", "")

    @property
    def rows(self) -> int:
        """Rows compared."""
        return 0 if self._replay is None else self._replay.rows

    def know(self, known: Iterable[KnownHead]) -> None:
        """Compare with these digests too."""
        for each in known:
            self._known.setdefault(each.entry_id, []).append(each)

    def replay(self) -> Replay:
        """Replay the entries from now on; gives back what holds every table as they tell it."""
        self._replay = Replay(self._session)
        return self._replay

    def misfits(
        self, above: int | None = None, told: Callable[[int], None] | None = None
    ) -> Iterator[Misfit]:
        """Everything that does not fit, in the order of the ledger.

        Args:
            above: begin after this entry.
            told: called with each entry's number.
        """
        convert = converters(_LEDGER, COLUMNS)
        if above:
            (before,) = raw_rows(self._session, _LEDGER, ("id", "digest"), above - 1, above)
            self.last, self.chained = KnownHead(before[0], before[1], ""), int(bool(before[1]))
        for values in settled(raw_rows(self._session, _LEDGER, COLUMNS, above), convert):
            self.entries += 1
            entry = dict(zip(COLUMNS, values, strict=True))
            yield from self._entry(entry)
            if told is not None:
                told(entry["id"])
        yield from self._not_reached()

    def _entry(self, entry: dict[str, Any]) -> Iterator[Misfit]:
        number = entry["id"]
        if entry["digest"] or entry["program"] or self.chained:
            yield from self._link(entry)
            self.chained += 1
        self.last = KnownHead(number, str(entry["digest"]), "")
        yield from self._seen(number)
        if self._replay is None or not self.chained:
            return
        if entry["action"] == BEGINS:
            yield from self._older(number, entry["after"])
            return
        keys = ("noun", "row_id", "action", "before", "after")
        try:
            yield from self._replay.apply(number, *(entry[key] for key in keys))
        except (ValueError, KeyError, TypeError):
            yield misfits.entry_misfit(number, "what it tells can't be followed", CHANGED)

    def _link(self, entry: dict[str, Any]) -> Iterator[Misfit]:
        number, last = entry["id"], self.last
        if number != last.entry_id + 1:
            gone = f"entries {last.entry_id + 1} to {number - 1} before it are not there"
            yield misfits.entry_misfit(number, gone, "They were taken out past the program.")
        elif entry["previous"] != last.digest:
            what = f"it does not follow entry {last.entry_id}"
            yield misfits.entry_misfit(number, what, "That one or this one was changed or swapped.")
        if not _well_formed(entry) or _digest(entry) != entry["digest"]:
            done = f"{entry['what']}, {entry['who']}, {entry['at']}"
            yield misfits.entry_misfit(number, f"its digest does not fit what it tells ({done})", CHANGED)

    def _seen(self, number: int) -> Iterator[Misfit]:
        for each in self._known.pop(number, ()):
            if each.digest != self.last.digest:
                what = f"its digest is not the one that {each.where} has"
                yield misfits.entry_misfit(number, what, REWRITTEN)

    def _not_reached(self) -> Iterator[Misfit]:
        for number in sorted(self._known):
            if number > self.last.entry_id:
                where = self._known[number][0].where
                what = f"the ledger ends with entry {self.last.entry_id}, and {where} has entry {number}"
                means = "This is an older copy of the register, or its newest entries were taken out."
                yield misfits.entry_misfit(number, what, means)

    def _older(self, number: int, after: str) -> Iterator[Misfit]:
        """The entries older than the chain, against what was told of them when it began."""
        try:
            cover = read_cover(after)
        except ValueError:
            yield misfits.entry_misfit(number, "what it tells can't be followed", CHANGED)
            return
        ids: list[int] = []

        def taken() -> Iterator[Sequence[Any]]:
            for row in raw_rows(self._session, _LEDGER, OLD_COLUMNS, up_to=number - 1):
                ids.append(row[0])
                yield row

        whole = sha256()
        for line in lines(_LEDGER, OLD_COLUMNS, taken()):
            whole.update(line)
        if whole.hexdigest() != cover.digest:
            what = f"the {len(ids)} entries before it are others than the {cover.rows} when the trail began"
            yield misfits.entry_misfit(number, what, CHANGED)


def _well_formed(entry: dict[str, Any]) -> bool:
    if entry["action"] not in _ACTIONS or entry["noun"] not in LedgerEntryRow.metadata.tables:
        return False
    numbers = (entry["row_id"], entry["batch_id"])
    if not all(each is None or type(each) is int for each in numbers):
        return False
    try:
        return all(
            not each or text_of(json.loads(each)) == each for each in (entry["before"], entry["after"])
        )
    except (ValueError, TypeError):
        return False


def _digest(entry: dict[str, Any]) -> str:
    change = [entry[key] for key in ("noun", "row_id", "action", "before", "after")]
    told = [text_of(entry[key]) for key in ("who", "what", "why", "local_at", "program")]
    return digest_of(entry["id"], entry["at"], change, told, entry["batch_id"], entry["previous"])

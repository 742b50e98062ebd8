"""What a finished operation changed; announced once, each view decides for itself."""

from dataclasses import dataclass
from datetime import datetime


@dataclass(frozen=True, slots=True)
class ChangeSet:
    """Ids of what changed; `everything` when a view had better read afresh (a whole import)."""

    outlets: frozenset[int] = frozenset()
    valves: frozenset[int] = frozenset()
    visits: frozenset[int] = frozenset()
    batches: frozenset[int] = frozenset()
    rules: bool = False
    everything: bool = False


@dataclass(frozen=True, slots=True)
class OthersChange:
    """Something that somebody else did to the register meanwhile.

    Attributes:
        what: in the ledger's words, such as ``recorded a visit``.
        at: when, UTC.
        clock: hour and minute by the clock on their wall, such as ``14:02``.
    """

    who: str
    what: str
    at: datetime
    clock: str

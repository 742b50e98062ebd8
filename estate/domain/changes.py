"""What a finished operation changed; announced once, each view decides for itself."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class ChangeSet:
    """Ids of what changed; `everything` when a view had better read afresh (a whole import)."""

    outlets: frozenset[int] = frozenset()
    valves: frozenset[int] = frozenset()
    visits: frozenset[int] = frozenset()
    batches: frozenset[int] = frozenset()
    rules: bool = False
    everything: bool = False

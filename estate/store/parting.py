"""Many row numbers as a few at once: a query takes only so many."""

from collections.abc import Collection, Iterator
from typing import Final

AT_ONCE: Final = 500


def parts(ids: Collection[int]) -> Iterator[list[int]]:
    """Numbers in order, each once, as many at once as every database takes."""
    wanted = sorted(set(ids))
    for start in range(0, len(wanted), AT_ONCE):
        yield wanted[start : start + AT_ONCE]

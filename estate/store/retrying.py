"""A change that lost to another's by deadlock or serialisation is made again, whole."""

import time
from collections.abc import Callable
from functools import wraps
from typing import Final, ParamSpec, TypeVar

from estate.errors import RegisterFault
from estate.store.faults import was_overtaken

P = ParamSpec("P")
T = TypeVar("T")

TRIES: Final = 5
_FIRST_PAUSE_S: Final = 0.02


def retried(change: Callable[P, T]) -> Callable[P, T]:
    """Make an operation's change again where the server broke it off in favour of another writer.

    The server has then taken back everything of the transaction, so that the change is begun from its first
    line on what is there now. It must therefore do all its writing in one transaction, and nothing outside of
    it. A lost connection is never a reason: whether a commit was kept may not be known then.

    Args:
        change: an operation that writes in one transaction.

    Returns:
        The same operation; after `TRIES` tries the last fault is told.
    """

    @wraps(change)
    def again(*args: P.args, **kwargs: P.kwargs) -> T:
        for number in range(TRIES - 1):
            try:
                return change(*args, **kwargs)
            except RegisterFault as fault:
                if not was_overtaken(fault):
                    raise
                time.sleep(_FIRST_PAUSE_S * 2**number)
        return change(*args, **kwargs)

    return again

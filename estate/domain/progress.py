"""How long work tells how far it is and how it is asked to stop."""

from collections.abc import Callable

Progress = Callable[[int, int, str], None]
"""Called with (done, of, words); may raise `Cancelled` to stop the work."""


class Cancelled(Exception):
    """The person asked to stop; nothing of the work is kept."""


def silent(done: int, of: int, words: str) -> None:
    """Progress that tells nobody."""

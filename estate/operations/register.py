"""The handle that every operation takes: an open register and the published rule sets."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime

from estate.domain.rules.values import RuleSet
from estate.store.chain import Stamp
from estate.store.database import Database

__all__ = ["Register", "Stamp"]


@dataclass(frozen=True)
class Register:
    """An open register.

    Attributes:
        database: where it is kept.
        published: rule sets as published (no override laid over), by id.
        known_at: the past moment (UTC) whose knowledge it holds; None of a register as it is now.
    """

    database: Database
    published: Mapping[str, RuleSet]
    known_at: datetime | None = None

    def close(self) -> None:
        """Give back file handles and connections."""
        self.database.close()

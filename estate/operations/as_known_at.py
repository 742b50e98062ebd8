"""The register as it was known at a past moment, for every page and report."""

from dataclasses import replace
from datetime import datetime

from estate.operations.register import Register
from estate.store.unwinding import as_it_stood


def as_known_at(register: Register, moment: datetime) -> Register:
    """A register that holds exactly what was known at a moment, and can only be read.

    It is rebuilt in memory from the ledger; close it when it is done with.

    Args:
        register: the open register; nothing is written to it.
        moment: with its time zone; an entry made at it is known.

    Raises:
        RegisterFault: the register or its trail began later.
    """
    return replace(register, database=as_it_stood(register.database, moment))

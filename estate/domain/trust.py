"""What verifying a register says: where the register doesn't fit its ledger, and what that means."""

from dataclasses import dataclass
from datetime import datetime


@dataclass(frozen=True, slots=True)
class Misfit:
    """One place where a register is not as its ledger tells.

    Attributes:
        noun: the table; empty where it is the whole register.
        row_id: the row, where one is known.
        entry_id: the ledger's entry, where one is known.
        place: the row in words: its number, and the outlet's reference and day where they are known.
        what: what is there and what should be.
        means: what that means.
    """

    noun: str
    row_id: int | None
    entry_id: int | None
    place: str
    what: str
    means: str

    def __str__(self) -> str:
        return f"{self.place}: {self.what}. {self.means}"


@dataclass(frozen=True, slots=True)
class Checkpoint:
    """How a ledger ended at a moment, to be kept away from the register.

    Attributes:
        name, identifier: of the register.
        entry_id: the last entry.
        digest: its digest, hex.
        entries: how many entries there were.
    """

    name: str
    identifier: str
    at: datetime
    who: str
    entry_id: int
    digest: str
    entries: int


@dataclass(frozen=True, slots=True)
class KnownHead:
    """An entry and the digest that it had when it was seen, and where that was kept."""

    entry_id: int
    digest: str
    where: str


@dataclass(frozen=True, slots=True)
class Verification:
    """What verifying came to.

    Attributes:
        entries: entries walked.
        chained: those under the chain; the others are older than it.
        rows: rows compared.
        misfits: the first ones, in the order of the ledger.
        more: how many more there are.
        head: the newest entry.
        whole: False where only the quick look was taken.
    """

    entries: int
    chained: int
    rows: int
    misfits: tuple[Misfit, ...]
    more: int
    head: KnownHead
    whole: bool

    @property
    def fits(self) -> bool:
        """Whether everything looked at is as the ledger tells."""
        return not self.misfits

    @property
    def words(self) -> str:
        """The outcome in a sentence or two; the first place that doesn't fit is named."""
        if self.misfits:
            rest = len(self.misfits) - 1 + self.more
            also = f" {rest} more places do not fit." if rest > 1 else ""
            return f"{self.misfits[0]}{also if rest != 1 else ' One more place does not fit.'}"
        looked = "Everything" if self.whole else "What was looked at"
        return f"{looked} is as the ledger tells: {self.entries} entries, {self.rows} rows."

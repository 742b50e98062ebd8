"""The next test window of a valve and the one reason that binds."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date


@dataclass(frozen=True, slots=True)
class Reason:
    """Why a date is what it is: stable code, plain words with numbers, and the source."""

    code: str
    words: str
    source: str


@dataclass(frozen=True, slots=True)
class Candidate:
    """One window that a rule asks for; the earliest `not_after` binds."""

    not_before: date
    not_after: date
    reason: Reason


@dataclass(frozen=True, slots=True)
class Window:
    """The next test window.

    Attributes:
        candidates: all of them, the binding one first; never changed, equal to the tuple of the same.
    """

    candidates: Sequence[Candidate]

    @property
    def binding(self) -> Candidate:
        """The candidate that binds."""
        return self.candidates[0]

    @property
    def not_before(self) -> date:
        """First day on which the test counts as this one."""
        return self.binding.not_before

    @property
    def not_after(self) -> date:
        """Last day; later is overdue."""
        return self.binding.not_after

    @property
    def reason(self) -> Reason:
        """Why it binds."""
        return self.binding.reason

    def days_late(self, today: date) -> int:
        """Days past the window; 0 while it is not past."""
        return max(0, (today - self.not_after).days)

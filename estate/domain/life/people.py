"""People who test and repair, and what they are competent in."""

from dataclasses import dataclass, field
from datetime import date


@dataclass(frozen=True, slots=True)
class Competence:
    """What a person is competent in.

    Attributes:
        certificate: its number or where it is kept.
        until_on: the last day; None where it does not expire.
    """

    subject: str
    from_on: date
    until_on: date | None = None
    certificate: str = ""
    id: int = 0

    def holds_on(self, day: date) -> bool:
        """Whether it holds on a day; first and last day included."""
        return self.from_on <= day and (self.until_on is None or day <= self.until_on)


@dataclass(frozen=True, slots=True)
class Person:
    """A person.

    Attributes:
        position: what the person is, in words.
        left_on: the last day here; None of one who is here.
        competences: withdrawn ones left out, oldest first.
    """

    id: int
    name: str
    position: str = ""
    left_on: date | None = None
    competences: tuple[Competence, ...] = field(default=())

    def competence_on(self, day: date) -> Competence | None:
        """The competence that holds on a day and lasts longest; None where none does."""
        holding = [each for each in self.competences if each.holds_on(day)]
        return max(holding, key=lambda each: each.until_on or date.max, default=None)

    @property
    def lasts_until(self) -> date | None:
        """The last day of the longest competence; None where there is none or it does not expire."""
        if not self.competences or any(each.until_on is None for each in self.competences):
            return None
        return max(each.until_on for each in self.competences if each.until_on is not None)

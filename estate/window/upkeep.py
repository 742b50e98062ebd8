"""What the window asks about people and upkeep: the port that the operations stand behind."""

from collections.abc import Sequence
from datetime import date
from typing import Protocol

from estate.domain.changes import ChangeSet
from estate.domain.life.care import CareDraft, CareLine, ReviewDraft
from estate.domain.life.people import Competence, Person


class Upkeep(Protocol):
    """Everything about people and upkeep that the window can ask of one open register."""

    def people(self) -> tuple[Sequence[Person], Sequence[str]]:
        """People of the register, and names on visits that are not in it."""

    def add_person(self, name: str, position: str, competence: Competence | None, who: str) -> ChangeSet:
        """Add a person."""

    def amend_person(self, name: str, position: str, left_on: date | None, who: str) -> ChangeSet:
        """Change a person's position, or the day of leaving."""

    def add_competence(self, name: str, competence: Competence, who: str) -> ChangeSet:
        """Add a competence of a person."""

    def lines(self) -> Sequence[CareLine]:
        """What upkeep is asked for."""

    def record(self, draft: CareDraft, who: str) -> ChangeSet:
        """Record that upkeep was done."""

    def review(self, draft: ReviewDraft, who: str) -> ChangeSet:
        """Record whether a valve is still needed."""

    def take_back(self, line: CareLine, why: str, who: str) -> ChangeSet:
        """Take back the entry that a line shows as the last one."""

"""People and upkeep over the real operations."""

from collections.abc import Callable, Sequence
from datetime import date, datetime

from estate.domain.changes import ChangeSet
from estate.domain.life.care import CareAsked, CareDraft, CareLine, ReviewDraft
from estate.domain.life.people import Competence, Person
from estate.operations import browse_upkeep, keep_people, keep_upkeep
from estate.operations.register import Register


class RegisterUpkeep:
    """Runs the operations about people and upkeep on one open register.

    Args:
        register: the open register.
        today: tells the day.
        now: tells the moment, UTC.
    """

    def __init__(self, register: Register, today: Callable[[], date], now: Callable[[], datetime]) -> None:
        self._register, self._today, self._now = register, today, now

    def people(self) -> tuple[Sequence[Person], Sequence[str]]:
        """People of the register, and names on visits that are not in it."""
        found = keep_people.people_known(self._register)
        return found.known, found.unknown

    def add_person(self, name: str, position: str, competence: Competence | None, who: str) -> ChangeSet:
        """Add a person."""
        return keep_people.add_person(
            self._register, name, position=position, competence=competence, who=who, at=self._now()
        )

    def amend_person(self, name: str, position: str, left_on: date | None, who: str) -> ChangeSet:
        """Change a person's position, or the day of leaving."""
        return keep_people.amend_person(
            self._register, name, position=position, left_on=left_on, who=who, at=self._now()
        )

    def add_competence(self, name: str, competence: Competence, who: str) -> ChangeSet:
        """Add a competence of a person."""
        return keep_people.add_competence(self._register, name, competence, who=who, at=self._now())

    def lines(self) -> Sequence[CareLine]:
        """What upkeep is asked for."""
        return browse_upkeep.upkeep_lines(self._register, self._today())

    def record(self, draft: CareDraft, who: str) -> ChangeSet:
        """Record that upkeep was done."""
        return keep_upkeep.record_care(self._register, [draft], who=who, at=self._now(), today=self._today())

    def review(self, draft: ReviewDraft, who: str) -> ChangeSet:
        """Record whether a valve is still needed."""
        return keep_upkeep.review_outlet(self._register, draft, who=who, at=self._now(), today=self._today())

    def take_back(self, line: CareLine, why: str, who: str) -> ChangeSet:
        """Take back the entry that a line shows as the last one."""
        take = keep_upkeep.take_back_review if line.asked is CareAsked.REVIEW else keep_upkeep.take_back_care
        entry = browse_upkeep.entry_behind(self._register, line)
        return take(self._register, entry, why=why, who=who, at=self._now())

"""Put questions about rows of results, unless a person has answered them."""

from collections.abc import Collection
from enum import Enum

from estate.domain.intake import VisitRow
from estate.domain.questions import Answer, Answers, Choice, Question


class Aside(Enum):
    """Why a row is neither added nor asked about."""

    THERE = "the register holds it"
    LEFT_OUT = "a person left it out"
    CHANGED = "fields of it are taken from the sheet"


class Asker:
    """Puts questions about the rows of one sheet.

    Args:
        answers: what a person answered.
    """

    def __init__(self, answers: Answers) -> None:
        self._answers = answers

    def put(
        self,
        row: VisitRow,
        code: str,
        ref: str | None,
        cell: str,
        found: str,
        remedy: str,
        suggested: tuple[str, ...] = (),
    ) -> Question | Aside:
        """A question about a row; the row is left out if a person answered that."""
        asked = Question(row.source.sheet, row.source.row, cell, code, ref, found.strip(), remedy, suggested)
        given = self.answer(asked)
        return Aside.LEFT_OUT if given is not None and given.choice is Choice.LEAVE_OUT else asked

    def unless(self, choices: Collection[Choice], asked: Question | Aside) -> Question | Aside | Answer:
        """The question, or its answer where that is one of some choices."""
        given = self.answer(asked) if isinstance(asked, Question) else None
        return given if given is not None and given.choice in choices else asked

    def answer(self, asked: Question) -> Answer | None:
        """What a person answered to a question; None where nothing, or nothing that answers it."""
        given = self._answers.to(asked.code, asked.sheet, asked.row, asked.cell)
        return given if given is not None and given.choice in asked.choices else None

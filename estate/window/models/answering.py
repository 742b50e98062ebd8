"""The answers that a person has given to the questions of one sheet, before it is read again."""

from collections.abc import Sequence

from estate.domain.questions import Answer, Answers, Choice, Question


class Answering:
    """Questions and the answers given so far."""

    def __init__(self) -> None:
        self._questions: tuple[Question, ...] = ()
        self._given: list[Answer] = []
        self._answers = Answers()
        self._read_with = 0

    @property
    def given(self) -> tuple[Answer, ...]:
        """Every answer, in the order in which they were given."""
        return tuple(self._given)

    @property
    def waiting(self) -> int:
        """Answers with which the sheet has not been read yet."""
        return len(self._given) - self._read_with

    def forget(self) -> None:
        """Begin with another file."""
        self._read_with, self._questions = 0, ()
        self._keep([])

    def ask(self, questions: Sequence[Question]) -> None:
        """The questions left after the sheet was read with the answers given so far."""
        self._questions, self._read_with = tuple(questions), len(self._given)

    def alike(self, question: Question) -> int:
        """How many questions are of the same kind, itself counted."""
        return sum(each.code == question.code for each in self._questions)

    def give(self, question: Question, choice: Choice, value: str = "", *, to_all: bool = False) -> Answer:
        """Answer one question, or all of its kind alike."""
        place = ("", 0, "") if to_all else (question.sheet, question.row, question.cell)
        answer = Answer(question.code, choice, *place, value=value)
        self._keep([*self._given, answer])
        return answer

    def take_back(self, question: Question) -> bool:
        """Take back the answer that meets a question; whether there was one since the last reading."""
        found = self.answer_to(question)
        if found is None or found not in self._given[self._read_with :]:
            return False
        self._keep([each for each in self._given if each is not found])
        return True

    def answer_to(self, question: Question) -> Answer | None:
        """The answer that meets a question, or None."""
        return self._answers.to(question.code, question.sheet, question.row, question.cell)

    def _keep(self, given: list[Answer]) -> None:
        self._given, self._answers = given, Answers(given)

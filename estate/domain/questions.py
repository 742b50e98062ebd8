"""Questions about the rows of a sheet, what can be answered, and the answers."""

from collections.abc import Iterable
from dataclasses import dataclass
from enum import StrEnum


class Choice(StrEnum):
    """What a person can answer."""

    LEAVE_OUT = "leave-out"
    TAKE = "take"
    VALUE = "value"
    NOT_MEASURED = "not-measured"
    DAY_FIRST = "day-first"
    MONTH_FIRST = "month-first"
    OUTLET = "outlet"
    INSTRUMENT = "instrument"
    CORRECT = "correct"
    FURTHER = "further"
    SHEET = "sheet"
    REGISTER = "register"
    RETIRE = "retire"


CHOICE_WORDS = {
    Choice.LEAVE_OUT: "Leave the row out",
    Choice.TAKE: "Take it as it stands",
    Choice.VALUE: "Take another value",
    Choice.NOT_MEASURED: "Take the cell as not measured",
    Choice.DAY_FIRST: "The day stands first",
    Choice.MONTH_FIRST: "The month stands first",
    Choice.OUTLET: "It is this outlet",
    Choice.INSTRUMENT: "It is this instrument",
    Choice.CORRECT: "It corrects the visit in the register",
    Choice.FURTHER: "It is a further visit on that day",
    Choice.SHEET: "Take the sheet's",
    Choice.REGISTER: "Keep the register's",
    Choice.RETIRE: "Retire the outlet",
}
NEEDING_A_VALUE = frozenset({Choice.VALUE, Choice.OUTLET, Choice.INSTRUMENT})

_CELL = (Choice.VALUE, Choice.NOT_MEASURED, Choice.LEAVE_OUT)
_DAY = (Choice.VALUE, Choice.LEAVE_OUT)
_PICK = (Choice.OUTLET, Choice.LEAVE_OUT)
CHOICES = {
    "unreadable-value": _CELL,
    "implausible-value": _CELL,
    "formula-without-value": _CELL,
    "contradiction": (Choice.VALUE, Choice.LEAVE_OUT),
    "unsure-unit": _CELL,
    "unreadable-date": _DAY,
    "missing-date": _DAY,
    "ambiguous-date": (Choice.DAY_FIRST, Choice.MONTH_FIRST, Choice.VALUE, Choice.LEAVE_OUT),
    "future-date": _DAY,
    "missing-reference": _PICK,
    "unknown-outlet": _PICK,
    "several-outlets": _PICK,
    "retired-outlet": (Choice.OUTLET, Choice.VALUE, Choice.LEAVE_OUT),
    "other-register": _PICK,
    "no-valve-then": _DAY,
    "before-fitting": _DAY,
    "before-later-visit": (Choice.TAKE, Choice.VALUE, Choice.LEAVE_OUT),
    "duplicate-row": (Choice.TAKE, Choice.LEAVE_OUT),
    "conflicts-with-register": (Choice.CORRECT, Choice.FURTHER, Choice.LEAVE_OUT),
    "unlikely-reading": (Choice.TAKE, Choice.VALUE, Choice.NOT_MEASURED, Choice.LEAVE_OUT),
    "unknown-instrument": (Choice.TAKE, Choice.INSTRUMENT, Choice.LEAVE_OUT),
    "out-of-calibration": (Choice.TAKE, Choice.INSTRUMENT, Choice.LEAVE_OUT),
    "hidden-row": (Choice.TAKE, Choice.LEAVE_OUT),
    "no-access": (),
    "nothing-measured": (Choice.LEAVE_OUT,),
    "unknown-use": _DAY,
    "unknown-user-group": _DAY,
    "missing-place": _DAY,
    "serial-elsewhere": (Choice.TAKE, Choice.LEAVE_OUT),
    "differs-from-register": (Choice.SHEET, Choice.REGISTER),
    "not-in-sheet": (Choice.REGISTER, Choice.RETIRE),
}
"""What can be answered to each question; any other code can only be left out."""


@dataclass(frozen=True, slots=True)
class Question:
    """A row that was not taken, and what to do about it.

    Attributes:
        code: stable, such as ``future-date``, ``unknown-outlet``, ``duplicate-row``, ``no-access``.
        sheet, row, cell: where; row is 1-based as the spreadsheet program shows it, cell such as ``C9``.
        ref: the outlet's reference in the register if it was found, else None.
        found: the cell's content in words.
        remedy: what to do.
        suggested: values to choose from, likeliest first (references of outlets or instruments).
    """

    sheet: str
    row: int
    cell: str
    code: str
    ref: str | None
    found: str
    remedy: str
    suggested: tuple[str, ...] = ()

    @property
    def choices(self) -> tuple[Choice, ...]:
        """What can be answered."""
        return CHOICES.get(self.code, (Choice.LEAVE_OUT,))


@dataclass(frozen=True, slots=True)
class Answer:
    """What a person answers: to one question, or to all alike.

    Attributes:
        code: of the question.
        sheet, row, cell: where the question is; an empty sheet, row 0 or an empty cell stands for any.
        value: of `Choice.VALUE`, `Choice.OUTLET` and `Choice.INSTRUMENT`.
    """

    code: str
    choice: Choice
    sheet: str = ""
    row: int = 0
    cell: str = ""
    value: str = ""

    def meets(self, code: str, sheet: str, row: int, cell: str) -> bool:
        """Whether it answers a question of some code at some place."""
        return (
            self.code == code
            and self.sheet in ("", sheet)
            and self.row in (0, row)
            and self.cell in ("", cell)
        )


class Answers:
    """Answers to the questions of one file; one that names its place more closely goes before.

    Args:
        given: in the order in which they were given; of two alike the later one counts.
    """

    def __init__(self, given: Iterable[Answer] = ()) -> None:
        self.given = tuple(given)
        self._by_code: dict[str, list[Answer]] = {}
        for answer in self.given:
            self._by_code.setdefault(answer.code, []).append(answer)
        for answers in self._by_code.values():
            answers.reverse()
            answers.sort(key=_closeness, reverse=True)

    def to(self, code: str, sheet: str, row: int, cell: str) -> Answer | None:
        """The answer to a question; None where it is not answered."""
        found = self._by_code.get(code, ())
        return next((each for each in found if each.meets(code, sheet, row, cell)), None)


def _closeness(answer: Answer) -> int:
    return sum((bool(answer.sheet), bool(answer.row), bool(answer.cell)))

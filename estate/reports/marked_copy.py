"""Somebody's own workbook with the questions about it, as values: what is copied, what is marked and why."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import date, datetime, time, timedelta
from typing import TypeAlias

from estate.domain.questions import Question
from estate.domain.written_back import QUESTIONS_MARK
from estate.reports.document import Column, Document, Fact, Group, Kind, Row, Table
from estate.reports.question_words import question_words
from estate.reports.wording import CAUTIONS, counted

CopiedCell: TypeAlias = str | float | bool | date | datetime | time | timedelta | None

HOW_TO = (
    "Each question is marked in its sheet by a filled cell with a thick outline and a comment. Correct the"
    " marked cells there, leave the rest as it is, save the file and send it back. This sheet is not read."
)
VALUES_ONLY = (
    "The copy holds values only: no formulas, links, macros or pictures. Keep your own file as well."
)


@dataclass(frozen=True, slots=True)
class CopiedSheet:
    """One sheet as it was read.

    Attributes:
        merged: (top, left, bottom, right), 0-based and inclusive.
        hidden: whether a person does not see it.
        hidden_rows, hidden_columns: those that a person does not see, 0-based.
    """

    name: str
    rows: Sequence[Sequence[CopiedCell]]
    merged: Sequence[tuple[int, int, int, int]] = ()
    hidden: bool = False
    hidden_rows: frozenset[int] = frozenset()
    hidden_columns: frozenset[int] = frozenset()


@dataclass(frozen=True, slots=True)
class Mark:
    """A cell to be marked, and the words of its comment."""

    sheet: str
    row: int
    cell: str
    words: str


@dataclass(frozen=True, slots=True)
class MarkedCopy:
    """A workbook to send back.

    Attributes:
        front: what is to be read first.
        questions: the list of questions.
        parts: of the file it was, from which formatting is taken, by name; empty where there is none to take.
    """

    file: str
    front: Document
    questions: Table
    sheets: tuple[CopiedSheet, ...]
    marks: tuple[Mark, ...]
    parts: Mapping[str, bytes]


COLUMNS = (
    Column("Question", 10, Kind.WHOLE),
    Column("Sheet", 14),
    Column("Row", 6, Kind.WHOLE),
    Column("Cell", 7),
    Column("Outlet", 14),
    Column("About", 18),
    Column("Found", 20),
    Column("Expected", 28),
    Column("What to do", 36),
)


def marked_copy(
    file: str,
    register: str,
    today: date,
    questions: Sequence[Question],
    sheets: Sequence[CopiedSheet],
    parts: Mapping[str, bytes],
) -> MarkedCopy:
    """Say what stands in a marked copy.

    Args:
        file: name of the file as it was brought in.
        register: name of the register that asks.
        today: the day on which the questions were put.
        questions: in the order of the file.
        sheets: of the file, without lists of questions of an earlier time.
        parts: of the file, to take formatting from.
    """
    numbered = list(enumerate(questions, start=1))
    rows = tuple(_row(number, question) for number, question in numbered)
    table = Table("Questions", COLUMNS, (Group((), rows),))
    asked = counted(len(rows), "question")
    document = Document(
        title=QUESTIONS_MARK,
        register=register,
        as_at=today,
        basis=f"{asked} about {file}",
        facts=(Fact("What to do", HOW_TO), Fact("What the copy holds", VALUES_ONLY)),
        cautions=CAUTIONS,
        sections=(),
    )
    return MarkedCopy(file, document, table, tuple(sheets), tuple(_marks(numbered)), parts)


def _row(number: int, question: Question) -> Row:
    words = question_words(question.code)
    place = (question.sheet, question.row, question.cell, question.ref)
    return Row((number, *place, words.title, question.found, words.expected, _to_do(question)))


def _to_do(question: Question) -> str:
    perhaps = f" Perhaps: {', '.join(question.suggested)}." if question.suggested else ""
    return f"{question.remedy}{perhaps}"


def _marks(numbered: Sequence[tuple[int, Question]]) -> Iterator[Mark]:
    """One mark a cell, with every question about it."""
    found: dict[tuple[str, int, str], list[str]] = {}
    for number, question in numbered:
        words = question_words(question.code)
        said = f"Question {number}: {words.title}."
        said += f"\nFound: {question.found}" if question.found else ""
        said += f"\nExpected: {words.expected}\nTo do: {_to_do(question)}"
        found.setdefault((question.sheet, question.row, question.cell), []).append(said)
    for (sheet, row, cell), texts in found.items():
        yield Mark(sheet, row, cell, "\n\n".join(texts))

"""Reads the cells of one row and keeps a question for each that can't be taken."""

from collections.abc import Collection
from datetime import date

from estate.domain.questions import Question
from estate.intake.dates import DateOrder, read_date
from estate.intake.grid import shown
from estate.intake.rows import TableRow
from estate.intake.values import Doubt, answer, choice, codes, fact, number, trouble_in
from estate.intake.words import Unit, Words


class RowReader:
    """One row being read.

    Attributes:
        questions: one for each cell that could not be taken.
        converted: (field, unit) of each number that was not in the standard unit.
    """

    def __init__(self, row: TableRow, words: Words) -> None:
        self.row = row
        self.questions: list[Question] = []
        self.converted: set[tuple[str, Unit]] = set()
        self._words = words

    def number(self, field: str) -> float | None:
        """The number of a field in its standard unit; None where there is none or it is questioned."""
        column = self.row.table.column(field)
        if column is None or column.field is None:
            return None
        dimension = self._words.dimensions[column.field.dimension]
        found = number(self.row.cell(field), column.unit, dimension, self._words)
        if isinstance(found, Doubt):
            self.ask(field, found)
            return None
        if found is not None and found.unit is not None and found.unit.converts:
            self.converted.add((field, found.unit))
        return None if found is None else found.value

    def answer(self, field: str) -> bool | None:
        """The yes or no of a field; None where nothing is said or it is questioned."""
        found = answer(self.row.cell(field), self._words)
        if isinstance(found, Doubt):
            self.ask(field, found)
            return None
        return found

    def fact(self, field: str) -> bool | None:
        """Whether a field says that something is there or is so; None as for `answer`."""
        found = fact(self.row.cell(field), self._words)
        if isinstance(found, Doubt):
            self.ask(field, found)
            return None
        return found

    def codes(self, field: str, known: Collection[str]) -> tuple[str, ...]:
        """The codes of a field; none where nothing is said or it is questioned."""
        found = codes(self.row.cell(field), known, self._words)
        if isinstance(found, Doubt):
            self.ask(field, found)
            return ()
        return found

    def choice(self, field: str, code: str) -> str | None:
        """Which of its values a field names; None where nothing is said or it is questioned."""
        found = choice(self.row.cell(field), field, code, self._words)
        if isinstance(found, Doubt):
            self.ask(field, found)
            return None
        return found

    def date(self, field: str, order: DateOrder) -> date | None:
        """The day of a field; None where it is blank or questioned."""
        found = read_date(self.row.cell(field), order, self._words, self.row.table.grid.epoch)
        if isinstance(found, Doubt):
            self.ask(field, found)
            return None
        return found

    def text(self, field: str) -> str:
        """The words of a field."""
        return self.row.text(field)

    def check_texts(self) -> None:
        """Ask about each text whose value the file does not hold."""
        for field, holds in self.row.table.holds.items():
            if holds == "text" and (doubt := trouble_in(self.row.cell(field))):
                self.ask(field, doubt)

    def ask(self, field: str, doubt: Doubt) -> None:
        """Keep a question about a field's cell; without such a column, about the row."""
        place = self.row.where(field) or self.row.where("reference")
        found = shown(self.row.cell(field))
        sheet = self.row.table.grid.name
        reference = self.text("reference") or None
        self.questions.append(
            Question(sheet, self.row.number, place, doubt.code, reference, found, doubt.remedy)
        )

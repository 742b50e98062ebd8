"""Reads the cells of one row and keeps a question for each that can't be taken."""

from collections.abc import Collection
from datetime import date
from typing import TypeVar

from estate.domain.intake import NOWHERE, PlaceWords
from estate.domain.phrases import phrase
from estate.domain.questions import Answer, Choice, Question
from estate.intake.cell_reader import CellReader
from estate.intake.grid import Cell, shown, words_of
from estate.intake.numbers import Number
from estate.intake.rows import TableRow
from estate.intake.table import IDENTITY, PLACES
from estate.intake.values import Doubt, choice, codes, fact

_Said = TypeVar("_Said")
_REPLACING = (Choice.VALUE, Choice.NOT_MEASURED, Choice.OUTLET)
_NOTHING_ABOVE = Doubt(
    "unreadable-value", phrase("Nothing stands above that this could repeat: write it out.")
)


class RowReader:
    """One row being read.

    Attributes:
        cell: gives the cell of a field, or what a person answers in its stead.
        questions: one for each cell that could not be taken and is not answered; see `close`.
        left_out: whether a person answered to leave the row out.
        notes: what of its cells should stand with the remarks.
        kept: the same, of cells that a person answered to be not measured.
    """

    __slots__ = (
        "_doubts", "_given", "_used", "cell", "cells", "kept", "left_out", "notes", "questions", "row",
    )  # fmt: skip

    def __init__(self, row: TableRow, cells: CellReader) -> None:
        self.row = row
        self.cells = cells
        self.cell = row.cell
        self.questions: list[Question] = []
        self.left_out = False
        self.notes: list[str] = []
        self.kept: list[str] = []
        self._doubts: list[tuple[str, Doubt, str | None]] = []
        self._given: dict[str, Cell] = {}
        self._used: set[tuple[str, str]] = set()
        if cells.answers is not None:
            self._take_answers_of_the_register()

    @property
    def doubted(self) -> bool:
        """Whether some cell could not be taken."""
        return bool(self._doubts)

    @property
    def answered(self) -> bool:
        """Whether a person's answer stands in for some cell."""
        return bool(self._given)

    def number(self, field: str) -> float | None:
        """The number of a field in its standard unit; None where there is none or it is questioned."""
        column = self.cells.numbers.get(field)
        if column is None:
            return None
        cell = self.cell(field)
        if cell in column.plain and cell is not True and cell is not False:
            return column.plain[cell]
        found = column.read(cell, self.row.number if column.doubtful else 0)
        if isinstance(found, Number):
            if found.bound:
                self.notes.append(f"{column.heading}: {words_of(cell)}")
            return found.value
        if found is not None:
            self.ask(field, found)
        return None

    def answer(self, field: str) -> bool | None:
        """The yes or no of a field; None where nothing is said or it is questioned."""
        return self._plain(field, self.cells.answer(self.cell(field)))

    def fact(self, field: str) -> bool | None:
        """Whether a field says that something is there or is so; None as for `answer`."""
        return self._plain(field, fact(self.cell(field), self.cells.words))

    def codes(self, field: str, known: Collection[str]) -> tuple[str, ...]:
        """The codes of a field; none where nothing is said or it is questioned."""
        return self._plain(field, codes(self.cell(field), known, self.cells.words)) or ()

    def choice(self, field: str, code: str) -> str | None:
        """Which of its values a field names; None where nothing is said or it is questioned."""
        cell = self.cell(field)
        if self.cells.is_ditto(cell):
            cell = self.cells.above(self.row, field)
        return self._plain(field, choice(cell, field, code, self.cells.words))

    def date(self, field: str) -> date | None:
        """The day of a field; None where it is blank or questioned."""
        cell = self.cell(field)
        if self.cells.is_ditto(cell):
            cell = self.cells.above(self.row, field)
        found = self.cells.day(field, cell)
        if isinstance(found, Doubt) and found.code == "ambiguous-date" and self.cells.answers is not None:
            told = self._answer_to(field, found.code)
            found = self.cells.day(field, cell, told.choice if told else None)
        if found is None and cell is not self.cell(field):
            found = _NOTHING_ABOVE
        return self._plain(field, found)

    def text(self, field: str) -> str:
        """The words of a field; where it says "as above", those above it."""
        cell = self.cell(field)
        if self._given and field in self._given:
            return words_of(cell)
        said = "" if cell is None else self.cells.text(cell)
        if isinstance(said, Doubt):
            self.ask(field, said)
            return ""
        if said is None:
            said = words_of(self.cells.above(self.row, field))
            if not said:
                self.ask(field, _NOTHING_ABOVE)
        elif field in self.cells.joined:
            return self.row.text(field)
        return said

    def name(self, field: str) -> str:
        """The words of a field; empty where it has a dash or says that there is none."""
        cells, cell = self.cells, self.cell(field)
        if field not in cells.joined:
            if cell is None:
                return ""
            if type(cell) is str and cell in cells.names:
                return cells.names[cell]
        said = self.text(field)
        return "" if cells.is_nothing(said) else said

    def place(self) -> PlaceWords:
        """Where the row says that the outlet is."""
        fields = self.cells.place_fields
        return PlaceWords(**{name: self.name(name) for name in fields}) if fields else NOWHERE

    def noted(self, remarks: str) -> str:
        """Remarks, and what of the cells should stand with them."""
        if not (self.notes or self.kept):
            return remarks
        return "; ".join(dict.fromkeys(text for text in (remarks, *self.notes, *self.kept) if text))

    def ask(self, field: str, doubt: Doubt, found: str | None = None) -> None:
        """Keep a doubt about a field's cell; without such a cell, about the row.

        Args:
            field: its name.
            doubt: what is wrong and what to do.
            found: what was found, if not the content of the cell.
        """
        if (field, doubt, found) not in self._doubts:
            self._doubts.append((field, doubt, found))

    def forget(self) -> None:
        """Drop the doubts, because the row as a whole is something else than a visit."""
        self._doubts.clear()

    def close(self) -> bool:
        """Make questions of the doubts that no answer settles.

        Returns:
            Whether an answer changed a cell, so that the row has to be read again.
        """
        doubts, self._doubts = self._doubts, []
        again = False
        for field, doubt, found in doubts:
            told = self._answer_to(field, doubt.code)
            if told is not None and told.choice is Choice.LEAVE_OUT:
                self.left_out = True
            elif told is not None and told.choice in _REPLACING and (field, doubt.code) not in self._used:
                self._used.add((field, doubt.code))
                self._give(field, told)
                again = True
            else:
                self.questions.append(self._question(field, doubt, found))
        if self.left_out or again:
            self.questions.clear()
            self.notes.clear()
        return again and not self.left_out

    def _give(self, field: str, told: Answer) -> None:
        if told.choice is not Choice.NOT_MEASURED:
            self._put(field, told.value)
            return
        cell = self.cell(field)
        column = self.row.table.column(field)
        if column is not None and isinstance(cell, str) and self.cells.words.answered("trace", cell):
            self.kept.append(f"{column.heading}: {words_of(cell)}")
        self._put(field, None)

    def _put(self, field: str, cell: Cell) -> None:
        self._given[field] = cell
        self.cell = self._given_or_own

    def _given_or_own(self, field: str) -> Cell:
        return self._given[field] if field in self._given else self.row.cell(field)

    def _question(self, field: str, doubt: Doubt, found: str | None) -> Question:
        said = shown(self.cell(field)) if found is None else found
        reference = words_of(self.cell("reference")) or None
        sheet = self.row.table.grid.name
        return Question(sheet, self.row.number, self._where(field), doubt.code, reference, said, doubt.remedy)

    def _where(self, field: str) -> str:
        named = (self.row.where(name) for name in (field, *IDENTITY, *PLACES, "on"))
        return next((place for place in named if place), "")

    def _answer_to(self, field: str, code: str) -> Answer | None:
        if self.cells.answers is None:
            return None
        return self.cells.answers.to(code, self.row.table.grid.name, self.row.number, self._where(field))

    def _take_answers_of_the_register(self) -> None:
        """Put in what a person answers to questions that the register raised about cells of this row."""
        for told in self.cells.replacing.get(self.row.number, ()):
            for field in self.cells.table.holds:
                if self.row.where(field) == told.cell:
                    self._put(field, told.value if told.choice is Choice.VALUE else None)

    def _plain(self, field: str, found: _Said | Doubt | None) -> _Said | None:
        if isinstance(found, Doubt):
            self.ask(field, found)
            return None
        return found

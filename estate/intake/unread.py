"""Columns that are not read although they seem to hold something measured: said, so that nothing is lost."""

import re
from itertools import pairwise

from estate.domain.layouts import SheetKind
from estate.domain.phrases import phrase
from estate.domain.questions import Question
from estate.intake.composed import blocked, is_other_day
from estate.intake.grid import Cell, Trouble, is_blank, words_of
from estate.intake.headings import Column, understand
from estate.intake.table import Table
from estate.intake.words import Words

CODE = "unread-column"
REMEDY = phrase("Say in Columns what it holds, or leave it out.")

_SAMPLE_ROWS = 300
_FEWEST, _ENOUGH = 2, 0.8
_HIGHEST = 100.0
"""Of temperatures, flows and times as they are met; a greater number may be a serial number or a year."""
_NUMBER = re.compile(r"[<>~]?\s*(\d{1,3}(?:[.,]\d{1,3})?)\s*(?:°?\s*[CcFf]|s|secs?|ml/min|l/min)?")


def unread_columns(table: Table, words: Words) -> tuple[Question, ...]:
    """One note for each column of results that is not understood and looks measured or answered.

    Args:
        table: its columns as they were understood.
        words: answers, and the headings known to hold no reading.
    """
    if table.kind is not SheetKind.VISITS:
        return ()
    free = [column for column in table.columns if column.field is None and column.heading]
    return tuple(
        _note(table, column)
        for column in free
        if not _is_set_aside(table, column, words) and _looks_read(_cells(table, column.index), words)
    )


def _is_set_aside(table: Table, column: Column, words: Words) -> bool:
    """Whether a heading says something else, or a layout or a person left the column out."""
    said = column.heading
    if table.layout is not None or words.is_set_aside(said) or blocked(said) or is_other_day(said):
        return True
    return understand([(0, said)], words, SheetKind.ASSETS)[0].field is not None


def _cells(table: Table, index: int) -> list[Cell]:
    start = table.header[-1] + 1 if table.header else 0
    rows = table.grid.rows[start : min(table.last, start + _SAMPLE_ROWS)]
    cells = (row[index] if index < len(row) else None for row in rows)
    return [cell for cell in cells if not is_blank(cell)]


def _looks_read(cells: list[Cell], words: Words) -> bool:
    if any(isinstance(cell, Trouble) for cell in cells):
        return True
    numbers = [number for cell in cells if (number := _number(cell)) is not None]
    answers = sum(_is_answer(cell, words) for cell in cells)
    if len(numbers) + answers < max(_FEWEST, len(cells) * _ENOUGH):
        return False
    return not numbers or not _is_count(numbers)


def _number(cell: Cell) -> float | None:
    if isinstance(cell, bool) or not isinstance(cell, str | float):
        return None
    found = _NUMBER.fullmatch(words_of(cell))
    number = float(found[1].replace(",", ".")) if found else None
    return number if number is not None and number <= _HIGHEST else None


def _is_answer(cell: Cell, words: Words) -> bool:
    return isinstance(cell, bool) or (
        isinstance(cell, str) and (words.answered("yes", cell) or words.answered("no", cell))
    )


def _is_count(numbers: list[float]) -> bool:
    """Whether numbers run on by one, as the lines of a list do."""
    return len(numbers) > _FEWEST and all(after - before == 1 for before, after in pairwise(numbers))


def _note(table: Table, column: Column) -> Question:
    row = table.header[-1] if table.header else 0
    cell = table.named(row, column.index)
    shown_row = int("".join(filter(str.isdigit, cell)) or row + 1)
    return Question(table.grid.name, shown_row, cell, CODE, None, column.heading, REMEDY)

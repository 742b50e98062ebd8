"""Which rows under a header are data, and what the lines between them say."""

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import date

from estate.intake.grid import Cell, is_blank, words_of
from estate.intake.headings import Headings
from estate.intake.rows import TableRow
from estate.intake.sections import (
    MOST_IN_A_LABEL_LINE,
    Filled,
    Lines,
    filled_of,
    label_of,
    labelled_in,
    merged_said,
    said_above,
)
from estate.intake.table import PLACES, Table
from estate.intake.view import Said
from estate.intake.words import Words, fold

Key = tuple[str, ...]
_MOST_WORDS = 8
_LEAST_SERIAL = 20_000
"""Smaller numbers in a column of days are no serial days of this age."""


@dataclass(frozen=True, slots=True)
class Entries:
    """The rows of data of a table.

    Attributes:
        table: the table, with what the lines around its rows tell.
        rows: in order.
        unread: 0-based rows of the grid that begin something like a table below, which is not read.
    """

    table: Table
    rows: tuple[TableRow, ...]
    unread: tuple[int, ...] = ()


def entries_of(table: Table, headings: Headings) -> Entries:
    """Find the rows of data, without sections, totals, signatures and repeated headers."""
    if table.view.rows is not None:
        first = table.header[-1] + 1 if table.header else 0
        told = {name: field for name in table.said if (field := headings.field(name))}
        whole = replace(table, told=told)
        filled = [row for row in range(first, table.last) if not all(map(is_blank, table.grid.rows[row]))]
        return Entries(whole, tuple(TableRow(whole, row, table.said) for row in filled))
    walk = _Walk(table, headings)
    found = list(walk.rows())
    found = _with_testers(table, found, headings)
    names = {name for _, said in found for name in said if name not in table.places}
    told = {name: field for name in sorted(names) if (field := headings.field(name))}
    whole = replace(table, told=told)
    down = _reaching_down(whole)
    rows = tuple(
        TableRow(whole, index, said, _filled_down(whole, index, down) if index in down else None)
        for index, said in found
    )
    return Entries(whole, rows, tuple(walk.unread))


class _Walk:
    """Goes down the rows under a header."""

    def __init__(self, table: Table, headings: Headings) -> None:
        self.unread: list[int] = []
        self._table, self._headings = table, headings
        self._words = headings.words
        self._lines = Lines(headings)
        self._headers = {self._key(row) for row in table.header}
        self._titles = {_likeness(self._key(row)) for row in self._above() if self._key(row)}
        self._data_columns = [table.firsts[name] for name in table.data_fields]
        self._place_columns = [table.firsts[name] for name in PLACES if name in table.firsts]
        self._reference = table.firsts.get("reference", -1)
        self._on = table.firsts.get("on", -1)
        self._most_words = _MOST_WORDS
        self._worded = self._look_at_references()

    def _above(self) -> range:
        start = self._table.lines[0] if self._table.lines else 0
        return range(start, self._table.header[0])

    def _key(self, row: int) -> Key:
        return tuple(fold(words_of(cell)) for cell in self._table.grid.rows[row] if not is_blank(cell))

    def rows(self) -> Iterator[tuple[int, Mapping[str, Said]]]:
        """Each row of data with what is said of it."""
        grid, view = self._table.grid.rows, self._table.view
        said: Mapping[str, Said] = {
            **self._table.said,
            **said_above(self._lines, ((row, grid[row]) for row in self._above()), view),
        }
        open_table, after_blank = True, False
        for index in range(self._table.header[-1] + 1, self._table.last):
            cells = grid[index]
            if open_table and self._is_plainly_data(cells):
                yield index, said
                after_blank = False
                continue
            filled = filled_of(cells)
            if not filled:
                after_blank = True
                continue
            if self._is_header(index, filled):
                open_table = True
            elif open_table and self._begins_another(filled, 2 if after_blank else 3):
                open_table = False
                if self._is_nearly_a_header(filled):
                    self.unread.append(index)
            elif open_table and self._is_line(index, filled):
                said = self._heard(index, filled, said)
            elif open_table:
                yield index, said
            after_blank = False

    def _is_plainly_data(self, cells: Sequence[Cell]) -> bool:
        """Whether a row has a reference and a day that can be no words between rows."""
        width = len(cells)
        if not (0 <= self._reference < width and 0 <= self._on < width):
            return False
        reference, on = cells[self._reference], cells[self._on]
        if type(reference) is not str or ":" in reference or not _has_digit(reference):
            return False
        return isinstance(on, date) or (type(on) is str and on[:1].isdigit())

    def _is_header(self, index: int, filled: Filled) -> bool:
        """Whether a row is the table's header again; most rows begin otherwise."""
        begins = fold(words_of(filled[0][1]))
        return any(key[:1] == (begins,) for key in self._headers) and self._key(index) in self._headers

    def _at(self, filled: Filled, column: int) -> Cell:
        return next((cell for index, cell in filled if index == column), None)

    def _is_line(self, index: int, filled: Filled) -> bool:
        """Whether a row is no data: a section's name, a total, a title again or a signature."""
        columns = {column for column, _ in filled}
        if self._reference not in columns and not columns.intersection(self._data_columns):
            return self._reference >= 0 or len(columns.intersection(self._place_columns)) < 2
        if self._titles and _likeness(self._key(index)) in self._titles:
            return True
        first = words_of(filled[0][1])
        if self._says_something(index, filled, first):
            return True
        if _is_label(first, self._words) and (":" in first or len(filled) <= MOST_IN_A_LABEL_LINE):
            return True
        if first.endswith(":") and not _has_digit(first):
            return True
        if not _may_be_day(self._at(filled, self._on)) and self._is_sum_or_limit(
            first, self._reference in columns
        ):
            return True
        return len(filled) == 1 and self._is_lone_line(filled[0][1], first)

    def _says_something(self, index: int, filled: Filled, first: str) -> bool:
        """Whether a row is a label of a place, a day or an outlet and what it says."""
        plain = len(filled) == 2 and not _has_digit(first) and not _may_be_day(self._at(filled, self._on))
        return (":" in first or plain) and bool(self._lines.labelled(filled, index, self._table.view))

    def _is_sum_or_limit(self, first: str, has_reference: bool) -> bool:
        if not (_begins(first, self._words, "totals") or self._words.is_set_aside(first)):
            return False
        return not has_reference or not _has_digit(first)

    def _is_lone_line(self, cell: Cell, first: str) -> bool:
        if not isinstance(cell, str):
            return self._on < 0 and isinstance(cell, date)
        if _begins(first, self._words, "places") or _begins(first, self._words, "below"):
            return True
        if len(first.split()) > self._most_words + 1:
            return True
        if self._on < 0 and self._lines.alone(cell, None, False).keys() == {"on"}:
            return True
        return not self._worded and not _has_digit(first)

    def _heard(self, index: int, filled: Filled, said: Mapping[str, Said]) -> Mapping[str, Said]:
        view = self._table.view
        found = self._lines.labelled(filled, index, view)
        if not found and len(filled) == 1:
            column, cell = filled[0]
            found = self._lines.alone(cell, view.place(index, column), self._reference < 0)
        return merged_said(said, found) if found else said

    def _begins_another(self, filled: Filled, fewest: int) -> bool:
        """Whether a row looks like the header of something else, by so many headings that are known."""
        texts = [cell for _, cell in filled if isinstance(cell, str)]
        if len(texts) < len(filled) or any(map(_has_digit, texts)):
            return False
        return sum(self._headings.knows(text) for text in texts) >= fewest

    def _is_nearly_a_header(self, filled: Filled) -> bool:
        columns = self._headings.understand((column, words_of(cell)) for column, cell in filled).columns
        known = {column.field.name: column.field for column in columns if column.field}
        measures = any(field.holds in ("number", "answer") for field in known.values())
        return measures and not {"reference", "on"}.isdisjoint(known)

    def _look_at_references(self) -> bool:
        """Whether rows of data have references without a digit, so that a lone word may be one.

        Counts the words of the longest reference too: a longer line alone is no reference.
        """
        if self._reference < 0 or self._on < 0 or len(self._data_columns) < 2:
            return False
        width = max(self._reference, self._on)
        worded, most = False, 0
        for index in range(self._table.header[-1] + 1, self._table.last):
            cells = self._table.grid.rows[index]
            if len(cells) <= width or not _may_be_day(cells[self._on]):
                continue
            reference = cells[self._reference]
            if type(reference) is not str or ((digit := _has_digit(reference)) and " " not in reference):
                continue
            most = max(most, len(reference.split()))
            worded = worded or not digit
        self._most_words = max(most, 1)
        return worded


def _with_testers(
    table: Table, found: Sequence[tuple[int, Mapping[str, Said]]], headings: Headings
) -> list[tuple[int, Mapping[str, Said]]]:
    """Give each row the tester and the instrument of the lines above it, where such lines lead.

    A line above the first row and another between rows lead; where none stands above the first row, they are
    signatures, and it is not known to how much they belong.
    """
    rows = [index for index, _ in found]
    if len(rows) == rows[-1] - rows[0] + 1 if rows else True:
        return list(found)
    given = list(found)
    for group in ("person", "instrument"):
        if group in table.places or headings.field(group) is None:
            continue
        lines = _labelled_lines(table, frozenset(rows), rows[-1], group, headings.words)
        if len(lines) < 2 or min(lines) > rows[0]:
            continue
        told = [(row, Said(said, None)) for row, said in sorted(lines.items())]
        given = [
            (row, {**said, group: [each for line, each in told if line < row][-1]}) for row, said in given
        ]
    return given


def _labelled_lines(
    table: Table, data: frozenset[int], last: int, group: str, words: Words
) -> dict[int, str]:
    """The last line above the rows that names somebody or something, and each between them."""
    start = table.lines[0] if table.lines else 0
    found: dict[int, str] = {}
    first = min(data)
    for index in range(start, last):
        if index in data:
            continue
        cells = [words_of(cell) for cell in table.grid.rows[index] if not is_blank(cell)]
        if said := labelled_in(cells, group, words):
            if index < first:
                found.clear()
            found[index] = ", ".join(said)
    return found


def _likeness(key: Key) -> Key:
    """A line without its numbers, so that page 2 is like page 1."""
    return tuple("".join("#" if character.isdigit() else character for character in text) for text in key)


def _may_be_day(cell: Cell) -> bool:
    """Whether a cell in the column of days may be one: a count of valves there is none."""
    if isinstance(cell, float):
        return cell > _LEAST_SERIAL
    return _has_digit(cell) if isinstance(cell, str) else cell is not None


_DIGIT = re.compile(r"\d")


def _has_digit(text: str) -> bool:
    return _DIGIT.search(text) is not None


def _is_label(text: str, words: Words) -> bool:
    label = label_of(text)
    return any(label in words.labels[group] for group in ("instrument", "person", "below"))


def _begins(text: str, words: Words, group: str) -> bool:
    pieces = fold(text).split()
    return any(" ".join(pieces[:length]) in words.labels[group] for length in range(1, 4))


def _reaching_down(table: Table) -> Mapping[int, Mapping[int, int]]:
    """For each row, the columns whose merged cell begins in a row above, and that row.

    Only what names a place, a day, a person or a kind holds for all rows beside it: whether a number in a
    merged cell was measured at each of them is not known.
    """
    names = {column.index: table.holds[column.field.name] for column in table.known if column.field}
    down: dict[int, dict[int, int]] = {}
    for top, left, bottom, _ in table.grid.merged:
        column = left - table.view.left
        if top <= table.header[-1] or names.get(column) not in ("text", "date", "choice"):
            continue
        for row in range(top + 1, min(bottom + 1, table.last)):
            down.setdefault(row, {})[column] = top
    return down


def _filled_down(table: Table, row: int, down: Mapping[int, Mapping[int, int]]) -> list[Cell]:
    cells = list(table.grid.rows[row])
    for column, top in down[row].items():
        cells.extend([None] * (column + 1 - len(cells)))
        cells[column] = table.grid.at(top, column)
    return cells

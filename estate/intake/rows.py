"""Which rows under a header are data, and how one of them is looked at."""

from collections.abc import Iterator
from dataclasses import dataclass

from estate.domain.visits import Source
from estate.intake.grid import Cell, is_blank, place_name, shown, words_of
from estate.intake.layout import Table
from estate.intake.words import Words, fold

MOST_IN_A_LABEL_LINE = 3
"""A line with more filled cells is no line of a label and what it says, unless it has a colon."""


@dataclass(frozen=True, slots=True)
class TableRow:
    """One row of a table."""

    table: Table
    index: int

    @property
    def number(self) -> int:
        """Its number as a spreadsheet program shows it."""
        return self.index + 1

    def cell(self, field: str) -> Cell:
        """The cell of a field; None where the table has no such column."""
        columns = self.table.places.get(field, ())
        return self.table.grid.at(self.index, columns[0]) if columns else None

    def text(self, field: str) -> str:
        """The words of a field, of all its columns together."""
        texts = [
            words_of(self.table.grid.at(self.index, column)) for column in self.table.places.get(field, ())
        ]
        return "; ".join(text for text in texts if text)

    def where(self, field: str) -> str:
        """The name of a field's cell; empty where the table has no such column."""
        columns = self.table.places.get(field, ())
        return place_name(self.index, columns[0]) if columns else ""

    def places(self) -> tuple[tuple[str, str], ...]:
        """Each field with its cell's name."""
        return tuple(
            (name, place_name(self.index, columns[0])) for name, columns in self.table.places.items()
        )

    def source(self, file: str) -> Source:
        """Where the row came from, with its filled cells as they stand."""
        headings = self.table.headings
        cells = [
            (index, cell) for index, cell in enumerate(self.table.grid.rows[self.index]) if not is_blank(cell)
        ]
        raw = tuple(
            (headings.get(index, place_name(self.index, index)), shown(cell)) for index, cell in cells
        )
        return Source(file, self.table.grid.name, self.number, raw)

    def filled(self, *fields: str) -> bool:
        """Whether any of some fields has something in its cell."""
        return any(not is_blank(self.cell(field)) for field in fields)


def data_rows(table: Table, words: Words) -> Iterator[TableRow]:
    """The rows of data under a header, without sections, totals, signatures and repeated headers."""
    headers = {_key(table, row) for row in table.header}
    fields = table.data_fields
    worded = _has_wordy_references(table, fields)
    for index in range(table.header[-1] + 1, len(table.grid.rows)):
        row = TableRow(table, index)
        if _key(table, index) in headers or not (row.filled("reference") or row.filled(*fields)):
            continue
        if not _is_between(row, fields, words, worded):
            yield row


def label_of(text: str) -> str:
    """The words before a colon, folded; all of them where there is none."""
    return fold(text.split(":", 1)[0])


def _key(table: Table, row: int) -> tuple[str, ...]:
    return tuple(fold(words_of(cell)) for cell in table.grid.rows[row] if not is_blank(cell))


def _is_between(row: TableRow, fields: tuple[str, ...], words: Words, worded: bool) -> bool:
    """Whether a row is a section's name, a total or a signature line."""
    filled = [cell for cell in row.table.grid.rows[row.index] if not is_blank(cell)]
    first = words_of(filled[0])
    if _is_label(first, words) and (":" in first or len(filled) <= MOST_IN_A_LABEL_LINE):
        return True
    if _begins(first, words, "totals") and not row.filled("on"):
        return not row.filled("reference") or not any(map(str.isdigit, first))
    alone = len(filled) == 1 and isinstance(filled[0], str)
    if alone and _begins(first, words, "places"):
        return True
    return alone and not worded and not any(map(str.isdigit, first))


def _is_label(text: str, words: Words) -> bool:
    label = label_of(text)
    return any(label in words.labels[group] for group in ("instrument", "person", "below"))


def _begins(text: str, words: Words, group: str) -> bool:
    pieces = fold(text).split()
    return any(" ".join(pieces[:length]) in words.labels[group] for length in range(1, 4))


def _has_wordy_references(table: Table, fields: tuple[str, ...]) -> bool:
    """Whether rows of data have references without a digit, so that a lone word may be one."""
    rows = [TableRow(table, index) for index in range(table.header[-1] + 1, len(table.grid.rows))]
    references = [
        row.text("reference") for row in rows if row.filled("on") and len(fields) > 1 and row.filled(*fields)
    ]
    return any(text and not any(map(str.isdigit, text)) for text in references)

"""The sheets of an OpenDocument spreadsheet, heard element by element."""

from collections.abc import Callable, Mapping
from datetime import date
from typing import ClassVar

from estate.intake.grid import Grid
from estate.intake.open_table import Table
from estate.intake.open_values import OFFICE, TABLE, value_of
from estate.intake.package import check_cells, damaged

MOST_DEPTH = 200
"""No sheet lies deeper than a few tens of elements."""

MOST_SHEETS = 300

_STYLE = "urn:oasis:names:tc:opendocument:xmlns:style:1.0"
_TEXT = "urn:oasis:names:tc:opendocument:xmlns:text:1.0"
_DRAWN = "urn:oasis:names:tc:opendocument:xmlns:drawing:1.0 "
_ASIDE = frozenset(
    {
        f"{OFFICE} annotation",
        f"{OFFICE} forms",
        f"{TABLE} shapes",
        f"{TABLE} tracked-changes",
        f"{TABLE} dde-links",
        f"{_TEXT} ruby-text",
        f"{_TEXT} note",
    }
)
"""What lies in a sheet or a cell without being its own: comments, pictures, links, changes."""

_ROWS_ALIKE, _COLUMNS_ALIKE = f"{TABLE} number-rows-repeated", f"{TABLE} number-columns-repeated"
_ROWS_SPANNED, _COLUMNS_SPANNED = f"{TABLE} number-rows-spanned", f"{TABLE} number-columns-spanned"
_UNSEEN = ("collapse", "filter")
_MOST_BLANKS = 100


class Sheets:
    """Hears elements and keeps the grids; blank cells and rows said to be repeated cost nothing.

    Attributes:
        grids: the sheets heard to their end.
        is_spreadsheet: whether the document says that it is one.
    """

    def __init__(self, file: str) -> None:
        self.grids: list[Grid] = []
        self.is_spreadsheet = False
        self._file = file
        self._depth = self._aside = self._all_cells = 0
        self._hidden_styles: set[str] = set()
        self._style = ""
        self._epoch = date(1899, 12, 30)
        self._table: Table | None = None
        self._cell: Mapping[str, str] | None = None
        self._pieces: list[str] = []
        self._in_text = False

    def start(self, name: str, attributes: dict[str, str]) -> None:
        """Hear an element begin."""
        self._depth += 1
        if self._depth > MOST_DEPTH:
            raise damaged(self._file, "its elements lie too deep in each other")
        heard = self._STARTS.get(name)
        if self._aside or (heard is None and (name in _ASIDE or name.startswith(_DRAWN))):
            self._aside += 1
        elif heard is not None:
            heard(self, attributes)

    def end(self, name: str) -> None:
        """Hear an element end."""
        self._depth -= 1
        if self._aside:
            self._aside -= 1
        else:
            heard = self._ENDS.get(name)
            if heard is not None:
                heard(self)

    def text(self, text: str) -> None:
        """Hear text."""
        if self._in_text and not self._aside:
            self._pieces.append(text.replace("\n", " "))

    def _begin_spreadsheet(self, _: Mapping[str, str]) -> None:
        self.is_spreadsheet = True

    def _hear_epoch(self, attributes: Mapping[str, str]) -> None:
        self._epoch = date.fromisoformat(attributes.get(f"{TABLE} date-value", self._epoch.isoformat()))

    def _begin_style(self, attributes: Mapping[str, str]) -> None:
        self._style = attributes.get(f"{_STYLE} name", "")

    def _hear_properties(self, attributes: Mapping[str, str]) -> None:
        if attributes.get(f"{TABLE} display") == "false":
            self._hidden_styles.add(self._style)

    def _begin_table(self, attributes: Mapping[str, str]) -> None:
        if self._table is not None:
            self._aside += 1
            return
        hidden = attributes.get(f"{TABLE} style-name") in self._hidden_styles
        self._table = Table(self._file, attributes.get(f"{TABLE} name", ""), hidden)
        if len(self.grids) == MOST_SHEETS:
            raise damaged(self._file, "its list of sheets is not that of a workbook")

    def _end_table(self) -> None:
        table, self._table = self._table, None
        # What other files held when they were last asked lies in tables that are named for those files.
        if table and not table.name.startswith("'file:"):
            self.grids.append(table.grid(self._epoch))

    def _hear_column(self, attributes: Mapping[str, str]) -> None:
        if self._table:
            self._table.column(_number(attributes, _COLUMNS_ALIKE), _is_unseen(attributes))

    def _begin_row(self, attributes: Mapping[str, str]) -> None:
        if self._table:
            self._table.begin_row(_number(attributes, _ROWS_ALIKE), _is_unseen(attributes))

    def _end_row(self) -> None:
        if self._table:
            self._all_cells += self._table.end_row()
            check_cells(self._all_cells, self._file)

    def _begin_cell(self, attributes: Mapping[str, str]) -> None:
        self._cell, self._pieces = attributes, []

    def _end_cell(self) -> None:
        found = self._cell
        if self._table and found is not None:
            value = value_of(found, "".join(self._pieces) if self._pieces else None)
            spans = (_number(found, _ROWS_SPANNED), _number(found, _COLUMNS_SPANNED))
            self._table.cell(value, _number(found, _COLUMNS_ALIKE), spans)
        self._cell = None

    def _hear_covered(self, attributes: Mapping[str, str]) -> None:
        if self._table:
            self._table.cell(None, _number(attributes, _COLUMNS_ALIKE), (1, 1))

    def _begin_text(self, _: Mapping[str, str]) -> None:
        if self._cell is not None:
            self._pieces.append("\n" if self._pieces else "")
            self._in_text = True

    def _end_text(self) -> None:
        self._in_text = False

    def _hear_blanks(self, attributes: Mapping[str, str]) -> None:
        self._pieces.append(" " * min(_number(attributes, f"{_TEXT} c"), _MOST_BLANKS))

    def _hear_break(self, _: Mapping[str, str]) -> None:
        self._pieces.append("\n")

    _STARTS: ClassVar[Mapping[str, Callable[["Sheets", Mapping[str, str]], None]]] = {
        f"{OFFICE} spreadsheet": _begin_spreadsheet,
        f"{TABLE} null-date": _hear_epoch,
        f"{_STYLE} style": _begin_style,
        f"{_STYLE} table-properties": _hear_properties,
        f"{TABLE} table": _begin_table,
        f"{TABLE} table-column": _hear_column,
        f"{TABLE} table-row": _begin_row,
        f"{TABLE} table-cell": _begin_cell,
        f"{TABLE} covered-table-cell": _hear_covered,
        f"{_TEXT} p": _begin_text,
        f"{_TEXT} s": _hear_blanks,
        f"{_TEXT} tab": _hear_break,
        f"{_TEXT} line-break": _hear_break,
    }
    _ENDS: ClassVar[Mapping[str, Callable[["Sheets"], None]]] = {
        f"{TABLE} table": _end_table,
        f"{TABLE} table-row": _end_row,
        f"{TABLE} table-cell": _end_cell,
        f"{_TEXT} p": _end_text,
    }


def _number(attributes: Mapping[str, str], name: str) -> int:
    found = attributes.get(name)
    return 1 if found is None else max(int(found), 1)


def _is_unseen(attributes: Mapping[str, str]) -> bool:
    return attributes.get(f"{TABLE} visibility") in _UNSEEN

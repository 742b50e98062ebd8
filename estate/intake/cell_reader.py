"""Reads the cells of one table: what a whole column tells is found once, and each content is read once."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date
from functools import cached_property

from estate.domain.layouts import DateOrder as Order
from estate.domain.layouts import SheetKind
from estate.domain.questions import Answer, Answers, Choice
from estate.intake.date_order import DateOrder, is_open, order_of, settle, told_by_closeness, told_by_months
from estate.intake.dates import DayReader, Days
from estate.intake.grid import Cell, words_of
from estate.intake.numbers import Number, number
from estate.intake.rows import TableRow
from estate.intake.said_dates import SaidDates, said_dates
from estate.intake.table import PLACES, Table
from estate.intake.units import UNSURE, settle_units
from estate.intake.values import Doubt, answer, trouble_in
from estate.intake.words import Dimension, Unit, Words, fold

ASKED_HERE = frozenset(
    {
        "unreadable-value", "implausible-value", "formula-without-value", "contradiction", "unsure-unit",
        "unreadable-date", "missing-date", "ambiguous-date", "missing-reference", "missing-place",
        "unknown-use", "unknown-user-group", "no-access", "nothing-measured",
    }
)  # fmt: skip
"""Codes of the questions that reading a row can raise; those of the register are raised later."""

Used = tuple[str, Unit, str]
"""A field, the unit of one of its numbers, and how it was known."""


@dataclass(slots=True)
class NumberColumn:
    """The numbers of one column.

    Attributes:
        how: how the unit of a bare number is known: ``heading``, ``layout`` or ``plausibility``.
        doubtful: numbers of the rows whose bare number may be in another unit.
        used: the units met.
        plain: the value of each content that is one in every row; blank ones are None.
    """

    name: str
    heading: str
    unit: Unit | None
    how: str
    dimension: Dimension
    words: Words
    doubtful: frozenset[int]
    used: set[Used] = field(default_factory=set)
    plain: dict[Cell, float | None] = field(default_factory=lambda: {None: None})
    _known: dict[Cell, Number | Doubt | None] = field(default_factory=dict)

    def read(self, cell: Cell, row: int) -> Number | Doubt | None:
        """The number of a cell in the standard unit, of some row; see `numbers.number`."""
        if cell is True or cell is False:
            return number(cell, self.unit, self.dimension, self.words)
        if cell not in self._known:
            self._known[cell] = self._first(cell)
        found = self._known[cell]
        if self.doubtful and row in self.doubtful and _is_bare(found):
            return UNSURE
        return found

    def _first(self, cell: Cell) -> Number | Doubt | None:
        found = number(cell, self.unit, self.dimension, self.words)
        if isinstance(found, Number) and found.unit is not None:
            self.used.add((self.name, found.unit, "cell" if found.own else self.how))
        if isinstance(found, Number) and not self.doubtful and not found.bound:
            self.plain[cell] = found.value
        return found


def _is_bare(found: Number | Doubt | None) -> bool:
    if isinstance(found, Number):
        return not found.own
    return isinstance(found, Doubt) and found.code == "implausible-value"


class CellReader:
    """Reads the cells of one table.

    Args:
        table: its columns.
        rows: its rows of data.
        words: the words of cells.
        order: in which order a remembered layout says that dates are written.
        answers: what a person says of its questions.

    Attributes:
        names: the words of contents that mean the same in every row; empty of a dash and its kin.
    """

    def __init__(
        self,
        table: Table,
        rows: Sequence[TableRow],
        words: Words,
        order: Order | None = None,
        answers: Answers | None = None,
    ) -> None:
        self.table, self.rows, self.words = table, rows, words
        self.answers = answers if answers is not None and answers.given else None
        self.manners: set[str] = set()
        self._order = order
        self.names: dict[str, str] = {}
        self._texts: dict[Cell, str | Doubt | None] = {}
        self._nothing: dict[str, bool] = {"": True}
        self._days = self._day_reader()
        self._orders: dict[str, DateOrder] = {}
        self._above: dict[str, dict[int, Cell]] = {}
        self._answers: dict[Cell, bool | Doubt | None] = {}
        self.place_fields = tuple(name for name in PLACES if name in table.holds)
        self.joined = frozenset(name for name, columns in table.places.items() if len(columns) > 1)

    @cached_property
    def numbers(self) -> Mapping[str, NumberColumn]:
        """The columns of numbers, by field."""
        units = settle_units(self.table, self.rows, self.words)
        found = {}
        for name, holds in self.table.holds.items():
            column = self.table.column(name)
            if holds == "number" and column is not None and column.field is not None:
                unit, how = column.unit, column.unit_from or "heading"
                if name in units.settled:
                    unit, how = units.settled[name], "plausibility"
                dimension = self.words.dimensions[column.field.dimension]
                rows = frozenset(row for row, fields in units.doubtful.items() if name in fields)
                found[name] = NumberColumn(name, column.heading, unit, how, dimension, self.words, rows)
        return found

    @property
    def used(self) -> tuple[Used, ...]:
        """The units of all temperatures, and every unit of which numbers were converted."""
        found = [each for column in self.numbers.values() for each in column.used]
        wanted = [
            (name, unit, how)
            for name, unit, how in found
            if "temperature" in unit.dimensions or unit.converts
        ]
        return tuple(sorted(wanted, key=lambda each: (each[0], each[2], each[1].name)))

    @cached_property
    def replacing(self) -> Mapping[int, Sequence[Answer]]:
        """By number of row, the answers that put another value in a cell about which the register asked."""
        found: dict[int, list[Answer]] = {}
        for told in self.answers.given if self.answers is not None else ():
            here = told.sheet in ("", self.table.grid.name) and told.row and told.cell
            if here and told.code not in ASKED_HERE and told.choice in (Choice.VALUE, Choice.NOT_MEASURED):
                found.setdefault(told.row, []).append(told)
        return found

    def answer(self, cell: Cell) -> bool | Doubt | None:
        """The yes or no of a cell; see `values.answer`."""
        if cell is None or cell is True or cell is False:
            return cell
        if cell not in self._answers:
            self._answers[cell] = answer(cell, self.words)
        return self._answers[cell]

    def text(self, cell: Cell) -> str | Doubt | None:
        """The words of a cell; None where it says "as above"."""
        if cell is None:
            return ""
        known = self._texts.get(cell)
        if known is None:
            known = trouble_in(cell) or (None if self.is_ditto(cell) else words_of(cell))
            self._texts[cell] = known
            if isinstance(cell, str) and isinstance(known, str):
                self.names[cell] = "" if self.is_nothing(known) else known
        return known

    def is_ditto(self, cell: Cell) -> bool:
        """Whether a cell says that it holds what stands above it."""
        return isinstance(cell, str) and self.words.answered("ditto", cell) and cell.strip() not in _INITIALS

    def above(self, row: TableRow, name: str) -> Cell:
        """What stands above a cell that says "as above"; None where nothing does."""
        if name not in self._above:
            self._above[name] = self._last_said(name)
        return self._above[name][row.index]

    def _last_said(self, name: str) -> dict[int, Cell]:
        """By row, the last cell of a field above it that does not itself say "as above"."""
        found: dict[int, Cell] = {}
        last: Cell = None
        for row in self.rows:
            found[row.index] = last
            cell = row.cell(name)
            last = last if self.is_ditto(cell) else cell
        return found

    def says_nothing(self, cell: Cell) -> bool:
        """Whether a cell is blank, a dash, or says that nothing was measured."""
        text = self.text(cell)
        return isinstance(text, str) and self.is_nothing(text)

    def is_nothing(self, text: str) -> bool:
        """Whether a text is empty, a dash, or says that nothing was measured."""
        known = self._nothing.get(text)
        if known is None:
            known = self.words.answered("dash", text) or self.words.answered("absent", text)
            self._nothing[text] = known
        return known

    def day(self, name: str, cell: Cell, answer: Choice | None = None) -> date | Doubt | None:
        """The day that a cell of a field says; None where it is blank.

        Args:
            name: of the field.
            cell: its content.
            answer: what a person says of a date that has two readings.
        """
        days = self._days.days(cell)
        if not isinstance(days, Days):
            return days
        found = settle(days, self._order_of(name), answer)
        if isinstance(found, Doubt):
            return found
        self.manners.add(found[1])
        return found[0]

    def _day_reader(self) -> DayReader:
        table = self.table
        header = min(table.header_rows or table.header, default=0)
        self._said = said_dates(table.sheet or table.grid, header, self.words)
        told = self._said if table.kind is SheetKind.VISITS else SaidDates()
        return DayReader(self.words, table.grid.epoch, told.years, told.months)

    def proved(self) -> set[Order]:
        """The orders that the dates of its columns prove."""
        names = [name for name, holds in self.table.holds.items() if holds == "date"]
        orders = [order_of(self._days_in(name)) for name in names]
        found = {Order.DAY_FIRST for order in orders if order.day_first}
        return found | {Order.MONTH_FIRST for order in orders if order.month_first}

    def lean_on(self, order: Order) -> None:
        """Read dates that have two readings in the order that the rest of the file proves."""
        if self._order is None:
            self._order = order
            self._orders.clear()

    def _days_in(self, name: str) -> list[Days]:
        cells = dict.fromkeys(row.cell(name) for row in self.rows)
        return [found for cell in cells if isinstance(found := self._days.days(cell), Days)]

    def _order_of(self, name: str) -> DateOrder:
        if name not in self._orders:
            self._orders[name] = self._find_order(name)
        return self._orders[name]

    def _find_order(self, name: str) -> DateOrder:
        days = self._days_in(name)
        order = order_of(days, self._order)
        told_otherwise = order.settled or order.day_first or order.month_first
        if self.table.kind is not SheetKind.VISITS or told_otherwise or not any(map(is_open, days)):
            return order
        told = told_by_months(days, self._said.months)
        if told is None and self._names_each_once():
            told = told_by_closeness(days)
        return replace(order, settled=told)

    def _names_each_once(self) -> bool:
        """Whether no row names an outlet that another names, as in one round."""
        names = [tuple(fold(row.text(field)) for field in _NAMING) for row in self.rows]
        return len(set(names)) == len(names) and all(map(any, names))


def agree_on_order(readers: Sequence[CellReader]) -> None:
    """Let the tables of one file that prove no order of dates take the one that all others prove."""
    proved = {order for reader in readers for order in reader.proved()}
    if len(proved) == 1:
        for reader in readers:
            reader.lean_on(next(iter(proved)))


_NAMING = ("reference", "key", *PLACES)
_INITIALS = ("DO", "Do")
"""A tester of these initials does not say "ditto"."""

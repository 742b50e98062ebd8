"""The tables of one sheet, however they lie in it."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

from estate.domain.layouts import Form, SheetKind
from estate.intake.across import days_across, visits_beside
from estate.intake.beside import parted
from estate.intake.by_values import completed, corrected, suggested
from estate.intake.cards import cards_in
from estate.intake.entries import Entries, entries_of
from estate.intake.grid import Grid
from estate.intake.headings import Headings
from estate.intake.layout import Header, doubled_fault, headers_in, table_of, worth
from estate.intake.sections import Lines, said_above
from estate.intake.table import IDENTITY, Table
from estate.intake.turned import columns_of_visits
from estate.intake.view import NOTHING_SAID, Said, View
from estate.intake.words import fold

_MOST_TRIED = 6
"""So many headers that lack something are looked at more closely."""


@dataclass(frozen=True, slots=True)
class Found:
    """What a sheet holds.

    Attributes:
        entries: of each table, in the order of the sheet.
        unread: 0-based rows that begin what looks like entries but can't be read.
    """

    entries: tuple[Entries, ...] = ()
    unread: tuple[int, ...] = ()


def find_tables(grid: Grid, headings: Headings, said: Mapping[str, Said] = NOTHING_SAID) -> Found:
    """The tables of a sheet; none where no row is a header with all that is needed.

    Args:
        grid: the sheet.
        headings: how headings are understood.
        said: what is said of all its rows, by field.

    Raises:
        IntakeFault: two columns claim the same field, so that choosing one would be a guess.
    """
    form = headings.forced.form if headings.forced is not None else None
    if form in (None, Form.ACROSS):
        across = days_across(grid, headings) or visits_beside(grid, headings)
        if found := _laid_out([across], headings, said):
            return found
    headers = [
        (header, _said_of(table_of(grid, header, headings), said)) for header in headers_in(grid, headings)
    ]
    if form in (None, Form.ROWS):
        tables = _complete(headers, headings) or _told_by_lines(headers, headings)
        if tables:
            return _found(tables, headings, said)
    return _in_other_forms(grid, headings, headers, said)


def _in_other_forms(
    grid: Grid, headings: Headings, headers: Sequence[tuple[Header, Table]], said: Mapping[str, Said]
) -> Found:
    form = headings.forced.form if headings.forced is not None else None
    if form in (None, Form.ACROSS) and (
        found := _laid_out(columns_of_visits(grid, headings), headings, said)
    ):
        return found
    if form in (None, Form.CARDS) and (found := _laid_out(cards_in(grid, headings), headings, said)):
        return found
    if form in (None, Form.ROWS):
        for _, table in _likeliest(headers):
            whole = completed(table, headings)
            if whole is not table and (tables := _told_by_lines([(_header(whole), whole)], headings)):
                return _found(tables, headings, said)
    return Found()


def _said_of(table: Table, said: Mapping[str, Said]) -> Table:
    """The table with what the name of its sheet says, where outlets are not told by references."""
    if table.kind is SheetKind.VISITS and not {*IDENTITY}.isdisjoint(table.places):
        return table
    return replace(table, said=said)


def _laid_out(tables: Iterable[Table | None], headings: Headings, said: Mapping[str, Said]) -> Found | None:
    """Cards or visits across, if any of them has all that is needed; the rest stays unread."""
    entries: list[Entries] = []
    unread: list[int] = []
    for table in tables:
        if table is None:
            continue
        above = {**_said_of(table, said).said, **_said_of_sheet(table, headings)}
        found = entries_of(suggested(replace(table, said=above), headings), headings)
        if found.table.missing:
            found = entries_of(suggested(completed(replace(table, said=above), headings), headings), headings)
        if found.table.missing or found.table.doubled:
            unread += [row.number - 1 for row in found.rows]
        elif found.rows:
            entries.append(found)
    return Found(tuple(entries), tuple(unread)) if entries else None


def _header(table: Table) -> Header:
    return Header(table.header, table.columns, table.layout)


def _complete(headers: Sequence[tuple[Header, Table]], headings: Headings) -> list[Table]:
    """The tables whose headers have all that is needed, in the order of the sheet."""
    whole = [(header, table) for header, table in headers if not table.missing]
    chosen: list[tuple[Header, list[Table]]] = []
    taken: set[int] = set()
    for header, table in sorted(whole, key=lambda each: worth(*each), reverse=True):
        if not taken.isdisjoint(header.rows):
            continue
        tables = parted(table, headings)
        if doubled := next((each for each in tables if each.doubled), None):
            raise doubled_fault(doubled)
        chosen.append((header, tables))
        taken.update(header.rows)
    chosen.sort(key=lambda each: each[0].rows)
    return _bounded(_without_repeats(chosen))


def _without_repeats(chosen: Sequence[tuple[Header, list[Table]]]) -> list[tuple[Header, list[Table]]]:
    """The headers that begin a table, rather than come again on the next page of one."""
    kept: list[tuple[Header, list[Table]]] = []
    before: tuple[tuple[int, str], ...] = ()
    for header, tables in chosen:
        key = tuple((column.index, fold(column.heading)) for column in header.columns)
        if key != before:
            kept.append((header, tables))
        before = key
    return kept


def _bounded(chosen: Sequence[tuple[Header, list[Table]]]) -> list[Table]:
    """Each table with the rows and lines that can belong to it."""
    if len(chosen) < 2:
        return [table for _, tables in chosen for table in tables]
    starts = [_first_line(header, tables[0]) for header, tables in chosen]
    starts[0] = 0
    common = (chosen[0][0].rows[0], chosen[-1][0].rows[0])
    bounded = []
    for place, (_, tables) in enumerate(chosen):
        last = place + 1 == len(chosen)
        end = len(tables[0].grid.rows) if last else starts[place + 1]
        lines = (starts[place], end)
        bounded += [replace(table, end=end, lines=lines, common=common) for table in tables]
    return bounded


def _first_line(header: Header, table: Table) -> int:
    """The first of the lines right above a header; an empty row parts them from what is above."""
    row = header.rows[0]
    rows = (table.sheet or table.grid).rows
    while row and 0 < sum(cell not in (None, "") for cell in rows[row - 1]) < 3:
        row -= 1
    return row


def _likeliest(headers: Sequence[tuple[Header, Table]]) -> list[tuple[Header, Table]]:
    """The headers that come closest, of those in which nothing is claimed twice."""
    good = [each for each in headers if each[1].places and not each[1].doubled]
    return sorted(good, key=lambda each: worth(*each), reverse=True)[:_MOST_TRIED]


def _told_by_lines(headers: Sequence[tuple[Header, Table]], headings: Headings) -> list[Table]:
    """The best table to which lines around its rows give what its columns lack."""
    for _, table in _likeliest(headers):
        for each in parted(table, headings):
            entries = entries_of(each, headings)
            # Lines that gave both would make a table of any row of labels.
            own = not {*IDENTITY, "on"}.isdisjoint(table.places)
            if own and not entries.table.missing and not entries.table.doubled and entries.rows:
                return [each]
    return []


def _found(tables: Sequence[Table], headings: Headings, said: Mapping[str, Said]) -> Found:
    entries = []
    unread: list[int] = []
    for table in tables:
        whole = _said_of(corrected(table, headings), said)
        found = entries_of(suggested(whole, headings), headings)
        entries.append(found)
        unread += found.unread
    return Found(tuple(entries), tuple(unread))


def _said_of_sheet(table: Table, headings: Headings) -> Mapping[str, Said]:
    """What the lines above cards or visits across say of all of them."""
    sheet = table.sheet or table.grid
    first = min([*table.header_rows, *(table.view.rows or ())], default=0)
    return said_above(Lines(headings), ((row, sheet.rows[row]) for row in range(first)), View())

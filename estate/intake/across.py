"""Tables in which the visits lie across: days over columns, or the same headings again for each visit."""

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import replace

from estate.domain.layouts import Form
from estate.domain.phrases import phrase
from estate.errors import IntakeFault
from estate.intake.grid import Cell, Grid, is_blank, words_of
from estate.intake.headings import Column, Headings
from estate.intake.sections import day_in, is_other_day, is_sum
from estate.intake.table import IDENTITY, PLACES, Table
from estate.intake.view import Place, View

_SEARCH_ROWS = 60
_FEWEST_DAYS = 2
_MOST_BEFORE = 6
"""So many words may stand in a title before what was measured."""
MOST_ENTRIES = 200_000
"""Outlets and days together; more are refused."""
Line = Sequence[tuple[Cell, Place | None]]


def days_across(grid: Grid, headings: Headings) -> Table | None:
    """The table of a sheet whose days stand in the header, each over its visit; None if it has none."""
    on = headings.field("on")
    if on is None:
        return None
    for row in range(min(len(grid.rows), _SEARCH_ROWS)):
        found = {column: day_in(cell, headings) for column, cell in enumerate(grid.rows[row])}
        days = {column: cell for column, cell in found.items() if cell is not None}
        others = [text for index, text in _texts(grid, row).items() if index not in days]
        if days and min(days) > 0 and not any(":" in text or is_other_day(text, headings) for text in others):
            table = _grouped(grid, row, days, headings) or _bare(grid, row, days, headings)
            if table is not None:
                return table
    return None


def visits_beside(grid: Grid, headings: Headings) -> Table | None:
    """The table of a sheet whose headings come again for each visit, its day among them, or None."""
    for row in range(min(len(grid.rows), _SEARCH_ROWS)):
        lower = _texts(grid, row)
        days = [index for index, text in lower.items() if headings.hint(text) == "on"]
        if len(days) < _FEWEST_DAYS:
            continue
        width = days[1] - days[0]
        starts = _starts(lower, days, width)
        groups = {
            start: [column for column in range(start, start + width) if column in lower] for start in starts
        }
        upper = _group_words(grid, row, min(starts), lower)
        wanted = {
            start: group
            for start, group in groups.items()
            if not is_other_day(upper.get(start, ""), headings)
        }
        table = _repeated(grid, row, groups, wanted, headings) if wanted else None
        if table is not None:
            return table
    return None


def _starts(lower: Mapping[int, str], days: Sequence[int], width: int) -> list[int]:
    """Where each group begins: as far before its day as all of them have the same headings."""
    lead = 0
    while lead < width - 1 and all(
        lower.get(day - lead - 1, "") == lower.get(days[0] - lead - 1, "") != "" for day in days
    ):
        lead += 1
    return [day - lead for day in days]


def _group_words(grid: Grid, row: int, first: int, lower: Mapping[int, str]) -> dict[int, str]:
    """The words above each column from the first group on, up to the next words."""
    spread: dict[int, str] = {}
    above = _texts(grid, row - 1) if row else {}
    for index in range(first, max(lower) + 1):
        said = above.get(index, spread.get(index - 1, ""))
        spread[index] = said
    return spread


def _repeated(
    grid: Grid,
    row: int,
    groups: Mapping[int, Sequence[int]],
    wanted: Mapping[int, Sequence[int]],
    headings: Headings,
) -> Table | None:
    inside = {column for group in groups.values() for column in group}
    lower = _texts(grid, row)
    first = [lower[index] for index in next(iter(groups.values()))]
    if any([lower[index] for index in group] != first for group in groups.values()):
        return None
    top = row - 1 if row and not {*_texts(grid, row - 1)}.isdisjoint(inside) else row
    upper = _texts(grid, top) if top != row else {}
    identity = _identity(upper, lower, inside, headings)
    measures = headings.understand(enumerate(first)).columns
    return _unpivoted(grid, tuple(range(top, row + 1)), identity, measures, {}, wanted, headings)


def _grouped(grid: Grid, row: int, days: Mapping[int, Cell], headings: Headings) -> Table | None:
    """Days over groups of equal headings."""
    if row + 1 >= len(grid.rows):
        return None
    lower = _texts(grid, row + 1)
    groups = _groups(grid, row, days, lower)
    if not groups:
        return None
    inside = {column for group in groups.values() for column in group}
    first = [lower[index] for index in next(iter(groups.values()))]
    alike = all([lower[index] for index in group] == first for group in groups.values())
    one = len(groups) == 1 and not any(top == row and right > left for top, left, _, right in grid.merged)
    if not alike or one:
        return None
    upper = {index: text for index, text in _texts(grid, row).items() if index not in days}
    identity = _identity(upper, lower, inside, headings)
    if not any(column.field for column in identity):
        return None
    measures = headings.understand(enumerate(first)).columns
    return _unpivoted(grid, (row, row + 1), identity, measures, days, groups, headings)


def _identity(
    upper: Mapping[int, str], lower: Mapping[int, str], inside: Collection[int], headings: Headings
) -> Sequence[Column]:
    """The columns outside the groups, whose headings stand in either row of the header or in both."""
    outer = sorted(index for index in upper.keys() | lower.keys() if index not in inside)
    both = ((index, f"{upper.get(index, '')} {lower.get(index, '')}") for index in outer)
    return headings.understand(both).columns


def _groups(grid: Grid, row: int, days: Mapping[int, Cell], lower: Mapping[int, str]) -> dict[int, list[int]]:
    """The columns under each day: by merged cells, else up to the next day."""
    merged = {left: right for top, left, _, right in grid.merged if top == row and right > left}
    starts = sorted(days)
    groups = {}
    for place, start in enumerate(starts):
        after = starts[place + 1] if place + 1 < len(starts) else max(lower, default=start) + 1
        end = merged[start] + 1 if start in merged else after
        groups[start] = [column for column in range(start, min(end, after)) if column in lower]
    return {start: group for start, group in groups.items() if group}


def _bare(grid: Grid, row: int, days: Mapping[int, Cell], headings: Headings) -> Table | None:
    """Days over single cells, whose meaning a line above gives."""
    if len(days) < _FEWEST_DAYS:
        return None
    upper = {index: text for index, text in _texts(grid, row).items() if index not in days}
    identity = headings.understand(sorted(upper.items())).columns
    measure = _measure_above(grid, row, headings)
    if measure is None or not any(column.field for column in identity):
        return None
    groups = {column: [column] for column in days}
    return _unpivoted(grid, (row,), identity, (measure,), days, groups, headings)


def days_alone(grid: Grid, headings: Headings) -> int | None:
    """The row of a sheet in which days stand over cells of which nothing says what was measured, or None."""
    for row in range(min(len(grid.rows), _SEARCH_ROWS)):
        days = {column for column, cell in enumerate(grid.rows[row]) if day_in(cell, headings) is not None}
        texts = [text for index, text in _texts(grid, row).items() if index not in days]
        named = {headings.hint(text) for text in texts}
        if len(days) >= _FEWEST_DAYS and not named.isdisjoint((*IDENTITY, *PLACES)):
            return row
    return None


def _measure_above(grid: Grid, row: int, headings: Headings) -> Column | None:
    """What the lines above a header say was measured; None where they say nothing or several things."""
    found: dict[str, Column] = {}
    for index in range(row):
        for text in _texts(grid, index).values():
            named = _measures_in(text, headings)
            if len(named) > 1:
                return None
            found |= {column.field.name: column for column in named if column.field is not None}
    return next(iter(found.values())) if len(found) == 1 else None


def _measures_in(text: str, headings: Headings) -> Sequence[Column]:
    """What a title says was measured, with or without words such as "monthly" before it.

    Returns:
        Nothing where it names no measurement, two columns where it names more than one or something else.
    """
    pieces = text.split()
    for start in range(min(len(pieces), _MOST_BEFORE)):
        (column,) = headings.understand([(0, " ".join(pieces[start:]))]).columns
        if column.field is not None:
            # "Hot and cold" is no heading, but "cold" alone is one.
            alone = column.field.holds == "number" and not any(map(headings.knows, pieces[:start]))
            return (column,) if alone else (column, column)
    return ()


def _unpivoted(
    grid: Grid,
    header: tuple[int, ...],
    identity: Sequence[Column],
    measures: Sequence[Column],
    days: Mapping[int, Cell],
    groups: Mapping[int, Sequence[int]],
    headings: Headings,
) -> Table | None:
    """A row for each outlet and day of which something is filled."""
    own = [column for column in identity if column.heading]
    laid = [replace(column, index=place) for place, column in enumerate(own)]
    if days:
        laid.append(Column(len(own), "", headings.field("on"), None, "values"))
    first = len(laid)
    laid += [replace(column, index=first + column.index) for column in measures]
    table = Table(grid, headings.kind, (0,), tuple(laid), Form.ACROSS)
    if table.missing or table.doubled:
        return None
    lines = list(_lines(grid, header, own, days, groups, headings))
    if len(lines) > MOST_ENTRIES:
        detail = phrase(
            "Sheet “{name}” has more than {most_entries:,} outlets and days together.",
            name=grid.name,
            most_entries=MOST_ENTRIES,
        )
        raise IntakeFault("The sheet is too big", detail, "Bring it in in parts.")
    rows: list[list[Cell]] = [[column.heading for column in table.columns]]
    rows += [[cell for cell, _ in line] for _, line in lines]
    places: list[list[Place | None]] = [
        [None] * len(laid),
        *([place for _, place in line] for _, line in lines),
    ]
    view = View(rows=[header[-1], *(row for row, _ in lines)], places=places)
    return replace(table, grid=replace(grid, rows=rows, merged=()), view=view, header_rows=header, sheet=grid)


def _lines(
    grid: Grid,
    header: tuple[int, ...],
    own: Sequence[Column],
    days: Mapping[int, Cell],
    groups: Mapping[int, Sequence[int]],
    headings: Headings,
) -> Iterator[tuple[int, Line]]:
    """Each outlet with each group in which something is filled: its row, and its cells with their places."""
    for index in range(header[-1] + 1, len(grid.rows)):
        own_cells = [(grid.at(index, column.index), (index, column.index)) for column in own]
        first = next((words_of(cell) for cell, _ in own_cells if not is_blank(cell)), "")
        if not first or is_sum(first, headings):
            continue
        for start, group in groups.items():
            cells = [(grid.at(index, column), (index, column)) for column in group]
            if all(is_blank(cell) for cell, _ in cells):
                continue
            day = [(days[start], (header[0], start))] if days else []
            yield index, [*own_cells, *day, *cells]


def _texts(grid: Grid, row: int) -> dict[int, str]:
    return {index: words_of(cell) for index, cell in enumerate(grid.rows[row]) if not is_blank(cell)}

"""Where the header of a table is: on any row or over two or three, titles above."""

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from estate.domain.cell_names import place_name
from estate.domain.phrases import phrase
from estate.errors import IntakeFault
from estate.intake.grid import Cell, Grid, is_blank, words_of
from estate.intake.headings import Column, Headings
from estate.intake.shape_words import shape_words
from estate.intake.table import Table
from estate.intake.words import fold

HEADER_SEARCH_ROWS = 200
HEADER_SEARCH_CELLS = 8_000
"""A first header further down than these is not looked for."""
MOST_HEADERS = 2_000
"""A sheet with more rows that look like headers is refused."""
DEEPEST_HEADER = 3

_WITHOUT_DIGITS = 3
_DIGIT = re.compile(r"\d")
_FEWEST_KNOWN = 3
"""So many headings that are understood make a row further down a header."""


@dataclass(frozen=True, slots=True)
class Header:
    """Rows that may be the header of a table, and what their columns mean.

    Attributes:
        rows: 0-based, one to three.
        layout: name of the remembered layout that gave them their meaning.
    """

    rows: tuple[int, ...]
    columns: tuple[Column, ...]
    layout: str | None = None


def table_of(grid: Grid, header: Header, headings: Headings) -> Table:
    """The table under a header, its columns as the headings say."""
    return Table(grid, headings.kind, header.rows, header.columns, layout=header.layout)


def headers_in(grid: Grid, headings: Headings) -> Iterator[Header]:
    """Every row, or two or three, that may be a header."""
    left = HEADER_SEARCH_CELLS
    far = 0
    for row in range(len(grid.rows)):
        left -= len(grid.rows[row])
        near = row < HEADER_SEARCH_ROWS and left >= 0
        if not near and not _is_known_header(grid.rows[row], headings):
            continue
        far += not near
        if far > MOST_HEADERS:
            raise IntakeFault(
                "The sheet has too many headers",
                phrase(
                    "Sheet “{name}” has more than {most_headers:,} rows of headings.",
                    name=grid.name,
                    most_headers=MOST_HEADERS,
                ),
                "Bring it in in parts.",
            )
        yield from _ending_in(grid, headings, row)


def _is_known_header(cells: Sequence[Cell], headings: Headings) -> bool:
    """Whether a row far down is a header by its words."""
    texts: list[str] = []
    for cell in cells:
        if cell is None:
            continue
        # Numbers, days and references tell most rows of data from a header at their first cells.
        if type(cell) is not str or (len(texts) < _WITHOUT_DIGITS and _DIGIT.search(cell)):
            return False
        texts.append(cell)
    return len(texts) >= _FEWEST_KNOWN and sum(map(headings.knows, texts)) >= _FEWEST_KNOWN


def _ending_in(grid: Grid, headings: Headings, row: int) -> Iterator[Header]:
    """The headers whose last row is a row of the grid."""
    cells = _texts(grid.rows[row])
    stacked = [
        header
        for depth in range(2, DEEPEST_HEADER + 1)
        if (header := _stacked(grid, headings, row - depth + 1, row)) is not None
    ]
    yield from stacked
    grouped = any(not table_of(grid, each, headings).missing for each in stacked[:1])
    grouped = grouped and _is_group_row(grid, row - 1, row)
    # Where group words stand above, the headings alone could mean another thing.
    if len(cells) > 1 and not grouped and _wordy_cells(grid.rows[row]) * 2 > len(cells):
        understood = headings.understand(cells.items())
        layout = understood.layout.name if understood.layout else None
        columns = (
            understood.columns
            if layout is not None
            else _not_earlier(grid, row, understood.columns, headings)
        )
        yield Header((row,), columns, layout)


def _stacked(grid: Grid, headings: Headings, top: int, bottom: int) -> Header | None:
    """The header of a row of headings and the rows of group words above it."""
    if top < 0 or not _is_wordy(grid.rows[bottom]):
        return None
    lower = _texts(grid.rows[bottom])
    if not lower or not all(_texts(grid.rows[row]) for row in range(top, bottom)):
        return None
    uppers = []
    for row in range(top, bottom):
        below = _joined([*[_texts(grid.rows[each]) for each in range(row + 1, bottom + 1)]])
        uppers.append(_spread(grid, row, _texts(grid.rows[row]), below))
    whole = _joined([*uppers, lower])
    understood = headings.understand(sorted(whole.items()))
    layout = understood.layout.name if understood.layout else None
    columns = understood.columns
    if layout is None:
        columns = _without_this_visit(uppers, lower, columns, headings)
    return Header(tuple(range(top, bottom + 1)), columns, layout)


def _joined(levels: Sequence[Mapping[int, str]]) -> dict[int, str]:
    """The words of each column from the highest row to the lowest."""
    indices = sorted({index for level in levels for index in level})
    return {index: " ".join(level[index] for level in levels if index in level) for index in indices}


def _without_this_visit(
    uppers: Sequence[Mapping[int, str]],
    lower: Mapping[int, str],
    columns: Sequence[Column],
    headings: Headings,
) -> tuple[Column, ...]:
    """Understand headings under words such as "this visit" by themselves."""
    now = shape_words().now
    found = []
    for column in columns:
        above = " ".join(upper[column.index] for upper in uppers if column.index in upper)
        pieces = fold(above).split()
        if column.field is None and column.index in lower and pieces and now.issuperset(pieces):
            (alone,) = headings.understand([(column.index, lower[column.index])]).columns
            taken = any(each.field == alone.field for each in columns if each.field)
            if alone.field and not taken:
                found.append(
                    Column(column.index, column.heading, alone.field, alone.unit, "words", alone.sure)
                )
                continue
        found.append(column)
    return tuple(found)


def _not_earlier(grid: Grid, row: int, columns: Sequence[Column], headings: Headings) -> tuple[Column, ...]:
    """Leave out the columns under group words that name an earlier visit or a limit."""
    first = min((column.index for column in columns), default=0)
    upper = enumerate(grid.rows[row - 1]) if row else ()
    said = {index: words_of(cell) for index, cell in upper if isinstance(cell, str) and cell.strip()}
    inner = {index: text for index, text in said.items() if index > first}
    if not inner or any(":" in text for text in said.values()):
        return tuple(columns)
    above = _spread(grid, row - 1, inner, _texts(grid.rows[row]))
    return tuple(
        Column(column.index, column.heading)
        if column.index in above and headings.words.is_set_aside(above[column.index])
        else column
        for column in columns
    )


def _spread(grid: Grid, top: int, upper: Mapping[int, str], lower: Mapping[int, str]) -> dict[int, str]:
    """Group words carried over the columns they stand above: by merged cells, else up to the next group."""
    spread = dict(upper)
    ranges = [merged for merged in grid.merged if merged[0] <= top <= merged[2] and merged[3] > merged[1]]
    if ranges:
        last = max(lower, default=-1)
        for _, left, _, right in ranges:
            spread |= {index: upper[left] for index in range(left, min(right, last) + 1) if left in upper}
        return spread
    for index in sorted(lower):
        if index not in spread and index - 1 in spread:
            spread[index] = spread[index - 1]
    return spread


def _is_group_row(grid: Grid, row: int, header: int) -> bool:
    """Whether a row holds words above headings, rather than a title or a line of facts about the sheet."""
    cells = _texts(grid.rows[row])
    first = min(_texts(grid.rows[header]), default=0)
    inner = {index: text for index, text in cells.items() if index > first}
    return bool(inner) and not any(":" in text or re.search(r"\d{2}", text) for text in cells.values())


def _texts(cells: Sequence[Cell]) -> dict[int, str]:
    return {index: words_of(cell) for index, cell in enumerate(cells) if not is_blank(cell)}


def _is_wordy(cells: Sequence[Cell]) -> bool:
    """Whether a row may stand under group words: texts that do not begin with a digit."""
    return _wordy_cells(cells) == sum(not is_blank(cell) for cell in cells)


def _wordy_cells(cells: Sequence[Cell]) -> int:
    return sum(
        isinstance(cell, str) and not cell.strip()[:1].isdigit() and bool(cell.strip()) for cell in cells
    )


def worth(header: Header, table: Table) -> tuple[bool, int, int, int]:
    """What makes a header better than another: nothing claimed twice, more fields, more units, higher up."""
    units = sum(column.unit is not None for column in table.known)
    return not table.doubled, len(table.places), units, -header.rows[0]


def nearest(grid: Grid, headings: Headings) -> Table | None:
    """The row that comes closest to a header, to tell the person what was found; None in an empty sheet."""
    found = [table_of(grid, header, headings) for header in headers_in(grid, headings)]
    return max(found, key=lambda table: (len(table.places), len(table.columns)), default=None)


def doubled_fault(table: Table) -> IntakeFault:
    """The fault that two columns of a table claim the same field."""
    name = table.doubled[0]
    both = [column for column in table.known if column.field and column.field.name == name]
    row = table.header[-1]
    places = " and ".join(
        f"“{each.heading}” in {table.named(row, each.index) or place_name(row, each.index)}" for each in both
    )
    detail = phrase(
        "Sheet “{name}”: {places} both look like {meaning}.",
        name=table.grid.name,
        places=places,
        meaning=name,
    )
    return IntakeFault(
        "Two columns claim the same thing", detail, "Rename or remove one of them and bring it in again."
    )

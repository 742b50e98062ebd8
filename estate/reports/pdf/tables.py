"""Tables as blocks: a head that repeats, group headings that stay with their rows, rows that wrap."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from estate.reports.document import Cell, Column, Group, Kind, Marked, Row, Table
from estate.reports.pdf.cells import cell_words
from estate.reports.pdf.ink import (
    ACCENT,
    BODY_HEIGHT,
    LINE_WIDTH,
    QUIET,
    TINT,
    Block,
    Box,
    Entry,
    Face,
    Shape,
    Stroke,
    Style,
    Words,
    hair,
)
from estate.reports.pdf.lettering import elided, lines_of, width_of

_LEADING = 10.4
_PAD = 3.2
_GUTTER = 8.0
_GUTTER_AFTER_NUMBER = 16.0
_MARK_ROOM = 10.0
_KEPT_WHOLE = 16
_TALLEST = int((BODY_HEIGHT - 110) // _LEADING)

_CELL = Style(Face.PLAIN, 8.4)
_STRONG = Style(Face.BOLD, 8.4)
_BELOW = Style(Face.PLAIN, 7.4, QUIET)
_HEAD = Style(Face.BOLD, 7.8)
_HEAD_BELOW = Style(Face.PLAIN, 7.4, QUIET)
_GROUP = Style(Face.BOLD, 9.6, ACCENT)
_GROUP_QUIET = Style(Face.PLAIN, 8, QUIET)

Line = tuple[str, Style]


@dataclass(frozen=True)
class _Lane:
    """One column of the page: a column of the table and those that stand beneath it.

    Attributes:
        places: positions in the row's cells, the upper one first.
        tallest: the greatest number of a bar lane, which fills its width.
    """

    x: float
    width: float
    columns: tuple[Column, ...]
    places: tuple[int, ...]
    tallest: float

    @property
    def kind(self) -> Kind:
        return self.columns[0].kind

    @property
    def words_width(self) -> float:
        return self.width - self.indent

    @property
    def indent(self) -> float:
        return _MARK_ROOM if self.kind is Kind.MARK else 0.0


def table_blocks(table: Table) -> Iterator[Block]:
    """The blocks of a table, in order."""
    lanes = _lanes(table)
    head = _head(lanes)
    yield head
    whole = not table.group_columns and table.row_count <= _KEPT_WHOLE
    for group in table.groups:
        again: tuple[Block, ...] = (head,)
        if table.group_columns:
            path = _path_words(table, group)
            yield replace(_group_heading(path, ""), repeat=(head,), entry=Entry(1, path))
            again = (head, _group_heading(path, "continued"))
        for row in group.rows:
            for block in _row_blocks(row, lanes, again):
                yield replace(block, keeps_next=whole)
    yield Block(12)


def _path_words(table: Table, group: Group) -> str:
    """The heading of a group; a part that is only a number is told what it counts: ``level 2``."""
    named = zip(table.group_columns, group.path, strict=True)
    parts = [
        f"{title.lower()} {part}" if part.isdecimal() else elided(part, 160) for title, part in named if part
    ]
    return " · ".join(parts) or "place not given"


def _lanes(table: Table) -> list[_Lane]:
    lanes: list[_Lane] = []
    x = 0.0
    for place, column in enumerate(table.columns):
        if column.below and lanes:
            upper = lanes[-1]
            lanes[-1] = replace(upper, columns=(*upper.columns, column), places=(*upper.places, place))
            continue
        width = column.room / 100 * LINE_WIDTH
        gutter = _GUTTER_AFTER_NUMBER if column.kind.numeric else _GUTTER
        lanes.append(_Lane(x, width - gutter, (column,), (place,), _tallest(table, place, column)))
        x += width
    return [*lanes[:-1], replace(lanes[-1], width=x - lanes[-1].x)]


def _tallest(table: Table, place: int, column: Column) -> float:
    if column.kind is not Kind.BAR:
        return 0.0
    numbers = (row.cells[place] for group in table.groups for row in group.rows)
    return max((float(number) for number in numbers if isinstance(number, int | float)), default=0.0)


def _head(lanes: Sequence[_Lane]) -> Block:
    columns = [_head_lines(lane) for lane in lanes]
    count = max(len(lines) for lines in columns)
    height = count * _LEADING + 2 * _PAD + 1
    width = lanes[-1].x + lanes[-1].width
    strokes: list[Stroke] = [hair(height - 0.8, width=width, colour=ACCENT, thick=0.8)]
    for lane, lines in zip(lanes, columns, strict=True):
        strokes += _set(lane, [("", _HEAD)] * (count - len(lines)) + lines)
    return Block(height, tuple(strokes), keeps_next=True)


def _head_lines(lane: _Lane) -> list[Line]:
    first, *below = lane.columns
    lines: list[Line] = [(line, _HEAD) for line in lines_of(first.title, _HEAD, lane.width)]
    if first.unit:
        lines.append((first.unit, _HEAD_BELOW))
    for column in below:
        lines += [(line, _HEAD_BELOW) for line in lines_of(column.title, _HEAD_BELOW, lane.width)]
    return lines


def _group_heading(path: str, remark: str) -> Block:
    lines = lines_of(path, _GROUP, LINE_WIDTH - 70)
    strokes: list[Stroke] = [Words(0, 17.5 + 12 * n, line, _GROUP) for n, line in enumerate(lines)]
    if remark:
        after = width_of(lines[-1], _GROUP) + 7
        strokes.append(Words(after, 17.5 + 12 * (len(lines) - 1), remark, _GROUP_QUIET))
    return Block(11 + 12.0 * len(lines), tuple(strokes), keeps_next=True)


def _row_blocks(row: Row, lanes: Sequence[_Lane], again: tuple[Block, ...]) -> Iterator[Block]:
    """One block a row; a row taller than a page goes on in further blocks."""
    columns = [_lines(lane, row) for lane in lanes]
    count = max(1, *(len(lines) for lines in columns))
    for start in range(0, count, _TALLEST):
        part = [lines[start : start + _TALLEST] for lines in columns]
        yield _row_block(row, lanes, part, again, first=start == 0, last=start + _TALLEST >= count)


def _row_block(
    row: Row,
    lanes: Sequence[_Lane],
    part: Sequence[list[Line]],
    again: tuple[Block, ...],
    *,
    first: bool,
    last: bool,
) -> Block:
    height = max(1, *(len(lines) for lines in part)) * _LEADING + 2 * _PAD
    width = lanes[-1].x + lanes[-1].width
    strokes: list[Stroke] = [hair(height - 0.4, width=width)] if last else []
    if row.strong:
        strokes.insert(0, Box(-3, 0, width + 6, height, TINT))
    for lane, lines in zip(lanes, part, strict=True):
        strokes += _set(lane, lines, lane.indent)
        strokes += _drawn(lane, row.cells[lane.places[0]]) if first else []
    return Block(height, tuple(strokes), repeat=again)


def _lines(lane: _Lane, row: Row) -> list[Line]:
    lines: list[Line] = []
    style = _STRONG if row.strong else _CELL
    for place, column in zip(lane.places, lane.columns, strict=True):
        words = cell_words(row.cells[place], column.kind)
        lines += [(line, style) for line in lines_of(words, style, lane.words_width)]
        style = _BELOW
    return lines


def _set(lane: _Lane, lines: Sequence[Line], indent: float = 0.0) -> list[Stroke]:
    strokes: list[Stroke] = []
    for number, (text, style) in enumerate(lines):
        if not text:
            continue
        x = lane.x + lane.width - width_of(text, style) if lane.kind.numeric else lane.x + indent
        strokes.append(Words(x, _PAD + _LEADING * (number + 0.76), text, style))
    return strokes


def _drawn(lane: _Lane, cell: Cell) -> list[Stroke]:
    if isinstance(cell, Marked):
        return [Shape(lane.x, _PAD + 1.6, cell.mark)]
    if lane.kind is Kind.BAR and isinstance(cell, int | float) and cell > 0:
        return [Box(lane.x, _PAD + 2.2, lane.width * cell / lane.tallest, _LEADING - 4.4, ACCENT)]
    return []

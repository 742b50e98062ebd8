"""Tables of cards: one card a valve, each value beside its label."""

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from estate.domain.layouts import Form
from estate.intake.by_values import with_unit
from estate.intake.grid import Cell, Grid, is_blank, words_of
from estate.intake.headings import Column, Headings
from estate.intake.table import Table
from estate.intake.view import Place, View

_FURTHEST = 3
"""A value stands at most so many columns behind its label."""
_MOST_CELLS = 200_000
_FEWEST_LABELS = 3
_ANCHORS = ("reference", "key", "outlet", "room", "room_number", "on")


@dataclass(frozen=True, slots=True)
class _Label:
    """A label and its value: beside it, or behind a colon in the same cell."""

    place: Place
    text: str
    value: Cell
    at: Place


@dataclass(frozen=True, slots=True)
class _Card:
    labels: tuple[_Label, ...]

    @property
    def headings(self) -> tuple[str, ...]:
        return tuple(label.text for label in self.labels)


def cards_in(grid: Grid, headings: Headings) -> list[Table]:
    """The cards of a sheet, those with the same labels as one table; none where the sheet has no cards."""
    if sum(map(len, grid.rows)) > _MOST_CELLS:
        return []
    labels = list(_labels(grid, headings))
    if len(labels) < _FEWEST_LABELS or any(_is_in_header(label, headings) for label in labels):
        return []
    cards = _cards(labels, headings)
    alike = dict.fromkeys(card.headings for card in cards)
    return [_table(grid, [card for card in cards if card.headings == same], headings) for same in alike]


def _labels(grid: Grid, headings: Headings) -> Iterator[_Label]:
    """Every label of the sheet with its value, in reading order."""
    found = {
        (row, column): text
        for row, cells in enumerate(grid.rows)
        for column, cell in enumerate(cells)
        if isinstance(cell, str) and (text := _label_text(cell, headings))
    }
    columns = _label_columns(grid, found)
    found = {place: text for place, text in found.items() if place[1] in columns}
    distance = _distances(grid, found, headings)
    found = dict(sorted({**_others(grid, distance), **found}.items()))
    for (row, column), text in found.items():
        own = words_of(grid.at(row, column)).partition(":")[2].strip()
        at = (row, column) if own else (row, column + distance[column])
        if at in found and not own:
            yield _Label((row, column), text, found[at], at)
        else:
            yield _Label((row, column), text, own or _with_unit(grid, at, found, headings), at)


def _is_in_header(label: _Label, headings: Headings) -> bool:
    """Whether a label stands in a row of headings: the next one is where a number or a day would be."""
    field = headings.field(headings.hint(label.text))
    measured = field is not None and field.holds in ("number", "date")
    return measured and isinstance(label.value, str) and headings.knows(label.value)


def _label_columns(grid: Grid, labels: Mapping[Place, str]) -> set[int]:
    """The columns in which labels stand: a value may be "Adjusted", which is a label elsewhere."""
    counts = Counter(column for _, column in labels)
    filled = Counter(
        column
        for cells in grid.rows
        for column, cell in enumerate(cells)
        if column in counts and not is_blank(cell)
    )
    texts = Counter(column for column, _ in {(place[1], text) for place, text in labels.items()})
    return {
        column
        for column, count in counts.items()
        if count * 2 >= filled[column] or (texts[column] >= _FEWEST_LABELS and count * 4 >= filled[column])
    }


def _others(grid: Grid, distances: Mapping[int, int]) -> dict[Place, str]:
    """The texts in columns of labels that are not known, where they have a value beside them anywhere."""
    found: dict[Place, str] = {}
    valued: set[str] = set()
    for row, cells in enumerate(grid.rows):
        for column, distance in distances.items():
            cell = cells[column] if column < len(cells) else None
            if isinstance(cell, str) and (text := " ".join(cell.split()).rstrip(": ")) and ":" not in text:
                found[row, column] = text
                if not is_blank(grid.at(row, column + distance)):
                    valued.add(text)
    return {place: text for place, text in found.items() if text in valued}


def _label_text(cell: str, headings: Headings) -> str:
    """The label that a cell begins with; empty where it is none."""
    label, colon, _ = cell.partition(":")
    text = " ".join(label.split())
    return text if text and (headings.knows(text) or bool(colon and headings.knows(cell))) else ""


def _distances(grid: Grid, labels: Mapping[Place, str], headings: Headings) -> dict[int, int]:
    """How far behind each column of labels its values stand: the nearest column that holds any."""
    taken = {column for _, column in labels}
    found = {}
    for column in taken:
        rows = [row for row, each in labels if each == column]
        found[column] = next(
            (
                distance
                for distance in range(1, _FURTHEST + 1)
                if column + distance not in taken and _holds_values(grid, rows, column + distance, headings)
            ),
            1,
        )
    return found


def _holds_values(grid: Grid, rows: Sequence[int], column: int, headings: Headings) -> bool:
    """Whether a column has more than units beside labels."""
    cells = [cell for row in rows if not is_blank(cell := grid.at(row, column))]
    return any(not isinstance(cell, str) or not headings.words.units_written(cell) for cell in cells)


def _with_unit(grid: Grid, at: Place, labels: Mapping[Place, str], headings: Headings) -> Cell:
    """A value, with the unit that stands in the cell behind it."""
    cell, beside = grid.at(*at), grid.at(at[0], at[1] + 1)
    is_unit = isinstance(beside, str) and bool(headings.words.units_written(beside))
    return with_unit(cell, str(beside)) if is_unit and (at[0], at[1] + 1) not in labels else cell


def _cards(labels: Sequence[_Label], headings: Headings) -> list[_Card]:
    """The labels, parted into cards: by columns where cards stand side by side, then down the sheet."""
    named = {label.text: headings.hint(label.text) for label in labels}
    anchor = next((name for name in _ANCHORS if name in named.values()), "")
    if not anchor:
        anchor = Counter(label.text for label in labels).most_common(1)[0][0]
        named = {text: text for text in named}
    anchors = [label for label in labels if named[label.text] == anchor]
    bands = sorted({label.place[1] for label in anchors})
    lead = bands[0] - min(label.place[1] for label in labels)
    starts = [column - lead for column in bands]
    cards = []
    for start, end in zip(starts, [*starts[1:], None], strict=True):
        own = [each for each in labels if start <= each.place[1] and (end is None or each.place[1] < end)]
        cards += _down(own, [each for each in own if named[each.text] == anchor])
    return cards


def _down(labels: Sequence[_Label], anchors: Sequence[_Label]) -> list[_Card]:
    """Part one band: every card begins as far above its anchor as all of them do."""
    starts = [labels.index(anchor) for anchor in anchors]
    lead = _lead(labels, starts)
    starts = [start - lead for start in starts]
    return [
        _Card(tuple(labels[start:end])) for start, end in zip(starts, [*starts[1:], len(labels)], strict=True)
    ]


def _lead(labels: Sequence[_Label], starts: Sequence[int]) -> int:
    """How many labels before the anchor each card has: those that all of them have, at the same distance."""
    if len(starts) == 1:
        return starts[0]
    lead = 0
    while all(start - lead - 1 >= 0 for start in starts):
        before = [labels[start - lead - 1] for start in starts]
        offsets = {
            (label.text, labels[start].place[0] - label.place[0])
            for label, start in zip(before, starts, strict=True)
        }
        if len(offsets) > 1:
            break
        lead += 1
    return lead


def _table(grid: Grid, cards: Sequence[_Card], headings: Headings) -> Table:
    understood = headings.understand(enumerate(cards[0].headings))
    columns: list[Column] = list(understood.columns)
    rows: list[list[Cell]] = [list(cards[0].headings)]
    rows += [[label.value for label in card.labels] for card in cards]
    first = [min(label.place[0] for label in card.labels) for card in cards]
    places: list[list[Place | None]] = [[label.place for label in cards[0].labels]]
    places += [[label.at for label in card.labels] for card in cards]
    return Table(
        replace(grid, rows=rows, merged=()),
        headings.kind,
        (0,),
        tuple(columns),
        Form.CARDS,
        View(rows=[first[0], *first], places=places),
        layout=understood.layout.name if understood.layout else None,
        sheet=grid,
    )

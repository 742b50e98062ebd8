"""What lines between, above and beside the rows say of the rows under them: place, day, outlet."""

import re
from collections.abc import Iterable, Mapping, Sequence
from datetime import date
from itertools import zip_longest

from estate.domain.layouts import SheetKind
from estate.intake.dates import Days
from estate.intake.grid import Cell, is_blank
from estate.intake.headings import SURE, Headings
from estate.intake.shape_words import ShapeWords, shape_words
from estate.intake.table import IDENTITY, PLACES
from estate.intake.view import Place, Said, View
from estate.intake.words import Words, fold

MOST_IN_A_LABEL_LINE = 3
"""A line with more filled cells is no line of a label and what it says, unless it has a colon."""
_LONGEST_LINE = 80
_LONGEST_DAY = 40
_DAY = re.compile(r"(?<![\d/.-])\d{1,4}[./-]\d{1,2}[./-]\d{2,4}(?![\d/.-])")
_SOME_DIGIT = re.compile(r"\d")
_RANK = {name: place for place, name in enumerate(PLACES)}
Filled = Sequence[tuple[int, Cell]]


def filled_of(cells: Sequence[Cell]) -> list[tuple[int, Cell]]:
    """The cells of a row that hold something, each with its column."""
    return [(index, cell) for index, cell in enumerate(cells) if not is_blank(cell)]


def label_of(text: str) -> str:
    """The words before a colon, folded; all of them where there is none."""
    return fold(text.split(":", 1)[0])


class Lines:
    """Reads lines around a table.

    Args:
        headings: how headings of the sheet are understood.
    """

    def __init__(self, headings: Headings) -> None:
        self._headings = headings
        self._words = headings.words
        self._shapes: ShapeWords = shape_words()
        wanted = {*PLACES, *IDENTITY, "on"}
        self._fields = {name for name in wanted if headings.field(name) is not None}

    def labelled(self, filled: Filled, row: int, view: View) -> dict[str, Said]:
        """What a line says after labels: ``Building: North``, or ``Building`` and ``North`` beside it."""
        found: dict[str, Said] = {}
        for place, (column, cell) in enumerate(filled):
            if not isinstance(cell, str) or len(cell) > _LONGEST_LINE:
                continue
            name = self._label(cell, len(filled))
            if name is None or name in found:
                continue
            own = cell.partition(":")[2].strip()
            if own:
                found[name] = Said(own, view.place(row, column))
            elif place + 1 < len(filled):
                after, value = filled[place + 1]
                if not (isinstance(value, str) and ":" in value):
                    found[name] = Said(value, view.place(row, after))
        return found

    def _label(self, text: str, filled: int) -> str | None:
        if ":" not in text and filled > MOST_IN_A_LABEL_LINE:
            return None
        label = text.split(":", 1)[0].strip()
        name = self._named(label)
        return name if name in self._fields else None

    def _named(self, label: str) -> str | None:
        for kind in (self._headings.kind, SheetKind.ASSETS):
            named = self._words.named(kind, False, fold(label))
            names = [field.name for field in named if field.name in self._fields]
            if len(names) == 1:
                return names[0]
        own = self._headings.meaning(label, SURE)
        return own.field.name if own else self._shapes.places.get(fold(label))

    def alone(self, cell: Cell, place: Place | None, wordless: bool) -> dict[str, Said]:
        """What a cell alone in its line says: a place or a day.

        Args:
            cell: the cell.
            place: where it stands.
            wordless: whether a text without a known word names a building all the same.
        """
        if is_day(cell, self._headings):
            return {"on": Said(cell, place)} if "on" in self._fields else {}
        if not isinstance(cell, str) or len(cell) > _LONGEST_LINE or ":" in cell:
            return {}
        pieces = fold(cell).split()
        named = {self._shapes.places[piece] for piece in pieces if piece in self._shapes.places}
        if len(named) == 1 and len(pieces) > 1:
            (name,) = named
        elif wordless and not named:
            name = "building"
        else:
            return {}
        return {name: Said(cell, place)} if name in self._fields else {}


def is_day(cell: Cell, headings: Headings) -> bool:
    """Whether a cell is a day, or a text that can be nothing else; numbers are not."""
    if isinstance(cell, date):
        return True
    if (
        not isinstance(cell, str)
        or len(cell) > _LONGEST_DAY
        or not _SOME_DIGIT.search(cell)
        or cell.strip().isdigit()
    ):
        return False
    return isinstance(headings.days.days(cell), Days)


def day_in(cell: Cell, headings: Headings) -> Cell:
    """The day that a cell over a column tells, such as ``Visit 2 (17/10/2026)``; None where it tells none."""
    if is_day(cell, headings):
        return cell
    if not isinstance(cell, str) or len(cell) > _LONGEST_LINE:
        return None
    found = _DAY.findall(cell)
    rest = _DAY.sub(" ", cell)
    if len(found) != 1 or is_other_day(rest, headings):
        return None
    return found[0] if is_day(found[0], headings) else None


def is_other_day(text: str, headings: Headings) -> bool:
    """Whether words beside a day say that it is none of this visit."""
    words = headings.words
    return words.is_set_aside(text) or not words.labels["other_days"].isdisjoint(fold(text).split())


def is_sum(text: str, headings: Headings) -> bool:
    """Whether the first words of a row say that it holds a total, an average or a limit."""
    words = headings.words
    if any(map(str.isdigit, text)):
        return False
    pieces = fold(text).split()
    begun = (" ".join(pieces[:length]) for length in range(1, 4))
    return any(each in words.labels["totals"] for each in begun) or words.is_set_aside(text)


def merged_said(before: Mapping[str, Said], found: Mapping[str, Said]) -> dict[str, Said]:
    """What holds after a line: a place said anew ends the narrower ones said before."""
    ranks = [_RANK[name] for name in found if name in _RANK]
    kept = {
        name: said
        for name, said in before.items()
        if not (ranks and name in _RANK and _RANK[name] > min(ranks))
    }
    return kept | dict(found)


def said_above(lines: Lines, rows: Iterable[tuple[int, Sequence[Cell]]], view: View) -> dict[str, Said]:
    """What the lines above a table say of all its rows; the nearest line goes first."""
    said: dict[str, Said] = {}
    for row, cells in rows:
        said = merged_said(said, lines.labelled(filled_of(cells), row, view))
    return said


def labelled_in(cells: Sequence[str], group: str, words: Words) -> list[str]:
    """What stands after labels of a group in a line, in the same cell or the next filled one."""
    found = []
    for text, following in zip_longest(cells, cells[1:], fillvalue=""):
        plain = ":" not in text
        if label_of(text) not in words.labels[group] or (plain and len(cells) > MOST_IN_A_LABEL_LINE):
            continue
        said = text.partition(":")[2].strip() or ("" if ":" in following else following)
        if value := _said_after(said, words):
            found.append(value)
    return found


def _said_after(said: str, words: Words) -> str:
    """What a label says, up to a bracket, a dash or the next label in the same cell."""
    value = re.split(r"\s*\(|\s+[–—-]\s+|;", said, maxsplit=1)[0].strip()
    pieces = value.split()
    for start in range(1, len(pieces)):
        for end in range(start + 1, min(start + 3, len(pieces)) + 1):
            label = " ".join(pieces[start:end])
            if label.endswith(":") and any(fold(label) in known for known in words.labels.values()):
                return " ".join(pieces[:start])
    return value

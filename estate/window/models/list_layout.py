"""A list on paper: how wide its columns are, where its lines break, what stands on which page."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from enum import Enum, auto
from typing import Final

from estate.domain.shown_list import ShownCell, ShownGroup, ShownList

Advance = Callable[[str], float]
"""How wide some words are."""

GAP: Final = 10.0
"""Between two columns, in the unit of the page."""

_WIDEST_SHARE: Final = 0.28
_WORD_SHARE: Final = 0.2
_UNITS: Final = frozenset({"°C", "°F", "K", "%", "ml/min", "m", "s", "d"})


class Way(Enum):
    """How columns may be brought onto a page, the first that goes is the best."""

    EASY = auto()
    """All of them, and most words of each stay in one line."""
    TIGHT = auto()
    """All of them, lines breaking where they must; numbers and days never break."""
    PARTED = auto()
    """Onto several pages, each with the column that tells lines apart."""


@dataclass(frozen=True, slots=True)
class Strip:
    """Columns that stand side by side on one page.

    Attributes:
        places: of the columns.
        widths: of each.
    """

    places: tuple[int, ...]
    widths: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class Piece:
    """A line of the list as it breaks, or the heading of a group.

    Attributes:
        cells: for each column its lines of words; for a heading one entry.
        marks: for each column the name of its shape; empty for none.
        high: in lines of words.
        heading: whether it is the heading of a group.
    """

    cells: tuple[tuple[str, ...], ...]
    marks: tuple[str, ...]
    high: int
    heading: bool = False


def strips(shown: ShownList, advance: Advance, mark_wide: float, wide: float, way: Way) -> tuple[Strip, ...]:
    """Lay the columns side by side.

    Args:
        shown: the list.
        advance: measures words.
        mark_wide: room for a shape beside words.
        wide: room on the page.
        way: how they may be laid.

    Returns:
        The strips; none where the columns do not fit in this way.
    """
    rows = list(shown.rows())
    needs = [_need(shown, rows, place, advance, mark_wide, wide) for place in range(len(shown.columns))]
    everything = tuple(range(len(needs)))
    asked = sum(most if way is Way.EASY else least for least, most in needs) + GAP * (len(needs) - 1)
    if asked <= wide:
        return (Strip(everything, _widths(needs, wide)),)
    if way is not Way.PARTED:
        return ()
    return tuple(
        Strip(places, _widths([needs[place] for place in places], wide))
        for places in _parted(needs, _naming(shown, rows), wide)
    )


def _need(
    shown: ShownList,
    rows: Sequence[Sequence[ShownCell]],
    place: int,
    advance: Advance,
    mark_wide: float,
    wide: float,
) -> tuple[float, float]:
    """The least room of a column, its longest word, and the room in which nothing of it breaks."""
    cells = {row[place].words for row in rows}
    beside = mark_wide if any(row[place].mark for row in rows) else 0.0
    title = max((advance(word) for word in shown.columns[place].title.split()), default=1.0)
    words = max((advance(word) for each in cells for word in each.split()), default=0.0) + beside
    whole = max((advance(each) for each in cells), default=0.0) + beside
    valued = max((advance(row[place].words) for row in rows if row[place].value is not None), default=0.0)
    least = max(title, valued, min(words, wide * _WORD_SHARE))
    return least, max(least, min(whole, wide * _WIDEST_SHARE))


def _widths(needs: Sequence[tuple[float, float]], wide: float) -> tuple[float, ...]:
    """Give each column its least, then what it asks for as far as there is room, the rest by its size."""
    left = wide - GAP * (len(needs) - 1) - sum(least for least, _ in needs)
    asked = sum(most - least for least, most in needs)
    if asked >= left:
        return tuple(least + (most - least) * left / asked for least, most in needs)
    spare = (left - asked) / sum(most for _, most in needs)
    return tuple(most * (1 + min(spare, 0.5)) for _, most in needs)


def _naming(shown: ShownList, rows: Sequence[Sequence[ShownCell]]) -> int:
    """The first column that tells lines apart, else the first of all."""
    for place in range(len(shown.columns)):
        told = {row[place].words for row in rows}
        if len(told) == len(rows):
            return place
    return 0


def _parted(needs: Sequence[tuple[float, float]], naming: int, wide: float) -> Iterator[tuple[int, ...]]:
    first = needs[naming][1]
    held, used = [naming], first
    for place, (_, most) in enumerate(needs):
        if place == naming:
            continue
        if len(held) > 1 and used + GAP + most > wide:
            yield tuple(sorted(held))
            held, used = [naming], first
        held.append(place)
        used += GAP + most
    yield tuple(sorted(held))


class Breaking:
    """Breaks words into lines; what was broken before is remembered."""

    def __init__(self, advance: Advance) -> None:
        self._advance = advance
        self._known: dict[tuple[str, float], tuple[str, ...]] = {}

    def lines(self, words: str, wide: float) -> tuple[str, ...]:
        """Words as lines of a width; what is longer than a line breaks anywhere, and nothing is left out."""
        known = self._known.get((words, wide))
        if known is None:
            known = self._known[(words, wide)] = tuple(self._broken(words, wide))
        return known

    def _broken(self, words: str, wide: float) -> Iterator[str]:
        if self._advance(words) <= wide and "\n" not in words:
            yield words
            return
        line = ""
        for word in _words(words):
            longer = f"{line} {word}" if line else word
            if self._advance(longer) <= wide:
                line = longer
                continue
            if line:
                yield line
            *full, line = self._cut(word, wide)
            yield from full
        yield line

    def _cut(self, word: str, wide: float) -> list[str]:
        pieces = [""]
        for letter in word:
            if pieces[-1] and self._advance(pieces[-1] + letter) > wide:
                pieces.append("")
            pieces[-1] += letter
        return pieces


def _words(words: str) -> Iterator[str]:
    """Words between which a line may break; a figure and its unit are one."""
    held = ""
    for word in words.split():
        if held and not (word.rstrip(".,;:)") in _UNITS and held[-1].isdigit()):
            yield held
            held = word
        else:
            held = f"{held} {word}".lstrip()
    if held:
        yield held


def pieces(shown: ShownList, laid: Sequence[Strip], breaking: Breaking, mark_wide: float) -> Iterator[Piece]:
    """Every line as it breaks, under its heading."""
    widths = {place: wide for strip in laid for place, wide in zip(strip.places, strip.widths, strict=True)}
    for group in shown.groups:
        if shown.grouped_by:
            yield Piece(((_heading_words(group),),), (group.mark,), 1, heading=True)
        for row in group.rows:
            cells = tuple(
                breaking.lines(cell.words, widths[place] - (mark_wide if cell.mark else 0.0))
                for place, cell in enumerate(row)
            )
            yield Piece(
                cells, tuple(cell.mark for cell in row), max((len(each) for each in cells), default=1)
            )


def _heading_words(group: ShownGroup) -> str:
    return f"{group.words}: {len(group.rows):,}"


def paged(lines: Iterator[Piece], capacity: int) -> Iterator[tuple[Piece, ...]]:
    """Lines page by page: none is cut in two unless it is higher than a page, no heading stands last.

    Args:
        lines: in order.
        capacity: how many lines of words a page holds, at least 2.
    """
    page, used = list[Piece](), 0
    for piece in (part for each in lines for part in _parts(each, capacity)):
        if page and used + piece.high > capacity:
            kept = page.pop() if page[-1].heading and len(page) > 1 else None
            yield tuple(page)
            page, used = ([kept], kept.high) if kept is not None else ([], 0)
        page.append(piece)
        used += piece.high
    if page:
        yield tuple(page)


def _parts(piece: Piece, capacity: int) -> Iterator[Piece]:
    if piece.high <= capacity:
        yield piece
        return
    room = capacity - 1
    for first in range(0, piece.high, room):
        cells = tuple(each[first : first + room] for each in piece.cells)
        marks = piece.marks if first == 0 else ("",) * len(piece.marks)
        yield Piece(cells, marks, max(len(each) for each in cells))

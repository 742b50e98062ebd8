"""What the lines above and below a table say about all its rows."""

from collections.abc import Collection, Iterator
from dataclasses import dataclass

from estate.domain.visits import VisitKind
from estate.intake.grid import is_blank, words_of
from estate.intake.sections import labelled_in
from estate.intake.table import Table
from estate.intake.words import Words, fold

Line = tuple[int, list[str]]


@dataclass(frozen=True, slots=True)
class Facts:
    """What holds for every row that does not say otherwise.

    Attributes:
        kind: the kind of visit that the title names; None where it names none or several.
        title: the line that names it.
    """

    person: str = ""
    instrument: str = ""
    kind: VisitKind | None = None
    title: str = ""


def facts_of(table: Table, taken: Collection[int], words: Words) -> Facts:
    """Read the lines above, between and below the rows of data.

    Args:
        table: the table.
        taken: 0-based rows of the sheet that are data or header of any table in it; what they say holds for
            themselves alone.
        words: the words of labels.
    """
    lines = list(_lines(table, frozenset(taken)))
    own, common = lines, lines
    if table.lines and table.common:
        (first, last), (top, bottom) = table.lines, table.common
        own = [line for line in lines if first <= line[0] < last]
        common = [line for line in lines if not top <= line[0] < bottom]
    title, kind = _kind(own, words, table)
    if kind is None:
        title, kind = _kind(common[:1], words, table)
    return Facts(
        _labelled(own, "person", words) or _labelled(common, "person", words),
        _labelled(own, "instrument", words) or _labelled(common, "instrument", words),
        kind,
        title,
    )


def _lines(table: Table, taken: frozenset[int]) -> Iterator[Line]:
    for index, row in enumerate((table.sheet or table.grid).rows):
        if index not in taken:
            yield index, [words_of(cell) for cell in row if not is_blank(cell)]


def _labelled(lines: list[Line], group: str, words: Words) -> str:
    """What stands after a label, in the same cell or the next filled one; several are joined by commas."""
    found: dict[str, None] = {}
    for _, cells in lines:
        found |= dict.fromkeys(labelled_in(cells, group, words))
    return ", ".join(found)


def _kind(lines: list[Line], words: Words, table: Table) -> tuple[str, VisitKind | None]:
    named: dict[VisitKind, str] = {}
    top = min(table.header_rows or table.header, default=0)
    for index, cells in lines:
        for text in cells if index < top else []:
            for kind in _kinds_in(text, words):
                named.setdefault(kind, text)
    if len(named) != 1:
        return "", None
    kind, title = next(iter(named.items()))
    return title, kind


def _kinds_in(text: str, words: Words) -> Iterator[VisitKind]:
    """The kinds of visit that a title names; only words that stand for nothing else count."""
    said = "" if ":" in text else f" {fold(text)} "
    for phrase, kind in words.choices["kind"].items():
        if kind != VisitKind.SERVICE and (" " in phrase or len(phrase) > 8) and f" {phrase} " in said:
            yield VisitKind(kind)

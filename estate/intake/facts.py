"""What the lines above and below a table say about all its rows."""

import re
from collections.abc import Collection, Iterator
from dataclasses import dataclass
from itertools import zip_longest

from estate.domain.visits import VisitKind
from estate.intake.grid import is_blank, words_of
from estate.intake.layout import Table
from estate.intake.rows import MOST_IN_A_LABEL_LINE, label_of
from estate.intake.words import Words, fold


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


def facts_of(table: Table, data: Collection[int], words: Words) -> Facts:
    """Read the lines above, between and below the rows of data.

    Args:
        table: the table.
        data: 0-based rows that are data; what they say holds for themselves alone.
        words: the words of labels.
    """
    lines = list(_lines(table, frozenset(data)))
    title, kind = _kind(lines, words, table)
    return Facts(_labelled(lines, "person", words), _labelled(lines, "instrument", words), kind, title)


def _lines(table: Table, data: frozenset[int]) -> Iterator[tuple[int, list[str]]]:
    for index, row in enumerate(table.grid.rows):
        if index not in data and index not in table.header:
            yield index, [words_of(cell) for cell in row if not is_blank(cell)]


def _labelled(lines: list[tuple[int, list[str]]], group: str, words: Words) -> str:
    """What stands after a label, in the same cell or the next filled one; several are joined by commas."""
    found: dict[str, None] = {}
    for _, cells in lines:
        for text, following in zip_longest(cells, cells[1:], fillvalue=""):
            plain = ":" not in text
            if label_of(text) not in words.labels[group] or (plain and len(cells) > MOST_IN_A_LABEL_LINE):
                continue
            said = text.partition(":")[2].strip() or ("" if ":" in following else following)
            if value := _value(said, words):
                found[value] = None
    return ", ".join(found)


def _value(said: str, words: Words) -> str:
    """What a label says, up to a bracket, a dash or the next label in the same cell."""
    value = re.split(r"\s*\(|\s+[–—-]\s+|;", said, maxsplit=1)[0].strip()
    pieces = value.split()
    for start in range(1, len(pieces)):
        for end in range(start + 1, min(start + 3, len(pieces)) + 1):
            label = " ".join(pieces[start:end])
            if label.endswith(":") and any(fold(label) in known for known in words.labels.values()):
                return " ".join(pieces[:start])
    return value


def _kind(lines: list[tuple[int, list[str]]], words: Words, table: Table) -> tuple[str, VisitKind | None]:
    named: dict[VisitKind, str] = {}
    for index, cells in lines:
        for text in cells if index < table.header[0] else []:
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

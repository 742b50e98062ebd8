"""Why nothing was measured: nobody could get at the valve, or there was nothing to measure."""

import re
from dataclasses import dataclass

from estate.intake.grid import shown
from estate.intake.row_reader import RowReader
from estate.intake.words import Words, fold

_MARK = re.compile(r"\s[-–—(]|[:;,]")
MOST_WORDS = 6
"""Words of the longest phrase, at least."""


@dataclass(frozen=True, slots=True)
class Reason:
    """The words of a row that say why nothing was measured.

    Attributes:
        field: whose cell says it; ``reference`` where it is in a column of no field.
        said: that cell.
        why: those words, and the remarks.
    """

    field: str
    said: str
    why: str


def no_access(reader: RowReader, measured: bool) -> Reason | None:
    """What says that nobody could get at the valve; None where nothing does.

    The cell of a reading counts if it begins so, whatever else the row holds; remarks and columns of no
    field only where nothing was measured.

    Args:
        reader: the row.
        measured: whether anything was.
    """
    fields = reader.row.table.data_fields
    return _told(reader, fields, "no_access") or (None if measured else _aside(reader, "no_access"))


def no_test(reader: RowReader) -> Reason | None:
    """What says, in a row without readings, that there was nothing to measure, such as "no water"."""
    fields = [name for name in reader.row.table.data_fields if name not in ("on", "kind")]
    return _told(reader, fields, "no_test") or _aside(reader, "no_test")


def _told(reader: RowReader, fields: tuple[str, ...] | list[str], group: str) -> Reason | None:
    for field in fields:
        cell = reader.cell(field)
        if isinstance(cell, str) and _begins(_reason_in(reader, cell), group, reader.cells.words):
            return _reason(reader, field, cell)
    return None


def _reason_in(reader: RowReader, cell: str) -> str:
    """What a cell says behind a dash, colon or bracket, if it says no more than "n/a" before it."""
    mark = _MARK.search(cell)
    if mark is None or not reader.cells.is_nothing(cell[: mark.start()].strip()):
        return cell
    return cell[mark.end() :]


def _aside(reader: RowReader, group: str) -> Reason | None:
    """The words in remarks, else in any cell of the row that begins with them."""
    words, remarks = reader.cells.words, reader.text("remarks")
    if _begins(_reason_in(reader, remarks), group, words) or _holds(remarks, group, words):
        return Reason("remarks", remarks, remarks)
    for _, text in reader.row.source("").cells:
        if _begins(text, group, words):
            return _reason(reader, "reference", text)
    return None


def _reason(reader: RowReader, field: str, cell: str) -> Reason:
    parts = dict.fromkeys(" ".join(shown(text).split()) for text in (cell, reader.text("remarks")))
    return Reason(field, shown(cell), "; ".join(part for part in parts if part))


def _holds(text: str, group: str, words: Words) -> bool:
    """Whether a text has a phrase of several words that no word before it denies, such as "not in use"."""
    said = f" {fold(text)} "
    for phrase in words.answers[group]:
        before, found, _ = said.partition(f" {phrase} ") if " " in phrase else ("", "", "")
        if found and before.rpartition(" ")[2] not in words.answers["denied"]:
            return True
    return False


def _begins(text: str, group: str, words: Words) -> bool:
    pieces = fold(text).split()
    longest = min(MOST_WORDS, len(pieces))
    return any(" ".join(pieces[:length]) in words.answers[group] for length in range(1, longest + 1))

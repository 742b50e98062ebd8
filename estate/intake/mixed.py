"""Mixed temperature as found and as left, and whether the adjuster was turned."""

import re

from estate.intake.grid import Cell
from estate.intake.row_reader import RowReader
from estate.intake.table import Table
from estate.intake.values import Doubt
from estate.intake.words import Words, fold

_SAME_AS_WHAT = Doubt(
    "unreadable-value", "There is no as-found temperature to be the same as: enter the number."
)
_CONTRADICTION = Doubt(
    "contradiction", "As found and as left differ but it says not adjusted: correct one of them."
)
_CLAUSES = re.compile(r"[.,;!\n]+(?=\s|$)|\s[-–—]\s")

Said = tuple[float | None, float | None, bool | None]


class Mixed:
    """Reads the three cells together; what remarks say of adjusting is found once for each text.

    Args:
        table: its columns.
    """

    def __init__(self, table: Table) -> None:
        self._has_left = "left_c" in table.holds
        self._told: dict[str, bool | None] = {"": False}
        self._stands: dict[Cell, str] = {None: "blank"}

    def read(self, reader: RowReader, remarks: str) -> Said:
        """As found, as left, and whether it was adjusted.

        A blank, a dash or "same" left means as found, unless the row says that the valve was adjusted; where
        it can't be told whether the remarks say so, a blank left stays unknown.
        """
        found = reader.number("found_c")
        said = reader.answer("adjusted")
        if remarks not in self._told:
            self._told[remarks] = tells_of_adjusting(remarks, reader.cells.words)
        told = self._told[remarks]
        if self._has_left and (stands := self._stand(reader, reader.cell("left_c"))):
            return found, *_left_as_found(reader, found, stands == "same", said, told)
        left = reader.number("left_c")
        if found is None or left is None:
            return found, left, True if told and said is None else said
        if said is False and left != found:
            reader.ask("adjusted", _CONTRADICTION)
        return found, left, bool(said) or bool(told) or left != found

    def _stand(self, reader: RowReader, cell: Cell) -> str:
        """Whether a cell stands for as found: ``same``, ``blank`` or, where it does not, nothing."""
        known = self._stands.get(cell)
        if known is None:
            words = reader.cells.words
            blank = isinstance(cell, str) and (not cell.strip() or words.answered("dash", cell))
            same = isinstance(cell, str) and words.answered("same", cell)
            known = self._stands[cell] = "same" if same else "blank" if blank else ""
        return known


def _left_as_found(
    reader: RowReader, found: float | None, same: bool, said: bool | None, told: bool | None
) -> tuple[float | None, bool | None]:
    adjusted = told if said is None else said
    if found is None:
        if same and not reader.doubted:
            reader.ask("left_c", _SAME_AS_WHAT)
        return None, said
    if adjusted is not False and not same:
        return None, adjusted
    return found, adjusted


def tells_of_adjusting(remarks: str, words: Words) -> bool | None:
    """Whether remarks say that the valve was adjusted; None where a denial follows in the same clause."""
    told: bool | None = False
    for clause in _CLAUSES.split(remarks):
        said = f" {fold(clause)} "
        found = [place for phrase in words.answers["adjusted"] if (place := said.find(f" {phrase} ")) >= 0]
        if not found:
            continue
        denied = [said.find(f" {word} ") for word in words.answers["denied"] if f" {word} " in said]
        if not denied:
            return True
        told = told if min(denied) < min(found) else None
    return told

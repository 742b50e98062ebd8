"""Somebody else changed what a form is about: what they changed, and three ways to go on."""

from collections.abc import Mapping
from typing import Final

from PySide6.QtCore import Qt, Signal, SignalInstance
from PySide6.QtWidgets import QGridLayout, QLabel, QPushButton, QWidget

from estate.domain.conflicts import ConflictFault, Meanwhile
from estate.window import words
from estate.window.dialogs.shell import Shell
from estate.window.models.visit_fields import FIELDS, section_of
from estate.window.translating import said, tr, tr_count
from estate.window.widgets.text import Card, label

_MOST: Final = 12
"""So many fields that differ are shown."""
_NAMED = {each.path: each for each in FIELDS}


class ConflictDialog(Shell):
    """Shows a conflict beside what the person typed; closing it goes back to the form.

    Args:
        fault: who changed what, and when.
        mine: what the form says by field, as shown.

    Attributes:
        mine_kept: the person's own is to be written as a further change.
        theirs_taken: the form is to be closed, and nothing of it written.
    """

    mine_kept = Signal()
    theirs_taken = Signal()

    def __init__(self, fault: ConflictFault, mine: Mapping[str, str], parent: QWidget | None) -> None:
        super().__init__(tr(fault.title), parent)
        self.setMinimumWidth(640)
        for each in fault.meanwhile:
            self.body.addWidget(label(_who(each), "strong", wraps=True))
            if each.why:
                self.body.addWidget(label(tr("Reason: {why}", why=each.why), wraps=True))
        rows = _rows(fault, mine)
        if rows:
            card = Card(tr("What differs"))
            card.body.addLayout(_table(rows[:_MOST]))
            if len(rows) > _MOST:
                more = len(rows) - _MOST
                card.body.addWidget(label(tr_count(more, "and {n:,} more", "and {n:,} more"), "muted"))
            self.body.addWidget(card)
        if not fault.meanwhile:
            self.body.addWidget(label(tr(fault.detail), wraps=True))
        stays = tr(_STAYS)
        self.body.addWidget(
            label(stays if fault.now is not None else f"{stays} {tr(fault.remedy)}", wraps=True)
        )
        self.body.addStretch(1)
        self.take = self._choice(tr("Take theirs"), tr(_TAKE), self.theirs_taken)
        self.keep = (
            self._choice(tr("Keep mine"), tr(_KEEP), self.mine_kept) if fault.now is not None else None
        )
        self.back = self.button(tr("Go back to editing"), self.reject, main=True)
        self.back.setFocus()

    def _choice(self, said: str, meaning: str, signal: SignalInstance) -> QPushButton:
        def chosen() -> None:
            self.accept()
            signal.emit()

        self.body.addWidget(label(f"{said}: {meaning}", "small", wraps=True))
        return self.button(said, chosen)


def _who(made: Meanwhile) -> str:
    who = made.who or tr("Somebody without a name")
    return f"{who}, {words.moment(made.at)}: {made.what}"


def _rows(fault: ConflictFault, mine: Mapping[str, str]) -> list[tuple[str, str, str, str]]:
    """Each field once: as the form was filled, as it is now, and as typed."""
    first: dict[str, str] = {}
    last: dict[str, str] = {}
    for made in fault.meanwhile:
        for each in made.fields:
            first.setdefault(each.field, each.before)
            last[each.field] = each.after
    return [(_named(name), first[name], last[name], mine.get(name, "")) for name in first]


def _named(name: str) -> str:
    field = _NAMED.get(name)
    if field is None:
        return words.sentence(name.replace("_", " "))
    named = f"{section_of(field)}: {field.told.lower()}"
    return f"{named}, {field.unit}" if field.unit else named


def _table(rows: list[tuple[str, str, str, str]]) -> QGridLayout:
    grid = QGridLayout()
    grid.setHorizontalSpacing(18)
    grid.setVerticalSpacing(6)
    for column, heading in enumerate(_HEADINGS):
        grid.addWidget(label(tr(heading), "muted"), 0, column)
        grid.setColumnStretch(column, 2 if column == 0 else 1)
    for number, row in enumerate(rows, start=1):
        for column, value in enumerate(row):
            grid.addWidget(_cell(column, value, row[0]), number, column, Qt.AlignmentFlag.AlignTop)
    return grid


def _cell(column: int, value: str, name: str) -> QLabel:
    cell = label(value or tr("nothing"), "strong" if column == len(_HEADINGS) - 1 else "", wraps=True)
    if column:
        cell.setAccessibleName(f"{name}, {tr(_HEADINGS[column]).lower()}: {cell.text()}")
    return cell


_HEADINGS = (said("Field"), said("When you began"), said("Theirs, now"), said("Yours"))
_STAYS = said("Nothing of yours was written, and nothing you typed is lost.")
_KEEP = said("what your form says is written over theirs as a further change; theirs stays in the trail.")
_TAKE = said("your form is closed, and nothing of it is written.")

"""Upkeep between tests: what is to be flushed, cleaned and asked anew, and by when."""

from collections.abc import Callable
from datetime import date

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QWidget
from typing_extensions import override

from estate.domain.life.care import CareAsked, CareLine
from estate.domain.places import OutletPath
from estate.window import words
from estate.window.marks import Mark
from estate.window.models import cells
from estate.window.models.cells import Cell, Column
from estate.window.models.path_columns import path_columns
from estate.window.models.table import TableModel
from estate.window.translating import said, tr, tr_count
from estate.window.widgets.list_page import ListPage

HYGIENE = said(
    "Flush so that no spray is breathed in; clean and disinfect as the site's written scheme says. "
    "Mind the hot water: it may not be mixed while a valve is worked on."
)
Line = tuple[int, CareLine]
"""A line with its number in the list."""


def _path(row: Line) -> OutletPath:
    return row[1].outlet.path


def upkeep_model(today: Callable[[], date]) -> TableModel[Line]:
    """Upkeep that is asked for."""
    columns: tuple[Column[Line], ...] = (
        Column(
            said("Due"),
            lambda row: _standing(row[1], today()),
            "never done",
            marked=True,
            groups=False,
            id="due",
        ),
        Column(said("Outlet"), lambda row: cells.text(row[1].outlet.reference), "MM/G/G08/WHB1", id="outlet"),
        Column(
            said("Where"),
            lambda row: cells.text(str(row[1].outlet.path)),
            "Main Block · G · G04 Room",
            stretches=True,
            id="where",
        ),
        Column(
            said("What"),
            lambda row: cells.text(tr(row[1].asked.value)),
            "clean and descale the shower head",
            groups=True,
            id="what",
        ),
        Column(said("Last"), lambda row: cells.on_day(row[1].last, tr("never")), "25 Nov 2026", id="last"),
        Column(
            said("Due by"), lambda row: cells.on_day(row[1].due_on, tr("now")), "25 Nov 2026", id="due-by"
        ),
        *path_columns(_path),
        Column(
            said("How often"),
            lambda row: cells.text(row[1].source),
            "every week: the site's scheme",
            hidden_at_first=True,
            groups=True,
            id="how-often",
        ),
    )
    return TableModel(columns, lambda row: row[0])


def _standing(line: CareLine, today: date) -> Cell:
    late = line.days_late(today)
    if line.last is None:
        return Cell(tr("never done"), 0.0, Mark.RING)
    if late:
        said_late = tr_count(late, "{n:,} day late", "{n:,} days late")
        return Cell(said_late, 1.0 - late / 1e6, Mark.LOZENGE)
    return Cell(tr("due"), 2.0, Mark.TARGET) if line.due(today) else Cell(tr("in time"), 3.0, Mark.TICK)


_NOTHING = said(
    "Nothing is asked for: no outlet is little used or has a shower head, and of no valve is it to be asked "
    "whether it is still needed. Where no outlet is in the register yet, bring in a list of them first."
)


class UpkeepView(ListPage[Line]):
    """Lists upkeep.

    Attributes:
        done_asked: (line): record that it was done, or answered.
        take_back_asked: (line): what was entered last was a mistake.
        outlet_opened: an outlet's id.
    """

    done_asked = Signal(object)
    take_back_asked = Signal(object)
    outlet_opened = Signal(int)

    def __init__(self, today: Callable[[], date], parent: QWidget | None = None) -> None:
        kinds = tuple((words.sentence(tr(each.value)), _of(each)) for each in CareAsked)
        super().__init__(
            tr("Upkeep"),
            upkeep_model(today),
            tr("Upkeep that is asked for"),
            lambda row: f"{row[1].outlet.reference} {row[1].outlet.path} {tr(row[1].asked.value)}",
            ((tr("Due now"), lambda row: row[1].due(today())), *kinds, (tr("Everything"), lambda row: True)),
            tr(_NOTHING),
            parent,
        )
        self.show_outlet = self.button(
            tr("Show the outlet"), tr("Its page"), lambda row: self.outlet_opened.emit(row[1].outlet.id)
        )
        self.take_back = self.button(
            tr("Take back…"),
            tr("What was entered last was a mistake; it stays on record with the reason"),
            lambda row: self.take_back_asked.emit(row[1]),
            possible=lambda row: row[1].last is not None,
        )
        self.done_button = self.button(
            tr("Done…"), tr("Record that it was done"), lambda row: self.done_asked.emit(row[1])
        )
        self.listing.opened.connect(lambda key: self._open())

    def _open(self) -> None:
        line = self.chosen
        if line is not None:
            self.outlet_opened.emit(line[1].outlet.id)

    @override
    def about(self, line: Line) -> str:
        found = line[1]
        last = tr("Said last time: {words}.", words=found.words) if found.words else ""
        return words.together(tr("How often: {source}.", source=found.source), last, tr(HYGIENE))


def _of(asked: CareAsked) -> Callable[[Line], bool]:
    return lambda row: row[1].asked is asked

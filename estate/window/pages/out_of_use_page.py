"""Outlets out of use: since when, why, who was told, and whether a sign is up."""

from collections.abc import Callable
from datetime import date

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QWidget
from typing_extensions import override

from estate.domain.life.outlet_use import FLUSH_FIRST, UseDraft, UseStep
from estate.domain.places import OutletPath
from estate.domain.today import OutOfUse
from estate.window import words
from estate.window.marks import Mark
from estate.window.models import cells
from estate.window.models.cells import Cell, Column
from estate.window.models.path_columns import path_columns
from estate.window.models.table import TableModel
from estate.window.translating import said, tr, tr_count
from estate.window.widgets.list_page import ListPage

_NOTHING = said("No outlet is out of use. It does not mean that none should be: see what is to be made safe.")


def _last(row: OutOfUse) -> UseDraft | None:
    """The change that took it out of use."""
    taken = (each.draft for each in reversed(row.use.events) if each.draft.step is not UseStep.PUT_BACK)
    return next(taken, None)


def _said(row: OutOfUse, name: str) -> str:
    draft = _last(row)
    return "" if draft is None else str(getattr(draft, name))


def _heard(row: OutOfUse) -> str:
    return " ".join((row.outlet.reference, str(row.outlet.path), _said(row, "why"), _said(row, "who_told")))


def _sign(row: OutOfUse) -> Cell:
    draft = _last(row)
    if draft is None or draft.sign_placed is None:
        return Cell(tr("not recorded"), 1.0, Mark.RING)
    return Cell(tr("put up"), 2.0, Mark.TICK) if draft.sign_placed else Cell(tr("none"), 0.0, Mark.WEDGE)


def _path(row: OutOfUse) -> OutletPath:
    return row.outlet.path


def out_of_use_model() -> TableModel[OutOfUse]:
    """Outlets out of use, the longest first."""
    columns: tuple[Column[OutOfUse], ...] = (
        Column(said("Outlet"), lambda row: cells.text(row.outlet.reference), "MM/G/G08/WHB1", id="outlet"),
        Column(
            said("Where"),
            lambda row: cells.text(str(row.outlet.path)),
            "Main Block · G · G08 Bathroom",
            id="where",
        ),
        Column(said("Since"), lambda row: cells.on_day(row.use.since), "25 Nov 2026", id="since"),
        Column(
            said("Why"), lambda row: cells.text(_said(row, "why")), "Too hot; parts", stretches=True, id="why"
        ),
        Column(
            said("Who was told"),
            lambda row: cells.text(_said(row, "who_told")),
            "T. A. Person",
            groups=True,
            id="who-was-told",
        ),
        Column(said("Sign"), _sign, "not recorded", marked=True, id="sign"),
        *path_columns(_path),
    )
    return TableModel(columns, lambda row: row.outlet.id)


class OutOfUseView(ListPage[OutOfUse]):
    """Lists outlets out of use.

    Attributes:
        outlet_opened: an outlet's id.
        back_asked: the outlet to be put back in use.
    """

    outlet_opened = Signal(int)
    back_asked = Signal(object)

    def __init__(self, today: Callable[[], date], parent: QWidget | None = None) -> None:
        super().__init__(
            tr("Outlets out of use"),
            out_of_use_model(),
            tr("Outlets out of use, the longest first"),
            lambda row: (
                f"{row.outlet.reference} {row.outlet.path} {_said(row, 'why')} {_said(row, 'who_told')}"
            ),
            ((tr("Outlets out of use"), lambda row: True),),
            tr(_NOTHING),
            parent,
        )
        self._today = today
        self.show_outlet = self.button(
            tr("Show the outlet"), tr("Its page"), lambda row: self.outlet_opened.emit(row.outlet.id)
        )
        self.back = self.button(
            tr("Put back in use…"),
            tr("After the retest that it waits for"),
            lambda row: self.back_asked.emit(row.outlet),
        )
        self.listing.opened.connect(self.outlet_opened)

    @override
    def about(self, line: OutOfUse) -> str:
        since = line.use.since
        on = words.day(since)
        if since is not None:
            days = (self._today() - since).days
            on = tr_count(days, "{day}, {n:,} day ago", "{day}, {n:,} days ago", day=on)
        went = tr("{reference} went out of use on {day}.", reference=line.outlet.reference, day=on)
        return words.together(went, tr(FLUSH_FIRST))

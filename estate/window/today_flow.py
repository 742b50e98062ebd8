"""How the first page runs through the window: what hurts first, and the list behind each number."""

from collections.abc import Callable
from datetime import date

from PySide6.QtWidgets import QWidget

from estate.domain.life.outlet_use import UseStep
from estate.domain.places import Outlet
from estate.domain.today import ListAsked, Today
from estate.window.desk import Desk
from estate.window.life_flow import LifeFlow
from estate.window.list_opening import ListOpening
from estate.window.pages.out_of_use_page import OutOfUseView
from estate.window.pages.today_page import TodayView
from estate.window.showing import Showing
from estate.window.tasks import Latest, Tasks


class TodayFlow:
    """Joins the first page to the pages that its numbers open.

    Args:
        showing: what is shown.
        tasks: where the register is read.
        life: the pages of a valve's life.
    """

    def __init__(self, showing: Showing, tasks: Tasks, life: LifeFlow) -> None:
        self._showing, self._life = showing, life
        self._latest = Latest(tasks)
        self._told: Today | None = None
        self._whole: Today | None = None
        self.page, self.out_of_use = TodayView(), OutOfUseView(self._today)
        self._lists = ListOpening(
            showing.pages.due, life.actions, self.out_of_use, life.instruments, life.people, life.upkeep
        )
        self._shows: dict[QWidget, Callable[[], None]] = {
            showing.pages.due: showing.show_due,
            life.actions: life.show_actions,
            life.instruments: life.show_instruments,
            life.people: life.show_people,
            life.upkeep: life.show_upkeep,
            self.out_of_use: lambda: showing.turn_to(self.out_of_use),
        }
        showing.add(self.page, self.show)
        showing.add(self.out_of_use, self.show_out_of_use)
        showing.first = self.show
        self.page.list_asked.connect(self._on_list_asked)
        self.out_of_use.outlet_opened.connect(showing.show_outlet)
        self.out_of_use.back_asked.connect(self._on_back)

    def _today(self) -> date:
        return date.min if self._showing.desk is None else self._showing.desk.today

    def show(self) -> None:
        """Show the first page; the months before follow."""
        desk = self._showing.desk
        if desk is not None:
            self._tell(desk, lambda told: self._on_told(desk, told))

    def _tell(self, desk: Desk, tell: Callable[[Today], None]) -> None:
        """Tell what the register was last read to say of today; read it where that was another day."""
        reading = self._showing.reading
        if reading is not None and reading.today.today == desk.today:
            self._latest.forget()
            tell(reading.today)
        else:
            self._latest.run(desk.work.today_page, tell)

    def _on_told(self, desk: Desk, told: Today) -> None:
        if desk is not self._showing.desk:
            return
        if told is not self._told:
            self._told, self._whole = told, None
        self.page.tell(self._whole or told)
        self._showing.turn_to(self.page)
        if self._whole is None:
            self._latest.run_aside(
                lambda progress: desk.work.with_past(told, progress),
                self._on_past,
                lambda: desk is self._showing.desk,
            )

    def _on_past(self, whole: Today) -> None:
        """The months before take long to work out: they are kept until the register is read again."""
        self._whole = whole
        self.page.tell(whole)

    def show_out_of_use(self) -> None:
        """Show the outlets out of use, as they stand now."""
        desk = self._showing.desk
        if desk is not None:
            self._tell(desk, self._on_out_of_use)

    def _on_out_of_use(self, told: Today) -> None:
        self.out_of_use.tell(told.out_of_use)
        self._showing.turn_to(self.out_of_use)

    def _on_list_asked(self, asked: ListAsked) -> None:
        if self.page.told is not None:
            self._shows[self._lists.prepare(asked, self.page.told)]()

    def _on_back(self, outlet: Outlet) -> None:
        self._life.use(outlet, UseStep.PUT_BACK)

"""How a valve's whole life runs through the window: actions, people, upkeep, causes, the year ahead."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from datetime import date

from PySide6.QtWidgets import QWidget

from estate.domain.browsing import HistoryLine, OutletPage
from estate.domain.forecast import Forecast
from estate.domain.instruments import Instrument
from estate.domain.life.actions import Step
from estate.domain.life.care import CareLine
from estate.domain.life.lists import ActionLine
from estate.domain.life.outlet_use import UseStep
from estate.domain.life.people import Person
from estate.domain.places import Outlet
from estate.domain.roles import Deed
from estate.window.choosing_doings import ChoosingDoings
from estate.window.desk import Desk
from estate.window.pages.actions_page import ActionsView
from estate.window.pages.forecast_page import ForecastView
from estate.window.pages.instruments_page import InstrumentsView
from estate.window.pages.people_page import PeopleView
from estate.window.pages.upkeep_page import UpkeepView
from estate.window.showing import Showing
from estate.window.tasks import Latest, Tasks
from estate.window.upkeep_doings import UpkeepDoings
from estate.window.widgets.keeping_place import keeping_place
from estate.window.work_doings import WorkDoings


@dataclass(frozen=True)
class LifeDoings:
    """What the actions about a valve's life run."""

    work: WorkDoings
    upkeep: UpkeepDoings
    choosing: ChoosingDoings


class LifeFlow:
    """Joins what is shown to what is done about a valve's life.

    Args:
        window: the parent of dialogs.
        showing: what is shown.
        tasks: where the register is read.
        doings: what is done.
        may: whether the account may do something; says why not.
        entry: the entry of the history that is chosen.
    """

    def __init__(
        self,
        window: QWidget,
        showing: Showing,
        tasks: Tasks,
        doings: LifeDoings,
        may: Callable[[Deed], bool],
        entry: Callable[[], HistoryLine | None],
    ) -> None:
        self._window, self._showing, self._doings = window, showing, doings
        self._may, self._entry = may, entry
        self._latest = Latest(tasks)
        self.actions = ActionsView()
        self.people, self.upkeep = PeopleView(self._today), UpkeepView(self._today)
        self.instruments, self.forecast = InstrumentsView(self._today), ForecastView()
        for page, show in (
            (self.actions, self.show_actions),
            (self.people, self.show_people),
            (self.upkeep, self.show_upkeep),
            (self.instruments, self.show_instruments),
            (self.forecast, self.show_forecast),
        ):
            showing.add(page, show)
        self._listen()

    def _today(self) -> date:
        return date.min if self._showing.desk is None else self._showing.desk.today

    def runs(self) -> Mapping[str, Callable[[], None]]:
        """What each entry of the table of actions runs."""
        return {
            "actions": self.show_actions,
            "people": self.show_people,
            "upkeep": self.show_upkeep,
            "instruments": self.show_instruments,
            "forecast": self.show_forecast,
            "diagnosis": self._showing.pages.outlet.go_to_diagnosis,
            "open-action": self._on_open_action,
            "take-out": lambda: self._on_use_shown(UseStep.TAKE_OUT),
            "put-back": lambda: self._on_use_shown(UseStep.PUT_BACK),
            "suitable": self._on_suitable,
            "suitable-figures": self._on_suitable_figures,
            "certificate": self._on_certificate,
            "write-actions": self._on_write_actions,
            "justify": self._on_justify,
            "replace-valve": self._on_replace,
        }

    def writing_buttons(self) -> Mapping[Deed, tuple[QWidget, ...]]:
        """Buttons that write, by what the account must be allowed to do."""
        work = (
            *self.actions.steps.values(),
            self.actions.use,
            self.upkeep.done_button,
            self.upkeep.take_back,
        )
        keeping = (self.people.add, self.people.change, self.people.competent)
        return {Deed.RECORD: work, Deed.AMEND: keeping}

    def _listen(self) -> None:
        self.actions.step_asked.connect(self.step)
        self.actions.use_asked.connect(self.use)
        self.actions.report_asked.connect(self._on_write_actions)
        self.actions.outlet_opened.connect(self._showing.show_outlet)
        self.people.add_asked.connect(self._on_add_person)
        self.people.amend_asked.connect(self._on_amend_person)
        self.people.competence_asked.connect(self._on_add_competence)
        self.upkeep.done_asked.connect(self._on_done)
        self.upkeep.take_back_asked.connect(self._on_take_back)
        self.upkeep.outlet_opened.connect(self._showing.show_outlet)
        self.instruments.add_asked.connect(self._on_add_instrument)
        self.instruments.calibration_asked.connect(self._on_add_calibration)
        self._showing.pages.outlet.diagnosis.asked.connect(self._on_diagnose)

    @property
    def _desk(self) -> Desk | None:
        return self._showing.desk

    def show_actions(self) -> None:
        """Show the actions, live and done."""
        desk = self._desk
        if desk is not None:
            self._latest.run(lambda: desk.work.action_lines(False), self._on_actions)

    def _on_actions(self, lines: Sequence[ActionLine]) -> None:
        with keeping_place(self.actions):
            self.actions.tell(lines)
        self._showing.turn_to(self.actions)

    def show_people(self) -> None:
        """Show people and what they are competent in."""
        desk = self._desk
        if desk is not None:
            self._latest.run(desk.upkeep.people, lambda found: self._on_people(*found))

    def _on_people(self, known: Sequence[Person], unknown: Sequence[str]) -> None:
        with keeping_place(self.people):
            self.people.tell(known)
        self.people.tell_unknown(tuple(unknown))
        self._showing.turn_to(self.people)

    def show_upkeep(self) -> None:
        """Show what upkeep is asked for."""
        desk = self._desk
        if desk is not None:
            self._latest.run(desk.upkeep.lines, self._on_upkeep)

    def _on_upkeep(self, lines: Sequence[CareLine]) -> None:
        with keeping_place(self.upkeep):
            self.upkeep.tell(enumerate(lines))
        self._showing.turn_to(self.upkeep)

    def show_instruments(self) -> None:
        """Show the instruments with their calibrations."""
        desk = self._desk
        if desk is not None:
            self._latest.run(desk.choosing.instruments, self._on_instruments)

    def _on_instruments(self, found: Sequence[Instrument]) -> None:
        with keeping_place(self.instruments):
            self.instruments.tell(found)
        self._showing.turn_to(self.instruments)

    def show_forecast(self) -> None:
        """Show what is to be expected of the year ahead."""
        desk = self._desk
        if desk is not None:
            self._latest.run(desk.choosing.forecast, self._on_forecast)

    def _on_forecast(self, found: Forecast) -> None:
        self.forecast.tell(found)
        self._showing.turn_to(self.forecast)

    def step(self, line: ActionLine, step: Step) -> None:
        """Take an action one step on."""
        if self._desk is not None and self._may(Deed.RECORD):
            self._doings.work.step(self._desk, line, step, self._window)

    def use(self, outlet: Outlet, step: UseStep) -> None:
        """Change whether people draw water at an outlet."""
        if self._desk is not None and self._may(Deed.RECORD):
            self._doings.work.use(self._desk, outlet, step, self._window)

    def _on_use_shown(self, step: UseStep) -> None:
        page = self._showing.outlet
        if page is not None:
            self.use(page.outlet, step)

    def _on_open_action(self) -> None:
        page = self._showing.outlet
        if self._desk is not None and page is not None and self._may(Deed.RECORD):
            self._doings.work.open(self._desk, page.outlet, self._window)

    def _on_write_actions(self) -> None:
        if self._desk is not None:
            self._doings.work.write_actions(self._desk, self._window)

    def _on_certificate(self) -> None:
        page, line = self._shown()
        if self._desk is not None and page is not None and line is not None:
            self._doings.work.write_certificate(self._desk, line, page.outlet.reference, self._window)

    def _on_justify(self) -> None:
        line = self._entry()
        if self._desk is not None and line is not None and self._may(Deed.AMEND):
            self._doings.work.justify(self._desk, line, self._window)

    def _on_replace(self) -> None:
        page = self._showing.outlet
        if self._desk is not None and page is not None and page.valve is not None and self._may(Deed.AMEND):
            self._doings.work.replace(self._desk, page.outlet, page.valve, self._window)

    def _shown(self) -> tuple[OutletPage | None, HistoryLine | None]:
        return self._showing.outlet, self._entry()

    def _on_add_person(self) -> None:
        if self._desk is not None and self._may(Deed.AMEND):
            self._doings.upkeep.add_person(self._desk, self._window)

    def _on_amend_person(self, person: Person) -> None:
        if self._desk is not None and self._may(Deed.AMEND):
            self._doings.upkeep.amend_person(self._desk, person, self._window)

    def _on_add_competence(self, person: Person) -> None:
        if self._desk is not None and self._may(Deed.AMEND):
            self._doings.upkeep.add_competence(self._desk, person, self._window)

    def _on_done(self, line: CareLine) -> None:
        if self._desk is not None and self._may(Deed.RECORD):
            self._doings.upkeep.done(self._desk, line, self._window)

    def _on_take_back(self, line: CareLine) -> None:
        if self._desk is not None and self._may(Deed.RECORD):
            self._doings.upkeep.take_back(self._desk, line, self._window)

    def _on_add_instrument(self) -> None:
        if self._desk is not None and self._may(Deed.AMEND):
            self._doings.choosing.add_instrument(self._desk.choosing, self._desk.today, self._window)

    def _on_add_calibration(self, line: Instrument) -> None:
        if self._desk is not None and self._may(Deed.AMEND):
            self._doings.choosing.add_calibration(self._desk.choosing, self._desk.today, line, self._window)

    def _on_diagnose(self, outlet_id: int, hardness_mg_l: float | None) -> None:
        if self._desk is not None:
            panel = self._showing.pages.outlet.diagnosis
            self._doings.choosing.diagnose(self._desk.choosing, outlet_id, hardness_mg_l, panel)

    def _on_suitable(self) -> None:
        page = self._showing.outlet
        if self._desk is not None and page is not None:
            self._doings.choosing.suitability(self._desk.choosing, page.outlet, self._window)

    def _on_suitable_figures(self) -> None:
        if self._desk is not None:
            self._doings.choosing.suitability(self._desk.choosing, None, self._window)

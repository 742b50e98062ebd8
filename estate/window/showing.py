"""What the window shows: reads it in the worker, keeps the place when the register changes."""

from dataclasses import dataclass

from PySide6.QtCore import QObject, Signal
from PySide6.QtWidgets import QStackedWidget, QWidget

from estate.domain.browsing import OutletPage, PlaceKind, PlaceNode
from estate.domain.changes import ChangeSet
from estate.domain.due import DueLine
from estate.domain.instruments import Instrument
from estate.domain.learned import LearnedLine
from estate.domain.register import Batch, RegisterIdentity
from estate.domain.rules.values import RuleSet
from estate.window.desk import Desk
from estate.window.models.drift_course import fan_end
from estate.window.models.due_rows import Wanted
from estate.window.notices import Notices
from estate.window.pages.batches_page import BatchesView
from estate.window.pages.drift_page import DriftView
from estate.window.pages.due_page import DueView
from estate.window.pages.outlet_page import OutletView
from estate.window.pages.place_page import PlaceView
from estate.window.pages.rules_page import RulesView
from estate.window.pages.start_page import StartView
from estate.window.tasks import Latest, Tasks
from estate.window.widgets.place_panel import PlacePanel


@dataclass(frozen=True)
class Pages:
    """The pages, one of which is shown."""

    start: StartView
    place: PlaceView
    outlet: OutletView
    due: DueView
    drift: DriftView
    rules: RulesView
    batches: BatchesView

    @property
    def all(self) -> tuple[QWidget, ...]:
        """Every page."""
        return (self.start, self.place, self.outlet, self.due, self.drift, self.rules, self.batches)


@dataclass(frozen=True)
class Reading:
    """What was read of the register at one time."""

    identity: RegisterIdentity
    tree: tuple[PlaceNode, ...]
    lines: tuple[DueLine, ...]
    instruments: tuple[Instrument, ...]


class Showing(QObject):
    """Decides what is shown.

    Attributes:
        moved: another page or another entry is shown, or the register was read again.
    """

    moved = Signal()

    def __init__(self, pages: Pages, panel: PlacePanel, tasks: Tasks, notices: Notices) -> None:
        super().__init__()
        self.desk: Desk | None = None
        self.reading: Reading | None = None
        self.pages = pages
        self.stack = QStackedWidget()
        self._panel = panel
        self._tasks = tasks
        self._latest = Latest(tasks)
        self._batch = Latest(tasks)
        self._outlet_asked: int | None = None
        for page in pages.all:
            self.stack.addWidget(page)
        notices.changed.connect(self._on_changed)
        panel.chosen.connect(self._on_chosen)
        panel.opened.connect(self._on_chosen)
        pages.place.outlet_opened.connect(self.show_outlet)
        pages.due.outlet_opened.connect(self.show_outlet)
        pages.drift.outlet_opened.connect(self.show_outlet)
        pages.batches.listing.picked.connect(self._read_batch)
        pages.outlet.history.picked.connect(lambda key: self.moved.emit())

    @property
    def outlet(self) -> OutletPage | None:
        """The outlet that is shown, or None."""
        return self.pages.outlet.page if self.stack.currentWidget() is self.pages.outlet else None

    def seat(self, desk: Desk | None) -> None:
        """Sit down at a register, or at none; the one before is given back."""
        before, self.desk, self.reading = self.desk, desk, None
        self._latest.forget()
        if before is not None:
            self._tasks.run(before.close, lambda done: None)
        self._panel.search.clear()
        self._panel.tell(())
        if desk is None:
            self.pages.start.tell(None)
            self._turn_to(self.pages.start)
        else:
            self.refresh()

    def refresh(self) -> None:
        """Read the register again and keep the place."""
        desk = self.desk
        if desk is None:
            return
        self._tasks.run(
            lambda: Reading(desk.identity(), desk.tree(), desk.due_lines(), desk.instruments()),
            lambda reading: self._on_read(desk, reading),
        )

    def _on_read(self, desk: Desk, reading: Reading) -> None:
        if desk is not self.desk:
            return
        first = self.reading is None or not self.reading.tree
        self.reading = reading
        self._panel.tell(reading.tree)
        self.pages.due.tell(reading.lines, desk.today)
        self.pages.outlet.know(reading.instruments)
        if not reading.tree:
            self.pages.start.tell(reading.identity.name)
            self._turn_to(self.pages.start)
        elif first:
            self.show_due(Wanted.OVERDUE)
        else:
            self._show_again(reading)
        self.moved.emit()

    def _show_again(self, reading: Reading) -> None:
        shown = self.stack.currentWidget()
        if shown is self.pages.outlet and self._outlet_asked is not None:
            self._read_outlet(self._outlet_asked)
        elif shown is self.pages.place and self._panel.current is not None:
            self.pages.place.tell(self._panel.current, reading.lines)
        elif shown is self.pages.rules:
            self.show_rules()
        elif shown is self.pages.drift:
            self.show_drift()
        elif shown is self.pages.batches:
            self.show_batches()

    def show_place(self, node: PlaceNode) -> None:
        """Show the outlets of a site, building, level or room."""
        if self.reading is not None:
            self._latest.forget()
            self.pages.place.tell(node, self.reading.lines)
            self._turn_to(self.pages.place)

    def show_outlet(self, outlet_id: int) -> None:
        """Show an outlet and find it in the tree."""
        found = self._panel.choose((PlaceKind.OUTLET, outlet_id))
        if not found or self._outlet_asked != outlet_id or self.outlet is None:
            self._read_outlet(outlet_id)

    def show_due(self, wanted: Wanted | None = None) -> None:
        """Show the due list."""
        self._latest.forget()
        if wanted is not None:
            self.pages.due.show_only(wanted)
        self._turn_to(self.pages.due)

    def show_rules(self) -> None:
        """Show the rules in force for the estate."""
        desk = self.desk
        if desk is not None:
            self._latest.run(lambda: desk.rules("estate"), self._on_rules)

    def _on_rules(self, rules: RuleSet) -> None:
        self.pages.rules.tell(rules)
        self._turn_to(self.pages.rules)

    def show_drift(self) -> None:
        """Show the valves of the estate by what was learned of them."""
        desk = self.desk
        if desk is not None:
            self._latest.run(desk.learned_lines, lambda lines: self._on_learned(desk, lines))

    def _on_learned(self, desk: Desk, lines: tuple[LearnedLine, ...]) -> None:
        self.pages.drift.tell(lines, desk.today)
        self._turn_to(self.pages.drift)

    def show_batches(self) -> None:
        """Show what was brought in."""
        desk = self.desk
        if desk is not None:
            self._latest.run(desk.batches, self._on_batches)

    def _on_batches(self, batches: tuple[Batch, ...]) -> None:
        self.pages.batches.tell(batches)
        self._turn_to(self.pages.batches)
        self._read_batch(self.pages.batches.chosen)

    def _read_batch(self, batch_id: int | None) -> None:
        desk = self.desk
        if desk is not None and batch_id is not None:
            self._batch.run(lambda: desk.batch_page(batch_id), self.pages.batches.show_page)

    def _read_outlet(self, outlet_id: int) -> None:
        desk = self.desk
        if desk is None:
            return
        self._outlet_asked = outlet_id
        self._latest.run(lambda: _read(desk, outlet_id), lambda found: self._on_outlet(desk, *found))

    def _on_outlet(self, desk: Desk, page: OutletPage, chance: float | None) -> None:
        self.pages.outlet.tell(page, desk.today, chance)
        self._turn_to(self.pages.outlet)

    def _turn_to(self, page: QWidget) -> None:
        self.stack.setCurrentWidget(page)
        self.moved.emit()

    def _on_chosen(self, node: PlaceNode) -> None:
        if node.kind is PlaceKind.OUTLET:
            self._read_outlet(node.id)
        else:
            self.show_place(node)

    def _on_changed(self, changes: ChangeSet) -> None:
        self.refresh()


def _read(desk: Desk, outlet_id: int) -> tuple[OutletPage, float | None]:
    """An outlet, and the chance to reach its ceiling by the last day that its chart shows."""
    page = desk.outlet_page(outlet_id)
    return page, desk.chance_by(page, fan_end(page, desk.today))

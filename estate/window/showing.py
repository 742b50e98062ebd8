"""What the window shows: reads it in the worker, keeps the place when the register changes."""

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

from PySide6.QtCore import QObject, Signal
from PySide6.QtWidgets import QWidget

from estate.domain.browsing import OutletPage, PlaceKind, PlaceNode
from estate.domain.changes import ChangeSet
from estate.domain.estate_reading import EstateReading
from estate.domain.learned import LearnedLine
from estate.domain.register import Batch
from estate.domain.rules.values import RuleSet
from estate.window.desk import Desk
from estate.window.models.drift_course import fan_end
from estate.window.models.due_rows import Wanted
from estate.window.models.outlet_rows import known_of
from estate.window.notices import Notices
from estate.window.pages.batches_page import BatchesView
from estate.window.pages.drift_page import DriftView
from estate.window.pages.due_page import DueView
from estate.window.pages.outlet_page import OutletView
from estate.window.pages.place_page import PlaceView
from estate.window.pages.rules_page import RulesView
from estate.window.pages.start_page import StartView
from estate.window.pages.trail_page import TrailView
from estate.window.tasks import Latest, Tasks
from estate.window.widgets.keeping_place import keeping_place
from estate.window.widgets.page_stack import PageStack
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
    trail: TrailView

    @property
    def all(self) -> tuple[QWidget, ...]:
        """Every page."""
        lists = (self.due, self.drift, self.rules, self.batches, self.trail)
        return (self.start, self.place, self.outlet, *lists)


Reading = EstateReading


class Showing(QObject):
    """Decides what is shown.

    Attributes:
        moved: another page or another entry is shown, or the register was read again.
        opened: a register was read for the first time.
        left: a register (`Desk`) was left, to be closed by whoever asked for it.
        first: shows the first page of a register that was opened.
        place: the place whose page was shown last.

    Args:
        pages: what can be shown.
        panel: the tree.
        tasks: where the register is read.
        notices: where its changes are announced.
        give_back: what is done with a register that is left for another.
    """

    moved = Signal()
    opened = Signal()
    left = Signal(object)

    def __init__(
        self,
        pages: Pages,
        panel: PlacePanel,
        tasks: Tasks,
        notices: Notices,
        give_back: Callable[[Desk], None],
    ) -> None:
        super().__init__()
        self._give_back = give_back
        self.desk: Desk | None = None
        self.reading: Reading | None = None
        self.pages = pages
        self.stack = PageStack()
        self._panel = panel
        self._tasks = tasks
        self._latest = Latest(tasks)
        self._batch = Latest(tasks)
        self._trail = Latest(tasks)
        self._counting = Latest(tasks)
        self._outlet_asked: int | None = None
        self.place: PlaceNode | None = None
        self.first: Callable[[], None] = lambda: self.show_due(Wanted.OVERDUE)
        self._further: dict[QWidget, Callable[[], None]] = {}
        for page in pages.all:
            self.stack.addWidget(page)
        notices.changed.connect(self._on_changed)
        panel.chosen.connect(self._on_chosen)
        panel.opened.connect(self._on_chosen)
        pages.place.outlet_opened.connect(self.show_outlet)
        pages.due.outlet_opened.connect(self.show_outlet)
        pages.drift.outlet_opened.connect(self.show_outlet)
        pages.batches.listing.picked.connect(self._read_batch)
        pages.trail.wanted_changed.connect(self._read_trail)
        pages.trail.more_asked.connect(self._read_more_trail)
        pages.outlet.history.picked.connect(lambda key: self.moved.emit())

    def add(self, page: QWidget, show: Callable[[], None]) -> None:
        """Let a further page be shown; `show` reads it anew and turns to it."""
        self._further[page] = show
        self.stack.addWidget(page)

    @property
    def ways(self) -> Mapping[QWidget, Callable[[], None]]:
        """How each page is shown that is about no one place."""
        pages = self.pages
        return {
            pages.due: self.show_due,
            pages.drift: self.show_drift,
            pages.rules: self.show_rules,
            pages.batches: self.show_batches,
            pages.trail: self.show_trail,
            **self._further,
        }

    @property
    def outlet(self) -> OutletPage | None:
        """The outlet that is shown, or None."""
        return self.pages.outlet.page if self.stack.currentWidget() is self.pages.outlet else None

    def seat(self, desk: Desk | None) -> None:
        """Sit down at a register, or at none; the one before is given back."""
        before, self.desk, self.reading = self.desk, desk, None
        for each in (self._latest, self._batch, self._trail, self._counting):
            each.forget()
        if before is not None:
            self._give_back(before)
        self._panel.search.clear()
        self._panel.tell(())
        if desk is None:
            self.pages.start.tell(None)
            self._turn_to(self.pages.start)
        else:
            self.refresh()

    def leave(self) -> Desk | None:
        """Get up from the register without giving it back, in every window; whoever asks closes it."""
        desk = self.get_up()
        if desk is not None:
            self.left.emit(desk)
        return desk

    def get_up(self) -> Desk | None:
        """Get up from the register in this window alone, without giving it back."""
        desk, self.desk = self.desk, None
        self.seat(None)
        return desk

    def refresh(self) -> None:
        """Read the register again and keep the place."""
        desk = self.desk
        if desk is None:
            return
        self._tasks.run(
            desk.read,
            lambda reading: self._on_read(desk, reading),
        )

    def _on_read(self, desk: Desk, reading: Reading) -> None:
        if desk is not self.desk:
            return
        opened = self.reading is None
        first = self.reading is None or not self.reading.tree
        self.reading = reading
        self._panel.tell(reading.tree)
        with keeping_place(self.pages.due):
            self.pages.due.tell(reading.lines, desk.today)
        self.pages.outlet.know(reading.instruments)
        if not reading.tree:
            self.pages.start.tell(reading.identity.name)
            self._turn_to(self.pages.start)
        elif first:
            self.first()
        else:
            self._show_again(reading)
        self.moved.emit()
        if opened:
            self.opened.emit()

    def _show_again(self, reading: Reading) -> None:
        shown = self.stack.currentWidget()
        if shown is self.pages.outlet and self._outlet_asked is not None:
            self._show_outlet_again(self._outlet_asked)
        elif shown is self.pages.place and self._panel.current is not None:
            self.place = self._panel.current
            with keeping_place(self.pages.place):
                self._tell_place(self._panel.current, reading)
        elif shown is not None and shown is not self.pages.due:
            self.ways.get(shown, _nothing)()

    def _show_outlet_again(self, outlet_id: int) -> None:
        """Read an outlet again; where it is there no more, show the place that it lay in."""
        lay_in = self._panel.current
        if self._panel.model.node_of((PlaceKind.OUTLET, outlet_id)) is not None or lay_in is None:
            self._read_outlet(outlet_id)
        else:
            self._on_chosen(lay_in)

    def _tell_place(self, node: PlaceNode, reading: Reading) -> None:
        self.pages.place.tell(node, reading.lines, known_of(reading.outlets, reading.valves))

    def show_place(self, node: PlaceNode) -> None:
        """Show the outlets of a site, building, level or room."""
        if self.reading is not None:
            self._latest.forget()
            self.place = node
            self._tell_place(node, self.reading)
            self._turn_to(self.pages.place)

    def go_to_place(self, node: PlaceNode) -> None:
        """Show a place and find it in the tree."""
        self._panel.choose((node.kind, node.id))
        if self.place is not node or self.stack.currentWidget() is not self.pages.place:
            self.show_place(node)

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
        with keeping_place(self.pages.rules):
            self.pages.rules.tell(rules)
        self._turn_to(self.pages.rules)

    def show_drift(self) -> None:
        """Show the valves of the estate by what was learned of them."""
        desk = self.desk
        if desk is not None:
            self._latest.run(desk.learned_lines, lambda lines: self._on_learned(desk, lines))

    def _on_learned(self, desk: Desk, lines: tuple[LearnedLine, ...]) -> None:
        with keeping_place(self.pages.drift):
            self.pages.drift.tell(lines, desk.today)
        self._turn_to(self.pages.drift)

    def show_batches(self) -> None:
        """Show what was brought in."""
        desk = self.desk
        if desk is not None:
            self._latest.run(desk.batches, self._on_batches)

    def show_batch(self, batch_id: int) -> None:
        """Show one of the sheets brought in."""
        desk = self.desk
        if desk is not None:
            self._latest.run(desk.batches, lambda found: self._on_batches(found, batch_id))

    def _on_batches(self, batches: tuple[Batch, ...], wanted: int | None = None) -> None:
        with keeping_place(self.pages.batches):
            self.pages.batches.tell(batches)
        if wanted is not None:
            self.pages.batches.listing.choose(wanted)
        self._turn_to(self.pages.batches)
        self._read_batch(self.pages.batches.chosen)

    def _read_batch(self, batch_id: int | None) -> None:
        desk = self.desk
        if desk is not None and batch_id is not None:
            self._batch.run(lambda: desk.batch_page(batch_id), self.pages.batches.show_page)

    def show_trail(self) -> None:
        """Show the trail, as it was last looked at."""
        desk = self.desk
        if desk is not None:
            self._latest.run(desk.trust.trail_people, lambda people: self._on_people(desk, people))

    def _on_people(self, desk: Desk, people: Sequence[str]) -> None:
        self.pages.trail.know(people, desk.today)
        self._turn_to(self.pages.trail)
        self._read_trail()

    def show_trail_of(self, about: tuple[str, int], said: str) -> None:
        """Show what happened to one row.

        Args:
            about: table and row.
            said: the row in words.
        """
        self.pages.trail.narrow(about, said)
        self.show_trail()

    def show_trail_again(self) -> None:
        """Read the trail again, if it is shown."""
        self._read_trail()

    def _read_trail(self) -> None:
        desk, wanted = self.desk, self.pages.trail.wanted
        if desk is not None and self.stack.currentWidget() is self.pages.trail:
            self._trail.run(lambda: desk.trust.trail(wanted, None), self.pages.trail.tell)
            self._counting.run(lambda: desk.trust.trail_count(wanted), self.pages.trail.count)

    def _read_more_trail(self, below: int) -> None:
        desk, wanted = self.desk, self.pages.trail.wanted
        if desk is not None:
            self._trail.run(lambda: desk.trust.trail(wanted, below), self.pages.trail.add)

    def _read_outlet(self, outlet_id: int) -> None:
        desk = self.desk
        if desk is None:
            return
        self._outlet_asked = outlet_id
        self._latest.run(lambda: _read(desk, outlet_id), lambda found: self._on_outlet(desk, *found))

    def _on_outlet(self, desk: Desk, page: OutletPage, chance: float | None) -> None:
        with keeping_place(self.pages.outlet):
            self.pages.outlet.tell(page, desk.today, chance)
        self._turn_to(self.pages.outlet)

    def turn_to(self, page: QWidget) -> None:
        """Show a page that was added."""
        self._latest.forget()
        self._turn_to(page)

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


def _nothing() -> None:
    """A page that needs no reading."""


def _read(desk: Desk, outlet_id: int) -> tuple[OutletPage, float | None]:
    """An outlet, and the chance to reach its ceiling by the last day that its chart shows."""
    page = desk.outlet_page(outlet_id)
    return page, desk.chance_by(page, fan_end(page, desk.today))

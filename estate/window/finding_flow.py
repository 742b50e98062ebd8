"""How things are found and gone to: the one box, back and forward, what was shown of late."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from functools import partial

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QMainWindow

from estate.domain.estate_reading import EstateReading
from estate.domain.seeking import Seeker
from estate.domain.things import Thing, ThingKind, things_of
from estate.window.commands.actions import Actions
from estate.window.commands.command import Command
from estate.window.life_flow import LifeFlow
from estate.window.moving import Moving
from estate.window.pages.actions_page import ActionsView
from estate.window.pages.batches_page import BatchesView
from estate.window.pages.instruments_page import InstrumentsView
from estate.window.pages.people_page import PeopleView
from estate.window.preferences import Preferences
from estate.window.showing import Showing
from estate.window.spots import Spot
from estate.window.tasks import Latest, Tasks
from estate.window.translating import tr
from estate.window.widgets.going_bar import GoingBar

Listed = ActionsView | PeopleView | InstrumentsView | BatchesView
_STOREYS = frozenset({ThingKind.ROOM, ThingKind.LEVEL, ThingKind.BUILDING, ThingKind.SITE})
_NO_OWN_FIND = frozenset({"find", "find-any", "back", "forward"})


class FindingFlow:
    """Joins the box and the keys to what is shown.

    Attributes:
        moving: where the window has been.
        bar: the row above the page.

    Args:
        window: over which finds are laid.
        showing: what is shown.
        tasks: where what can be found is made ready.
        life: the pages of actions, people and instruments.
        preferences: in which spots are kept.
    """

    def __init__(
        self, window: QMainWindow, showing: Showing, tasks: Tasks, life: LifeFlow, preferences: Preferences
    ) -> None:
        self._window, self._showing, self._life = window, showing, life
        self._latest = Latest(tasks)
        self._read: EstateReading | None = None
        self._seeker: Seeker | None = None
        self._known: Mapping[tuple[str, int | str], Thing] = {}
        self._actions: Actions | None = None
        self._commands: Sequence[Command] = ()
        self._awaited: tuple[Listed, int] | None = None
        self.moving = Moving(window, showing, preferences)
        self.bar: GoingBar | None = None
        self._goes: Mapping[ThingKind, Callable[[int], object]] = {
            ThingKind.OUTLET: showing.show_outlet,
            ThingKind.VALVE: showing.show_outlet,
            ThingKind.ACTION: partial(self._show_line, life.actions, life.show_actions),
            ThingKind.PERSON: partial(self._show_line, life.people, life.show_people),
            ThingKind.INSTRUMENT: partial(self._show_line, life.instruments, life.show_instruments),
            ThingKind.SHEET: partial(self._show_line, showing.pages.batches, showing.show_batches),
        }
        showing.moved.connect(self._on_moved)

    def runs(self) -> Mapping[str, Callable[[], None]]:
        """What each entry of the table of actions runs."""
        return {"find-any": self._enter, "back": self.moving.back, "forward": self.moving.forward}

    def lay_out(self, actions: Actions, commands: Sequence[Command]) -> GoingBar:
        """Make the row above the page, once the actions are made."""
        self._actions, self._commands = actions, commands
        bar = GoingBar(self._window, actions["back"], actions["forward"])
        bar.recent = lambda: self.moving.spots.recent[1:]
        bar.spot_asked.connect(self.moving.go)
        bar.box.sought.connect(self._on_sought)
        bar.box.gone.connect(self.go)
        self.moving.changed.connect(self.settle)
        self.bar = bar
        return bar

    def settle(self) -> None:
        """Open back and forward where they lead anywhere, and say where."""
        if self._actions is None:
            return
        for name, spot in (("back", self.moving.spots.behind), ("forward", self.moving.spots.ahead)):
            action = self._actions[name]
            action.setEnabled(spot is not None)
            if spot is not None:
                words = tr("Back to {title}") if name == "back" else tr("Forward to {title}")
                action.setToolTip(words.format(title=spot.title))

    def _enter(self) -> None:
        if self.bar is not None:
            self.bar.box.enter()

    def _on_moved(self) -> None:
        reading = self._showing.reading
        if reading is not self._read:
            self._read, self._seeker, self._known = reading, None, {}
            self._latest.forget()
            if self.bar is not None and self.bar.box.hasFocus():
                self._ready()
        self._choose_line()

    def _ready(self) -> None:
        """Make ready what can be found, in the worker, once somebody looks for something."""
        read = self._read
        if read is not None:
            self._latest.run(lambda: _prepared(read), self._on_ready)

    def _on_ready(self, prepared: tuple[Seeker, Mapping[tuple[str, int | str], Thing]]) -> None:
        self._seeker, self._known = prepared
        if self.bar is not None and self.bar.box.hasFocus():
            self._on_sought(self.bar.box.text())

    def _on_sought(self, text: str) -> None:
        if self.bar is None:
            return
        if self._seeker is None:
            self._ready()
        if not text.strip():
            late = tuple(
                self._known.get(_key(each), _as_thing(each)) for each in self.moving.spots.recent[1:]
            )
            self.bar.box.tell(late, tr("Shown of late") if late else tr("Type a few letters"))
            return
        fitting, found = 0, tuple[Thing, ...]()
        if self._seeker is not None:
            fitting, found = self._seeker.seek(text)
        commands = Seeker(self._open_commands()).seek(text)
        self.bar.box.tell_found(fitting + commands[0], _joined(found, commands[1]))

    def _open_commands(self) -> Iterator[Thing]:
        for each in self._commands:
            if (
                self._actions is not None
                and self._actions[each.id].isEnabled()
                and each.id not in _NO_OWN_FIND
            ):
                label = tr(each.words).replace("&", "").rstrip("…")
                said = " · ".join(part for part in (each.key, tr(each.tip)) if part)
                yield Thing(ThingKind.COMMAND, each.id, label, said)

    def go(self, thing: Thing) -> None:
        """Go to what was found."""
        target = thing.goes_to
        if isinstance(target, str):
            if thing.kind is ThingKind.PAGE:
                self._go_late(thing)
            elif self._actions is not None:
                self._actions[target].trigger()
        elif thing.kind in _STOREYS:
            node = self.moving.node(thing.kind.value, target)
            if node is not None:
                self._showing.go_to_place(node)
        else:
            self._goes[thing.kind](target)

    def _go_late(self, thing: Thing) -> None:
        for spot in self.moving.spots.recent:
            if (spot.page, spot.title) == (thing.goes_to, thing.label):
                self.moving.go(spot)
                return

    def _show_line(self, page: Listed, show: Callable[[], object], key: int) -> None:
        """Turn to a list and choose one of its lines, once it is read."""
        self._awaited = page, key
        show()

    def _choose_line(self) -> None:
        if self._awaited is None or self._showing.stack.currentWidget() is not self._awaited[0]:
            return
        (page, key), self._awaited = self._awaited, None
        if not isinstance(page, BatchesView) and not page.listing.choose(key):
            page.bar.clear()
            for choice in range(page.wanted.count()):
                page.wanted.setCurrentIndex(choice)
                if page.listing.choose(key):
                    break
        page.listing.choose(key)
        page.listing.setFocus(Qt.FocusReason.OtherFocusReason)


def _joined(found: Sequence[Thing], commands: Sequence[Thing]) -> tuple[Thing, ...]:
    """The finds, and below the best of them the commands, so that none is buried under many outlets."""
    return (*found[:10], *commands[:4], *found[10:])


def _prepared(read: EstateReading) -> tuple[Seeker, Mapping[tuple[str, int | str], Thing]]:
    seeker = Seeker(things_of(read))
    return seeker, {(each.kind.value, each.goes_to): each for each in seeker.things}


def _key(spot: Spot) -> tuple[str, int | str]:
    return spot.kind, spot.id


def _as_thing(spot: Spot) -> Thing:
    if spot.page == "outlet":
        return Thing(ThingKind.OUTLET, spot.id, spot.title)
    if spot.page == "place":
        return Thing(ThingKind(spot.kind), spot.id, spot.title)
    said = ", ".join(part for part in (spot.words,) if part)
    return Thing(ThingKind.PAGE, spot.page, spot.title, said)

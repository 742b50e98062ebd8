"""What the actions do that change places by hand: added, renamed, moved, removed; each can be undone."""

from collections.abc import Callable, Mapping, Sequence
from types import MappingProxyType
from typing import Final

from PySide6.QtWidgets import QWidget

from estate.domain.browsing import PlaceKind, PlaceNode
from estate.domain.conflicts import Seen
from estate.domain.editing import Edited, OutletDraft, Place, PlaceNames
from estate.domain.place_names import ABOVE, room_words
from estate.window.desk import Desk
from estate.window.dialogs.move_to import MoveToDialog
from estate.window.dialogs.places import AddOutletDialog, PlaceNamesDialog
from estate.window.dialogs.shell import Shell
from estate.window.form_keeping import Against, FormKeeper, Given
from estate.window.models.place_choice import place_of, short_name, told
from estate.window.notices import Notices
from estate.window.preferences import Preferences
from estate.window.tasks import Tasks
from estate.window.translating import said, tr
from estate.window.undoing import Step
from estate.window.ways_back import WaysBack

_ADD: Final[Mapping[PlaceKind, str]] = MappingProxyType(
    {
        PlaceKind.SITE: said("Add a site"),
        PlaceKind.BUILDING: said("Add a building"),
        PlaceKind.LEVEL: said("Add a level"),
        PlaceKind.ROOM: said("Add a room"),
    }
)
NOTHING: Final[Mapping[str, str]] = MappingProxyType({})


class Renewed:
    """Which place stands for one that was added, undone and added again: its id is another then."""

    def __init__(self) -> None:
        self._now: dict[Place, Place] = {}

    def now(self, place: Place) -> Place:
        """The place that stands for it now."""
        while place in self._now:
            place = self._now[place]
        return place

    def renew(self, place: Place, made: Edited) -> Edited:
        """Note that a place was added again; what came of it is returned."""
        before, added = self.now(place), made.added_id
        if added is not None and added != before[1]:
            self._now[before] = (place[0], added)
        return made


class EditingDoings:
    """Runs operations that change places by hand.

    Args:
        tasks: where they run.
        notices: where their change sets and steps are announced.
        preferences: whose name is kept.
    """

    def __init__(self, tasks: Tasks, notices: Notices, preferences: Preferences) -> None:
        self._tasks, self._notices, self._preferences = tasks, notices, preferences
        self._forms = FormKeeper(tasks, notices)
        self._desk: Desk | None = None
        self._renewed = Renewed()

    def who(self) -> str:
        """Whose name is kept beside entries."""
        return self._preferences.who

    def renewed(self, desk: Desk) -> Renewed:
        """Places added again in a register; none once another is seated."""
        if desk is not self._desk:
            self._desk, self._renewed = desk, Renewed()
        return self._renewed

    def add(
        self, desk: Desk, above: PlaceNode | None, parent: QWidget, then: Callable[[Place], None]
    ) -> None:
        """Add a place one storey below another, or a site; `then` gets it."""
        lies_in = None if above is None else above.kind
        kind = next(each for each in PlaceKind if ABOVE[each] is lies_in)
        if above is not None and kind is PlaceKind.OUTLET:
            self._add_outlet(desk, above, parent, then)
            return
        where = "" if above is None else short_name(above)
        title = tr(_ADD[kind])
        dialog = PlaceNamesDialog(title, kind, where, PlaceNames(""), title, parent)

        def keep(names: PlaceNames) -> None:
            place = None if above is None else place_of(above)
            renewed = self.renewed(desk)

            def add() -> Edited:
                below = None if place is None else renewed.now(place)
                return desk.editing.add_place(below, names, self.who())

            called = tr("{storey} {name}", storey=tr(kind.value), name=room_words(names))
            self._add(desk, dialog, kind, called, add, then)

        dialog.given.connect(keep)
        dialog.show_modal()

    def _add_outlet(
        self, desk: Desk, room: PlaceNode, parent: QWidget, then: Callable[[Place], None]
    ) -> None:
        dialog = AddOutletDialog(short_name(room), _begins(room), parent)
        renewed = self.renewed(desk)

        def keep(draft: OutletDraft) -> None:
            def add() -> Edited:
                return desk.editing.add_outlet(renewed.now(place_of(room))[1], draft, self.who())

            called = tr("outlet {reference}", reference=draft.reference)
            self._add(desk, dialog, PlaceKind.OUTLET, called, add, then)

        dialog.given.connect(keep)
        dialog.show_modal()

    def _add(
        self,
        desk: Desk,
        form: Shell,
        kind: PlaceKind,
        called: str,
        add: Callable[[], Edited],
        then: Callable[[Place], None],
    ) -> None:
        ways, renewed = WaysBack(desk, self.who), self.renewed(desk)

        def done(made: Edited) -> None:
            place = (kind, made.added_id or 0)
            then(place)
            step = ways.edited(tr("add {what}", what=called), made, lambda: renewed.renew(place, add()))
            self._told(made, step, tr("Added: {what}.", what=called))

        self._forms.keep(form, Given(lambda seen: add(), done, NOTHING))

    def rename(self, desk: Desk, node: PlaceNode, where: str, parent: QWidget) -> None:
        """Call a place otherwise."""
        place, renewed = place_of(node), self.renewed(desk)

        def show(known: tuple[Seen, PlaceNames]) -> None:
            seen, names = known
            title = tr("Rename {what}", what=short_name(node))
            dialog = PlaceNamesDialog(title, node.kind, where, names, tr("Rename"), parent)

            def keep(now: PlaceNames) -> None:
                def rename(against: Against) -> Edited:
                    held = against if isinstance(against, Seen) else None
                    return desk.editing.rename(renewed.now(place), now, self.who(), held)

                called = tr("rename {what}", what=short_name(node))
                done = self.done(desk, called, lambda: rename(None), _renamed(node, now))
                mine = {"name": now.name, "number": now.number}
                self._forms.keep(dialog, Given(rename, done, mine, seen))

            dialog.given.connect(keep)
            dialog.show_modal()

        self._tasks.run(
            lambda: (desk.editing.seen(node.kind.value, node.id), desk.editing.names(place)), show
        )

    def move_to(
        self,
        desk: Desk,
        nodes: Sequence[PlaceNode],
        tree: Sequence[PlaceNode],
        parent: QWidget,
        before: Callable[[Place], None],
    ) -> None:
        """Ask where places are moved to, and move them; `before` gets the place that was chosen."""
        above = ABOVE[nodes[0].kind]
        if above is None:
            return
        dialog = MoveToDialog(nodes, above, tree, parent)

        def keep(place: Place) -> None:
            before(place)
            move, done = self._move(desk, nodes, place, dialog.chosen_words)
            self._forms.keep(dialog, Given(lambda seen: move(), done, NOTHING))

        dialog.given.connect(keep)
        dialog.show_modal()

    def move(self, desk: Desk, nodes: Sequence[PlaceNode], to: PlaceNode) -> None:
        """Move places to another place, as they were dragged there."""
        move, done = self._move(desk, nodes, place_of(to), short_name(to))
        self._tasks.run(move, done)

    def _move(
        self, desk: Desk, nodes: Sequence[PlaceNode], to: Place, there: str
    ) -> tuple[Callable[[], Edited], Callable[[Edited], None]]:
        renewed, places = self.renewed(desk), [place_of(each) for each in nodes]

        def move() -> Edited:
            now = [renewed.now(each) for each in places]
            return desk.editing.move(now, renewed.now(to), self.who())

        what = told(nodes)
        called = tr("move {what} to {to}", what=what, to=there)
        return move, self.done(desk, called, move, tr("Moved: {what} → {to}.", what=what, to=there))

    def remove(self, desk: Desk, node: PlaceNode) -> None:
        """Take away a place that holds nothing."""
        renewed, what = self.renewed(desk), short_name(node)

        def remove() -> Edited:
            return desk.editing.remove_empty(renewed.now(place_of(node)), self.who())

        called = tr("remove {what}", what=what)
        self._tasks.run(remove, self.done(desk, called, remove, tr("Removed: {what}.", what=what)))

    def done(
        self, desk: Desk, called: str, again: Callable[[], Edited], words: str
    ) -> Callable[[Edited], None]:
        """What is to be done once a change by hand is kept: tell of it, and of the way back."""
        ways = WaysBack(desk, self.who)
        return lambda made: self._told(made, ways.edited(called, made, again), words)

    def _told(self, made: Edited, step: Step, words: str) -> None:
        self._notices.did(step)
        self._notices.announce(made.changes)
        self._notices.say(tr("{words} Undo takes it back.", words=words))


def _begins(room: PlaceNode) -> str:
    """How the references of a room's outlets begin."""
    references = [short_name(each) for each in room.children]
    return f"{references[0].rpartition('/')[0]}/" if references and "/" in references[0] else ""


def _renamed(node: PlaceNode, names: PlaceNames) -> str:
    return tr("Renamed: {what} is {now} now.", what=short_name(node), now=room_words(names))

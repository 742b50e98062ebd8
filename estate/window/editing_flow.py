"""How changes by hand run through the window: what is chosen in the tree or shown, joined to what is done."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from PySide6.QtCore import QPoint
from PySide6.QtGui import QKeySequence
from PySide6.QtWidgets import QMenu, QWidget

from estate.domain.browsing import PlaceKind, PlaceNode
from estate.domain.editing import Place
from estate.domain.life.outlet_use import UseStep
from estate.domain.roles import Deed
from estate.domain.standing import OutletState
from estate.window.commands.actions import Actions
from estate.window.commands.command import When
from estate.window.editing_doings import EditingDoings
from estate.window.models.place_choice import below, counted, of_one_storey, outlets_below, short_name
from estate.window.outlet_doings import OutletDoings
from estate.window.showing import Showing
from estate.window.translating import said, tr
from estate.window.undoing import Undoing
from estate.window.widgets.place_panel import PlacePanel

_ADD = {
    PlaceKind.SITE: said("&Add a building to {what}…"),
    PlaceKind.BUILDING: said("&Add a level to {what}…"),
    PlaceKind.LEVEL: said("&Add a room to {what}…"),
    PlaceKind.ROOM: said("&Add an outlet to {what}…"),
}
_MENU = (
    ("add-below", "rename", "move-to", "remove-place"),
    ("change-outlets", "take-outlets-out", "retire-outlets"),
    ("undo", "redo"),
)


@dataclass(frozen=True)
class ByHand:
    """What the actions run that change something by hand."""

    places: EditingDoings
    outlets: OutletDoings


class EditingFlow:
    """Joins the tree and the outlet shown to changes by hand, and to undo and redo.

    Args:
        window: the parent of dialogs.
        showing: what is shown.
        panel: the tree.
        doings: what is done.
        undoing: what can be undone.
        may: whether the account may do something; says why not.
    """

    def __init__(
        self,
        window: QWidget,
        showing: Showing,
        panel: PlacePanel,
        doings: ByHand,
        undoing: Undoing,
        may: Callable[[Deed], bool],
    ) -> None:
        self._window, self._showing, self._panel = window, showing, panel
        self._doings, self.undoing, self._may = doings, undoing, may
        self._actions: Actions | None = None
        panel.moved.connect(self._on_moved)
        panel.menu_asked.connect(self._on_menu)

    def runs(self) -> Mapping[str, Callable[[], None]]:
        """What each entry of the table of actions runs."""
        return {
            "undo": self.undoing.undo,
            "redo": self.undoing.redo,
            "add-site": lambda: self._on_add(None),
            "add-below": self._on_add_below,
            "rename": self._on_rename,
            "move-to": self._on_move_to,
            "remove-place": self._on_remove,
            "change-outlets": self._on_change,
            "take-outlets-out": lambda: self._on_stop(UseStep.TAKE_OUT, Deed.RECORD),
            "retire-outlets": lambda: self._on_stop(UseStep.RETIRE, Deed.AMEND),
            "edit-outlet": self._on_edit_outlet,
            "edit-valve": self._on_edit_valve,
            "fit-valve": self._on_fit_valve,
        }

    @property
    def _picked(self) -> tuple[PlaceNode, ...]:
        return self._panel.picked_nodes if self._showing.reading is not None else ()

    def so(self) -> set[When]:
        """The conditions that hold now."""
        picked, page = self._picked, self._showing.outlet
        (one,) = picked if len(picked) == 1 else (None,)
        storey = of_one_storey(picked)
        held = {
            When.SOMETHING_DONE: bool(self.undoing.undo_words),
            When.SOMETHING_UNDONE: bool(self.undoing.redo_words),
            When.PLACE_CHOSEN: one is not None,
            When.EMPTY_CHOSEN: one is not None and _may_be_empty(one),
            When.STOREY_CHOSEN: storey is not None and storey is not PlaceKind.SITE,
            When.OUTLETS_CHOSEN: any(each.outlets for each in picked),
            When.NO_VALVE_SHOWN: page is not None and page.valve is None,
        }
        return {each for each, holds in held.items() if holds}

    def dress(self, actions: Actions, refused: Mapping[Deed, str]) -> None:
        """Let the actions say what they would be about now, and places be dragged where the account may."""
        self._actions = actions
        self._panel.model.movable = Deed.AMEND not in refused
        undo, redo = self.undoing.undo_words, self.undoing.redo_words
        actions["undo"].setText(tr("&Undo {what}", what=_plain(undo)).rstrip())
        actions["redo"].setText(tr("&Redo {what}", what=_plain(redo)).rstrip())
        actions["redo"].setShortcuts([QKeySequence("Ctrl+Shift+Z"), QKeySequence("Ctrl+Y")])
        picked, room = self._picked, self._add_below()
        add = (
            tr("&Add below the chosen place…")
            if room is None
            else tr(_ADD[room.kind], what=_plain(short_name(room)))
        )
        actions["add-below"].setText(add)
        named = _plain(short_name(picked[0])) if len(picked) == 1 else tr("the empty place")
        actions["remove-place"].setText(tr("Remo&ve {what}", what=named))
        count = picked[0].outlets if len(picked) == 1 else len(outlets_below(picked))
        held = counted(PlaceKind.OUTLET, count) if count else tr("the chosen outlets")
        actions["change-outlets"].setText(tr("&Change {what}…", what=held))
        actions["take-outlets-out"].setText(tr("&Take {what} out of use…", what=held))
        actions["retire-outlets"].setText(tr("Ret&ire {what}…", what=held))

    def _on_menu(self, at: QPoint) -> None:
        if self._actions is None or not self._picked:
            return
        menu = QMenu(self._window)
        menu.setToolTipsVisible(True)
        for group in _MENU:
            for each in group:
                menu.addAction(self._actions[each])
            menu.addSeparator()
        menu.aboutToHide.connect(menu.deleteLater)
        menu.popup(at)

    def _add_below(self) -> PlaceNode | None:
        """The place that a further one is added to: of an outlet, its room."""
        picked = self._picked
        if len(picked) != 1:
            return None
        (one,) = picked
        return one if below(one.kind) is not None else self._panel.model.above((one.kind, one.id))

    def _on_add(self, above: PlaceNode | None) -> None:
        if self._showing.desk is not None and self._may(Deed.AMEND):
            self._doings.places.add(self._showing.desk, above, self._window, self._panel.await_place)

    def _on_add_below(self) -> None:
        above = self._add_below()
        if above is not None:
            self._on_add(above)

    def _on_rename(self) -> None:
        picked = self._picked
        if self._showing.desk is None or len(picked) != 1 or not self._may(Deed.AMEND):
            return
        if picked[0].kind is PlaceKind.OUTLET:
            self._edit(picked[0].id)
            return
        above = self._panel.model.above((picked[0].kind, picked[0].id))
        where = "" if above is None else short_name(above)
        self._doings.places.rename(self._showing.desk, picked[0], where, self._window)

    def _on_move_to(self) -> None:
        picked, reading = self._picked, self._showing.reading
        if self._showing.desk is not None and reading is not None and picked and self._may(Deed.AMEND):
            places, open_up = self._doings.places, self._panel.open_up
            places.move_to(self._showing.desk, picked, reading.tree, self._window, open_up)

    def _on_moved(self, places: tuple[Place, ...], to: Place) -> None:
        model = self._panel.model
        found = (model.node_of(each) for each in places)
        nodes, target = [each for each in found if each is not None], model.node_of(to)
        if self._showing.desk is not None and nodes and target is not None and self._may(Deed.AMEND):
            self._panel.open_up(to)
            self._doings.places.move(self._showing.desk, nodes, target)

    def _on_remove(self) -> None:
        picked = self._picked
        if self._showing.desk is not None and len(picked) == 1 and self._may(Deed.AMEND):
            self._doings.places.remove(self._showing.desk, picked[0])

    def _on_change(self) -> None:
        picked, reading = self._picked, self._showing.reading
        if self._showing.desk is None or reading is None or not self._may(Deed.AMEND):
            return
        tested = frozenset(line.outlet_id for line in reading.lines if line.last_visit is not None)
        self._doings.outlets.change(self._showing.desk, picked, tested, self._window)

    def _on_stop(self, step: UseStep, deed: Deed) -> None:
        if self._showing.desk is not None and self._may(deed):
            self._doings.outlets.stop(self._showing.desk, self._picked, step, self._window)

    def _on_edit_outlet(self) -> None:
        page = self._showing.outlet
        if page is not None and self._may(Deed.AMEND):
            self._edit(page.outlet.id)

    def _edit(self, outlet_id: int) -> None:
        if self._showing.desk is not None:
            self._doings.outlets.edit_outlet(self._showing.desk, outlet_id, self._window)

    def _on_edit_valve(self) -> None:
        page = self._showing.outlet
        if self._showing.desk is not None and page is not None and self._may(Deed.AMEND):
            self._doings.outlets.edit_valve(self._showing.desk, page, self._window)

    def _on_fit_valve(self) -> None:
        page = self._showing.outlet
        if self._showing.desk is not None and page is not None and self._may(Deed.AMEND):
            self._doings.outlets.fit_valve(self._showing.desk, page.outlet, self._window)


def _may_be_empty(node: PlaceNode) -> bool:
    """Whether a place may hold nothing; of an outlet, whether it has no valve."""
    return node.state is OutletState.NO_VALVE if node.kind is PlaceKind.OUTLET else not node.children


def _plain(words: str) -> str:
    """Words as they stand in a menu: an ampersand is no mnemonic."""
    return words.replace("&", "&&")

"""Changes by hand through the window: actions of the tree and of the outlet shown, and who may do them."""

from dataclasses import replace

import pytest
from PySide6.QtCore import QPoint
from PySide6.QtWidgets import QDialog, QLabel, QMenu

from estate.domain.browsing import OutletPage, PlaceKind, PlaceNode
from estate.domain.changes import ChangeSet
from estate.domain.editing import Edited, OutletChange, Written
from estate.domain.life.outlet_use import OutletUse
from estate.domain.roles import Deed, Role, refusals
from estate.domain.standing import OutletState
from estate.window.commands.change_menu import CHANGE_MENU
from estate.window.desk import Desk
from estate.window.dialogs.action_step import OutletUseDialog
from estate.window.dialogs.bulk_edit import BulkEditDialog
from estate.window.dialogs.conflict import ConflictDialog
from estate.window.dialogs.edit_outlet import EditOutletDialog
from estate.window.dialogs.edit_valve import EditValveDialog
from estate.window.dialogs.faults import FaultDialog
from estate.window.dialogs.move_to import MoveToDialog
from estate.window.dialogs.places import PlaceNamesDialog
from estate.window.editing_doings import Renewed
from estate.window.models.place_choice import place_of, short_name, walk
from estate.window.pictures import settle
from tests.window.conftest import Seat


def desk(seat: Seat) -> Desk:
    found = seat.window.showing.desk
    assert found is not None
    return found


def nodes(seat: Seat, kind: PlaceKind) -> list[PlaceNode]:
    reading = seat.window.showing.reading
    assert reading is not None
    return [each for each in walk(reading.tree) if each.kind is kind]


def pick(seat: Seat, *chosen: PlaceNode) -> None:
    for each in chosen:
        seat.window.panel.choose(place_of(each))
    seat.window.panel.tree.choose([place_of(each) for each in chosen], place_of(chosen[-1]))
    settle()


def trigger(seat: Seat, act: str) -> QDialog:
    assert seat.window.actions_[act].isEnabled(), seat.window.actions_[act].toolTip()
    seat.window.actions_[act].trigger()
    return seat.dialog()


def status(seat: Seat) -> str:
    return seat.window.statusBar().currentMessage()


def undo(seat: Seat) -> str:
    seat.window.actions_["undo"].trigger()
    settle()
    return status(seat)


def in_order(seat: Seat, count: int) -> list[PlaceNode]:
    """Outlets that nothing keeps from being put back in use."""
    found = [each for each in nodes(seat, PlaceKind.OUTLET) if each.state is OutletState.IN_ORDER]
    assert len(found) >= count
    return found[:count]


def page(seat: Seat, node: PlaceNode) -> OutletPage:
    return desk(seat).outlet_page(node.id)


def leave(dialog: QDialog) -> None:
    dialog.reject()
    settle()


def test_that_outlets_are_taken_out_of_use_and_retired_together_and_come_back_by_undo(seat: Seat) -> None:
    chosen = in_order(seat, 2)
    pick(seat, *chosen)
    form = trigger(seat, "take-outlets-out")
    assert isinstance(form, OutletUseDialog)
    assert form.windowTitle() == "Take 2 outlets out of use"
    form.why.setPlainText("main burst")
    form.who_told.setCurrentText("the ward sister")
    form.act.click()
    settle()
    assert [page(seat, each).use.use for each in chosen] == [OutletUse.OUT_OF_USE] * 2
    assert status(seat) == "Out of use: 2 outlets. Undo takes it back."
    trigger_again = seat.window.actions_["take-outlets-out"]
    trigger_again.trigger()
    refused = seat.dialog()
    assert isinstance(refused, FaultDialog)
    leave(refused)
    assert undo(seat) == "Undone: take 2 outlets out of use."
    assert [page(seat, each).use.use for each in chosen] == [OutletUse.IN_USE] * 2
    pick(seat, *chosen)
    form = trigger(seat, "retire-outlets")
    assert isinstance(form, OutletUseDialog)
    form.why.setPlainText("ward pulled down")
    form.act.click()
    settle()
    assert all(page(seat, each).outlet.retired_on is not None for each in chosen)
    live = next(each for each in nodes(seat, PlaceKind.OUTLET) if each.state is OutletState.IN_ORDER)
    pick(seat, *chosen, live)
    bulk = trigger(seat, "change-outlets")
    assert isinstance(bulk, BulkEditDialog)
    assert bulk.windowTitle() == "Change 1 outlet"
    leave(bulk)
    pick(seat, *chosen)
    assert isinstance(trigger(seat, "change-outlets"), FaultDialog)
    leave(seat.dialog())
    assert undo(seat).startswith("Undone: retire 2 outlets.")
    assert all(page(seat, each).outlet.retired_on is None for each in chosen)


def test_that_what_others_changed_at_one_of_many_outlets_is_told_and_mine_may_be_kept(seat: Seat) -> None:
    chosen = in_order(seat, 2)
    pick(seat, *chosen)
    form = trigger(seat, "change-outlets")
    assert isinstance(form, BulkEditDialog)
    form.little_used.setCurrentIndex(form.little_used.findText("Little used"))
    desk(seat).editing.amend_outlets([chosen[1].id], OutletChange(pipe_m=2.5), "B. Engineer", "measured")
    form.act.click()
    settle()
    (asked,) = [each for each in seat.dialogs() if isinstance(each, ConflictDialog)]
    told = "\n".join(each.text() for each in asked.findChildren(QLabel))
    assert asked.windowTitle() == "Somebody else changed 1 of them"
    for each in ("B. Engineer", "measured", f"{short_name(chosen[1])}: pipe m", "2.5", "as it is now"):
        assert each in told
    assert not any(page(seat, each).outlet.little_used for each in chosen)
    assert asked.keep is not None
    asked.keep.click()
    settle()
    assert seat.dialogs() == []
    assert all(page(seat, each).outlet.little_used for each in chosen)
    assert page(seat, chosen[1]).outlet.pipe_m == 2.5


def test_that_places_are_added_moved_and_removed_and_another_register_has_nothing_to_undo(seat: Seat) -> None:
    pick(seat, nodes(seat, PlaceKind.BUILDING)[0])
    named(seat, "add-below", "9")
    level, new = (
        nodes(seat, PlaceKind.LEVEL)[0],
        next(each for each in nodes(seat, PlaceKind.LEVEL) if short_name(each) == "Level 9"),
    )
    rooms = level.children[:2]
    pick(seat, *rooms)
    form = trigger(seat, "move-to")
    assert isinstance(form, MoveToDialog)
    form.panel.choose(place_of(new))
    form.act.click()
    settle()
    assert holder(seat, rooms[0]) == "Level 9"
    assert undo(seat) == "Undone: move 2 rooms to Level 9."
    assert holder(seat, rooms[0]) == short_name(level)
    named(seat, "add-site", "North Site")
    assert seat.window.actions_["add-below"].text() == "&Add a building to North Site…"
    assert seat.window.actions_["remove-place"].text() == "Remo&ve North Site"
    seat.window.actions_["remove-place"].trigger()
    settle()
    assert status(seat) == "Removed: North Site. Undo takes it back."
    assert "North Site" not in [short_name(each) for each in nodes(seat, PlaceKind.SITE)]
    assert undo(seat) == "Undone: remove North Site."
    assert "North Site" in [short_name(each) for each in nodes(seat, PlaceKind.SITE)]
    seat.window.actions_["refresh"].trigger()
    settle()
    assert seat.window.undoing.undo_words == "add site North Site"
    seat.window.seat(None)
    assert not seat.window.actions_["undo"].isEnabled()


def named(seat: Seat, act: str, name: str) -> None:
    """Add a place by its form."""
    form = trigger(seat, act)
    assert isinstance(form, PlaceNamesDialog)
    form.name.setText(name)
    form.act.click()
    settle()


def holder(seat: Seat, node: PlaceNode) -> str:
    above = seat.window.panel.model.above(place_of(node))
    return "" if above is None else short_name(above)


def test_that_the_outlet_shown_is_changed_and_its_valve(seat: Seat) -> None:
    chosen = in_order(seat, 1)[0]
    seat.window.showing.show_outlet(chosen.id)
    settle()
    form = trigger(seat, "edit-outlet")
    assert isinstance(form, EditOutletDialog)
    leave(form)
    form = trigger(seat, "rename")
    assert isinstance(form, EditOutletDialog)
    form.words.setText("Basin by the window")
    form.act.click()
    settle()
    assert page(seat, chosen).outlet.path.outlet == "Basin by the window"
    valve = trigger(seat, "edit-valve")
    assert isinstance(valve, EditValveDialog)
    valve.fields.serial.setText("A15-0001-R")
    valve.why.setText("read off the body")
    valve.act.click()
    settle()
    shown = seat.window.showing.outlet
    assert shown is not None
    assert shown.valve is not None
    assert shown.valve.serial == "A15-0001-R"
    assert undo(seat) == f"Undone: change valve at {shown.outlet.reference}."
    assert undo(seat) == f"Undone: change {shown.outlet.reference}."
    assert page(seat, chosen).outlet.path.outlet != "Basin by the window"


def test_that_the_tree_has_a_menu_and_what_is_shut_says_what_it_waits_for(
    seat: Seat, monkeypatch: pytest.MonkeyPatch
) -> None:
    pick(seat, *in_order(seat, 2))
    seat.window.panel.menu_asked.emit(QPoint(30, 30))
    (menu,) = [each for each in seat.window.findChildren(QMenu) if each.isVisible()]
    names = [each.objectName() for each in menu.actions() if each.objectName()]
    assert names == [
        *("add-below", "rename", "move-to", "remove-place"),
        *("change-outlets", "take-outlets-out", "retire-outlets", "undo", "redo"),
    ]
    menu.close()
    settle()
    seat.window.panel.tree.clearSelection()
    seat.window.panel.menu_asked.emit(QPoint(30, 30))
    assert [each for each in seat.window.findChildren(QMenu) if each.isVisible()] == []

    settle()
    tips = {each: seat.window.actions_[each].toolTip() for each in ("undo", "rename", "fit-valve")}
    assert tips["undo"].endswith("(Ctrl+Z). Open when something was done at this window.")
    assert tips["rename"].endswith("Open when one place is chosen in the tree.")
    assert tips["fit-valve"].endswith("Open when an outlet without a valve is shown.")
    assert seat.window.actions_["undo"].text() == "&Undo"
    may_change_nothing(seat, monkeypatch)


def may_change_nothing(seat: Seat, monkeypatch: pytest.MonkeyPatch) -> None:
    """With a recorder's account nothing is changed, and it is said why."""
    pick(seat, *in_order(seat, 2))
    reading, refused = desk(seat).read(), refusals(Role.RECORDER)
    monkeypatch.setattr(seat.window.showing.desk, "read", lambda: replace(reading, role=Role.RECORDER))
    seat.window.actions_["refresh"].trigger()
    settle()
    for command in CHANGE_MENU:
        if command.deed is Deed.AMEND:
            action = seat.window.actions_[command.id]
            assert not action.isEnabled()
            assert action.toolTip() == refused[Deed.AMEND]
    assert not seat.window.panel.model.movable
    room, other = nodes(seat, PlaceKind.ROOM)[:2]
    seat.window.panel.moved.emit((place_of(room.children[0]),), place_of(other))
    settle()
    assert status(seat) == refused[Deed.AMEND]
    assert seat.window.undoing.undo_words == ""


def test_that_a_place_added_again_under_another_number_is_known_by_its_first() -> None:
    renewed, place = Renewed(), (PlaceKind.ROOM, 5)
    for added_id in (5, 9, 9, 12, None):
        renewed.renew(place, Edited(ChangeSet(), Written(1, 1), added_id))
    assert renewed.now(place) == (PlaceKind.ROOM, 12)
    assert renewed.now((PlaceKind.ROOM, 9)) == (PlaceKind.ROOM, 12)
    assert renewed.now((PlaceKind.LEVEL, 5)) == (PlaceKind.LEVEL, 5)

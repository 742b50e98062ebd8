"""Every change by hand of the port, over a register; the past refuses them."""

from pathlib import Path

import pytest

from estate.domain.browsing import PlaceKind
from estate.domain.editing import Edited, OutletChange, OutletDraft, PlaceNames, ValveChange
from estate.domain.places import Use, UserGroup
from estate.domain.progress import silent
from estate.domain.valves import Valve
from estate.errors import RegisterFault
from estate.operations.open_register import new_register
from estate.window.editing import Editing
from estate.window.register_desk import RegisterDesk
from tests.window.builders import NOW, TODAY, RememberedEditing, outlet

WHO = "A. Officer"
DRAFT = OutletDraft("ME/1", "Basin", Use.BASIN, UserGroup.PATIENTS)


def all_changes(editing: Editing) -> list[Edited]:
    """One of each, on what the ones before added."""
    done: list[Edited] = []

    def kept(edited: Edited) -> int:
        done.append(edited)
        return edited.added_id or 0

    at = (PlaceKind.SITE, kept(editing.add_place(None, PlaceNames("Mere End"), WHO)))
    for kind in (PlaceKind.BUILDING, PlaceKind.LEVEL, PlaceKind.ROOM):
        at = kind, kept(editing.add_place(at, PlaceNames(f"New {kind.value}"), WHO))
    other = kept(editing.add_place((PlaceKind.LEVEL, 1), PlaceNames("Store", "9"), WHO))
    number = kept(editing.add_outlet(at[1], DRAFT, WHO))
    kept(editing.rename(at, PlaceNames("Ward", "7"), WHO, editing.seen("room", at[1])))
    kept(editing.move([(PlaceKind.OUTLET, number)], (PlaceKind.ROOM, other), WHO))
    kept(editing.amend_outlets([number], OutletChange(pipe_m=2.0), WHO))
    valve = kept(editing.fit_valve(number, Valve(0, "Make C", "C3", "1"), TODAY, WHO))
    kept(editing.amend_valve(valve, ValveChange(serial="2"), WHO))
    kept(editing.take_out([number], TODAY, "flood", "Sister Ash", True, WHO))
    kept(editing.retire([number], TODAY, "gone", WHO))
    spare = kept(editing.add_outlet(other, OutletDraft("ME/2", "", Use.BATH, UserGroup.STAFF), WHO))
    kept(editing.remove_empty((PlaceKind.OUTLET, spare), WHO))
    return done


@pytest.fixture
def desk(tmp_path: Path) -> RegisterDesk:
    register = new_register(tmp_path / "register.db", "Mere End", at=NOW, who=WHO, identifier="me-1")
    return RegisterDesk(register, "register.db", lambda: TODAY, lambda: NOW)


def test_that_every_change_by_hand_is_made_and_taken_back(desk: RegisterDesk) -> None:
    done = all_changes(desk.editing)
    assert len({each.written for each in done}) == len(done)
    for each in done[-1:-4:-1]:
        desk.editing.take_back(each.written, WHO, "")
    (node,) = desk.tree()
    (room,) = [each.id for each in node.children[0].children[0].children if "Store" in each.label]
    assert desk.editing.names((PlaceKind.ROOM, room)) == PlaceNames("Store", "9")
    (kept,) = desk.editing.outlets([done[5].added_id or 0])
    assert (kept.reference, kept.retired_on) == ("ME/1", None)
    desk.close()


def test_that_the_past_is_not_changed(desk: RegisterDesk) -> None:
    desk.editing.add_place(None, PlaceNames("Mere End"), WHO)
    past = desk.as_known_at(NOW, silent)
    with pytest.raises(RegisterFault, match="The past can't be changed"):
        past.editing.add_place(None, PlaceNames("Another"), WHO)
    past.close()
    desk.close()


def test_that_the_made_up_one_stands_for_the_port() -> None:
    editing = RememberedEditing(outlet())
    done = all_changes(editing)
    editing.take_back(done[0].written, WHO, "")
    assert [name for name, _ in editing.calls][-3:] == ["add_outlet", "remove_empty", "take_back"]
    assert editing.outlets([1]) == (outlet(),)
    editing.refuses = RegisterFault("Out of reach", "It does not answer.", "Wait.")
    with pytest.raises(RegisterFault):
        editing.retire([1], TODAY, "gone", WHO)

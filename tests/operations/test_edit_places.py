from datetime import timedelta

import pytest

from estate.domain.browsing import PlaceKind
from estate.domain.conflicts import ConflictFault, Seen
from estate.domain.editing import Edited, Place, PlaceNames
from estate.domain.life.outlet_use import UseStep
from estate.domain.places import Use, UserGroup
from estate.domain.trail import TrailWanted
from estate.errors import EntryFault, NotFoundFault, RegisterFault
from estate.operations import browse, set_rules
from estate.operations.as_known_at import as_known_at
from estate.operations.browse_trail import trail_page
from estate.operations.move_places import move_places
from estate.operations.register import Register
from estate.operations.remove_empty import remove_empty
from estate.operations.rename_place import names_of, rename_place, seen_of
from estate.operations.take_back_edit import take_back_edit
from estate.operations.use_outlet import use_outlet
from tests.builders import TODAY
from tests.operations.by_hand import added, back, outlet_id, place, rows, sound, with_outlet
from tests.operations.conftest import NOW, WHO

MAIN = ("Marlpit Cross", "Main Block")
GROUND = (*MAIN, "G")
BEDROOM = (*GROUND, "G01")
SHOWERS = (*GROUND, "G02")


@pytest.fixture
def kind() -> str:
    """Only a file: `test_server_editing` does the same on a server."""
    return "sqlite"


def rename(register: Register, at: Place, name: str, number: str = "", seen: Seen | None = None) -> Edited:
    return rename_place(register, at, PlaceNames(name, number), who=WHO, at=NOW, seen=seen)


def test_that_a_site_is_added_down_to_an_outlet(empty: Register) -> None:
    at: Place | None = None
    for kind in (PlaceKind.SITE, PlaceKind.BUILDING, PlaceKind.LEVEL, PlaceKind.ROOM):
        made = added(empty, at, f" New   {kind.value} ", "101" if kind is PlaceKind.ROOM else "")
        assert made.added_id is not None
        assert made.changes.everything
        at = (kind, made.added_id)
        assert names_of(empty, at).name == f"New {kind.value}"
    assert at is not None
    with_outlet(empty, at)
    path = browse.find_outlet(empty, "mm g g01 whb2").path
    assert (path.site, path.level, path.room_number) == ("New site", "New level", "101")
    assert sound(empty)


def test_that_the_tree_shows_places_in_which_nothing_lies_yet(empty: Register) -> None:
    site = added(empty, None, "New site").added_id
    bare = added(empty, None, "Another site").added_id
    assert site is not None
    for name in ("East", "West"):
        added(empty, (PlaceKind.SITE, site), name)
    assert [(each.label, len(each.children)) for each in browse.tree(empty, TODAY)] == [
        ("Another site", 0),
        ("New site", 2),
    ]
    assert {each.id for each in browse.tree(empty, TODAY)} == {site, bare}


def test_that_a_second_place_of_a_name_is_refused_and_the_first_is_named(register: Register) -> None:
    before = rows(register)
    with pytest.raises(EntryFault, match="That room is there already") as told:
        added(register, place(register, *GROUND), "bed-room", "g 01")
    assert told.value.detail == "Main Block · Level G · G01 Bedroom is there already."
    with pytest.raises(EntryFault, match="That site is there already"):
        added(register, None, "MARLPIT CROSS")
    with pytest.raises(EntryFault, match="there already"):
        rename(register, place(register, *SHOWERS), "Bedroom", "G01")
    assert added(register, place(register, *MAIN, "1"), "Bedroom", "G01").added_id
    assert before["level"] == rows(register)["level"]


def test_that_a_name_that_tells_nothing_is_refused(register: Register) -> None:
    for above, names, title in (
        (MAIN, PlaceNames(" · "), "A level needs a name"),
        (GROUND, PlaceNames("", " - "), "A room needs a number or a name"),
        (MAIN, PlaceNames("2", "2"), "Only a room has a number"),
        (GROUND, PlaceNames("long " * 30), "That is too long"),
    ):
        with pytest.raises(EntryFault, match=title):
            added(register, place(register, *above), names.name, names.number)


def test_that_no_place_is_added_in_a_room_or_in_one_that_is_gone(register: Register) -> None:
    with pytest.raises(EntryFault, match="No place can lie there"):
        added(register, place(register, *BEDROOM), "Cupboard")
    with pytest.raises(NotFoundFault, match="No such building"):
        added(register, (PlaceKind.BUILDING, 99), "2")
    with pytest.raises(NotFoundFault, match="No such room"):
        with_outlet(register, (PlaceKind.ROOM, 99))


def test_that_a_renamed_place_keeps_what_lies_in_it(register: Register) -> None:
    at = place(register, *GROUND)
    before = rows(register)
    seen = seen_of(register, "level", at[1])
    edited = rename_place(
        register, at, PlaceNames("Ground"), who=WHO, at=NOW, why="as on the doors", seen=seen
    )
    assert outlet_id(register) in edited.changes.outlets
    assert browse.find_outlet(register, "MM/G/G01/WHB1").path.level == "Ground"
    with pytest.raises(ConflictFault, match="Somebody else changed it"):
        rename(register, at, "Lower", seen=seen)
    with pytest.raises(EntryFault, match="Nothing would change"):
        rename(register, at, " Ground ")
    back(register, edited)
    assert rows(register) == before
    assert sound(register)


def test_that_an_outlet_is_not_renamed_as_a_place(register: Register) -> None:
    for call in (names_of, lambda opened, at: rename(opened, at, "x")):
        with pytest.raises(EntryFault, match="An outlet has a reference"):
            call(register, (PlaceKind.OUTLET, 1))


def test_that_the_trail_tells_a_change_in_words(register: Register) -> None:
    edited = rename(register, place(register, *BEDROOM), "Ward", "G01")
    back(register, edited, "the wrong room")
    taken, renamed = trail_page(register, TrailWanted(), most=2).lines
    assert (renamed.what, renamed.place) == ("renamed a room", "room 1: G01 Ward")
    assert (taken.what, taken.why) == ("took back: renamed a room", "the wrong room")
    assert [each.name for each in taken.changes] == ["name", "name key"]


def test_that_rooms_move_to_another_level_with_all_that_lies_in_them(register: Register) -> None:
    before = rows(register)
    rooms = [place(register, *BEDROOM), place(register, *SHOWERS)]
    edited = move_places(register, rooms, place(register, *MAIN, "1"), who=WHO, at=NOW)
    assert edited.changes.outlets == {
        outlet_id(register, f"MM/G/{each}") for each in ("G01/WHB1", "G02/SHR1", "G02/SHR2")
    }
    assert browse.find_outlet(register, "MM/G/G02/SHR1").path.level == "1"
    back(register, edited)
    assert rows(register) == before
    again = move_places(register, rooms, place(register, *MAIN, "1"), who=WHO, at=NOW)
    back(register, again)
    assert rows(register) == before
    assert sound(register)


def test_that_a_level_moves_to_a_building_and_a_building_to_a_site(register: Register) -> None:
    before = rows(register)
    first = move_places(
        register,
        [place(register, *MAIN, "1")],
        place(register, "Withy End", "Withy End House"),
        who=WHO,
        at=NOW,
    )
    second = move_places(register, [place(register, *MAIN)], place(register, "Withy End"), who=WHO, at=NOW)
    assert browse.find_outlet(register, "MM/1/101/BTH1").path.building == "Withy End House"
    assert browse.find_outlet(register, "MM/G/G01/WHB1").path.site == "Withy End"
    back(register, second)
    back(register, first)
    assert rows(register) == before


def test_that_a_level_does_not_move_where_its_name_is_taken(register: Register) -> None:
    with pytest.raises(EntryFault, match="That level is there already"):
        move_places(
            register,
            [place(register, *GROUND)],
            place(register, "Withy End", "Withy End House"),
            who=WHO,
            at=NOW,
        )


def test_that_only_places_of_one_storey_move_one_storey_up(register: Register) -> None:
    room, level, site = place(register, *BEDROOM), place(register, *GROUND), place(register, "Withy End")
    for chosen, to, title in (
        ([room, level], level, "Only places of one storey move together"),
        ([], level, "Only places of one storey move together"),
        ([site], site, "A site lies in no place"),
        ([room], site, "That can't be moved there"),
        ([room], level, "Nothing would change"),
    ):
        with pytest.raises(EntryFault, match=title):
            move_places(register, chosen, to, who=WHO, at=NOW)


def test_that_the_position_moves_with_its_last_outlet_alone(register: Register) -> None:
    first, second = (place(register, f"MM/G/G02/SHR{number}") for number in (1, 2))
    bedroom = place(register, *BEDROOM)
    position = rows(register)["outlet"][first[1]]["position_id"]
    lay = rows(register)["position"][position]["room_id"]
    move_places(register, [first], bedroom, who=WHO, at=NOW)
    assert rows(register)["position"][position]["room_id"] == lay
    edited = move_places(register, [second], bedroom, who=WHO, at=NOW)
    assert rows(register)["position"][position]["room_id"] == bedroom[1]
    back(register, edited)
    assert rows(register)["position"][position]["room_id"] == lay


def test_that_outlets_on_one_valve_move_together_with_its_position(register: Register) -> None:
    before = rows(register)
    chosen = [place(register, f"MM/G/G02/SHR{number}") for number in (1, 2)]
    edited = move_places(register, chosen, place(register, *BEDROOM), who=WHO, at=NOW)
    moved = rows(register)
    assert moved["position"] != before["position"]
    assert edited.changes.outlets == {each for _, each in chosen}
    back(register, edited)
    assert rows(register) == before


def test_that_what_holds_or_held_something_is_not_removed(register: Register) -> None:
    with pytest.raises(EntryFault, match="The room is not empty") as told:
        remove_empty(register, place(register, *SHOWERS), who=WHO, at=NOW)
    assert told.value.detail == "Main Block · Level G · G02 Shower room: 2 outlets."
    with pytest.raises(EntryFault, match="The outlet is not empty") as told:
        remove_empty(register, place(register, "MM/G/G01/WHB1"), who=WHO, at=NOW)
    assert told.value.detail == "MM/G/G01/WHB1: 2 visits; 1 valve fitted there, now or once."
    move_places(register, [place(register, "MM/G/G01/WHB1")], place(register, *SHOWERS), who=WHO, at=NOW)
    with pytest.raises(EntryFault, match="not empty") as told:
        remove_empty(register, place(register, *BEDROOM), who=WHO, at=NOW)
    assert told.value.detail == "Main Block · Level G · G01 Bedroom: 1 outlet lay there once."


def test_that_an_empty_room_is_removed_and_comes_back_under_its_number(register: Register) -> None:
    made = added(register, place(register, *GROUND), "Store", "G09")
    room = (PlaceKind.ROOM, made.added_id or 0)
    rename(register, room, "Linen store", "G09")
    seen = seen_of(register, "room", room[1])
    before = rows(register)
    edited = remove_empty(register, room, who=WHO, at=NOW)
    assert room[1] not in rows(register)["room"]
    with pytest.raises(NotFoundFault, match="No such room"):
        remove_empty(register, room, who=WHO, at=NOW)
    back(register, edited)
    assert rows(register) == before
    assert seen_of(register, "room", room[1]) == seen
    with pytest.raises(EntryFault, match="There is nothing to take back"):
        back(register, edited)
    assert sound(register)


def test_that_a_level_of_which_the_only_room_was_removed_is_removed(register: Register) -> None:
    before = rows(register)
    level = (PlaceKind.LEVEL, added(register, place(register, *MAIN), "2").added_id or 0)
    room = (PlaceKind.ROOM, added(register, level, "Store").added_id or 0)
    for each in (room, level):
        remove_empty(register, each, who=WHO, at=NOW)
    assert rows(register) == before


def test_that_a_place_with_values_of_its_own_is_not_removed(register: Register) -> None:
    made = with_outlet(register, place(register, *BEDROOM)).added_id or 0
    where = f"outlet:{made}"
    set_rules.override(
        register, "uk-healthcare", "isolation.residual-flow", where, 60.0, who=WHO, at=NOW, why="x"
    )
    use_outlet(register, made, UseStep.RETIRE, on=TODAY, why="gone", who=WHO, at=NOW)
    with pytest.raises(EntryFault, match="1 change of its use; 1 value of its own"):
        remove_empty(register, (PlaceKind.OUTLET, made), who=WHO, at=NOW)


def test_that_an_outlet_without_anything_is_removed_with_its_position(register: Register) -> None:
    before = rows(register)
    room = place(register, *BEDROOM)
    made = with_outlet(register, room)
    between = rows(register)
    edited = remove_empty(register, (PlaceKind.OUTLET, made.added_id or 0), who=WHO, at=NOW)
    assert rows(register) == before
    back(register, edited)
    assert rows(register) == between
    back(register, made)
    assert rows(register) == before
    assert with_outlet(register, room).added_id != made.added_id
    assert sound(register)


def test_that_the_past_knows_a_removed_place_before_and_after_it_came_back(register: Register) -> None:
    room = (PlaceKind.ROOM, added(register, place(register, *GROUND), "Store", "G09").added_id or 0)
    rename(register, room, "Linen store", "G09")
    edited = remove_empty(register, room, who=WHO, at=NOW + timedelta(hours=1))
    take_back_edit(register, edited.written, who=WHO, at=NOW + timedelta(hours=2))
    shown = []
    for minutes in (0, 90, 120):
        past = as_known_at(register, NOW + timedelta(minutes=minutes))
        shown.append(room[1] in rows(past)["room"])
        past.close()
    assert shown == [True, False, True]


def test_that_the_past_shows_a_place_by_its_name_of_then(register: Register) -> None:
    rename_place(register, place(register, *GROUND), PlaceNames("Ground"), who=WHO, at=NOW.replace(hour=12))
    past = as_known_at(register, NOW)
    try:
        assert browse.find_outlet(past, "MM/G/G01/WHB1").path.level == "G"
        with pytest.raises(RegisterFault, match="The past can't be changed"):
            added(past, None, "Another site")
    finally:
        past.close()


def test_that_the_reference_users_and_use_of_an_added_outlet_are_as_given(register: Register) -> None:
    made = with_outlet(register, place(register, *BEDROOM))
    page = browse.outlet_page(register, made.added_id or 0, TODAY)
    assert (page.outlet.use, page.outlet.user_group, page.valve) == (Use.BASIN, UserGroup.PATIENTS, None)
    with pytest.raises(EntryFault, match="That reference is taken"):
        with_outlet(register, place(register, *SHOWERS))

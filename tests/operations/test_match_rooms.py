"""Outlets that an asset list has in another room or under another name than the register."""

from pathlib import Path

import pytest

from estate.domain.questions import Answer, Choice
from estate.errors import EntryFault
from estate.operations import browse
from estate.operations.bring_in import commit
from estate.operations.register import Register
from estate.operations.undo_batch import what_rests_on
from estate.operations.verify_register import verify
from estate.store import places
from estate.store.schema import OutletRow, PositionRow
from estate.store.transaction import writing
from tests.operations.conftest import ASSETS, NOW, WHO, bring
from tests.operations.test_settling import BASIN, BATH, SHOWER, codes, kept, listed
from tests.operations.test_undo_batch import held, undo

HEADING, *LINES = ASSETS.splitlines()
SHEET = Answer("differs-from-register", Choice.SHEET)
REGISTER = Answer("differs-from-register", Choice.REGISTER)


def put(reference: str, old: str, new: str) -> str:
    """The list, with one outlet's line changed."""
    return "\n".join(
        [HEADING, *(each.replace(old, new) if each.startswith(reference) else each for each in LINES)]
    )


BASIN_MOVED = put(BASIN, ",G01,Bedroom,", ",G05,Sluice,")
SHOWERS_MOVED = ASSETS.replace(",Main Block,G,G02,Shower room,", ",Annexe,1,A12,Wet room,")
ONE_SHOWER_MOVED = put(SHOWER, ",G02,Shower room,", ",G05,Sluice,")


def placed(register: Register, reference: str) -> str:
    return str(browse.find_outlet(register, reference).path)


def rooms_of_positions(register: Register) -> set[bool]:
    """Whether each outlet lies in the room of its valve."""
    with register.database.reading() as session:
        rows = session.query(OutletRow.room_id, PositionRow.room_id).join(
            PositionRow, PositionRow.id == OutletRow.position_id
        )
        return {one == other for one, other in rows}


def test_that_another_room_is_asked_with_the_registers_place(register: Register, tmp_path: Path) -> None:
    (asked,) = listed(register, tmp_path, BASIN_MOVED).questions
    assert (asked.code, asked.ref, asked.cell) == ("differs-from-register", BASIN, "E2")
    assert asked.found == "Main Block · G · G05 Sluice"
    assert "it holds Main Block · G · G01 Bedroom. Which is right?" in asked.remedy
    assert "it would be a new one" in asked.remedy
    assert asked.choices == (Choice.SHEET, Choice.REGISTER)


def test_that_a_level_below_ground_is_asked_where_the_register_has_one_above(
    register: Register, tmp_path: Path
) -> None:
    sunk = put(BATH, ",1,101,", ",-1,101,")
    (asked,) = listed(register, tmp_path, sunk).questions
    assert (asked.code, asked.ref) == ("differs-from-register", BATH)
    assert "Main Block · -1 · 101" in asked.found
    with pytest.raises(EntryFault, match="Two levels can't be told apart"):
        kept(register, listed(register, tmp_path, sunk, SHEET))
    assert "Main Block · 1 · 101" in placed(register, BATH)


def test_that_the_registers_place_stays_if_a_person_says_so(register: Register, tmp_path: Path) -> None:
    proposal = listed(register, tmp_path, BASIN_MOVED, REGISTER)
    assert (codes(proposal), proposal.already_there, proposal.has_news) == ([], 5, False)


def test_that_an_outlet_moves_with_its_valve_and_undoing_takes_it_back_exactly(
    register: Register, tmp_path: Path
) -> None:
    before = held(register)
    proposal = listed(register, tmp_path, BASIN_MOVED, SHEET)
    assert [(each.field, each.before, each.after) for each in proposal.changes] == [
        ("place", "Main Block · G · G01 Bedroom", "Main Block · G · G05 Sluice")
    ]
    batch = kept(register, proposal)
    assert placed(register, BASIN) == "Main Block · G · G05 Sluice · Wash-hand basin 1"
    assert rooms_of_positions(register) == {True}
    assert listed(register, tmp_path, BASIN_MOVED).already_there == 5
    undo(register, batch)
    assert held(register) == before
    assert rooms_of_positions(register) == {True}
    assert verify(register).misfits == ()


def test_that_outlets_of_one_valve_move_together_to_a_building_that_is_made(
    register: Register, tmp_path: Path
) -> None:
    before = held(register)
    asked = listed(register, tmp_path, SHOWERS_MOVED).questions
    assert {each.cell for each in asked} == {"E3", "E4"}
    assert "One valve serves MM/G/G02/SHR2 as well" in asked[0].remedy
    batch = kept(register, listed(register, tmp_path, SHOWERS_MOVED, SHEET))
    assert placed(register, SHOWER) == "Annexe · 1 · A12 Wet room · Shower 1"
    assert placed(register, "MM/G/G02/SHR2") == "Annexe · 1 · A12 Wet room · Shower 2"
    assert rooms_of_positions(register) == {True}
    undo(register, batch)
    assert held(register) == before


def test_that_a_shared_valve_is_not_torn_apart(register: Register, tmp_path: Path) -> None:
    proposal = listed(register, tmp_path, ONE_SHOWER_MOVED, SHEET)
    (asked,) = proposal.questions
    assert "the list does not move that to the same room" in asked.remedy
    assert "MM/G/G02/SHR2" in asked.remedy
    assert proposal.changes == ()
    apart = SHOWERS_MOVED.replace("A12,Wet room,Shower 2", "A13,Wet room,Shower 2")
    assert codes(listed(register, tmp_path, apart, SHEET)) == ["differs-from-register"] * 2
    assert codes(listed(register, tmp_path, ONE_SHOWER_MOVED, REGISTER)) == []


def test_that_a_room_of_the_register_is_found_by_its_number_and_not_made_twice(
    register: Register, tmp_path: Path
) -> None:
    proposal = listed(register, tmp_path, put(BASIN, ",G01,Bedroom,", ",G02,Shower-rm,"), SHEET)
    assert [each.after for each in proposal.changes] == ["Main Block · G · G02 Shower room"]
    kept(register, proposal)
    with register.database.reading() as session:
        assert [each.room_number for each in places.rooms(session)].count("G02") == 1


def test_that_a_room_without_a_number_is_found_by_its_name(register: Register, tmp_path: Path) -> None:
    proposal = listed(register, tmp_path, put(BASIN, ",G01,Bedroom,", ",,Shower room,"), SHEET)
    assert [each.after for each in proposal.changes] == ["Main Block · G · G02 Shower room"]


def test_that_words_that_fit_several_rooms_move_nothing(register: Register, tmp_path: Path) -> None:
    more = LINES[0].replace("G01/WHB1", "G01/WHB2").replace("A15-1", "").replace("Bedroom", "Annexe of it")
    bring(register, tmp_path, f"{HEADING}\n{more}\n", "more.csv")
    proposal = listed(register, tmp_path, put(BATH, ",1,101,Bathroom,", ",G,G01,,"), SHEET)
    assert "2 rooms of that level fit" in proposal.questions[0].remedy
    assert proposal.changes == ()


def test_that_a_changed_level_keeps_the_name_of_the_room_and_a_site_is_told(
    register: Register, tmp_path: Path
) -> None:
    other = put(BASIN, "Marlpit Cross,Main Block,G,G01,Bedroom", "Withy End,Withy End House,2,G01,")
    (change,) = listed(register, tmp_path, other, SHEET).changes
    assert change.before == "Marlpit Cross · Main Block · G · G01 Bedroom"
    assert change.after == "Withy End · Withy End House · 2 · G01 Bedroom"


def test_that_a_later_move_rests_on_the_batch_and_a_room_moved_out_of_stays(
    register: Register, tmp_path: Path
) -> None:
    first = kept(register, listed(register, tmp_path, BASIN_MOVED, SHEET))
    moved = held(register)
    second = kept(register, listed(register, tmp_path, ASSETS, SHEET))
    (words,) = what_rests_on(register, first)
    assert words.startswith(f"{BASIN}: room changed on 25 Nov 2026")
    undo(register, second)
    assert held(register) == moved
    assert what_rests_on(register, first) == ()


def test_that_undoing_other_batches_leaves_the_room_to_come_back_to(empty: Register, tmp_path: Path) -> None:
    makes_room = LINES[0].replace("G01/WHB1", "G01/WHB9", 1).replace("A15-1", "A15-9")
    made = bring(empty, tmp_path, f"{HEADING}\n{makes_room}\n", "made.csv").batch_id
    bring(empty, tmp_path, "\n".join([HEADING, LINES[0]]), "basin.csv")
    answered = listed(empty, tmp_path, "\n".join(BASIN_MOVED.splitlines()[:2]), SHEET)
    move = kept(empty, answered)
    assert made is not None
    undo(empty, made)
    undo(empty, move)
    assert placed(empty, BASIN) == "Main Block · G · G01 Bedroom · Wash-hand basin 1"


def test_that_a_position_changed_alone_since_is_named(register: Register, tmp_path: Path) -> None:
    batch = kept(register, listed(register, tmp_path, BASIN_MOVED, SHEET))
    outlet = browse.find_outlet(register, BASIN)
    with writing(register.database, WHO, "moved", NOW) as tx:
        room = places.ensure_room(tx, "Marlpit Cross", "Main Block", "G", "G07", "Riser")
        tx.amend(PositionRow, outlet.position_id, room_id=room)
    (words,) = what_rests_on(register, batch)
    assert words.startswith(f"the valve position of {BASIN}: room changed")


def test_that_a_valve_in_another_room_stays_when_its_outlet_moves(register: Register, tmp_path: Path) -> None:
    outlet = browse.find_outlet(register, BASIN)
    with writing(register.database, WHO, "moved", NOW) as tx:
        room = places.ensure_room(tx, "Marlpit Cross", "Main Block", "G", "G07", "Riser")
        tx.amend(PositionRow, outlet.position_id, room_id=room)
    kept(register, listed(register, tmp_path, BASIN_MOVED, SHEET))
    with register.database.reading() as session:
        assert session.get_one(PositionRow, outlet.position_id).room_id == room


@pytest.mark.parametrize("choice", [SHEET, REGISTER])
def test_that_another_name_of_an_outlet_is_asked(register: Register, tmp_path: Path, choice: Answer) -> None:
    renamed = put(BASIN, "Wash-hand basin 1", "Basin by the door")
    (asked,) = listed(register, tmp_path, renamed).questions
    assert (asked.cell, asked.found) == ("G2", "Basin by the door")
    assert "name of the outlet: it holds Wash-hand basin 1" in asked.remedy
    commit(register, listed(register, tmp_path, renamed, choice), who=WHO, at=NOW)
    name = browse.find_outlet(register, BASIN).path.outlet
    assert name == ("Basin by the door" if choice is SHEET else "Wash-hand basin 1")


def test_that_a_blank_name_of_an_outlet_differs_from_nothing(register: Register, tmp_path: Path) -> None:
    assert listed(register, tmp_path, put(BASIN, "Wash-hand basin 1", "")).already_there == 5

from datetime import date

import pytest

from estate.domain.places import Outlet, OutletPath, Use, UserGroup
from estate.errors import EntryFault, NotFoundFault
from estate.store import places
from estate.store.transaction import Transaction
from tests.store.builders import add_basin


def test_that_an_outlet_comes_back_as_it_was_added(tx: Transaction) -> None:
    basin = add_basin(
        tx, "MX-G-01-B1", use=Use.BATH, user_group=UserGroup.DEPENDENT, pipe_m=1.25, little_used=True
    )
    path = OutletPath("Marlpit Cross", "Main block", "G", "01", "Bay 1", "Basin")
    expected = Outlet(
        basin.outlet_id, "MX-G-01-B1", path, Use.BATH, UserGroup.DEPENDENT, basin.position_id, True, 1.25
    )
    assert places.outlet(tx.session, basin.outlet_id) == expected
    assert places.outlets(tx.session) == (expected,)


@pytest.mark.parametrize("written", ["MX-G-01-B1", "mx g 01 b1", "MX/G/01/B1", " mxg01b1 "])
def test_that_an_outlet_is_found_however_its_reference_is_written(tx: Transaction, written: str) -> None:
    basin = add_basin(tx, "MX-G-01-B1")
    found = places.outlet_by_reference(tx.session, written)
    assert found is not None
    assert found.id == basin.outlet_id


def test_that_an_unknown_reference_finds_nothing(tx: Transaction) -> None:
    add_basin(tx)
    assert places.outlet_by_reference(tx.session, "MX-G-01-B2") is None


def test_that_an_unknown_outlet_is_not_found(tx: Transaction) -> None:
    with pytest.raises(NotFoundFault, match="outlet 99"):
        places.outlet(tx.session, 99)


def test_that_a_reference_written_another_way_is_taken(tx: Transaction) -> None:
    basin = add_basin(tx, "MX-G-01-B1")
    with pytest.raises(EntryFault, match="'mx g01 b1' is the same as 'MX-G-01-B1'"):
        places.add_outlet(
            tx,
            room_id=basin.room_id,
            position_id=basin.position_id,
            reference="mx g01 b1",
            name="Basin",
            use=Use.BASIN,
            user_group=UserGroup.STAFF,
            pipe_m=None,
        )
    assert len(places.outlets(tx.session)) == 1


@pytest.mark.parametrize("reference", ["", "  ", "-/-"])
def test_that_an_outlet_needs_a_reference(tx: Transaction, reference: str) -> None:
    with pytest.raises(EntryFault, match="needs a reference"):
        add_basin(tx, reference)


@pytest.mark.parametrize("pipe_m", [-0.1, float("nan"), float("inf")])
def test_that_a_pipe_has_a_length(tx: Transaction, pipe_m: float) -> None:
    with pytest.raises(EntryFault, match="not a length"):
        add_basin(tx, pipe_m=pipe_m)


def test_that_names_of_places_compare_without_case_and_punctuation(tx: Transaction) -> None:
    first = places.ensure_room(tx, "Withy End", "East wing", "Level 1", "1.04", "Sluice")
    again = places.ensure_room(tx, "WITHY  END", "East-Wing", "level 1", "104", "sluice ")
    assert again == first
    assert [(each.site, each.room_number) for each in places.rooms(tx.session)] == [("Withy End", "1.04")]


def test_that_only_missing_places_are_made(tx: Transaction) -> None:
    places.ensure_room(tx, "Withy End", "East wing", "G", "1", "Sluice")
    places.ensure_room(tx, "Withy End", "East wing", "G", "2", "Sluice")
    places.ensure_room(tx, "Withy End", "East wing", "1", "1", "Sluice")
    places.ensure_room(tx, "Withy End", "West wing", "G", "1", "Sluice")
    places.ensure_room(tx, "Marlpit Cross", "East wing", "G", "1", "Sluice")
    rooms = places.rooms(tx.session)
    counts = [len({getattr(each, name) for each in rooms}) for name in ("site_id", "building_id", "level_id")]
    assert (counts, len(rooms)) == ([2, 3, 4], 5)


def test_that_outlets_and_rooms_come_in_walking_order(tx: Transaction) -> None:
    for level, number in [("1", "2"), ("G", "10"), ("G", "9"), ("B", "1")]:
        room_id = places.ensure_room(tx, "Withy End", "East wing", level, number, "Room")
        places.add_outlet(
            tx,
            room_id=room_id,
            position_id=places.add_position(tx, room_id, ""),
            reference=f"{level}-{number}",
            name="Basin",
            use=Use.BASIN,
            user_group=UserGroup.STAFF,
            pipe_m=None,
        )
    order = ["B-1", "G-9", "G-10", "1-2"]
    assert [each.reference for each in places.outlets(tx.session)] == order
    assert [f"{each.level}-{each.room_number}" for each in places.rooms(tx.session)] == order


def test_that_an_outlet_is_amended_and_announced(tx: Transaction) -> None:
    basin = add_basin(tx)
    places.amend_outlet(
        tx, basin.outlet_id, use=Use.SHOWER, rule_set="uk-type2", retired_on=date(2026, 1, 1), pipe_m=None
    )
    found = places.outlet(tx.session, basin.outlet_id)
    assert (found.use, found.rule_set, found.retired_on, found.pipe_m) == (
        Use.SHOWER,
        "uk-type2",
        date(2026, 1, 1),
        None,
    )
    assert basin.outlet_id in tx.changes.outlets
    assert tx.changes.rules


def test_that_an_outlet_keeps_its_pipe_when_a_wrong_length_is_given(tx: Transaction) -> None:
    basin = add_basin(tx, pipe_m=0.5)
    with pytest.raises(EntryFault):
        places.amend_outlet(tx, basin.outlet_id, pipe_m=-1.0)
    assert places.outlet(tx.session, basin.outlet_id).pipe_m == 0.5


def test_that_a_building_has_its_rules_until_they_are_taken_back(tx: Transaction) -> None:
    basin = add_basin(tx)
    building = places.building_of_outlet(tx.session)[basin.outlet_id]
    assert places.building_rule_sets(tx.session) == {}
    places.choose_building_rules(tx, building, "uk-type2")
    assert places.building_rule_sets(tx.session) == {building: "uk-type2"}
    places.choose_building_rules(tx, building, None)
    assert places.building_rule_sets(tx.session) == {}


def test_that_the_room_of_an_outlet_is_told(tx: Transaction) -> None:
    basin = add_basin(tx)
    assert places.room_of_outlet(tx.session) == {basin.outlet_id: basin.room_id}

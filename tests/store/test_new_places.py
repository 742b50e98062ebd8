from dataclasses import replace
from datetime import date
from pathlib import Path

import pytest

from estate.domain.layouts import SheetKind
from estate.domain.places import Use, UserGroup
from estate.domain.valves import ModelLimits, Valve
from estate.errors import EntryFault
from estate.store import batches, ledger, places, valves
from estate.store.database import Database
from estate.store.new_places import NewPlaces
from estate.store.transaction import Transaction, writing
from estate.store.upgrade import create
from tests.store.builders import NOW, add_basin

BLOCK = ("Marlpit Cross", "Main block", "G", "01")
BODY = Valve(0, "Invented", "Model A", "S-1", limits=ModelLimits(10.0, None))
ROOMS = ("Bay 1", " bay 1 ", "Bay 2")


def add(new: NewPlaces, reference: str, room: str = "Bay 1", pipe_m: float | None = 0.6) -> int:
    room_id = new.room(*BLOCK, room)
    position_id = new.position(room_id, " under the basin ")
    new.fitted_valve(BODY, position_id, date(2024, 1, 2))
    return new.outlet(
        room_id=room_id,
        position_id=position_id,
        reference=reference,
        name="Basin",
        use=Use.BASIN,
        user_group=UserGroup.PATIENTS,
        pipe_m=pipe_m,
    )


def add_alone(tx: Transaction, reference: str, room: str) -> None:
    room_id = places.ensure_room(tx, *BLOCK, room)
    position_id = places.add_position(tx, room_id, "under the basin")
    valves.fit(tx, valves.add_valve(tx, BODY), position_id, date(2024, 1, 2))
    outlet = {"room_id": room_id, "position_id": position_id, "reference": reference, "name": "Basin"}
    use = {"use": Use.BASIN, "user_group": UserGroup.PATIENTS, "pipe_m": 0.6}
    places.add_outlet(tx, **outlet, **use)  # type: ignore[arg-type]  # the dictionaries hold several types


def content(database: Database) -> tuple[object, ...]:
    with database.reading() as session:
        return (
            places.outlets(session),
            valves.valves(session),
            valves.fittings(session),
            [replace(each, program="") for each in ledger.entries(session)],
        )


def test_that_outlets_added_together_leave_the_same_rows_and_entries_as_one_by_one(tmp_path: Path) -> None:
    together, alone = (create(tmp_path / each, "Marlpit Cross", "mx-1", NOW) for each in ("a.db", "b.db"))
    with writing(together, "A. Officer", "added", NOW) as tx:
        new = NewPlaces(tx)
        for number, room in enumerate(ROOMS):
            add(new, f"MX-{number}", room)
        new.write()
        many = tx.changes
    with writing(alone, "A. Officer", "added", NOW) as tx:
        for number, room in enumerate(ROOMS):
            add_alone(tx, f"MX-{number}", room)
        assert tx.changes == many
    assert content(together) == content(alone)
    together.close()
    alone.close()


def test_that_new_outlets_go_into_the_rooms_that_are_there(tx: Transaction) -> None:
    basin = add_basin(tx)
    new = NewPlaces(tx)
    outlet_id = add(new, "MX-2")
    new.write()
    rooms = places.room_of_outlet(tx.session)
    assert rooms[outlet_id] == rooms[basin.outlet_id]


@pytest.mark.parametrize(("first", "other"), [("1", "-1"), ("-1", "1")])
def test_that_a_level_below_ground_is_never_taken_for_one_above(
    tx: Transaction, first: str, other: str
) -> None:
    block, rest = ("Marlpit Cross", "Main block"), ("01", "Bay 1")
    room_id = places.ensure_room(tx, *block, first, *rest)
    with pytest.raises(EntryFault, match="Two levels can't be told apart"):
        places.ensure_room(tx, *block, other, *rest)
    with pytest.raises(EntryFault, match="Two levels can't be told apart") as told:
        places.ensure_room(tx, *block, other, "02", "Bay 2")
    assert told.value.detail.startswith(f"“{other}” would be taken for “{first}”")
    new = NewPlaces(tx)
    assert new.room(*block, first, *rest) == room_id
    with pytest.raises(EntryFault, match="Two levels can't be told apart"):
        new.room(*block, other, *rest)
    new.room("Marlpit Cross", "Annexe", other, *rest)
    with pytest.raises(EntryFault, match="Two levels can't be told apart"):
        new.room("Marlpit Cross", "Annexe", first, *rest)
    assert places.ensure_room(tx, *block, first, "02", "Bay 2") != room_id


def test_that_what_is_added_alone_afterwards_is_numbered_on(tx: Transaction) -> None:
    new = NewPlaces(tx)
    outlet_id = add(new, "MX-1")
    new.write()
    assert add_basin(tx, "MX-2").outlet_id == outlet_id + 1


def test_that_what_a_batch_adds_is_noted_as_its_own(tx: Transaction) -> None:
    batch_id = batches.add_batch(
        tx, file="a.csv", digest="0" * 64, kind=SheetKind.ASSETS, content=b"a", read=1, accepted=1,
        already_there=0, questions=(),
    )  # fmt: skip
    new = NewPlaces(tx)
    add(new, "MX-1")
    new.write()
    tx.finish()
    nouns = [each.noun for each in batches.rows_of(tx.session, batch_id)]
    assert nouns == ["site", "building", "level", "room", "position", "valve", "fitting", "outlet"]


REFUSED = (
    ("mx 1", 0.6, "'mx 1' is the same as 'MX-1'"),
    ("mx 2", 0.6, "'mx 2' is the same as 'MX-2'"),
    ("-", 0.6, "has no letter or figure"),
    ("MX-3", -0.1, "blended pipe -0.1 m"),
)


def test_that_outlets_that_can_not_be_are_refused(tx: Transaction) -> None:
    add_basin(tx, "MX-1")
    new = NewPlaces(tx)
    add(new, "MX-2")
    for reference, pipe_m, words in REFUSED:
        with pytest.raises(EntryFault, match=words):
            add(new, reference, pipe_m=pipe_m)


def test_that_a_valve_needs_figures(tx: Transaction) -> None:
    new = NewPlaces(tx)
    position_id = new.position(new.room(*BLOCK, "Bay 1"), "")
    with pytest.raises(EntryFault, match="set_c nan"):
        new.fitted_valve(replace(BODY, set_c=float("nan")), position_id, None)

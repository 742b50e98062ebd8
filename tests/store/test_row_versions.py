import pytest

from estate.errors import EntryFault
from estate.store import places
from estate.store.database import Database
from estate.store.row_versions import must_be_at, version_of
from estate.store.schema import OutletRow, RoomRow
from estate.store.transaction import Transaction, writing
from tests.store.builders import NOW, add_basin


def test_that_a_change_begun_on_an_older_state_is_refused_with_what_came_between(database: Database) -> None:
    with writing(database, "A. Officer", "added", NOW) as tx:
        outlet_id = add_basin(tx).outlet_id
    with database.reading() as session:
        version = version_of(session, OutletRow, outlet_id)
    with writing(database, "B. Engineer", "renamed", NOW) as tx:
        must_be_at(tx, OutletRow, outlet_id, version)
        places.amend_outlet(tx, outlet_id, name="Basin by the door", pipe_m=None)
    with (
        pytest.raises(EntryFault, match="Somebody else changed it") as caught,
        writing(database, "A. Officer", "renamed", NOW) as tx,
    ):
        must_be_at(tx, OutletRow, outlet_id, version)
    assert "changed by B. Engineer at 2026-11-25 09:30 UTC" in caught.value.detail
    assert 'name from "Basin" to "Basin by the door"' in caught.value.detail
    assert 'pipe m from "0.6" to nothing' in caught.value.detail


def test_that_a_row_that_is_gone_is_told_of(tx: Transaction) -> None:
    room_id = places.ensure_room(tx, "Marlpit Cross", "Main block", "G", "02", "Bay 2")
    tx.remove(RoomRow, room_id)
    tx.finish()
    with pytest.raises(EntryFault, match="Somebody else removed it") as caught:
        must_be_at(tx, RoomRow, room_id, 1)
    assert caught.value.detail == "changed by A. Officer at 2026-11-25 09:30 UTC."

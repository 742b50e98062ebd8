"""An ear on a file hears what other connections keep, on a network share as well."""

from pathlib import Path

import pytest

from estate.store import database as databases
from estate.store.database import Database
from estate.store.listening import FileEar, ear
from estate.store.transaction import writing
from estate.store.upgrade import create, open_existing
from tests.store.builders import NOW, add_basin


@pytest.mark.parametrize("on_a_share", [False, True])
def test_that_an_ear_hears_another_connection_and_costs_no_reading(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, on_a_share: bool
) -> None:
    monkeypatch.setattr(databases, "lies_on_network_share", lambda path: on_a_share)
    place = tmp_path / "estate.db"
    create(place, "Marlpit Cross", "mx-1", NOW).close()
    mine, theirs = open_existing(place), open_existing(place)
    listening = ear(mine)
    assert isinstance(listening, FileEar)
    assert not listening.stirred()
    with writing(theirs, "B. Engineer", "added", NOW) as tx:
        add_basin(tx)
    assert listening.stirred()
    assert not listening.stirred()
    listening.close()
    for each in (mine, theirs):
        each.close()


def test_that_own_entries_are_known_and_joined(database: Database) -> None:
    assert database.own_entries(0) == ()
    for number in range(2):
        with writing(database, "A. Officer", "added", NOW) as tx:
            add_basin(tx, f"B{number}")
        assert len(database.own_entries(0)) == 1
    with writing(database, "A. Officer", "looked", NOW):
        pass
    (own,) = database.own_entries(0)
    assert database.own_entries(own[-1]) == ()

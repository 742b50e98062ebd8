import uuid
from collections.abc import Iterator
from pathlib import Path

import pytest

from estate.domain.changes import ChangeSet
from estate.errors import RegisterFault
from estate.operations.open_register import new_register, open_register
from estate.operations.register import Register
from estate.operations.watch_register import Watch, watch
from estate.store import listening, places
from estate.store.transaction import writing
from tests.operations.conftest import ASSETS, NOW, WHO, bring
from tests.operations.team import MINE, ids_at, own_schema
from tests.operations.test_server_dropped import cut_off


@pytest.fixture
def server(tmp_path: Path) -> Iterator[str]:
    with own_schema(f"t{uuid.uuid4().hex}") as address:
        made = new_register(address, "Marlpit Cross", at=NOW, who=WHO)
        bring(made, tmp_path, ASSETS, "assets.csv")
        made.close()
        yield address


def rename(register: Register, outlet_id: int, name: str) -> None:
    with writing(register.database, WHO, "renamed", NOW) as tx:
        places.amend_outlet(tx, outlet_id, name=name)


def test_that_what_one_keeps_the_other_is_told(server: str) -> None:
    mine, theirs = open_register(server), open_register(server)
    outlet_id = ids_at(mine, MINE)["outlet"]
    told = watch(theirs, 5.0)
    assert next(told) == ChangeSet()
    rename(mine, outlet_id, "Basin by the door")
    assert outlet_id in next(told).outlets
    told.close()
    assert list(watch(theirs, 0.1)) == [ChangeSet()]
    for each in (mine, theirs):
        each.close()


def test_that_a_long_change_set_says_to_read_everything_afresh() -> None:
    long = ChangeSet(outlets=frozenset(range(5000)), rules=True)
    assert listening.read(listening.written(long)) == ChangeSet(rules=True, everything=True)
    short = ChangeSet(visits=frozenset({3, 1}))
    assert listening.read(listening.written(short)) == short


def test_that_a_server_that_will_not_be_listened_to_is_told(
    server: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    mine = open_register(server)
    monkeypatch.setattr(listening, "_CHANNEL", "SELECT 1 / 0")
    with pytest.raises(RegisterFault, match="division by zero"):
        Watch(mine).look()
    mine.close()


def test_that_a_watch_cut_off_tells_it_and_then_what_was_missed(server: str) -> None:
    mine, theirs = open_register(server), open_register(server)
    outlet_id = ids_at(mine, MINE)["outlet"]
    told = Watch(mine)
    assert told.look() == ()
    cut_off(theirs)
    rename(theirs, outlet_id, "Basin by the door")
    with pytest.raises(RegisterFault, match="can't be reached"):
        told.look()
    assert [each.what for each in told.look()] == ["renamed"]
    told.close()
    for each in (mine, theirs):
        each.close()

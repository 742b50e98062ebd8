"""A register moved from a file to a server and back."""

import uuid
from collections.abc import Iterator
from pathlib import Path

import pytest

from estate.errors import RegisterFault
from estate.operations.move_register import move
from estate.operations.open_register import new_register, open_register
from estate.operations.verify_register import verify
from estate.store import moving
from estate.store.moving import TableCount
from estate.store.transaction import writing
from tests.operations.conftest import ASSETS, NOW, VISITS, WHO, bring
from tests.operations.team import own_schema
from tests.store.builders import add_basin


@pytest.fixture
def server() -> Iterator[str]:
    with own_schema(f"t{uuid.uuid4().hex}") as address:
        yield address


def test_that_a_register_goes_to_a_server_and_back_whole(tmp_path: Path, server: str) -> None:
    first = new_register(tmp_path / "a.db", "Marlpit Cross", at=NOW, who=WHO)
    bring(first, tmp_path, ASSETS, "assets.csv")
    bring(first, tmp_path, VISITS, "visits.csv")
    there = move(first, server, who=WHO, at=NOW)
    with first.database.reading() as session:
        assert moving.counts(session) == there.tables
    assert there.rows > 60
    second = open_register(server)
    assert verify(second).misfits == ()
    with writing(second.database, WHO, "added a basin", NOW) as tx:
        add_basin(tx)
    move(second, tmp_path / "b.db", who=WHO, at=NOW)
    third = open_register(tmp_path / "b.db")
    assert verify(third).misfits == ()
    bring(third, tmp_path, ASSETS.replace("A15-1", "A15-9"), "again.csv")
    for each in (first, second, third):
        each.close()


def test_that_a_place_that_holds_a_register_is_refused(tmp_path: Path, server: str) -> None:
    first = new_register(tmp_path / "a.db", "Marlpit Cross", at=NOW, who=WHO)
    second = new_register(server, "Withy End", at=NOW, who=WHO)
    with pytest.raises(RegisterFault, match="The database is not empty"):
        move(first, server, who=WHO, at=NOW)
    with pytest.raises(RegisterFault, match="There is a file of that name already"):
        move(second, tmp_path / "a.db", who=WHO, at=NOW)
    for each in (first, second):
        each.close()


@pytest.mark.parametrize("to_server", [True, False])
def test_that_a_copy_that_differs_is_not_kept(
    tmp_path: Path, server: str, monkeypatch: pytest.MonkeyPatch, to_server: bool
) -> None:
    first = new_register(tmp_path / "a.db", "Marlpit Cross", at=NOW, who=WHO)
    target = server if to_server else str(tmp_path / "b.db")
    answers = iter([(TableCount("visit", 1, "a"),), (TableCount("visit", 1, "b"),)])
    with monkeypatch.context() as patched:
        patched.setattr(moving, "counts", lambda session: next(answers))
        with pytest.raises(RegisterFault, match="other rows in visit"):
            move(first, target, who=WHO, at=NOW)
    assert move(first, target, who=WHO, at=NOW).rows  # nothing is in the way
    first.close()

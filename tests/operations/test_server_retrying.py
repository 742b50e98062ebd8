"""A change that the server breaks off for another writer's sake is made again, whole; nothing else is."""

import threading
import uuid
from collections.abc import Iterator
from pathlib import Path

import pytest
from sqlalchemy import create_engine, make_url, select, text

from estate.errors import RegisterFault
from estate.operations.open_register import new_register, open_register
from estate.operations.register import Register
from estate.operations.verify_register import verify
from estate.store import places
from estate.store.retrying import TRIES, retried
from estate.store.schema import OutletRow, RoomRow
from estate.store.transaction import Transaction, writing
from tests.operations.conftest import ASSETS, NOW, WHO, bring
from tests.operations.team import MINE, ids_at, own_schema


@pytest.fixture
def register(tmp_path: Path) -> Iterator[Register]:
    with own_schema(f"t{uuid.uuid4().hex}") as address:
        made = new_register(address, "Marlpit Cross", at=NOW, who=WHO)
        bring(made, tmp_path, ASSETS, "assets.csv")
        made.close()
        own = make_url(address)
        quick = own.update_query_dict({"options": f"{own.query['options']} -cdeadlock_timeout=20ms"})
        opened = open_register(quick.render_as_string(hide_password=False))
        yield opened
        opened.close()


class Other:
    """Another program that changes the same two rows in the opposite order."""

    def __init__(self, register: Register, ids: dict[str, int]) -> None:
        self._url, self._ids = register.database.url, ids
        self.holds, self.may_ask = threading.Event(), threading.Event()
        self.thread = threading.Thread(target=self._work)
        self.thread.start()
        assert self.holds.wait(10)

    def _work(self) -> None:
        engine = create_engine(self._url)
        with engine.begin() as connection:
            connection.exec_driver_sql("SET LOCAL deadlock_timeout = '60s'")
            connection.execute(select(RoomRow).where(RoomRow.id == self._ids["room"]).with_for_update())
            self.holds.set()
            assert self.may_ask.wait(10)
            connection.execute(select(OutletRow).where(OutletRow.id == self._ids["outlet"]).with_for_update())
        engine.dispose()


def test_that_a_change_lost_to_a_deadlock_is_made_again_whole(register: Register) -> None:
    ids, tries = ids_at(register, MINE), list[int]()
    other = Other(register, ids)

    @retried
    def rename() -> None:
        with writing(register.database, WHO, "renamed", NOW) as tx:
            tries.append(1)
            places.amend_outlet(tx, ids["outlet"], name="Basin by the door")
            other.may_ask.set()
            tx.amend(RoomRow, ids["room"], name="Bay 2")

    rename()
    other.thread.join()
    assert len(tries) == 2
    with register.database.reading() as session:
        query = select(OutletRow.name, OutletRow.row_version).where(OutletRow.id == ids["outlet"])
        assert session.execute(query).one() == ("Basin by the door", 2)
    assert verify(register).misfits == ()


def overtaken(tx: Transaction, code: str) -> None:
    """Let the server say that it broke the transaction off."""
    tx.session.execute(
        text(f"DO $$ BEGIN RAISE EXCEPTION 'could not serialize' USING ERRCODE = '{code}'; END $$")
    )


@pytest.mark.parametrize(("code", "expected"), [("40001", TRIES), ("40P01", TRIES), ("55P03", 1)])
def test_that_tries_are_bounded_and_only_what_was_overtaken_is_tried_again(
    register: Register, monkeypatch: pytest.MonkeyPatch, code: str, expected: int
) -> None:
    tries, pauses = list[int](), list[float]()
    monkeypatch.setattr("time.sleep", pauses.append)

    @retried
    def rename() -> None:
        with writing(register.database, WHO, "renamed", NOW) as tx:
            tries.append(1)
            overtaken(tx, code)

    with pytest.raises(RegisterFault, match="The register is in use"):
        rename()
    assert len(tries) == expected
    assert pauses == sorted(pauses)
    assert sum(pauses) < 1

"""A connection that is lost: before a read, during a change, and while a commit is being answered."""

import uuid
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import psycopg
import pytest
from sqlalchemy import create_engine, select, text

from estate.errors import RegisterFault
from estate.operations.open_register import new_register
from estate.operations.register import Register
from estate.store import places
from estate.store.database import Session
from estate.store.schema import OutletRow
from estate.store.transaction import writing
from tests.operations.conftest import ASSETS, NOW, WHO, bring
from tests.operations.team import MINE, ids_at, own_schema


@pytest.fixture
def register(tmp_path: Path) -> Iterator[Register]:
    with own_schema(f"t{uuid.uuid4().hex}") as address:
        made = new_register(address, "Marlpit Cross", at=NOW, who=WHO)
        bring(made, tmp_path, ASSETS, "assets.csv")
        yield made
        made.close()


def cut_off(register: Register) -> None:
    """End every connection of the register, as a server that is started anew does."""
    engine = create_engine(register.database.url)
    with engine.connect() as connection:
        ended = text(
            "SELECT pg_terminate_backend(pid, 5000) FROM pg_stat_activity "
            "WHERE application_name = current_setting('application_name') AND pid <> pg_backend_pid() "
            "AND backend_type = 'client backend'"
        )
        assert all(connection.execute(ended).scalars())
    engine.dispose()


def rename(register: Register, name: str) -> None:
    outlet_id = ids_at(register, MINE)["outlet"]
    with writing(register.database, WHO, "renamed", NOW) as tx:
        places.amend_outlet(tx, outlet_id, name=name)


def name_now(register: Register) -> str:
    with register.database.reading() as session:
        query = select(OutletRow.name).where(OutletRow.reference == MINE)
        return session.execute(query).scalar_one()


def test_that_reads_and_changes_begun_after_a_cut_go_on(register: Register) -> None:
    before = name_now(register)
    cut_off(register)
    assert name_now(register) == before
    cut_off(register)
    rename(register, "Basin by the door")
    assert name_now(register) == "Basin by the door"


def test_that_a_change_cut_off_in_the_midst_is_told_and_nothing_is_written(register: Register) -> None:
    before = name_now(register)
    outlet_id = ids_at(register, MINE)["outlet"]
    with (
        pytest.raises(RegisterFault, match="can't be reached"),
        writing(register.database, WHO, "renamed", NOW) as tx,
    ):
        places.amend_outlet(tx, outlet_id, name="Lost")
        cut_off(register)
    assert name_now(register) == before


def test_that_a_commit_cut_off_before_it_was_kept_is_told(
    register: Register, monkeypatch: pytest.MonkeyPatch
) -> None:
    before, commit = name_now(register), Session.commit

    def cut_first(session: Session) -> None:
        cut_off(register)
        commit(session)

    with monkeypatch.context() as patched:
        patched.setattr(Session, "commit", cut_first)
        with pytest.raises(RegisterFault, match=r"The connection was lost.*nothing was written"):
            rename(register, "Lost")
    assert name_now(register) == before


def answerless(register: Register, monkeypatch: pytest.MonkeyPatch, then_gone: bool) -> None:
    """Let commits be kept but their answer be lost."""
    dialect: Any = register.database._engine.dialect
    commit = type(dialect).do_commit

    def kept_and_lost(self: Any, connection: Any) -> None:
        commit(self, connection)
        connection.driver_connection.close()
        if then_gone:
            monkeypatch.setattr(
                register.database, "_reader", create_engine("postgresql+psycopg://x@127.0.0.1:1/x")
            )
        raise psycopg.OperationalError("server closed the connection unexpectedly")

    monkeypatch.setattr(type(dialect), "do_commit", kept_and_lost)


def test_that_a_kept_commit_whose_answer_was_lost_is_not_done_again(
    register: Register, monkeypatch: pytest.MonkeyPatch
) -> None:
    with monkeypatch.context() as patched:
        answerless(register, patched, then_gone=False)
        rename(register, "Kept")
    assert name_now(register) == "Kept"


def test_that_a_commit_of_which_nothing_is_known_is_told_so(
    register: Register, monkeypatch: pytest.MonkeyPatch
) -> None:
    with monkeypatch.context() as patched:
        answerless(register, patched, then_gone=True)
        with pytest.raises(RegisterFault, match="whether the last change was kept is not known"):
            rename(register, "Kept")
    assert name_now(register) == "Kept"

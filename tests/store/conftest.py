"""A register for every test: in SQLite, and in PostgreSQL too where ESTATE_TEST_POSTGRESQL names a server."""

import os
import uuid
from collections.abc import Iterator
from pathlib import Path

import pytest
from sqlalchemy import create_engine, make_url, text

from estate.store.database import Database
from estate.store.transaction import Transaction, writing
from estate.store.upgrade import create, open_existing
from tests.copies import Copies
from tests.postgresql import VARIABLE
from tests.store.builders import NOW

KINDS: list[object] = ["sqlite"]
if VARIABLE in os.environ:
    KINDS.append(pytest.param("postgresql", marks=pytest.mark.postgresql))


@pytest.fixture(params=KINDS)
def lies_in(request: pytest.FixtureRequest) -> str:
    """What the register lies in."""
    return str(request.param)


@pytest.fixture
def address(lies_in: str, tmp_path: Path) -> Iterator[str]:
    """Where a register can be made: a file that is not there, or a schema of its own on the server."""
    if lies_in == "sqlite":
        yield str(tmp_path / "register.db")
        return
    schema = f"t{uuid.uuid4().hex}"
    server = make_url(os.environ[VARIABLE])
    engine = create_engine(server)
    with engine.begin() as connection:
        connection.execute(text(f"CREATE SCHEMA {schema}"))
    own = server.update_query_dict({"options": f"-csearch_path={schema}"})
    yield own.render_as_string(hide_password=False)
    with engine.begin() as connection:
        connection.execute(text(f"DROP SCHEMA {schema} CASCADE"))
    engine.dispose()


@pytest.fixture(scope="session")
def made_empty(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Copies]:
    """A register with nothing in it, to be copied."""

    def make(at: str) -> None:
        create(at, "Marlpit Cross", "mx-1", NOW, who="A. Officer").close()

    copies = Copies(make, tmp_path_factory.mktemp("made-empty"))
    yield copies
    copies.clear_away()


@pytest.fixture
def database(lies_in: str, made_empty: Copies, tmp_path: Path) -> Iterator[Database]:
    """An empty register."""
    with made_empty.copy(lies_in, tmp_path) as where:
        opened = open_existing(where)
        yield opened
        opened.close()


@pytest.fixture
def tx(database: Database) -> Iterator[Transaction]:
    """A transaction that is kept when the test is done."""
    with writing(database, "A. Officer", "tested the store", NOW) as transaction:
        yield transaction

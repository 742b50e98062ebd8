"""Registers for the tests of operations, on SQLite and where there is a server on PostgreSQL."""

import os
from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path

import pytest

from estate.operations.bring_in import Brought, commit, look
from estate.operations.open_register import new_register, open_register
from estate.operations.register import Register
from tests.builders import TODAY
from tests.copies import Copies
from tests.postgresql import VARIABLE
from tests.store.conftest import address, lies_in, made_empty  # noqa: F401 - fixtures, found by their names

collect_ignore_glob = [] if VARIABLE in os.environ else ["test_server_*.py"]
"""Those need a server."""

NOW = datetime(2026, 11, 25, 10, 30, tzinfo=UTC)
WHO = "A. Officer"
SMALL = Path(__file__).parent.parent / "data" / "small"
ASSETS = (SMALL / "assets.csv").read_text("utf-8")
VISITS = (SMALL / "visits.csv").read_text("utf-8")


def bring(register: Register, folder: Path, text: str, name: str = "sheet.csv") -> Brought:
    """Bring in a sheet given as CSV text."""
    path = folder / name
    path.write_text(text, encoding="utf-8")
    return commit(register, look(register, path, None, TODAY), who=WHO, at=NOW)


@pytest.fixture
def empty(lies_in: str, made_empty: Copies, tmp_path: Path) -> Iterator[Register]:
    """A register with nothing in it."""
    with made_empty.copy(lies_in, tmp_path) as where:
        register = open_register(where)
        yield register
        register.close()


@pytest.fixture(scope="session")
def only_read(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Register]:
    """The register of `register` on SQLite, made once: for tests that write nothing."""
    folder = tmp_path_factory.mktemp("only-read")
    register = new_register(folder / "register.db", "Marlpit Cross", at=NOW, who=WHO, identifier="mx-2")
    bring(register, folder, ASSETS, "assets.csv")
    bring(register, folder, VISITS, "visits.csv")
    yield register
    register.close()


def _made(address: str, folder: Path) -> Register:
    register = new_register(address, "Marlpit Cross", at=NOW, who=WHO, identifier="mx-1")
    bring(register, folder, ASSETS, "assets.csv")
    bring(register, folder, VISITS, "visits.csv")
    return register


@pytest.fixture(scope="session")
def made_once(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Copies]:
    """A register with five outlets on four valves and a few visits, to be copied."""
    folder = tmp_path_factory.mktemp("made-once")
    copies = Copies(lambda at: _made(at, folder).close(), folder)
    yield copies
    copies.clear_away()


@pytest.fixture
def register(lies_in: str, made_once: Copies, tmp_path: Path) -> Iterator[Register]:
    """A register of the test's own with outlets and visits."""
    with made_once.copy(lies_in, tmp_path) as where:
        opened = open_register(where)
        yield opened
        opened.close()

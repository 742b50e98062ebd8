"""Registers for the tests of operations, on SQLite and where there is a server on PostgreSQL."""

import os
from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path

import pytest

from estate.operations.bring_in import Brought, commit, look
from estate.operations.open_register import new_register
from estate.operations.register import Register
from tests.builders import TODAY
from tests.postgresql import VARIABLE
from tests.store.conftest import address  # noqa: F401 - a fixture, found by its name

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
def empty(address: str) -> Iterator[Register]:
    """A register with nothing in it."""
    register = new_register(address, "Marlpit Cross", at=NOW, who=WHO, identifier="mx-1")
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


@pytest.fixture
def register(empty: Register, tmp_path: Path) -> Register:
    """A register with five outlets on four valves and a few visits."""
    bring(empty, tmp_path, ASSETS, "assets.csv")
    bring(empty, tmp_path, VISITS, "visits.csv")
    return empty

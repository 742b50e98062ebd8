"""Registers for the tests of operations, on SQLite and where there is a server on PostgreSQL."""

import os
import shutil
from collections.abc import Iterator
from datetime import UTC, datetime
from pathlib import Path

import pytest

from estate.operations.bring_in import Brought, commit, look
from estate.operations.open_register import new_register, open_register
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


def _made(address: str, folder: Path) -> Register:
    register = new_register(address, "Marlpit Cross", at=NOW, who=WHO, identifier="mx-1")
    bring(register, folder, ASSETS, "assets.csv")
    bring(register, folder, VISITS, "visits.csv")
    return register


@pytest.fixture(scope="session")
def made_once(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A file with five outlets on four valves and a few visits."""
    folder = tmp_path_factory.mktemp("made-once")
    _made(str(folder / "register.db"), folder).close()
    return folder / "register.db"


@pytest.fixture
def register(address: str, made_once: Path, tmp_path: Path) -> Iterator[Register]:
    """A register of the test's own with outlets and visits: in SQLite a copy, on a server made anew."""
    if address.startswith("postgresql"):
        opened = _made(address, tmp_path)
    else:
        shutil.copy(made_once, address)
        opened = open_register(address)
    yield opened
    opened.close()

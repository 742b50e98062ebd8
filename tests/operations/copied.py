"""The small register as a copy of one that is made once: for tests that need many of them."""

import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest

from estate.operations.open_register import new_register, open_register
from estate.operations.register import Register
from tests.operations.conftest import ASSETS, NOW, VISITS, WHO, bring


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
    """A register of the test's own: on SQLite a copy, on a server made anew."""
    if address.startswith("postgresql"):
        opened = _made(address, tmp_path)
    else:
        shutil.copy(made_once, address)
        opened = open_register(address)
    yield opened
    opened.close()

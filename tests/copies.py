"""Registers made once and copied for each test: a file's copy, or on a server a database with a template."""

import os
import shutil
import uuid
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

from sqlalchemy import Engine, create_engine, make_url, text

from tests.postgresql import VARIABLE


class Copies:
    """Copies of one register.

    Args:
        make: makes the register at an address and closes it.
        folder: where the file lies that is copied.
    """

    def __init__(self, make: Callable[[str], None], folder: Path) -> None:
        self._make = make
        self._file = folder / "register.db"
        self._template = f"t{uuid.uuid4().hex}"
        self._server: Engine | None = None

    @property
    def file(self) -> Path:
        """The file that is copied; made when first asked for."""
        if not self._file.exists():
            self._make(str(self._file))
        return self._file

    @contextmanager
    def copy(self, kind: str, folder: Path) -> Iterator[str]:
        """Where a copy of the test's own lies.

        Args:
            kind: ``sqlite`` or ``postgresql``.
            folder: takes the file.
        """
        if kind == "sqlite":
            yield str(shutil.copy(self.file, folder / "register.db"))
            return
        server, name = self._prepared(), f"t{uuid.uuid4().hex}"
        _tell(server, f"CREATE DATABASE {name} TEMPLATE {self._template}")
        try:
            yield _address(name)
        finally:
            _tell(server, f"DROP DATABASE {name} WITH (FORCE)")

    def _prepared(self) -> Engine:
        """The server, once the template is there."""
        if self._server is None:
            self._server = create_engine(os.environ[VARIABLE], isolation_level="AUTOCOMMIT")
            _tell(self._server, f"CREATE DATABASE {self._template}")
            self._make(_address(self._template))
        return self._server

    def clear_away(self) -> None:
        """Take the template off the server."""
        if self._server is not None:
            _tell(self._server, f"DROP DATABASE {self._template} WITH (FORCE)")
            self._server.dispose()


def _address(name: str) -> str:
    return make_url(os.environ[VARIABLE]).set(database=name).render_as_string(hide_password=False)


def _tell(server: Engine, statement: str) -> None:
    with server.connect() as connection:
        connection.execute(text(statement))

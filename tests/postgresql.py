"""A throw-away PostgreSQL server for tests: ``python tests/postgresql.py -- COMMAND...`` runs one beside it.

The command finds the server's URL in ESTATE_TEST_POSTGRESQL. Standard library only.
"""

import os
import shutil
import socket
import subprocess
import sys
import tempfile
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path

VARIABLE = "ESTATE_TEST_POSTGRESQL"
USER = "postgres"
_SECONDS = 60


def programs() -> Path | None:
    """The folder that holds the server's programs, newest version first; None if there is none."""
    packed = sorted(Path("/usr/lib/postgresql").glob("*/bin"), key=_version, reverse=True)
    found = shutil.which("pg_ctl")
    folders = [*packed, *([Path(found).resolve().parent] if found else [])]
    return next((folder for folder in folders if (folder / "initdb").exists()), None)


def _version(folder: Path) -> float:
    try:
        return float(folder.parent.name)
    except ValueError:
        return 0.0


def _as_server_user(arguments: Sequence[str | Path], folder: Path) -> None:
    """Run one of the server's programs; the server refuses to run as root."""
    command = [str(each) for each in arguments]
    if hasattr(os, "geteuid") and os.geteuid() == 0:
        command = ["runuser", "-u", USER, "--", *command]
    with (folder / "programs.log").open("a") as log:
        subprocess.run(command, cwd=folder, stdout=log, stderr=log, check=True, timeout=_SECONDS)


def _free_port() -> int:
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return int(probe.getsockname()[1])


@contextmanager
def server() -> Iterator[str]:
    """A server on the loopback address that is gone afterwards; yields its URL.

    Raises:
        FileNotFoundError: PostgreSQL is not installed.
    """
    bin_folder = programs()
    if bin_folder is None:
        raise FileNotFoundError("PostgreSQL is not installed; on Debian: apt-get install postgresql")
    folder = Path(tempfile.mkdtemp(prefix="estate-postgresql-"))
    try:
        if hasattr(os, "geteuid") and os.geteuid() == 0:
            shutil.chown(folder, USER)
        yield from _served(bin_folder, folder)
    finally:
        shutil.rmtree(folder, ignore_errors=True)


def _served(bin_folder: Path, folder: Path) -> Iterator[str]:
    data, port = folder / "data", _free_port()
    options = f"-c listen_addresses=127.0.0.1 -p {port} -k {folder} -c fsync=off -c full_page_writes=off"
    make = (bin_folder / "initdb", "--no-sync", "--auth=trust", "--encoding=UTF8", "--locale=C")
    _as_server_user([*make, f"--username={USER}", "-D", data], folder)
    run = (bin_folder / "pg_ctl", "-D", data)
    _as_server_user([*run, "-w", "-l", folder / "server.log", "-o", options, "start"], folder)
    try:
        yield f"postgresql+psycopg://{USER}@127.0.0.1:{port}/postgres"
    finally:
        _as_server_user([*run, "-m", "immediate", "stop"], folder)


def main(arguments: Sequence[str]) -> int:
    """Run a command with a server; returns the command's exit status."""
    command = list(arguments[1:] if arguments[:1] == ["--"] else arguments)
    if not command:
        sys.stderr.write("usage: python tests/postgresql.py -- COMMAND...\n")
        return 2
    with server() as url:
        return subprocess.run(command, env=os.environ | {VARIABLE: url}, check=False).returncode


if __name__ == "__main__":
    raise SystemExit(main(sys.argv[1:]))

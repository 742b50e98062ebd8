"""Sets everything up from a fresh clone and runs the program or its tests; needs nothing but Python.

    python3 dev.py run  [-- ARGS]          the program; without ARGS on a copy of the sample estate
    python3 dev.py test [-- PYTEST ARGS]   lint, format, types and tests
    python3 dev.py wheel                   the main job from the built wheel, in a clean environment

The first time takes a minute or so; whatever has to be installed by hand is printed as the line to type.
"""

from __future__ import annotations  # a Python that is too old must still get as far as saying so

import ctypes
import hashlib
import importlib.util
import os
import shlex
import shutil
import subprocess
import sys
from collections.abc import Mapping, Sequence
from pathlib import Path

HERE = Path(__file__).resolve().parent
OUT = HERE / "out"
SAMPLE = HERE / "sample_estate.db"
VENV = HERE / ".venv"
PYTHON = VENV / ("Scripts/python.exe" if os.name == "nt" else "bin/python")
STAMP = VENV / "set-up-for"
OLDEST_PYTHON = (3, 11)
LINTED = ("estate", "tests", "migrations", "dev.py")
NO_SCREEN = {"QT_QPA_PLATFORM": "offscreen"}
SIDE_BY_SIDE = ("-n", "auto", "--dist", "worksteal", "--ignore=tests/benchmarks")
"""The whole of the tests, on every core; what is timed is run by hand, on a quiet machine."""

QT_LIBRARIES = {
    "libEGL.so.1": "libegl1",
    "libGL.so.1": "libgl1",
    "libglib-2.0.so.0": "libglib2.0-0",
    "libfontconfig.so.1": "libfontconfig1",
    "libxkbcommon.so.0": "libxkbcommon0",
    "libdbus-1.so.3": "libdbus-1-3",
    "libgssapi_krb5.so.2": "libgssapi-krb5-2",
}
QT_SCREEN_LIBRARIES = {
    "libxcb-cursor.so.0": "libxcb-cursor0",
    "libxcb-icccm.so.4": "libxcb-icccm4",
    "libxcb-keysyms.so.1": "libxcb-keysyms1",
    "libxcb-shape.so.0": "libxcb-shape0",
    "libxkbcommon-x11.so.0": "libxkbcommon-x11-0",
}
"""Shared library -> Debian package."""


class SetUpFault(Exception):
    """The set-up can't go on by itself; the words say what to do."""


def main(arguments: Sequence[str]) -> int:
    """Run the command named first; what follows `--` is passed on."""
    command = COMMANDS.get(arguments[0]) if arguments else None
    passed_on = list(arguments[1:])
    if passed_on[:1] == ["--"]:
        del passed_on[0]
    if command is None:
        print(__doc__)
        return 2
    try:
        set_up()
        return command(passed_on)
    except SetUpFault as fault:
        print(f"\n{fault}", file=sys.stderr)
        return 3
    except KeyboardInterrupt:
        return 130


def run(arguments: list[str]) -> int:
    """The program: with the person's arguments, or on a copy of the sample estate."""
    if arguments:
        return call([PYTHON, "-m", "estate", *arguments])
    OUT.mkdir(exist_ok=True)
    if not has_screen():
        say("no screen here, so the main job is done without one")
        return call([PYTHON, "-m", "estate", "demo", OUT], NO_SCREEN)
    copy = OUT / SAMPLE.name
    if copy.exists():
        say(f"opening {copy} as it was left; delete it to start afresh")
    else:
        shutil.copyfile(SAMPLE, copy)
    return call([PYTHON, "-m", "estate", "window", copy])


def test(arguments: list[str]) -> int:
    """Every check, also after one has failed; the status of the first that failed."""
    python: list[str | Path] = [PYTHON, "-m"]
    checks = [
        [*python, "ruff", "check", *LINTED],
        [*python, "ruff", "format", "--check", *LINTED],
        [*python, "mypy"],
        [*with_postgresql(), *python, "pytest", *(arguments or SIDE_BY_SIDE)],
    ]
    os.chdir(HERE)
    statuses = [call(check) for check in checks]
    return next((status for status in statuses if status), 0)


def wheel(arguments: list[str]) -> int:
    """The journey from the built wheel."""
    return call([PYTHON, HERE / "tests" / "journeys" / "wheel.py", *arguments])


def with_postgresql() -> list[str | Path]:
    """What to put before the tests so that they run on PostgreSQL too."""
    if not postgresql_is_here() and os.environ.get("CI") == "true" and is_root_on_debian():
        apt_install(["postgresql"])
    if postgresql_is_here():
        return [PYTHON, HERE / "tests" / "postgresql.py", "--"]
    say("PostgreSQL's server programs were not found: the PostgreSQL half of the store tests is NOT run")
    return []


def postgresql_is_here() -> bool:
    """Whether the tests find PostgreSQL's server programs."""
    return bool(answer([PYTHON, "-c", "from tests.postgresql import programs; print(programs() or '')"]))


def set_up() -> None:
    """Make what is missing: virtual environment, packages, Qt's system libraries."""
    if sys.version_info < OLDEST_PYTHON:
        raise SetUpFault(f"Python 3.11 or later is needed; this is {sys.version.split()[0]}.")
    install_system_packages()
    wanted = set_up_key()
    if STAMP.exists() and STAMP.read_text("utf-8") == wanted:
        return
    make_environment()
    install_packages()
    prove_qt()
    STAMP.write_text(wanted, "utf-8")


def set_up_key() -> str:
    """Changes whenever the set-up has to be done again."""
    files = [HERE / "pyproject.toml", HERE / "constraints.txt"]
    told = b"".join(file.read_bytes() for file in files) + f"{sys.version}{HERE}".encode()
    return hashlib.sha256(told).hexdigest()


def make_environment() -> None:
    """A fresh virtual environment, unless one of this Python is there."""
    ask_version: list[str | Path] = [PYTHON, "-c", "import sys, pip; print(sys.version)"]
    if PYTHON.exists() and answer(ask_version) == sys.version:
        return
    say(f"making {VENV}")
    if call([sys.executable, "-m", "venv", "--clear", VENV]) != 0:
        raise SetUpFault(f"The virtual environment could not be made in {VENV}; see the lines above.")


def install_packages() -> None:
    """Everything that pyproject.toml names, at the versions of constraints.txt."""
    say("installing packages (a minute or so, the first time only)")
    pip: list[str | Path] = [PYTHON, "-m", "pip", "install", "--quiet", "--disable-pip-version-check"]
    if call([*pip, "-c", HERE / "constraints.txt", "-e", f"{HERE}[dev]"]) != 0:
        raise SetUpFault("The packages could not be installed; see pip's lines above. Is there a network?")


def install_system_packages() -> None:
    """What pip can't bring: installed as root on Debian, else the line to type; elsewhere only named."""
    missing = [*missing_venv(), *missing_qt_libraries()]
    if not missing:
        return
    if is_root_on_debian():
        apt_install(missing)
        importlib.invalidate_caches()
    elif is_debian():
        line = shlex.join(["sudo", "apt-get", "install", "--no-install-recommends", *missing])
        raise SetUpFault(f"Some system packages are not here. Type this, then try again:\n  {line}")
    else:
        say(f"these may be missing here (by Debian's names): {' '.join(missing)}")


def missing_venv() -> list[str]:
    """Debian keeps the part of Python that makes environments in a package of its own."""
    if PYTHON.exists() or importlib.util.find_spec("ensurepip"):
        return []
    return [f"python{sys.version_info.major}.{sys.version_info.minor}-venv"]


def missing_qt_libraries() -> list[str]:
    """Debian packages of the libraries that can't be loaded."""
    if sys.platform != "linux":
        return []
    needed = QT_LIBRARIES | (QT_SCREEN_LIBRARIES if os.environ.get("DISPLAY") else {})
    return [package for library, package in needed.items() if not can_load(library)]


def can_load(library: str) -> bool:
    """Whether the system finds a shared library and all that it needs."""
    try:
        ctypes.CDLL(library)
    except OSError:
        return False
    return True


def prove_qt() -> None:
    """Qt must start, or the person sees why it does not."""
    program = "from PySide6.QtWidgets import QApplication; QApplication([])"
    if call([PYTHON, "-c", program], NO_SCREEN, shown=False) != 0:
        raise SetUpFault("Qt does not start on this machine; its own words are above.")


def has_screen() -> bool:
    """Whether a window could be seen."""
    return sys.platform != "linux" or bool(os.environ.get("DISPLAY") or os.environ.get("WAYLAND_DISPLAY"))


def is_debian() -> bool:
    """Whether packages come by apt-get."""
    return Path("/etc/debian_version").exists() and shutil.which("apt-get") is not None


def is_root_on_debian() -> bool:
    """Whether packages may be installed without asking."""
    return is_debian() and os.geteuid() == 0


def apt_install(packages: Sequence[str]) -> None:
    """Install Debian packages, quietly and without questions."""
    say(f"installing {' '.join(packages)} (apt-get)")
    get = ["apt-get", "-qq", "-o", "Dpkg::Use-Pty=0"]
    steps = [[*get, "update"], [*get, "install", "--yes", "--no-install-recommends", *packages]]
    environment = {**os.environ, "DEBIAN_FRONTEND": "noninteractive"}
    for step in steps:
        done = subprocess.run(
            step, env=environment, stdin=subprocess.DEVNULL, capture_output=True, text=True, check=False
        )
        if done.returncode != 0:
            raise SetUpFault(f"{shlex.join(step)} failed:\n{done.stdout}{done.stderr}")


def say(words: str) -> None:
    """Tell the person, in order with what the programs print."""
    print(f"dev.py: {words}", flush=True)


def answer(command: Sequence[str | Path]) -> str | None:
    """What a program prints; None if it fails."""
    try:
        done = subprocess.run(
            [str(part) for part in command], capture_output=True, text=True, cwd=HERE, check=False
        )
    except OSError:
        return None
    return done.stdout.strip() if done.returncode == 0 else None


def call(
    command: Sequence[str | Path], environment: Mapping[str, str] | None = None, shown: bool = True
) -> int:
    """Run a program, its line shown first; its exit status."""
    line = [str(part) for part in command]
    if shown:
        print(f"$ {shlex.join(line)}", flush=True)
    return subprocess.run(line, env={**os.environ, **(environment or {})}, check=False).returncode


COMMANDS = {"run": run, "test": test, "wheel": wheel}

if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))

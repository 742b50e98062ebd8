"""Builds the window's parts and hands them down; opens the window for a person."""

import sys
from collections.abc import Callable
from concurrent.futures import Executor, ThreadPoolExecutor
from dataclasses import dataclass
from datetime import UTC, date, datetime
from functools import partial
from getpass import getuser
from importlib.metadata import PackageNotFoundError, version
from pathlib import Path
from types import TracebackType

from PySide6.QtWidgets import QApplication

from estate import assets, settings
from estate.settings import Settings
from estate.window.dialogs.asking import Asking, PlatformAsking
from estate.window.doings import Doings
from estate.window.doors import RegisterDoors
from estate.window.look import Look, Scheme
from estate.window.main_window import MainWindow
from estate.window.notices import Notices
from estate.window.preferences import Preferences
from estate.window.sheet_doings import SheetDoings
from estate.window.tasks import Tasks


@dataclass(frozen=True)
class Surroundings:
    """What differs between a person's window, a test's and a picture's.

    Attributes:
        executor: where operations run.
        today: tells the day by which everything is judged.
        now: tells the moment kept beside entries, UTC.
        asking: answers for files.
        preferences: the person's.
        sample: gives a copy of the sample estate.
    """

    executor: Executor
    today: Callable[[], date]
    now: Callable[[], datetime]
    asking: Asking
    preferences: Preferences
    sample: Callable[[], Path]


@dataclass(frozen=True)
class Built:
    """The parts of a window that its builder goes on to use."""

    window: MainWindow
    look: Look
    notices: Notices
    tasks: Tasks


def build(application: QApplication, around: Surroundings) -> Built:
    """Build a window with no register open."""
    template = assets.resource("style", "window.qss").read_text(encoding="utf-8")
    look = Look(application, template, assets.resource("icons"))
    look.wear(_scheme(around.preferences.settings))
    notices = Notices()
    tasks = Tasks(around.executor, notices)
    window = MainWindow(
        tasks=tasks,
        notices=notices,
        look=look,
        doors=RegisterDoors(around.today, around.now, around.sample),
        doings=Doings(tasks, notices, around.asking, around.preferences),
        sheets=SheetDoings(tasks, notices, around.asking, around.preferences),
        preferences=around.preferences,
        version=program_version(),
    )
    window.setWindowIcon(look.drawing("program"))
    return Built(window, look, notices, tasks)


def _scheme(preferred: Settings) -> Scheme:
    return Scheme(preferred.scheme) if preferred.scheme in set(Scheme) else Scheme.SYSTEM


def program_version() -> str:
    """The installed version."""
    try:
        return version("estate-register")
    except PackageNotFoundError:
        return "not installed"


def run(register_url: str | None, argv: list[str]) -> int:
    """Open the window and stay until it is closed.

    Args:
        register_url: the register to open; None opens the one opened last, if it is still there.
        argv: the program's name and Qt's own options.

    Returns:
        The exit status.
    """
    application = QApplication(argv)
    application.setApplicationDisplayName("Estate register")
    place = settings.usual_place()
    preferences = Preferences(settings.load(place), lambda kept: settings.save(kept, place), _account())
    with ThreadPoolExecutor(1, "register") as executor:
        around = Surroundings(
            executor, date.today, partial(datetime.now, UTC), PlatformAsking(), preferences, _sample_copy
        )
        built = build(application, around)
        sys.excepthook = partial(_on_defect, built.notices)
        built.window.show()
        where = register_url or _opened_last(preferences.settings)
        if where:
            built.window.open(where)
        else:
            built.window.seat(None)
        status = application.exec()
        built.window.seat(None)
    sys.excepthook = sys.__excepthook__
    return status


def _account() -> str:
    try:
        return getuser()
    except (OSError, KeyError):
        return ""


def _opened_last(preferred: Settings) -> str | None:
    return preferred.register if preferred.register and Path(preferred.register).is_file() else None


def _on_defect(
    notices: Notices, kind: type[BaseException], error: BaseException, trace: TracebackType | None
) -> None:
    if isinstance(error, KeyboardInterrupt):
        QApplication.quit()
        return
    sys.__excepthook__(kind, error, trace)
    notices.report(error)


def _sample_copy() -> Path:
    """The person's own copy of the sample estate, built the first time."""
    from estate.sample import build_sample  # noqa: PLC0415 - only looked round by few

    place = settings.sample_place()
    if not place.exists():
        place.parent.mkdir(parents=True, exist_ok=True)
        build_sample(place)
    return place

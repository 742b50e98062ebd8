"""Builds the window's parts and hands them down; opens the window for a person."""

import sys
from collections.abc import Callable, Sequence
from concurrent.futures import Executor, ThreadPoolExecutor
from dataclasses import dataclass
from datetime import UTC, date, datetime
from functools import partial
from getpass import getuser
from importlib.metadata import PackageNotFoundError, version
from pathlib import Path
from types import TracebackType
from typing import TypeVar

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication

from estate import assets, settings
from estate.app.taking_up import take_up
from estate.domain.progress import Progress
from estate.settings import Settings
from estate.window.backing_up import BackingUp
from estate.window.backup_doings import BackupDoings
from estate.window.catalogue import unspoken
from estate.window.choosing_doings import ChoosingDoings
from estate.window.company import Company
from estate.window.desk import Desk
from estate.window.dialogs.asking import Asking, PlatformAsking
from estate.window.document_doings import DocumentDoings
from estate.window.doings import Doings
from estate.window.doors import RegisterDoors
from estate.window.editing_doings import EditingDoings
from estate.window.editing_flow import ByHand
from estate.window.life_flow import LifeDoings
from estate.window.list_doings import ListDoings
from estate.window.look import Look, Scheme
from estate.window.main_window import MainWindow
from estate.window.notices import Notices
from estate.window.outlet_doings import OutletDoings
from estate.window.past_doings import PastDoings
from estate.window.past_window import PastWindow
from estate.window.preferences import Preferences
from estate.window.sheet_doings import SheetDoings
from estate.window.signing_doings import SigningDoings
from estate.window.spoken import teach
from estate.window.standing import AsLeft
from estate.window.tasks import Tasks
from estate.window.trust_doings import TrustDoings
from estate.window.upkeep_doings import UpkeepDoings
from estate.window.widgets.focus_ring import FocusRings
from estate.window.windows_flow import Windows
from estate.window.work_doings import WorkDoings

Window = TypeVar("Window", bound=MainWindow)


@dataclass(frozen=True)
class Surroundings:
    """What differs between a person's window, a test's and a picture's.

    Attributes:
        executor: where operations run.
        today: tells the day by which everything is judged.
        now: tells the moment kept beside entries, UTC.
        asking: answers for files.
        preferences: the person's.
        sample: gives a copy of the sample estate; where it has to be built first, tells how far that is.
        seen: the file of the profile in which the newest entry seen is kept; None keeps nothing.
    """

    executor: Executor
    today: Callable[[], date]
    now: Callable[[], datetime]
    asking: Asking
    preferences: Preferences
    sample: Callable[[Progress], Path]
    seen: Path | None = None


@dataclass(frozen=True)
class Built:
    """The parts of a window that its builder goes on to use.

    Attributes:
        past: the windows on the past that are open.
        further: the windows opened beside the first.
    """

    window: MainWindow
    look: Look
    notices: Notices
    tasks: Tasks
    past: Sequence[PastWindow] = ()
    further: Sequence[MainWindow] = ()


def build(application: QApplication, around: Surroundings) -> Built:
    """Build a window with no register open."""
    teach(application)
    if application.findChild(FocusRings) is None:
        FocusRings(application)
    template = assets.resource("style", "window.qss").read_text(encoding="utf-8")
    look = Look(application, template, assets.resource("icons"))
    look.size_text(around.preferences.settings.text_percent)
    look.wear(_scheme(around.preferences.settings))
    past: list[PastWindow] = []
    further: list[MainWindow] = []

    def open_past(desk: Desk) -> None:
        window, _, tasks = _made(PastWindow, around, look, open_past, windows)
        past.append(window)
        window.destroyed.connect(tasks.hush)
        window.destroyed.connect(lambda: past.remove(window))
        window.show_past(desk)

    def open_further(desk: Desk | None, left: AsLeft) -> None:
        window, _, tasks = _made(MainWindow, around, look, open_past, windows)
        window.destroyed.connect(tasks.hush)
        window.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        further.append(window)
        window.destroyed.connect(lambda: further.remove(window))
        window.windows.take_up(left)
        window.show()
        if desk is None and left.register:
            window.open(left.register)
        else:
            window.seat(desk)

    windows = Windows(Company(), open_further)
    window, notices, tasks = _made(MainWindow, around, look, open_past, windows)
    return Built(window, look, notices, tasks, past, further)


def _made(
    kind: type[Window],
    around: Surroundings,
    look: Look,
    open_past: Callable[[Desk], None],
    windows: Windows,
) -> tuple[Window, Notices, Tasks]:
    """A window with its own notices, on the one worker that all windows share."""
    notices = Notices()
    tasks = Tasks(around.executor, notices)
    preferences = around.preferences
    backing_up = BackingUp(tasks, notices, preferences)
    doors = RegisterDoors(around.today, around.now, around.sample, lambda: preferences.settings, around.seen)
    by_hand = EditingDoings(tasks, notices, preferences)
    window = kind(
        tasks=tasks,
        notices=notices,
        look=look,
        doors=doors,
        doings=Doings(tasks, notices, around.asking, preferences),
        sheets=SheetDoings(tasks, notices, around.asking, preferences, backing_up),
        trust=TrustDoings(tasks, notices, around.asking, preferences, backing_up),
        signing=SigningDoings(tasks, notices, around.asking, preferences),
        backups=BackupDoings(tasks, notices, around.asking, preferences, backing_up, lambda: doors.safe),
        documents=DocumentDoings(tasks, notices, around.asking, preferences),
        past=PastDoings(tasks, around.now, open_past),
        life=LifeDoings(
            WorkDoings(tasks, notices, around.asking, preferences),
            UpkeepDoings(tasks, notices, preferences),
            ChoosingDoings(tasks, notices, preferences),
        ),
        lists=ListDoings(tasks, notices, around.asking),
        by_hand=ByHand(by_hand, OutletDoings(tasks, notices, by_hand)),
        preferences=preferences,
        windows=windows,
        version=program_version(),
    )
    window.setWindowIcon(look.drawing("program"))
    return window, notices, tasks


def _scheme(preferred: Settings) -> Scheme:
    return Scheme(preferred.scheme) if preferred.scheme in set(Scheme) else Scheme.SYSTEM


def program_version() -> str:
    """The installed version, or that of the checkout it runs from."""
    try:
        return version("estate-register")
    except PackageNotFoundError:
        return f"{assets.checkout_version()} (from a checkout)"


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
    application.setApplicationVersion(program_version())
    untold = unspoken(application, assets.resource("translations"))
    place = settings.usual_place()
    preferences = Preferences(settings.load(place), lambda kept: settings.save(kept, place), _account())
    with ThreadPoolExecutor(1, "register") as executor:
        around = Surroundings(
            executor,
            date.today,
            partial(datetime.now, UTC),
            PlatformAsking(),
            preferences,
            sample_copy,
            settings.seen_place(),
        )
        built = build(application, around)
        sys.excepthook = partial(_on_defect, built.window)
        if untold is not None:
            built.notices.caution(untold)
        take_up(built.window, built.tasks, register_url, preferences.settings)
        status = application.exec()
        built.window.seat(None)
    sys.excepthook = sys.__excepthook__
    return status


def _account() -> str:
    try:
        return getuser()
    except (OSError, KeyError):
        return ""


def _on_defect(
    window: MainWindow, kind: type[BaseException], error: BaseException, trace: TracebackType | None
) -> None:
    if isinstance(error, KeyboardInterrupt):
        QApplication.quit()
        return
    sys.__excepthook__(kind, error, trace)
    window.windows.notices.report(error)


def sample_copy(progress: Progress) -> Path:
    """The person's own copy of the sample estate, built the first time; whole, or not there at all."""
    from estate.sample import build_sample  # noqa: PLC0415 - only looked round by few

    place = settings.sample_place()
    if not place.exists():
        beside = place.with_suffix(".part")
        place.parent.mkdir(parents=True, exist_ok=True)
        _clear(beside)
        try:
            build_sample(beside, progress)
            beside.replace(place)
        finally:
            _clear(beside)
    return place


def _clear(register: Path) -> None:
    """Remove a register that was not finished, with what lies beside it."""
    for each in (register, *register.parent.glob(f"{register.name}-*")):
        each.unlink(missing_ok=True)

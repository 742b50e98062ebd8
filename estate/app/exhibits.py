"""The window on show: over the sample, without a display, with nobody at it."""

import os
import sys
import tempfile
from collections.abc import Callable, Iterator
from concurrent.futures import Executor
from datetime import UTC, datetime, time
from pathlib import Path

from PySide6.QtCore import QMessageLogContext, QtMsgType, qInstallMessageHandler
from PySide6.QtPrintSupport import QPrinter
from PySide6.QtWidgets import QApplication, QWidget

from estate.app.composing import Built, Surroundings, build
from estate.operations.open_register import new_register, open_register
from estate.operations.plan_retests import due_lines
from estate.sample import SAMPLE_TODAY, build_sample, contractors_round
from estate.settings import Settings
from estate.window import pictures
from estate.window.preferences import Preferences
from estate.window.tasks import Straight


class NoAsking:
    """Answers nothing: nobody sits at the window."""

    def file_to_open(self, title: str, kinds: str, parent: QWidget) -> Path | None:
        """No file."""
        return None

    def file_to_write(self, title: str, name: str, kinds: str, parent: QWidget) -> Path | None:
        """No file."""
        return None

    def folder(self, title: str, parent: QWidget) -> Path | None:
        """No folder."""
        return None

    def show_file(self, path: Path) -> None:
        """Nothing is opened."""

    def printer(self, prepare: Callable[[QPrinter], None], parent: QWidget) -> QPrinter | None:
        """No printer."""
        return None


def offscreen() -> QApplication:
    """An application that needs no display."""
    os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
    qInstallMessageHandler(_told)
    running = QApplication.instance()
    return running if isinstance(running, QApplication) else QApplication(["estate"])


def _told(kind: QtMsgType, context: QMessageLogContext, message: str) -> None:
    """Passes on what Qt says, but for what the display-less plugin says of itself."""
    if not message.startswith("This plugin does not support"):
        sys.stderr.write(f"{message}\n")


def sample_now() -> datetime:
    """The moment by which everything is shown: the sample's own day."""
    return datetime.combine(SAMPLE_TODAY, time(9), UTC)


def staged(
    application: QApplication, executor: Executor, sample: Path, scheme: str, width: int, height: int
) -> Built:
    """A window on the sample's own day."""
    preferences = Preferences(Settings(scheme, width=width, height=height), lambda kept: None, "E. Marlow")
    around = Surroundings(executor, lambda: SAMPLE_TODAY, sample_now, NoAsking(), preferences, lambda: sample)
    built = build(application, around)
    built.window.show()
    built.window.open(str(sample))
    return built


def put_away(built: Built) -> None:
    """Close a staged window for good; nothing of what was shown needs a backup."""
    built.window.trust.leave()
    built.window.close()
    built.window.deleteLater()
    pictures.settle()


def round_for(register: Path, sheet: Path) -> Path:
    """Write an invented contractor's sheet for a sample register."""
    opened = open_register(register)
    try:
        sheet.write_bytes(contractors_round(due_lines(opened, SAMPLE_TODAY), SAMPLE_TODAY))
    finally:
        opened.close()
    return sheet


def take_pictures(folder: Path) -> Iterator[Path]:
    """Take the pictures for the documentation: light and dark, empty and full, two sizes.

    Args:
        folder: where they go.

    Yields:
        Each picture as it is written.
    """
    application = offscreen()
    with tempfile.TemporaryDirectory() as held, Straight() as executor:
        register, bare = Path(held) / "sample_estate.db", Path(held) / "empty.db"
        build_sample(register)
        new_register(bare, "Withy End Care Home", at=sample_now(), who="E. Marlow").close()
        sheet = round_for(register, Path(held) / "contractors-round.csv")
        for scheme in ("light", "dark"):
            for where, width, height, scenes in (
                (register, 1280, 800, pictures.FULL),
                (register, 1920, 1080, pictures.WIDE),
                (bare, 1280, 800, pictures.BARE),
            ):
                built = staged(application, executor, where, scheme, width, height)
                stage = pictures.Stage(built.window, sheet)
                yield from pictures.take_all(stage, scenes, folder, f"{scheme}-{width}")
                put_away(built)

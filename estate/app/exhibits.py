"""The window on show: over the sample, without a display, with nobody at it."""

import os
import sys
import tempfile
from collections.abc import Callable, Collection, Iterator
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
from estate.window.pictures import book
from estate.window.pictures.book import Setting, Sight
from estate.window.pictures.stage import Stage, close_all, settle
from estate.window.pictures.taking import take
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
    application: QApplication,
    executor: Executor,
    sample: Path,
    scheme: str,
    width: int,
    height: int,
    percent: int = 100,
) -> Built:
    """A window on the sample's own day."""
    settings = Settings(scheme, width=width, height=height, text_percent=percent)
    preferences = Preferences(settings, lambda kept: None, "E. Marlow")
    given = (NoAsking(), preferences, lambda told: sample)
    around = Surroundings(executor, lambda: SAMPLE_TODAY, sample_now, *given)
    built = build(application, around)
    built.window.show()
    built.window.open(str(sample))
    return built


def put_away(built: Built) -> None:
    """Close a staged window for good; nothing of what was shown needs a backup."""
    built.window.trust.leave()
    built.window.close()
    built.window.deleteLater()
    settle()


def round_for(register: Path, sheet: Path) -> Path:
    """Write an invented contractor's sheet for a sample register."""
    opened = open_register(register)
    try:
        sheet.write_bytes(contractors_round(due_lines(opened, SAMPLE_TODAY), SAMPLE_TODAY))
    finally:
        opened.close()
    return sheet


def take_pictures(folder: Path, only: Collection[str] = ()) -> Iterator[Path]:
    """Take the pictures that the documents show, and the whole picture book with its table of contents.

    Args:
        folder: where the folders of both go.
        only: names of what is taken alone, without a table of contents; nothing takes all.

    Yields:
        Each file as it is written.
    """
    application = offscreen()
    made: list[tuple[Setting, Sight, str]] = []
    with tempfile.TemporaryDirectory() as held, Straight() as executor:
        register, bare = Path(held) / "sample_estate.db", Path(held) / "empty.db"
        build_sample(register)
        new_register(bare, "Withy End Care Home", at=sample_now(), who="E. Marlow").close()
        sheet = round_for(register, Path(held) / "contractors-round.csv")
        for setting in book.SETTINGS:
            where = bare if setting.empty else register
            size = (setting.scheme, setting.width, setting.height, setting.percent)
            built = staged(application, executor, where, *size)
            stage = Stage(built.window, sheet)
            for sight, path in _taken(stage, setting, folder, only):
                yield path
                if path.suffix == ".webp":
                    made.append((setting, sight, path.name))
            put_away(built)
    if only:
        return
    contents = folder / "picture-book" / "index.md"
    contents.write_text(book.index(made), encoding="utf-8")
    yield contents


def _taken(
    stage: Stage, setting: Setting, folder: Path, only: Collection[str]
) -> Iterator[tuple[Sight, Path]]:
    """The pictures of one setting: for the book, and for the documents where they show it."""
    for sight in setting.sights:
        if only and sight.name not in only:
            continue
        to = folder / "picture-book" / f"{sight.name}-{setting.ending}.webp"
        yield sight, take(stage, sight.scene, to)
        if book.in_documents(setting, sight):
            plain = folder / "pictures" / f"{sight.name}-{setting.scheme}-{setting.width}.png"
            yield sight, take(stage, sight.scene, plain)
        sight.after(stage)
        close_all(stage)

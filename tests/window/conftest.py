"""The real window over a copy of a small sample estate, with answers for what a person would be asked."""

import shutil
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from pathlib import Path

import pytest
from PySide6.QtPrintSupport import QPrinter
from PySide6.QtWidgets import QApplication, QDialog, QWidget
from pytestqt.qtbot import QtBot

from estate.app.composing import Built, Surroundings, build
from estate.sample import build_sample
from estate.settings import Settings
from estate.window.dialogs.preview_report import PreviewDialog
from estate.window.main_window import MainWindow
from estate.window.pictures import settle
from estate.window.preferences import Preferences
from estate.window.tasks import Straight
from tests.window.builders import NOW, TODAY


@dataclass
class Answers:
    """Answers for files, and what was shown."""

    to_open: Path | None = None
    to_write: Path | None = None
    to_use: Path | None = None
    shown: list[Path] = field(default_factory=list)

    def file_to_open(self, title: str, kinds: str, parent: QWidget) -> Path | None:
        """The file that the test chose."""
        return self.to_open

    def file_to_write(self, title: str, name: str, kinds: str, parent: QWidget) -> Path | None:
        """The file that the test chose."""
        return self.to_write

    def folder(self, title: str, parent: QWidget) -> Path | None:
        """The folder that the test chose."""
        return self.to_use

    def show_file(self, path: Path) -> None:
        """Remembers what would have been opened."""
        self.shown.append(path)

    def printer(self, prepare: Callable[[QPrinter], None], parent: QWidget) -> QPrinter | None:
        """A printer that writes to the file that the test chose, or none."""
        if self.to_write is None:
            return None
        printer = QPrinter(QPrinter.PrinterMode.HighResolution)
        printer.setOutputFormat(QPrinter.OutputFormat.PdfFormat)
        printer.setOutputFileName(str(self.to_write))
        prepare(printer)
        return printer


@dataclass
class Seat:
    """A window and what a test needs beside it."""

    built: Built
    answers: Answers
    kept: list[Settings]
    preferences: Preferences

    @property
    def window(self) -> MainWindow:
        """The window."""
        return self.built.window

    def dialog(self) -> QDialog:
        """The one dialog that is open."""
        settle()
        (found,) = self.dialogs()
        return found

    def dialogs(self) -> list[QDialog]:
        """Every dialog that is open."""
        return [each for each in self.window.findChildren(QDialog) if each.isVisible()]


def preview_of(window: MainWindow) -> PreviewDialog:
    """The preview of a report that is open over a window."""
    settle()
    (found,) = [each for each in window.findChildren(PreviewDialog) if each.isVisible()]
    return found


@pytest.fixture(scope="session")
def small_estate(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A sample estate of some forty outlets, built once."""
    place = tmp_path_factory.mktemp("estate") / "sample.db"
    build_sample(place, outlets=40)
    return place


@pytest.fixture
def bare(qapp: QApplication, tmp_path: Path, small_estate: Path) -> Iterator[Seat]:
    """The window with no register open."""
    answers, kept = Answers(), list[Settings]()
    copy = tmp_path / "copy.db"
    shutil.copyfile(small_estate, copy)
    settings = Settings("light", "A. Officer", backup_on_closing=False, backup_before_batches=False)
    preferences = Preferences(settings, kept.append, "account")
    with Straight() as executor:
        places = (lambda told: copy, tmp_path / "seen.json")
        around = Surroundings(executor, lambda: TODAY, lambda: NOW, answers, preferences, *places)
        built = build(qapp, around)
        built.window.watching.timer.stop()  # a test looks when it wants to
        built.window.show()
        built.window.seat(None)
        yield Seat(built, answers, kept, preferences)
        for dialog in built.window.findChildren(QDialog):
            dialog.done(0)
        built.window.seat(None)
        built.window.close()
        built.window.deleteLater()
        settle()


@pytest.fixture
def seat(bare: Seat, qtbot: QtBot) -> Seat:
    """The window over the copy of the sample estate."""
    bare.window.actions_["sample"].trigger()
    settle()
    return bare

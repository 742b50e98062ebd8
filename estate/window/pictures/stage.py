"""An open window to take pictures of."""

from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from PySide6.QtCore import QEvent
from PySide6.QtWidgets import QApplication, QDialog, QWidget

from estate.window.desk import Desk
from estate.window.dialogs.shell import Shell
from estate.window.main_window import MainWindow


@dataclass(frozen=True)
class Stage:
    """A window and what scenes need beside it.

    Attributes:
        sheet: a contractor's sheet, for the preview.
    """

    window: MainWindow
    sheet: Path

    @property
    def desk(self) -> Desk:
        """The register that is open.

        Raises:
            LookupError: none is.
        """
        desk = self.window.showing.desk
        if desk is None:
            raise LookupError("no register is open")
        return desk


Scene = Callable[[Stage], QWidget]


def settle() -> None:
    """Let everything be laid out and painted."""
    for _ in range(4):
        QApplication.processEvents()
        QApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)


def opened(stage: Stage) -> QDialog:
    """The dialog that was opened last."""
    settle()
    return [each for each in stage.window.findChildren(QDialog) if each.isVisible()][-1]


def over(dialog: Shell) -> QWidget:
    """Open a dialog that nothing in the sample leads to."""
    dialog.show_modal()
    return dialog


def run(stage: Stage, entry: str) -> None:
    """Run an entry of the table of actions."""
    stage.window.actions_[entry].trigger()
    settle()


def page_of(entry: str) -> Scene:
    """The page that an entry of the table of actions opens."""

    def scene(stage: Stage) -> QWidget:
        run(stage, entry)
        return stage.window

    return scene


def dialog_of(entry: str) -> Scene:
    """The dialog that an entry of the table of actions opens."""

    def scene(stage: Stage) -> QWidget:
        run(stage, entry)
        return opened(stage)

    return scene


def close_all(stage: Stage) -> None:
    """Close every dialog, the one opened last first."""
    for each in reversed([each for each in stage.window.findChildren(QDialog) if each.isVisible()]):
        each.done(QDialog.DialogCode.Rejected)
    settle()

"""Asking for files and for opening them: handed in, so that tests answer instead."""

from collections.abc import Callable
from pathlib import Path
from typing import Protocol

from PySide6.QtCore import QUrl
from PySide6.QtGui import QDesktopServices
from PySide6.QtPrintSupport import QPrintDialog, QPrinter
from PySide6.QtWidgets import QDialog, QFileDialog, QWidget


class Asking(Protocol):
    """Questions that the platform's own dialogs answer."""

    def file_to_open(self, title: str, kinds: str, parent: QWidget) -> Path | None:
        """An existing file, or None."""

    def file_to_write(self, title: str, name: str, kinds: str, parent: QWidget) -> Path | None:
        """A file to write, or None."""

    def folder(self, title: str, parent: QWidget) -> Path | None:
        """An existing folder, or None."""

    def show_file(self, path: Path) -> None:
        """Open a written file with the platform's program for it."""

    def printer(self, prepare: Callable[[QPrinter], None], parent: QWidget) -> QPrinter | None:
        """A printer, set up by `prepare` before the person chooses; None for none."""


class PlatformAsking:
    """Asks with the platform's file dialogs."""

    def file_to_open(self, title: str, kinds: str, parent: QWidget) -> Path | None:
        """An existing file, or None."""
        chosen, _ = QFileDialog.getOpenFileName(parent, title, "", kinds)
        return Path(chosen) if chosen else None

    def file_to_write(self, title: str, name: str, kinds: str, parent: QWidget) -> Path | None:
        """A file to write, or None; the platform asks before one is replaced."""
        chosen, kind = QFileDialog.getSaveFileName(parent, title, name, kinds)
        if not chosen:
            return None
        path = Path(chosen)
        if not path.suffix and "*." in kind:
            path = path.with_suffix("." + kind.split("*.")[1].rstrip(")").split()[0])
        return path

    def folder(self, title: str, parent: QWidget) -> Path | None:
        """An existing folder, or None."""
        chosen = QFileDialog.getExistingDirectory(parent, title)
        return Path(chosen) if chosen else None

    def show_file(self, path: Path) -> None:
        """Open a written file with the platform's program for it."""
        QDesktopServices.openUrl(QUrl.fromLocalFile(str(path)))

    def printer(self, prepare: Callable[[QPrinter], None], parent: QWidget) -> QPrinter | None:
        """A printer, or None."""
        printer = QPrinter(QPrinter.PrinterMode.HighResolution)
        prepare(printer)
        accepted = QPrintDialog(printer, parent).exec() == QDialog.DialogCode.Accepted
        return printer if accepted else None

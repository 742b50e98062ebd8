"""The frame that every dialog has: heading, body, buttons; Escape leaves it."""

from collections.abc import Callable

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QDialog, QHBoxLayout, QPushButton, QVBoxLayout, QWidget
from typing_extensions import override

from estate.window.widgets.text import label


class Shell(QDialog):
    """A dialog with a heading on top and buttons at the foot, the main one last.

    Attributes:
        left: whether it was closed, by whichever button.
    """

    def __init__(self, title: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.left = False
        self._waiting: list[QPushButton] = []
        self.setWindowTitle(title)
        self.setAccessibleName(title)
        self.heading = label(title, "title", wraps=True)
        self.body = QVBoxLayout()
        self.body.setSpacing(10)
        self.buttons = QHBoxLayout()
        self.buttons.setSpacing(8)
        self.buttons.addStretch(1)
        column = QVBoxLayout(self)
        column.setContentsMargins(20, 16, 20, 16)
        column.setSpacing(12)
        column.addWidget(self.heading)
        column.addLayout(self.body, 1)
        column.addLayout(self.buttons)

    def button(self, words: str, run: Callable[[], object], main: bool = False) -> QPushButton:
        """Add a button; the main one also answers to Enter."""
        made = QPushButton(words)
        made.clicked.connect(lambda checked=False: run())
        made.setAutoDefault(main)
        if main:
            made.setProperty("kind", "main")
            made.setDefault(True)
        self.buttons.addWidget(made)
        return made

    def hold(self) -> None:
        """Wait while what was given is being kept: no button answers, what was typed stays."""
        if self._waiting:
            return
        self._waiting = [each for each in self.findChildren(QPushButton) if each.isEnabled()]
        for each in self._waiting:
            each.setEnabled(False)

    def release(self) -> None:
        """Go on where it was not kept; nothing typed is lost."""
        for each in self._waiting:
            each.setEnabled(True)
        self._waiting = []

    @override
    def done(self, result: int) -> None:
        self.left = True
        super().done(result)

    def _fit(self) -> None:
        """Be as high as the words need at the least width."""
        layout = self.layout()
        if layout is not None and layout.hasHeightForWidth():
            self.resize(self.minimumWidth(), layout.heightForWidth(self.minimumWidth()))

    def show_modal(self) -> None:
        """Open over its window without stopping the event loop."""
        if not self.testAttribute(Qt.WidgetAttribute.WA_Resized):
            self._fit()
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.setWindowModality(Qt.WindowModality.WindowModal)
        self.show()

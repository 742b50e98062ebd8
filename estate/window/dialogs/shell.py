"""The frame that every dialog has: heading, body, buttons; Escape leaves it."""

from collections.abc import Callable
from typing import Final

from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QDialog, QPushButton, QVBoxLayout, QWidget
from typing_extensions import override

from estate.window.sizes import grown, room_for
from estate.window.widgets.flowing import Flowing
from estate.window.widgets.scrolled import BodyArea
from estate.window.widgets.text import label

ENTER: Final = (Qt.Key.Key_Return, Qt.Key.Key_Enter)


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
        self.area = BodyArea(self.body)
        self.area.setAccessibleName(title)
        self.buttons = Flowing(gap=8, to_right=True)
        column = QVBoxLayout(self)
        column.setContentsMargins(20, 16, 20, 16)
        column.setSpacing(12)
        column.addWidget(self.heading)
        column.addWidget(self.area, 1)
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
    def keyPressEvent(self, event: QKeyEvent) -> None:
        """Enter presses the button that has the keys, and the main one only where none has."""
        held = self.focusWidget()
        if event.key() in ENTER and isinstance(held, QPushButton):
            held.click()
            return
        super().keyPressEvent(event)

    @override
    def done(self, result: int) -> None:
        self.left = True
        super().done(result)

    def _grow(self) -> None:
        """Take the sizes it was given, which are written for text at 100 %, at the size that text has."""
        least, room = self.minimumSize(), room_for(self)
        if self.testAttribute(Qt.WidgetAttribute.WA_Resized):
            self.resize(QSize(grown(self.width()), grown(self.height())).boundedTo(room))
        self.setMinimumSize(QSize(grown(least.width()), grown(least.height())).boundedTo(room))

    def _fit(self) -> None:
        """Be as high as the words need at the least width, and no higher than the screen."""
        layout = self.layout()
        if layout is not None and layout.hasHeightForWidth():
            wide = max(self.minimumWidth(), layout.minimumSize().width())
            self.resize(QSize(wide, layout.heightForWidth(wide)).boundedTo(room_for(self)))

    def make_room(self) -> None:
        """Be high enough for words that were added, and no higher than the screen."""
        layout = self.layout()
        if layout is not None and self.isVisible():
            self.body.activate()
            self.area.updateGeometry()  # else the height that it said before is kept
            layout.activate()
            high = min(layout.heightForWidth(self.width()), room_for(self).height())
            self.resize(self.width(), max(self.height(), high))

    def show_modal(self) -> None:
        """Open over its window without stopping the event loop."""
        self._grow()
        if not self.testAttribute(Qt.WidgetAttribute.WA_Resized):
            self._fit()
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.setWindowModality(Qt.WindowModality.WindowModal)
        self.show()
        if self.focusWidget() in (None, self.area):
            self._enter()

    def _enter(self) -> None:
        """Give the keys to the first thing that they are for, not to the area that it lies in."""
        each = self.area.nextInFocusChain()
        while each is not None and each is not self.area:
            takes = bool(each.focusPolicy() & Qt.FocusPolicy.TabFocus)
            if takes and each.isVisibleTo(self) and each.isEnabled() and self.isAncestorOf(each):
                each.setFocus()
                return
            each = each.nextInFocusChain()

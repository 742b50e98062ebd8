"""The one box that finds anything: what was found lies below it, over the page, while it has the focus."""

from collections.abc import Sequence

from PySide6.QtCore import QEvent, QObject, QPoint, QRect, Qt, Signal
from PySide6.QtGui import QFocusEvent, QKeyEvent
from PySide6.QtWidgets import QFrame, QLineEdit, QListView, QVBoxLayout, QWidget
from typing_extensions import override

from estate.domain.things import Thing
from estate.window.announcing import announce
from estate.window.models.found_rows import FoundRows, spoken
from estate.window.sizes import grown
from estate.window.translating import tr, tr_count
from estate.window.widgets.found_cell import FoundCell
from estate.window.widgets.text import label

_MOST_ROWS = 14
_WIDE = 620
"""Never narrower, pixels for text at 100 %."""
_MOVES = {
    Qt.Key.Key_Down: 1,
    Qt.Key.Key_Up: -1,
    Qt.Key.Key_PageDown: 10,
    Qt.Key.Key_PageUp: -10,
}


class FoundList(QFrame):
    """What was found, laid over the page without taking the focus from the box."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self._over = parent
        self.setProperty("kind", "card")
        self.setAutoFillBackground(True)
        self.rows = FoundRows(self)
        self.list = QListView()
        self.list.setModel(self.rows)
        self.list.setItemDelegate(FoundCell(self.list))
        self.list.setUniformItemSizes(True)
        self.list.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.list.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.list.setAccessibleName(tr("What was found"))
        self.counted = label("", "small")
        column = QVBoxLayout(self)
        column.setContentsMargins(6, 6, 6, 6)
        column.setSpacing(4)
        column.addWidget(self.counted)
        column.addWidget(self.list)
        self.hide()

    @property
    def chosen(self) -> Thing | None:
        """The find that Enter goes to."""
        index = self.list.currentIndex()
        return self.rows.things[index.row()] if index.isValid() else None

    def tell(self, things: Sequence[Thing], counted: str) -> None:
        """Show finds, the first of them chosen."""
        self.rows.fill(things)
        self.counted.setText(counted)
        self.list.setVisible(bool(things))
        if things:
            self.list.setCurrentIndex(self.rows.index(0, 0))

    def step(self, by: int) -> None:
        """Choose further down, or up."""
        held = len(self.rows.things)
        if held:
            row = min(max(self.list.currentIndex().row() + by, 0), held - 1)
            self.list.setCurrentIndex(self.rows.index(row, 0))

    def lie_below(self, box: QWidget) -> None:
        """Take the place below the box, as high as the finds need and the window has."""
        window = self._over
        foot = box.mapTo(window, QPoint(0, box.height() + 2))
        wide = min(max(box.width(), grown(_WIDE)), window.width() - 12)
        left = max(6, min(foot.x(), window.width() - wide - 6))
        rows = min(len(self.rows.things), _MOST_ROWS)
        each = self.list.sizeHintForRow(0) if rows else 0
        wanted = rows * each + self.counted.sizeHint().height() + (24 if rows else 14)
        self.setGeometry(QRect(left, foot.y(), wide, min(wanted, window.height() - foot.y() - 6)))
        self.raise_()


class FindBox(QLineEdit):
    """Takes a few letters; arrow keys choose, Enter goes, Escape leaves.

    Attributes:
        sought: the letters, each time they change, and when the box is entered.
        gone: the `Thing` that the person goes to.
    """

    sought = Signal(str)
    gone = Signal(object)

    def __init__(self, window: QWidget) -> None:
        super().__init__()
        self.setPlaceholderText(tr("Go to: outlet, serial, room, action, person, command"))
        self.setAccessibleName(tr("Find anything and go there"))
        self.setClearButtonEnabled(True)
        self.found = FoundList(window)
        self._before: QWidget | None = None
        self.textChanged.connect(self.sought)
        self.found.list.clicked.connect(lambda index: self._go())
        window.installEventFilter(self)

    def enter(self) -> None:
        """Take the focus; what had it gets it back when the box is left."""
        if not self.hasFocus():
            self._before = self.window().focusWidget()
        self.setFocus(Qt.FocusReason.ShortcutFocusReason)
        self.selectAll()

    def tell(self, things: Sequence[Thing], counted: str) -> None:
        """Show what was found."""
        self.found.tell(things, counted)
        if self.hasFocus():
            self.found.lie_below(self)
            self.found.show()
            self._speak(counted)

    def tell_found(self, fitting: int, things: Sequence[Thing]) -> None:
        """Show finds with how many there are."""
        if fitting > len(things):
            self.tell(things, tr("The best {shown:,} of {fitting:,}", shown=len(things), fitting=fitting))
        elif things:
            self.tell(things, tr_count(fitting, "{n:,} found", "{n:,} found"))
        else:
            self.tell((), tr("Nothing has all of these words. Fewer letters find more."))

    def _speak(self, counted: str = "") -> None:
        thing = self.found.chosen
        announce(self, "; ".join(part for part in (counted, spoken(thing) if thing else "") if part))

    def _go(self) -> None:
        thing = self.found.chosen
        if thing is not None:
            self.leave()
            self.gone.emit(thing)

    def leave(self) -> None:
        """Put the box away."""
        before, self._before = self._before, None
        self.found.hide()
        self.clear()
        self.found.hide()
        if before is not None and before.isVisible():
            before.setFocus(Qt.FocusReason.OtherFocusReason)
        else:
            self.clearFocus()

    @override
    def keyPressEvent(self, event: QKeyEvent) -> None:
        key = event.key()
        if key in _MOVES:
            self.found.step(_MOVES[Qt.Key(key)])
            self._speak()
        elif key in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
            self._go()
        elif key == Qt.Key.Key_Escape:
            self.leave()
        else:
            super().keyPressEvent(event)

    @override
    def focusInEvent(self, event: QFocusEvent) -> None:
        super().focusInEvent(event)
        self.sought.emit(self.text())

    @override
    def focusOutEvent(self, event: QFocusEvent) -> None:
        super().focusOutEvent(event)
        if event.reason() is not Qt.FocusReason.ActiveWindowFocusReason:
            self.found.hide()

    @override
    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if event.type() is QEvent.Type.Resize and self.found.isVisible():
            self.found.lie_below(self)
        return super().eventFilter(watched, event)

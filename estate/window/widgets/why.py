"""“Why?” beside a limit or a date: shows in place what it means, where it comes from and what can hurt."""

from collections.abc import Sequence

from PySide6.QtCore import Qt
from PySide6.QtGui import QShowEvent
from PySide6.QtWidgets import QFrame, QGridLayout, QPushButton, QVBoxLayout, QWidget
from typing_extensions import override

from estate.window.models.explaining import Explained
from estate.window.translating import tr
from estate.window.widgets.text import empty, label

Limit = tuple[str, str, Explained | None]


class Explanation(QFrame):
    """What is said of a limit; hidden until it is asked for."""

    def __init__(self, explained: Explained | None = None, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setProperty("kind", "notice")
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(10, 6, 8, 6)
        self._column.setSpacing(4)
        self._unsaid: Explained | None = None
        self.tell(explained)
        self.hide()

    def tell(self, explained: Explained | None) -> None:
        """Say something else; None says nothing."""
        empty(self._column)
        self._unsaid = explained
        self.setAccessibleName("" if explained is None else explained.words)
        if explained is None:
            self.hide()
        elif self.isVisible():
            self._say()

    def _say(self) -> None:
        """Put the words in, once somebody asks for them: a page has many that nobody does."""
        explained, self._unsaid = self._unsaid, None
        if explained is None:
            return
        sources = tr("Source: {sources}", sources="; ".join(explained.sources)) if explained.sources else ""
        for each in explained.means:
            self._column.addWidget(label(each, wraps=True))
        for said, kind in ((sources, "small"), (explained.standing, "small"), (explained.caution, "caution")):
            if said:
                self._column.addWidget(label(said, kind, wraps=True))

    @override
    def showEvent(self, event: QShowEvent) -> None:
        self._say()
        super().showEvent(event)


class WhyButton(QPushButton):
    """Shows and hides an explanation; the tooltip says it too.

    Args:
        name: what is explained, for screen readers.
        shown: the explanation.
    """

    def __init__(self, name: str, shown: Explanation, parent: QWidget | None = None) -> None:
        super().__init__(tr("Why?"), parent)
        self._shown = shown
        self.setProperty("kind", "why")
        self.setAutoDefault(False)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        self.setAccessibleName(tr("Why? {name}", name=name))
        self.setToolTip(shown.accessibleName())
        self.clicked.connect(self.turn)

    @property
    def explains(self) -> bool:
        """Whether the explanation is shown."""
        return not self._shown.isHidden()

    def turn(self) -> None:
        """Show the explanation, or hide it again."""
        self._shown.setVisible(self._shown.isHidden())


class Limits(QWidget):
    """Names and limits in two columns, each with its why."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._grid = QGridLayout(self)
        self._grid.setContentsMargins(0, 0, 0, 0)
        self._grid.setHorizontalSpacing(14)
        self._grid.setVerticalSpacing(3)
        self._grid.setColumnStretch(1, 1)
        self.why: dict[str, WhyButton] = {}

    def tell(self, limits: Sequence[Limit]) -> None:
        """Show (name, value, why) lines; those that were explained stay so."""
        open_still = {name for name, each in self.why.items() if each.explains}
        empty(self._grid)
        self.why = {}
        for row, (name, value, explained) in enumerate(limits):
            named, valued = label(name, "muted"), label(value, wraps=True)
            valued.setAccessibleName(f"{name}: {value}")
            for place, widget in enumerate((named, valued)):
                widget.setAlignment(Qt.AlignmentFlag.AlignTop | Qt.AlignmentFlag.AlignLeft)
                self._grid.addWidget(widget, row * 2, place)
            if explained is not None:
                shown = Explanation(explained)
                self.why[name] = WhyButton(name, shown)
                self._grid.addWidget(self.why[name], row * 2, 2, Qt.AlignmentFlag.AlignTop)
                self._grid.addWidget(shown, row * 2 + 1, 0, 1, 3)
                shown.setVisible(name in open_still)

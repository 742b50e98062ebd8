"""A calm notice above the pages: what is so, what it means, and what can be done; it hides nothing."""

from collections.abc import Callable, Sequence

from PySide6.QtWidgets import QFrame, QHBoxLayout, QPushButton, QVBoxLayout, QWidget

from estate.window.announcing import announce
from estate.window.marks import Mark
from estate.window.translating import tr
from estate.window.widgets.text import Chip, empty, label

Offers = Sequence[tuple[str, Callable[[], None]]]


class Banner(QFrame):
    """One notice at a time; it stays until it is put away or overtaken."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setProperty("kind", "notice")
        self.chip = Chip(Mark.WEDGE, "")
        self.said = label("", wraps=True)
        self._offers = QHBoxLayout()
        self._offers.setSpacing(8)
        head = QHBoxLayout()
        head.addWidget(self.chip)
        head.addStretch(1)
        head.addLayout(self._offers)
        column = QVBoxLayout(self)
        column.setContentsMargins(14, 8, 10, 8)
        column.setSpacing(4)
        column.addLayout(head)
        column.addWidget(self.said)
        self.hide()

    def tell(self, heading: str, said: str, offers: Offers = (), mark: Mark = Mark.WEDGE) -> None:
        """Show a notice.

        Args:
            heading: in a few words.
            said: where, and what it means.
            offers: what can be done: words of a button and what it runs.
            mark: the shape beside the heading.
        """
        self.chip.tell(mark, heading)
        self.said.setText(said)
        self.setAccessibleName(f"{heading}. {said}")
        announce(self, f"{heading}. {said}")
        empty(self._offers)
        for words, run in (*offers, (tr("Put away"), self.hide)):
            button = QPushButton(words)
            button.clicked.connect(lambda checked=False, run=run: run())
            self._offers.addWidget(button)
        self.show()

    def buttons(self) -> dict[str, QPushButton]:
        """The buttons on show, by their words."""
        return {each.text(): each for each in self.findChildren(QPushButton) if not each.isHidden()}

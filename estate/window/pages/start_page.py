"""The first page of a register with nothing in it: what to do first."""

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QHBoxLayout, QPushButton, QVBoxLayout, QWidget

from estate.window.widgets.text import Card, label

_STEPS = (
    (
        "1  Bring in your list of outlets and valves",
        "A spreadsheet (.xlsx or .csv) with a row for each outlet: its reference, building, level, room, "
        "use, users and valve. You see every row before anything is written.",
    ),
    (
        "2  Bring in results, or record a visit",
        "A contractor's sheet of test results, or one visit at a time by keyboard. Each is judged against "
        "the rule set at once.",
    ),
    (
        "3  Work from the due list",
        "Every valve gets its next test window with the reason for it. Write the overdue list as a PDF or "
        "a spreadsheet.",
    ),
)


class StartView(QWidget):
    """Says what to do first.

    Attributes:
        bring_in_asked, sample_asked, new_asked, open_asked: what the person chose.
    """

    bring_in_asked = Signal()
    sample_asked = Signal()
    new_asked = Signal()
    open_asked = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._title = label("", "title", wraps=True)
        self._words = label("", wraps=True)
        self._steps = QVBoxLayout()
        self._steps.setSpacing(10)
        for heading, said in _STEPS:
            card = Card(heading)
            card.body.addWidget(label(said, wraps=True))
            self._steps.addWidget(card)
        inner = QVBoxLayout()
        inner.setSpacing(14)
        for widget in (self._title, self._words):
            inner.addWidget(widget)
        inner.addLayout(self._steps)
        inner.addLayout(self._buttons())
        inner.addStretch(1)
        held = QWidget()
        held.setLayout(inner)
        held.setMaximumWidth(760)
        column = QVBoxLayout(self)
        column.setContentsMargins(32, 28, 32, 20)
        column.addWidget(held, 1, Qt.AlignmentFlag.AlignHCenter)
        self.tell(None)

    def _buttons(self) -> QHBoxLayout:
        self.bring_in = QPushButton("Bring in a sheet…")
        self.sample = QPushButton("Open the sample estate")
        self.new = QPushButton("New register…")
        self.open = QPushButton("Open a register…")
        self.bring_in.clicked.connect(self.bring_in_asked)
        self.sample.clicked.connect(self.sample_asked)
        self.new.clicked.connect(self.new_asked)
        self.open.clicked.connect(self.open_asked)
        row = QHBoxLayout()
        row.setSpacing(8)
        for button in (self.bring_in, self.new, self.open, self.sample):
            row.addWidget(button)
        row.addStretch(1)
        return row

    def tell(self, name: str | None) -> None:
        """Speak of an empty register by name, or of none being open."""
        if name is None:
            self._title.setText("No register is open")
            self._words.setText(
                "A register holds one estate. Make a new one, open one you have, or look round the sample."
            )
        else:
            self._title.setText(f"{name} has no outlets yet")
            self._words.setText("Three steps take it to a due list.")
        self.bring_in.setVisible(name is not None)
        main = self.bring_in if name is not None else self.new
        for button in (self.bring_in, self.new):
            button.setProperty("kind", "main" if button is main else None)
            button.style().unpolish(button)
            button.style().polish(button)

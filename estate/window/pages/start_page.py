"""The first page of a register with nothing in it: what to do first."""

from collections.abc import Sequence

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QPushButton, QSizePolicy, QVBoxLayout, QWidget

from estate.window.translating import said, tr
from estate.window.widgets.flowing import Flowing
from estate.window.widgets.text import Card, label

_STEPS = (
    (
        said("1  Bring in your list of outlets and valves"),
        said(
            "A spreadsheet (.xlsx or .csv) with a row for each outlet: its reference, building, level, room, "
            "use, users and valve. You see every row before anything is written."
        ),
    ),
    (
        said("2  Bring in results, or record a visit"),
        said(
            "A contractor's sheet of test results, or one visit at a time by keyboard. "
            "Each is judged against the rule set at once."
        ),
    ),
    (
        said("3  Work from the due list"),
        said(
            "Every valve gets its next test window with the reason for it. Print the "
            "overdue list, or save it as a PDF or a spreadsheet."
        ),
    ),
)


class StartView(QWidget):
    """Says what to do first.

    Attributes:
        bring_in_asked, sample_asked, new_asked, open_asked: what the person chose.
        late_asked: a register opened of late that the person chose, by its file or address.
    """

    bring_in_asked = Signal()
    sample_asked = Signal()
    new_asked = Signal()
    open_asked = Signal()
    late_asked = Signal(str)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._title = label("", "title", wraps=True)
        self._offers: list[QWidget] = []
        self.late_buttons: list[QPushButton] = []
        self._words = label("", wraps=True)
        self._steps = QVBoxLayout()
        self._steps.setSpacing(10)
        for heading, step in _STEPS:
            card = Card(tr(heading))
            card.body.addWidget(label(tr(step), wraps=True))
            self._steps.addWidget(card)
            self._offers.append(card)
        inner = QVBoxLayout()
        inner.setSpacing(14)
        self.gone = label("", "caution", wraps=True)
        for widget in (self._title, self.gone, self._words):
            inner.addWidget(widget)
        inner.addLayout(self._buttons())
        self.late = Card(tr("Opened of late"))
        inner.addWidget(self.late)
        inner.addLayout(self._steps)
        inner.addStretch(1)
        held = QWidget()
        held.setLayout(inner)
        held.setMaximumWidth(760)
        column = QVBoxLayout(self)
        column.setContentsMargins(32, 28, 32, 20)
        middle = QHBoxLayout()  # an alignment instead would not ask how high the words are at their width
        middle.addStretch(1)
        middle.addWidget(held, 100)
        middle.addStretch(1)
        column.addLayout(middle, 1)
        self.tell(None)

    def _buttons(self) -> Flowing:
        self.bring_in = QPushButton(tr("Bring in a sheet…"))
        self.sample = QPushButton(tr("Open the sample estate"))
        self.new = QPushButton(tr("New register…"))
        self.open = QPushButton(tr("Open a register…"))
        self.bring_in.clicked.connect(self.bring_in_asked)
        self.sample.clicked.connect(self.sample_asked)
        self.new.clicked.connect(self.new_asked)
        self.open.clicked.connect(self.open_asked)
        row = Flowing()
        for button in (self.bring_in, self.new, self.open, self.sample):
            row.addWidget(button)
            self._offers.append(button)
        return row

    def tell_gone(self, where: str, late: Sequence[str]) -> None:
        """Say that the register opened last is not where it was, and offer the others opened of late."""
        self.tell(None)
        self.gone.setText(
            tr(
                "The register that was open last is not there any more: {where}. Its disk or network may be "
                "away, or it was moved or renamed. Nothing was changed.",
                where=where,
            )
        )
        self.gone.show()
        self.tell_late(late)

    def tell_opening(self, where: str) -> None:
        """Say that a register is being opened."""
        self.tell(None)
        self._title.setText(tr("Opening the register"))
        self._words.setText(where)
        for widget in self._offers:
            widget.hide()

    def tell_late(self, late: Sequence[str]) -> None:
        """Offer the registers opened of late."""
        for button in self.late_buttons:
            button.deleteLater()
        self.late_buttons = []
        for where in late:
            button = QPushButton(where)
            button.setProperty("kind", "link")
            button.setSizePolicy(QSizePolicy.Policy.Ignored, QSizePolicy.Policy.Fixed)
            button.setToolTip(where)
            button.clicked.connect(lambda checked=False, where=where: self.late_asked.emit(where))
            self.late.body.addWidget(button)
            self.late_buttons.append(button)
        self.late.setVisible(bool(late))

    def tell(self, name: str | None) -> None:
        """Speak of an empty register by name, or of none being open."""
        self.gone.hide()
        for widget in self._offers:
            widget.show()
        self.tell_late(())
        if name is None:
            self._title.setText(tr("No register is open"))
            self._words.setText(
                tr(
                    "A register holds one estate. Make a new one, open one you have, or "
                    "look round the sample."
                )
            )
        else:
            self._title.setText(tr("{name} has no outlets yet", name=name))
            self._words.setText(tr("Three steps take it to a due list."))
        self.bring_in.setVisible(name is not None)
        main = self.bring_in if name is not None else self.new
        for button in (self.bring_in, self.new):
            button.setProperty("kind", "main" if button is main else None)
            button.style().unpolish(button)
            button.style().polish(button)

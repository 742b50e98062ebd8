"""Actions: what must be done, by whom and by when, and everything done about each."""

from collections.abc import Iterable

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import (
    QComboBox,
    QHBoxLayout,
    QLineEdit,
    QPushButton,
    QSplitter,
    QVBoxLayout,
    QWidget,
)

from estate.domain.life.actions import Step
from estate.domain.life.lists import ActionLine
from estate.domain.life.outlet_use import OutletUse, UseStep
from estate.window.models.action_rows import action_facts, actions_model, event_words
from estate.window.widgets.listing import Listing
from estate.window.widgets.scrolled import scrolled
from estate.window.widgets.text import Card, Facts, label

_WANTED = ("Everything to be done", "Past their target date", "Without an owner", "Done ones too")
_ALL, _LATE, _UNOWNED, _DONE_TOO = range(4)
STEP_WORDS: dict[Step, tuple[str, str]] = {
    Step.MAKE_SAFE: ("Made safe…", "Say what was done so that nobody can be hurt meanwhile"),
    Step.PUT_RIGHT: ("Put right…", "Say what was done to put it right"),
    Step.RETEST: ("Retest passed…", "Of an action opened by hand: name the visit"),
    Step.CLOSE: ("Close…", "Everything is done; it stays on record"),
    Step.ASSIGN: ("Assign…", "Say who does it"),
    Step.RETARGET: ("New date…", "Set another day, with a reason"),
    Step.NOTE: ("Note…", "Add a note to its history"),
    Step.REOPEN: ("Reopen…", "It has to be done after all, with a reason"),
    Step.CANCEL: ("Cancel…", "It need not be done, with a reason"),
}
"""What each button says and what it is for, in the order in which the work goes."""


_USE_BUTTONS = {
    OutletUse.IN_USE: ("Take out of use…", UseStep.TAKE_OUT),
    OutletUse.OUT_OF_USE: ("Put back in use…", UseStep.PUT_BACK),
}


class ActionsView(QWidget):
    """Lists actions, the most pressing first, and shows one.

    Attributes:
        step_asked: (line, step).
        use_asked: (outlet, step): take it out of use, or put it back.
        outlet_opened: an outlet's id.
        report_asked: the list on paper.
    """

    step_asked = Signal(object, object)
    use_asked = Signal(object, object)
    outlet_opened = Signal(int)
    report_asked = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._lines: tuple[ActionLine, ...] = ()
        self._model = actions_model()
        self.listing: Listing[ActionLine] = Listing(self._model, "Actions, the most pressing first")
        self.wanted = QComboBox()
        self.wanted.setAccessibleName("Which actions")
        self.wanted.addItems(list(_WANTED))
        self.words = QLineEdit()
        self.words.setPlaceholderText("Only lines with these words")
        self.words.setAccessibleName("Only lines with these words")
        self.counted = label("", "muted")
        self.report = QPushButton("Write the list…")
        self.report.setProperty("kind", "main")
        self.next = label("", "strong", wraps=True)
        self.facts = Facts()
        self.history = label("", wraps=True)
        self.steps: dict[Step, QPushButton] = {}
        self.open_outlet = QPushButton("Show the outlet")
        self.use = QPushButton("")
        self._listen()
        self._lay_out()
        self._settle()

    def _listen(self) -> None:
        self.wanted.currentIndexChanged.connect(lambda place: self._fill())
        self.words.textChanged.connect(lambda text: self._fill())
        self.report.clicked.connect(lambda checked=False: self.report_asked.emit())
        self.listing.picked.connect(lambda key: self._settle())
        self.listing.opened.connect(lambda key: self._on_open())
        self.use.clicked.connect(lambda checked=False: self._on_use())
        self.open_outlet.clicked.connect(lambda checked=False: self._on_open())
        for step, (said, tip) in STEP_WORDS.items():
            button = QPushButton(said)
            button.setToolTip(tip)
            button.clicked.connect(lambda checked=False, step=step: self._on_step(step))
            self.steps[step] = button

    def _lay_out(self) -> None:
        head = QHBoxLayout()
        head.addWidget(self.wanted)
        head.addWidget(self.words, 1)
        head.addWidget(self.report)
        split = QSplitter(Qt.Orientation.Vertical)
        split.setChildrenCollapsible(False)
        split.addWidget(self.listing)
        split.addWidget(self._one())
        split.setStretchFactor(0, 1)
        split.setSizes([420, 260])
        column = QVBoxLayout(self)
        column.setContentsMargins(14, 12, 14, 10)
        column.setSpacing(8)
        column.addWidget(label("Actions", "title"))
        column.addLayout(head)
        column.addWidget(self.counted)
        column.addWidget(split, 1)

    def _one(self) -> QWidget:
        held = QWidget()
        column = QVBoxLayout(held)
        column.setContentsMargins(0, 6, 0, 0)
        first = QHBoxLayout()
        first.addWidget(self.next, 1)
        first.addWidget(self.use)
        first.addWidget(self.open_outlet)
        column.addLayout(first)
        cards = QHBoxLayout()
        what, done = Card("The action"), Card("What was done")
        what.body.addWidget(scrolled(self.facts))
        done.body.addWidget(scrolled(self.history))
        cards.addWidget(what, 1)
        cards.addWidget(done, 1)
        column.addLayout(cards, 1)
        row = QHBoxLayout()
        for button in self.steps.values():
            row.addWidget(button)
        row.addStretch(1)
        column.addLayout(row)
        return held

    def tell(self, lines: Iterable[ActionLine]) -> None:
        """Show actions, live and done; the one chosen before stays chosen."""
        self._lines = tuple(lines)
        self._fill()

    @property
    def chosen(self) -> ActionLine | None:
        """The chosen action."""
        key = self.listing.current_key()
        return next((line for line in self._model.rows if line.action.id == key), None)

    def _fill(self) -> None:
        kept = self.listing.current_key()
        wanted = self.wanted.currentIndex()
        words = self.words.text().casefold().split()
        shown = [
            line
            for line in self._lines
            if _wants(line, wanted) and all(each in _said(line) for each in words)
        ]
        self._model.fill(shown)
        live = sum(line.action.state.live for line in self._lines)
        late = sum(line.days_late > 0 for line in self._lines)
        self.counted.setText(f"{len(shown):,} shown; {live:,} to be done, {late:,} past their target date")
        if shown and (kept is None or not self.listing.choose(kept)):
            self.listing.selectRow(0)
        self._settle()

    def _settle(self) -> None:
        line = self.chosen
        self.open_outlet.setEnabled(line is not None)
        for step, button in self.steps.items():
            button.setVisible(line is not None and step in line.possible)
        self.use.setVisible(line is not None and line.use.use in _USE_BUTTONS)
        if line is not None and line.use.use in _USE_BUTTONS:
            self.use.setText(_USE_BUTTONS[line.use.use][0])
        self.next.setText(line.next_step if line is not None else self._nothing())
        self.facts.tell(action_facts(line) if line is not None else [])
        events = reversed(line.action.events) if line is not None else ()
        self.history.setText("\n".join(event_words(each) for each in events) or "Nothing yet.")

    def _nothing(self) -> str:
        if any(line.action.state.live for line in self._lines):
            return "No action is chosen."
        return "Nothing is to be done. It does not mean that every valve works: see the due list."

    def _on_step(self, step: Step) -> None:
        if (line := self.chosen) is not None:
            self.step_asked.emit(line, step)

    def _on_use(self) -> None:
        line = self.chosen
        if line is not None and line.use.use in _USE_BUTTONS:
            self.use_asked.emit(line.outlet, _USE_BUTTONS[line.use.use][1])

    def _on_open(self) -> None:
        if (line := self.chosen) is not None:
            self.outlet_opened.emit(line.outlet.id)


def _wants(line: ActionLine, wanted: int) -> bool:
    if wanted == _DONE_TOO:
        return True
    if wanted == _LATE:
        return line.days_late > 0
    return line.action.state.live and (wanted == _ALL or not line.action.owner)


def _said(line: ActionLine) -> str:
    action = line.action
    told = (
        line.outlet.reference,
        str(line.outlet.path),
        action.opening.words,
        action.owner,
        action.state.value,
    )
    return " ".join(told).casefold()

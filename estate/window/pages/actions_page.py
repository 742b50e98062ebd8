"""Actions: what must be done, by whom and by when, and everything done about each."""

from collections.abc import Iterable

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import (
    QComboBox,
    QHBoxLayout,
    QPushButton,
    QSplitter,
    QVBoxLayout,
    QWidget,
)

from estate.domain.life.actions import Step
from estate.domain.life.lists import ActionLine
from estate.domain.life.outlet_use import OutletUse, UseStep
from estate.window.models.action_rows import action_facts, actions_model, event_words
from estate.window.models.action_steps import STEP_WORDS
from estate.window.translating import said, tr
from estate.window.widgets.beside import Beside
from estate.window.widgets.flowing import Flowing
from estate.window.widgets.list_bar import ListBar
from estate.window.widgets.listing import Listing
from estate.window.widgets.scrolled import scrolled
from estate.window.widgets.text import Card, Facts, label

_WANTED = (
    said("Everything to be done"),
    said("Past their target date"),
    said("Without an owner"),
    said("Done ones too"),
)
_ALL, _LATE, _UNOWNED, _DONE_TOO = range(4)
_USE_BUTTONS = {
    OutletUse.IN_USE: (said("Take out of use…"), UseStep.TAKE_OUT),
    OutletUse.OUT_OF_USE: (said("Put back in use…"), UseStep.PUT_BACK),
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
        self._model = actions_model()
        self.listing: Listing[ActionLine] = Listing(
            self._model, tr("Actions, the most pressing first"), known_as="actions"
        )
        self.wanted = QComboBox()
        self.wanted.setAccessibleName(tr("Which actions"))
        self.wanted.addItems([tr(each) for each in _WANTED])
        self.report = QPushButton(tr("Write the list…"))
        self.report.setProperty("kind", "main")
        self.bar = ListBar(self.listing)
        self.bar.lead(self.wanted)
        self.bar.trail(self.report)
        self.bar.say(self._how_many)
        self.words, self.counted = self.bar.sought, self.bar.counted
        self.next = label("", "strong", wraps=True)
        self.facts = Facts()
        self.history = label("", wraps=True)
        self.steps: dict[Step, QPushButton] = {}
        self.open_outlet = QPushButton(tr("Show the outlet"))
        self.use = QPushButton("")
        self._listen()
        self._lay_out()
        self._settle()

    def _listen(self) -> None:
        self.wanted.currentIndexChanged.connect(lambda place: self._want())
        self.listing.ordered.layoutChanged.connect(self._on_laid_anew)
        self.report.clicked.connect(lambda checked=False: self.report_asked.emit())
        self.listing.picked.connect(lambda key: self._settle())
        self.listing.opened.connect(lambda key: self._on_open())
        self.use.clicked.connect(lambda checked=False: self._on_use())
        self.open_outlet.clicked.connect(lambda checked=False: self._on_open())
        for step, (title, tip) in STEP_WORDS.items():
            button = QPushButton(tr(title))
            button.setToolTip(tr(tip))
            button.clicked.connect(lambda checked=False, step=step: self._on_step(step))
            self.steps[step] = button

    def _lay_out(self) -> None:
        split = QSplitter(Qt.Orientation.Vertical)
        split.setChildrenCollapsible(False)
        split.addWidget(self.listing)
        split.addWidget(self._one())
        split.setStretchFactor(0, 1)
        split.setSizes([300, 320])
        column = QVBoxLayout(self)
        column.setContentsMargins(14, 12, 14, 10)
        column.setSpacing(8)
        column.addWidget(label(tr("Actions"), "title"))
        column.addWidget(self.bar)
        column.addWidget(split, 1)

    def _one(self) -> QWidget:
        held = QWidget()
        column = QVBoxLayout(held)
        column.setContentsMargins(0, 6, 0, 0)
        buttons = QWidget()
        first = Flowing(buttons, to_right=True)
        first.addWidget(self.use)
        first.addWidget(self.open_outlet)
        beside = Beside(least=310)
        beside.add(self.next, 7)
        beside.add(buttons, 4)
        column.addWidget(beside)
        cards = QHBoxLayout()
        what, done = Card(tr("The action")), Card(tr("What was done"))
        what.body.addWidget(scrolled(self.facts))
        done.body.addWidget(scrolled(self.history))
        cards.addWidget(what, 1)
        cards.addWidget(done, 1)
        column.addLayout(cards, 1)
        row = Flowing()
        for button in self.steps.values():
            row.addWidget(button)
        column.addLayout(row)
        return held

    def tell(self, lines: Iterable[ActionLine]) -> None:
        """Show actions, live and done; the one chosen before stays chosen."""
        kept = self.listing.current_key()
        self._model.fill(lines)
        self._want(kept)

    @property
    def chosen(self) -> ActionLine | None:
        """The chosen action."""
        return self.listing.ordered.line_at(self.listing.currentIndex())

    def _want(self, kept: int | None = None) -> None:
        wanted = self.wanted.currentIndex()
        self.listing.ordered.want(lambda line: _wants(line, wanted))
        if kept is not None and not self.listing.currentIndex().isValid():
            self.listing.choose(kept)
        self._on_laid_anew()

    def _on_laid_anew(self) -> None:
        """Choose the first line where the one chosen is no longer shown."""
        if self.listing.ordered.count and not self.listing.currentIndex().isValid():
            self.listing.selectRow(0)
        self._settle()

    def _how_many(self, shown: int, held: int) -> str:
        lines = self._model.rows
        return tr(
            "{shown:,} shown; {live:,} to be done, {late:,} past their target date",
            shown=shown,
            live=sum(line.action.state.live for line in lines),
            late=sum(line.days_late > 0 for line in lines),
        )

    def _settle(self) -> None:
        line = self.chosen
        self.open_outlet.setEnabled(line is not None)
        for step, button in self.steps.items():
            button.setVisible(line is not None and step in line.possible)
        self.use.setVisible(line is not None and line.use.use in _USE_BUTTONS)
        if line is not None and line.use.use in _USE_BUTTONS:
            self.use.setText(tr(_USE_BUTTONS[line.use.use][0]))
        self.next.setText(tr(line.next_step) if line is not None else self._nothing())
        self.facts.tell(action_facts(line) if line is not None else [])
        events = reversed(line.action.events) if line is not None else ()
        self.history.setText("\n".join(event_words(each) for each in events) or tr("Nothing yet."))

    def _nothing(self) -> str:
        if any(line.action.state.live for line in self._model.rows):
            return tr("No action is chosen.")
        return tr("Nothing is to be done. It does not mean that every valve works: see the due list.")

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
        tr(action.state.value),
    )
    return " ".join(told).casefold()

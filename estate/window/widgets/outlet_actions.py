"""What must be done at an outlet: its actions, the steps that are possible, and everything done so far."""

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QPushButton, QVBoxLayout, QWidget

from estate.domain.life.actions import Step
from estate.domain.life.lists import ActionLine, OutletLife
from estate.window.models.action_rows import action_facts, actions_model, event_words
from estate.window.models.action_steps import STEP_WORDS
from estate.window.translating import said, tr
from estate.window.widgets.flowing import Flowing
from estate.window.widgets.listing import Listing
from estate.window.widgets.scrolled import scrolled
from estate.window.widgets.text import Card, Facts, label


class OutletActions(QWidget):
    """Lists the actions of one outlet.

    Attributes:
        step_asked: (line, step).
        changed: the id of the action of the window that is wanted.
        writing: buttons that write.
    """

    step_asked = Signal(object, object)
    changed = Signal(str)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._model = actions_model()
        self.listing: Listing[ActionLine] = Listing(self._model, tr("Actions of this outlet"))
        self.said = label("", wraps=True)
        self.next = label("", "strong", wraps=True)
        self.facts = Facts()
        self.done = label("", wraps=True)
        self.steps = {step: self._step(step, *told) for step, told in STEP_WORDS.items()}
        self.open_button = QPushButton(tr("Open an action…"))
        self.open_button.setProperty("kind", "main")
        self.open_button.clicked.connect(lambda checked=False: self.changed.emit("open-action"))
        self.writing: tuple[QWidget, ...] = (*self.steps.values(), self.open_button)
        self._lay_out()
        self.listing.picked.connect(lambda key: self._settle())
        self._settle()

    def _step(self, step: Step, words: str, tip: str) -> QPushButton:
        made = QPushButton(tr(words))
        made.setToolTip(tr(tip))
        made.clicked.connect(lambda checked=False: self._on_step(step))
        return made

    def _lay_out(self) -> None:
        head = QHBoxLayout()
        head.addWidget(self.said, 1)
        head.addWidget(self.open_button)
        cards = QHBoxLayout()
        for heading, told in ((tr("The action"), self.facts), (tr("What was done"), self.done)):
            card = Card(heading)
            card.body.addWidget(scrolled(told))
            cards.addWidget(card, 1)
        buttons = QWidget()
        row = Flowing(buttons, gap=6)
        for button in self.steps.values():
            row.addWidget(button)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 8, 0, 0)
        column.setSpacing(6)
        column.addLayout(head)
        column.addWidget(self.listing, 1)
        column.addWidget(self.next)
        column.addLayout(cards, 2)
        column.addWidget(buttons)

    def tell(self, life: OutletLife) -> None:
        """Show the actions of an outlet; the one chosen before stays chosen."""
        kept = self.listing.current_key()
        self._model.fill(life.actions)
        if life.actions and (kept is None or not self.listing.choose(kept)):
            self.listing.selectRow(0)
        live = sum(line.action.state.live for line in life.actions)
        late = sum(line.days_late > 0 for line in life.actions)
        told = tr("{live:,} to be done, {late:,} past their target date", live=live, late=late)
        self.said.setText(told if life.actions else tr(_NOTHING))
        self._settle()

    @property
    def chosen(self) -> ActionLine | None:
        """The chosen action."""
        key = self.listing.current_key()
        return next((line for line in self._model.rows if line.action.id == key), None)

    def _settle(self) -> None:
        line = self.chosen
        for step, button in self.steps.items():
            button.setVisible(line is not None and step in line.possible)
        self.next.setText("" if line is None else tr(line.next_step))
        self.facts.tell([] if line is None else action_facts(line))
        events = () if line is None else tuple(reversed(line.action.events))
        self.done.setText("\n".join(event_words(each) for each in events) or tr("Nothing yet."))

    def _on_step(self, step: Step) -> None:
        if (line := self.chosen) is not None:
            self.step_asked.emit(line, step)


_NOTHING = said(
    "No action is on record for this outlet. It does not mean that its valve works: see its last visit and "
    "its next test."
)

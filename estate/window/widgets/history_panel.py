"""An outlet's visits, newest first: each expands to its findings, and its sheet is one click away."""

from collections.abc import Callable

from PySide6.QtCore import Signal, SignalInstance
from PySide6.QtWidgets import QHBoxLayout, QPushButton, QVBoxLayout, QWidget

from estate.domain.browsing import HistoryLine, OutletPage
from estate.domain.instruments import Instrument
from estate.domain.temperature import Scale
from estate.window.models import outlet_facts
from estate.window.models.history_rows import HistoryModel
from estate.window.translating import tr
from estate.window.widgets.flowing import Flowing
from estate.window.widgets.listing import Listing
from estate.window.widgets.row_detail import RowDetail
from estate.window.widgets.text import label
from estate.window.widgets.visit_detail import VisitDetail


class HistoryPanel(QWidget):
    """Lists the entries of an outlet.

    Attributes:
        record_asked: the person wants to record a visit.
        correct_asked, void_asked, sign_asked, trail_asked, sheet_asked: id of the entry meant.
        expanded: shows the findings under the row that was opened.
    """

    record_asked = Signal()
    correct_asked = Signal(int)
    void_asked = Signal(int)
    sign_asked = Signal(int)
    trail_asked = Signal(int)
    sheet_asked = Signal(int)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._lines: tuple[HistoryLine, ...] = ()
        self._scale = Scale.CELSIUS
        self._model = HistoryModel()
        self.listing: Listing[HistoryLine] = Listing(self._model, tr("History of this outlet, newest first"))
        self.attempts = label("", "caution", wraps=True)
        self.detail = VisitDetail()
        self.expanded = RowDetail(self.listing, self.detail)
        self.record_button = self._button(tr("Record a visit…"), "", lambda key: None)
        self.record_button.setProperty("kind", "main")
        self.record_button.clicked.connect(self.record_asked)
        self.correct_button = self._asks(tr("Correct entry…"), "", self.correct_asked)
        self.void_button = self._asks(tr("Void entry…"), "", self.void_asked)
        tip = tr("Every entry of the trail about the chosen entry")
        self.trail_button = self._asks(tr("What happened to it"), tip, self.trail_asked)
        tip = tr("The sheet that the chosen entry came from, at its row")
        self.sheet_button = self._asks(tr("Show its sheet"), tip, self.sheet_asked)
        tip = tr("Vouch for the chosen entry with your key, or countersign")
        self.sign_button = self._asks(tr("Sign entry…"), tip, self.sign_asked)
        self._lay_out()
        self.listing.picked.connect(self._on_picked)
        self.listing.opened.connect(self._on_opened)
        self.detail.sheet_asked.connect(lambda: self._ask(self.sheet_asked.emit))
        self._settle(None)

    def _button(self, words: str, tip: str, run: Callable[[int], object]) -> QPushButton:
        made = QPushButton(words)
        made.setToolTip(tip)
        made.clicked.connect(lambda checked=False: self._ask(run))
        return made

    def _asks(self, words: str, tip: str, asked: SignalInstance) -> QPushButton:
        return self._button(words, tip, asked.emit)

    def _ask(self, run: Callable[[int], object]) -> None:
        key = self.listing.current_key()
        if key is not None:
            run(key)

    def _lay_out(self) -> None:
        buttons = QWidget()
        row = Flowing(buttons, gap=6, to_right=True)
        mending = (self.correct_button, self.void_button)
        seeing = (self.sheet_button, self.trail_button)
        for button in (*seeing, self.sign_button, *mending, self.record_button):
            row.addWidget(button)
        head = QHBoxLayout()
        head.addWidget(label(tr("History"), "heading"))
        head.addWidget(buttons, 1)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 4, 0, 0)
        column.setSpacing(6)
        column.addLayout(head)
        column.addWidget(self.attempts)
        column.addWidget(self.listing, 1)
        said = tr("Enter or a double click shows the findings of an entry, and hides them.")
        column.addWidget(label(said, "small", wraps=True))

    def know(self, instruments: tuple[Instrument, ...]) -> None:
        """Learn instruments by their ids, to name them."""
        self._model.know(instruments)

    def read_in(self, scale: Scale) -> None:
        """Show temperatures on a scale."""
        self._scale = scale
        self.expanded.fold()
        self._model.read_in(scale)

    def tell(self, page: OutletPage) -> None:
        """Show the history of an outlet; an entry that is expanded stays so."""
        kept = self.expanded.key
        self._lines = page.history
        self._model.fill(page.history)
        self.attempts.setText(outlet_facts.attempts_words(page))
        self.attempts.setVisible(bool(page.attempts))
        self.record_button.setEnabled(page.valve is not None)
        self._settle(None)
        if kept is not None:
            self._on_opened(kept)

    def line(self, key: int | None) -> HistoryLine | None:
        """The entry of an id, if it is one of this outlet."""
        return next((line for line in self._lines if line.visit.id == key), None)

    def _on_picked(self, key: int | None) -> None:
        self._settle(self.line(key))

    def _on_opened(self, key: int) -> None:
        line = self.line(key)
        if line is None or self.expanded.key == key:
            self.expanded.fold()
            return
        self.detail.tell(line, self._scale)
        self.expanded.expand(key)

    def _settle(self, line: HistoryLine | None) -> None:
        for button in (self.trail_button, self.sign_button):
            button.setEnabled(line is not None)
        self.sheet_button.setEnabled(line is not None and line.visit.batch_id is not None)
        counts = line is not None and line.visit.counts
        self.correct_button.setEnabled(counts)
        self.void_button.setEnabled(counts)

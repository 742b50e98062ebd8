"""What was found at an outlet's last visit, and beside it its limits, its users and its valve."""

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QPushButton, QVBoxLayout, QWidget

from estate.domain.browsing import HistoryLine, OutletPage
from estate.domain.temperature import Scale
from estate.window import words
from estate.window.models import outlet_facts
from estate.window.models.limit_facts import limits_of
from estate.window.models.mended import mended_words
from estate.window.translating import tr
from estate.window.widgets.beside import Beside
from estate.window.widgets.findings import FindingsList, VerdictChip
from estate.window.widgets.text import Card, Facts, label
from estate.window.widgets.why import Limits


class OutletCards(QWidget):
    """Shows what an outlet and its valve are.

    Attributes:
        changed: the id of the action that changes what a card tells.
    """

    changed = Signal(str)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._page: OutletPage | None = None
        self._scale = Scale.CELSIUS
        self._outlet, self._valve = Facts(), Facts()
        self.limits = Limits()
        self._verdict = VerdictChip(large=False)
        self._judged = Card(tr("Last visit"), self._verdict)
        self._findings = FindingsList()
        self.mended = label("", "caution", wraps=True)
        self.signed = label("", "small", wraps=True)
        self.edit_outlet = self._button(tr("Edit the outlet…"), "edit-outlet")
        self.edit_valve = self._button(tr("Edit the valve…"), "edit-valve")
        self.fit_valve = self._button(tr("Fit a valve…"), "fit-valve")
        beside = Beside(gap=12)
        beside.add(self._judged, 5)
        beside.add(self._facts(), 4)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.addWidget(beside)
        for each in (self.mended, self.signed, self._findings):
            self._judged.body.addWidget(each)
        self._judged.body.addStretch(1)

    def _button(self, said: str, action: str) -> QPushButton:
        made = QPushButton(said)
        made.setProperty("kind", "why")
        made.clicked.connect(lambda checked=False: self.changed.emit(action))
        return made

    def _facts(self) -> QWidget:
        held = QWidget()
        column = QVBoxLayout(held)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(12)
        cards: tuple[tuple[str, QWidget, tuple[QPushButton, ...]], ...] = (
            (tr("Limits in force"), self.limits, ()),
            (tr("Outlet and users"), self._outlet, (self.edit_outlet,)),
            (tr("Valve in place"), self._valve, (self.edit_valve, self.fit_valve)),
        )
        for heading, told, buttons in cards:
            beside = QWidget()
            row = QHBoxLayout(beside)
            row.setContentsMargins(0, 0, 0, 0)
            for button in buttons:
                row.addWidget(button)
            card = Card(heading, beside if buttons else None)
            card.body.addWidget(told)
            column.addWidget(card)
        column.addStretch(1)
        return held

    def tell(self, page: OutletPage) -> None:
        """Show an outlet with the last of its visits that counts."""
        self._page = page
        self._outlet.tell(outlet_facts.of_outlet(page))
        self._valve.tell(outlet_facts.of_valve(page))
        self.limits.tell(limits_of(page, self._scale))
        self.edit_valve.setVisible(page.valve is not None)
        self.fit_valve.setVisible(page.valve is None)
        self.judge(next((line for line in page.history if line.visit.counts), None))

    def read_in(self, scale: Scale) -> None:
        """Show limits on a scale of temperatures."""
        self._scale = scale
        if self._page is not None:
            self.limits.tell(limits_of(self._page, scale))

    def judge(self, line: HistoryLine | None) -> None:
        """Show what an entry was judged to be; None is an outlet without any."""
        history = self._page.history if self._page is not None else ()
        judgement = self._page.judgement if line is None and self._page else None
        judgement = line.judgement if line is not None else judgement
        self._verdict.judge(judgement)
        self._findings.tell(judgement)
        self._judged.head(tr("Last visit") if line is None else outlet_facts.visit_heading(line))
        said = mended_words(line, history) if line is not None else ""
        self.mended.setText(said)
        self.mended.setVisible(bool(said))
        self.signed.setText("" if line is None else f"{words.sentence(line.signing.words)}.")
        self.signed.setVisible(line is not None)

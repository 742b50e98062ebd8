"""The page of one outlet: what it is, how it stands, what to do next, and its whole history."""

from dataclasses import replace
from datetime import date

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import (
    QFrame,
    QHBoxLayout,
    QPushButton,
    QScrollArea,
    QSplitter,
    QTabWidget,
    QVBoxLayout,
    QWidget,
)

from estate.domain.browsing import HistoryLine, OutletPage
from estate.domain.instruments import Instrument
from estate.domain.temperature import Scale
from estate.window import words
from estate.window.marks import OF_STATE, Mark
from estate.window.models import outlet_facts
from estate.window.models.drift_course import course_of
from estate.window.models.history_rows import HistoryModel
from estate.window.models.mended import mended_words
from estate.window.widgets.diagnosis_panel import DiagnosisPanel
from estate.window.widgets.documents_panel import DocumentsPanel
from estate.window.widgets.drift_panel import DriftPanel
from estate.window.widgets.findings import FindingsList, VerdictChip
from estate.window.widgets.listing import Listing
from estate.window.widgets.text import Card, Chip, Facts, Why, label


class OutletView(QWidget):
    """Shows an `OutletPage`.

    Attributes:
        record_asked: the person wants to record a visit to this outlet.
        correct_asked, void_asked, sign_asked, trail_asked: id of the entry meant.
        told: an outlet is shown, or shown anew.
        known: said on the chart's paper, where what is shown is past knowledge.
    """

    record_asked = Signal()
    correct_asked = Signal(int)
    void_asked = Signal(int)
    sign_asked = Signal(int)
    trail_asked = Signal(int)
    told = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.page: OutletPage | None = None
        self.known = ""
        self._title = label("", "title")
        self._path = label("", "muted", wraps=True)
        self._state = Chip(Mark.RING, "", large=True)
        self._band = _WindowBand()
        self.standing = label("", "caution", wraps=True)
        self._outlet, self._valve, self._limits = Facts(), Facts(), Facts()
        self._verdict = VerdictChip(large=False)
        self._judged = Card("Last visit", self._verdict)
        self._findings = FindingsList()
        self.mended = label("", "caution", wraps=True)
        self.signed = label("", "small", wraps=True)
        self._scale = Scale.CELSIUS
        self._model = HistoryModel()
        self.history: Listing[HistoryLine] = Listing(self._model, "History of this outlet, newest first")
        self.attempts = label("", "caution", wraps=True)
        self.drift = DriftPanel()
        self.documents = DocumentsPanel()
        self._lay_out()
        self.history.picked.connect(self._on_picked)

    def _lay_out(self) -> None:
        """Where it is and when it is next tested stay in sight; beneath, its visits or their chart."""
        whole = QVBoxLayout(self)
        whole.setContentsMargins(18, 14, 18, 10)
        whole.setSpacing(8)
        whole.addLayout(self._head())
        whole.addWidget(self._band)
        whole.addWidget(self.standing)
        self.tabs = QTabWidget()
        self.tabs.setDocumentMode(True)
        self.tabs.tabBar().setDrawBase(False)
        self.tabs.setAccessibleName("Visits, chart, what may be wrong, or documents of this outlet")
        self.tabs.addTab(self._visits(), "Visits")
        self.tabs.addTab(self.drift, "Chart and drift")
        self.diagnosis = DiagnosisPanel()
        self.tabs.addTab(self.diagnosis, "What may be wrong")
        self.tabs.addTab(self.documents, "Documents")
        whole.addWidget(self.tabs, 1)

    def _visits(self) -> QWidget:
        upper = QWidget()
        upper.setProperty("kind", "page")
        column = QVBoxLayout(upper)
        column.setContentsMargins(0, 6, 0, 4)
        column.addLayout(self._middle(), 1)
        scrolled = QScrollArea()
        scrolled.setWidgetResizable(True)
        scrolled.setFrameShape(QFrame.Shape.NoFrame)
        scrolled.setWidget(upper)
        split = QSplitter(Qt.Orientation.Vertical)
        split.setChildrenCollapsible(False)
        split.addWidget(scrolled)
        split.addWidget(self._past())
        split.setStretchFactor(0, 5)
        split.setStretchFactor(1, 3)
        return split

    def _head(self) -> QHBoxLayout:
        row = QHBoxLayout()
        names = QVBoxLayout()
        names.setSpacing(2)
        names.addWidget(self._title)
        names.addWidget(self._path)
        row.addLayout(names, 1)
        row.addWidget(self._state, 0, Qt.AlignmentFlag.AlignTop)
        return row

    def _middle(self) -> QHBoxLayout:
        """What was found at the last visit, and beside it what the outlet and its valve are."""
        self._judged.body.addWidget(self.mended)
        self._judged.body.addWidget(self.signed)
        self._judged.body.addWidget(self._findings)
        self._judged.body.addStretch(1)
        facts = QVBoxLayout()
        facts.setSpacing(12)
        for heading, told in (
            ("Limits in force", self._limits),
            ("Outlet and users", self._outlet),
            ("Valve in place", self._valve),
        ):
            card = Card(heading)
            card.body.addWidget(told)
            facts.addWidget(card)
        facts.addStretch(1)
        row = QHBoxLayout()
        row.setSpacing(12)
        row.addWidget(self._judged, 5)
        row.addLayout(facts, 4)
        return row

    def _past(self) -> QWidget:
        lower = QWidget()
        column = QVBoxLayout(lower)
        column.setContentsMargins(0, 4, 0, 0)
        column.setSpacing(6)
        row = QHBoxLayout()
        row.addWidget(label("History", "heading"))
        row.addStretch(1)
        self.record_button = QPushButton("Record a visit…")
        self.record_button.setProperty("kind", "main")
        self.record_button.clicked.connect(self.record_asked)
        self.correct_button = QPushButton("Correct entry…")
        self.correct_button.clicked.connect(self._on_correct)
        self.void_button = QPushButton("Void entry…")
        self.void_button.clicked.connect(self._on_void)
        self.trail_button = QPushButton("What happened to it")
        self.trail_button.setToolTip("Every entry of the trail about the chosen entry")
        self.trail_button.clicked.connect(self._on_trail)
        self.sign_button = QPushButton("Sign entry…")
        self.sign_button.setToolTip("Vouch for the chosen entry with your key, or countersign")
        self.sign_button.clicked.connect(self._on_sign)
        mending = (self.correct_button, self.void_button)
        for button in (self.trail_button, self.sign_button, *mending, self.record_button):
            row.addWidget(button)
        column.addLayout(row)
        column.addWidget(self.attempts)
        column.addWidget(self.history, 1)
        return lower

    def know(self, instruments: tuple[Instrument, ...]) -> None:
        """Learn instruments by their ids, to name them in the history."""
        self._model.know(instruments)

    def tell(self, page: OutletPage, today: date, chance: float | None = None) -> None:
        """Show an outlet as it stands today.

        Args:
            page: the outlet.
            today: the day.
            chance: to reach the ceiling by the last day looked at (`fan_end`); None where it can't be said.
        """
        self.page = page
        outlet = page.outlet
        self._title.setText(outlet.reference)
        self._path.setText(f"{outlet.path.site} · {outlet.path}")
        self._state.tell(OF_STATE[page.state], page.state.value)
        self._band.tell(page, today)
        said = outlet_facts.standing_words(page, today)
        self.standing.setText(said)
        self.standing.setVisible(bool(said))
        self._outlet.tell(outlet_facts.of_outlet(page))
        self._valve.tell(outlet_facts.of_valve(page))
        self._limits.tell(outlet_facts.of_limits(page, self._scale))
        self._model.fill(page.history)
        self.attempts.setText(outlet_facts.attempts_words(page))
        self.attempts.setVisible(bool(page.attempts))
        self._show_judged(next((line for line in page.history if line.visit.counts), None))
        course = course_of(page, today, chance)
        self.drift.tell(page, replace(course, where=f"{course.where}{self.known}"))
        self.record_button.setEnabled(page.valve is not None)
        self._let_mend(None)
        self.diagnosis.turn_to(outlet.id)
        self.told.emit()

    def read_in(self, scale: Scale) -> None:
        """Show limits and history on a scale of temperatures."""
        self._scale = scale
        self._model.read_in(scale)
        if self.page is not None:
            self._limits.tell(outlet_facts.of_limits(self.page, scale))

    def _show_judged(self, line: HistoryLine | None) -> None:
        judgement = self.page.judgement if line is None and self.page else None
        judgement = line.judgement if line is not None else judgement
        self._verdict.judge(judgement)
        self._findings.tell(judgement)
        self._judged.head("Last visit" if line is None else outlet_facts.visit_heading(line))
        said = mended_words(line, self.page.history) if line is not None and self.page else ""
        self.mended.setText(said)
        self.mended.setVisible(bool(said))
        self.signed.setText("" if line is None else f"{words.sentence(line.signing.words)}.")
        self.signed.setVisible(line is not None)

    def go_to_visits(self) -> None:
        """Turn to the visits."""
        self.tabs.setCurrentIndex(0)

    def go_to_history(self) -> None:
        """Turn to the visits, with the keys on their list."""
        self.go_to_visits()
        self.history.setFocus(Qt.FocusReason.ShortcutFocusReason)

    def go_to_chart(self) -> None:
        """Turn to the chart, with the keys on it."""
        self.tabs.setCurrentIndex(1)
        self.drift.chart.setFocus(Qt.FocusReason.ShortcutFocusReason)

    def go_to_diagnosis(self) -> None:
        """Turn to what may be wrong."""
        self.tabs.setCurrentWidget(self.diagnosis)

    def _line(self, key: int | None) -> HistoryLine | None:
        lines = self.page.history if self.page else ()
        return next((line for line in lines if line.visit.id == key), None)

    def _on_picked(self, key: int | None) -> None:
        line = self._line(key)
        if line is not None:
            self._show_judged(line)
        self._let_mend(line)

    def _let_mend(self, line: HistoryLine | None) -> None:
        self.trail_button.setEnabled(line is not None)
        self.sign_button.setEnabled(line is not None)
        counts = line is not None and line.visit.counts
        self.correct_button.setEnabled(counts)
        self.void_button.setEnabled(counts)

    def _on_correct(self) -> None:
        key = self.history.current_key()
        if key is not None:
            self.correct_asked.emit(key)

    def _on_trail(self) -> None:
        key = self.history.current_key()
        if key is not None:
            self.trail_asked.emit(key)

    def _on_sign(self) -> None:
        key = self.history.current_key()
        if key is not None:
            self.sign_asked.emit(key)

    def _on_void(self) -> None:
        key = self.history.current_key()
        if key is not None:
            self.void_asked.emit(key)


class _WindowBand(QFrame):
    """The next test window, large, with the one reason that binds."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setProperty("kind", "band")
        column = QVBoxLayout(self)
        column.setContentsMargins(14, 10, 14, 10)
        column.setSpacing(4)
        row = QHBoxLayout()
        row.setSpacing(12)
        self._dates = label("", "large")
        self._soon = label("", "strong")
        row.addWidget(self._dates)
        row.addWidget(self._soon, 1, Qt.AlignmentFlag.AlignVCenter)
        self._reason = label("", wraps=True)
        self._source = label("", "small", wraps=True)
        self._others = label("", "small", wraps=True)
        self._why = Why("this date", self._others, "Other dates")
        row.addWidget(self._why)
        column.addLayout(row)
        for each in (self._reason, self._source, self._others):
            column.addWidget(each)

    def tell(self, page: OutletPage, today: date) -> None:
        """Show the window of an outlet's valve."""
        window = page.window
        self._source.setVisible(window is not None)
        self._others.hide()
        self._why.setVisible(window is not None and len(window.candidates) > 1)
        if window is None:
            self._dates.setText("No test is planned")
            self._soon.setText("")
            self._reason.setText("No valve is in place at this outlet.")
            return
        self._dates.setText(f"Next test: {words.span(window.not_before, window.not_after)}")
        self._soon.setText(outlet_facts.soon(page, today))
        self._reason.setText(f"Why: {window.reason.words}")
        self._source.setText(f"Source: {window.reason.source}")
        self._others.setText(outlet_facts.other_candidates(window))
        self._why.setToolTip(self._others.text())

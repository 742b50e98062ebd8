"""The page of one outlet: what it is, how it stands, what to do next, and its whole history."""

from dataclasses import replace
from datetime import date
from pathlib import Path

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QDragEnterEvent, QDropEvent
from PySide6.QtWidgets import QHBoxLayout, QSplitter, QTabWidget, QVBoxLayout, QWidget
from typing_extensions import override

from estate.domain.browsing import OutletPage
from estate.domain.documents import MediaType
from estate.domain.instruments import Instrument
from estate.domain.temperature import Scale
from estate.window.marks import OF_STATE, Mark
from estate.window.models import outlet_facts
from estate.window.models.drift_course import course_of
from estate.window.translating import tr
from estate.window.widgets.breadcrumbs import Breadcrumbs
from estate.window.widgets.diagnosis_panel import DiagnosisPanel
from estate.window.widgets.documents_panel import DocumentsPanel, dropped
from estate.window.widgets.drift_panel import DriftPanel
from estate.window.widgets.history_panel import HistoryPanel
from estate.window.widgets.outlet_actions import OutletActions
from estate.window.widgets.outlet_cards import OutletCards
from estate.window.widgets.scrolled import in_scroll_area
from estate.window.widgets.service_record import ServiceRecord
from estate.window.widgets.text import Chip, label
from estate.window.widgets.window_band import WindowBand

_EVEN = 400
"""Cards and history get the same share of the height, until the person moves the line between them."""


class OutletView(QWidget):
    """Shows an `OutletPage`.

    Attributes:
        place_asked: the `PlaceKind` above the outlet that the person wants to go to.
        changed: the id of an action of the window that is wanted about the outlet.
        told: an outlet is shown, or shown anew.
        known: said on the chart's paper, where what is shown is past knowledge.
    """

    place_asked = Signal(object)
    changed = Signal(str)
    told = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setAcceptDrops(True)
        self.page: OutletPage | None = None
        self.known = ""
        self._title = label("", "title", wraps=True)
        self.path = Breadcrumbs()
        self._state = Chip(Mark.RING, "", large=True)
        self.band = WindowBand()
        self.standing = label("", "caution", wraps=True)
        self.cards = OutletCards()
        self.past = HistoryPanel()
        self.history = self.past.listing
        self.drift = DriftPanel()
        self.diagnosis = DiagnosisPanel()
        self.to_do = OutletActions()
        self.record = ServiceRecord()
        self.documents = DocumentsPanel()
        self._lay_out()
        self.path.asked.connect(self.place_asked)
        for part in (self.cards, self.to_do):
            part.changed.connect(self.changed)
        self.history.picked.connect(self._on_picked)
        self.record.visit_opened.connect(self._on_visit_opened)
        self.documents.counted.connect(lambda held: self._count(self.documents, tr("Documents"), held))

    def _lay_out(self) -> None:
        """Where it is and when it is next tested stay in sight; beneath, what is known of it."""
        whole = QVBoxLayout(self)
        whole.setContentsMargins(18, 14, 18, 10)
        whole.setSpacing(8)
        whole.addLayout(self._head())
        whole.addWidget(self.band)
        whole.addWidget(self.standing)
        self.tabs = QTabWidget()
        self.tabs.setDocumentMode(True)
        self.tabs.tabBar().setDrawBase(False)
        said = tr("Visits, chart, what may be wrong, actions, service record or documents of this outlet")
        self.tabs.setAccessibleName(said)
        for part, words in (
            (self._visits(), tr("Visits")),
            (self.drift, tr("Chart and drift")),
            (self.diagnosis, tr("What may be wrong")),
            (self.to_do, tr("Actions")),
            (self.record, tr("Service record")),
            (self.documents, tr("Documents")),
        ):
            self.tabs.addTab(part, words)
        whole.addWidget(self.tabs, 1)

    def _head(self) -> QHBoxLayout:
        names = QVBoxLayout()
        names.setSpacing(2)
        names.addWidget(self._title)
        names.addWidget(self.path)
        row = QHBoxLayout()
        row.addLayout(names, 1)
        row.addWidget(self._state, 0, Qt.AlignmentFlag.AlignTop)
        return row

    def _visits(self) -> QWidget:
        upper = QWidget()
        column = QVBoxLayout(upper)
        column.setContentsMargins(0, 6, 0, 4)
        column.addWidget(self.cards, 1)
        split = QSplitter(Qt.Orientation.Vertical)
        split.setChildrenCollapsible(False)
        split.addWidget(in_scroll_area(upper))
        split.addWidget(self.past)
        split.setStretchFactor(0, 1)
        split.setStretchFactor(1, 1)
        split.setSizes([_EVEN, _EVEN])
        return split

    @override
    def heightForWidth(self, width: int) -> int:
        """What it needs at least, where there is that much: its parts scroll, not the whole page too."""
        layout, around = self.layout(), self.parentWidget()
        least = layout.minimumHeightForWidth(width) if layout is not None else 0
        if self.tabs.hasHeightForWidth():
            least -= max(0, self.tabs.heightForWidth(width) - self.tabs.minimumSizeHint().height())
        roomy = around is not None and least <= around.height()
        return least if roomy else super().heightForWidth(width)

    def know(self, instruments: tuple[Instrument, ...]) -> None:
        """Learn instruments by their ids, to name them in the history."""
        self.past.know(instruments)

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
        self.path.tell(outlet.path)
        self._state.tell(OF_STATE[page.state], tr(page.state.value))
        self.band.tell(page, today)
        said = outlet_facts.standing_words(page, today)
        self.standing.setText(said)
        self.standing.setVisible(bool(said))
        self.cards.tell(page)
        self.past.tell(page)
        course = course_of(page, today, chance)
        where = f"{course.where}, {self.known}" if self.known else course.where
        self.drift.tell(page, replace(course, where=where))
        self.record.tell(page)
        self.diagnosis.turn_to(outlet.id)
        self._count(self.to_do, tr("Actions"), len(page.actions))
        self.told.emit()

    def _count(self, part: QWidget, words: str, count: int) -> None:
        self.tabs.setTabText(self.tabs.indexOf(part), f"{words} ({count:,})" if count else words)

    def read_in(self, scale: Scale) -> None:
        """Show limits, history and record on a scale of temperatures."""
        for part in (self.cards, self.past, self.record):
            part.read_in(scale)

    def go_to_visits(self) -> None:
        """Turn to the visits."""
        self.tabs.setCurrentIndex(0)

    def go_to_history(self) -> None:
        """Turn to the visits, with the keys on their list."""
        self.go_to_visits()
        self.history.setFocus(Qt.FocusReason.ShortcutFocusReason)

    def go_to_chart(self) -> None:
        """Turn to the chart, with the keys on it."""
        self.tabs.setCurrentWidget(self.drift)
        self.drift.chart.setFocus(Qt.FocusReason.ShortcutFocusReason)

    def go_to_diagnosis(self) -> None:
        """Turn to what may be wrong."""
        self.tabs.setCurrentWidget(self.diagnosis)

    def _on_picked(self, key: int | None) -> None:
        line = self.past.line(key)
        if line is not None:
            self.cards.judge(line)

    def _on_visit_opened(self, visit_id: int) -> None:
        self.go_to_history()
        self.history.choose(visit_id)

    @override
    def dragEnterEvent(self, event: QDragEnterEvent) -> None:
        if self.documents.add_button.isEnabled() and _papers(event):
            event.acceptProposedAction()

    @override
    def dropEvent(self, event: QDropEvent) -> None:
        files = _papers(event)
        if self.documents.add_button.isEnabled() and files:
            event.acceptProposedAction()
            self.tabs.setCurrentWidget(self.documents)
            self.documents.add_asked.emit(files)


def _papers(event: QDropEvent) -> list[Path]:
    """Papers and photographs dropped on the page; a sheet is left to the window, which brings it in."""
    files = dropped(event.mimeData())
    return files if all(each.suffix.casefold() in _PAPERS for each in files) else []


_KINDS = (MediaType.PDF, MediaType.PNG, MediaType.JPEG, MediaType.HEIC, MediaType.DOCX, MediaType.ODT)
_PAPERS = {ending for kind in _KINDS for ending in kind.endings}

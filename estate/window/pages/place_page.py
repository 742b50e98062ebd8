"""The page of a site, building, level or room: its outlets and how they stand, floor by floor."""

from collections import Counter
from collections.abc import Iterable

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QPushButton, QScrollArea, QStackedWidget, QTabWidget, QVBoxLayout, QWidget

from estate.domain.browsing import PlaceNode
from estate.domain.due import DueLine
from estate.window.models.floor_rows import Floor, floors_model, floors_of
from estate.window.models.outlet_rows import Known, OutletRow, OutletsModel, outlets_below, places_hidden
from estate.window.translating import said, tr, tr_count
from estate.window.widgets.documents_panel import DocumentsPanel
from estate.window.widgets.floor_chart import FloorChart
from estate.window.widgets.list_bar import ListBar
from estate.window.widgets.listing import Listing
from estate.window.widgets.scrolled import in_scroll_area
from estate.window.widgets.state_choice import StateChoice
from estate.window.widgets.text import Card, label

_MOST_ROWS = 7
"""Rows of the chart, or of its table, that are shown at once; the others are scrolled to."""
_NO_PAPERS = said(
    "Nothing is kept here yet. Drop a file in, or add one: a plan, a drawing of the pipes, a risk "
    "assessment. Its content is checked, its bytes are kept as they are."
)


class PlaceView(QWidget):
    """Shows the outlets at and below one place.

    Attributes:
        outlet_opened: id of the outlet that the person opened.
        place_asked: the `PlaceNode` of the floor that the person opened.
        told: a place is shown, or shown anew.
        node: the place; None before one was shown.
    """

    outlet_opened = Signal(int)
    place_asked = Signal(object)
    told = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.node: PlaceNode | None = None
        self._title = label("", "title", wraps=True)
        self._held = label("", "muted")
        self.states = StateChoice()
        self.chart = FloorChart()
        self.table: Listing[Floor] = Listing(floors_model(), tr("Outlets by state, floor by floor"))
        self._model = OutletsModel()
        name = tr("Outlets at this place")
        self.listing: Listing[OutletRow] = Listing(self._model, name, known_as="outlets-at-a-place")
        self.bar = ListBar(self.listing)
        self.listing.narrowing = lambda: (*self.states.words, *self.bar.asked())
        heading = tr("Plans, risk assessments and other documents of this place")
        self.documents = DocumentsPanel(heading, tr(_NO_PAPERS))
        self._lay_out()
        self.documents.counted.connect(self._on_counted)
        self.listing.opened.connect(self.outlet_opened)
        self.states.changed.connect(self._on_states)
        self.chart.asked.connect(self.place_asked)
        self.chart.moved.connect(self._on_moved)
        self.table.opened.connect(self._on_floor_opened)

    def _lay_out(self) -> None:
        column = QVBoxLayout(self)
        column.setContentsMargins(14, 12, 14, 8)
        column.setSpacing(6)
        column.addWidget(self._title)
        column.addWidget(self._held)
        self.tabs = QTabWidget()
        self.tabs.setDocumentMode(True)
        self.tabs.tabBar().setDrawBase(False)
        self.tabs.setAccessibleName(tr("Outlets or documents of this place"))
        self.tabs.addTab(self._outlets(), tr("Outlets"))
        self.tabs.addTab(self.documents, tr("Documents"))
        column.addWidget(self.tabs, 1)

    def _outlets(self) -> QWidget:
        held = QWidget()
        column = QVBoxLayout(held)
        column.setContentsMargins(0, 6, 0, 0)
        column.setSpacing(6)
        for widget in (self.states, self._floors(), self.bar):
            column.addWidget(widget)
        column.addWidget(self.listing, 1)
        column.addWidget(label(tr("Enter or a double click opens an outlet."), "small"))
        return held

    def _floors(self) -> QWidget:
        self.as_table = QPushButton(tr("As a table"))
        self.as_table.setCheckable(True)
        self.as_table.setToolTip(tr("The same numbers as rows"))
        self.as_table.toggled.connect(self._on_toggled)
        self._area: QScrollArea = in_scroll_area(self.chart)
        self._shown = QStackedWidget()
        self._shown.addWidget(self._area)
        self._shown.addWidget(self.table)
        self.card = Card(tr("Floor by floor"), self.as_table)
        self.card.body.setContentsMargins(8, 6, 8, 8)
        self.card.body.addWidget(self._shown)
        return self.card

    def tell(self, node: PlaceNode, due: Iterable[DueLine], known: Known | None = None) -> None:
        """Show a place.

        Args:
            node: with everything below it.
            due: every due line.
            known: what else was read of outlets and valves.
        """
        rows = outlets_below(node, due, known)
        if self.node is None or (node.kind, node.id) != (self.node.kind, self.node.id):
            self.states.clear()
            self.bar.clear()
            self.tabs.setCurrentIndex(0)
        self.node = node
        self._title.setText(" ".join(node.label.split()))
        worst = (
            tr("{attention:,} need someone to act now", attention=node.attention)
            if node.attention
            else tr("none needs anyone now")
        )
        self._held.setText(f"{tr_count(node.outlets, '{n:,} outlet', '{n:,} outlets')}, {worst}")
        self._tell_floors(floors_of(node))
        self._model.fill(rows)
        self.listing.suggest_hidden(places_hidden(node.kind))
        self.states.tell(Counter(row.node.state for row in rows))
        self.told.emit()

    def _tell_floors(self, floors: tuple[Floor, ...]) -> None:
        self.card.setVisible(bool(floors))
        self.chart.tell(floors)
        self.table.table.fill(floors)
        self.table.hide_empty()
        self._size()

    def _size(self) -> None:
        """As high as the floors need, up to some rows."""
        rows = min(len(self.chart.floors), _MOST_ROWS)
        if self._shown.currentWidget() is self.table:
            heading, row = self.table.horizontalHeader(), self.table.verticalHeader()
            scrolls = heading.length() > self.table.viewport().width()
            bar = self.table.horizontalScrollBar().sizeHint().height() if scrolls else 0
            high = heading.sizeHint().height() + rows * row.defaultSectionSize() + bar
        else:
            high = round(self.chart.laid().high * rows)
        self._shown.setFixedHeight(high + 4)

    def _on_toggled(self, table: bool) -> None:
        self._shown.setCurrentWidget(self.table if table else self._area)
        self.as_table.setText(tr("As a chart") if table else tr("As a table"))
        self._size()

    def _on_counted(self, held: int) -> None:
        words = tr("Documents")
        self.tabs.setTabText(self.tabs.indexOf(self.documents), f"{words} ({held:,})" if held else words)

    def _on_states(self) -> None:
        chosen = self.states.chosen
        self.listing.ordered.want(lambda row: not chosen or row.node.state in chosen)

    def _on_moved(self, top: int, bottom: int) -> None:
        self._area.ensureVisible(0, (top + bottom) // 2, 0, (bottom - top) // 2 + 2)

    def _on_floor_opened(self, number: int) -> None:
        self.place_asked.emit(self.chart.floors[number].node)

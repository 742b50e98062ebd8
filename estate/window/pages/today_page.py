"""Today: what hurts first, what is late and what comes, each number with its list behind it."""

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import (
    QHBoxLayout,
    QPushButton,
    QStackedWidget,
    QVBoxLayout,
    QWidget,
)

from estate.domain.today import Part, Today
from estate.window import words
from estate.window.models import share_words, workload_rows
from estate.window.models.workload_rows import Bar, bars_of, workload_model
from estate.window.translating import said, tr, tr_count
from estate.window.widgets.beside import Beside
from estate.window.widgets.figure_rows import FigureRows, ListLink
from estate.window.widgets.listing import Listing
from estate.window.widgets.scrolled import in_scroll_area
from estate.window.widgets.share_line import ShareLine
from estate.window.widgets.text import Card, empty, label
from estate.window.widgets.workload_chart import WorkloadChart

_ALL_WELL = {
    Part.SAFETY: said(
        "No visit and no action on record asks for anybody today. It does not mean that every valve "
        "works: only what was tested is known."
    ),
    Part.TESTS: said(
        "Every valve stands within its test window. It does not mean that none has failed since its "
        "last test."
    ),
    Part.MEANS: said("Nothing ends soon, as far as is on record."),
    Part.UPKEEP: said(
        "No upkeep is due. It does not mean that the water is safe: see the site's risk assessment."
    ),
}
_NO_VALVES = said(
    "No valve is in the register yet, so nothing can be said of any: it does not mean that all is well. "
    "Bring in your list of outlets and valves first."
)
_HOW = said(
    "Worked out now from the visits that count, up to the end of each month; what was entered or corrected "
    "later counts as it stands today."
)
_WITHOUT = said("never tested, past the window, or the last visit not satisfactory.")
_SAFETY = said(
    "What stands here rests on the visits on record and is no permission to use an outlet. Local codes, the "
    "maker's instructions and the site's risk assessment come first."
)


class TodayView(QWidget):
    """Shows the first page.

    Attributes:
        list_asked: the `ListAsked` behind a number.
    """

    list_asked = Signal(object)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.told: Today | None = None
        self._title = label(tr("Today"), "title")
        self._estate = label("", "muted")
        self.empty = label(tr(_NO_VALVES), "large", wraps=True)
        self.parts = {part: FigureRows() for part in Part}
        for rows in self.parts.values():
            rows.asked.connect(self.list_asked)
        self.share = label("", "large")
        self.share_words = label("", wraps=True)
        self._without = QHBoxLayout()
        self.moved = label("", wraps=True)
        self.line = ShareLine()
        self.load_words = label("", wraps=True)
        self.chart = WorkloadChart()
        self.chart.asked.connect(self.list_asked)
        self.table: Listing[Bar] = Listing(workload_model(), tr("Windows by the week in which they end"))
        self.table.opened.connect(self._on_week_opened)
        self.as_table = QPushButton(tr("As a table"))
        self.as_table.setCheckable(True)
        self.as_table.setToolTip(tr("The same numbers as rows"))
        self.as_table.toggled.connect(self._on_toggled)
        self._lay_out()

    def _lay_out(self) -> None:
        self.known = QWidget()
        below = QVBoxLayout(self.known)
        below.setContentsMargins(0, 0, 0, 0)
        below.setSpacing(10)
        first, second = Beside(), Beside(least=320)
        first.add(_column(*(self._card(part) for part in (Part.SAFETY, Part.TESTS))), 5)
        first.add(_column(self._share_card()), 3)
        for part in (Part.MEANS, Part.UPKEEP):
            second.add(self._card(part))
        for each in (first, self._load_card(), second):
            below.addWidget(each)
        below.addWidget(label(tr(_SAFETY), "small", wraps=True))
        held = QWidget()
        column = QVBoxLayout(held)
        column.setContentsMargins(14, 12, 14, 10)
        column.setSpacing(8)
        for widget in (self._title, self._estate, self.empty, self.known):
            column.addWidget(widget)
        column.addStretch(1)
        whole = QVBoxLayout(self)
        whole.setContentsMargins(0, 0, 0, 0)
        whole.addWidget(in_scroll_area(held))

    def _card(self, part: Part) -> Card:
        card = Card(tr(part.value))
        card.body.addWidget(self.parts[part])
        card.body.addStretch(1)
        return card

    def _share_card(self) -> Card:
        card = Card(tr("Satisfactory and in date"))
        for each in (self.share, self.share_words):
            card.body.addWidget(each)
        card.body.addLayout(self._without)
        card.body.addWidget(self.moved)
        card.body.addWidget(self.line)
        card.body.addWidget(label(tr(_HOW), "small", wraps=True))
        return card

    def _load_card(self) -> Card:
        card = Card(tr("The next 26 weeks"), self.as_table)
        self._shown = QStackedWidget()
        self._shown.addWidget(self.chart)
        self._shown.addWidget(self.table)
        self._shown.setMinimumHeight(self.chart.minimumSizeHint().height())
        card.body.addWidget(self.load_words)
        card.body.addWidget(self._shown, 1)
        return card

    def tell(self, today: Today) -> None:
        """Show the figures of a day."""
        self.told = today
        self._title.setText(tr("Today, {day}", day=words.day(today.today)))
        self._estate.setText(
            tr_count(
                today.valves,
                "{estate}: {n:,} valve in place",
                "{estate}: {n:,} valves in place",
                estate=today.estate,
            )
        )
        self.empty.setVisible(today.valves == 0)
        self.known.setVisible(today.valves > 0 or any(each.count for each in today.figures))
        for part, rows in self.parts.items():
            rows.tell(today.of(part), tr(_ALL_WELL[part]))
        self._tell_share(today)
        said = workload_rows.in_words(today.workload)
        bars = bars_of(today.workload)
        self.load_words.setText(said)
        self.chart.tell(bars, said)
        self.table.table.fill(bars)

    def _tell_share(self, today: Today) -> None:
        share = today.share
        self.share.setText(share_words.percent(share))
        self.share_words.setText(
            tr_count(
                share.good,
                "{n:,} of {valves} has a satisfactory test in date.",
                "{n:,} of {valves} have a satisfactory test in date.",
                valves=tr_count(share.valves, "{n:,} valve", "{n:,} valves"),
            )
        )
        without = share.valves - share.good
        empty(self._without)
        if without:
            noun = tr_count(without, "{n:,} valve", "{n:,} valves")
            sentence = tr("{noun} without: {without}", noun=noun, without=tr(_WITHOUT))
            link = ListLink(noun, sentence, today.not_in_date)
            link.asked.connect(self.list_asked)
            self._without.addWidget(link, 0, Qt.AlignmentFlag.AlignTop)
            self._without.addWidget(label(tr("without: {without}", without=tr(_WITHOUT)), wraps=True), 1)
        self.moved.setText(share_words.moved(today.shares))
        self.line.tell(today.shares)

    def _on_toggled(self, table: bool) -> None:
        self._shown.setCurrentWidget(self.table if table else self.chart)
        self.as_table.setText(tr("As a chart") if table else tr("As a table"))

    def _on_week_opened(self, number: int) -> None:
        bar = self.table.table.rows[number]
        if bar.count:
            self.list_asked.emit(bar.asks)


def _column(*cards: Card) -> QWidget:
    """Cards one below the other, at the top."""
    held = QWidget()
    column = QVBoxLayout(held)
    column.setContentsMargins(0, 0, 0, 0)
    column.setSpacing(10)
    for card in cards:
        column.addWidget(card)
    column.addStretch(1)
    return held

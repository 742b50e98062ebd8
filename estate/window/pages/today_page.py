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
from estate.window.widgets.figure_rows import FigureRows, ListLink
from estate.window.widgets.listing import Listing
from estate.window.widgets.scrolled import in_scroll_area
from estate.window.widgets.share_line import ShareLine
from estate.window.widgets.text import Card, empty, label
from estate.window.widgets.workload_chart import WorkloadChart

_ALL_WELL = {
    Part.SAFETY: "No visit and no action on record asks for anybody today. It does not mean that every valve "
    "works: only what was tested is known.",
    Part.TESTS: "Every valve stands within its test window. It does not mean that none has failed since its "
    "last test.",
    Part.MEANS: "Nothing ends soon, as far as is on record.",
    Part.UPKEEP: "No upkeep is due. It does not mean that the water is safe: see the site's risk assessment.",
}
_NO_VALVES = (
    "No valve is in the register yet, so nothing can be said of any: it does not mean that all is well. "
    "Bring in your list of outlets and valves first."
)
_HOW = (
    "Worked out now from the visits that count, up to the end of each month; what was entered or corrected "
    "later counts as it stands today."
)
_WITHOUT = "never tested, past the window, or the last visit not satisfactory."
_SAFETY = (
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
        self._title = label("Today", "title")
        self._estate = label("", "muted")
        self.empty = label(_NO_VALVES, "large", wraps=True)
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
        self.table: Listing[Bar] = Listing(workload_model(), "Windows by the week in which they end")
        self.table.opened.connect(self._on_week_opened)
        self.as_table = QPushButton("As a table")
        self.as_table.setCheckable(True)
        self.as_table.setToolTip("The same numbers as rows")
        self.as_table.toggled.connect(self._on_toggled)
        self._lay_out()

    def _lay_out(self) -> None:
        self.known = QWidget()
        below = QVBoxLayout(self.known)
        below.setContentsMargins(0, 0, 0, 0)
        below.setSpacing(10)
        first = QHBoxLayout()
        first.setSpacing(10)
        left, right = QVBoxLayout(), QVBoxLayout()
        for part in (Part.SAFETY, Part.TESTS):
            left.addWidget(self._card(part))
        left.addStretch(1)
        right.addWidget(self._share_card())
        right.addStretch(1)
        first.addLayout(left, 5)
        first.addLayout(right, 3)
        below.addLayout(first)
        below.addWidget(self._load_card())
        second = QHBoxLayout()
        second.setSpacing(10)
        for part in (Part.MEANS, Part.UPKEEP):
            second.addWidget(self._card(part), 1)
        below.addLayout(second)
        below.addWidget(label(_SAFETY, "small", wraps=True))
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
        card = Card(part.value)
        card.body.addWidget(self.parts[part])
        card.body.addStretch(1)
        return card

    def _share_card(self) -> Card:
        card = Card("Satisfactory and in date")
        for each in (self.share, self.share_words):
            card.body.addWidget(each)
        card.body.addLayout(self._without)
        card.body.addWidget(self.moved)
        card.body.addWidget(self.line)
        card.body.addWidget(label(_HOW, "small", wraps=True))
        return card

    def _load_card(self) -> Card:
        card = Card("The next 26 weeks", self.as_table)
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
        self._title.setText(f"Today, {words.day(today.today)}")
        self._estate.setText(f"{today.estate}: {words.count(today.valves, 'valve')} in place")
        self.empty.setVisible(today.valves == 0)
        self.known.setVisible(today.valves > 0 or any(each.count for each in today.figures))
        for part, rows in self.parts.items():
            rows.tell(today.of(part), _ALL_WELL[part])
        self._tell_share(today)
        said = workload_rows.in_words(today.workload)
        bars = bars_of(today.workload)
        self.load_words.setText(said)
        self.chart.tell(bars, said)
        self.table.table.fill(bars)

    def _tell_share(self, today: Today) -> None:
        share = today.share
        have = "has" if share.good == 1 else "have"
        self.share.setText(share_words.percent(share))
        self.share_words.setText(
            f"{share.good:,} of {words.count(share.valves, 'valve')} {have} a satisfactory test in date."
        )
        without = share.valves - share.good
        empty(self._without)
        if without:
            noun = words.count(without, "valve")
            sentence = f"{noun} without: {_WITHOUT}"
            link = ListLink(noun, sentence, today.not_in_date)
            link.asked.connect(self.list_asked)
            self._without.addWidget(link, 0, Qt.AlignmentFlag.AlignTop)
            self._without.addWidget(label(f"without: {_WITHOUT}", wraps=True), 1)
        self.moved.setText(share_words.moved(today.shares))
        self.line.tell(today.shares)

    def _on_toggled(self, table: bool) -> None:
        self._shown.setCurrentWidget(self.table if table else self.chart)
        self.as_table.setText("As a chart" if table else "As a table")

    def _on_week_opened(self, number: int) -> None:
        bar = self.table.table.rows[number]
        if bar.count:
            self.list_asked.emit(bar.asks)

"""The chart of an outlet with what has been learned of its valve beneath."""

from collections.abc import Sequence

from PySide6.QtCore import Qt
from PySide6.QtWidgets import (
    QComboBox,
    QFrame,
    QGridLayout,
    QHBoxLayout,
    QLabel,
    QPushButton,
    QScrollArea,
    QVBoxLayout,
    QWidget,
)

from estate.domain.browsing import OutletPage
from estate.window import words
from estate.window.models import drift_words
from estate.window.models.drift_course import Course
from estate.window.models.drift_words import Told
from estate.window.translating import said, tr
from estate.window.widgets.beside import Beside
from estate.window.widgets.drift_chart import DriftChart
from estate.window.widgets.scrolled import in_scroll_area
from estate.window.widgets.text import Card, Chip, Facts, empty, label

_SPANS = ((said("All readings"), None), (said("Last 5 years"), 5), (said("Last 2 years"), 2))
_HINT = said("Point at the chart, or step through it with the arrow keys.")


class DriftPanel(QWidget):
    """Shows the course of an outlet's mixed temperature.

    Attributes:
        told: what has been learned, as shown under the chart.
    """

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.told: tuple[Told, ...] = ()
        self.chart = DriftChart()
        self._said = label(tr(_HINT), "muted", wraps=True)
        self._said.setAlignment(Qt.AlignmentFlag.AlignTop)
        self._said.setMinimumHeight(int(self._said.fontMetrics().height() * 2.1))
        self._weeks = _WeeksCard()
        self._cards = Beside(least=220)
        self.chart.told.connect(lambda said: self._said.setText(said or tr(_HINT)))
        self._make_choices()
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 8, 0, 0)
        column.setSpacing(6)
        column.addWidget(self.chart, 5)
        column.addLayout(self._row())
        column.addWidget(self._scrolled(), 4)

    @property
    def years(self) -> int | None:
        """How many of the last years are shown; None for all."""
        return _SPANS[self.span.currentIndex()][1]

    def _make_choices(self) -> None:
        self.span = QComboBox()
        self.span.setAccessibleName(tr("Which readings the chart shows"))
        self.span.addItems([tr(shown) for shown, _ in _SPANS])
        self.span.currentIndexChanged.connect(lambda: self.chart.show_years(self.years))
        self.copy_button = QPushButton(tr("Copy as picture"))
        self.copy_button.clicked.connect(self.chart.copy)
        self.print_button = QPushButton(tr("Print…"))
        self.print_button.clicked.connect(self.chart.print_asked)

    def _row(self) -> QHBoxLayout:
        row = QHBoxLayout()
        row.setSpacing(8)
        row.addWidget(self._said, 1)
        for each in (self.span, self.copy_button, self.print_button):
            row.addWidget(each, 0, Qt.AlignmentFlag.AlignTop)
        return row

    def _scrolled(self) -> QScrollArea:
        held = QWidget()
        held.setProperty("kind", "page")
        column = QVBoxLayout(held)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(8)
        column.addWidget(self._weeks)
        column.addWidget(self._cards)
        column.addStretch(1)
        area = in_scroll_area(held)
        area.setAccessibleName(tr("What has been learned of the valve"))
        return area

    def tell(self, page: OutletPage, course: Course) -> None:
        """Show another outlet."""
        self.told = drift_words.of_page(page)
        self.chart.tell(course)
        self._weeks.tell(self.told)
        empty(self._cards.row)
        for place, each in enumerate(self.told):
            self._cards.add(_card(each), 4 if place else 5)
        if not self.told:
            card = Card(tr("Drift, shut-off and regulation"))
            card.body.addWidget(label(drift_words.NOT_FITTED, wraps=True))
            self._cards.add(card)


def _card(told: Told) -> Card:
    card = Card(told.heading, Chip(*told.chip) if told.chip is not None else None)
    facts = Facts()
    facts.tell(told.facts)
    card.body.addWidget(facts)
    card.body.addWidget(label(told.caution, "small", wraps=True))
    card.body.addStretch(1)
    return card


class _WeeksCard(QFrame):
    """Chances and shares side by side for some numbers of weeks."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setProperty("kind", "card")
        self._grid = QGridLayout(self)
        self._grid.setContentsMargins(14, 8, 14, 8)
        self._grid.setHorizontalSpacing(16)
        self._grid.setVerticalSpacing(4)
        self._grid.setColumnStretch(0, 1)

    def tell(self, told: Sequence[Told]) -> None:
        """Show what is told for some numbers of weeks; nothing hides the card."""
        empty(self._grid)
        rows = [each for each in told if each.weeks]
        self.setVisible(bool(rows))
        self._grid.addWidget(label(tr("Within, or if tested every"), "muted"), 0, 0)
        for column, (weeks, _) in enumerate(rows[0].weeks if rows else (), 1):
            self._grid.setColumnMinimumWidth(
                column, label("").fontMetrics().horizontalAdvance("more than 00")
            )
            self._put(label(tr("{weeks} weeks", weeks=weeks), "muted"), 0, column)
        for row, each in enumerate(rows, 1):
            named = label(each.weeks_words, "muted")
            named.setToolTip(each.weeks_tip)
            self._grid.addWidget(named, row, 0)
            for column, (weeks, value) in enumerate(each.weeks, 1):
                shown = label(words.share(value), "strong")
                shown.setToolTip(each.weeks_tip)
                shown.setAccessibleName(
                    tr(
                        "{weeks_words}, {weeks} weeks: {value}",
                        weeks_words=each.weeks_words,
                        weeks=weeks,
                        value=words.share(value),
                    )
                )
                self._put(shown, row, column)

    def _put(self, shown: QLabel, row: int, column: int) -> None:
        self._grid.addWidget(shown, row, column, Qt.AlignmentFlag.AlignRight)

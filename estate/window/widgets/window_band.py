"""The next test window of an outlet, large, with the one reason that binds and why it does."""

from datetime import date

from PySide6.QtWidgets import QFrame, QVBoxLayout, QWidget

from estate.domain.browsing import OutletPage
from estate.window import words
from estate.window.models import explaining, outlet_facts
from estate.window.translating import tr
from estate.window.widgets.flowing import Flowing
from estate.window.widgets.text import Why, label
from estate.window.widgets.why import Explanation, WhyButton


class WindowBand(QFrame):
    """Shows when a valve is next tested.

    Attributes:
        why: shows what the reason means and what would change the date.
    """

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setProperty("kind", "band")
        column = QVBoxLayout(self)
        column.setContentsMargins(14, 10, 14, 10)
        column.setSpacing(4)
        self._dates = label("", "large")
        self._soon = label("", "strong")
        self._reason = label("", wraps=True)
        self._source = label("", "small", wraps=True)
        self._others = label("", "small", wraps=True)
        self._explained = Explanation()
        self.why = WhyButton(tr("this date"), self._explained)
        self.others = Why(tr("this date"), self._others, tr("Other dates"))
        row = Flowing(gap=12)
        for each in (self._dates, self._soon, self.why, self.others):
            row.addWidget(each)
        column.addLayout(row)
        for told in (self._reason, self._source, self._explained, self._others):
            column.addWidget(told)

    def tell(self, page: OutletPage, today: date) -> None:
        """Show the window of an outlet's valve."""
        window = page.window
        for each in (self._source, self.why):
            each.setVisible(window is not None)
        for hidden in (self._others, self._explained):
            hidden.hide()
        self.others.setVisible(window is not None and len(window.candidates) > 1)
        if window is None:
            self._dates.setText(tr("No test is planned"))
            self._soon.setText("")
            self._reason.setText(tr("No valve is in place at this outlet."))
            return
        self._dates.setText(tr("Next test: {span}", span=words.span(window.not_before, window.not_after)))
        self._soon.setText(outlet_facts.soon(page, today))
        self._reason.setText(tr("Why: {reason}", reason=window.reason.words))
        self._source.setText(tr("Source: {source}", source=window.reason.source))
        told = explaining.of_reason(window.reason.code, "", page.would_change)
        self._explained.tell(told)
        self.why.setToolTip(told.words)
        self._others.setText(outlet_facts.other_candidates(window))
        self.others.setToolTip(self._others.text())

"""The bar above a list: what the page offers, a filter by words, and one menu; how many are shown below."""

from collections.abc import Callable
from typing import Any, Final

from PySide6.QtCore import QSize, Signal
from PySide6.QtGui import QFocusEvent, QResizeEvent
from PySide6.QtWidgets import (
    QBoxLayout,
    QComboBox,
    QHBoxLayout,
    QLineEdit,
    QMenu,
    QPushButton,
    QSpinBox,
    QVBoxLayout,
    QWidget,
)
from typing_extensions import override

from estate.window import words
from estate.window.translating import said, tr
from estate.window.widgets.flowing import Flowing
from estate.window.widgets.list_menu import fill_list_menu
from estate.window.widgets.listing import Listing
from estate.window.widgets.text import label

_HINT: Final = said("Only lines with these words")


class _Words(QLineEdit):
    """The filter by words; what lines are found by is prepared when the keys come to it."""

    def __init__(self, listing: Listing[Any]) -> None:
        super().__init__()
        self._listing = listing

    @override
    def focusInEvent(self, event: QFocusEvent) -> None:
        super().focusInEvent(event)
        self._listing.table.prepare()


class ListBar(QWidget):
    """Stands above a `Listing`.

    Args:
        listing: the list.
        hint: what the filter by words is for.
        own_filter: whether the page itself filters by the words, not the list.

    Attributes:
        listing: the list.
        sought: the filter by words.
        button: opens the menu of the list.
        counted: how many lines are shown, of how many, and what was asked for.
        narrowed: other lines are asked for by words.
    """

    narrowed = Signal()

    def __init__(
        self,
        listing: Listing[Any],
        hint: str = _HINT,
        own_filter: bool = False,
        parent: QWidget | None = None,
    ) -> None:
        super().__init__(parent)
        self.listing = listing
        self._choices: list[QWidget] = []
        self._said: Callable[[int, int], str] = how_many
        self.sought = _Words(listing)
        self.sought.setPlaceholderText(tr(hint))
        self.sought.setAccessibleName(tr(hint))
        self.sought.setClearButtonEnabled(True)
        self.menu = QMenu(self)
        self.menu.aboutToShow.connect(lambda: fill_list_menu(self.menu, listing))
        self.button = QPushButton(tr("List"))
        self.button.setToolTip(tr("Copy, save, print, group, columns"))
        self.button.setMenu(self.menu)
        self.counted = label("", "muted", wraps=True)
        self._lay_out()
        if not own_filter:
            self.sought.textChanged.connect(listing.ordered.seek)
        self.sought.textChanged.connect(self.narrowed)
        listing.narrowing = self.asked
        ordered = listing.ordered
        for changed in (ordered.layoutChanged, ordered.modelReset, ordered.rowsInserted):
            changed.connect(self.recount)
        listing.liked.changed.connect(self.recount)
        self.recount()

    def _lay_out(self) -> None:
        self._row, self._beside = QHBoxLayout(), Flowing(to_right=True)
        self._both = QBoxLayout(QBoxLayout.Direction.LeftToRight)
        for layout in (self._row, self._both):
            layout.setSpacing(8)
        self._row.addWidget(self.sought, 1)
        self._row.addWidget(self.button)
        self._both.addLayout(self._row, 1)
        self._both.addLayout(self._beside)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(6)
        column.addLayout(self._both)
        column.addWidget(self.counted)

    def lead(self, *choices: QWidget) -> None:
        """Put the page's own choices before the filter."""
        for choice in choices:
            self._row.insertWidget(len(self._choices), choice)
            self._choices.append(choice)

    def trail(self, *widgets: QWidget) -> None:
        """Put the page's own buttons after the menu, or below where there is no room for them."""
        for widget in widgets:
            self._beside.addWidget(widget)

    @override
    def minimumSizeHint(self) -> QSize:
        """No wider than the wider of its two halves."""
        halves = (self._row.minimumSize().width(), self._beside.minimumSize().width())
        return QSize(max(halves), super().minimumSizeHint().height())

    @override
    def resizeEvent(self, event: QResizeEvent) -> None:
        needed = self._row.sizeHint().width() + self._beside.sizeHint().width() + 8
        fits = event.size().width() >= needed
        way = QBoxLayout.Direction.LeftToRight if fits else QBoxLayout.Direction.TopToBottom
        self._both.setDirection(way)
        super().resizeEvent(event)

    def clear(self) -> None:
        """Ask for nothing by words or values, so that no line stays out of sight by what was asked before."""
        self.sought.clear()
        for place in self.listing.ordered.kept_only:
            self.listing.ordered.keep_only(place, None)

    def say(self, told: Callable[[int, int], str]) -> None:
        """Say otherwise how many lines are shown of how many."""
        self._said = told
        self.recount()

    def asked(self) -> tuple[str, ...]:
        """What was asked for by the page's choices and by words, in words."""
        typed = self.sought.text().strip()
        chosen = [_chosen(each) for each in self._choices if not each.isHidden()]
        only = [tr("with the words “{words}”", words=typed)] if typed else []
        return (*(each for each in chosen if each), *only)

    def recount(self) -> None:
        """Say how many lines are shown now."""
        ordered = self.listing.ordered
        told = [self._said(ordered.count, len(self.listing.table.rows))]
        for place, texts in ordered.kept_only.items():
            column = self.listing.table.columns[place].plain_title
            told.append(tr("only {column}: {values}", column=column, values=words.listed(sorted(texts), 3)))
        if ordered.gathered_by is not None:
            grouped = self.listing.table.columns[ordered.gathered_by].plain_title
            told.append(tr("grouped by {column}", column=grouped))
        words_shown = "; ".join(each for each in told if each)
        self.counted.setText(words_shown)
        self.counted.setVisible(bool(words_shown))


def how_many(shown: int, held: int) -> str:
    """How many lines are shown of how many."""
    if shown == held:
        return tr("{held:,} shown", held=held)
    return tr("{shown:,} of {held:,} shown", shown=shown, held=held)


def _chosen(choice: QWidget) -> str:
    if isinstance(choice, QComboBox):
        return choice.currentText()
    return choice.text() if isinstance(choice, QSpinBox) else ""

"""The trail: who changed what, when, with which program, in which batch, before and after, and why."""

from collections.abc import Sequence
from datetime import date
from typing import Final

from PySide6.QtCore import QSignalBlocker, Qt, Signal
from PySide6.QtWidgets import QComboBox, QHBoxLayout, QPushButton, QSplitter, QVBoxLayout, QWidget

from estate.domain.trail import TrailChange, TrailLine, TrailPage, TrailWanted
from estate.window import words
from estate.window.models.trail_rows import changes_model, entry_words, trail_model
from estate.window.translating import said, tr, tr_count
from estate.window.widgets.days import DayRange
from estate.window.widgets.list_bar import ListBar
from estate.window.widgets.listing import Listing
from estate.window.widgets.scrolled import in_scroll_area
from estate.window.widgets.text import label

_EVERYBODY = said("Everybody")
_AHEAD_ROWS = 60
_HINT: Final = said("Only entries with these words: outlet, value, reason …")


class TrailView(QWidget):
    """Shows entries of the trail, newest first, and reads older ones as they are scrolled to.

    Attributes:
        wanted_changed: other entries are wanted, see `wanted`.
        more_asked: the entry below which to go on.
        verify_asked, checkpoint_asked: what the person wants to do.
    """

    wanted_changed = Signal()
    more_asked = Signal(int)
    verify_asked = Signal()
    checkpoint_asked = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._about: tuple[str, int] | None = None
        self._below: int | None = None
        self._count: int | None = None
        self._model = trail_model()
        self.listing: Listing[TrailLine] = Listing(
            self._model, tr("Entries of the trail, newest first"), known_as="trail"
        )
        self.listing.setSortingEnabled(False)
        self._told = changes_model()
        self.changes: Listing[tuple[int, TrailChange]] = Listing(
            self._told, tr("Values before and after"), known_as="trail-values"
        )
        self.said = label("", wraps=True)
        self.who = QComboBox()
        self.who.setAccessibleName(tr("Entries of whom"))
        self.who.addItem(tr(_EVERYBODY))
        self.days = DayRange(tr("Days by the clock of the writer"))
        self.bar = ListBar(self.listing, _HINT, own_filter=True)
        self.bar.lead(self.who, self.days)
        self.bar.say(self._how_many)
        self.listing.narrowing = self._narrowing
        self.sought, self.counted = self.bar.sought, self.bar.counted
        self._nothing = label(tr("No entry is so."), "large")
        self._nothing.setAlignment(Qt.AlignmentFlag.AlignCenter)
        self._lay_out()
        self._listen()

    def _lay_out(self) -> None:
        column = QVBoxLayout(self)
        column.setContentsMargins(14, 12, 14, 10)
        column.setSpacing(8)
        column.addLayout(self._head())
        column.addLayout(self._only())
        column.addWidget(self.bar)
        column.addWidget(self._nothing, 1)
        lower = QWidget()
        below = QVBoxLayout(lower)
        below.setContentsMargins(0, 6, 0, 0)
        below.addWidget(self.said)
        below.addWidget(self.changes, 1)
        self._split = QSplitter(Qt.Orientation.Vertical)
        self._split.setChildrenCollapsible(False)
        self._split.addWidget(self.listing)
        self._split.addWidget(in_scroll_area(lower))
        self._split.setStretchFactor(0, 3)
        self._split.setStretchFactor(1, 2)
        column.addWidget(self._split, 1)

    def _head(self) -> QHBoxLayout:
        self.checkpoint = QPushButton(tr("Take a checkpoint…"))
        self.checkpoint.setToolTip(tr("How the trail ends now, to be kept by someone who can't write to it"))
        self.verify = QPushButton(tr("Verify everything"))
        self.verify.setToolTip(tr("Walk the whole trail and compare every row with what it tells"))
        row = QHBoxLayout()
        row.addWidget(label(tr("Trail"), "title"), 1)
        row.addWidget(self.checkpoint)
        row.addWidget(self.verify)
        return row

    def _only(self) -> QHBoxLayout:
        """What the trail is narrowed to from another page."""
        self.only = label("", "strong", wraps=True)
        self.everything = QPushButton(tr("Show everything"))
        row = QHBoxLayout()
        row.addWidget(self.only, 1)
        row.addWidget(self.everything)
        for each in (self.only, self.everything):
            each.hide()
        return row

    def _listen(self) -> None:
        self.checkpoint.clicked.connect(self.checkpoint_asked)
        self.verify.clicked.connect(self.verify_asked)
        self.everything.clicked.connect(self.show_all)
        self.who.currentIndexChanged.connect(self.wanted_changed)
        self.days.changed.connect(self.wanted_changed)
        self.sought.textChanged.connect(self.wanted_changed)
        self.listing.picked.connect(self._on_picked)
        self.listing.verticalScrollBar().valueChanged.connect(self._on_scrolled)

    @property
    def wanted(self) -> TrailWanted:
        """What the person is looking for."""
        first, last = self.days.wanted
        who = self.who.currentText() if self.who.currentIndex() > 0 else ""
        return TrailWanted(who, self.sought.text().strip(), first, last, self._about)

    def know(self, people: Sequence[str], today: date) -> None:
        """Learn who wrote entries, and which day it is."""
        kept = self.who.currentText()
        with QSignalBlocker(self.who):
            self.who.clear()
            self.who.addItems([tr(_EVERYBODY), *people])
            self.who.setCurrentIndex(max(self.who.findText(kept), 0))
        self.days.know(today)

    def narrow(self, about: tuple[str, int], said: str) -> None:
        """Want only what happened to one row.

        Args:
            about: table and row.
            said: the row in words.
        """
        with QSignalBlocker(self):
            self.show_all()
        self._about = about
        self.only.setText(tr("Only what happened to: {said}", said=said))
        for each in (self.only, self.everything):
            each.show()
        self.wanted_changed.emit()

    def show_all(self) -> None:
        """Want everything."""
        self._about = None
        for each in (self.only, self.everything):
            each.hide()
        with QSignalBlocker(self):
            self.who.setCurrentIndex(0)
            self.days.clear()
            self.bar.clear()
        self.wanted_changed.emit()

    def tell(self, page: TrailPage) -> None:
        """Show the newest entries; the entry chosen before stays chosen where it is among them."""
        kept = self.listing.current_key()
        self._below, self._count = page.below, None
        self._model.fill(page.lines)
        self._split.setVisible(bool(page.lines))
        self._nothing.setVisible(not page.lines)
        if page.lines and (kept is None or not self.listing.choose(kept)):
            self.listing.selectRow(0)
        self._on_picked(self.listing.current_key())
        self._say_how_many()

    def add(self, page: TrailPage) -> None:
        """Show older entries below those that are there."""
        self._below = page.below
        self._model.extend(page.lines)
        self._say_how_many()

    def count(self, of: int) -> None:
        """Say how many entries there are of those wanted."""
        self._count = of
        self._say_how_many()

    def _say_how_many(self) -> None:
        self.bar.recount()

    def _narrowing(self) -> tuple[str, ...]:
        """What was asked for, and how many of those entries were read so far."""
        days = [words.day(each) if each else tr("any day") for each in self.days.wanted]
        about = [self.only.text()] if self._about is not None else []
        if any(self.days.wanted):
            about.append(tr("from {first} to {last}", first=days[0], last=days[1]))
        if self._count is not None and self._count > len(self._model.rows):
            about.append(tr("only as far as they were scrolled to"))
        return (*self.bar.asked(), *about)

    def _how_many(self, shown: int, held: int) -> str:
        entries = tr_count(shown, "{n:,} entry", "{n:,} entries")
        if self._count is not None and self._count > shown:
            entries = tr("{entries} of {count:,}", entries=entries, count=self._count)
        elif self._count is None and self._below:
            entries = tr("{entries} and more", entries=entries)
        return tr("{entries}, the newest first", entries=entries)

    def _on_picked(self, key: int | None) -> None:
        line = next((each for each in self._model.rows if each.id == key), None)
        self.said.setText(entry_words(line) if line is not None else "")
        self._told.fill(enumerate(line.changes) if line is not None else ())

    def _on_scrolled(self, place: int) -> None:
        bar = self.listing.verticalScrollBar()
        if self._below is not None and place >= bar.maximum() - _AHEAD_ROWS:
            below, self._below = self._below, None
            self.more_asked.emit(below)

"""The due list: what is overdue, what is due within some weeks, or every valve."""

from collections.abc import Callable
from datetime import date

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QComboBox, QPushButton, QSpinBox, QVBoxLayout, QWidget

from estate.domain.due import DueLine
from estate.window import words
from estate.window.models import explaining
from estate.window.models.due_rows import COLUMNS, LATE, DueModel, Wanted, wanting
from estate.window.translating import said, tr, tr_count
from estate.window.widgets.list_bar import ListBar
from estate.window.widgets.listing import Listing
from estate.window.widgets.text import label

_CHOICES = (
    (said("Overdue"), Wanted.OVERDUE),
    (said("Due within"), Wanted.WITHIN),
    (said("All valves"), Wanted.ALL),
)
_LATE_ID = COLUMNS[LATE].key


def _how_many(shown: int, held: int) -> str:
    return tr_count(shown, "{n:,} valve of {rows:,}", "{n:,} valves of {rows:,}", rows=held)


class DueView(QWidget):
    """Shows the due list.

    Attributes:
        outlet_opened: id of the outlet that the person opened.
        overdue_list_asked: the person wants the overdue list as a file.
    """

    outlet_opened = Signal(int)
    overdue_list_asked = Signal()

    def __init__(self, weeks: int = 8, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._today: date | None = None
        self._these: frozenset[int] = frozenset()
        self._model = DueModel()
        self.listing: Listing[DueLine] = Listing(self._model, tr("Due list"), known_as="due")
        self.listing.opened.connect(self.outlet_opened)
        self._nothing = label("", "large", wraps=True)
        self._nothing.setAlignment(Qt.AlignmentFlag.AlignCenter)
        self._why = label("", wraps=True)
        self.listing.picked.connect(self._on_picked)
        self._make_choices(weeks)
        column = QVBoxLayout(self)
        column.setContentsMargins(14, 12, 14, 10)
        column.setSpacing(8)
        column.addWidget(label(tr("Due list"), "title"))
        column.addWidget(self.bar)
        column.addWidget(self.listing, 1)
        column.addWidget(self._nothing, 1)
        column.addWidget(self._why)
        column.addWidget(
            label(tr("Walking order until a heading is clicked. Enter opens an outlet."), "small")
        )

    def _make_choices(self, weeks: int) -> None:
        self.which = QComboBox()
        self.which.setAccessibleName(tr("Which valves are listed"))
        for shown, wanted in _CHOICES:
            self.which.addItem(tr(shown), wanted)
        self.weeks = QSpinBox()
        self.weeks.setRange(1, 104)
        self.weeks.setValue(weeks)
        self.weeks.setSuffix(" " + tr("weeks"))
        self.weeks.setAccessibleName(tr("Due within how many weeks"))
        self.bar = ListBar(self.listing)
        self.bar.lead(self.which, self.weeks)
        self.bar.say(_how_many)
        self.sought = self.bar.sought
        self.write_button = QPushButton(tr("The overdue list on paper…"))
        self.write_button.setProperty("kind", "main")
        self.write_button.clicked.connect(self.overdue_list_asked)
        self.which.currentIndexChanged.connect(self._on_choice)
        self.weeks.valueChanged.connect(self._on_choice)
        self.bar.trail(self.write_button)
        self.bar.narrowed.connect(self._settle)
        self.listing.ordered.layoutChanged.connect(self._settle)

    def tell(self, lines: tuple[DueLine, ...], today: date) -> None:
        """Show the due lines as they stand today."""
        self._today = today
        self._model.fill(lines)
        self._on_choice()

    def show_only(self, which: Wanted) -> None:
        """Choose which lines are shown."""
        self.which.setCurrentIndex(self.which.findData(which))

    def show_these(self, outlet_ids: frozenset[int], words_for_them: str) -> None:
        """Show some valves alone; they stay one of the choices until others take their place."""
        self._these = outlet_ids
        self.bar.clear()
        place = self.which.findData(Wanted.THESE)
        if place < 0:
            self.which.addItem(words_for_them, Wanted.THESE)
        else:
            self.which.setItemText(place, words_for_them)
        self.show_only(Wanted.THESE)
        self._on_choice()

    def _on_choice(self) -> None:
        which = Wanted(self.which.currentData())
        self.weeks.setVisible(which is Wanted.WITHIN)
        if self._today is None:
            return
        self.listing.suggest_hidden({_LATE_ID: which is not Wanted.OVERDUE and not self._any_late()})
        self.listing.ordered.want(self._wanting(which, self._today))

    def _settle(self) -> None:
        """Show the list, or say why it is empty."""
        shown = self.listing.ordered.count
        self.listing.setVisible(shown > 0)
        self._nothing.setVisible(shown == 0)
        self._nothing.setText(self._empty_words(Wanted(self.which.currentData())))

    def _wanting(self, which: Wanted, today: date) -> Callable[[DueLine], bool]:
        wanted = wanting(which, self.weeks.value(), today)
        if which is not Wanted.THESE:
            return wanted
        these = self._these
        return lambda line: line.outlet_id in these and wanted(line)

    def _on_picked(self, key: int | None) -> None:
        line = next((each for each in self._model.rows if each.outlet_id == key), None)
        reason = line.window.reason if line is not None else None
        if reason is None:
            self._why.setText("")
            return
        told = tr("Why this date: {reason}\nSource: {source}", reason=reason.words, source=reason.source)
        self._why.setText("\n".join((told, *explaining.of_reason(reason.code, "").means)))

    def _any_late(self) -> bool:
        return any(line.overdue for line in self._model.rows)

    def _empty_words(self, which: Wanted) -> str:
        if not self._model.rows:
            return tr("No valve is in the register yet. Bring in an asset list first.")
        if self.sought.text() or self.listing.ordered.kept_only:
            return tr("No line has these words.")
        if which is Wanted.OVERDUE and self._today is not None:
            return tr("Nothing is overdue on {day}.", day=words.day(self._today))
        return tr("Nothing falls due in that time.")

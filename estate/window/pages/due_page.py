"""The due list: what is overdue, what is due within some weeks, or every valve."""

from collections.abc import Callable
from datetime import date

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QComboBox, QHBoxLayout, QLineEdit, QPushButton, QSpinBox, QVBoxLayout, QWidget

from estate.domain.due import DueLine
from estate.window import words
from estate.window.models.due_rows import LATE, DueModel, Wanted, wanting
from estate.window.widgets.listing import Listing
from estate.window.widgets.text import label

_CHOICES = (
    ("Overdue", Wanted.OVERDUE),
    ("Due within", Wanted.WITHIN),
    ("All valves", Wanted.ALL),
)


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
        self.listing: Listing[DueLine] = Listing(self._model, "Due list")
        self.listing.opened.connect(self.outlet_opened)
        self._count = label("", "muted")
        self._nothing = label("", "large", wraps=True)
        self._nothing.setAlignment(Qt.AlignmentFlag.AlignCenter)
        self._why = label("", wraps=True)
        self.listing.picked.connect(self._on_picked)
        self._make_choices(weeks)
        column = QVBoxLayout(self)
        column.setContentsMargins(14, 12, 14, 10)
        column.setSpacing(8)
        column.addWidget(label("Due list", "title"))
        column.addLayout(self._choices_row())
        column.addWidget(self._count)
        column.addWidget(self.listing, 1)
        column.addWidget(self._nothing, 1)
        column.addWidget(self._why)
        column.addWidget(label("Walking order until a heading is clicked. Enter opens an outlet.", "small"))

    def _make_choices(self, weeks: int) -> None:
        self.which = QComboBox()
        self.which.setAccessibleName("Which valves are listed")
        for shown, wanted in _CHOICES:
            self.which.addItem(shown, wanted)
        self.weeks = QSpinBox()
        self.weeks.setRange(1, 104)
        self.weeks.setValue(weeks)
        self.weeks.setSuffix(" weeks")
        self.weeks.setAccessibleName("Due within how many weeks")
        self.sought = QLineEdit()
        self.sought.setPlaceholderText("Only lines with these words")
        self.sought.setAccessibleName("Only lines with these words")
        self.sought.setClearButtonEnabled(True)
        self.write_button = QPushButton("Write the overdue list…")
        self.write_button.setProperty("kind", "main")
        self.write_button.clicked.connect(self.overdue_list_asked)
        self.which.currentIndexChanged.connect(self._on_choice)
        self.weeks.valueChanged.connect(self._on_choice)
        self.sought.textChanged.connect(self._on_choice)

    def _choices_row(self) -> QHBoxLayout:
        row = QHBoxLayout()
        row.setSpacing(8)
        row.addWidget(self.which)
        row.addWidget(self.weeks)
        row.addWidget(self.sought, 1)
        row.addWidget(self.write_button)
        return row

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
        self.sought.clear()
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
        self.listing.ordered.want(self._wanting(which, self._today))
        shown = self.listing.ordered.rowCount()
        self._count.setText(f"{words.count(shown, 'valve')} of {len(self._model.rows):,}")
        self.listing.setVisible(shown > 0)
        self._nothing.setVisible(shown == 0)
        self._nothing.setText(self._empty_words(which))
        self.listing.setColumnHidden(LATE, which is not Wanted.OVERDUE and not self._any_late())

    def _wanting(self, which: Wanted, today: date) -> Callable[[DueLine], bool]:
        wanted = wanting(which, self.weeks.value(), today, self.sought.text())
        if which is not Wanted.THESE:
            return wanted
        these = self._these
        return lambda line: line.outlet_id in these and wanted(line)

    def _on_picked(self, key: int | None) -> None:
        line = next((each for each in self._model.rows if each.outlet_id == key), None)
        reason = line.window.reason if line is not None else None
        self._why.setText(f"Why this date: {reason.words}\nSource: {reason.source}" if reason else "")

    def _any_late(self) -> bool:
        return any(line.overdue for line in self._model.rows)

    def _empty_words(self, which: Wanted) -> str:
        if not self._model.rows:
            return "No valve is in the register yet. Bring in an asset list first."
        if self.sought.text():
            return "No line has these words."
        if which is Wanted.OVERDUE and self._today is not None:
            return f"Nothing is overdue on {words.day(self._today)}."
        return "Nothing falls due in that time."

"""The drift page: valves by their chance to reach the ceiling, and those that no longer regulate."""

from datetime import date

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QComboBox, QHBoxLayout, QLineEdit, QVBoxLayout, QWidget

from estate.domain.learned import LearnedLine
from estate.window import words
from estate.window.models.drift_rows import CHANCE, WEEKS, DriftModel, wanting
from estate.window.widgets.listing import Listing
from estate.window.widgets.text import label

_CHOICES = ("All valves", "No longer regulating")
_MIXING = 1
_CAUTION = (
    f"Chances are those within {WEEKS} weeks of a valve's last visit; ± is two standard deviations. They are "
    "estimates, not permissions: what a test finds comes first."
)


class DriftView(QWidget):
    """Shows what has been learned of the estate's valves.

    Attributes:
        outlet_opened: id of the outlet that the person opened.
    """

    outlet_opened = Signal(int)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._as_at = ""
        self._model = DriftModel()
        self.listing: Listing[LearnedLine] = Listing(self._model, "Valves by their drift")
        self.listing.opened.connect(self.outlet_opened)
        self.listing.sortByColumn(CHANCE, Qt.SortOrder.AscendingOrder)
        self._count = label("", "muted")
        self._nothing = label("", "large", wraps=True)
        self._nothing.setAlignment(Qt.AlignmentFlag.AlignCenter)
        self.which = QComboBox()
        self.which.setAccessibleName("Which valves are listed")
        self.which.addItems(_CHOICES)
        self.which.currentIndexChanged.connect(self._on_choice)
        self.sought = QLineEdit()
        self.sought.setPlaceholderText("Only lines with these words")
        self.sought.setAccessibleName("Only lines with these words")
        self.sought.setClearButtonEnabled(True)
        self.sought.textChanged.connect(self._on_choice)
        self._lay_out()

    def _lay_out(self) -> None:
        row = QHBoxLayout()
        row.setSpacing(12)
        row.addWidget(self.which)
        row.addWidget(self.sought, 1)
        column = QVBoxLayout(self)
        column.setContentsMargins(14, 12, 14, 10)
        column.setSpacing(8)
        column.addWidget(label("Drift", "title"))
        column.addLayout(row)
        column.addWidget(self._count)
        column.addWidget(self.listing, 1)
        column.addWidget(self._nothing, 1)
        column.addWidget(label(_CAUTION, wraps=True))
        keys = "The likeliest to reach its ceiling comes first. Enter or a double click opens an outlet."
        column.addWidget(label(keys, "small"))

    def tell(self, lines: tuple[LearnedLine, ...], today: date) -> None:
        """Show what has been learned as it stands today."""
        self._model.fill(lines)
        fitted = max((line.learned.group.fitted_on for line in lines), default=None)
        self._as_at = f"readings up to {words.day(fitted)}" if fitted is not None else ""
        self._on_choice()

    def _on_choice(self) -> None:
        self.listing.ordered.want(wanting(self.which.currentIndex() == _MIXING, self.sought.text()))
        shown, held = self.listing.ordered.rowCount(), len(self._model.rows)
        of = f"{words.count(shown, 'valve')} of {held:,}, {self._as_at}" if held else ""
        self._count.setText(of)
        self.listing.setVisible(shown > 0)
        self._nothing.setVisible(shown == 0)
        self._nothing.setText(self._empty_words())

    def _empty_words(self) -> str:
        if not self._model.rows:
            return (
                "Nothing has been learned yet. Groups of valves are fitted when sheets of results "
                "are brought in."
            )
        if self.sought.text():
            return "No line has these words."
        return "No valve is known to have stopped regulating."

"""The drift page: valves by their chance to reach the ceiling, and those that no longer regulate."""

from datetime import date

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QComboBox, QVBoxLayout, QWidget

from estate.domain.learned import LearnedLine
from estate.window import words
from estate.window.models.drift_rows import CHANCE, WEEKS, DriftModel, wanting
from estate.window.translating import said, tr, tr_count
from estate.window.widgets.list_bar import ListBar
from estate.window.widgets.listing import Listing
from estate.window.widgets.text import label

_CHOICES = (said("All valves"), said("No longer regulating"))
_MIXING = 1
_CAUTION = said(
    "Chances are those within {weeks} weeks of a valve's last visit; ± is two standard deviations. They are "
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
        self.listing: Listing[LearnedLine] = Listing(
            self._model, tr("Valves by their drift"), known_as="drift"
        )
        self.listing.opened.connect(self.outlet_opened)
        self.listing.liked.usually_by(CHANCE)
        self._nothing = label("", "large", wraps=True)
        self._nothing.setAlignment(Qt.AlignmentFlag.AlignCenter)
        self.which = QComboBox()
        self.which.setAccessibleName(tr("Which valves are listed"))
        self.which.addItems([tr(each) for each in _CHOICES])
        self.which.currentIndexChanged.connect(self._on_choice)
        self.bar = ListBar(self.listing)
        self.bar.lead(self.which)
        self.bar.say(self._how_many)
        self.sought = self.bar.sought
        self.listing.ordered.layoutChanged.connect(self._settle)
        self._lay_out()

    def _lay_out(self) -> None:
        column = QVBoxLayout(self)
        column.setContentsMargins(14, 12, 14, 10)
        column.setSpacing(8)
        column.addWidget(label(tr("Drift"), "title"))
        column.addWidget(self.bar)
        column.addWidget(self.listing, 1)
        column.addWidget(self._nothing, 1)
        column.addWidget(label(tr(_CAUTION, weeks=WEEKS), wraps=True))
        keys = tr("The likeliest to reach its ceiling comes first. Enter or a double click opens an outlet.")
        column.addWidget(label(keys, "small", wraps=True))

    def tell(self, lines: tuple[LearnedLine, ...], today: date) -> None:
        """Show what has been learned as it stands today."""
        self._model.fill(lines)
        fitted = max((line.learned.group.fitted_on for line in lines), default=None)
        self._as_at = tr("readings up to {day}", day=words.day(fitted)) if fitted is not None else ""
        self._on_choice()

    def _on_choice(self) -> None:
        self.listing.ordered.want(wanting(self.which.currentIndex() == _MIXING))
        self.bar.recount()

    def _how_many(self, shown: int, held: int) -> str:
        if not held:
            return ""
        return tr_count(
            shown,
            "{n:,} valve of {held:,}, {as_at}",
            "{n:,} valves of {held:,}, {as_at}",
            held=held,
            as_at=self._as_at,
        )

    def _settle(self) -> None:
        """Show the list, or say why it is empty."""
        shown = self.listing.ordered.count
        self.listing.setVisible(shown > 0)
        self._nothing.setVisible(shown == 0)
        self._nothing.setText(self._empty_words())

    def _empty_words(self) -> str:
        if not self._model.rows:
            return tr(
                "Nothing has been learned yet. Bring in sheets of test results first: drift is learned from "
                "the readings of valves of the same model."
            )
        if self.sought.text() or self.listing.ordered.kept_only:
            return tr("No line has these words.")
        return tr("No valve is known to have stopped regulating.")

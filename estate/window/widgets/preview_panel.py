"""The estate now and then, side by side, for a rule value that is tried."""

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QFrame, QGridLayout, QVBoxLayout, QWidget

from estate.domain.preview import Move, PolicyPreview
from estate.window.models import preview_rows
from estate.window.models.preview_rows import Figure, MovesModel
from estate.window.translating import said, tr
from estate.window.widgets.listing import Listing
from estate.window.widgets.month_bars import MonthBars
from estate.window.widgets.text import empty, label

_HEADINGS = ("", said("Now"), said("Then"), said("Change"))
_TO_RIGHT = Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter


class PreviewPanel(QFrame):
    """Shows a `PolicyPreview`."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setProperty("kind", "card")
        self.heading = label("", "heading", wraps=True)
        self.moved = label("", "strong", wraps=True)
        self.bars = MonthBars()
        self._model = MovesModel()
        self.listing: Listing[Move] = Listing(self._model, tr("Valves whose dates move most"))
        self.listing.setMinimumHeight(self.fontMetrics().height() * 7)
        policy = self.listing.sizePolicy()
        policy.setRetainSizeWhenHidden(True)
        self.listing.setSizePolicy(policy)
        self._grid = QGridLayout()
        self._grid.setHorizontalSpacing(22)
        self._grid.setVerticalSpacing(4)
        self._grid.setColumnStretch(0, 1)
        column = QVBoxLayout(self)
        column.setContentsMargins(14, 10, 14, 10)
        column.setSpacing(8)
        column.addWidget(self.heading)
        column.addLayout(self._grid)
        column.addWidget(self.bars)
        column.addWidget(self.moved)
        column.addWidget(self.listing, 1)
        column.addWidget(label(tr(_CAUTION), "caution", wraps=True))

    def tell(self, preview: PolicyPreview, unit: str) -> None:
        """Show what a value would change; the unit is the value's."""
        self.heading.setText(preview_rows.tried(preview, unit))
        self._compare(preview_rows.figures(preview))
        self.bars.tell(preview_rows.by_month(preview))
        self.moved.setText(preview_rows.moved(preview))
        self._model.fill(preview.moves)
        self.listing.setVisible(bool(preview.moves))

    def _compare(self, figures: tuple[Figure, ...]) -> None:
        empty(self._grid)
        for column, heading in enumerate(_HEADINGS):
            titled = label(tr(heading), "muted")
            titled.setAlignment(_TO_RIGHT)
            self._grid.addWidget(titled, 0, column)
        for row, figure in enumerate(figures, 1):
            self._grid.addWidget(label(figure.name), row, 0)
            for column, value in enumerate((figure.now, figure.then, figure.change), 1):
                shown = label(value, "strong")
                shown.setAccessibleName(f"{figure.name}, {tr(_HEADINGS[column]).casefold()}: {value}")
                shown.setAlignment(_TO_RIGHT)
                self._grid.addWidget(shown, row, column)


_CAUTION = said(
    "These are estimates, not permissions. Valve-weeks count only valves whose drift has been learned, "
    "now against the ceilings of now and then against those of then. The site's water safety group decides."
)

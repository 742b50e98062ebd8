"""The page of a site, building, level or room: its outlets and how they stand."""

from collections import Counter
from collections.abc import Iterable

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QVBoxLayout, QWidget

from estate.domain.browsing import PlaceNode
from estate.domain.due import DueLine
from estate.domain.standing import OutletState
from estate.window import words
from estate.window.marks import OF_STATE
from estate.window.models.outlet_rows import OutletRow, OutletsModel, outlets_below
from estate.window.widgets.listing import Listing
from estate.window.widgets.text import Chip, empty, label


class PlaceView(QWidget):
    """Shows the outlets at and below one place.

    Attributes:
        outlet_opened: id of the outlet that the person opened.
    """

    outlet_opened = Signal(int)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._title = label("", "title", wraps=True)
        self._held = label("", "muted")
        self._chips = QHBoxLayout()
        self._chips.setSpacing(8)
        self._model = OutletsModel()
        self.listing: Listing[OutletRow] = Listing(self._model, "Outlets at this place")
        self.listing.opened.connect(self.outlet_opened)
        column = QVBoxLayout(self)
        column.setContentsMargins(14, 12, 14, 10)
        column.setSpacing(8)
        for widget in (self._title, self._held):
            column.addWidget(widget)
        column.addLayout(self._chips)
        column.addWidget(self.listing, 1)
        column.addWidget(label("Enter or a double click opens an outlet.", "small"))

    def tell(self, node: PlaceNode, due: Iterable[DueLine]) -> None:
        """Show a place."""
        rows = outlets_below(node, due)
        self._title.setText(node.label)
        worst = f"{node.attention:,} need someone to act now" if node.attention else "none needs anyone now"
        self._held.setText(f"{words.count(node.outlets, 'outlet')}, {worst}")
        self._count(Counter(row.node.state for row in rows))
        self._model.fill(rows)

    def _count(self, states: Counter[OutletState]) -> None:
        empty(self._chips)
        for state in OutletState:
            if states[state]:
                self._chips.addWidget(Chip(OF_STATE[state], f"{states[state]:,} {state.value}"))
        self._chips.addStretch(1)

"""The service record of an outlet as a list by date."""

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QVBoxLayout, QWidget

from estate.domain.browsing import OutletPage
from estate.domain.temperature import Scale
from estate.window.models.service_rows import ServiceModel, ServiceRow, service_rows
from estate.window.translating import said, tr
from estate.window.widgets.listing import Listing
from estate.window.widgets.text import label


class ServiceRecord(QWidget):
    """Lists what was done at an outlet beside measuring.

    Attributes:
        visit_opened: id of the entry of the row that was opened.
    """

    visit_opened = Signal(int)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._page: OutletPage | None = None
        self._scale = Scale.CELSIUS
        self._model = ServiceModel()
        self.listing: Listing[ServiceRow] = Listing(self._model, tr("Service record, newest first"))
        self.listing.opened.connect(self._on_opened)
        self.told = label("", "muted", wraps=True)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 8, 0, 0)
        column.setSpacing(6)
        column.addWidget(label(tr("Fitted, set back, cleaned, put in"), "heading"))
        column.addWidget(self.told)
        column.addWidget(self.listing, 1)

    def tell(self, page: OutletPage) -> None:
        """Show the record of an outlet."""
        self._page = page
        rows = service_rows(page, self._scale)
        self._model.fill(rows)
        self.told.setText(tr(_HINT if rows else _NONE))
        self.listing.setVisible(bool(rows))

    def read_in(self, scale: Scale) -> None:
        """Show temperatures on a scale."""
        self._scale = scale
        if self._page is not None:
            self.tell(self._page)

    def _on_opened(self, number: int) -> None:
        visit_id = self._model.rows[number].visit_id
        if visit_id is not None:
            self.visit_opened.emit(visit_id)


_HINT = said("What the entries of the history tell beside their readings. Enter opens the entry of a row.")
_NONE = said("Nothing is recorded: no valve was fitted, and no visit tells of more than measuring.")

"""Where an outlet is, from its site down to its room: each part leads to its place."""

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QPushButton, QWidget

from estate.domain.browsing import PlaceKind
from estate.domain.places import OutletPath
from estate.window.translating import tr
from estate.window.widgets.flowing import Flowing
from estate.window.widgets.text import empty, label


class Breadcrumbs(QWidget):
    """Shows a path.

    Attributes:
        asked: the `PlaceKind` of the part that the person wants to go to.
    """

    asked = Signal(object)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.parts: dict[PlaceKind, QPushButton] = {}
        self._row = Flowing(self, gap=2)

    def tell(self, path: OutletPath) -> None:
        """Show where another outlet is."""
        empty(self._row)
        room = f"{path.room_number} {path.room}".strip()
        self.parts = {
            kind: self._part(kind, name)
            for kind, name in (
                (PlaceKind.SITE, path.site),
                (PlaceKind.BUILDING, path.building),
                (PlaceKind.LEVEL, tr("Level {level}", level=path.level)),
                (PlaceKind.ROOM, room),
            )
        }
        for part in self.parts.values():
            self._row.addWidget(part)
            self._row.addWidget(label("·", "muted"))
        self._row.addWidget(label(path.outlet, "muted"))
        self.setAccessibleName(f"{path.site} · {path}")

    def _part(self, kind: PlaceKind, name: str) -> QPushButton:
        part = QPushButton(name)
        part.setProperty("kind", "why")
        part.setAutoDefault(False)
        part.setCursor(Qt.CursorShape.PointingHandCursor)
        part.setToolTip(tr("Show its outlets"))
        part.setAccessibleName(tr("Go to {place}", place=name))
        part.clicked.connect(lambda checked=False: self.asked.emit(kind))
        return part

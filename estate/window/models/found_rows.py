"""What was found, as rows to choose from."""

from collections.abc import Sequence
from typing import Any

from PySide6.QtCore import QAbstractListModel, QModelIndex, QObject, Qt
from typing_extensions import override

from estate.domain.things import Thing, ThingKind
from estate.window.roles import AnyIndex, Role
from estate.window.translating import said, tr

_NOWHERE = QModelIndex()
KIND_WORDS = {
    ThingKind.OUTLET: said("outlet"),
    ThingKind.VALVE: said("valve"),
    ThingKind.ROOM: said("room"),
    ThingKind.LEVEL: said("level"),
    ThingKind.BUILDING: said("building"),
    ThingKind.SITE: said("site"),
    ThingKind.ACTION: said("action"),
    ThingKind.PERSON: said("person"),
    ThingKind.INSTRUMENT: said("instrument"),
    ThingKind.SHEET: said("sheet brought in"),
    ThingKind.PAGE: said("page"),
    ThingKind.COMMAND: said("command"),
}


class FoundRows(QAbstractListModel):
    """Things, the best first."""

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self.things: tuple[Thing, ...] = ()

    def fill(self, things: Sequence[Thing]) -> None:
        """Show other things."""
        self.beginResetModel()
        self.things = tuple(things)
        self.endResetModel()

    @override
    def rowCount(self, parent: AnyIndex = _NOWHERE) -> int:
        return 0 if parent.isValid() else len(self.things)

    @override
    def data(self, index: AnyIndex, role: int = Qt.ItemDataRole.DisplayRole) -> Any:
        if not index.isValid():
            return None
        thing = self.things[index.row()]
        if role == Qt.ItemDataRole.DisplayRole:
            return thing.label
        if role == Role.THING:
            return thing
        if role in (Qt.ItemDataRole.AccessibleTextRole, Qt.ItemDataRole.ToolTipRole):
            return spoken(thing)
        return None


def spoken(thing: Thing) -> str:
    """A find in words: kind, name, what tells it apart, state."""
    state = "" if thing.state is None else tr(thing.state.value)
    parts = (tr(KIND_WORDS[thing.kind]), thing.label, thing.said, state)
    return ", ".join(part for part in parts if part)

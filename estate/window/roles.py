"""Item data roles, named once for every model, view and delegate."""

from enum import IntEnum

from PySide6.QtCore import QModelIndex, QPersistentModelIndex, Qt

AnyIndex = QModelIndex | QPersistentModelIndex


class Role(IntEnum):
    """Our own roles, above those of Qt."""

    KEY = Qt.ItemDataRole.UserRole + 1
    MARK = Qt.ItemDataRole.UserRole + 2
    SORT = Qt.ItemDataRole.UserRole + 3
    COUNT_WORDS = Qt.ItemDataRole.UserRole + 4
    STRUCK = Qt.ItemDataRole.UserRole + 5
    HEADING = Qt.ItemDataRole.UserRole + 6
    THING = Qt.ItemDataRole.UserRole + 7

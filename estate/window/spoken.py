"""What painted widgets are for a screen reader: by themselves Qt takes them for empty ground."""

from typing import Final

from PySide6.QtCore import QObject
from PySide6.QtGui import QAccessible
from PySide6.QtWidgets import QAccessibleWidget, QApplication, QWidget

_PROPERTY: Final = "spoken"
_INSTALLED: Final = "spoken-installed"
_ROLES: Final = {each.name: each for each in QAccessible.Role}


def speaks_as(widget: QWidget, role: QAccessible.Role) -> None:
    """Give a painted widget a role; its accessible name and description are what is read out."""
    widget.setProperty(_PROPERTY, role.name)


def teach(application: QApplication) -> None:
    """Let the platform know these roles, once for an application."""
    if not application.property(_INSTALLED):
        application.setProperty(_INSTALLED, True)
        QAccessible.installFactory(_interface)


def _interface(kind: str, of: QObject) -> QAccessibleWidget | None:
    role = of.property(_PROPERTY) if isinstance(of, QWidget) else None
    return QAccessibleWidget(of, _ROLES[role]) if isinstance(of, QWidget) and role in _ROLES else None

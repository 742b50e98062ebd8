"""Keeps a button shut that the account may not use, whatever its page makes of it, and says why."""

from PySide6.QtCore import QEvent, QObject, Qt
from PySide6.QtWidgets import QWidget
from typing_extensions import override


def withhold(button: QWidget, reason: str | None) -> None:
    """Keep a button shut, with the reason in its tooltip and status tip; None gives it back."""
    held = button.findChild(_Guard, options=Qt.FindChildOption.FindDirectChildrenOnly)
    if held is None and reason is not None:
        held = _Guard(button)
    if held is not None:
        held.keep(reason)


class _Guard(QObject):
    def __init__(self, button: QWidget) -> None:
        super().__init__(button)
        self._button = button
        self._tips = button.toolTip(), button.statusTip()
        self._reason: str | None = None
        self._wanted = False
        button.installEventFilter(self)

    def keep(self, reason: str | None) -> None:
        before, self._reason = self._reason, reason
        if reason is not None:
            self._wanted = self._button.isEnabled() or (before is not None and self._wanted)
            self._button.setEnabled(False)
            self._button.setToolTip(reason)
            self._button.setStatusTip(reason)
        elif before is not None:
            self._button.setToolTip(self._tips[0])
            self._button.setStatusTip(self._tips[1])
            self._button.setEnabled(self._wanted)

    @override
    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if (
            event.type() is QEvent.Type.EnabledChange
            and self._reason is not None
            and self._button.isEnabled()
        ):
            self._wanted = True
            self._button.setEnabled(False)
        return super().eventFilter(watched, event)

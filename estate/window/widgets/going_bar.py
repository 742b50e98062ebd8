"""Above the page: back, forward, what was shown of late, and the box that finds anything."""

from collections.abc import Callable, Sequence

from PySide6.QtCore import QEvent, QSize, Qt, Signal
from PySide6.QtGui import QAction
from PySide6.QtWidgets import QHBoxLayout, QMenu, QToolButton, QWidget
from typing_extensions import override

from estate.window.sizes import grown
from estate.window.spots import Spot
from estate.window.translating import tr
from estate.window.widgets.find_box import FindBox

_ICON = 18


class GoingBar(QWidget):
    """Goes about the register.

    Attributes:
        spot_asked: the `Spot` chosen among those shown of late.
    """

    spot_asked = Signal(object)

    def __init__(self, window: QWidget, back: QAction, forward: QAction) -> None:
        super().__init__()
        self.back, self.forward = self._button(back), self._button(forward)
        self.late = QToolButton()
        self.late.setText("▾")
        self.late.setProperty("kind", "late")
        self.late.setToolTip(tr("Shown of late"))
        self.late.setAccessibleName(tr("Shown of late"))
        self.late.setPopupMode(QToolButton.ToolButtonPopupMode.InstantPopup)
        self.late.setFocusPolicy(Qt.FocusPolicy.TabFocus)
        self.menu = QMenu(self.late)
        self.menu.setAccessibleName(tr("Shown of late"))
        self.late.setMenu(self.menu)
        self.recent: Callable[[], Sequence[Spot]] = tuple
        self.menu.aboutToShow.connect(self.fill)
        self.box = FindBox(window)
        row = QHBoxLayout(self)
        row.setContentsMargins(14, 8, 14, 0)
        row.setSpacing(2)
        for button in (self.back, self.forward, self.late):
            row.addWidget(button)
        row.addSpacing(6)
        row.addWidget(self.box, 1)

    def _button(self, action: QAction) -> QToolButton:
        made = QToolButton()
        made.setDefaultAction(action)
        made.setToolButtonStyle(Qt.ToolButtonStyle.ToolButtonIconOnly)
        made.setAccessibleName(action.iconText())
        made.setProperty("kind", "going")
        made.setIconSize(QSize(grown(_ICON), grown(_ICON)))
        made.setFocusPolicy(Qt.FocusPolicy.TabFocus)
        return made

    @override
    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() in (QEvent.Type.FontChange, QEvent.Type.StyleChange):
            for button in (self.back, self.forward):
                button.setIconSize(QSize(grown(_ICON), grown(_ICON)))

    def fill(self) -> None:
        """Put into the menu what was shown of late."""
        self.menu.clear()
        for spot in self.recent():
            action = self.menu.addAction(spot.title.replace("&", "&&"))
            action.triggered.connect(lambda checked=False, spot=spot: self.spot_asked.emit(spot))
        if self.menu.isEmpty():
            self.menu.addAction(tr("Nothing yet")).setEnabled(False)

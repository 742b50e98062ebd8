"""“Why?” beside the limit of a field that is typed into, by the mouse or by ? in the field itself."""

from PySide6.QtCore import QEvent, QObject, Qt
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QHBoxLayout, QWidget
from typing_extensions import override

from estate.domain.field_limits import FieldLimit
from estate.window.models import explaining
from estate.window.widgets.text import label
from estate.window.widgets.why import Explanation, WhyButton


class FieldWhys(QObject):
    """Explains the limits of a form's fields, one at a time.

    The buttons stay out of the order of the Tab key, which is that of the work: ? or Shift+F1 in a field
    does the same.

    Attributes:
        buttons: by the field's path.
    """

    def __init__(self, parent: QObject) -> None:
        super().__init__(parent)
        self.buttons: dict[str, WhyButton] = {}
        self._of: dict[QObject, str] = {}

    def beside(
        self, path: str, name: str, unit: str, limit: FieldLimit, field: QWidget
    ) -> tuple[QWidget, Explanation]:
        """What stands beside a field, its limit with its why, and the explanation to put beneath.

        Args:
            path: of the reading.
            name: of the field, for screen readers.
            unit: as shown.
            limit: what it is held against.
            field: what is typed into.
        """
        shown = Explanation(explaining.of_field(path, limit.sources))
        button = WhyButton(name, shown)
        button.setFocusPolicy(Qt.FocusPolicy.ClickFocus)
        button.clicked.connect(lambda checked=False: self._alone(path))
        self.buttons[path] = button
        self._of[field] = path
        field.installEventFilter(self)
        held = QWidget()
        row = QHBoxLayout(held)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(4)
        told = label(f"{unit}  {limit.words}", "muted")
        told.setToolTip("\n".join(limit.sources))
        row.addWidget(told)
        row.addWidget(button)
        row.addStretch(1)
        return held, shown

    def _alone(self, path: str) -> None:
        """Fold away every other explanation."""
        for other, button in self.buttons.items():
            if other != path and button.explains:
                button.turn()

    @override
    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if isinstance(event, QKeyEvent) and event.type() is QEvent.Type.KeyPress and watched in self._of:
            helped = event.key() == Qt.Key.Key_F1 and event.modifiers() & Qt.KeyboardModifier.ShiftModifier
            if event.text() == "?" or helped:
                path = self._of[watched]
                self.buttons[path].turn()
                self._alone(path)
                return True
        return super().eventFilter(watched, event)

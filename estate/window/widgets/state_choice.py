"""States with their counts: each can be chosen, so that only outlets of the chosen states are listed."""

from collections.abc import Mapping

from PySide6.QtCore import QRectF, QSize, Qt, Signal
from PySide6.QtGui import QColor, QFont, QFontMetrics, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QAbstractButton, QPushButton, QWidget
from typing_extensions import override

from estate.domain.standing import OutletState
from estate.window import marks
from estate.window.marks import OF_STATE
from estate.window.schemes import shades_of
from estate.window.translating import tr
from estate.window.widgets.flowing import Flowing
from estate.window.widgets.text import empty


class StateButton(QAbstractButton):
    """A state with its count; chosen or not."""

    def __init__(self, state: OutletState, count: int, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.state = state
        self.setText(f"{count:,} {tr(state.value)}")
        self.setAccessibleName(self.text())
        self.setToolTip(tr("List only these, or no longer"))
        self.setCheckable(True)
        self.setCursor(Qt.CursorShape.PointingHandCursor)

    def _own_font(self) -> QFont:
        font = QFont(self.font())
        font.setWeight(QFont.Weight.DemiBold)
        return font

    @override
    def sizeHint(self) -> QSize:
        metrics = QFontMetrics(self._own_font())
        wide = metrics.horizontalAdvance(self.text()) + round(metrics.height() * 2.6)
        return QSize(wide, round(metrics.height() * 1.7))

    @override
    def paintEvent(self, event: QPaintEvent) -> None:
        shades, mark = shades_of(self.palette()), OF_STATE[self.state]
        tone = marks.TONES[mark]
        high = QFontMetrics(self._own_font()).height()
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        edge = shades.tone(tone) if self.isChecked() else QColor(shades.line)
        painter.setPen(QPen(edge, 2.0 if self.isChecked() else 1.0))
        painter.setBrush(shades.tint(tone))
        painter.drawRoundedRect(self.rect().adjusted(1, 1, -1, -1), 4, 4)
        side = high * 0.8
        box = QRectF(high * 0.5, (self.height() - side) / 2, side, side)
        marks.paint(painter, box, mark, shades.tone(tone))
        font = self._own_font()
        font.setUnderline(self.isChecked())
        painter.setFont(font)
        painter.setPen(shades.tone(tone))
        room = self.rect().toRectF().adjusted(box.right() + high * 0.4, 0, 0, 0)
        painter.drawText(room, Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignLeft, self.text())
        if self.hasFocus():
            painter.setBrush(Qt.BrushStyle.NoBrush)
            painter.setPen(QPen(QColor(shades.accent), 2))
            painter.drawRoundedRect(self.rect().adjusted(1, 1, -1, -1), 4, 4)
        painter.end()


class StateChoice(QWidget):
    """Shows the states that there are.

    Attributes:
        changed: other states are chosen.
        buttons: by state, the worst first.
    """

    changed = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.buttons: dict[OutletState, StateButton] = {}
        self._row = Flowing(self, gap=6)
        self.all_button = QPushButton(tr("All states"))
        self.all_button.setProperty("kind", "why")
        self.all_button.clicked.connect(self.clear)

    def tell(self, counts: Mapping[OutletState, int]) -> None:
        """Show states with their counts; those chosen before stay chosen where there are any."""
        kept = self.chosen
        self._row.removeWidget(self.all_button)
        empty(self._row)
        self.buttons = {
            state: StateButton(state, counts[state]) for state in OutletState if counts.get(state)
        }
        for state, button in self.buttons.items():
            button.setChecked(state in kept)
            button.toggled.connect(self._on_toggled)
            self._row.addWidget(button)
        self._row.addWidget(self.all_button)
        self.all_button.setVisible(bool(self.chosen))
        if self.chosen != kept:
            self.changed.emit()

    @property
    def chosen(self) -> frozenset[OutletState]:
        """The states chosen; none where all are wanted."""
        return frozenset(state for state, button in self.buttons.items() if button.isChecked())

    @property
    def words(self) -> tuple[str, ...]:
        """The states chosen, in words; none where all are wanted."""
        return tuple(tr(state.value) for state in self.buttons if state in self.chosen)

    def clear(self) -> None:
        """Want all states."""
        for button in self.buttons.values():
            button.setChecked(False)

    def _on_toggled(self) -> None:
        self.all_button.setVisible(bool(self.chosen))
        self.changed.emit()

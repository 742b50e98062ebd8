"""Labels: headings, facts, chips; every one selectable and plain."""

from collections.abc import Sequence

from PySide6.QtCore import QRectF, QSize, Qt
from PySide6.QtGui import QAccessible, QFont, QFontMetrics, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import (
    QFrame,
    QGridLayout,
    QHBoxLayout,
    QLabel,
    QLayout,
    QPushButton,
    QSizePolicy,
    QVBoxLayout,
    QWidget,
)
from typing_extensions import override

from estate.window import marks
from estate.window.announcing import announce
from estate.window.marks import Mark
from estate.window.schemes import shades_of
from estate.window.spoken import speaks_as
from estate.window.translating import tr


def label(words: str = "", kind: str = "", wraps: bool = False) -> QLabel:
    """A plain-text label; `kind` is one the style sheet knows: title, heading, muted, strong."""
    made = _Wrong(words) if kind == "wrong" else QLabel(words)
    made.setTextFormat(Qt.TextFormat.PlainText)
    made.setTextInteractionFlags(Qt.TextInteractionFlag.TextSelectableByMouse)
    made.setWordWrap(wraps)
    if kind:
        made.setProperty("kind", kind)
    return made


class _Wrong(QLabel):
    """Says what is wrong, also aloud: whoever types does not see it come (WCAG 2.2, 4.1.3)."""

    @override
    def setText(self, text: str) -> None:
        changed = text != self.text()
        super().setText(text)
        if changed and self.window().isVisible():
            announce(self, text)


class Chip(QWidget):
    """A mark and its word on a pale ground of the mark's tone."""

    def __init__(self, mark: Mark, words: str, large: bool = False, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._large = large
        speaks_as(self, QAccessible.Role.StaticText)
        self.setSizePolicy(QSizePolicy.Policy.Fixed, QSizePolicy.Policy.Fixed)
        self.tell(mark, words)

    def tell(self, mark: Mark, words: str) -> None:
        """Show a state."""
        self.mark, self.words = mark, words
        self.setAccessibleName(words)
        self.updateGeometry()
        self.update()

    def _own_font(self) -> QFont:
        font = QFont(self.font())
        font.setWeight(QFont.Weight.DemiBold)
        if self._large:
            font.setPointSizeF(font.pointSizeF() * 1.5)
        return font

    @override
    def sizeHint(self) -> QSize:
        metrics = QFontMetrics(self._own_font())
        side = round(metrics.height() * 0.8)
        wide = metrics.horizontalAdvance(self.words) + side + round(metrics.height() * 1.5)
        return QSize(wide, round(metrics.height() * (1.7 if self._large else 1.45)))

    @override
    def paintEvent(self, event: QPaintEvent) -> None:
        shades = shades_of(self.palette())
        tone = marks.TONES[self.mark]
        font = self._own_font()
        height = QFontMetrics(font).height()
        side, edge = height * 0.8, height * 0.5
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setPen(QPen(shades.tone(tone)) if shades.stark else QPen(Qt.PenStyle.NoPen))
        painter.setBrush(shades.tint(tone))
        inside = 0.5 if shades.stark else 0.0
        painter.drawRoundedRect(self.rect().toRectF().adjusted(inside, inside, -inside, -inside), 4, 4)
        box = QRectF(edge, (self.height() - side) / 2, side, side)
        marks.paint(painter, box, self.mark, shades.tone(tone), shades.outline)
        painter.setFont(font)
        painter.setPen(shades.tone(tone))
        room = self.rect().toRectF().adjusted(edge + side + height * 0.4, 0, 0, 0)
        painter.drawText(room, Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignLeft, self.words)
        painter.end()


class Why(QPushButton):
    """Shows or hides the source of a value; the tooltip says it too."""

    def __init__(self, name: str, source: QLabel, words: str = "", parent: QWidget | None = None) -> None:
        words = words or tr("Why?")
        super().__init__(words, parent)
        self._source = source
        self.setProperty("kind", "why")
        self.setAutoDefault(False)
        self.setCursor(Qt.CursorShape.PointingHandCursor)
        self.setAccessibleName(f"{words} {name}")
        self.setToolTip(source.text())
        source.hide()
        self.clicked.connect(self._on_clicked)

    def _on_clicked(self) -> None:
        self._source.setVisible(self._source.isHidden())


class Facts(QWidget):
    """Names and values in two columns; a value may say why it is what it is."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._grid = QGridLayout(self)
        self._grid.setContentsMargins(0, 0, 0, 0)
        self._grid.setHorizontalSpacing(14)
        self._grid.setVerticalSpacing(4)
        self._grid.setColumnStretch(1, 1)

    def tell(self, facts: Sequence[tuple[str, str, str]]) -> None:
        """Show (name, value, why) lines; an empty why is not shown."""
        empty(self._grid)
        for row, (name, value, why) in enumerate(facts):
            named = label(name, "muted")
            valued = label(value, wraps=True)
            valued.setAccessibleName(f"{name}: {value}")
            for widget in (named, valued):
                widget.setAlignment(Qt.AlignmentFlag.AlignTop | Qt.AlignmentFlag.AlignLeft)
            self._grid.addWidget(named, row * 2, 0)
            self._grid.addWidget(valued, row * 2, 1)
            if why:
                source = label(why, "small", wraps=True)
                self._grid.addWidget(Why(name, source), row * 2, 2, Qt.AlignmentFlag.AlignTop)
                self._grid.addWidget(source, row * 2 + 1, 0, 1, 3)


def empty(layout: QLayout) -> None:
    """Take every widget out of a layout, for it to be filled anew."""
    while (item := layout.takeAt(0)) is not None:
        if (widget := item.widget()) is not None:
            widget.hide()
            widget.setParent(None)
            widget.deleteLater()


class Card(QFrame):
    """A heading and what belongs under it; a chip may stand beside the heading."""

    def __init__(self, heading: str, beside: QWidget | None = None, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setProperty("kind", "card")
        self._heading = label(heading, "heading", wraps=beside is not None)
        self.body = QVBoxLayout(self)
        self.body.setContentsMargins(14, 10, 14, 12)
        self.body.setSpacing(8)
        row = QHBoxLayout()
        row.addWidget(self._heading, 1)
        if beside is not None:
            row.addWidget(beside)
        self.body.addLayout(row)

    def head(self, heading: str) -> None:
        """Change the heading."""
        self._heading.setText(heading)

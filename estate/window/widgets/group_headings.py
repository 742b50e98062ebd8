"""Draws what goes across a list, whatever its columns are: headings of groups, and where the keys are."""

from PySide6.QtCore import QPoint, QRect, QRectF, Qt
from PySide6.QtGui import QColor, QFont, QPainter, QPalette, QPen, QPolygon
from PySide6.QtWidgets import QTableView

from estate.window import marks
from estate.window.models.gathering import Heading
from estate.window.roles import Role
from estate.window.schemes import shades_of
from estate.window.translating import tr_count

_EDGE = 8


def draw_headings(view: QTableView) -> None:
    """Draw the headings that are in sight."""
    model, viewport = view.model(), view.viewport()
    row = max(0, view.rowAt(0))
    painter = QPainter(viewport)
    while row < model.rowCount() and view.rowViewportPosition(row) < viewport.height():
        index = model.index(row, 0)
        heading = index.data(Role.HEADING)
        if isinstance(heading, Heading):
            room = QRect(0, view.rowViewportPosition(row), viewport.width(), view.rowHeight(row))
            _draw(painter, view, room, heading, view.selectionModel().isSelected(index))
        row += 1
    painter.end()


def frame_current(view: QTableView) -> None:
    """Frame the row where the keys are, where it can't be told by its being the one chosen."""
    index, chosen = view.currentIndex(), view.selectionModel()
    if not (index.isValid() and view.hasFocus()):
        return
    ranges = chosen.selection()
    if chosen.isSelected(index) and ranges.count() == 1 and ranges.first().height() == 1:
        return
    painter = QPainter(view.viewport())
    painter.setPen(QPen(QColor(shades_of(view.palette()).accent), 2))
    top, high = view.rowViewportPosition(index.row()), view.rowHeight(index.row())
    painter.drawRect(QRect(1, top + 1, view.viewport().width() - 3, high - 3))
    painter.end()


def _draw(painter: QPainter, view: QTableView, room: QRect, heading: Heading, chosen: bool) -> None:
    shades = shades_of(view.palette())
    ground = view.palette().color(QPalette.ColorRole.Highlight) if chosen else QColor(shades.window)
    ink = view.palette().color(QPalette.ColorRole.HighlightedText) if chosen else QColor(shades.text)
    painter.fillRect(room, ground)
    painter.setPen(QPen(QColor(shades.line), 1))
    painter.drawLine(room.bottomLeft(), room.bottomRight())
    font = QFont(view.font())
    font.setWeight(QFont.Weight.DemiBold)
    painter.setFont(font)
    side = round(painter.fontMetrics().height() * 0.72)
    box = QRect(room.left() + _EDGE, room.top() + (room.height() - side) // 2, side, side)
    _corner(painter, box, heading.folded, ink)
    if heading.mark is not None:
        box.translate(side + _EDGE, 0)
        tone = shades.tone(marks.TONES[heading.mark])
        marks.paint(painter, QRectF(box), heading.mark, tone, shades.outline)
    words = room.adjusted(box.right() + _EDGE, 0, -_EDGE, 0)
    painter.setPen(ink)
    middle = Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignLeft
    painter.drawText(words, middle, heading.words)
    words.adjust(painter.fontMetrics().horizontalAdvance(heading.words) + 2 * _EDGE, 0, 0, 0)
    painter.setFont(view.font())
    painter.setPen(ink if chosen else QColor(shades.muted))
    painter.drawText(words, middle, tr_count(heading.count, "{n:,} line", "{n:,} lines"))


def _corner(painter: QPainter, box: QRect, folded: bool, ink: QColor) -> None:
    """A triangle that points to what is folded away, or down to what stands below."""
    near = box.adjusted(box.width() // 6, box.height() // 6, -box.width() // 6, -box.height() // 6)
    middle = near.center()
    if folded:
        points = [near.topLeft(), near.bottomLeft(), QPoint(near.right(), middle.y())]
    else:
        points = [near.topLeft(), near.topRight(), QPoint(middle.x(), near.bottom())]
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(ink)
    painter.drawPolygon(QPolygon(points))
    painter.setRenderHint(QPainter.RenderHint.Antialiasing, False)

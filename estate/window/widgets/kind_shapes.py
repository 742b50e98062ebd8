"""Shapes that stand for kinds of things, drawn in the colour of the text: no state is told by them."""

from collections.abc import Callable
from typing import Final

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPainterPath, QPen, QPolygonF

from estate.domain.things import ThingKind

Draw = Callable[[QPainter, QRectF], None]


def paint_kind(painter: QPainter, box: QRectF, kind: ThingKind, colour: QColor) -> None:
    """Draw the shape of a kind inside a square box."""
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.setPen(QPen(colour, max(1.2, box.width() / 11), Qt.PenStyle.SolidLine, Qt.PenCapStyle.RoundCap))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    inset = box.width() * 0.1
    _DRAW[kind](painter, box.adjusted(inset, inset, -inset, -inset))
    painter.restore()


def _at(box: QRectF, across: float, down: float) -> QPointF:
    return QPointF(box.left() + box.width() * across, box.top() + box.height() * down)


def _drop(painter: QPainter, box: QRectF) -> None:
    path = QPainterPath(_at(box, 0.5, 0.0))
    path.cubicTo(_at(box, 0.62, 0.3), _at(box, 0.85, 0.48), _at(box, 0.85, 0.68))
    path.cubicTo(_at(box, 0.85, 1.1), _at(box, 0.15, 1.1), _at(box, 0.15, 0.68))
    path.cubicTo(_at(box, 0.15, 0.48), _at(box, 0.38, 0.3), _at(box, 0.5, 0.0))
    painter.drawPath(path)


def _bow_tie(painter: QPainter, box: QRectF) -> None:
    corners = [(0.0, 0.2), (1.0, 0.8), (1.0, 0.2), (0.0, 0.8)]
    painter.drawPolygon(QPolygonF([_at(box, *each) for each in corners]))


def _room(painter: QPainter, box: QRectF) -> None:
    painter.drawRect(QRectF(_at(box, 0.1, 0.1), _at(box, 0.9, 0.9)))
    painter.drawLine(_at(box, 0.55, 0.9), _at(box, 0.55, 0.55))


def _level(painter: QPainter, box: QRectF) -> None:
    for down in (0.2, 0.5, 0.8):
        painter.drawLine(_at(box, 0.05, down), _at(box, 0.95, down))


def _building(painter: QPainter, box: QRectF) -> None:
    painter.drawRect(QRectF(_at(box, 0.2, 0.05), _at(box, 0.8, 0.95)))
    for down in (0.35, 0.65):
        painter.drawLine(_at(box, 0.2, down), _at(box, 0.8, down))


def _site(painter: QPainter, box: QRectF) -> None:
    painter.drawRect(QRectF(_at(box, 0.0, 0.4), _at(box, 0.45, 0.95)))
    painter.drawRect(QRectF(_at(box, 0.45, 0.1), _at(box, 1.0, 0.95)))


def _action(painter: QPainter, box: QRectF) -> None:
    painter.drawRect(QRectF(_at(box, 0.05, 0.05), _at(box, 0.95, 0.95)))
    painter.drawPolyline(QPolygonF([_at(box, 0.28, 0.5), _at(box, 0.45, 0.7), _at(box, 0.75, 0.28)]))


def _person(painter: QPainter, box: QRectF) -> None:
    painter.drawEllipse(_at(box, 0.5, 0.26), box.width() * 0.22, box.height() * 0.22)
    painter.drawArc(QRectF(_at(box, 0.08, 0.58), _at(box, 0.92, 1.42)), 0, 180 * 16)


def _instrument(painter: QPainter, box: QRectF) -> None:
    painter.drawEllipse(_at(box, 0.5, 0.8), box.width() * 0.2, box.height() * 0.2)
    painter.drawLine(_at(box, 0.5, 0.58), _at(box, 0.5, 0.02))
    for down in (0.08, 0.28):
        painter.drawLine(_at(box, 0.5, down), _at(box, 0.75, down))


def _sheet(painter: QPainter, box: QRectF) -> None:
    painter.drawRect(QRectF(_at(box, 0.12, 0.0), _at(box, 0.88, 1.0)))
    for down in (0.3, 0.52, 0.74):
        painter.drawLine(_at(box, 0.3, down), _at(box, 0.7, down))


def _command(painter: QPainter, box: QRectF) -> None:
    painter.drawPolyline(QPolygonF([_at(box, 0.3, 0.1), _at(box, 0.75, 0.5), _at(box, 0.3, 0.9)]))


_DRAW: Final[dict[ThingKind, Draw]] = {
    ThingKind.OUTLET: _drop,
    ThingKind.VALVE: _bow_tie,
    ThingKind.ROOM: _room,
    ThingKind.LEVEL: _level,
    ThingKind.BUILDING: _building,
    ThingKind.SITE: _site,
    ThingKind.ACTION: _action,
    ThingKind.PERSON: _person,
    ThingKind.INSTRUMENT: _instrument,
    ThingKind.SHEET: _sheet,
    ThingKind.PAGE: _level,
    ThingKind.COMMAND: _command,
}

"""Shapes that stand for states, each told from the others without colour."""

from collections.abc import Callable
from enum import StrEnum
from math import cos, pi, sin

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QPainter, QPainterPath, QPen, QPixmap, QPolygonF

from estate.domain.findings import Outcome, Severity, Verdict
from estate.domain.standing import OutletState
from estate.window.shades import Tone


class Mark(StrEnum):
    """One shape for each meaning."""

    BARRED = "barred square"
    WEDGE = "filled triangle"
    CROSSED = "crossed square"
    LOZENGE = "filled lozenge"
    RING = "empty ring"
    HALF = "half-filled ring"
    FRAME = "empty square"
    FLAG = "flag"
    TARGET = "ring with a dot"
    OPEN_WEDGE = "empty triangle"
    TICK = "tick"
    DOT = "small dot"
    DASH = "dash"


TONES: dict[Mark, Tone] = {
    Mark.BARRED: Tone.DANGER,
    Mark.WEDGE: Tone.MEND,
    Mark.CROSSED: Tone.DANGER,
    Mark.LOZENGE: Tone.LATE,
    Mark.RING: Tone.UNKNOWN,
    Mark.HALF: Tone.UNKNOWN,
    Mark.FRAME: Tone.UNKNOWN,
    Mark.FLAG: Tone.MEND,
    Mark.TARGET: Tone.NOW,
    Mark.OPEN_WEDGE: Tone.WATCH,
    Mark.TICK: Tone.GOOD,
    Mark.DOT: Tone.WATCH,
    Mark.DASH: Tone.QUIET,
}

_SOLID = frozenset(
    {Mark.BARRED, Mark.WEDGE, Mark.LOZENGE, Mark.HALF, Mark.FLAG, Mark.TARGET, Mark.DOT},
)
"""Shapes with a filled part: where marks are outlined, these are."""

OF_STATE: dict[OutletState, Mark] = {
    OutletState.OUT_OF_USE: Mark.BARRED,
    OutletState.PUT_RIGHT: Mark.WEDGE,
    OutletState.TAKEN_OUT: Mark.CROSSED,
    OutletState.OVERDUE: Mark.LOZENGE,
    OutletState.NEVER_TESTED: Mark.RING,
    OutletState.NOT_TESTED: Mark.HALF,
    OutletState.NO_VALVE: Mark.FRAME,
    OutletState.ACTION_OPEN: Mark.FLAG,
    OutletState.OPEN_NOW: Mark.TARGET,
    OutletState.WATCH: Mark.OPEN_WEDGE,
    OutletState.IN_ORDER: Mark.TICK,
    OutletState.RETIRED: Mark.DASH,
}

OF_VERDICT: dict[Verdict, Mark] = {
    Verdict.OUT_OF_USE: Mark.BARRED,
    Verdict.PUT_RIGHT: Mark.WEDGE,
    Verdict.NOT_TESTED: Mark.HALF,
    Verdict.WATCH: Mark.OPEN_WEDGE,
    Verdict.NOTE: Mark.DOT,
    Verdict.SATISFACTORY: Mark.TICK,
}

OF_SEVERITY: dict[Severity, Mark] = {
    Severity.OUT_OF_USE: Mark.BARRED,
    Severity.PUT_RIGHT: Mark.WEDGE,
    Severity.WATCH: Mark.OPEN_WEDGE,
    Severity.NOTE: Mark.DOT,
}


def of_finding(outcome: Outcome, severity: Severity | None) -> Mark:
    """The mark of one check."""
    if outcome is Outcome.MET:
        return Mark.TICK
    if outcome is Outcome.NOT_TESTED:
        return Mark.HALF
    return OF_SEVERITY[severity or Severity.NOTE]


def paint(painter: QPainter, box: QRectF, mark: Mark, colour: QColor, outline: QColor | None = None) -> None:
    """Draw a mark inside a square box; `outline` is a colour that is set round what is filled."""
    painter.save()
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    edge = outline if outline is not None and mark in _SOLID else colour
    painter.setPen(QPen(edge, max(1.4, box.width() / 8), Qt.PenStyle.SolidLine, Qt.PenCapStyle.RoundCap))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    inset = box.width() * 0.12
    _DRAW[mark](painter, box.adjusted(inset, inset, -inset, -inset), colour)
    painter.restore()


def pixmap(
    mark: Mark, colour: QColor, side: int, ratio: float = 1.0, outline: QColor | None = None
) -> QPixmap:
    """A mark as a picture, `side` logical pixels square."""
    picture = QPixmap(round(side * ratio), round(side * ratio))
    picture.setDevicePixelRatio(ratio)
    picture.fill(Qt.GlobalColor.transparent)
    painter = QPainter(picture)
    paint(painter, QRectF(0, 0, side, side), mark, colour, outline)
    painter.end()
    return picture


def _corners(box: QRectF, number: int, turn: float, grow: float = 1.0) -> QPolygonF:
    centre, radius = box.center(), box.width() / 2 * grow
    angles = [turn + 2 * pi * step / number for step in range(number)]
    return QPolygonF([centre + QPointF(cos(each), sin(each)) * radius for each in angles])


def _barred(painter: QPainter, box: QRectF, colour: QColor) -> None:
    path = QPainterPath()
    path.addRoundedRect(box, box.width() * 0.12, box.width() * 0.12)
    bar = QPainterPath()
    bar.addRect(QRectF(box.left(), box.center().y() - box.height() * 0.12, box.width(), box.height() * 0.24))
    inner = bar.intersected(_inner(box))
    pen = painter.pen()
    painter.setPen(QPen(pen.color(), 1.0) if pen.color() != colour else QPen(Qt.PenStyle.NoPen))
    painter.setBrush(colour)
    painter.drawPath(path.subtracted(inner))


def _inner(box: QRectF) -> QPainterPath:
    path = QPainterPath()
    inset = box.width() * 0.16
    path.addRect(box.adjusted(inset, inset, -inset, -inset))
    return path


def _wedge(painter: QPainter, box: QRectF, colour: QColor) -> None:
    painter.setBrush(colour)
    _open_wedge(painter, box, colour)


def _open_wedge(painter: QPainter, box: QRectF, colour: QColor) -> None:
    top = QPointF(box.center().x(), box.top())
    painter.drawPolygon(QPolygonF([top, box.bottomRight(), box.bottomLeft()]))


def _crossed(painter: QPainter, box: QRectF, colour: QColor) -> None:
    painter.drawRect(box)
    painter.drawLine(box.topLeft(), box.bottomRight())
    painter.drawLine(box.bottomLeft(), box.topRight())


def _flag(painter: QPainter, box: QRectF, colour: QColor) -> None:
    painter.drawLine(box.topLeft(), box.bottomLeft())
    painter.setBrush(colour)
    tip = QPointF(box.right(), box.top() + box.height() * 0.32)
    foot = QPointF(box.left(), box.top() + box.height() * 0.64)
    painter.drawPolygon(QPolygonF([box.topLeft(), tip, foot]))


def _lozenge(painter: QPainter, box: QRectF, colour: QColor) -> None:
    painter.setBrush(colour)
    painter.drawPolygon(_corners(box, 4, 0.0, 1.05))


def _ring(painter: QPainter, box: QRectF, colour: QColor) -> None:
    painter.drawEllipse(box)


def _half(painter: QPainter, box: QRectF, colour: QColor) -> None:
    painter.drawEllipse(box)
    painter.setBrush(colour)
    painter.drawChord(box, 90 * 16, 180 * 16)


def _frame(painter: QPainter, box: QRectF, colour: QColor) -> None:
    painter.drawRect(box)


def _target(painter: QPainter, box: QRectF, colour: QColor) -> None:
    painter.drawEllipse(box)
    painter.setBrush(colour)
    painter.drawEllipse(box.center(), box.width() * 0.14, box.width() * 0.14)


def _tick(painter: QPainter, box: QRectF, colour: QColor) -> None:
    low = QPointF(box.left() + box.width() * 0.36, box.bottom() - box.height() * 0.12)
    painter.drawPolyline(
        QPolygonF([QPointF(box.left(), box.center().y() + 1), low, QPointF(box.right(), box.top())])
    )


def _dot(painter: QPainter, box: QRectF, colour: QColor) -> None:
    painter.setBrush(colour)
    painter.drawEllipse(box.center(), box.width() * 0.2, box.width() * 0.2)


def _dash(painter: QPainter, box: QRectF, colour: QColor) -> None:
    middle = box.center().y()
    painter.drawLine(QPointF(box.left(), middle), QPointF(box.right(), middle))


_DRAW: dict[Mark, Callable[[QPainter, QRectF, QColor], None]] = {
    Mark.BARRED: _barred,
    Mark.WEDGE: _wedge,
    Mark.CROSSED: _crossed,
    Mark.LOZENGE: _lozenge,
    Mark.RING: _ring,
    Mark.HALF: _half,
    Mark.FRAME: _frame,
    Mark.FLAG: _flag,
    Mark.TARGET: _target,
    Mark.OPEN_WEDGE: _open_wedge,
    Mark.TICK: _tick,
    Mark.DOT: _dot,
    Mark.DASH: _dash,
}

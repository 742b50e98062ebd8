"""The shapes beside marked words: each can be told from the others without colour."""

from collections.abc import Callable, Mapping
from types import MappingProxyType

from reportlab.lib.colors import HexColor, white
from reportlab.pdfgen.canvas import Canvas

from estate.reports.document import Mark
from estate.reports.pdf.ink import ACCENT, INK, QUIET

SHAPE_SIZE = 6.6

_Draw = Callable[[Canvas], None]


def draw_shape(canvas: Canvas, mark: Mark, x: float, top: float) -> None:
    """Draw a mark in a square of `SHAPE_SIZE` points whose top left corner is at (x, top)."""
    canvas.saveState()
    canvas.translate(x, top - SHAPE_SIZE)
    canvas.scale(SHAPE_SIZE / 10, SHAPE_SIZE / 10)
    canvas.setLineWidth(1.5)
    canvas.setFillColor(HexColor(INK))
    canvas.setStrokeColor(HexColor(INK))
    _SHAPES[mark](canvas)
    canvas.restoreState()


def _polygon(canvas: Canvas, *points: tuple[float, float], fill: int = 1) -> None:
    path = canvas.beginPath()
    path.moveTo(*points[0])
    for point in points[1:]:
        path.lineTo(*point)
    path.close()
    canvas.drawPath(path, stroke=1 - fill, fill=fill)


def _stop(canvas: Canvas) -> None:
    """A full square with a white cross."""
    canvas.rect(0, 0, 10, 10, stroke=0, fill=1)
    canvas.setStrokeColor(white)
    canvas.line(2.5, 2.5, 7.5, 7.5)
    canvas.line(2.5, 7.5, 7.5, 2.5)


def _mend(canvas: Canvas) -> None:
    """A full diamond."""
    _polygon(canvas, (5, -0.4), (10.4, 5), (5, 10.4), (-0.4, 5))


def _late(canvas: Canvas) -> None:
    """An hourglass."""
    _polygon(canvas, (0.8, 10), (9.2, 10), (5, 5))
    _polygon(canvas, (0.8, 0), (9.2, 0), (5, 5))


def _unknown(canvas: Canvas) -> None:
    """An empty square with a broken edge."""
    canvas.setDash(2.4, 1.6)
    canvas.setLineWidth(1.3)
    canvas.rect(0.8, 0.8, 8.4, 8.4, stroke=1, fill=0)


def _partly(canvas: Canvas) -> None:
    """An empty square filled below its diagonal."""
    canvas.setLineWidth(1.3)
    canvas.rect(0.8, 0.8, 8.4, 8.4, stroke=1, fill=0)
    _polygon(canvas, (0.8, 0.8), (9.2, 0.8), (0.8, 9.2))


def _open(canvas: Canvas) -> None:
    """A ring that is open at the top."""
    canvas.setStrokeColor(HexColor(ACCENT))
    canvas.arc(1, 1, 9, 9, startAng=125, extent=290)


def _watch(canvas: Canvas) -> None:
    """A ring with a full centre."""
    canvas.circle(5, 5, 4.2, stroke=1, fill=0)
    canvas.circle(5, 5, 1.7, stroke=0, fill=1)


def _good(canvas: Canvas) -> None:
    """A full, quiet disc."""
    canvas.setFillColor(HexColor(QUIET))
    canvas.circle(5, 5, 3.2, stroke=0, fill=1)


_SHAPES: Mapping[Mark, _Draw] = MappingProxyType(
    {
        Mark.STOP: _stop,
        Mark.MEND: _mend,
        Mark.LATE: _late,
        Mark.UNKNOWN: _unknown,
        Mark.PARTLY: _partly,
        Mark.OPEN: _open,
        Mark.WATCH: _watch,
        Mark.GOOD: _good,
    }
)

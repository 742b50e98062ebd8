"""Two bars a month, now hollow and then filled, each with its number."""

from collections.abc import Sequence

from PySide6.QtCore import QRectF, QSize, Qt
from PySide6.QtGui import QAccessible, QColor, QFont, QFontInfo, QFontMetricsF, QPainter, QPaintEvent, QPen
from PySide6.QtWidgets import QSizePolicy, QWidget
from typing_extensions import override

from estate.window.schemes import shades_of
from estate.window.shades import Shades
from estate.window.spoken import speaks_as
from estate.window.translating import said, tr

Month = tuple[str, int, int]
_LEAST_PIXELS = 8
_LEAST_WIDE = 480
_EDGE = 6.0
_GAP = 3.0
_MEANING = said("Windows that end in each month; what is late counts in the first")
_CENTRED = int(Qt.AlignmentFlag.AlignHCenter | Qt.AlignmentFlag.AlignVCenter)
_LEFT = int(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter)


class MonthBars(QWidget):
    """Shows how many windows end in each month, now and then."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.months: tuple[Month, ...] = ()
        speaks_as(self, QAccessible.Role.Chart)
        self.setFocusPolicy(Qt.FocusPolicy.TabFocus)
        self.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        self.setAccessibleName(tr("Windows that end in each month, now and then"))

    def tell(self, months: Sequence[Month]) -> None:
        """Show other months: (words such as Nov 2026, now, then)."""
        self.months = tuple(months)
        told = [
            tr("{month}: now {now}, then {then}", month=month, now=now, then=then)
            for month, now, then in self.months
        ]
        self.setAccessibleDescription("; ".join(told))
        self.update()

    @override
    def sizeHint(self) -> QSize:
        return QSize(600, round(self.fontMetrics().height() * 9.5))

    @override
    def minimumSizeHint(self) -> QSize:
        return QSize(max(_LEAST_WIDE, 26 * self.fontMetrics().height()), self.sizeHint().height())

    @override
    def paintEvent(self, event: QPaintEvent) -> None:
        painter = QPainter(self)
        shades = shades_of(self.palette())
        box = self.rect().toRectF().adjusted(0.5, 0.5, -0.5, -0.5)
        painter.setPen(QPen(QColor(shades.accent if self.hasFocus() else shades.line), 1 + self.hasFocus()))
        painter.setBrush(QColor(shades.base))
        painter.drawRect(box)
        if self.months:
            _draw(painter, box.adjusted(_EDGE, _EDGE, -_EDGE, -_EDGE), self.months, shades, self.font())
        painter.end()


def _draw(painter: QPainter, box: QRectF, months: tuple[Month, ...], shades: Shades, font: QFont) -> None:
    line = QFontMetricsF(font).height()
    wide = box.width() / len(months)
    small = fitting(font, months, wide / 2 - 1)
    foot = box.bottom() - 2 * line - _GAP
    most = max(1, *(max(now, then) for _, now, then in months))
    scale = (foot - box.top() - line * 2.5) / most
    painter.setFont(font)
    _legend(painter, QRectF(box.left(), box.top(), box.width(), line), shades)
    year = ""
    for place, (month, now, then) in enumerate(months):
        under = QRectF(box.left() + place * wide, foot + _GAP, wide, line)
        name, _, its_year = month.partition(" ")
        painter.setFont(font)
        _write(painter, under, name, shades.text)
        _write(painter, under.translated(0, line), "" if its_year == year else its_year, shades.muted)
        year = its_year
        painter.setFont(small)
        for half, number, filled in ((0, now, False), (1, then, True)):
            bar = QRectF(under.left() + half * wide / 2, foot - number * scale, wide / 2, number * scale)
            _write(painter, QRectF(bar.left(), bar.top() - line, bar.width(), line), str(number), shades.text)
            _bar(painter, bar.adjusted(wide * 0.08, 0, -wide * 0.08, 0), filled, shades)
    painter.fillRect(QRectF(box.left(), foot, box.width(), 1), QColor(shades.edge))


def fitting(font: QFont, months: tuple[Month, ...], room: float) -> QFont:
    """The font, smaller where its widest number would not fit."""
    made = QFont(font)
    made.setPixelSize(max(_LEAST_PIXELS, QFontInfo(font).pixelSize()))
    widest = max(QFontMetricsF(made).horizontalAdvance(str(max(month[1:]))) for month in months)
    if widest > room:
        made.setPixelSize(max(_LEAST_PIXELS, int(made.pixelSize() * room / widest)))
    return made


def _write(painter: QPainter, room: QRectF, said: str, ink: str) -> None:
    painter.setPen(QColor(ink))
    painter.drawText(room, _CENTRED, said)


def _bar(painter: QPainter, bar: QRectF, filled: bool, shades: Shades) -> None:
    if bar.height() <= 0:
        return
    painter.setPen(QPen(QColor(shades.accent if filled else shades.edge), 1.5))
    painter.setBrush(QColor(shades.accent if filled else shades.base))
    painter.drawRect(bar)


def _legend(painter: QPainter, room: QRectF, shades: Shades) -> None:
    metrics = QFontMetricsF(painter.font())
    side = room.height() * 0.6
    for legend, filled in ((tr("now, hollow"), False), (tr("then, filled"), True)):
        _bar(painter, QRectF(room.left() + 2, room.center().y() - side / 2, side, side), filled, shades)
        room.setLeft(room.left() + side + 8)
        painter.setPen(QColor(shades.text))
        painter.drawText(room, _LEFT, legend)
        room.setLeft(room.left() + metrics.horizontalAdvance(legend) + 18)
    painter.setPen(QColor(shades.muted))
    painter.drawText(room, _LEFT, tr(_MEANING))

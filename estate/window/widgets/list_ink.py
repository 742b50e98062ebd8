"""Draws the pages of a list: title, headings, lines, and what each page says of itself."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Final

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QFont, QFontMetricsF, QPainter, QPen

from estate.domain.progress import Progress
from estate.domain.shown_list import ShownList
from estate.window import marks
from estate.window.marks import Mark
from estate.window.models.list_layout import GAP, Breaking, Piece, Strip, paged, pieces
from estate.window.schemes import LIGHT
from estate.window.translating import said, tr

_LEADING: Final = 1.14
_INSET: Final = (1 - 1 / _LEADING) / 2
"""Of a line's height, above its words: as much as below them."""
_CAUTION: Final = said(
    "An empty cell says that nothing is on record there; what was not measured was not tested. No line is a "
    "permission to use an outlet: local codes, the maker's instructions and the site's risk assessment come "
    "first."
)


@dataclass(frozen=True, slots=True)
class About:
    """What every page says of the list.

    Attributes:
        register: its name.
        as_at: of which day the list speaks, and of which moment's knowledge.
    """

    register: str
    as_at: str


@dataclass(frozen=True, slots=True)
class Room:
    """The page and what is drawn on it, in 1/96 inch."""

    wide: float
    high: float
    font: QFont
    laid: tuple[Strip, ...]
    about: About
    shown: ShownList

    @property
    def line(self) -> float:
        """Height of a line of words."""
        return QFontMetricsF(self.font).height() * _LEADING

    @property
    def strong(self) -> QFont:
        """The font of headings."""
        font = QFont(self.font)
        font.setWeight(QFont.Weight.DemiBold)
        return font


def mark_wide(font: QFont) -> float:
    """Room for a shape beside words."""
    return QFontMetricsF(font).height()


def draw_pages(painter: QPainter, turn: Callable[[], bool], room: Room, progress: Progress) -> None:
    """Draw every page; `turn` goes on to the next one."""
    advance = QFontMetricsF(room.font).horizontalAdvance
    breaking = Breaking(advance)
    titles = [_titles(room, strip) for strip in room.laid]
    head = max(len(each) for strip in titles for each in strip) if room.shown.columns else 0
    below = _head_high(room) + (head + 0.4) * room.line
    capacity = max(2, int((room.high - below - _foot_high(room)) / room.line))
    every = list(paged(pieces(room.shown, room.laid, breaking, mark_wide(room.font)), capacity)) or [()]
    of = len(every) * len(room.laid)
    for number in range(of):
        progress(number, of, tr("pages"))
        if number:
            turn()
        strip = number % len(room.laid)
        _draw_head(painter, room)
        _draw_titles(painter, room, room.laid[strip], titles[strip], head)
        _draw_lines(painter, room, room.laid[strip], every[number // len(room.laid)], below)
        _draw_foot(painter, room, (number + 1, of), strip)


def _titles(room: Room, strip: Strip) -> list[tuple[str, ...]]:
    advance = QFontMetricsF(room.strong).horizontalAdvance
    breaking = Breaking(advance)
    columns = room.shown.columns
    return [
        breaking.lines(columns[place].title, wide)
        for place, wide in zip(strip.places, strip.widths, strict=True)
    ]


def _asked(room: Room) -> str:
    shown = room.shown
    told = [tr("{shown:,} of {held:,} lines", shown=shown.count, held=shown.held), *shown.narrowed]
    if shown.grouped_by:
        told.append(tr("grouped by {column}", column=shown.grouped_by))
    return "; ".join(told)


def _asked_lines(room: Room) -> tuple[str, ...]:
    advance = QFontMetricsF(room.font).horizontalAdvance
    return Breaking(advance).lines(_asked(room), room.wide)


def _head_high(room: Room) -> float:
    return (2.6 + len(_asked_lines(room))) * room.line


def _foot_high(room: Room) -> float:
    return (2.4 + len(_caution_lines(room))) * room.line


def _caution_lines(room: Room) -> tuple[str, ...]:
    advance = QFontMetricsF(room.font).horizontalAdvance
    return Breaking(advance).lines(tr(_CAUTION), room.wide)


def _write(
    painter: QPainter, words: str, left: float, top: float, wide: float, to_right: bool = False
) -> None:
    side = Qt.AlignmentFlag.AlignRight if to_right else Qt.AlignmentFlag.AlignLeft
    flags = int(side | Qt.AlignmentFlag.AlignTop | Qt.TextFlag.TextDontClip | Qt.TextFlag.TextSingleLine)
    painter.drawText(QRectF(left, top, wide, 100.0), flags, words)


def _draw_head(painter: QPainter, room: Room) -> None:
    large = QFont(room.strong)
    large.setPixelSize(round(room.font.pixelSize() * 1.5))
    painter.setPen(QColor(LIGHT.text))
    painter.setFont(large)
    _write(painter, room.shown.title, 0, 0, room.wide)
    painter.setFont(room.font)
    _write(painter, room.about.register, 0, 1.6 * room.line, room.wide)
    _write(painter, room.about.as_at, 0, 1.6 * room.line, room.wide, to_right=True)
    painter.setPen(QColor(LIGHT.muted))
    for number, line in enumerate(_asked_lines(room)):
        _write(painter, line, 0, (2.6 + number) * room.line, room.wide)


def _draw_titles(
    painter: QPainter, room: Room, strip: Strip, titles: list[tuple[str, ...]], head: int
) -> None:
    painter.setFont(room.strong)
    painter.setPen(QColor(LIGHT.text))
    top, left = _head_high(room), 0.0
    for place, wide, lines in zip(strip.places, strip.widths, titles, strict=True):
        for number, words in enumerate(lines):
            high = top + (head - len(lines) + number + 0.2) * room.line
            _write(painter, words, left, high, wide, room.shown.columns[place].to_right)
        left += wide + GAP
    painter.setPen(QPen(QColor(LIGHT.text), 1.2))
    bottom = top + (head + 0.3) * room.line
    painter.drawLine(QPointF(0, bottom), QPointF(room.wide, bottom))


def _draw_lines(painter: QPainter, room: Room, strip: Strip, lines: tuple[Piece, ...], top: float) -> None:
    for piece in lines:
        bottom = top + piece.high * room.line
        if piece.heading:
            _draw_group(painter, room, piece, top)
        else:
            _draw_cells(painter, room, strip, piece, top)
        painter.setPen(QPen(QColor(LIGHT.line), 0.6))
        painter.drawLine(
            QRectF(0, bottom, room.wide, 0).topLeft(), QRectF(0, bottom, room.wide, 0).topRight()
        )
        top = bottom


def _draw_group(painter: QPainter, room: Room, piece: Piece, top: float) -> None:
    painter.fillRect(QRectF(0, top, room.wide, room.line), QColor(LIGHT.window))
    left = _draw_mark(painter, room, piece.marks[0], 2.0, top)
    painter.setFont(room.strong)
    painter.setPen(QColor(LIGHT.text))
    _write(painter, piece.cells[0][0], left, top + room.line * _INSET, room.wide)


def _draw_cells(painter: QPainter, room: Room, strip: Strip, piece: Piece, top: float) -> None:
    left = 0.0
    for place, wide in zip(strip.places, strip.widths, strict=True):
        after = _draw_mark(painter, room, piece.marks[place], left, top)
        painter.setFont(room.font)
        painter.setPen(QColor(LIGHT.text))
        for number, words in enumerate(piece.cells[place]):
            high = top + (number + _INSET) * room.line
            _write(painter, words, after, high, left + wide - after, room.shown.columns[place].to_right)
        left += wide + GAP


def _draw_mark(painter: QPainter, room: Room, mark: str, left: float, top: float) -> float:
    """Draw a shape, if there is one; where words go on."""
    if not mark:
        return left
    side = mark_wide(room.font) * 0.72
    box = QRectF(left, top + (room.line - side) / 2, side, side)
    marks.paint(painter, box, Mark(mark), QColor(LIGHT.tones[marks.TONES[Mark(mark)]]))
    return left + mark_wide(room.font)


def _draw_foot(painter: QPainter, room: Room, page: tuple[int, int], strip: int) -> None:
    lines = _caution_lines(room)
    top = room.high - (1.2 + len(lines)) * room.line
    painter.setFont(room.font)
    painter.setPen(QColor(LIGHT.muted))
    for number, line in enumerate(lines):
        _write(painter, line, 0, top + number * room.line, room.wide)
    said = tr("page {page:,} of {pages:,}", page=page[0], pages=page[1])
    if len(room.laid) > 1:
        said = tr("columns, part {part} of {parts}; {page}", part=strip + 1, parts=len(room.laid), page=said)
    _write(painter, said, 0, room.high - room.line, room.wide, to_right=True)
    _write(painter, room.shown.title, 0, room.high - room.line, room.wide)

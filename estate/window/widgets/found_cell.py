"""Draws one find: the shape of its kind, its name, what tells it apart, then state and kind in words."""

from typing import Any

from PySide6.QtCore import QModelIndex, QPersistentModelIndex, QRect, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QFont, QFontMetrics, QPainter
from PySide6.QtWidgets import QApplication, QStyle, QStyledItemDelegate, QStyleOptionViewItem, QWidget
from typing_extensions import override

from estate.domain.things import Thing
from estate.window import marks
from estate.window.marks import OF_STATE
from estate.window.models.found_rows import KIND_WORDS
from estate.window.roles import AnyIndex, Role
from estate.window.schemes import shades_of
from estate.window.translating import tr
from estate.window.widgets.kind_shapes import paint_kind

_GAP = 8
_MIDDLE = Qt.AlignmentFlag.AlignVCenter


class FoundCell(QStyledItemDelegate):
    """A row of what was found."""

    @override
    def paint(self, painter: QPainter, option: Any, index: AnyIndex) -> None:
        styled = QStyleOptionViewItem(option)
        self.initStyleOption(styled, index)
        styled.text = ""
        widget = option.widget
        style = widget.style() if isinstance(widget, QWidget) else QApplication.style()
        style.drawControl(QStyle.ControlElement.CE_ItemViewItem, styled, painter, widget)
        painter.save()
        self._content(painter, option, index.data(Role.THING))
        painter.restore()

    def _content(self, painter: QPainter, option: Any, thing: Thing) -> None:
        shades = shades_of(option.palette)
        chosen = bool(option.state & QStyle.StateFlag.State_Selected)
        ink = QColor(shades.on_chosen if chosen else shades.text)
        soft = ink if chosen else QColor(shades.muted)
        room = QRect(option.rect).adjusted(_GAP, 0, -_GAP, 0)
        side = int(option.fontMetrics.height() * 0.8)
        top = room.top() + (room.height() - side) / 2
        paint_kind(painter, QRectF(room.left(), top, side, side), thing.kind, soft)
        room.setLeft(room.left() + side + _GAP)
        painter.setPen(soft)
        room = _to_right(painter, room, tr(KIND_WORDS[thing.kind]), option.fontMetrics)
        if thing.state is not None:
            mark = OF_STATE[thing.state]
            painter.setPen(shades.tone(marks.TONES[mark]))
            room = _to_right(painter, room, tr(thing.state.value), option.fontMetrics)
            box = QRectF(room.right() - side, top, side, side)
            marks.paint(painter, box, mark, shades.tone(marks.TONES[mark]))
            room.setRight(room.right() - side - _GAP)
        _name(painter, room, thing, option.font, (ink, soft))

    @override
    def sizeHint(self, option: Any, index: QModelIndex | QPersistentModelIndex) -> QSize:
        hint = super().sizeHint(option, index)
        return QSize(hint.width(), int(option.fontMetrics.height() * 1.75))


def _to_right(painter: QPainter, room: QRect, words: str, metrics: QFontMetrics) -> QRect:
    """Words at the right end; the room that is left."""
    painter.drawText(room, Qt.AlignmentFlag.AlignRight | _MIDDLE, words)
    return room.adjusted(0, 0, -metrics.horizontalAdvance(words) - _GAP, 0)


def _name(painter: QPainter, room: QRect, thing: Thing, plain: QFont, inks: tuple[QColor, QColor]) -> None:
    strong = QFont(plain)
    strong.setWeight(QFont.Weight.DemiBold)
    metrics = QFontMetrics(strong)
    label = metrics.elidedText(thing.label, Qt.TextElideMode.ElideRight, room.width())
    painter.setFont(strong)
    painter.setPen(inks[0])
    painter.drawText(room, Qt.AlignmentFlag.AlignLeft | _MIDDLE, label)
    room = room.adjusted(metrics.horizontalAdvance(label) + _GAP, 0, 0, 0)
    said = QFontMetrics(plain).elidedText(thing.said, Qt.TextElideMode.ElideRight, room.width())
    painter.setFont(plain)
    painter.setPen(inks[1])
    painter.drawText(room, Qt.AlignmentFlag.AlignLeft | _MIDDLE, said)

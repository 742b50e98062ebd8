"""Delegates that draw a mark beside its word."""

from typing import Any

from PySide6.QtCore import QModelIndex, QPersistentModelIndex, QRect, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QIcon, QPainter, QPixmap
from PySide6.QtWidgets import QApplication, QStyle, QStyledItemDelegate, QStyleOptionViewItem, QWidget
from typing_extensions import override

from estate.window import marks
from estate.window.marks import Mark
from estate.window.roles import AnyIndex, Role
from estate.window.schemes import shades_of
from estate.window.shades import Shades

_GAP = 6


def _side(option: Any) -> int:
    return int(option.fontMetrics.height() * 0.72)


class MarkedCell(QStyledItemDelegate):
    """A table cell: its mark, if it has one, then its word in the mark's tone."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._drawn: dict[tuple[object, ...], QIcon] = {}

    @override
    def initStyleOption(self, option: Any, index: AnyIndex) -> None:
        super().initStyleOption(option, index)
        mark = index.data(Role.MARK)
        if mark:
            side = _side(option)
            option.features = option.features | QStyleOptionViewItem.ViewItemFeature.HasDecoration
            option.icon = self._icon_of(Mark(mark), side, option)
            option.decorationSize = QSize(side, side)
        if index.data(Role.STRUCK):
            muted = QColor(shades_of(option.palette).muted)
            option.palette.setColor(option.palette.ColorRole.Text, muted)
        option.state = option.state & ~QStyle.StateFlag.State_HasFocus

    def _icon_of(self, mark: Mark, side: int, option: Any) -> QIcon:
        """A mark's picture, drawn once for each scheme and size."""
        shades = shades_of(option.palette)
        ratio = option.widget.devicePixelRatioF() if option.widget is not None else 1.0
        key = (mark, shades.name, side, ratio)
        if key not in self._drawn:
            colour = shades.tone(marks.TONES[mark])
            self._drawn[key] = _icon(marks.pixmap(mark, colour, side, ratio, shades.outline))
        return self._drawn[key]

    @override
    def paint(self, painter: QPainter, option: Any, index: AnyIndex) -> None:
        super().paint(painter, option, index)
        if option.state & QStyle.StateFlag.State_Selected:
            _frame_chosen(painter, option)


class PlaceCell(QStyledItemDelegate):
    """A place of the tree: mark, name, and to the right how many need someone to act."""

    @override
    def paint(self, painter: QPainter, option: Any, index: AnyIndex) -> None:
        styled = QStyleOptionViewItem(option)
        self.initStyleOption(styled, index)
        styled.text = ""
        widget = styled.widget
        style = widget.style() if isinstance(widget, QWidget) else QApplication.style()
        style.drawControl(QStyle.ControlElement.CE_ItemViewItem, styled, painter, widget)
        painter.save()
        self._content(painter, styled, index)
        painter.restore()
        _frame_chosen(painter, styled)
        if styled.state & QStyle.StateFlag.State_HasFocus:
            _frame_current(painter, styled)

    def _content(self, painter: QPainter, option: Any, index: AnyIndex) -> None:
        shades = shades_of(option.palette)
        mark = Mark(index.data(Role.MARK))
        room = QRect(option.rect).adjusted(2, 0, -_GAP, 0)
        side = _side(option)
        top = room.top() + (room.height() - side) / 2
        colour = shades.tone(marks.TONES[mark])
        marks.paint(painter, QRectF(room.left(), top, side, side), mark, colour, shades.outline)
        room.setLeft(room.left() + side + _GAP)
        words = str(index.data(Role.COUNT_WORDS) or "")
        needed = option.fontMetrics.horizontalAdvance(words)
        name = str(index.data(Qt.ItemDataRole.DisplayRole))
        if words and room.width() - needed > option.fontMetrics.averageCharWidth() * 6:
            painter.setFont(option.font)
            painter.setPen(colour if mark is not Mark.TICK else QColor(shades.muted))
            painter.drawText(room, Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter, words)
            room.setRight(room.right() - needed - 2 * _GAP)
        painter.setPen(_ink(shades, bool(option.state & QStyle.StateFlag.State_Selected)))
        shown = option.fontMetrics.elidedText(name, Qt.TextElideMode.ElideRight, room.width())
        painter.drawText(room, Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignVCenter, shown)

    @override
    def sizeHint(self, option: QStyleOptionViewItem, index: QModelIndex | QPersistentModelIndex) -> QSize:
        hint = super().sizeHint(option, index)
        return QSize(hint.width(), max(hint.height(), int(_metrics_height(option) * 1.55)))


def _frame_chosen(painter: QPainter, option: Any) -> None:
    """Set a line above and below a chosen cell: its ground alone stands out too little (WCAG 2.2, 1.4.11)."""
    if option.state & QStyle.StateFlag.State_Selected:
        shades, rect = shades_of(option.palette), option.rect
        thick = 2 if shades.stark else 1
        for top in (rect.top(), rect.bottom() + 1 - thick):
            painter.fillRect(rect.left(), top, rect.width(), thick, QColor(shades.accent))


def _frame_current(painter: QPainter, option: Any) -> None:
    """Frame the place at which the keys are: several may be chosen beside it, or it may not be chosen."""
    painter.setPen(QColor(shades_of(option.palette).accent))
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.drawRect(QRect(option.rect).adjusted(0, 0, -1, -1))


def _icon(picture: QPixmap) -> QIcon:
    """The same picture whether the row is chosen or not."""
    icon = QIcon()
    for mode in (QIcon.Mode.Normal, QIcon.Mode.Selected):
        icon.addPixmap(picture, mode)
    return icon


def _metrics_height(option: Any) -> int:
    return int(option.fontMetrics.height())


def _ink(shades: Shades, chosen: bool) -> QColor:
    return QColor(shades.on_chosen if chosen else shades.text)

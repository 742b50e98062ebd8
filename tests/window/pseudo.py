"""A language that nobody speaks: every text accented, a third longer and in brackets."""

import re
from collections.abc import Iterator
from typing import Final

from PySide6.QtCore import QObject, Qt, QTranslator
from PySide6.QtWidgets import (
    QAbstractButton,
    QAbstractItemView,
    QComboBox,
    QGroupBox,
    QHeaderView,
    QLabel,
    QLineEdit,
    QMenuBar,
    QPlainTextEdit,
    QSpinBox,
    QTabBar,
    QTableView,
    QWidget,
)
from typing_extensions import override

from estate.window.widgets.text import Chip

_ACCENTS: Final = str.maketrans("aeiouyAEIOUY", "áéíóúýÁÉÍÓÚÝ")
_LONGER: Final = 0.35
_KEPT: Final = re.compile(r"(\{[^{}]*\}|\(\*[^)]*\))")
_ROWS: Final = 12
_SPAN: Final = re.compile(r"⟦[^⟦⟧]*⟧")


def spoken(text: str) -> str:
    """A text of the window in that language; what stands in braces, and patterns of files, stay."""
    parts = _KEPT.split(text)
    return "⟦" + "".join(part if _KEPT.fullmatch(part) else _longer(part) for part in parts) + "⟧"


def _longer(text: str) -> str:
    """Every third letter twice, and the vowels accented."""
    told, owed = [], 0.0
    for letter in text.translate(_ACCENTS):
        told.append(letter)
        owed += _LONGER
        if owed >= 1 and letter.isalpha():
            told.append(letter.lower())
            owed -= 1
    return "".join(told)


def left_over(text: str) -> str:
    """What of a text is in no bracket, and so as it stands in the source."""
    before = ""
    while before != text:
        before, text = text, _SPAN.sub("\x00", text)
    return text


class Pseudo(QTranslator):
    """Translates every text; one that is translated already stays as it is."""

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)

    @override
    def isEmpty(self) -> bool:
        return False

    @override
    def translate(
        self, context: str, source_text: str, disambiguation: str | None = None, n: int = -1
    ) -> str | None:
        return spoken(source_text) if context == "window" and "⟦" not in source_text else None


def texts_of(shown: QWidget) -> Iterator[tuple[QWidget, str]]:
    """Every text that a visible widget bears: shown, in tooltips, and for screen readers."""
    for each in (shown, *shown.findChildren(QWidget)):
        if each.isVisible():
            for text in (each.toolTip(), each.accessibleName(), each.accessibleDescription(), *_own(each)):
                if text:
                    yield each, text
    yield shown, shown.windowTitle()


def _own(widget: QWidget) -> Iterator[str]:
    if isinstance(widget, QLabel | QAbstractButton):
        yield widget.text()
    elif isinstance(widget, Chip):
        yield widget.words
    elif isinstance(widget, QLineEdit | QPlainTextEdit):
        yield widget.placeholderText()
    elif isinstance(widget, QGroupBox):
        yield widget.title()
    elif isinstance(widget, QSpinBox):
        yield from (widget.prefix(), widget.suffix())
    elif isinstance(widget, QComboBox):
        yield from (widget.itemText(place) for place in range(widget.count()))
    elif isinstance(widget, QTabBar):
        yield from (widget.tabText(place) for place in range(widget.count()))
    elif isinstance(widget, QTableView):
        yield from _headings(widget)
    elif isinstance(widget, QMenuBar):
        for menu in widget.actions():
            yield menu.text()
            held = menu.menu()
            for action in held.actions() if isinstance(held, QWidget) else ():
                yield from (action.text(), action.toolTip(), action.statusTip(), action.iconText())


def _headings(table: QAbstractItemView) -> Iterator[str]:
    header = table.horizontalHeader() if isinstance(table, QTableView) else None
    model = table.model()
    if isinstance(header, QHeaderView) and header.isVisible() and model is not None:
        for column in range(model.columnCount()):
            yield str(model.headerData(column, header.orientation()) or "")
            yield str(model.headerData(column, header.orientation(), Qt.ItemDataRole.ToolTipRole) or "")
            for row in range(min(model.rowCount(), _ROWS)):
                for role in (Qt.ItemDataRole.DisplayRole, Qt.ItemDataRole.ToolTipRole):
                    yield str(model.index(row, column).data(role) or "")


def clipped(shown: QWidget) -> Iterator[str]:
    """Visible words for which there is less room than they need."""
    for each in shown.findChildren(QWidget):
        if each.isVisible() and (lack := _lack(each)) > 0:
            yield f"{type(each).__name__} lacks {lack} px for {_words(each)!r}"


def _words(widget: QWidget) -> str:
    return next((text for text in _own(widget) if text), "")


def _lack(widget: QWidget) -> int:
    """Logical pixels that its words need and have not; one may be rounded away."""
    if isinstance(widget, QLabel) and widget.text():
        if widget.wordWrap():
            return widget.heightForWidth(widget.width()) - widget.height() - 1
        return 0 if widget.toolTip() else widget.sizeHint().width() - widget.width() - 1
    if isinstance(widget, Chip) or (isinstance(widget, QAbstractButton) and widget.text()):
        return widget.sizeHint().width() - widget.width() - 1
    if isinstance(widget, QComboBox) and widget.currentText() not in widget.toolTip():
        room = widget.width() - widget.fontMetrics().height() - 8
        return widget.fontMetrics().horizontalAdvance(widget.currentText()) - room
    if isinstance(widget, QLineEdit) and widget.placeholderText() and not widget.toolTip():
        return widget.fontMetrics().horizontalAdvance(widget.placeholderText()) - widget.width() + 8
    if isinstance(widget, QTabBar) and widget.count():
        return widget.tabRect(widget.count() - 1).right() - widget.width() - 1
    return 0

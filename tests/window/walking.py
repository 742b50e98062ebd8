"""Goes through a window as people do who see little, hear it read out, or use no mouse."""

from collections.abc import Iterator
from typing import Final

from PySide6.QtCore import QModelIndex, QRect, Qt
from PySide6.QtGui import QAccessible, QAccessibleInterface, QFont, QFontMetrics, QImage
from PySide6.QtTest import QTest
from PySide6.QtWidgets import (
    QAbstractButton,
    QAbstractItemView,
    QAbstractSpinBox,
    QApplication,
    QCheckBox,
    QComboBox,
    QLabel,
    QLineEdit,
    QPlainTextEdit,
    QPushButton,
    QRadioButton,
    QTabBar,
    QTableView,
    QTabWidget,
    QToolButton,
    QTreeView,
    QWidget,
)

from estate.window.pictures import settle
from estate.window.widgets.figure_rows import Sign
from estate.window.widgets.text import Chip

_Role = QAccessible.Role
ROLES: Final[tuple[tuple[type[QWidget], frozenset[_Role]], ...]] = (
    (QCheckBox, frozenset({_Role.CheckBox})),
    (QRadioButton, frozenset({_Role.RadioButton})),
    (QPushButton, frozenset({_Role.Button, _Role.CheckBox, _Role.ButtonMenu, _Role.RadioButton})),
    (QToolButton, frozenset({_Role.Button, _Role.CheckBox, _Role.ButtonMenu, _Role.ButtonDropDown})),
    (QComboBox, frozenset({_Role.ComboBox})),
    (QAbstractSpinBox, frozenset({_Role.SpinBox})),
    (QLineEdit, frozenset({_Role.EditableText})),
    (QPlainTextEdit, frozenset({_Role.EditableText})),
    (QTabBar, frozenset({_Role.PageTabList})),
    (QTableView, frozenset({_Role.Table})),
    (QTreeView, frozenset({_Role.Tree})),
    (QAbstractItemView, frozenset({_Role.List, _Role.Table, _Role.Tree})),
)
"""What each kind of control is for a screen reader."""
_BUTTONS: Final = frozenset({_Role.Button, _Role.CheckBox})
_PAINTED: Final = {"Chart": _Role.Chart, "StaticText": _Role.StaticText, "Graphic": _Role.Graphic}
_SLACK: Final = 2
_LEAST_RING: Final = 20
"""Pixels that change, at least, where the keys are."""
_MOST_STEPS: Final = 160
_MOST_PARTS: Final = 8
"""A day and a moment have parts that the Tab key goes through."""
_INNER: Final = (QComboBox, QAbstractSpinBox, QLineEdit, QTabWidget, QTabBar, QAbstractItemView)


def controls(root: QWidget) -> Iterator[QWidget]:
    """Controls that the keyboard reaches, without the parts that Qt makes inside them."""
    for kind in (
        QAbstractButton,
        QAbstractItemView,
        QComboBox,
        QAbstractSpinBox,
        QLineEdit,
        QPlainTextEdit,
        QTabBar,
    ):
        for each in root.findChildren(kind):
            inside = isinstance(each.parentWidget(), _INNER) and not isinstance(each, QTabBar)
            if each.isVisible() and not inside and each.focusPolicy() & Qt.FocusPolicy.TabFocus:
                yield each


def spoken(widget: QWidget) -> QAccessibleInterface:
    """What a screen reader is told of a widget."""
    found = QAccessible.queryAccessibleInterface(widget)
    assert found is not None, widget
    return found


def shown(widget: QWidget) -> str:
    """A widget in words for whoever mends it."""
    text = widget.text() if isinstance(widget, QAbstractButton | QLabel | QLineEdit) else ""
    return f"{type(widget).__name__} {widget.objectName()} {widget.accessibleName()[:40]!r} {text[:50]!r}"


def silent(root: QWidget) -> list[str]:
    """Controls without a name, with another role than theirs, or whose state is told wrongly."""
    faults = []
    for each in controls(root):
        told = spoken(each)
        roles = next((roles for kind, roles in ROLES if isinstance(each, kind)), _BUTTONS)
        if not isinstance(each, QTabBar) and not told.text(QAccessible.Text.Name).strip():
            faults.append(f"no name: {shown(each)}")
        if told.role() not in roles:
            faults.append(f"{told.role()}: {shown(each)}")
        state = told.state()
        if bool(state.disabled) == each.isEnabled():
            faults.append(f"disabled is told wrongly: {shown(each)}")
        checkable = isinstance(each, QAbstractButton) and each.isCheckable()
        if checkable and bool(state.checked) != each.isChecked():  # type: ignore[attr-defined]  # a bit field
            faults.append(f"checked is told wrongly: {shown(each)}")
    return faults


def unspoken(root: QWidget) -> list[str]:
    """Painted widgets that say nothing, and cells that are not read out as they are shown."""
    faults = []
    for each in root.findChildren(QWidget):
        role = each.property("spoken")
        if role is not None and each.isVisible():
            told = spoken(each)
            said = told.text(QAccessible.Text.Name).strip()
            more = told.text(QAccessible.Text.Description).strip()
            if told.role() is not _PAINTED[role] or not said or (role == "Chart" and not more):
                faults.append(f"says nothing: {shown(each)}")
    for view in root.findChildren(QTableView):
        if view.isVisible() and view.model() is not None:
            faults += [f"{shown(view)}: {each}" for each in _unread_cells(view)]
    return faults


def _unread_cells(view: QTableView) -> Iterator[str]:
    model = view.model()
    for row in range(min(2, model.rowCount())):
        for column in range(model.columnCount()):
            index: QModelIndex = model.index(row, column)
            text = str(index.data(Qt.ItemDataRole.DisplayRole) or "")
            read = str(index.data(Qt.ItemDataRole.AccessibleTextRole) or text)
            if text and text not in read:
                yield f"cell {row}, {column}: {text!r} is read as {read!r}"


def clipped(root: QWidget) -> list[str]:
    """Words that are cut off where they stand."""
    faults = []
    for each in root.findChildren(QWidget):
        if each.isVisible() and _is_cut(each):
            faults.append(f"{shown(each)} has {each.size().toTuple()}, wants {each.sizeHint().toTuple()}")
    for view in root.findChildren(QTableView):
        if view.isVisible():
            faults += [f"{shown(view)}: {each}" for each in _cut_headings(view)]
    return faults


def _is_cut(widget: QWidget) -> bool:
    wants = widget.sizeHint()
    if isinstance(widget, QLabel):
        if not widget.text():
            return False
        if widget.wordWrap():
            return widget.heightForWidth(widget.width()) > widget.height() + _SLACK
        return wants.width() > widget.width() + _SLACK or wants.height() > widget.height() + _SLACK
    if isinstance(widget, QPushButton | QCheckBox | QRadioButton | Chip | Sign):
        return wants.width() > widget.width() + _SLACK or wants.height() > widget.height() + _SLACK
    if isinstance(widget, QComboBox | QAbstractSpinBox | QLineEdit):
        return widget.fontMetrics().height() > widget.height() - _SLACK
    return False


def _cut_headings(view: QTableView) -> Iterator[str]:
    heading = view.horizontalHeader()
    font = heading.font()
    font.setWeight(QFont.Weight.DemiBold)
    metrics = QFontMetrics(font)
    for place in range(heading.count()):
        title = str(view.model().headerData(place, Qt.Orientation.Horizontal) or "")
        arrow = metrics.height() if place == heading.sortIndicatorSection() else 0
        wants = max(metrics.horizontalAdvance(line) for line in title.split("\n")) + arrow + metrics.height()
        if (
            not heading.isHidden()
            and not heading.isSectionHidden(place)
            and wants > heading.sectionSize(place)
        ):
            yield f"heading {title!r} has {heading.sectionSize(place)}, wants {wants}"


def stepped(root: QWidget, known: set[str]) -> tuple[list[QWidget], list[str]]:
    """Go once round with the Tab key: where the keys were, and where that could not be seen.

    Args:
        known: kinds of widgets whose ring was looked at before; grows.
    """
    been: list[QWidget] = []
    faults: list[str] = []
    for _ in range(_MOST_STEPS):
        now = QApplication.focusWidget()
        if now is None or now in been:
            return been, faults
        been.append(now)
        settle()
        if now.visibleRegion().isEmpty():
            faults.append(f"has the keys out of sight: {shown(now)}")
        elif (kind := f"{type(now).__name__} {now.property('kind')}") not in known:
            known.add(kind)
            if not _is_ringed(now):
                faults.append(f"has the keys unseen: {shown(now)}")
        for _ in range(_MOST_PARTS):
            QTest.keyClick(now, Qt.Key.Key_Tab)
            if QApplication.focusWidget() is not now:
                break
        else:
            alone = len(been) == 1 and all(
                each in (now, now.parentWidget()) for each in controls(root) if each.isEnabled()
            )
            return been, faults if alone else [*faults, f"keeps the keys: {shown(now)}"]
    return been, [*faults, f"no end after {_MOST_STEPS} steps"]


def _is_ringed(widget: QWidget) -> bool:
    window = widget.window()
    corner = widget.mapTo(window, widget.rect().topLeft())
    box = QRect(corner, widget.size()).adjusted(-6, -6, 6, 6)
    ringed = window.grab(box).toImage()
    widget.clearFocus()
    bare = window.grab(box).toImage()
    widget.setFocus(Qt.FocusReason.TabFocusReason)
    return _differing(ringed, bare) >= _LEAST_RING


def _differing(one: QImage, other: QImage) -> int:
    if one.size() != other.size():
        return _LEAST_RING
    a, b = (
        memoryview(each.convertToFormat(QImage.Format.Format_RGB32).constBits()).cast("I")
        for each in (one, other)
    )
    return sum(x != y for x, y in zip(a, b, strict=True))


def unreached(open_: list[QWidget], been: list[QWidget]) -> list[str]:
    """Controls that were open, and that the Tab key did not come to."""
    reached = {id(each) for widget in been for each in (widget, widget.parentWidget())}
    groups = {
        id(each.group()) for each in been if isinstance(each, QRadioButton) and each.group() is not None
    }
    missed = []
    for each in open_:
        beside = isinstance(each, QRadioButton) and (each.group() is None or id(each.group()) in groups)
        if id(each) not in reached and not beside:
            missed.append(f"not reached: {shown(each)}")
    return missed

"""Somebody who does anything at the window: clicks, keys, words, sizes, drawn from a seed.

Whatever is on the screen is fair game but leaving the program; what Qt warns of, what breaks off and what
reaches the defect dialog is kept. The window lies over a copy of an estate that may be spoiled.
"""

import sys
from collections import Counter
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path
from random import Random
from types import TracebackType
from typing import Final, TypeVar

from PySide6.QtCore import (
    QAbstractItemModel,
    QMessageLogContext,
    QPoint,
    Qt,
    QTimer,
    QtMsgType,
    qInstallMessageHandler,
)
from PySide6.QtGui import QAction
from PySide6.QtPrintSupport import QPrinter
from PySide6.QtTest import QAbstractItemModelTester, QTest
from PySide6.QtWidgets import (
    QAbstractButton,
    QAbstractItemView,
    QAbstractSpinBox,
    QApplication,
    QComboBox,
    QDialog,
    QHeaderView,
    QLineEdit,
    QListWidget,
    QMainWindow,
    QPlainTextEdit,
    QTabBar,
    QTextEdit,
    QWidget,
)

from estate.window.dialogs.faults import DefectDialog
from estate.window.pictures import settle

LEAVES: Final = frozenset({"quit"})
"""Actions that would end the soak."""

WORDS: Final = (
    *(
        "WHB",
        "G01",
        "MM/G",
        "41,2",
        "60.2",
        "12",
        "0",
        "-3",
        "1e9",
        "44.6",
        "abc",
        "=1+1",
        "25/11/2026",
        "  ",
    ),
    *("The reason is told", "A. Officer", "x" * 300, "43", "<b>no</b>", "{name}", "%s", "Zürich €"),
)
KEYS: Final = (
    *(Qt.Key.Key_Tab, Qt.Key.Key_Backtab, Qt.Key.Key_Return, Qt.Key.Key_Escape, Qt.Key.Key_Down),
    *(Qt.Key.Key_Up, Qt.Key.Key_Left, Qt.Key.Key_Right, Qt.Key.Key_Home, Qt.Key.Key_End, Qt.Key.Key_F2),
    *(Qt.Key.Key_PageDown, Qt.Key.Key_Space, Qt.Key.Key_Delete, Qt.Key.Key_A, Qt.Key.Key_C),
)
HELD: Final = (
    *[Qt.KeyboardModifier.NoModifier] * 6,
    Qt.KeyboardModifier.ShiftModifier,
    Qt.KeyboardModifier.ControlModifier,
)
LEAVING: Final = frozenset({Qt.Key.Key_Q, Qt.Key.Key_W})
SIZES: Final = ((1280, 800), (1920, 1080), (960, 640))
PATIENCE: Final = 14
"""A dialog is left after so many steps in it."""

Kind = TypeVar("Kind", bound=QWidget)


@dataclass
class Whims:
    """Answers the platform's dialogs with whatever comes to mind.

    Attributes:
        place: where files are written.
        sheets: files that can be opened.
    """

    random: Random
    place: Path
    sheets: tuple[Path, ...]
    written: int = 0

    def file_to_open(self, title: str, kinds: str, parent: QWidget) -> Path | None:
        """A file that is there, or none."""
        return self.random.choice([None, *self.sheets])

    def file_to_write(self, title: str, name: str, kinds: str, parent: QWidget) -> Path | None:
        """A new file of its kind, or none."""
        return self.random.choice([None, self._new(Path(name).suffix)])

    def folder(self, title: str, parent: QWidget) -> Path | None:
        """A folder, or none."""
        return self.random.choice([None, self.place])

    def show_file(self, path: Path) -> None:
        """Nothing is opened."""

    def printer(self, prepare: Callable[[QPrinter], None], parent: QWidget) -> QPrinter | None:
        """A printer into a file, or none."""
        if self.random.random() < 0.5:
            return None
        printer = QPrinter(QPrinter.PrinterMode.ScreenResolution)
        printer.setOutputFormat(QPrinter.OutputFormat.PdfFormat)
        printer.setOutputFileName(str(self._new(".pdf")))
        prepare(printer)
        return printer

    def _new(self, suffix: str) -> Path:
        self.written += 1
        return self.place / f"{self.written}{suffix}"


@dataclass
class Trouble:
    """What must not happen."""

    told: list[str] = field(default_factory=list)

    def on_message(self, kind: QtMsgType, context: QMessageLogContext, message: str) -> None:
        """What Qt says; what the display-less plugin says of itself is no warning."""
        if not message.startswith("This plugin does not support"):
            self.told.append(f"{kind.name}: {message}")

    def on_exception(
        self, kind: type[BaseException], error: BaseException, trace: TracebackType | None
    ) -> None:
        """An exception that left a slot."""
        self.told.append(f"{kind.__name__}: {error}")
        sys.__excepthook__(kind, error, trace)

    @contextmanager
    def watched(self) -> Iterator[None]:
        """Listen to Qt and to exceptions."""
        before_qt, before = qInstallMessageHandler(self.on_message), sys.excepthook
        sys.excepthook = self.on_exception
        try:
            yield
        finally:
            sys.excepthook = before
            qInstallMessageHandler(before_qt)


class Soak:
    """Does one random thing after the other.

    Args:
        random: seeded.
        trouble: gets what must not happen.
        over: the first window, which is never closed.
    """

    def __init__(self, random: Random, trouble: Trouble, over: QMainWindow) -> None:
        self.random, self.trouble, self.over = random, trouble, over
        self.done: list[str] = []
        self.counts: Counter[str] = Counter()
        self._waited = 0
        self._without = 0
        self._tested: set[QAbstractItemModel] = set()
        self._looks = 0
        self._look = QTimer()
        self._look.setInterval(20)
        self._look.timeout.connect(self._on_look)
        self._look.start()

    def _on_look(self) -> None:
        """Go on where a menu or a dialog keeps whoever opened it waiting."""
        self._looks += 1
        popup, dialog = QApplication.activePopupWidget(), QApplication.activeModalWidget()
        if popup is not None:
            self._at_popup(popup)
        elif self._looks > PATIENCE and isinstance(dialog, QDialog):
            dialog.reject()

    def watch_models(self) -> None:
        """Let Qt's own tester follow every model on the screen; what it finds it warns of.

        A `QListWidget` is left out: its own model asks the widget when it goes, and that has none by then.
        """
        for top in QApplication.topLevelWidgets():
            for view in _seen(top, QAbstractItemView):
                model = None if isinstance(view, QListWidget) else view.model()
                if model is not None and model not in self._tested:
                    self._tested.add(model)
                    model.destroyed.connect(lambda gone=None, model=model: self._tested.discard(model))
                    QAbstractItemModelTester(
                        model, QAbstractItemModelTester.FailureReportingMode.Warning, model
                    )

    def step(self) -> None:
        """Do one thing, and say if anything went wrong by it."""
        before, self._looks = len(self.trouble.told), 0
        dialog = _topmost()
        if isinstance(dialog, DefectDialog):
            reports = [each.toPlainText()[-600:] for each in dialog.findChildren(QPlainTextEdit)]
            self.trouble.told.append(f"a defect: {reports}")
            dialog.reject()
            return
        words = self._do(dialog)
        settle()
        self.watch_models()
        self.done.append(words)
        self.counts[words.split(":")[0]] += 1
        if len(self.trouble.told) > before:
            self.trouble.told.append("after " + " | ".join(self.done[-6:]))

    def _do(self, dialog: QDialog | None) -> str:
        popup = QApplication.activePopupWidget()
        if popup is not None:
            return self._at_popup(popup)
        self._waited = 0 if dialog is None else self._waited + 1
        if dialog is not None and self._waited > PATIENCE:
            self._waited = 0
            dialog.reject()
            return f"left: {dialog.windowTitle()}"
        target: QWidget = dialog or self._window()
        deeds: list[Callable[[QWidget], str]] = [*[self._click] * 4, *[self._press] * 3, *[self._type] * 3]
        deeds += [self._choose, self._look_in_a_list, self._look_in_a_list]
        if dialog is None:
            deeds += [*[self._act] * 4, self._resize]
        return self.random.choice(deeds)(target)

    def _window(self) -> QMainWindow:
        """One of the windows; those beyond three are closed, and an empty one opens the sample."""
        windows = [each for each in QApplication.topLevelWidgets() if isinstance(each, QMainWindow)]
        shown = [each for each in windows if each.isVisible()]
        others = sorted((each for each in shown if each is not self.over), key=QWidget.windowTitle)
        for each in others[2:]:
            each.close()
        actions = {each.objectName(): each for each in self.over.findChildren(QAction)}
        self._without = 0 if actions["due"].isEnabled() else self._without + 1
        if self._without > PATIENCE:
            actions["sample"].trigger()
            settle()
        return self.random.choice([self.over, self.over, *others[:2]])

    def _at_popup(self, popup: QWidget) -> str:
        if self.random.random() < 0.5:
            popup.close()
            return "closed a menu"
        QTest.keyClick(popup, Qt.Key.Key_Down)
        QTest.keyClick(popup, Qt.Key.Key_Return)
        still = QApplication.activePopupWidget()
        if still is not None:
            still.close()
        return "chose from a menu"

    def _act(self, window: QWidget) -> str:
        open_ones = [each for each in window.findChildren(QAction) if _may(each)]
        if not open_ones:
            return "nothing to do"
        action = self.random.choice(open_ones)
        words = f"action: {action.objectName()}"
        action.trigger()
        return words

    def _click(self, target: QWidget) -> str:
        controls = [*_seen(target, QAbstractButton), *_seen(target, QTabBar), *_seen(target, QHeaderView)]
        if not controls:
            return "nothing to click"
        chosen = self.random.choice(controls)
        words = f"click: {type(chosen).__name__} {chosen.accessibleName() or _words_of(chosen)}"
        where = QPoint(self.random.randrange(max(1, chosen.width())), max(1, chosen.height()) // 2)
        on = chosen.viewport() if isinstance(chosen, QHeaderView) else chosen
        QTest.mouseClick(on, Qt.MouseButton.LeftButton, pos=where)
        return words

    def _press(self, target: QWidget) -> str:
        key, held = self.random.choice(KEYS), self.random.choice(HELD)
        if held is Qt.KeyboardModifier.ControlModifier and key in LEAVING:
            return "nothing pressed"
        focus = target.focusWidget() or target
        QTest.keyClick(focus, key, held)
        return f"press: {key.name} {held.name} in {type(focus).__name__}"

    def _type(self, target: QWidget) -> str:
        fields = [*_seen(target, QLineEdit), *_seen(target, QPlainTextEdit), *_seen(target, QTextEdit)]
        if not fields:
            return "nothing to type in"
        chosen, typed = self.random.choice(fields), self.random.choice(WORDS)
        words = f"type: {typed[:20]} in {chosen.accessibleName()}"
        chosen.setFocus()
        if self.random.random() < 0.4:
            QTest.keyClick(chosen, Qt.Key.Key_A, Qt.KeyboardModifier.ControlModifier)
        if typed.isascii():
            QTest.keyClicks(chosen, typed)
        elif isinstance(chosen, QLineEdit):
            chosen.insert(typed)  # no key of a test stands for such a letter
        return words

    def _choose(self, target: QWidget) -> str:
        boxes = [each for each in _seen(target, QComboBox) if each.count()]
        spins = _seen(target, QAbstractSpinBox)
        if boxes and (not spins or self.random.random() < 0.7):
            box = self.random.choice(boxes)
            box.setCurrentIndex(self.random.randrange(box.count()))
            return f"choose: {box.accessibleName()}"
        if spins:
            spin = self.random.choice(spins)
            spin.stepBy(self.random.choice([-7, -1, 1, 7]))
            return f"choose: {spin.accessibleName()}"
        return "nothing to choose"

    def _look_in_a_list(self, target: QWidget) -> str:
        lists = [each for each in _seen(target, QAbstractItemView) if each.model() is not None]
        lists = [each for each in lists if not isinstance(each, QHeaderView) and each.model().rowCount()]
        if not lists:
            return "no list"
        chosen = self.random.choice(lists)
        model = chosen.model()
        words = f"list: {chosen.accessibleName()}"
        index = model.index(self.random.randrange(model.rowCount()), 0)
        while model.rowCount(index) and self.random.random() < 0.8:
            index = model.index(self.random.randrange(model.rowCount(index)), 0, index)
        chosen.scrollTo(index)
        at = chosen.visualRect(index).center()
        click = self.random.choice([QTest.mouseClick, QTest.mouseClick, QTest.mouseDClick])
        click(chosen.viewport(), Qt.MouseButton.LeftButton, self.random.choice(HELD), at)
        return words

    def _resize(self, window: QWidget) -> str:
        window.resize(*self.random.choice(SIZES))
        return "resize"


def _may(action: QAction) -> bool:
    return bool(action.objectName()) and action.isEnabled() and action.objectName() not in LEAVES


def _topmost() -> QDialog | None:
    """The open dialog over which no other is open."""
    shown = [
        each for each in QApplication.topLevelWidgets() if isinstance(each, QDialog) and each.isVisible()
    ]
    below = {each.parentWidget() for each in shown}
    free = sorted((each for each in shown if each not in below), key=QWidget.windowTitle)
    return free[-1] if free else None


def _seen(target: QWidget, kind: type[Kind]) -> list[Kind]:
    return [
        each
        for each in target.findChildren(kind)
        if each.isVisible() and each.isEnabled() and each.window() is target.window()
    ]


def _words_of(widget: QWidget) -> str:
    return widget.text() if isinstance(widget, QAbstractButton) else ""


def close_dialogs() -> None:
    """Leave every dialog and every menu that is open."""
    for each in QApplication.topLevelWidgets():
        if isinstance(each, QDialog):
            each.done(0)
        elif each.windowType() is Qt.WindowType.Popup:
            each.close()
    settle()

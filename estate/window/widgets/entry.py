"""Fields to type into: a number with its unit, yes or no, one of several words."""

from collections.abc import Sequence

from PySide6.QtCore import QEvent, QObject, QSize, Qt, Signal
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import QComboBox, QLineEdit, QWidget
from typing_extensions import override

from estate.window.models.visit_fields import Value, parse_number
from estate.window.translating import tr

_KEYPAD = Qt.KeyboardModifier.KeypadModifier


class OnwardField(QLineEdit):
    """Takes words; Enter goes on to what comes next and presses no button.

    Attributes:
        leads_to: where Enter goes; None takes the next one in order.
    """

    leads_to: QWidget | None = None

    @override
    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() not in (Qt.Key.Key_Return, Qt.Key.Key_Enter) or event.modifiers() & ~_KEYPAD:
            super().keyPressEvent(event)
        elif self.leads_to is None:
            self.focusNextChild()
        else:
            self.leads_to.setFocus()


class NumberField(OnwardField):
    """Takes a number with a point or a comma; blank means not measured.

    Attributes:
        edited: the person changed it.
    """

    edited = Signal()

    def __init__(self, name: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setAccessibleName(name)
        self.setMaxLength(12)
        self.setAlignment(Qt.AlignmentFlag.AlignRight)
        self.textEdited.connect(self._on_edited)
        self.textChanged.connect(self._mark)

    def value(self) -> Value:
        """The number; None where blank or not readable."""
        try:
            return parse_number(self.text())
        except ValueError:
            return None

    def put(self, value: Value) -> None:
        """Show a number."""
        self.setText("" if value is None else f"{float(value):g}")

    @property
    def readable(self) -> bool:
        """Whether what is typed is a number or blank."""
        try:
            parse_number(self.text())
        except ValueError:
            return False
        return True

    def _mark(self) -> None:
        wrong = not self.readable
        if bool(self.property("wrong")) != wrong:
            self.setProperty("wrong", wrong)
            self.setToolTip(tr("This is not a number. Type it like 41.6") if wrong else "")
            self.style().unpolish(self)
            self.style().polish(self)

    def _on_edited(self) -> None:
        self.edited.emit()


class AnswerField(QComboBox):
    """Takes yes, no, or that it was not recorded; Y and N choose by keyboard.

    Attributes:
        edited: the answer changed.
    """

    edited = Signal()

    def __init__(self, name: str, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setAccessibleName(name)
        for words, value in (("–", None), (tr("yes"), True), (tr("no"), False)):
            self.addItem(words, value)
        self.currentIndexChanged.connect(lambda place: self.edited.emit())

    def value(self) -> Value:
        """The answer; None where none was given."""
        answer = self.currentData()
        return answer if isinstance(answer, bool) else None

    def put(self, value: Value) -> None:
        """Show an answer."""
        self.setCurrentIndex(0 if value is None else (1 if value else 2))

    @property
    def readable(self) -> bool:
        """An answer can always be read."""
        return True


class HintedField(QLineEdit):
    """Takes words, and has room for those that stand in it while it is empty."""

    @override
    def sizeHint(self) -> QSize:
        wanted = super().sizeHint()
        metrics = self.fontMetrics()
        words = metrics.horizontalAdvance(self.placeholderText()) + 2 * metrics.height()
        return QSize(max(wanted.width(), words), wanted.height())

    @override
    def minimumSizeHint(self) -> QSize:
        return self.sizeHint()


def tell_whole(box: QComboBox) -> None:
    """Let the tooltip of a box say the whole of a choice that it may have no room for."""
    box.currentTextChanged.connect(box.setToolTip)
    box.setToolTip(box.currentText())


class WheelGuard(QObject):
    """Keeps the wheel from changing an answer while a form is scrolled."""

    @override
    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        if event.type() is QEvent.Type.Wheel:
            event.ignore()
            return True
        return super().eventFilter(watched, event)


def put_words(box: QComboBox, words: str) -> None:
    """Show words in a box that takes any; Qt puts the chosen one in their place on Enter, so choose none."""
    box.setCurrentIndex(box.findText(words))
    box.setEditText(words)


class WordsField(QComboBox):
    """Takes words, offering those used before."""

    def __init__(self, name: str, known: Sequence[str], parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setEditable(True)
        self.setInsertPolicy(QComboBox.InsertPolicy.NoInsert)
        self.setAccessibleName(name)
        self.addItems(list(known))
        self.put("")
        edit = self.lineEdit()
        if edit is not None:
            edit.setAccessibleName(name)

    def put(self, words: str) -> None:
        """Show words."""
        put_words(self, words)

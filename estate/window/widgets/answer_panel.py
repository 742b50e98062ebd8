"""One question about a sheet, what can be answered, and the answer."""

from PySide6.QtCore import Qt, Signal
from PySide6.QtGui import QShowEvent
from PySide6.QtWidgets import (
    QButtonGroup,
    QCheckBox,
    QComboBox,
    QHBoxLayout,
    QPushButton,
    QRadioButton,
    QVBoxLayout,
    QWidget,
)
from typing_extensions import override

from estate.domain.questions import CHOICE_WORDS, NEEDING_A_VALUE, Answer, Choice, Question
from estate.window.models.sheet_rows import answer_words
from estate.window.translating import tr
from estate.window.widgets.entry import put_words
from estate.window.widgets.text import empty, label


class AnswerPanel(QWidget):
    """Shows a question and takes its answer.

    Attributes:
        answered: (question, choice, value, to all alike).
        taken_back: the question whose answer no longer counts.
    """

    answered = Signal(object, object, str, bool)
    taken_back = Signal(object)

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._question: Question | None = None
        self.where = label("", "strong", wraps=True)
        self.said = label("", wraps=True)
        self.given = label("", "muted", wraps=True)
        self.choices = QVBoxLayout()
        self.choices.setSpacing(2)
        self.group = QButtonGroup(self)
        self.value = QComboBox()
        self.value.setEditable(True)
        self.value.setAccessibleName(tr("The value to take"))
        self.value.setInsertPolicy(QComboBox.InsertPolicy.NoInsert)
        self.alike = QCheckBox()
        self.answer = QPushButton(tr("Answer"))
        self.answer.clicked.connect(self._on_answer)
        self.back = QPushButton(tr("Take back"))
        self.back.clicked.connect(self._on_back)
        self.group.buttonClicked.connect(self._on_choice)
        line = self.value.lineEdit()
        if line is not None:
            line.returnPressed.connect(self._on_answer)
            line.textChanged.connect(self._settle)
        self._lay()
        self.ask(None, None, 0)

    @override
    def showEvent(self, event: QShowEvent) -> None:
        """What was asked while it was hidden has not been measured in the style of the window."""
        super().showEvent(event)
        layout = self.layout()
        if layout is not None:
            layout.invalidate()

    def _lay(self) -> None:
        column = QVBoxLayout(self)
        column.setContentsMargins(10, 4, 4, 4)
        column.setSpacing(6)
        for widget in (self.where, self.said):
            widget.setAlignment(Qt.AlignmentFlag.AlignTop | Qt.AlignmentFlag.AlignLeft)
            column.addWidget(widget)
        column.addLayout(self.choices)
        column.addWidget(self.value)
        column.addWidget(self.alike)
        row = QHBoxLayout()
        row.addWidget(self.answer)
        row.addWidget(self.back)
        row.addStretch(1)
        column.addLayout(row)
        column.addWidget(self.given)
        column.addStretch(1)

    @property
    def question(self) -> Question | None:
        """The question shown."""
        return self._question

    def ask(self, question: Question | None, answer: Answer | None, alike: int) -> None:
        """Show a question.

        Args:
            question: None shows that none is chosen.
            answer: the answer given so far.
            alike: questions of the same kind, itself counted.
        """
        self._question = question
        self._offer(question, answer)
        self.alike.setText(tr("Answer all {alike:,} of this kind alike", alike=alike))
        self.alike.setChecked(False)
        self.alike.setVisible(question is not None and alike > 1 and bool(question.choices))
        self.back.setVisible(answer is not None)
        if question is None:
            self.where.setText(tr("Choose a question to answer it."))
            self.said.setText("")
            self.given.setText(
                tr("What is not answered is left out and kept with the batch, to be finished later.")
            )
            self._settle()
            return
        self.where.setText(
            tr("{sheet}, row {row}, cell {cell}", sheet=question.sheet, row=question.row, cell=question.cell)
        )
        remedy = tr(question.remedy)
        self.said.setText(f"“{question.found}”. {remedy}" if question.found else remedy)
        self.given.setText("" if answer is None else tr("Answered: {answer}.", answer=answer_words(answer)))
        self._settle()

    def _offer(self, question: Question | None, answer: Answer | None) -> None:
        for button in self.group.buttons():
            self.group.removeButton(button)
        empty(self.choices)
        choices = question.choices if question is not None else ()
        for choice in choices:
            button = QRadioButton(tr(CHOICE_WORDS[choice]))
            button.setProperty("choice", choice.value)
            button.setChecked(answer is not None and answer.choice is choice)
            self.group.addButton(button)
            self.choices.addWidget(button)
        self.value.clear()
        self.value.addItems(list(question.suggested) if question is not None else [])
        put_words(self.value, answer.value if answer is not None else "")

    def in_order(self) -> list[QWidget]:
        """What takes the keys, as a question is answered."""
        return [*self.group.buttons(), self.value, self.alike, self.answer, self.back]

    @property
    def choice(self) -> Choice | None:
        """The choice that is marked."""
        button = self.group.checkedButton()
        return Choice(button.property("choice")) if button is not None else None

    def _on_choice(self) -> None:
        if self.choice in NEEDING_A_VALUE:
            if not self.value.currentText() and self.value.count():
                self.value.setCurrentIndex(0)
            self.value.setFocus()
        self._settle()

    def _settle(self) -> None:
        choice = self.choice
        needs = choice in NEEDING_A_VALUE
        self.value.setVisible(needs)
        self.answer.setVisible(bool(self._question and self._question.choices))
        self.answer.setEnabled(choice is not None and (not needs or bool(self.value.currentText().strip())))

    def _on_answer(self) -> None:
        if self._question is not None and self.choice is not None and self.answer.isEnabled():
            value = self.value.currentText().strip() if self.choice in NEEDING_A_VALUE else ""
            to_all = self.alike.isChecked() and not self.alike.isHidden()
            self.answered.emit(self._question, self.choice, value, to_all)

    def _on_back(self) -> None:
        if self._question is not None:
            self.taken_back.emit(self._question)

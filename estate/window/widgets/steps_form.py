"""What is seen step by step at a visit: yes or no with a remark, and the parts put in."""

from collections.abc import Iterator

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QGridLayout, QLineEdit, QVBoxLayout, QWidget

from estate.domain.procedures import asked_steps
from estate.domain.steps import Seen, Steps, parts_in, parts_words
from estate.domain.visits import VisitKind
from estate.window.translating import tr
from estate.window.widgets.entry import AnswerField, WheelGuard
from estate.window.widgets.text import label


class StepsForm(QWidget):
    """Takes what was seen; nothing chosen is not looked at, never a yes.

    Attributes:
        edited: the person changed something.
        answers, remarks: the fields by the steps' keys.
        parts: parts in one line.
    """

    edited = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._guard = WheelGuard(self)
        self.answers: dict[str, AnswerField] = {}
        self.remarks: dict[str, QLineEdit] = {}
        self.parts = QLineEdit()
        self.parts.setAccessibleName(tr("Parts put in"))
        self.parts.setPlaceholderText(tr("such as: strainer 2, washer"))
        self.parts.textEdited.connect(self.edited)
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        self._table = QWidget()
        self._column.addWidget(self._table)

    def show_kind(self, kind: VisitKind) -> None:
        """Ask the steps of a kind of visit; answers to steps of both this and the last kind stay."""
        before = self.steps()
        self._column.removeWidget(self._table)
        self.parts.setParent(self)
        self._table.deleteLater()
        self.answers, self.remarks = {}, {}
        self._table = QWidget()
        grid = QGridLayout(self._table)
        grid.setContentsMargins(0, 0, 0, 0)
        grid.setVerticalSpacing(4)
        grid.setColumnStretch(0, 3)
        grid.setColumnStretch(2, 2)
        self._fill(grid, kind)
        self._column.addWidget(self._table)
        self.setVisible(bool(self.answers))
        self.put(before)

    def _fill(self, grid: QGridLayout, kind: VisitKind) -> None:
        grid.addWidget(label(tr("Seen, in this order"), "heading"), 0, 0)
        grid.addWidget(label(tr("Remark"), "small"), 0, 2)
        row = 1
        for step in asked_steps(kind):
            answer, remark = AnswerField(tr(step.words)), QLineEdit()
            remark.setAccessibleName(tr("Remark: {step}", step=step.words))
            answer.setToolTip(tr(step.source))
            answer.installEventFilter(self._guard)
            answer.edited.connect(self.edited)
            remark.textEdited.connect(self.edited)
            self.answers[step.key], self.remarks[step.key] = answer, remark
            for column, widget in enumerate((label(tr(step.words), wraps=True), answer, remark)):
                grid.addWidget(widget, row, column)
            row += 1
        grid.addWidget(label(tr("Parts put in")), row, 0)
        grid.addWidget(self.parts, row, 1, 1, 2)

    def in_order(self) -> Iterator[QWidget]:
        """Every field, as the steps are done."""
        for key, answer in self.answers.items():
            yield from (answer, self.remarks[key])
        if self.answers:
            yield self.parts

    def put(self, steps: Steps) -> None:
        """Show what was seen."""
        for key, answer in self.answers.items():
            seen = steps.by_key.get(key)
            answer.put(None if seen is None else seen.said)
            self.remarks[key].setText("" if seen is None else seen.remark)
        self.parts.setText(parts_words(steps.parts))

    def steps(self) -> Steps:
        """What was seen, as answered so far."""
        seen = [
            Seen(key, answer, remark=self.remarks[key].text().strip())
            for key, field in self.answers.items()
            if isinstance(answer := field.value(), bool)
        ]
        return Steps(tuple(seen), parts_in(self.parts.text()) if self.answers else ())

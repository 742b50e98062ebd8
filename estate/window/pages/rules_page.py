"""Every value in force: unit, source, whether it was verified, and the site's own values."""

from collections.abc import Iterator

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QHBoxLayout, QLineEdit, QPushButton, QVBoxLayout, QWidget

from estate.domain.rules.catalogue import describe
from estate.domain.rules.listing import blanks, listed
from estate.domain.rules.values import TO_BE_FILLED_IN, RuleSet, RuleValue
from estate.domain.temperature import Scale
from estate.window import words
from estate.window.models.rule_rows import RulesModel, heard
from estate.window.widgets.listing import Listing
from estate.window.widgets.text import label


class RulesView(QWidget):
    """Shows the rule set in force for the estate.

    Attributes:
        override_asked: key of the value that the site wants to replace.
        choose_asked: another rule set is wanted.
    """

    override_asked = Signal(str)
    choose_asked = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.rules: RuleSet | None = None
        self._title = label("Rules in force", "title", wraps=True)
        self._scope = label("", "muted", wraps=True)
        self._count = label("", "muted")
        self._model = RulesModel()
        self.listing: Listing[RuleValue] = Listing(self._model, "Values in force")
        self.sought = QLineEdit()
        self.sought.setPlaceholderText("Only values with these words")
        self.sought.setAccessibleName("Only values with these words")
        self.sought.setClearButtonEnabled(True)
        self.sought.textChanged.connect(self._on_sought)
        self.override_button = QPushButton("Use the site's own value…")
        self.override_button.setEnabled(False)
        self.override_button.clicked.connect(self._on_override)
        self.choose_button = QPushButton("Choose another rule set…")
        self.choose_button.clicked.connect(self.choose_asked)
        self.listing.opened.connect(self._on_override)
        self.listing.picked.connect(self._on_picked)
        self._detail = label("", wraps=True)
        column = QVBoxLayout(self)
        column.setContentsMargins(14, 12, 14, 10)
        column.setSpacing(8)
        for widget in (self._title, self._scope):
            column.addWidget(widget)
        row = QHBoxLayout()
        row.addWidget(self.sought, 1)
        row.addWidget(self.override_button)
        row.addWidget(self.choose_button)
        column.addLayout(row)
        column.addWidget(self._count)
        column.addWidget(self.listing, 1)
        column.addWidget(self._detail)
        column.addWidget(label(_PRECEDENCE, "small", wraps=True))

    def tell(self, rules: RuleSet) -> None:
        """Show a rule set."""
        self.rules = rules
        self._scope.setText(f"{rules.title}\n{rules.id}, edition {rules.edition}. {rules.scope}")
        values, empty = sorted(listed(rules), key=lambda each: each.key), blanks(rules)
        self._model.fill((*values, *empty))
        doubtful = sum(not each.verified and each.override is None for each in values)
        own = sum(each.override is not None for each in values)
        self._count.setText(
            f"{words.count(len(values), 'value')}, {doubtful} not verified in the source, "
            f"{own} replaced by the site; {words.count(len(empty), 'blank')} {TO_BE_FILLED_IN}"
        )
        self.override_button.setEnabled(False)

    def read_in(self, scale: Scale) -> None:
        """Show temperatures on a scale."""
        self._model.read_in(scale)

    def _on_sought(self, text: str) -> None:
        sought = text.casefold().split()
        self.listing.ordered.want(lambda value: all(word in heard(value) for word in sought))

    def _on_picked(self, key: int | None) -> None:
        self.override_button.setEnabled(key is not None)
        index = self.listing.currentIndex()
        value = self.listing.ordered.row_at(index) if index.isValid() else None
        self._detail.setText("" if value is None else "\n".join(self._said(value)))

    def _said(self, value: RuleValue) -> Iterator[str]:
        """What is known of a value, and where sources disagree about it."""
        yield from (
            part for part in (words.sentence(describe(value.key)), value.shown_source, value.note) if part
        )
        for each in self.rules.disagreements if self.rules is not None else ():
            if value.fact in each.facts:
                yield f"Sources disagree: {each.words} Applied: {each.applied}"
        for each in self.rules.not_judged if self.rules is not None else ():
            if value.fact in each.facts:
                yield f"Not judged here: {each.words}"

    def _on_override(self) -> None:
        index = self.listing.currentIndex()
        if index.isValid():
            self.override_asked.emit(self.listing.ordered.row_at(index).key)


_PRECEDENCE = (
    "Local codes, the maker's instructions and the site's own risk assessment come first. "
    "A key without a value is not judged."
)

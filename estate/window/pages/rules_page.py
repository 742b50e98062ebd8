"""Every value in force: unit, source, whether it was verified, and the site's own values."""

from collections.abc import Iterator
from typing import Final

from PySide6.QtCore import Signal
from PySide6.QtWidgets import QPushButton, QVBoxLayout, QWidget

from estate.domain.rules.catalogue import describe
from estate.domain.rules.listing import blanks, listed
from estate.domain.rules.values import TO_BE_FILLED_IN, RuleSet, RuleValue
from estate.domain.temperature import Scale
from estate.window import words
from estate.window.models import explaining
from estate.window.models.rule_rows import RulesModel, heard
from estate.window.translating import said, tr, tr_count
from estate.window.widgets.list_bar import ListBar, how_many
from estate.window.widgets.listing import Listing
from estate.window.widgets.text import label

_HINT: Final = said("Only values with these words")


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
        self._title = label(tr("Rules in force"), "title", wraps=True)
        self._scope = label("", "muted", wraps=True)
        self._count = label("", "muted", wraps=True)
        self._model = RulesModel()
        self.listing: Listing[RuleValue] = Listing(self._model, tr("Values in force"), known_as="rules")
        self._model.find_by(heard)
        self.bar = ListBar(self.listing, _HINT)
        self.bar.say(lambda shown, held: "" if shown == held else how_many(shown, held))
        self.sought = self.bar.sought
        self.override_button = QPushButton(tr("Use the site's own value…"))
        self.override_button.setEnabled(False)
        self.override_button.clicked.connect(self._on_override)
        self.choose_button = QPushButton(tr("Choose another rule set…"))
        self.choose_button.clicked.connect(self.choose_asked)
        self.listing.opened.connect(self._on_override)
        self.listing.picked.connect(self._on_picked)
        self._detail = label("", wraps=True)
        column = QVBoxLayout(self)
        column.setContentsMargins(14, 12, 14, 10)
        column.setSpacing(8)
        for widget in (self._title, self._scope):
            column.addWidget(widget)
        self.bar.trail(self.override_button, self.choose_button)
        column.addWidget(self._count)
        column.addWidget(self.bar)
        column.addWidget(self.listing, 1)
        column.addWidget(self._detail)
        column.addWidget(label(tr(_PRECEDENCE), "small", wraps=True))

    def tell(self, rules: RuleSet) -> None:
        """Show a rule set."""
        self.rules = rules
        self._scope.setText(
            tr(
                "{title}\n{id}, edition {edition}. {scope}",
                title=rules.title,
                id=rules.id,
                edition=rules.edition,
                scope=rules.scope,
            )
        )
        values, empty = sorted(listed(rules), key=lambda each: each.key), blanks(rules)
        self._model.fill((*values, *empty))
        doubtful = sum(not each.verified and each.override is None for each in values)
        own = sum(each.override is not None for each in values)
        self._count.setText(
            tr_count(
                len(values),
                "{n:,} value, {doubtful} not verified in the source, {own} replaced by the site; "
                "{empty} {to_be_filled_in}",
                "{n:,} values, {doubtful} not verified in the source, {own} replaced by the "
                "site; {empty} {to_be_filled_in}",
                doubtful=doubtful,
                own=own,
                empty=tr_count(len(empty), "{n:,} blank", "{n:,} blanks"),
                to_be_filled_in=TO_BE_FILLED_IN,
            )
        )
        self.override_button.setEnabled(False)

    def read_in(self, scale: Scale) -> None:
        """Show temperatures on a scale."""
        self._model.read_in(scale)

    def _on_picked(self, key: int | None) -> None:
        self.override_button.setEnabled(key is not None)
        index = self.listing.currentIndex()
        value = self.listing.ordered.line_at(index)
        self._detail.setText("" if value is None else "\n".join(self._said(value)))

    def _said(self, value: RuleValue) -> Iterator[str]:
        """What is known of a value, and where sources disagree about it."""
        named = words.sentence(tr(describe(value.key)))
        told = f"{named}: {tr(value.value)}" if isinstance(value.value, str) and value.value else named
        yield from (part for part in (told, tr(value.shown_source), value.note) if part)
        explained = explaining.of_value(value)
        yield from (part for part in (*explained.means, explained.caution) if part)
        for each in self.rules.disagreements if self.rules is not None else ():
            if value.fact in each.facts:
                yield tr("Sources disagree: {each} Applied: {applied}", each=each.words, applied=each.applied)
        for each in self.rules.not_judged if self.rules is not None else ():
            if value.fact in each.facts:
                yield tr("Not judged here: {each}", each=each.words)

    def _on_override(self) -> None:
        index = self.listing.currentIndex()
        value = self.listing.ordered.line_at(index)
        if value is not None:
            self.override_asked.emit(value.key)


_PRECEDENCE = said(
    "Local codes, the maker's instructions and the site's own risk assessment come first. "
    "A key without a value is not judged."
)

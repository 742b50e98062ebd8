"""A sheet before it is taken: as it is, what was read of it, what is asked, and what would change."""

from itertools import pairwise

from PySide6.QtCore import Qt, Signal
from PySide6.QtWidgets import QLabel, QSplitter, QTabWidget, QVBoxLayout, QWidget

from estate.domain.findings import Verdict
from estate.domain.intake import AssetRow
from estate.domain.layouts import SheetKind
from estate.domain.questions import Choice, Question
from estate.window.desk import Looked, Proposal, ProposedVisit
from estate.window.marks import OF_VERDICT
from estate.window.models.answering import Answering
from estate.window.models.sheet_rows import (
    Effect,
    assets_model,
    effects_model,
    effects_of,
    questions_model,
    visits_model,
)
from estate.window.translating import tr, tr_count
from estate.window.widgets.answer_panel import AnswerPanel
from estate.window.widgets.columns_panel import ColumnsPanel
from estate.window.widgets.flowing import Flowing
from estate.window.widgets.listing import Listing
from estate.window.widgets.scrolled import in_scroll_area
from estate.window.widgets.sheet_picture import SheetPicture
from estate.window.widgets.text import Chip, empty, label


class SheetPreview(QWidget):
    """The sheet on the left, its reading on the right, questions below.

    Attributes:
        again: (layout or None,): read the sheet again, with the answers given.
    """

    again = Signal(object)
    answers_changed = Signal()

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.answering = Answering()
        self.picture = SheetPicture()
        self._said = label("", "strong", wraps=True)
        self._how = label("", "muted", wraps=True)
        self._chips = Flowing()
        self._visits = visits_model()
        self._assets = assets_model()
        self._asked = questions_model(self.answering)
        self._effects = effects_model()
        self.visits: Listing[ProposedVisit] = Listing(self._visits, tr("Results to be taken"))
        self.assets: Listing[AssetRow] = Listing(self._assets, tr("Outlets to be added"))
        self.effects: Listing[Effect] = Listing(self._effects, tr("What else would change"))
        self.questions: Listing[Question] = Listing(self._asked, tr("Questions, and what to do"))
        self.columns = ColumnsPanel()
        self.panel = AnswerPanel()
        self.tabs = QTabWidget()
        self.tabs.setAccessibleName(tr("What was read"))
        self._connect()
        self._lay()

    def _connect(self) -> None:
        self.questions.picked.connect(lambda key: self._on_question())
        self.visits.picked.connect(lambda key: self._on_visit())
        self.panel.answered.connect(self._on_answered)
        self.panel.taken_back.connect(self._on_taken_back)
        self.columns.changed.connect(self.again)

    def _lay(self) -> None:
        upper = QSplitter(Qt.Orientation.Horizontal)
        upper.addWidget(self.picture)
        for page in (self.visits, self.assets, self.columns, self.effects):
            self.tabs.addTab(page, "")
        upper.addWidget(self.tabs)
        upper.setSizes([520, 640])
        lower = QSplitter(Qt.Orientation.Horizontal)
        lower.addWidget(self.questions)
        lower.addWidget(in_scroll_area(self.panel))
        lower.setSizes([760, 400])
        self._both = QSplitter(Qt.Orientation.Vertical)
        self._both.addWidget(upper)
        self._both.addWidget(lower)
        self._both.setSizes([400, 260])
        for splitter in (upper, lower, self._both):
            splitter.setChildrenCollapsible(False)
            splitter.setHandleWidth(8)
        self._lower: QWidget = lower
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(8)
        column.addWidget(self._said)
        column.addWidget(self._how)
        column.addLayout(self._chips)
        column.addWidget(self._both, 1)

    @property
    def said(self) -> QLabel:
        """The line that counts the rows."""
        return self._said

    def tell(self, looked: Looked) -> None:
        """Show a sheet read against the register."""
        proposal, reading = looked.proposal, looked.proposal.reading
        self.answering.ask(proposal.questions)
        self._visits.fill(proposal.visits)
        self._assets.fill(each.row for each in proposal.assets)
        effects = effects_of(proposal)
        self._effects.fill(effects)
        self._asked.fill(proposal.questions)
        self.picture.tell(looked.shown, reading.tables, proposal.questions)
        self.columns.tell(reading.kind, reading.tables, looked.fields, reading.layout)
        self._said.setText(
            tr_count(
                reading.read,
                "{n:,} row read as {kind}: {accepted:,} to be taken, {already_there:,} there "
                "already, {questions:,} questioned.",
                "{n:,} rows read as {kind}: {accepted:,} to be taken, {already_there:,} there "
                "already, {questions:,} questioned.",
                kind=tr(reading.kind.value),
                accepted=proposal.accepted,
                already_there=proposal.already_there,
                questions=len(proposal.questions),
            )
        )
        self._how.setText(how_read(proposal))
        self._count(proposal)
        self._tab(proposal, effects)
        self._lower.setVisible(bool(proposal.questions))
        self.panel.ask(None, None, 0)
        if proposal.questions:
            self.questions.selectRow(0)

    def _tab(self, proposal: Proposal, effects: tuple[Effect, ...]) -> None:
        assets = proposal.reading.kind is SheetKind.ASSETS
        rows = self.assets if assets else self.visits
        taken = tr("To be taken ({accepted:,})", accepted=proposal.accepted)
        changing = tr("What else would change ({effects:,})", effects=len(effects))
        for page, named, shown in (
            (self.visits, taken, not assets),
            (self.assets, taken, assets),
            (self.columns, tr("Columns"), True),
            (self.effects, changing, bool(effects)),
        ):
            place = self.tabs.indexOf(page)
            self.tabs.setTabText(place, named)
            self.tabs.setTabVisible(place, shown)
        self.tabs.setCurrentWidget(rows)
        self.visits.hide_empty()
        self.assets.hide_empty()

    def _count(self, proposal: Proposal) -> None:
        empty(self._chips)
        for verdict in reversed(Verdict):
            number = sum(each.judgement.verdict is verdict for each in proposal.visits)
            if number:
                self._chips.addWidget(Chip(OF_VERDICT[verdict], f"{number:,} {tr(verdict.value)}"))

    def _current(self) -> Question | None:
        index = self.questions.currentIndex()
        return self.questions.ordered.row_at(index) if index.isValid() else None

    def _on_question(self) -> None:
        asked = self._current()
        if asked is None:
            self.panel.ask(None, None, 0)
            return
        self.picture.go_to(asked.sheet, asked.row, asked.cell)
        self.panel.ask(asked, self.answering.answer_to(asked), self.answering.alike(asked))
        for before, after in pairwise([self.questions, *self.panel.in_order()]):
            self.setTabOrder(before, after)

    def _on_visit(self) -> None:
        index = self.visits.currentIndex()
        source = self.visits.ordered.row_at(index).draft.source if index.isValid() else None
        if source is not None:
            self.picture.go_to(source.sheet, source.row)

    def _on_answered(self, question: Question, choice: Choice, value: str, to_all: bool) -> None:
        self.answering.give(question, choice, value, to_all=to_all)
        self._show_answers(question, 1)

    def _on_taken_back(self, question: Question) -> None:
        self.answering.take_back(question)
        self._show_answers(question, 0)

    def _show_answers(self, question: Question, step: int) -> None:
        """Show the answers in the list, and go on to the next question."""
        place = self._asked.rows.index(question)
        self._asked.fill(self._asked.rows)
        following = min(place + step, len(self._asked.rows) - 1)
        self.questions.setCurrentIndex(self.questions.ordered.mapFromSource(self._asked.index(following, 0)))
        self._on_question()
        self.questions.setFocus()
        self.answers_changed.emit()


def how_read(proposal: Proposal) -> str:
    """How the sheet was read, in a line: its form, order of dates, units and ways of matching."""
    reading = proposal.reading
    parts = [tr("Form: {each}", each=tr(each.value)) for each in dict.fromkeys(reading.forms)]
    if reading.date_order:
        parts.append(tr("dates: {date_order}", date_order=reading.date_order))
    units = dict.fromkeys(f"{unit} ({how})" for _, _, unit, how in reading.units)
    if units:
        parts.append(tr("units: {units}", units=", ".join(units)))
    ways: dict[str, int] = {}
    for each in proposal.matched:
        ways[each.by] = ways.get(each.by, 0) + 1
    if ways:
        told = ", ".join(f"{way} {number:,}" for way, number in ways.items())
        parts.append(tr("matched by {ways}", ways=told))
    if reading.blank:
        parts.append(tr_count(reading.blank, "{n:,} row left blank", "{n:,} rows left blank"))
    return "; ".join(parts)

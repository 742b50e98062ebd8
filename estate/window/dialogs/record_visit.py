"""Record a visit, or correct an entry: a form judged while it is typed, then one step to confirm."""

from collections.abc import Callable, Mapping

from PySide6.QtCore import Signal
from PySide6.QtGui import QKeySequence, QShortcut
from PySide6.QtWidgets import (
    QStackedWidget,
    QVBoxLayout,
    QWidget,
)
from typing_extensions import override

from estate.domain.browsing import HistoryLine, OutletPage
from estate.domain.findings import Judgement
from estate.domain.instruments import Instrument
from estate.domain.procedures import asked_steps
from estate.domain.steps import parts_words
from estate.domain.visits import VisitDraft, VisitKind
from estate.window import words
from estate.window.dialogs.shell import Shell
from estate.window.models.visit_fields import FIELDS, section_of, shown, value_of
from estate.window.tasks import Latest
from estate.window.translating import said, tr
from estate.window.widgets.beside import Beside
from estate.window.widgets.entry import OnwardField
from estate.window.widgets.findings import FindingsList, VerdictChip
from estate.window.widgets.scrolled import scrolled
from estate.window.widgets.text import Card, Facts, label
from estate.window.widgets.visit_form import Background, VisitForm

Judge = Callable[[VisitDraft], Judgement]


def background_of(
    page: OutletPage,
    people: tuple[str, ...],
    instruments: tuple[Instrument, ...],
    without: HistoryLine | None,
) -> Background:
    """The visits before, of the valve in place, to stand beside the fields."""
    lines = [
        line
        for line in page.history
        if line.visit.counts and line.valve == page.valve and (without is None or line is not without)
    ]
    last = lines[0].visit if lines else None
    reference = next((line.visit for line in lines if line.visit.draft.kind.sets_reference), None)
    return Background(people, instruments, last, reference, page.limits)


class RecordVisitDialog(Shell):
    """Takes one visit.

    Args:
        page: the outlet.
        background: people, instruments, last and reference visit.
        judge: judges a draft in the worker; asked at every edit.
        corrects: whether an entry is corrected, so that the reason is asked too.
        latest: runs it, newest only.
        then: the next outlet on the walk; empty where there is none.

    Attributes:
        confirmed: the `VisitDraft` to be entered.
        instruments: references by id.
        why: takes the reason of a correction.
        walks_on: whether the person goes on to the next outlet.
    """

    confirmed = Signal(object)

    def __init__(
        self,
        page: OutletPage,
        background: Background,
        start: VisitDraft,
        judge: Judge,
        latest: Latest,
        title: str,
        parent: QWidget | None = None,
        corrects: bool = False,
        then: str = "",
    ) -> None:
        super().__init__(title, parent)
        self.walks_on = False
        self._page, self._judge, self._latest = page, judge, latest
        self._judgement: Judgement | None = None
        self._warned = False
        self.instruments = {each.id: each.reference for each in background.instruments}
        self.form = VisitForm(background, start.on)
        self.form.put(start)
        self._start = self.draft()
        self.steps = QStackedWidget()
        self.steps.addWidget(self._typing())
        self._confirm = _Confirm(corrects, self.instruments)
        self.why = self._confirm.why
        self.steps.addWidget(self._confirm)
        self.body.addWidget(label(f"{page.outlet.reference}  ·  {page.outlet.path}", "muted", wraps=True))
        self.body.addWidget(self.steps, 1)
        self.wrong = label("", "wrong")
        self.buttons.insertWidget(0, self.wrong)
        self.leave = self.button(tr("Leave"), self.reject)
        self.back = self.button(tr("Back to the form"), self._on_back)
        self.next = self.button(tr("Record, then {then}", then=then), self._on_walk_on)
        self.next.setToolTip(tr("Ctrl+Shift+Enter: the next valve on the walk whose window is open"))
        self._then = then
        self.go_on = self.button(tr("Go on…"), self._on_go_on, main=True)
        self.go_on.setDefault(False)
        QShortcut(QKeySequence("Ctrl+Return"), self, self._on_go_on)
        QShortcut(QKeySequence("Ctrl+Shift+Return"), self, self._on_walk_on)
        self.form.edited.connect(self._on_edited)
        self.resize(1180, 730)
        self._on_back()
        self._on_edited()
        self.form.fields["hot_c"].setFocus()

    def _typing(self) -> QWidget:
        typed = QWidget()
        typing = QVBoxLayout(typed)
        typing.setContentsMargins(0, 0, 0, 0)
        typing.setSpacing(4)
        typing.addWidget(self.form, 1)
        typing.addWidget(label(tr(_ASK_WHY), "small", wraps=True))
        row = Beside(gap=14, least=_PART)
        row.add(typed, 3)
        card = Card(tr("As typed so far"))
        self.verdict = VerdictChip()
        self.findings = FindingsList()
        card.body.addWidget(self.verdict)
        card.body.addWidget(scrolled(self.findings), 1)
        card.body.addWidget(label(tr(_COMES_FIRST), "small", wraps=True))
        row.add(card, 2)
        return row

    def draft(self) -> VisitDraft:
        """The visit as typed."""
        valve_id = self._page.valve.id if self._page.valve is not None else 0
        return self.form.draft(valve_id, self._page.outlet.id)

    def _on_edited(self) -> None:
        draft = self.draft()
        self._warned = False
        unreadable = self.form.unreadable()
        wrong = tr("Not a number: {fields}", fields=words.listed(unreadable, 2)) if unreadable else ""
        self.wrong.setText(wrong)
        self.go_on.setEnabled(not unreadable)
        self._latest.run(lambda: self._judge(draft), self._on_judged)

    def _on_judged(self, judgement: Judgement) -> None:
        self._judgement = judgement
        self.verdict.judge(judgement)
        self.findings.tell(judgement)
        self.form.ask_first(any(each.code == _CHANGED for each in judgement.findings))
        if self.steps.currentIndex() == 1:
            self._confirm.tell(self.draft(), judgement)

    def _on_walk_on(self) -> None:
        self.walks_on = bool(self._then) and self.steps.currentIndex() == 1
        self._on_go_on()

    def _on_go_on(self) -> None:
        if self.steps.currentIndex() == 1:
            self.go_on.setEnabled(False)
            self.confirmed.emit(self.draft())
        elif self.go_on.isEnabled() and self._judgement is not None:
            self._confirm.tell(self.draft(), self._judgement)
            self.steps.setCurrentIndex(1)
            self.back.show()
            self.next.setVisible(bool(self._then))
            self.go_on.setText(tr("Record this visit"))
            self.go_on.setAutoDefault(True)
            asked = self.why.parent() is not None and not self.why.text().strip()
            self.why.leads_to = self.go_on
            (self.why if asked else self.go_on).setFocus()

    @override
    def reject(self) -> None:
        """Leave; what was typed is not lost at the first touch of a key."""
        if self.draft() != self._start and not self._warned:
            self._warned = True
            self.wrong.setText(tr("Not recorded yet. Leave once more to lose what was typed."))
            return
        super().reject()

    def _on_back(self) -> None:
        self.steps.setCurrentIndex(0)
        self.walks_on = False
        self.back.hide()
        self.next.hide()
        self.go_on.setText(tr("Go on…  (Ctrl+Enter)"))
        self.go_on.setAutoDefault(False)
        self.go_on.setEnabled(not self.form.unreadable())

    @override
    def release(self) -> None:
        """The entry was refused: back to the form, nothing typed is lost."""
        super().release()
        self._on_back()


_CHANGED = "changed-since-previous"


_PART = 400
"""Narrower than that, pixels for text at 100 %, nothing is typed or read beside something else."""


class _Confirm(Beside):
    """What is about to be entered and what it was judged to be."""

    def __init__(self, corrects: bool, instruments: Mapping[int, str], parent: QWidget | None = None) -> None:
        super().__init__(gap=14, least=_PART, parent=parent)
        self._instruments = instruments
        self._verdict = VerdictChip()
        self._findings = FindingsList()
        self.why = OnwardField()
        self.why.setAccessibleName(tr(_WHY))
        self.why.setMaxLength(200)
        self._facts = Facts()
        entered = Card(tr("About to be entered, for good"))
        entered.body.addWidget(scrolled(self._facts), 1)
        if corrects:
            entered.body.addWidget(label(tr(_WHY), "heading"))
            entered.body.addWidget(self.why)
        entered.body.addWidget(label(tr(_FOR_GOOD), "small", wraps=True))
        judged = Card(tr("Verdict"))
        judged.body.addWidget(self._verdict)
        judged.body.addWidget(scrolled(self._findings), 1)
        self.add(entered)
        self.add(judged)

    def tell(self, draft: VisitDraft, judgement: Judgement) -> None:
        """Show a draft and its judgement."""
        self._verdict.judge(judgement)
        self._findings.tell(judgement)
        self._facts.tell(draft_facts(draft, self._instruments))


def draft_facts(draft: VisitDraft, instruments: Mapping[int, str]) -> list[tuple[str, str, str]]:
    """What a draft says, measured values only, each under the step it belongs to.

    Args:
        instruments: references by id.
    """
    instrument = instruments.get(draft.instrument_id or 0) or draft.instrument_words
    facts = [
        (tr("Kind"), words.sentence(tr(draft.kind.value)), ""),
        (tr("Date"), words.day(draft.on), ""),
        (tr("Person"), draft.person or tr("not given"), ""),
        (tr("Instrument"), instrument or tr("not recorded"), ""),
    ]
    for field in FIELDS:
        value = value_of(draft.readings, field.path)
        if value is not None:
            measured = f"{shown(value, field.unit)} {field.unit}".strip()
            facts.append((f"{section_of(field)}: {field.told.lower()}", measured, ""))
    for step in asked_steps(draft.kind):
        if (seen := draft.steps.by_key.get(step.key)) is not None:
            facts.append(
                (tr(step.words), " ".join((tr("yes") if seen.said else tr("no"), seen.remark)).strip(), "")
            )
    if draft.steps.parts:
        facts.append((tr("Parts put in"), parts_words(draft.steps.parts), ""))
    if draft.remarks:
        facts.append((tr("Remarks"), draft.remarks, ""))
    return facts


def usual_kind(page: OutletPage) -> VisitKind:
    """A valve that was never commissioned is commissioned first."""
    known = any(line.visit.counts and line.valve == page.valve for line in page.history)
    return VisitKind.IN_SERVICE if known else VisitKind.COMMISSIONING


_COMES_FIRST = said(
    "Local codes, the maker's instructions and the site's risk assessment come first. "
    "Blank means not tested, never a pass."
)
_WHY = said("Why it is corrected, kept in the trail")
_ASK_WHY = said("? in a field says why its limit is what it is, and hides it again.")
_FOR_GOOD = said(
    "An entry is never changed or deleted. A mistake is corrected by a further entry, "
    "or made void with a reason."
)

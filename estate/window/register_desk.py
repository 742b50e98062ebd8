"""The desk over the real operations."""

from collections.abc import Callable, Sequence
from datetime import date, datetime
from pathlib import Path

from estate import settings
from estate.domain.browsing import OutletPage, PlaceNode
from estate.domain.changes import ChangeSet, OthersChange
from estate.domain.due import DueLine
from estate.domain.estate_reading import EstateReading
from estate.domain.findings import Judgement
from estate.domain.instruments import Instrument
from estate.domain.layouts import FieldOffer, Layout, SheetKind, ShownSheet
from estate.domain.learned import LearnedLine
from estate.domain.preview import PolicyPreview
from estate.domain.progress import Progress
from estate.domain.questions import Answer
from estate.domain.register import Batch, RegisterIdentity
from estate.domain.roles import Role
from estate.domain.rules.values import RuleSet, RuleValue
from estate.domain.shown_list import ShownList
from estate.domain.visits import VisitDraft
from estate.operations import (
    bring_in,
    browse,
    browse_batches,
    foresee,
    learn,
    make_roles,
    plan_retests,
    preview_policy,
    record_visit,
    set_rules,
    undo_batch,
    write_report,
)
from estate.operations.as_known_at import as_known_at
from estate.operations.offer_fields import offer_fields
from estate.operations.read_estate import read_estate
from estate.operations.register import Register
from estate.operations.show_sheets import show_kept, show_sheets
from estate.operations.watch_register import Watch
from estate.operations.write_list import write_list
from estate.operations.write_marked import write_marked
from estate.operations.write_round_sheet import Round, write_round_sheet
from estate.window.desk import Proposal
from estate.window.register_choosing import RegisterChoosing
from estate.window.register_documents import RegisterDocuments
from estate.window.register_editing import RegisterEditing
from estate.window.register_signatures import RegisterSignatures
from estate.window.register_trust import RegisterTrust
from estate.window.register_upkeep import RegisterUpkeep
from estate.window.register_work import RegisterWork


class RegisterDesk:
    """Runs operations on one open register.

    Args:
        register: the open register.
        where: its file or database, as the person named it.
        today: tells the day by which everything is judged and planned.
        now: tells the moment kept beside entries, UTC.
        seen: the file of the profile in which the newest entry seen is kept; None keeps nothing.
    """

    def __init__(
        self,
        register: Register,
        where: str,
        today: Callable[[], date],
        now: Callable[[], datetime],
        seen: Path | None = None,
    ) -> None:
        self._register = register
        self._watch = Watch(register)
        if register.known_at is None:
            self._watch.look()  # before anything is read, so that nothing is missed that others do
        self._where = where
        self._today = today
        self._now = now
        self._trust = RegisterTrust(register, now, seen)
        self._documents = RegisterDocuments(register, now)

    @property
    def trust(self) -> RegisterTrust:
        """The trail, checkpoints, verifying and backing up."""
        return self._trust

    @property
    def signatures(self) -> RegisterSignatures:
        """Keys, signing and countersigning."""
        return RegisterSignatures(self._register, self._now, settings.keys_place())

    @property
    def documents(self) -> RegisterDocuments:
        """Documents and photographs."""
        return self._documents

    @property
    def work(self) -> RegisterWork:
        """Actions, and outlets in and out of use."""
        return RegisterWork(self._register, self._today, self._now)

    @property
    def upkeep(self) -> RegisterUpkeep:
        """People and upkeep."""
        return RegisterUpkeep(self._register, self._today, self._now)

    @property
    def choosing(self) -> RegisterChoosing:
        """Suitability, causes, the year ahead, instruments."""
        return RegisterChoosing(self._register, self._today, self._now)

    @property
    def editing(self) -> RegisterEditing:
        """Changes of places, outlets and valves by hand."""
        return RegisterEditing(self._register, self._now)

    @property
    def known_at(self) -> datetime | None:
        """The past moment (UTC) whose knowledge this is; None of the register as it is now."""
        return self._register.known_at

    def as_known_at(self, moment: datetime, progress: Progress) -> "RegisterDesk":
        """A desk on the register as it was known at a moment; judged and planned by that day."""
        past = as_known_at(self._register, moment, progress, now=self._now())
        day = moment.astimezone().date()
        return RegisterDesk(past, self._where, lambda: day, self._now)

    @property
    def today(self) -> date:
        """The day by which everything is judged and planned."""
        return self._today()

    @property
    def where(self) -> str:
        """The file or database."""
        return self._where

    def role(self) -> Role:
        """What the account may do; whoever may write to a file may do everything."""
        return make_roles.my_role(self._register)

    def news(self) -> tuple[OthersChange, ...]:
        """What others did to the register since it was last asked."""
        return self._watch.look() if self.known_at is None else ()

    def identity(self) -> RegisterIdentity:
        """Name, identifier and rule sets in force."""
        return browse.identity(self._register)

    def read(self) -> EstateReading:
        """Places, due lines, first page and what is found by its words, from one reading."""
        return read_estate(self._register, self.today)

    def tree(self) -> tuple[PlaceNode, ...]:
        """The places with what needs attention at each."""
        return browse.tree(self._register, self.today)

    def outlet_page(self, outlet_id: int) -> OutletPage:
        """Everything about one outlet."""
        return browse.outlet_page(self._register, outlet_id, self.today)

    def chance_by(self, page: OutletPage, day: date) -> float | None:
        """Chance that an outlet's valve reaches its ceiling by a day; None where it can't be said."""
        return foresee.chance_by(page, day)

    def learned_lines(self) -> tuple[LearnedLine, ...]:
        """What has been learned of every valve in place; empty before groups have been fitted."""
        return learn.learned_lines(self._register, self.today)

    def due_lines(self) -> tuple[DueLine, ...]:
        """Every valve in place, in walking order."""
        return plan_retests.due_lines(self._register, self.today)

    def instruments(self) -> tuple[Instrument, ...]:
        """Measuring instruments."""
        return browse.instruments(self._register)

    def people(self) -> tuple[str, ...]:
        """Names seen on visits."""
        return browse.people(self._register)

    def judge(self, draft: VisitDraft, without: int | None = None) -> Judgement:
        """What a visit would be judged to be; nothing is written."""
        return record_visit.judge_draft(self._register, draft, without)

    def record(self, draft: VisitDraft, who: str) -> record_visit.Recorded:
        """Add a visit."""
        return record_visit.record_visit(self._register, draft, who=who, at=self._now(), today=self.today)

    def correct(self, visit_id: int, draft: VisitDraft, who: str, why: str = "") -> record_visit.Recorded:
        """Add a visit that counts in place of an earlier entry."""
        at, today = self._now(), self.today
        return record_visit.correct_visit(
            self._register, visit_id, draft, who=who, at=at, today=today, why=why
        )

    def void(self, visit_id: int, reason: str, who: str) -> ChangeSet:
        """Say of an entry, with a reason, that it no longer counts."""
        return record_visit.void_visit(self._register, visit_id, reason=reason, who=who, at=self._now())

    def look(
        self,
        path: Path,
        kind: SheetKind | None,
        progress: Progress,
        layout: Layout | None = None,
        answers: Sequence[Answer] = (),
    ) -> bring_in.Proposal:
        """Read a sheet against the register."""
        return bring_in.look(self._register, path, kind, self.today, progress, layout=layout, answers=answers)

    def shown(self, proposal: Proposal) -> tuple[ShownSheet, ...]:
        """The sheets of a proposal of this desk as they are.

        Raises:
            TypeError: the proposal comes from elsewhere (a defect).
        """
        if not isinstance(proposal, bring_in.Proposal):
            raise TypeError("a proposal comes from looking at a sheet")
        return show_sheets(proposal)

    def fields(self, kind: SheetKind) -> tuple[FieldOffer, ...]:
        """What the columns of a sheet can be taken for."""
        return offer_fields(kind)

    def commit(
        self, proposal: Proposal, who: str, progress: Progress, keep_layout: str = "", sender: str = ""
    ) -> bring_in.Brought:
        """Take the rows of a proposal of this desk.

        Raises:
            TypeError: the proposal comes from elsewhere (a defect).
        """
        if not isinstance(proposal, bring_in.Proposal):
            raise TypeError("a proposal comes from looking at a sheet")
        return bring_in.commit(
            self._register,
            proposal,
            who=who,
            at=self._now(),
            progress=progress,
            keep_layout=keep_layout,
            sender=sender,
        )

    def look_again(
        self, batch_id: int, progress: Progress, layout: Layout | None = None, answers: Sequence[Answer] = ()
    ) -> bring_in.Proposal:
        """Read the file of a batch again, with more answers."""
        return bring_in.look_again(self._register, batch_id, self.today, answers, progress, layout=layout)

    def batches(self) -> tuple[Batch, ...]:
        """What was brought in, oldest first."""
        return browse_batches.batches(self._register)

    def batch_page(self, batch_id: int) -> browse_batches.BatchPage:
        """One batch with its questions, answers, and what rests on it."""
        return browse_batches.batch_page(self._register, batch_id)

    def kept_sheets(self, batch_id: int) -> tuple[ShownSheet, ...]:
        """The sheets of the file that is kept with a batch."""
        return show_kept(self._register, batch_id)

    def undo_batch(self, batch_id: int, who: str, why: str) -> ChangeSet:
        """Undo a batch whole."""
        at, today = self._now(), self.today
        return undo_batch.undo_batch(self._register, batch_id, who=who, at=at, today=today, why=why).changes

    def save_batch_file(self, batch_id: int, to: Path) -> Path:
        """Write the file of a batch as it came."""
        return browse_batches.save_original(self._register, batch_id, to)

    def write_round_sheet(self, to: Path, within_weeks: int, progress: Progress) -> Path:
        """Write a blank round sheet for what is due within some weeks."""
        which = Round(due_within_weeks=within_weeks)
        return write_round_sheet(self._register, which, to, self.today, progress)

    def write_marked(self, proposal: Proposal, to: Path, progress: Progress) -> Path:
        """Write a copy of a sheet of this desk with the questioned cells marked.

        Raises:
            TypeError: the proposal comes from elsewhere (a defect).
        """
        if not isinstance(proposal, bring_in.Proposal):
            raise TypeError("a proposal of another desk")
        return write_marked(self._register, proposal, to, progress)

    def write_overdue(self, to: Path, progress: Progress) -> Path:
        """Write the overdue list as .pdf or .xlsx."""
        return write_report.write_overdue(self._register, to, self.today, progress)

    def write_list(self, shown: ShownList, to: Path, progress: Progress) -> Path:
        """Write what a list shows as .xlsx or .csv."""
        return write_list(self._register, shown, to, self.today, progress)

    def write_summary(self, to: Path, progress: Progress) -> Path:
        """Write the compliance summary as .pdf or .xlsx."""
        return write_report.write_summary(self._register, to, self.today, progress)

    def rules(self, place: str) -> RuleSet:
        """The rule set in force at a place."""
        return set_rules.rules_at(self._register, place)

    def rule_sets(self) -> tuple[RuleSet, ...]:
        """Every rule set that can be chosen, as published."""
        return tuple(self._register.published.values())

    def choose_rules(self, place: str, rule_set: str, *, who: str) -> ChangeSet:
        """Choose the rule set of a place."""
        return set_rules.choose(self._register, place, rule_set, who=who, at=self._now())

    def preview(self, key: str, place: str, value: float | str | None) -> PolicyPreview:
        """What a value would change for the estate; nothing is written."""
        return preview_policy.preview_policy(self._register, key, value, place, self.today)

    def override(
        self,
        rule_set: str,
        key: str,
        place: str,
        value: float | str | None,
        *,
        who: str,
        why: str,
        seen: RuleValue | None = None,
    ) -> ChangeSet:
        """Put the site's own value in place of a published one; None withdraws it."""
        at = self._now()
        return set_rules.override(
            self._register, rule_set, key, place, value, who=who, at=at, why=why, seen=seen
        )

    def close(self) -> None:
        """Give back the register."""
        self._watch.close()
        self._register.close()

"""What the window asks of the register: the port that the operations stand behind.

Every call is one operation and may run in the worker. Tests put made-up estates behind it.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, datetime
from pathlib import Path
from typing import Protocol

from estate.domain.browsing import OutletPage, PlaceNode
from estate.domain.changes import ChangeSet, OthersChange
from estate.domain.due import DueLine
from estate.domain.estate_reading import EstateReading
from estate.domain.findings import Judgement
from estate.domain.instruments import Instrument
from estate.domain.intake import AssetRow, AttemptRow, SheetReading
from estate.domain.layouts import FieldOffer, Layout, SheetKind, ShownSheet
from estate.domain.learned import LearnedLine
from estate.domain.preview import PolicyPreview
from estate.domain.progress import Progress
from estate.domain.questions import Answer, Question
from estate.domain.register import Batch, RegisterIdentity
from estate.domain.roles import Role
from estate.domain.rules.values import RuleSet, RuleValue
from estate.domain.shown_list import ShownList
from estate.domain.signatures import Signing
from estate.domain.visits import Visit, VisitDraft
from estate.window.choosing import Choosing
from estate.window.documents import Documents
from estate.window.editing import Editing
from estate.window.signatures import Signatures
from estate.window.trust import Safe, Trust
from estate.window.upkeep import Upkeep
from estate.window.work import Work


class Recorded(Protocol):
    """What recording a visit came to."""

    @property
    def visit(self) -> Visit:
        """The entry."""

    @property
    def judgement(self) -> Judgement:
        """What it was judged to be."""

    @property
    def changes(self) -> ChangeSet:
        """What it changed."""


class ProposedVisit(Protocol):
    """A row of results that would be taken, judged beforehand."""

    @property
    def draft(self) -> VisitDraft:
        """What would be entered."""

    @property
    def ref(self) -> str:
        """The outlet's reference in the register."""

    @property
    def judgement(self) -> Judgement:
        """What it would be judged to be."""


class ProposedAsset(Protocol):
    """A row of an asset list that would be taken."""

    @property
    def row(self) -> AssetRow:
        """The row as read."""


class ProposedAttempt(Protocol):
    """A row that says that nobody could get at the valve."""

    @property
    def row(self) -> AttemptRow:
        """The row as read."""

    @property
    def ref(self) -> str:
        """The outlet's reference."""


class AssetChange(Protocol):
    """One field in which a sheet and the register differ, to be taken from the sheet."""

    @property
    def ref(self) -> str:
        """The outlet's reference."""

    @property
    def field(self) -> str:
        """Name of the field in words."""

    @property
    def before(self) -> str:
        """What the register holds."""

    @property
    def after(self) -> str:
        """What the sheet says."""

    @property
    def sheet(self) -> str:
        """Name of the sheet."""

    @property
    def row_number(self) -> int:
        """1-based row in it."""


class MatchedBy(Protocol):
    """How a row found its outlet."""

    @property
    def by(self) -> str:
        """By which of the ways of matching."""


class Proposal(Protocol):
    """A sheet read against the register; nothing is written yet."""

    @property
    def reading(self) -> SheetReading:
        """The file as read."""

    @property
    def visits(self) -> Sequence[ProposedVisit]:
        """Results that would be taken."""

    @property
    def assets(self) -> Sequence[ProposedAsset]:
        """Outlets and valves that would be added."""

    @property
    def already_there(self) -> int:
        """Rows that the register holds already."""

    @property
    def questions(self) -> Sequence[Question]:
        """Rows that would not be taken, and why."""

    @property
    def attempts(self) -> Sequence[ProposedAttempt]:
        """Attempted visits that would be kept."""

    @property
    def changes(self) -> Sequence[AssetChange]:
        """Fields of outlets and valves that would change."""

    @property
    def notes(self) -> Sequence[Question]:
        """What is worth knowing of rows that are taken."""

    @property
    def matched(self) -> Sequence[MatchedBy]:
        """How each row found its outlet."""

    @property
    def accepted(self) -> int:
        """Rows that would be taken."""


@dataclass(frozen=True, slots=True)
class Looked:
    """A sheet read against the register, with what is shown beside it.

    Attributes:
        fields: what its columns can be taken for.
        shown: its sheets as they are.
    """

    proposal: Proposal
    fields: tuple[FieldOffer, ...]
    shown: tuple[ShownSheet, ...]


class BatchPage(Protocol):
    """A batch that was brought in."""

    @property
    def batch(self) -> Batch:
        """Who, when, and how it was read."""

    @property
    def questions(self) -> Sequence[Question]:
        """Rows not taken."""

    @property
    def answers(self) -> Sequence[Answer]:
        """What was answered."""

    @property
    def followed_by(self) -> Sequence[int]:
        """Batches that took more of its rows."""

    @property
    def rests_on_it(self) -> Sequence[str]:
        """What would have to be undone before it, in words."""

    @property
    def signing(self) -> Signing:
        """Who signed it, with all its rows."""


class Brought(Protocol):
    """What bringing in a sheet came to."""

    @property
    def accepted(self) -> int:
        """Rows taken."""

    @property
    def already_there(self) -> int:
        """Rows that were there already."""

    @property
    def questions(self) -> Sequence[Question]:
        """Rows not taken."""

    @property
    def changes(self) -> ChangeSet:
        """What it changed."""


class Desk(Protocol):
    """Everything the window can ask of one open register; `who` is the name kept beside an entry."""

    @property
    def today(self) -> date:
        """The day by which everything is judged and planned."""

    @property
    def where(self) -> str:
        """The file or database, for the title bar."""

    @property
    def trust(self) -> Trust:
        """The trail, checkpoints, verifying and backing up."""

    @property
    def signatures(self) -> Signatures:
        """Keys, signing and countersigning."""

    @property
    def documents(self) -> Documents:
        """Documents and photographs."""

    @property
    def work(self) -> Work:
        """Actions, and outlets in and out of use."""

    @property
    def upkeep(self) -> Upkeep:
        """People and upkeep."""

    @property
    def choosing(self) -> Choosing:
        """Suitability, causes, the year ahead, instruments."""

    @property
    def editing(self) -> Editing:
        """Changes of places, outlets and valves by hand."""

    @property
    def known_at(self) -> datetime | None:
        """The past moment (UTC) whose knowledge this is; None of the register as it is now."""

    def as_known_at(self, moment: datetime, progress: Progress) -> "Desk":
        """A desk on the register as it was known at a moment, which only reads; close it when done."""

    def role(self) -> Role:
        """What the account may do that the register was opened with."""

    def news(self) -> Sequence[OthersChange]:
        """What others did to the register since it was last asked, oldest first."""

    def identity(self) -> RegisterIdentity:
        """Name, identifier and rule sets in force."""

    def read(self) -> EstateReading:
        """Places, due lines, first page and what is found by its words, from one reading."""

    def tree(self) -> tuple[PlaceNode, ...]:
        """The places with what needs attention at each."""

    def outlet_page(self, outlet_id: int) -> OutletPage:
        """Everything about one outlet."""

    def chance_by(self, page: OutletPage, day: date) -> float | None:
        """Chance that an outlet's valve reaches its ceiling by a day; None where it can't be said."""

    def learned_lines(self) -> tuple[LearnedLine, ...]:
        """What has been learned of every valve in place; empty before groups have been fitted."""

    def due_lines(self) -> tuple[DueLine, ...]:
        """Every valve in place, in walking order."""

    def instruments(self) -> tuple[Instrument, ...]:
        """Measuring instruments."""

    def people(self) -> Sequence[str]:
        """Names seen on visits."""

    def judge(self, draft: VisitDraft, without: int | None = None) -> Judgement:
        """What a visit would be judged to be (in place of an entry, if given); nothing is written."""

    def record(self, draft: VisitDraft, who: str) -> Recorded:
        """Add a visit."""

    def correct(self, visit_id: int, draft: VisitDraft, who: str, why: str = "") -> Recorded:
        """Add a visit that counts in place of an earlier entry, with the reason where one is given."""

    def void(self, visit_id: int, reason: str, who: str) -> ChangeSet:
        """Say of an entry, with a reason, that it no longer counts."""

    def look(
        self,
        path: Path,
        kind: SheetKind | None,
        progress: Progress,
        layout: Layout | None = None,
        answers: Sequence[Answer] = (),
    ) -> Proposal:
        """Read a sheet against the register, as a layout says and with answers; nothing is written."""

    def shown(self, proposal: Proposal) -> tuple[ShownSheet, ...]:
        """The sheets of a proposal as they are."""

    def fields(self, kind: SheetKind) -> tuple[FieldOffer, ...]:
        """What the columns of a sheet can be taken for."""

    def commit(
        self, proposal: Proposal, who: str, progress: Progress, keep_layout: str = "", sender: str = ""
    ) -> Brought:
        """Take the rows of a proposal, as one batch; remember its layout by a name, if one is given."""

    def look_again(
        self, batch_id: int, progress: Progress, layout: Layout | None = None, answers: Sequence[Answer] = ()
    ) -> Proposal:
        """Read the file of a batch again, with more answers; nothing is written."""

    def batches(self) -> tuple[Batch, ...]:
        """What was brought in, oldest first."""

    def batch_page(self, batch_id: int) -> BatchPage:
        """One batch with its questions, answers, and what rests on it."""

    def kept_sheets(self, batch_id: int) -> tuple[ShownSheet, ...]:
        """The sheets of the file that is kept with a batch."""

    def undo_batch(self, batch_id: int, who: str, why: str) -> ChangeSet:
        """Undo a batch whole."""

    def save_batch_file(self, batch_id: int, to: Path) -> Path:
        """Write the file of a batch as it came."""

    def write_round_sheet(self, to: Path, within_weeks: int, progress: Progress) -> Path:
        """Write a blank round sheet for what is due within some weeks."""

    def write_marked(self, proposal: Proposal, to: Path, progress: Progress) -> Path:
        """Write a copy of a sheet with the questioned cells marked."""

    def write_overdue(self, to: Path, progress: Progress) -> Path:
        """Write the overdue list as .pdf or .xlsx."""

    def write_list(self, shown: ShownList, to: Path, progress: Progress) -> Path:
        """Write what a list shows as .xlsx or .csv."""

    def write_summary(self, to: Path, progress: Progress) -> Path:
        """Write the compliance summary as .pdf or .xlsx."""

    def rules(self, place: str) -> RuleSet:
        """The rule set in force at ``estate``, ``building:ID`` or ``outlet:ID``."""

    def rule_sets(self) -> tuple[RuleSet, ...]:
        """Every rule set that can be chosen, as published."""

    def choose_rules(self, place: str, rule_set: str, *, who: str) -> ChangeSet:
        """Choose the rule set of a place."""

    def preview(self, key: str, place: str, value: float | str | None) -> PolicyPreview:
        """What a value would change for the estate; nothing is written."""

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
        """Put the site's own value in place of a published one, unless another than the one seen is in force.

        None withdraws it.
        """

    def close(self) -> None:
        """Give back the register."""


class Doors(Protocol):
    """How registers are opened and made; each call may run in the worker."""

    @property
    def safe(self) -> Safe:
        """Backups of registers, and restoring from them."""

    def address(self, where: str) -> str:
        """Where a register lies as it may be shown and kept: without a password."""

    def open(self, where: str, password: str = "") -> Desk:
        """Open a register; a password is for a server's login, and is kept nowhere but in memory."""

    def make(self, where: Path, name: str, who: str) -> Desk:
        """Make an empty register."""

    def sample(self, progress: Progress) -> Desk:
        """Open a copy of the sample estate."""

"""What bringing in a sheet would do, and what it did."""

from dataclasses import dataclass, field
from datetime import date

from estate.domain.changes import ChangeSet
from estate.domain.findings import Judgement
from estate.domain.intake import AssetRow, AttemptRow, SheetReading
from estate.domain.places import OutletPath
from estate.domain.questions import Answer, Question
from estate.domain.visits import VisitDraft
from estate.operations.holdings import Holdings


@dataclass(frozen=True, slots=True)
class MatchedBy:
    """How a row found its outlet.

    Attributes:
        by: ``key``, ``reference``, ``look-alike``, ``alias`` or ``place``.
        confidence: 0 to 1.
    """

    sheet: str
    row: int
    ref: str
    by: str
    confidence: float


@dataclass(frozen=True, slots=True)
class ProposedVisit:
    """A visit that would be recorded, with its judgement.

    Attributes:
        corrects: id of the entry in the register that it corrects, as a person answered.
    """

    draft: VisitDraft
    ref: str
    judgement: Judgement
    corrects: int | None = None


@dataclass(frozen=True, slots=True)
class ProposedAttempt:
    """A row that says that nobody could get at the valve; it would be kept as such."""

    row: AttemptRow
    outlet_id: int
    ref: str


@dataclass(frozen=True, slots=True)
class NewAsset:
    """A row to be added; `group` tells rows apart that share one valve body."""

    row: AssetRow
    group: tuple[object, ...]


@dataclass(frozen=True, slots=True)
class AssetChange:
    """One field of an outlet or its valve in which a sheet and the register differ.

    Attributes:
        name: of the field, such as ``set_c``.
        field: the same in words.
        before, after: what the register holds and what the sheet says, in words.
        valve_id: of the valve in place; None where there is none.
        room: where the outlet moves to; None where another field changes.
    """

    row: AssetRow
    ref: str
    outlet_id: int
    valve_id: int | None
    name: str
    field: str
    before: str
    after: str
    room: OutletPath | None = None

    @property
    def sheet(self) -> str:
        """Name of the sheet."""
        return self.row.source.sheet

    @property
    def row_number(self) -> int:
        """1-based row in it."""
        return self.row.source.row


@dataclass(frozen=True, slots=True)
class MissingOutlet:
    """An outlet in use that an asset list of its building does not name.

    Attributes:
        retire: whether a person answered that it is to be retired.
    """

    outlet_id: int
    ref: str
    retire: bool = False


@dataclass(frozen=True, slots=True)
class Proposal:
    """What bringing in a sheet would do; nothing is written yet.

    Attributes:
        reading: the file as read.
        content: the file's bytes, to be kept as proof.
        today: the day on which it was looked at.
        already_there: rows that the register already holds.
        questions: rows left out, in the order of the file.
        answers: what a person answered, kept with the batch.
        attempts: rows that tell of a visit without access; each is among the questions as well.
        changes: fields to be taken from an asset list.
        missing: outlets that an asset list of their building does not name.
        notes: worth saying; the rows are taken all the same.
        matched: how each row found its outlet.
        left_out: rows that a person chose to leave out.
        learnt: words of the sheet and the outlets that a person said they stand for.
        follows: the batch whose open questions this answers.
        known: the register as it was then, so that it need not be read again.
        again: valves whose later visits in the register have to be judged again, with the day from which.
        state: of the register when it was looked at: it moves with every change.
    """

    reading: SheetReading
    content: bytes = field(repr=False)
    today: date
    visits: tuple[ProposedVisit, ...] = ()
    assets: tuple[NewAsset, ...] = ()
    already_there: int = 0
    questions: tuple[Question, ...] = ()
    answers: tuple[Answer, ...] = ()
    attempts: tuple[ProposedAttempt, ...] = ()
    changes: tuple[AssetChange, ...] = ()
    missing: tuple[MissingOutlet, ...] = ()
    notes: tuple[Question, ...] = ()
    matched: tuple[MatchedBy, ...] = ()
    left_out: int = 0
    learnt: tuple[tuple[str, int], ...] = ()
    follows: int | None = None
    again: tuple[tuple[int, date], ...] = ()
    state: int = 0
    known: Holdings | None = field(default=None, repr=False, compare=False)

    @property
    def accepted(self) -> int:
        """Rows that would be written."""
        changed = {(each.sheet, each.row_number) for each in self.changes}
        return len(self.visits) + len(self.assets) + len(changed)

    @property
    def retired(self) -> tuple[MissingOutlet, ...]:
        """Outlets that would be retired."""
        return tuple(each for each in self.missing if each.retire)

    @property
    def has_news(self) -> bool:
        """Whether anything would be written."""
        return bool(self.accepted or self.attempts or self.retired)


@dataclass(frozen=True, slots=True)
class Brought:
    """What was written.

    Attributes:
        batch_id: None where there was nothing new to write.
        attempts: visits without access that were kept.
        retired: outlets retired.
        layout: name of the layout that the sheet was read by or is remembered by from now on.
        learnt: outlets whose names in the sheet are remembered.
    """

    batch_id: int | None
    accepted: int
    already_there: int
    questions: tuple[Question, ...]
    changes: ChangeSet
    attempts: int = 0
    retired: int = 0
    notes: tuple[Question, ...] = ()
    answers: tuple[Answer, ...] = ()
    layout: str = ""
    forms: tuple[str, ...] = ()
    date_order: str = ""
    digest: str = ""
    learnt: int = 0
    follows: int | None = None

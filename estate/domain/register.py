"""What a register says of itself, for every report's heading, and of the files brought into it."""

from dataclasses import dataclass
from datetime import date, datetime

from estate.domain.layouts import SheetKind


@dataclass(frozen=True, slots=True)
class RuleSetIdentity:
    """A rule set in force: its id, title and edition."""

    id: str
    title: str
    edition: str


@dataclass(frozen=True, slots=True)
class RegisterIdentity:
    """Name and identity of a register and the rule sets in force.

    Attributes:
        identifier: made once when the register is made; tells two registers of one name apart.
        revision: schema revision.
    """

    name: str
    identifier: str
    revision: str
    rule_sets: tuple[RuleSetIdentity, ...]


@dataclass(frozen=True, slots=True)
class AsAt:
    """The day and register that a report speaks of.

    Attributes:
        known_at: the past moment (UTC) whose knowledge it is; None where the register is as it is now.
    """

    today: date
    register: RegisterIdentity
    known_at: datetime | None = None


@dataclass(frozen=True, slots=True)
class BatchUndo:
    """Who undid a batch, when (UTC) and why."""

    who: str
    at: datetime
    why: str


@dataclass(frozen=True, slots=True)
class Batch:
    """A file brought in.

    Attributes:
        digest: SHA-256 of the file's bytes, hexadecimal.
        read, accepted, already_there, questioned: rows.
        who, at: who brought it in and when (UTC).
        layout: name of the remembered layout it was read by; empty where none was.
        forms: how its tables lie, in words.
        date_order: how its written dates were read; empty without dates.
        follows: id of the batch of the same file whose open questions this one answers.
        undone: who undid it; None where it counts.
    """

    id: int
    kind: SheetKind
    file: str
    digest: str
    read: int
    accepted: int
    already_there: int
    questioned: int
    who: str
    at: datetime
    layout: str = ""
    forms: str = ""
    date_order: str = ""
    follows: int | None = None
    undone: BatchUndo | None = None


@dataclass(frozen=True, slots=True)
class WrittenEntry:
    """A row of the register that a batch added or changed.

    Attributes:
        noun: the table, such as ``outlet`` or ``valve``.
        action: ``added`` or ``changed``.
        before, after: the changed columns and what they held, in order; none of an added row.
    """

    noun: str
    row_id: int
    action: str
    before: tuple[tuple[str, object], ...] = ()
    after: tuple[tuple[str, object], ...] = ()

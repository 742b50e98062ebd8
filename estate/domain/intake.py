"""What reading a sheet came to, before and after the register has its say."""

from dataclasses import dataclass
from datetime import date
from enum import StrEnum

from estate.domain.places import Use, UserGroup
from estate.domain.valves import EnType, SchemeClass
from estate.domain.visits import Readings, Source, VisitKind


class SheetKind(StrEnum):
    """What a sheet holds."""

    ASSETS = "assets"
    VISITS = "visits"


@dataclass(frozen=True, slots=True)
class Question:
    """A row that was not taken, and what to do about it.

    Attributes:
        code: stable, such as ``future-date``, ``unknown-outlet``, ``duplicate-row``, ``no-access``.
        sheet, row, cell: where; row is 1-based as the spreadsheet program shows it, cell such as ``C9``.
        ref: the outlet's reference in the register if it was found, else None.
        found: the cell's content in words.
        remedy: what to do.
    """

    sheet: str
    row: int
    cell: str
    code: str
    ref: str | None
    found: str
    remedy: str


@dataclass(frozen=True, slots=True)
class AssetRow:
    """One row of an asset list, read but not yet matched; `cells` maps a field to its cell for questions.

    Attributes:
        designations: codes such as ``HP-W``; none where the sheet gives none.
        check_valves, strainers, isolating_valves, little_used: None where the sheet does not say.
        min_differential_k: least hot-to-mixed difference of the model, K (D08-24).
        max_pressure_ratio: greatest ratio of the supply pressures for the model, to 1 (D08-26).
    """

    source: Source
    reference: str
    site: str
    building: str
    level: str
    room_number: str
    room: str
    outlet: str
    use: Use
    user_group: UserGroup
    make: str = ""
    model: str = ""
    serial: str = ""
    scheme_class: SchemeClass | None = None
    size_mm: float | None = None
    set_c: float | None = None
    fitted_on: date | None = None
    pipe_m: float | None = None
    designations: tuple[str, ...] = ()
    en_type: EnType | None = None
    check_valves: bool | None = None
    strainers: bool | None = None
    isolating_valves: bool | None = None
    min_differential_k: float | None = None
    max_pressure_ratio: float | None = None
    little_used: bool | None = None
    cells: tuple[tuple[str, str], ...] = ()

    def cell(self, field: str) -> str:
        """The cell of a field, such as ``C9``; empty if the sheet has no such column."""
        return dict(self.cells).get(field, "")


@dataclass(frozen=True, slots=True)
class VisitRow:
    """One row of results, read but not yet matched; `cells` maps a field to its cell for questions."""

    source: Source
    reference: str
    kind: VisitKind
    on: date
    readings: Readings
    person: str = ""
    instrument: str = ""
    remarks: str = ""
    cells: tuple[tuple[str, str], ...] = ()

    def cell(self, field: str) -> str:
        """The cell of a field, such as ``C9``; empty if the sheet has no such column."""
        return dict(self.cells).get(field, "")


@dataclass(frozen=True, slots=True)
class SheetReading:
    """A file as read: rows in order, questions about the rows it could not read.

    Attributes:
        read: rows of data met, whether taken or questioned.
        digest: SHA-256 of the file's bytes, hexadecimal.
        mapping: (sheet, heading as written, field) for each column understood.
    """

    file: str
    digest: str
    kind: SheetKind
    read: int
    assets: tuple[AssetRow, ...] = ()
    visits: tuple[VisitRow, ...] = ()
    questions: tuple[Question, ...] = ()
    mapping: tuple[tuple[str, str, str], ...] = ()

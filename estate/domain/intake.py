"""What reading a sheet came to, before and after the register has its say."""

from dataclasses import dataclass
from datetime import date

from estate.domain.cell_names import FieldCells
from estate.domain.layouts import Form, SheetKind, TableMap
from estate.domain.places import Use, UserGroup
from estate.domain.questions import Question
from estate.domain.valves import EnType, SchemeClass
from estate.domain.visits import Readings, Source, VisitKind


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
    cells: FieldCells = ()

    def cell(self, field: str) -> str:
        """The cell of a field, such as ``C9``; empty if the sheet has no such column."""
        return dict(self.cells).get(field, "")


@dataclass(frozen=True, slots=True)
class PlaceWords:
    """Where a sheet says that an outlet is; empty where it does not say."""

    site: str = ""
    building: str = ""
    level: str = ""
    room_number: str = ""
    room: str = ""
    outlet: str = ""

    @property
    def told(self) -> bool:
        """Whether anything is said."""
        return any((self.site, self.building, self.level, self.room_number, self.room, self.outlet))


NOWHERE = PlaceWords()


@dataclass(frozen=True, slots=True)
class VisitRow:
    """One row of results, read but not yet matched; `cells` maps a field to its cell for questions.

    Attributes:
        reference: as written; empty where the sheet names the outlet by place or key alone.
        key: of a round sheet that this register wrote; empty on any other.
        place: where the sheet says that the outlet is.
    """

    source: Source
    reference: str
    kind: VisitKind
    on: date
    readings: Readings
    person: str = ""
    instrument: str = ""
    remarks: str = ""
    cells: FieldCells = ()
    key: str = ""
    place: PlaceWords = NOWHERE

    def cell(self, field: str) -> str:
        """The cell of a field, such as ``C9``; empty if the sheet has no such column."""
        return dict(self.cells).get(field, "")


@dataclass(frozen=True, slots=True)
class AttemptRow:
    """One row that says that the tester could not get at the valve.

    Attributes:
        why: the words of the sheet, such as "no access, room occupied".
    """

    source: Source
    reference: str
    on: date
    why: str
    person: str = ""
    cells: FieldCells = ()
    key: str = ""
    place: PlaceWords = NOWHERE

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
        attempts: rows that say that the valve could not be reached; each is asked about as well.
        layout: name of the remembered layout that was used; empty where none was.
        forms: how each table lies in its sheet, in the order of the tables.
        units: (sheet, field, unit as written, how it was known: ``heading``, ``cell``, ``layout`` or
            ``plausibility``) of each temperature column and of each column that was converted.
        date_order: how the written dates were read: ``day first``, ``month first``, ``year first``, ``real
            dates``, or ``mixed``; empty without dates.
        blank: rows of a round sheet in which nothing was entered.
        tables: where each table is and what each column was taken for.
        notes: worth saying, such as columns that are not read; the rows are taken all the same.
    """

    file: str
    digest: str
    kind: SheetKind
    read: int
    assets: tuple[AssetRow, ...] = ()
    visits: tuple[VisitRow, ...] = ()
    questions: tuple[Question, ...] = ()
    mapping: tuple[tuple[str, str, str], ...] = ()
    attempts: tuple[AttemptRow, ...] = ()
    layout: str = ""
    forms: tuple[Form, ...] = ()
    units: tuple[tuple[str, str, str, str], ...] = ()
    date_order: str = ""
    blank: int = 0
    tables: tuple[TableMap, ...] = ()
    notes: tuple[Question, ...] = ()

"""How a sheet lies: its kind, its form, what each column is taken for, and what is remembered of a sender."""

from dataclasses import dataclass
from enum import StrEnum


class SheetKind(StrEnum):
    """What a sheet holds."""

    ASSETS = "assets"
    VISITS = "visits"


class Form(StrEnum):
    """How the entries lie in a sheet."""

    ROWS = "one row a visit or outlet"
    CARDS = "one card a valve"
    ACROSS = "one column a visit"


class DateOrder(StrEnum):
    """In which order a written date has its parts."""

    DAY_FIRST = "day first"
    MONTH_FIRST = "month first"
    YEAR_FIRST = "year first"


@dataclass(frozen=True, slots=True)
class LayoutColumn:
    """One heading and what it stands for.

    Attributes:
        heading: as written.
        field: name of the field, such as ``cold_isolated.max_c``; empty leaves the column out.
        unit: name of the unit, such as ``fahrenheit``; empty takes it from the heading or the cell.
    """

    heading: str
    field: str
    unit: str = ""


@dataclass(frozen=True, slots=True)
class Layout:
    """What a person confirmed of a sender's sheets, to read the next one alike.

    Attributes:
        name: chosen by the person; unique in a register.
        columns: every heading of the table, those left out too.
        date_order: None finds it from each sheet's own columns.
        sender: who sends such sheets, in words.
    """

    name: str
    kind: SheetKind
    columns: tuple[LayoutColumn, ...]
    form: Form = Form.ROWS
    date_order: DateOrder | None = None
    sender: str = ""


@dataclass(frozen=True, slots=True)
class TableColumn:
    """One column of a table as it was understood.

    Attributes:
        index: 0-based column of the sheet; of cards, the running number of the label.
        field: empty where the heading was not understood.
        unit: name of the unit; empty where none was found.
        how: ``words``, ``layout``, ``values`` or ``neighbours``; empty where nothing was understood.
        suggested: name of the field that the values look like, where the heading was not understood.
    """

    index: int
    heading: str
    field: str = ""
    unit: str = ""
    how: str = ""
    suggested: str = ""


@dataclass(frozen=True, slots=True)
class TableMap:
    """Where a table is in its sheet and what its columns were taken for.

    Attributes:
        header: 1-based rows of the header.
        first, last: 1-based rows of the first and last entry; both 0 without one.
    """

    sheet: str
    form: Form
    header: tuple[int, ...]
    first: int
    last: int
    columns: tuple[TableColumn, ...]


@dataclass(frozen=True, slots=True)
class ShownSheet:
    """A sheet as a person sees it: the words of its cells from row 1 and column A."""

    name: str
    rows: tuple[tuple[str, ...], ...]
    hidden: bool = False


@dataclass(frozen=True, slots=True)
class FieldOffer:
    """What a column can be taken for.

    Attributes:
        name: of the field, such as ``cold_isolated.max_c``.
        units: names of the units that it can be written in; none for anything but a number.
    """

    name: str
    units: tuple[str, ...] = ()

"""A file becomes rows and questions; nothing is known here of the register."""

import hashlib
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from pathlib import Path

from estate.domain.cell_names import column_name, place_name
from estate.domain.intake import AssetRow, AttemptRow, SheetReading, VisitRow
from estate.domain.layouts import Layout, SheetKind, TableMap
from estate.domain.phrases import phrase
from estate.domain.questions import Answers, Choice, Question
from estate.intake.asset_rows import AssetReader
from estate.intake.cell_reader import CellReader, Used, agree_on_order
from estate.intake.entries import Entries
from estate.intake.facts import Facts, facts_of
from estate.intake.opening import content_of, grids_in
from estate.intake.row_reader import RowReader
from estate.intake.rows import TableRow
from estate.intake.sheets import Reader
from estate.intake.table import Table
from estate.intake.unread import unread_columns
from estate.intake.visit_rows import Blank, VisitReader
from estate.intake.words_file import load

_Read = VisitRow | AssetRow | AttemptRow | Blank | None

NO_ANSWERS = Answers()
_HIDDEN = phrase("Whoever opens the sheet does not see this row: say whether it counts.")


@dataclass(slots=True)
class _Gathered:
    """What has been read so far."""

    read: int = 0
    blank: int = 0
    assets: list[AssetRow] = field(default_factory=list)
    visits: list[VisitRow] = field(default_factory=list)
    attempts: list[AttemptRow] = field(default_factory=list)
    questions: list[Question] = field(default_factory=list)
    mapping: list[tuple[str, str, str]] = field(default_factory=list)
    units: list[tuple[str, str, str, str]] = field(default_factory=list)
    orders: set[str] = field(default_factory=set)
    tables: list[TableMap] = field(default_factory=list)


def read(
    path: Path,
    kind: SheetKind | None = None,
    *,
    layouts: Sequence[Layout] = (),
    layout: Layout | None = None,
    answers: Answers = NO_ANSWERS,
) -> SheetReading:
    """Read a file of assets or results.

    Args:
        path: a workbook or delimited text.
        kind: what its sheets hold; None to find out.
        layouts: remembered ones; one whose headings are those of a table is used for it.
        layout: one that is used whatever the headings are.
        answers: what a person says of the questions.

    Returns:
        Its rows in order, and a question for each row that could not be taken.

    Raises:
        IntakeFault: the file can't be opened, no sheet has the columns needed, or the layout does not fit.
    """
    return read_content(content_of(path), path.name, kind, layouts=layouts, layout=layout, answers=answers)


def read_content(
    content: bytes,
    file: str,
    kind: SheetKind | None = None,
    *,
    layouts: Sequence[Layout] = (),
    layout: Layout | None = None,
    answers: Answers = NO_ANSWERS,
) -> SheetReading:
    """Read the bytes of a file; see `read`."""
    words = load()
    reader = Reader(words, kind, layouts, layout)
    sheets = reader.read(grids_in(content, file, reader.understood))
    gathered = _Gathered(questions=sheets.questions)
    named = {each.name: each for each in (*layouts, *([layout] if layout else []))}
    readers = []
    for entries in sheets.entries:
        used = named.get(entries.table.layout) if entries.table.layout is not None else None
        order = used.date_order if used else None
        readers.append(CellReader(entries.table, entries.rows, words, order, answers))
    agree_on_order(readers)
    for entries, cells in zip(sheets.entries, readers, strict=True):
        facts = facts_of(entries.table, _taken(entries, sheets.entries), words)
        _read_table(entries, cells, facts, file, gathered)
    names = dict.fromkeys(entries.table.layout for entries in sheets.entries if entries.table.layout)
    return SheetReading(
        file=file,
        digest=hashlib.sha256(content).hexdigest(),
        kind=sheets.kind,
        read=gathered.read,
        assets=tuple(gathered.assets),
        visits=tuple(gathered.visits),
        questions=tuple(gathered.questions),
        mapping=tuple(gathered.mapping),
        attempts=tuple(gathered.attempts),
        layout=", ".join(names),
        forms=tuple(entries.table.form for entries in sheets.entries),
        units=tuple(dict.fromkeys(gathered.units)),
        date_order=_one_order(gathered.orders),
        blank=gathered.blank,
        tables=tuple(gathered.tables),
        notes=tuple(note for entries in sheets.entries for note in unread_columns(entries.table, words)),
    )


def _taken(entries: Entries, all_entries: Sequence[Entries]) -> frozenset[int]:
    """The rows of a table's sheet that are data or header of any table in it."""
    taken: set[int] = set()
    for each in all_entries:
        if each.table.grid.name == entries.table.grid.name:
            taken.update(each.table.taken)
            taken.update(row.number - 1 for row in each.rows)
    return frozenset(taken)


def _one_order(orders: set[str]) -> str:
    return "mixed" if len(orders) > 1 else next(iter(orders), "")


def _read_table(entries: Entries, cells: CellReader, facts: Facts, file: str, gathered: _Gathered) -> None:
    table = entries.table
    read_row: Callable[[RowReader], _Read] = (
        VisitReader(table, file, facts).read
        if table.kind is SheetKind.VISITS
        else AssetReader(table, file).read
    )
    for row in entries.rows:
        if table.hidden_rows and row.number - 1 in table.hidden_rows and not _counts(row, cells, gathered):
            continue
        reader = RowReader(row, cells)
        _gather(_settled(reader, read_row), gathered)
        gathered.questions += reader.questions
    gathered.read += len(entries.rows)
    gathered.orders |= cells.manners - {""}
    gathered.units += [(table.grid.name, name, unit.shown, how) for name, unit, how in cells.used]
    gathered.mapping += _mapping(table, cells.used)
    if facts.kind and "kind" not in table.places:
        gathered.mapping.append((table.grid.name, facts.title, f"kind: {facts.kind}"))
    numbers = [row.number for row in entries.rows]
    gathered.tables.append(table.map(min(numbers, default=0), max(numbers, default=0)))


def _settled(reader: RowReader, read_row: Callable[[RowReader], _Read]) -> _Read:
    """Read a row, and again for as long as answers change its cells."""
    found = read_row(reader)
    while reader.close():
        found = read_row(reader)
    return None if reader.left_out else found


def _gather(found: _Read, gathered: _Gathered) -> None:
    if isinstance(found, VisitRow):
        gathered.visits.append(found)
    elif isinstance(found, AssetRow):
        gathered.assets.append(found)
    elif isinstance(found, AttemptRow):
        gathered.attempts.append(found)
    elif found is not None:
        gathered.blank += 1


def _counts(row: TableRow, cells: CellReader, gathered: _Gathered) -> bool:
    """Whether a person says that a hidden row is to be taken; it is asked about where nobody says."""
    sheet, place = row.table.grid.name, row.where("reference")
    answer = cells.answers.to("hidden-row", sheet, row.number, place) if cells.answers else None
    if answer is None:
        reference = row.text("reference")
        gathered.questions.append(
            Question(sheet, row.number, place, "hidden-row", reference or None, reference, _HIDDEN)
        )
    return answer is not None and answer.choice is Choice.TAKE


def _mapping(table: Table, used: Sequence[Used]) -> list[tuple[str, str, str]]:
    lines = []
    for column in table.known:
        name = column.field.name if column.field else ""
        lines.append((table.grid.name, column.heading, name))
        if table.is_hidden(column) and name != "key":
            where = column_name(column.index + table.view.left)
            lines.append((table.grid.name, f"{column.heading} ({where}, hidden)", name))
        for unit in dict.fromkeys(
            unit for field_name, unit, _ in used if field_name == name and unit.converts
        ):
            place = table.named(table.header[-1], column.index) or place_name(0, column.index)
            said = f"{name}, converted from {unit.written[0]}"
            lines.append((table.grid.name, f"{column.heading} ({place})", said))
    return lines

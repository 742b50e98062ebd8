"""A file becomes rows and questions; nothing is known here of the register."""

import hashlib
from dataclasses import dataclass, field
from pathlib import Path

from estate.domain.intake import AssetRow, SheetReading, VisitRow
from estate.domain.layouts import SheetKind
from estate.domain.questions import Question
from estate.errors import IntakeFault
from estate.intake import csv_text, workbook
from estate.intake.asset_rows import read_asset
from estate.intake.dates import order_of
from estate.intake.facts import facts_of
from estate.intake.grid import Grid, place_name
from estate.intake.layout import Table
from estate.intake.package import damaged, too_big
from estate.intake.row_reader import RowReader
from estate.intake.rows import data_rows
from estate.intake.sheets import tables_in, understood
from estate.intake.visit_rows import read_visit
from estate.intake.words import Unit, Words
from estate.intake.words_file import load

MOST_FILE_BYTES = 60_000_000
"""A bigger file is refused unread."""

_OLD_CONTAINER = b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"


@dataclass(slots=True)
class _Gathered:
    """What has been read so far."""

    read: int = 0
    assets: list[AssetRow] = field(default_factory=list)
    visits: list[VisitRow] = field(default_factory=list)
    questions: list[Question] = field(default_factory=list)
    mapping: list[tuple[str, str, str]] = field(default_factory=list)


def read(path: Path, kind: SheetKind | None = None) -> SheetReading:
    """Read a file of assets or results.

    Args:
        path: an xlsx workbook or delimited text.
        kind: what its sheets hold; None to find out.

    Returns:
        Its rows in order, and a question for each row that could not be taken.

    Raises:
        IntakeFault: the file can't be opened, or no sheet has the columns needed.
    """
    content = _content(path)
    words = load()
    tables, leftover = tables_in(_grids(content, path, words, kind), words, kind)
    gathered = _Gathered(questions=leftover)
    for table in tables:
        _read_table(table, path.name, words, gathered)
    return SheetReading(
        file=path.name,
        digest=hashlib.sha256(content).hexdigest(),
        kind=tables[0].kind,
        read=gathered.read,
        assets=tuple(gathered.assets),
        visits=tuple(gathered.visits),
        questions=tuple(gathered.questions),
        mapping=tuple(gathered.mapping),
    )


def _content(path: Path) -> bytes:
    if not path.is_file():
        remedy = "Check the name and the folder."
        raise IntakeFault("The file is not there", f"“{path}” is not a file.", remedy)
    try:
        size = path.stat().st_size
        if size > MOST_FILE_BYTES:
            raise too_big(path.name, f"{size / 1e6:,.0f} MB")
        content = path.read_bytes()
    except OSError as fault:
        raise damaged(path.name, fault.strerror or "it can't be read") from fault
    if not content.strip():
        raise IntakeFault("The file is empty", f"“{path.name}” has nothing in it.", "Ask for the file again.")
    return content


def _grids(content: bytes, path: Path, words: Words, kind: SheetKind | None) -> tuple[Grid, ...]:
    if content.startswith(_OLD_CONTAINER):
        raise IntakeFault(
            "This workbook can't be opened as it is",
            f"“{path.name}” is locked with a password or is of the old .xls form.",
            "Open it in a spreadsheet program and save it without a password as .xlsx.",
        )
    if content.startswith(b"PK"):
        return workbook.grids_of(content, path.name)
    text = csv_text.text_of(content, path.name)
    trials = csv_text.trials_of(text, path.stem, path.name)
    delimiter = max(trials, key=lambda trial: understood(trial[1], words, kind))[0]
    return (csv_text.grid_of(text, delimiter, path.stem, path.name),)


def _read_table(table: Table, file: str, words: Words, gathered: _Gathered) -> None:
    rows = list(data_rows(table, words))
    facts = facts_of(table, [row.index for row in rows], words)
    order = order_of(row.cell("on" if table.kind is SheetKind.VISITS else "fitted_on") for row in rows)
    converted: set[tuple[str, Unit]] = set()
    for row in rows:
        reader = RowReader(row, words)
        if table.kind is SheetKind.VISITS:
            visit = read_visit(reader, file, facts, order, words)
            gathered.visits += [visit] if visit else []
        else:
            asset = read_asset(reader, file, order)
            gathered.assets += [asset] if asset else []
        gathered.questions += reader.questions
        converted |= reader.converted
    gathered.read += len(rows)
    gathered.mapping += _mapping(table, converted)
    if facts.kind and "kind" not in table.places:
        gathered.mapping.append((table.grid.name, facts.title, f"kind: {facts.kind}"))


def _mapping(table: Table, converted: set[tuple[str, Unit]]) -> list[tuple[str, str, str]]:
    lines = []
    for column in table.known:
        name = column.field.name if column.field else ""
        lines.append((table.grid.name, column.heading, name))
        for _, unit in sorted((each for each in converted if each[0] == name), key=lambda each: each[1].name):
            place = place_name(table.header[-1], column.index)
            lines.append(
                (table.grid.name, f"{column.heading} ({place})", f"{name}, converted from {unit.written[0]}")
            )
    return lines

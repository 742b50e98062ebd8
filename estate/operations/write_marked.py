"""Write a copy of somebody's own workbook with the questions marked in it, to send back."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from pathlib import Path

from estate.domain.layouts import SheetKind
from estate.domain.phrases import phrase
from estate.domain.progress import Progress, silent
from estate.domain.questions import Question
from estate.domain.written_back import is_added
from estate.errors import EntryFault, ReportFault
from estate.intake.grid import Cell, Grid, Trouble, shown
from estate.intake.opening import grids_in
from estate.intake.package import names_in, parts_of
from estate.intake.sheets import Reader
from estate.intake.words_file import load
from estate.operations.bring_in import Proposal
from estate.operations.register import Register
from estate.reports.marked_copy import CopiedCell, CopiedSheet, marked_copy
from estate.reports.xlsx import marked as workbook
from estate.reports.xlsx.appearance import BOOK, RELATIONS, STYLES
from estate.store import batches, identity

_ZIPPED = b"PK"


@dataclass(frozen=True, slots=True)
class _Asked:
    file: str
    content: bytes
    kind: SheetKind
    today: date
    questions: tuple[Question, ...]


def write_marked(register: Register, what: Proposal | int, to: Path, progress: Progress = silent) -> Path:
    """Write a workbook as it was brought in, with each questioned cell marked and a list of all questions.

    It holds values only: no formula, macro, link or picture goes from one file into the other. Formatting is
    kept where the file is an .xlsx workbook. Corrected and brought in again, it is the same sheet.

    Args:
        register: the open register.
        what: a proposal, or the id of a batch.
        to: a file that ends in ``.xlsx``.
        progress: told how far the work is; may raise `Cancelled`.

    Returns:
        The path written.

    Raises:
        NotFoundFault: there is no such batch.
        EntryFault: there is no question to send back.
        ReportFault: another ending, or the file can't be written.
        IntakeFault: the file can't be opened.
    """
    if to.suffix.lower() != ".xlsx":
        raise ReportFault("Unknown kind of file", f"{to.name}.", "Give a name that ends in .xlsx.")
    with register.database.reading() as session:
        name = identity.name(session)
    asked = _of_proposal(what) if isinstance(what, Proposal) else _of_batch(register, what)
    if not asked.questions:
        detail = phrase("Every row of “{file}” was taken or is in the register.", file=asked.file)
        raise EntryFault("There is nothing to ask", detail, "No copy is needed.")
    grids = grids_in(asked.content, asked.file, Reader(load(), asked.kind).understood)
    sheets = [_copied(grid) for grid in grids if not is_added(shown(grid.at(0, 0)))]
    parts = _parts(asked.content, asked.file)
    whole = marked_copy(asked.file, name, asked.today, asked.questions, sheets, parts)
    return workbook.write_marked(whole, to, progress)


def _of_proposal(proposal: Proposal) -> _Asked:
    reading = proposal.reading
    return _Asked(reading.file, proposal.content, reading.kind, proposal.today, proposal.questions)


def _of_batch(register: Register, batch_id: int) -> _Asked:
    with register.database.reading() as session:
        content = batches.content(session, batch_id)
        batch = batches.batch(session, batch_id)
        questions = batches.questions(session, batch_id)
    return _Asked(batch.file, content, batch.kind, batch.at.date(), questions)


def _copied(grid: Grid) -> CopiedSheet:
    rows = [[_value(cell) for cell in row] for row in grid.rows]
    return CopiedSheet(grid.name, rows, grid.merged, grid.hidden, grid.hidden_rows, grid.hidden_columns)


def _value(cell: Cell) -> CopiedCell:
    return cell.text if isinstance(cell, Trouble) else cell


def _parts(content: bytes, file: str) -> Mapping[str, bytes]:
    """The measured parts of an .xlsx workbook that say how it looks; none of any other file."""
    if not content.startswith(_ZIPPED) or BOOK not in names_in(content, file):
        return {}
    return parts_of(content, file, _says_how_it_looks)


def _says_how_it_looks(name: str) -> bool:
    return name in (BOOK, RELATIONS, STYLES) or name.startswith("xl/worksheets/sheet")

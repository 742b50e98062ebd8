"""Columns of the sheets brought in."""

from estate.domain.register import Batch
from estate.window import words
from estate.window.marks import Mark
from estate.window.models import cells
from estate.window.models.cells import Cell, Column
from estate.window.models.table import TableModel


def _standing(batch: Batch) -> Cell:
    if batch.undone is not None:
        return Cell("undone", 2.0, Mark.DASH, tip=f"Undone by {batch.undone.who}: {batch.undone.why}")
    if batch.questioned:
        return Cell(
            f"{batch.questioned:,} open", 0.0, Mark.HALF, tip="Rows left out that can be answered later"
        )
    return Cell("whole", 1.0, Mark.TICK)


BATCH_COLUMNS: tuple[Column[Batch], ...] = (
    Column("Batch", lambda row: cells.figure(row.id, 0), "1,000 "),
    Column("Brought in", lambda row: cells.on_day(row.at.date()), "25 Nov 2026"),
    Column("By", lambda row: cells.text(row.who), "T. A. Person"),
    Column("File", lambda row: cells.text(row.file), "contractors round.xlsx", stretches=True),
    Column("Holds", lambda row: cells.text(row.kind.value), "assets"),
    Column("Rows", lambda row: cells.figure(row.read, 0), "10,000 "),
    Column("Taken", lambda row: cells.figure(row.accepted, 0), "10,000 "),
    Column("There\nalready", lambda row: cells.figure(row.already_there, 0), "10,000 "),
    Column("Questions", _standing, "100 open", marked=True),
    Column(
        "Finishes", lambda row: cells.figure(row.follows, 0), "1,000 ", tip="The batch whose rows it took"
    ),
)


def batches_model() -> TableModel[Batch]:
    """What was brought in."""
    return TableModel(BATCH_COLUMNS, lambda row: row.id, lambda row: row.undone is not None)


def moment_words(batch: Batch) -> str:
    """Who brought a batch in and when, and who undid it."""
    said = f"Brought in by {batch.who}, {words.moment(batch.at)}."
    if batch.undone is not None:
        undone = batch.undone
        said += f" Undone by {undone.who}, {words.moment(undone.at)}: {undone.why}."
    return said

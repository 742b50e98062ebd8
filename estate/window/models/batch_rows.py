"""Columns of the sheets brought in."""

from estate.domain.register import Batch
from estate.window import words
from estate.window.marks import Mark
from estate.window.models import cells
from estate.window.models.cells import Cell, Column
from estate.window.models.table import TableModel
from estate.window.translating import said, tr


def _standing(batch: Batch) -> Cell:
    if batch.undone is not None:
        return Cell(
            tr("undone"),
            2.0,
            Mark.DASH,
            tip=tr("Undone by {who}: {why}", who=batch.undone.who, why=batch.undone.why),
        )
    if batch.questioned:
        return Cell(
            tr("{questioned:,} open", questioned=batch.questioned),
            0.0,
            Mark.HALF,
            tip=tr("Rows left out that can be answered later"),
        )
    return Cell(tr("whole"), 1.0, Mark.TICK)


BATCH_COLUMNS: tuple[Column[Batch], ...] = (
    Column(said("Batch"), lambda row: cells.figure(row.id, 0), "1,000 ", id="batch"),
    Column(said("Brought in"), lambda row: cells.on_day(row.at.date()), "25 Nov 2026", id="brought-in"),
    Column(said("By"), lambda row: cells.text(row.who), "T. A. Person", groups=True, id="by"),
    Column(
        said("File"), lambda row: cells.text(row.file), "contractors round.xlsx", stretches=True, id="file"
    ),
    Column(said("Holds"), lambda row: cells.text(tr(row.kind.value)), "assets", groups=True, id="holds"),
    Column(said("Rows"), lambda row: cells.figure(row.read, 0), "10,000 ", id="rows"),
    Column(said("Taken"), lambda row: cells.figure(row.accepted, 0), "10,000 ", id="taken"),
    Column(
        said("There\nalready"), lambda row: cells.figure(row.already_there, 0), "10,000 ", id="there-already"
    ),
    Column(said("Questions"), _standing, "100 open", marked=True, id="questions"),
    Column(
        said("Finishes"),
        lambda row: cells.figure(row.follows, 0),
        "1,000 ",
        tip=said("The batch whose rows it took"),
        id="finishes",
    ),
)


def batches_model() -> TableModel[Batch]:
    """What was brought in."""
    return TableModel(BATCH_COLUMNS, lambda row: row.id, lambda row: row.undone is not None)


def moment_words(batch: Batch) -> str:
    """Who brought a batch in and when, and who undid it."""
    brought = tr("Brought in by {who}, {moment}.", who=batch.who, moment=words.moment(batch.at))
    undone = batch.undone
    if undone is None:
        return brought
    at = words.moment(undone.at)
    return f"{brought} {tr('Undone by {who}, {moment}: {why}.', who=undone.who, moment=at, why=undone.why)}"

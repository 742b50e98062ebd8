"""Columns of what does not fit in a register."""

from estate.domain.trust import Misfit, Verification
from estate.window import words
from estate.window.marks import Mark
from estate.window.models import cells
from estate.window.models.cells import Cell, Column
from estate.window.models.table import TableModel
from estate.window.translating import said, tr, tr_count

MISFIT_COLUMNS: tuple[Column[tuple[int, Misfit]], ...] = (
    Column(
        said("Where"),
        lambda row: Cell(row[1].place, float(row[0]), Mark.WEDGE),
        "visit 3053 (outlet MM/1/125/WHB1, 2025-10-24)",
        id="where",
    ),
    Column(
        said("What does not fit"),
        lambda row: cells.text(row[1].what),
        "found_c is 41.0",
        stretches=True,
        id="what-does-not-fit",
    ),
    Column(
        said("What it means"),
        lambda row: cells.text(row[1].means),
        "It was changed past",
        stretches=True,
        id="what-it-means",
    ),
)


def misfits_model() -> TableModel[tuple[int, Misfit]]:
    """Places that do not fit, numbered in the order of the ledger."""
    return TableModel(MISFIT_COLUMNS, lambda row: row[0])


def heading_of(found: Verification) -> str:
    """What verifying came to, in a few words."""
    if found.fits:
        return tr("Everything fits the trail") if found.whole else tr("The newest entries fit the trail")
    places = len(found.misfits) + found.more
    return tr_count(places, "{n:,} place does not fit the trail", "{n:,} places do not fit the trail")


def outcome_words(found: Verification) -> str:
    """What was looked at, and what has to be thought of where something does not fit."""
    entries = tr_count(found.entries, "{n:,} entry", "{n:,} entries")
    looked = tr_count(
        found.rows,
        "{entries} walked, {n:,} row compared.",
        "{entries} walked, {n:,} rows compared.",
        entries=entries,
    )
    if found.fits:
        last = tr(
            "The last entry is {entry_id:,}, its digest {digest}.",
            entry_id=found.head.entry_id,
            digest=words.in_eights(found.head.digest),
        )
        return words.together(looked, last if found.head.digest else "")
    shown = tr("The first {misfits:,} are listed.", misfits=len(found.misfits)) if found.more else ""
    return words.together(looked, shown, tr(_NOT_TO_BE_RELIED_ON))


_NOT_TO_BE_RELIED_ON = said(
    "The register is shown as it is; do not rely on these places before they are cleared up. "
    "A backup or a printed checkpoint shows since when it has been so."
)

"""Columns of what does not fit in a register."""

from estate.domain.trust import Misfit, Verification
from estate.window import words
from estate.window.marks import Mark
from estate.window.models import cells
from estate.window.models.cells import Cell, Column
from estate.window.models.table import TableModel

MISFIT_COLUMNS: tuple[Column[tuple[int, Misfit]], ...] = (
    Column(
        "Where",
        lambda row: Cell(row[1].place, float(row[0]), Mark.WEDGE),
        "visit 3053 (outlet MM/1/125/WHB1, 2025-10-24)",
    ),
    Column("What does not fit", lambda row: cells.text(row[1].what), "found_c is 41.0", stretches=True),
    Column("What it means", lambda row: cells.text(row[1].means), "It was changed past", stretches=True),
)


def misfits_model() -> TableModel[tuple[int, Misfit]]:
    """Places that do not fit, numbered in the order of the ledger."""
    return TableModel(MISFIT_COLUMNS, lambda row: row[0])


def heading_of(found: Verification) -> str:
    """What verifying came to, in a few words."""
    if found.fits:
        return "Everything fits the trail" if found.whole else "The newest entries fit the trail"
    places = words.count(len(found.misfits) + found.more, "place")
    return f"{places} {'does' if places == '1 place' else 'do'} not fit the trail"


def outcome_words(found: Verification) -> str:
    """What was looked at, and what has to be thought of where something does not fit."""
    entries = words.count(found.entries, "entry", "entries")
    looked = f"{entries} walked, {words.count(found.rows, 'row')} compared."
    if found.fits:
        last = f" The last entry is {found.head.entry_id:,}, its digest {found.head.digest}."
        return looked + (last if found.head.digest else "")
    shown = f" The first {len(found.misfits):,} are listed." if found.more else ""
    return (
        f"{looked}{shown} The register is shown as it is; do not rely on these places before they are "
        "cleared up. A backup or a printed checkpoint shows since when it has been so."
    )

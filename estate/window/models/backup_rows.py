"""Columns of the backups of a register."""

from estate.window import words
from estate.window.marks import Mark
from estate.window.models import cells
from estate.window.models.cells import Cell, Column
from estate.window.models.table import TableModel
from estate.window.translating import said, tr
from estate.window.trust import BackupFile

_KIB, _MIB = 1024, 1024 * 1024
Numbered = tuple[int, BackupFile]


def size_words(size_bytes: int) -> str:
    """A file's size in KiB or MiB."""
    return f"{size_bytes / _MIB:,.1f} MiB" if size_bytes >= _MIB else f"{size_bytes / _KIB:,.0f} KiB"


def _entries(row: Numbered) -> Cell:
    entries = row[1].entries
    return (
        cells.figure(None, tip=tr("unknown"))
        if entries is None
        else Cell(f"{entries:,}", float(entries), None, True)
    )


def _standing(row: Numbered) -> Cell:
    entries = row[1].entries
    if entries is None:
        return Cell(tr("can't be read"), 0.0, Mark.BARRED, tip=tr("It does not open; it can't be restored"))
    tip = tr("Compared with the register when it was made; it opens. It is proved whole before restoring.")
    return Cell(tr("verified, opens"), 1.0, Mark.TICK, tip=tip)


BACKUP_COLUMNS: tuple[Column[Numbered], ...] = (
    Column(
        said("Made (UTC)"),
        lambda row: Cell(
            f"{words.day(row[1].at.date())} {row[1].at:%H:%M:%S}", row[1].at.timestamp(), to_right=True
        ),
        "25 Nov 2026 09:30:00",
        id="made-utc",
    ),
    Column(said("Why"), lambda row: cells.text(tr(row[1].reason)), "before an upgrade", id="why"),
    Column(said("Entries"), _entries, "400,000 ", id="entries"),
    Column(
        said("Size"),
        lambda row: Cell(size_words(row[1].size_bytes), float(row[1].size_bytes), to_right=True),
        "1,000.0 MiB",
        id="size",
    ),
    Column(said("Verified"), _standing, "verified, opens", marked=True, id="verified"),
    Column(
        said("File"),
        lambda row: cells.text(row[1].path.name, str(row[1].path)),
        "estate backup",
        stretches=True,
        id="file",
    ),
)


def backups_model() -> TableModel[Numbered]:
    """Backups, numbered, newest first."""
    return TableModel(BACKUP_COLUMNS, lambda row: row[0])

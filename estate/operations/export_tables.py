"""Write every table of the register as CSV, and the visits once more in a form people read."""

import csv
from collections.abc import Iterable, Sequence
from datetime import date
from pathlib import Path

from estate.domain.dates import moment_words
from estate.domain.findings import Verdict
from estate.domain.neutral import neutral
from estate.domain.places import Outlet
from estate.domain.progress import Progress, silent
from estate.domain.visits import Visit
from estate.errors import ReportFault
from estate.operations.holdings import read_holdings
from estate.operations.register import Register
from estate.store import judgements, tables
from estate.store.signing import signings

VISIT_COLUMNS = (
    "ref",
    "date",
    "kind",
    "hot_c",
    "cold_c",
    "found_c",
    "left_c",
    "max_c",
    "residual_ml_min",
    "shut_s",
    "verdict",
    "standing",
    "valve",
    "person",
    "remarks",
    "file",
    "sheet",
    "row",
    "signed",
)


def export_tables(register: Register, folder: Path, progress: Progress = silent) -> tuple[Path, ...]:
    """Write the register as CSV files (UTF-8, comma, ISO dates) into a folder.

    A text that a spreadsheet program would take for a formula gets an apostrophe before it, so that nothing
    in it runs; `estate.domain.neutral.as_it_was` takes it away again. Numbers below zero stay numbers.

    Args:
        register: the open register.
        folder: made if it is missing; files of the same names are replaced.
        progress: told how far the work is.

    Returns:
        The files: ``visits.csv`` and one a table; of a past register one more that says so.

    Raises:
        ReportFault: the folder can't be written.
    """
    try:
        folder.mkdir(parents=True, exist_ok=True)
        written = [_visits(register, folder)]
        if register.known_at is not None:
            words = f"Every file here is as known at {moment_words(register.known_at)}.\n"
            written.append(folder / "as known at.txt")
            written[-1].write_text(words, encoding="utf-8")
        with register.database.reading() as session:
            for name, columns, rows in tables.every_table(session):
                progress(len(written), len(written) + 1, name)
                written.append(_write(folder / f"{name}.csv", columns, rows))
    except OSError as error:
        raise ReportFault(
            "The export can't be written",
            f"{folder}: {error.strerror}.",
            "Choose a folder that you may write.",
        ) from error
    return tuple(written)


def _visits(register: Register, folder: Path) -> Path:
    with register.database.reading() as session:
        holdings = read_holdings(session, register.published, sources=True)
        verdicts = judgements.verdicts(session)
        ids = [visit.id for group in holdings.visits.values() for visit in group]
        signed = signings(session, "visit", ids)
    outlets = {each.id: each for each in holdings.outlets}
    every = sorted(
        (visit for group in holdings.visits.values() for visit in group),
        key=lambda visit: (outlets[visit.draft.outlet_id].reference, visit.on, visit.id),
    )
    rows = (
        (
            *_row(
                visit, outlets[visit.draft.outlet_id], holdings.valves[visit.draft.valve_id].words, verdicts
            ),
            signed[visit.id].state.value,
        )
        for visit in every
    )
    return _write(folder / "visits.csv", VISIT_COLUMNS, rows)


def _row(visit: Visit, outlet: Outlet, valve: str, verdicts: dict[int, Verdict]) -> tuple[object, ...]:
    read, source = visit.readings, visit.draft.source
    return (
        outlet.reference,
        visit.on.isoformat(),
        visit.draft.kind.value,
        read.hot_c,
        read.cold_c,
        read.found_c,
        read.left_c,
        read.cold_isolated.max_c,
        read.cold_isolated.residual_ml_min,
        read.cold_isolated.shut_s,
        verdicts.get(visit.id, Verdict.NOT_TESTED).value,
        visit.standing.value,
        valve,
        visit.draft.person,
        visit.draft.remarks,
        source.file if source else "",
        source.sheet if source else "",
        source.row if source else "",
    )


def _write(path: Path, columns: Sequence[str], rows: Iterable[Sequence[object]]) -> Path:
    with path.open("w", encoding="utf-8", newline="") as stream:
        writer = csv.writer(stream)
        writer.writerow(columns)
        writer.writerows([_cell(value) for value in row] for row in rows)
    return path


def _cell(value: object) -> object:
    if isinstance(value, date):
        return value.isoformat()
    return neutral(value) if isinstance(value, str) else value

"""How long a sheet of 10,000 rows takes to be read, matched, judged and committed, beside openpyxl's reading.

Measured is the processor time of this process. Ours is one `look` (the file read, its rows matched to a
register that holds two visits of each valve, judged against those, unlikely readings sought) and one
`commit` (visits, judgements, findings, chained trail, groups fitted anew, written to the disk); nothing is
warmed up but what bringing in the register's own past has loaded. openpyxl's is the better of two loads of
the same bytes with every value taken, in its default manner and in its row-by-row one (`read_only`), which
is the stricter measure.

The aim is 1.25 times openpyxl's; the ratios are printed, for seconds depend on the machine, and only a far
coarser one is held.

python -m tests.benchmarks.test_bring_in_speed [ROWS [OUTLETS]]
"""

import sys
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta
from io import BytesIO
from pathlib import Path
from random import Random
from tempfile import TemporaryDirectory
from time import process_time
from typing import Any

import openpyxl

from estate.operations.bring_in import commit, look
from estate.operations.open_register import new_register
from estate.operations.register import Register
from estate.sample.places import Place, places
from estate.sample.sheets import asset_sheet

TODAY = date(2026, 11, 25)
NOW = datetime(2026, 11, 25, 9, tzinfo=UTC)
WHO = "A. Officer"
ROWS = 10_000
HEADINGS = (
    "Asset ref", "Building", "Level", "Room no", "Room", "Outlet", "Date", "Visit", "Hot °C", "Cold °C",
    "Mixed as found °C", "Mixed as left °C", "Max after cold off °C", "Residual flow ml/min", "Shut-off s",
    "Flow l/min", "Strainers cleaned", "Check valves OK", "Tested by", "Remarks",
)  # fmt: skip


@dataclass(slots=True)
class Clock:
    """Processor time by part, seconds."""

    began: float
    parts: list[tuple[str, float]]

    def tell(self, done: int, of: int, words: str) -> None:
        """Note when it was told."""
        self.parts.append((words, process_time() - self.began))


def round_sheet(spots: Sequence[Place], began: date, kind: str, random: Random, rounds: int = 1) -> bytes:
    """Rounds over all outlets, a week apart, as a workbook of 20 columns."""
    book = openpyxl.Workbook(write_only=True)
    sheet = book.create_sheet("Round")
    sheet.append(HEADINGS)
    for number in range(rounds):
        for spot in spots:
            day = began + timedelta(days=7 * number + random.randrange(7))
            sheet.append(_row(spot, day, kind, random))
    written = BytesIO()
    book.save(written)
    return written.getvalue()


def _row(spot: Place, on: date, kind: str, random: Random) -> list[Any]:
    found = round(spot.set_c + random.gauss(0.1, 0.4), 1)
    place = (spot.wing.building, spot.level, spot.room_number, spot.room, spot.outlet)
    hot, cold = round(random.gauss(60, 1.4), 1), round(random.gauss(13, 2), 1)
    most = round(found + abs(random.gauss(0.4, 0.3)), 1)
    read = (hot, cold, None if kind == "Commissioning" else found, found, most)
    flowing = (random.choice((0, 0, 0, 20)), round(abs(random.gauss(1.6, 0.5)), 1))
    seen = (round(random.gauss(6, 0.5), 1), "Y", "Y", random.choice(("AT", "RV")), None)
    return [spot.reference, *place, on, kind, *read, *flowing, *seen]


def estate_of(folder: Path, spots: Sequence[Place]) -> Register:
    """A register of these outlets with a commissioning and one round on record."""
    register = new_register(folder / "register.db", "Marlpit Cross", at=NOW, who=WHO)
    random = Random(1)
    for name, content in (
        ("assets.csv", asset_sheet(spots)),
        ("commissioning.xlsx", round_sheet(spots, date(2025, 6, 1), "Commissioning", random)),
        ("december.xlsx", round_sheet(spots, date(2025, 12, 1), "In-service", random)),
    ):
        path = folder / name
        path.write_bytes(content)
        proposal = look(register, path, None, TODAY)
        assert (proposal.accepted, proposal.questions) == (len(spots), ())
        commit(register, proposal, who=WHO, at=NOW)
    return register


def by_openpyxl(content: bytes, read_only: bool) -> float:
    """Processor seconds that openpyxl needs to read every cell."""
    began = process_time()
    book = openpyxl.load_workbook(BytesIO(content), read_only=read_only, data_only=True)
    rows = sum(1 for _ in book.worksheets[0].iter_rows(values_only=True))
    assert rows > 1
    return process_time() - began


def by_us(register: Register, path: Path, rows: int) -> list[tuple[str, float]]:
    """What was told on the way with the processor seconds from the beginning."""
    clock = Clock(process_time(), [])
    proposal = look(register, path, None, TODAY, clock.tell)
    assert (proposal.accepted, proposal.questions) == (rows, ())
    commit(register, proposal, who=WHO, at=NOW, progress=clock.tell)
    clock.tell(0, 0, "all")
    return clock.parts


def measured(rows: int, outlets: int) -> tuple[list[tuple[str, float]], float, float]:
    """Our parts, and openpyxl's seconds in its default and its row-by-row manner."""
    spots = list(places(Random(1), outlets, date(2024, 6, 1)))
    with TemporaryDirectory() as folder:
        register = estate_of(Path(folder), spots)
        path = Path(folder) / "rounds.xlsx"
        path.write_bytes(round_sheet(spots, date(2026, 2, 2), "In-service", Random(2), rows // outlets))
        content = path.read_bytes()
        theirs = [min(by_openpyxl(content, mode) for _ in range(2)) for mode in (False, True)]
        ours = by_us(register, path, rows // outlets * outlets)
        register.close()
    return ours, theirs[0], theirs[1]


def test_that_a_round_is_brought_in_within_a_few_times_of_what_openpyxl_reads_it_in() -> None:
    ours, whole, _ = measured(1500, 1500)
    assert ours[-1][1] < 12 * whole


def main(rows: int, outlets: int) -> None:
    """Print the parts and the ratios."""
    ours, whole, by_rows = measured(rows, outlets)
    before = 0.0
    for place, (words, at) in enumerate(ours):
        if place + 1 == len(ours) or ours[place + 1][0] != words:
            sys.stdout.write(f"{at - before:7.3f} s until “{words}”\n")
            before = at
    total = ours[-1][1]
    sys.stdout.write(
        f"{rows:,} rows of {len(HEADINGS)} columns, {outlets:,} outlets: {total:.2f} s; "
        f"openpyxl whole {whole:.2f} s, ratio {total / whole:.2f}; "
        f"row by row {by_rows:.2f} s, ratio {total / by_rows:.2f}\n"
    )


if __name__ == "__main__":
    given = [int(each) for each in sys.argv[1:]] or [ROWS]
    main(given[0], given[-1])

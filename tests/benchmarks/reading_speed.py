"""How long a workbook of 10,000 rows takes to become grids, beside what bare readers need for the same bytes.

python -m tests.benchmarks.reading_speed
"""

import sys
from collections.abc import Callable
from datetime import date, timedelta
from io import BytesIO
from time import process_time

import openpyxl
from python_calamine import CalamineWorkbook

from estate.intake.opening import grids_in

ROWS, COLUMNS = 10_000, 20


def workbook_of(rows: int, columns: int) -> bytes:
    """A workbook of references, dates, readings and words."""
    book = openpyxl.Workbook()
    sheet = book.worksheets[0]
    sheet.append([f"Heading {column}" for column in range(columns)])
    for row in range(rows):
        cells: list[object] = [f"WHB-{row:05}", date(2026, 1, 1) + timedelta(days=row % 300)]
        cells += [40 + row * column % 50 / 10 for column in range(2, columns // 2)]
        cells += [f"words {row * column % 977}" for column in range(columns // 2, columns)]
        sheet.append(cells)
    written = BytesIO()
    book.save(written)
    return written.getvalue()


def by_us(content: bytes) -> int:
    """Read as the program does."""
    (grid,) = grids_in(content, "round.xlsx", lambda grid: (0, 0))
    return len(grid.rows)


def by_calamine(content: bytes) -> int:
    """Read by the bare reader below ours, without bounds, errors or what is hidden."""
    with CalamineWorkbook.from_filelike(BytesIO(content)) as workbook:
        return len(workbook.get_sheet_by_index(0).to_python(skip_empty_area=False))


def by_openpyxl_rows(content: bytes) -> int:
    """Read row by row by openpyxl."""
    book = openpyxl.load_workbook(BytesIO(content), read_only=True, data_only=True)
    return sum(1 for _ in book.worksheets[0].iter_rows(values_only=True))


def by_openpyxl(content: bytes) -> int:
    """Read whole by openpyxl."""
    return openpyxl.load_workbook(BytesIO(content), data_only=True).worksheets[0].max_row


def seconds(read: Callable[[bytes], int], content: bytes, rounds: int = 3) -> float:
    """Least processor time of some rounds, in which all rows must be read."""
    times = []
    for _ in range(rounds):
        began = process_time()
        assert read(content) == ROWS + 1
        times.append(process_time() - began)
    return min(times)


def main() -> None:
    """Print each reader's time and ours as a share of it."""
    content = workbook_of(ROWS, COLUMNS)
    ours = seconds(by_us, content)
    sys.stdout.write(f"{ROWS:,} rows of {COLUMNS} columns, {len(content):,} bytes: {ours:.3f} s\n")
    for read in (by_calamine, by_openpyxl_rows, by_openpyxl):
        theirs = seconds(read, content)
        sys.stdout.write(f"{read.__name__[3:]}: {theirs:.3f} s, ours is {ours / theirs:.2f} of it\n")


if __name__ == "__main__":
    main()

"""The cost of a report grows with its lines, not with their square (a flowing long table's does)."""

from collections.abc import Callable
from pathlib import Path
from time import process_time

import pytest

from estate.reports import pdf, xlsx
from estate.reports.content import overdue
from estate.reports.document import Document
from tests.reports.builders import as_at, estate

FEW, MANY = 1000, 8000


def cost(write: Callable[[Document, Path], Path], lines: int, target: Path) -> float:
    """Least processor time of three, seconds."""
    document = overdue(estate(lines), as_at())
    times = []
    for _ in range(3):
        began = process_time()
        write(document, target)
        times.append(process_time() - began)
    return min(times)


@pytest.mark.parametrize(("write", "name"), [(pdf.write, "a.pdf"), (xlsx.write, "a.xlsx")])
def test_that_eight_times_the_lines_cost_about_eight_times_as_much(
    write: Callable[[Document, Path], Path], name: str, tmp_path: Path
) -> None:
    ratio = cost(write, MANY, tmp_path / name) / cost(write, FEW, tmp_path / name)
    assert ratio < 2 * MANY / FEW

"""The page of the procedures tells every step as the program has it, in its order."""

from pathlib import Path

import pytest

from estate.domain.procedures import PROCEDURES
from estate.domain.visits import VisitKind


@pytest.mark.parametrize("kind", VisitKind)
def test_that_the_page_tells_each_step_in_order_with_its_source(kind: VisitKind, checkout: Path) -> None:
    page = (checkout / "docs" / "at-the-valve.md").read_text("utf-8")
    part = page.partition(f"## {kind.value[0].upper()}{kind.value[1:]}\n")[2].partition("\n## ")[0]
    rows = [line for line in part.splitlines() if line.startswith("| ")][1:]
    assert len(rows) == len(PROCEDURES[kind])
    for number, (row, step) in enumerate(zip(rows, PROCEDURES[kind], strict=True), 1):
        assert row.startswith(f"| {number} | {step.words}")
        assert row.endswith(f"| {step.source} |")
        assert all(f"`{name}`" in row for name in ([step.key] if step.asked else step.readings))

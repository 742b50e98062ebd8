"""A file's sheets as they are, for a person to look at beside what was read."""

from estate.domain.layouts import ShownSheet
from estate.intake.grid import shown
from estate.intake.opening import grids_in


def shown_sheets(content: bytes, file: str) -> tuple[ShownSheet, ...]:
    """The words of the cells of each sheet, hidden ones too.

    Args:
        content: the file's bytes.
        file: its name.

    Raises:
        IntakeFault: the file can't be opened.
    """
    return tuple(
        ShownSheet(grid.name, tuple(tuple(map(shown, row)) for row in grid.rows), grid.hidden)
        for grid in grids_in(content, file, lambda grid: (max(map(len, grid.rows), default=0), 0))
    )

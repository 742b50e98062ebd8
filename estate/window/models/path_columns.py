"""Where an outlet is, part by part: columns that are there for whoever wants them."""

from collections.abc import Callable
from typing import TypeVar

from estate.domain.places import OutletPath
from estate.window.models import cells
from estate.window.models.cells import Cell, Column
from estate.window.translating import said

T = TypeVar("T")


def path_columns(path: Callable[[T], OutletPath]) -> tuple[Column[T], ...]:
    """Site, building, level and room of a row, not shown at first."""

    def column(title: str, part: Callable[[OutletPath], str], sample: str, key: str) -> Column[T]:
        def cell(row: T) -> Cell:
            return cells.text(part(path(row)))

        return Column(title, cell, sample, hidden_at_first=True, groups=True, id=key)

    return (
        column(said("Site"), lambda found: found.site, "Marlpit Cross", "site"),
        column(said("Building"), lambda found: found.building, "Main Block", "building"),
        column(said("Level"), lambda found: found.level, "Ground", "storey"),
        column(said("Room"), lambda found: found.room_words, "G01 Bathroom", "room"),
    )

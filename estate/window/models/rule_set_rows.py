"""Columns of the rule sets that can be chosen, with how sure they are."""

from collections.abc import Iterable
from dataclasses import dataclass

from estate.domain.rules.listing import HowSure, how_sure
from estate.domain.rules.values import RuleSet
from estate.window.marks import Mark
from estate.window.models import cells
from estate.window.models.cells import Cell, Column
from estate.window.models.table import TableModel


@dataclass(frozen=True, slots=True)
class Choosable:
    """A rule set to choose from.

    Attributes:
        number: its place in the list, for finding it again.
        in_force: whether it is the estate's now.
    """

    number: int
    rules: RuleSet
    sure: HowSure
    in_force: bool


def choosable(sets: Iterable[RuleSet], in_force: str) -> tuple[Choosable, ...]:
    """The rule sets by country."""
    ordered = sorted(sets, key=lambda each: (each.place, each.id))
    return tuple(
        Choosable(number, each, how_sure(each), each.id == in_force) for number, each in enumerate(ordered)
    )


def _standing(row: Choosable) -> Cell:
    return Cell("in force", 0.0, Mark.TICK) if row.in_force else Cell("", 1.0)


_NO_SOURCE = "This register's own defaults and common practice"
COLUMNS: tuple[Column[Choosable], ...] = (
    Column("Place", lambda row: cells.text(row.rules.place), "Australia, New South Wales"),
    Column("Rule set", lambda row: cells.text(row.rules.title, row.rules.scope), "a title", stretches=True),
    Column("Estate", _standing, "in force", marked=True),
    Column("Seen in\nthe source", lambda row: cells.figure(row.sure.seen), "999"),
    Column("Second-\nhand", lambda row: cells.figure(row.sure.second_hand), "999", tip="Not verified"),
    Column("No\nsource", lambda row: cells.figure(row.sure.without_source), "999", tip=_NO_SOURCE),
    Column("Blank", lambda row: cells.figure(row.sure.blank), "999", tip="To be filled in by the site"),
)


class RuleSetsModel(TableModel[Choosable]):
    """The rule sets that the program brings with it."""

    def __init__(self) -> None:
        super().__init__(COLUMNS, lambda row: row.number)

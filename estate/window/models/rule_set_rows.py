"""Columns of the rule sets that can be chosen, with how sure they are."""

from collections.abc import Iterable
from dataclasses import dataclass

from estate.domain.rules.listing import HowSure, how_sure
from estate.domain.rules.values import RuleSet
from estate.window.marks import Mark
from estate.window.models import cells
from estate.window.models.cells import Cell, Column
from estate.window.models.table import TableModel
from estate.window.translating import said, tr


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
    return Cell(tr("in force"), 0.0, Mark.TICK) if row.in_force else Cell("", 1.0)


_NO_SOURCE = said("This register's own defaults and common practice")
COLUMNS: tuple[Column[Choosable], ...] = (
    Column(
        said("Place"),
        lambda row: cells.text(row.rules.place),
        "United States, District of Columbia",
        id="place",
    ),
    Column(
        said("Rule set"),
        lambda row: cells.text(row.rules.title, row.rules.scope),
        "California: patients' fixtures and more",
        stretches=True,
        id="rule-set",
    ),
    Column(said("Estate"), _standing, "in force", marked=True, id="estate"),
    Column(
        said("Seen in\nthe source"), lambda row: cells.figure(row.sure.seen), "999", id="seen-in-the-source"
    ),
    Column(
        said("Second-\nhand"),
        lambda row: cells.figure(row.sure.second_hand),
        "999",
        tip=said("Not verified"),
        id="second-hand",
    ),
    Column(
        said("No\nsource"),
        lambda row: cells.figure(row.sure.without_source),
        "999",
        tip=_NO_SOURCE,
        id="no-source",
    ),
    Column(
        said("Blank"),
        lambda row: cells.figure(row.sure.blank),
        "999",
        tip=said("To be filled in by the site"),
        id="blank",
    ),
)


class RuleSetsModel(TableModel[Choosable]):
    """The rule sets that the program brings with it."""

    def __init__(self) -> None:
        super().__init__(COLUMNS, lambda row: row.number)

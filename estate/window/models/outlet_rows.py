"""Columns of the outlets at a place: one line each, with the due line where there is a valve."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

from estate.domain.browsing import PlaceKind, PlaceNode
from estate.domain.due import DueLine
from estate.domain.places import Outlet
from estate.domain.standing import OutletState
from estate.domain.valves import Valve
from estate.window import words
from estate.window.models import cells
from estate.window.models.cells import Cell, Column
from estate.window.models.table import TableModel
from estate.window.translating import said, tr

OutletPlace = tuple[PlaceNode, tuple[str, ...]]


@dataclass(frozen=True, slots=True)
class OutletRow:
    """An outlet of the tree, where it stands, its due line if it has a valve, and what else is known of it.

    Attributes:
        where: the places above it, below the one that is shown.
        outlet, valve: None where they were not read.
    """

    node: PlaceNode
    where: tuple[str, ...]
    due: DueLine | None = None
    outlet: Outlet | None = None
    valve: Valve | None = None


@dataclass(frozen=True)
class Known:
    """Outlets and valves by their ids."""

    outlets: Mapping[int, Outlet] = field(default_factory=dict)
    valves: Mapping[int, Valve] = field(default_factory=dict)


def known_of(outlets: Iterable[Outlet], valves: Mapping[int, Valve]) -> Known:
    """Outlets, as they were read, by their ids, with the valves."""
    return Known({each.id: each for each in outlets}, valves)


_STOREYS = ("building", "storey", "room")


def places_hidden(kind: PlaceKind) -> Mapping[str, bool]:
    """Which parts of a path say the same of every outlet of a place, by the ids of their columns."""
    same = {PlaceKind.SITE: 0, PlaceKind.BUILDING: 1, PlaceKind.LEVEL: 2}.get(kind, 3)
    return {each: number < same for number, each in enumerate(_STOREYS)}


def _storey(title: str, number: int, sample: str) -> Column[OutletRow]:
    """A part of the path, by its place in `_STOREYS`."""

    def cell(row: OutletRow) -> Cell:
        place = len(row.where) - len(_STOREYS) + number
        return cells.text(" ".join(row.where[place].split()) if place >= 0 else "")

    return Column(
        title, cell, sample, stretches=number == len(_STOREYS) - 1, groups=True, id=_STOREYS[number]
    )


def _ref(row: OutletRow) -> Cell:
    return cells.text(_reference(row.node), row.node.label)


def _name(row: OutletRow) -> Cell:
    return cells.text(row.node.label.partition("  ")[2])


def _use(row: OutletRow) -> Cell:
    found = row.outlet or row.due
    return cells.text(tr(found.use.value) if found is not None else "")


def _users(row: OutletRow) -> Cell:
    found = row.outlet or row.due
    return cells.text(tr(found.user_group.value) if found is not None else "")


def _little_used(row: OutletRow) -> Cell:
    return cells.text("" if row.outlet is None else words.yes_no(row.outlet.little_used))


def _pipe(row: OutletRow) -> Cell:
    return cells.figure(row.outlet.pipe_m if row.outlet else None)


def _valve(row: OutletRow) -> Cell:
    if row.valve is None:
        return cells.text(row.due.valve if row.due else "")
    body = f"{row.valve.make} {row.valve.model}".strip()
    return cells.text(body or row.valve.words)


def _serial(row: OutletRow) -> Cell:
    return cells.text(row.valve.serial if row.valve else "")


def _verdict(row: OutletRow) -> Cell:
    return cells.text("") if row.due is None else cells.verdict(row.due.verdict)


def _late(row: OutletRow) -> Cell:
    return cells.figure(float(row.due.days_late) if row.due and row.due.overdue else None, 0, tr("not late"))


def _from(row: OutletRow) -> Cell:
    return cells.on_day(row.due.window.not_before if row.due else None)


def _by(row: OutletRow) -> Cell:
    return cells.on_day(row.due.window.not_after if row.due else None)


def _last(row: OutletRow) -> Cell:
    return cells.on_day(row.due.last_visit if row.due else None)


def _rule_set(row: OutletRow) -> Cell:
    return cells.text(row.due.rule_set if row.due else "")


COLUMNS: tuple[Column[OutletRow], ...] = (
    Column(
        said("State"), lambda row: cells.state(row.node.state), "take out of use", marked=True, id="state"
    ),
    Column(said("Outlet"), _ref, "WW/W/W00/WHB1", id="outlet"),
    _storey(said("Building"), 0, "Marlpit Main Block"),
    _storey(said("Level"), 1, "Level 1"),
    _storey(said("Room"), 2, "W00 Assisted bathroom"),
    Column(said("Name"), _name, "Wash-hand basin 1", hidden_at_first=True, id="name"),
    Column(said("Test from"), _from, "25 Nov 2026", hidden_at_first=True, id="test-from"),
    Column(said("Test by"), _by, "25 Nov 2026", id="test-by"),
    Column(said("Late\ndays"), _late, "1,000", id="late-days"),
    Column(said("Use"), _use, "assisted bath", groups=True, id="use"),
    Column(said("Users"), _users, "dependent people", groups=True, id="users"),
    Column(said("Little used"), _little_used, "yes", hidden_at_first=True, groups=True, id="little-used"),
    Column(said("Last visit"), _last, "25 Nov 2026", id="last-visit"),
    Column(
        said("Last verdict"),
        _verdict,
        "take out of use",
        marked=True,
        hidden_at_first=True,
        id="last-verdict",
    ),
    Column(said("Valve"), _valve, "Make B B-15 HC", groups=True, id="valve"),
    Column(said("Serial"), _serial, "B-15HC-00000", id="serial"),
    Column(said("Pipe\nm"), _pipe, "10.5", hidden_at_first=True, id="pipe-m"),
    Column(said("Rule set"), _rule_set, "uk-healthcare", hidden_at_first=True, groups=True, id="rule-set"),
)


class OutletsModel(TableModel[OutletRow]):
    """The outlets at a place."""

    def __init__(self) -> None:
        super().__init__(COLUMNS, lambda row: row.node.id, lambda row: row.node.state is OutletState.RETIRED)


def outlets_below(node: PlaceNode, lines: Iterable[DueLine], known: Known | None = None) -> list[OutletRow]:
    """Every outlet at or below a place, in the tree's order; a group valve's line stands at each outlet."""
    by_reference = {ref: line for line in lines for ref in (line.ref, *line.also_serves)}
    held = known or Known()
    return [
        _row(outlet, where[1:], by_reference.get(_reference(outlet)), held)
        for outlet, where in _walk(node, (), [])
    ]


def _row(node: PlaceNode, where: tuple[str, ...], due: DueLine | None, known: Known) -> OutletRow:
    valve = known.valves.get(due.valve_id) if due is not None else None
    return OutletRow(node, where, due, known.outlets.get(node.id), valve)


def _reference(node: PlaceNode) -> str:
    """An outlet's label begins with its reference, set apart by two spaces."""
    return node.label.split("  ", 1)[0]


def _walk(node: PlaceNode, above: tuple[str, ...], found: list[OutletPlace]) -> list[OutletPlace]:
    """Add every outlet at or below a place to what was found, with the names of the places above it."""
    if node.kind is PlaceKind.OUTLET:
        found.append((node, above))
        return found
    below = (*above, node.label)
    for child in node.children:
        _walk(child, below, found)
    return found

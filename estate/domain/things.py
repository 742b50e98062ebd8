"""What a person looks for by a few letters: places, outlets, valves, actions, people, instruments, sheets."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date
from enum import StrEnum

from estate.domain.browsing import PlaceKind, PlaceNode
from estate.domain.estate_reading import EstateReading
from estate.domain.standing import OutletState
from estate.domain.valves import Fitting


class ThingKind(StrEnum):
    """What can be found, in the order in which equally good finds are shown."""

    OUTLET = "outlet"
    VALVE = "valve"
    ROOM = "room"
    LEVEL = "level"
    BUILDING = "building"
    SITE = "site"
    ACTION = "action"
    PERSON = "person"
    INSTRUMENT = "instrument"
    SHEET = "sheet brought in"
    PAGE = "page"
    COMMAND = "command"


@dataclass(frozen=True, slots=True)
class Thing:
    """One thing that can be found and gone to.

    Attributes:
        goes_to: the id of what is gone to: of a valve's, the outlet's; words for a command.
        label: what it is called.
        said: what tells it from others of the name.
        codes: what is looked for whole or by its beginning: a reference, a serial, a number.
        heard: further words that it is found by, beside label and codes.
        state: of an outlet.
    """

    kind: ThingKind
    goes_to: int | str
    label: str
    said: str = ""
    codes: tuple[str, ...] = ()
    heard: str = ""
    state: OutletState | None = None


def things_of(reading: EstateReading) -> tuple[Thing, ...]:
    """Everything that can be found in one reading of a register, in the order of `ThingKind`."""
    leaves, above = list[PlaceNode](), list[tuple[PlaceNode, str]]()
    _gather(reading.tree, "", leaves, above)
    return (
        *_outlets(reading, {each.id: each.state for each in leaves}),
        *_valves(reading),
        *_places(above),
        *_actions(reading),
        *_means(reading),
        *_sheets(reading),
    )


def _gather(
    nodes: tuple[PlaceNode, ...], trail: str, leaves: list[PlaceNode], above: list[tuple[PlaceNode, str]]
) -> None:
    for node in nodes:
        if node.kind is PlaceKind.OUTLET:
            leaves.append(node)
        else:
            above.append((node, trail))
            _gather(node.children, f"{trail} · {node.label}" if trail else node.label, leaves, above)


def _outlets(reading: EstateReading, states: dict[int, OutletState]) -> Iterator[Thing]:
    for each in reading.outlets:
        place = str(each.path)
        state = states.get(each.id)
        yield Thing(
            ThingKind.OUTLET, each.id, each.reference, place, (each.reference,), each.path.site, state
        )


def _valves(reading: EstateReading) -> Iterator[Thing]:
    """Every body that is or was at an outlet, by the outlet of its last position."""
    last: dict[int, Fitting] = {}
    for fitting in reading.fittings:
        known = last.get(fitting.valve_id)
        if known is None or _began(known) <= _began(fitting):
            last[fitting.valve_id] = fitting
    first_at = {each.position_id: each for each in reversed(reading.outlets)}
    for valve_id, fitting in last.items():
        valve, outlet = reading.valves[valve_id], first_at.get(fitting.position_id)
        if outlet is None:
            continue
        where = f"at {outlet.reference}" if fitting.removed_on is None else f"was at {outlet.reference}"
        codes = (valve.serial,) if valve.serial else ()
        yield Thing(ThingKind.VALVE, outlet.id, valve.words, where, codes)


def _began(fitting: Fitting) -> date:
    return fitting.fitted_on or date.min


_STOREYS = {
    PlaceKind.ROOM: ThingKind.ROOM,
    PlaceKind.LEVEL: ThingKind.LEVEL,
    PlaceKind.BUILDING: ThingKind.BUILDING,
    PlaceKind.SITE: ThingKind.SITE,
}


def _places(above: list[tuple[PlaceNode, str]]) -> Iterator[Thing]:
    rank = list(_STOREYS)
    for node, trail in sorted(above, key=lambda pair: rank.index(pair[0].kind)):
        codes = (node.label.partition("  ")[0],) if node.kind is PlaceKind.ROOM else ()
        yield Thing(_STOREYS[node.kind], node.id, node.label, trail, codes, trail)


def _actions(reading: EstateReading) -> Iterator[Thing]:
    outlets = {each.id: each for each in reading.outlets}
    for each in reading.actions:
        outlet = outlets.get(each.outlet_id)
        where = "" if outlet is None else outlet.reference
        label = f"Action {each.id}: {each.opening.words}"
        said = f"{each.state.value}, {where}" + (f", {each.owner}" if each.owner else "")
        yield Thing(ThingKind.ACTION, each.id, label, said, (str(each.id),), where)


def _means(reading: EstateReading) -> Iterator[Thing]:
    for person in reading.people:
        left = "" if person.left_on is None else "left"
        said = ", ".join(part for part in (person.position, left) if part)
        yield Thing(ThingKind.PERSON, person.id, person.name, said)
    for each in reading.instruments:
        yield Thing(ThingKind.INSTRUMENT, each.id, each.reference, each.specification, (each.reference,))


def _sheets(reading: EstateReading) -> Iterator[Thing]:
    for each in reversed(reading.batches):
        undone = ", undone" if each.undone is not None else ""
        said = f"{each.accepted:,} rows taken by {each.who}{undone}"
        yield Thing(ThingKind.SHEET, each.id, each.file, said, (str(each.id),))

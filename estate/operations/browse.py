"""Read the register for tree, outlet page and headings."""

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import replace
from datetime import date

from estate.domain.browsing import HistoryLine, OutletPage, PlaceKind, PlaceNode
from estate.domain.due import DueLine
from estate.domain.field_limits import field_limits
from estate.domain.instruments import Instrument
from estate.domain.life.outlet_use import use_of
from estate.domain.limits import limits_for
from estate.domain.phrases import phrase
from estate.domain.places import Outlet, OutletPath
from estate.domain.references import reference_key
from estate.domain.register import RegisterIdentity, RuleSetIdentity
from estate.domain.standing import OutletState, shown_state, state_of
from estate.domain.valves import Fitting
from estate.errors import NotFoundFault
from estate.operations.holdings import Holdings, read_holdings
from estate.operations.inventory import Inventory
from estate.operations.learn import learned_of
from estate.operations.plan_basis import read_plan_basis
from estate.operations.plan_retests import lines_of
from estate.operations.register import Register
from estate.operations.rulebook import RuleBook, read_rulebook
from estate.scheduler.changing import what_would_change
from estate.scheduler.interval import plan
from estate.store import actions, attempts, judgements, outlet_use, places, valves, visits
from estate.store import identity as identities
from estate.store import instruments as instrument_store
from estate.store.database import Session
from estate.store.signing import signings

RoomWords = tuple[str, str, str, str, str]
Nodes = tuple[PlaceNode, ...]


def identity(register: Register) -> RegisterIdentity:
    """Name, identity and rule sets in force."""
    with register.database.reading() as session:
        return identity_in(session, read_rulebook(session, register.published), places.outlets(session))


def identity_in(session: Session, book: RuleBook, outlets: tuple[Outlet, ...]) -> RegisterIdentity:
    """The same from an open session, with what was read of it."""
    return RegisterIdentity(
        identities.name(session),
        identities.identifier(session),
        identities.revision(session),
        tuple(RuleSetIdentity(each.id, each.title, each.edition) for each in book.in_force(outlets)),
    )


def instruments(register: Register) -> tuple[Instrument, ...]:
    """Every instrument of the register."""
    with register.database.reading() as session:
        return instrument_store.instruments(session)


def people(register: Register) -> tuple[str, ...]:
    """Names seen on visits, in order of the alphabet."""
    with register.database.reading() as session:
        return visits.people(session)


def find_outlet(register: Register, reference: str) -> Outlet:
    """Find an outlet by its reference, whatever its case and punctuation.

    Raises:
        NotFoundFault: there is none; near ones are named.
    """
    with register.database.reading() as session:
        found = places.outlet_by_reference(session, reference)
        if found is not None:
            return found
        key = reference_key(reference)
        near = [
            each.reference for each in places.outlets(session) if key[:6] in reference_key(each.reference)
        ]
    hint = (
        phrase("Did you mean {near}?", near=", ".join(near[:3]))
        if key and near
        else phrase("Look it up in the tree or with `due`.")
    )
    raise NotFoundFault(
        "No such outlet", phrase('"{reference}" is not in the register.', reference=reference), hint
    )


def tree(register: Register, today: date) -> tuple[PlaceNode, ...]:
    """Every site with its buildings, levels, rooms and outlets, in walking order."""
    with register.database.reading() as session:
        basis = read_plan_basis(session, register.published, today)
        rooms = places.rooms(session, bare=True)
    return tree_of(basis, rooms, lines_of(basis, today))


def tree_of(known: Inventory, rooms: Sequence[places.RoomPlace], lines: Iterable[DueLine]) -> Nodes:
    """The same from one reading of the register and its due lines."""
    position_of = {each.id: each.position_id for each in known.outlets}
    line_at = {position_of[line.outlet_id]: line for line in lines}
    leaves: dict[RoomWords, list[PlaceNode]] = {}
    for outlet in known.outlets:
        leaf = _leaf(known, outlet, line_at.get(outlet.position_id))
        leaves.setdefault(_room_words(outlet.path), []).append(leaf)
    return _gather(rooms, leaves)


def _room_words(place: OutletPath | places.RoomPlace) -> RoomWords:
    return (place.site, place.building, place.level, place.room_number, place.room)


def _leaf(known: Inventory, outlet: Outlet, line: DueLine | None) -> PlaceNode:
    state = _shown(known, outlet, line.found if line is not None else OutletState.NO_VALVE)
    words = (outlet.reference, str(outlet.path), outlet.path.site, line.valve if line is not None else "")
    return PlaceNode(
        PlaceKind.OUTLET,
        outlet.id,
        f"{outlet.reference}  {outlet.path.outlet}",
        state,
        int(state.needs_attention),
        1,
        " ".join(words),
    )


def _shown(known: Inventory, outlet: Outlet, found: OutletState) -> OutletState:
    """The state of one outlet: its own use, and what must be done about the valve that serves it."""
    if outlet.retired_on is not None:
        return OutletState.RETIRED
    served = known.by_position.get(outlet.position_id, (outlet,))
    to_do = any(each.id in known.to_do for each in served)
    return shown_state(found, out_of_use=outlet.id in known.out_of_use, to_do=to_do)


def _gather(rooms: Sequence[places.RoomPlace], leaves: Mapping[RoomWords, list[PlaceNode]]) -> Nodes:
    nodes: list[tuple[places.RoomPlace, Nodes]] = []
    for room in rooms:
        label = f"{room.room_number}  {room.room}".strip()
        below = tuple(leaves.get(_room_words(room), ()))
        nodes.append((room, _there(PlaceKind.ROOM, room.room_id, label, below)))
    storeys: tuple[tuple[PlaceKind, Callable[[places.RoomPlace], tuple[int, str]]], ...] = (
        (PlaceKind.LEVEL, lambda room: (room.level_id, f"Level {room.level}")),
        (PlaceKind.BUILDING, lambda room: (room.building_id, room.building)),
        (PlaceKind.SITE, lambda room: (room.site_id, room.site)),
    )
    for kind, named in storeys:
        groups: dict[tuple[int, int, str], list[tuple[places.RoomPlace, Nodes]]] = {}
        for room, found in nodes:
            place_id, label = named(room)
            # Of places without what is asked for here, each goes on by itself.
            groups.setdefault((place_id, 0 if place_id else -len(groups), label), []).append((room, found))
        nodes = [
            (group[0][0], _there(kind, place_id, label, tuple(node for _, found in group for node in found)))
            for (place_id, _, label), group in groups.items()
        ]
    return tuple(node for _, found in nodes for node in found)


def _there(kind: PlaceKind, place_id: int, label: str, children: Nodes) -> Nodes:
    """A node for a place; none where a place has nothing of that storey."""
    return (_parent(kind, place_id, label, children),) if place_id else ()


def _parent(kind: PlaceKind, place_id: int, label: str, children: tuple[PlaceNode, ...]) -> PlaceNode:
    worst = min((each.state for each in children), key=lambda state: state.rank, default=OutletState.IN_ORDER)
    attention = sum(each.attention for each in children)
    return PlaceNode(
        kind, place_id, label, worst, attention, sum(each.outlets for each in children), label, children
    )


def outlet_page(register: Register, outlet_id: int, today: date) -> OutletPage:
    """Everything known of one outlet.

    Raises:
        NotFoundFault: there is no such outlet.
    """
    with register.database.reading() as session:
        outlet = places.outlet(session, outlet_id)
        bodies = {
            each.valve_id for each in valves.fittings(session) if each.position_id == outlet.position_id
        }
        holdings = read_holdings(session, register.published, bodies, on=today, sources=True)
        ids = [visit.id for group in holdings.visits.values() for visit in group]
        kept = judgements.judgements(session, ids)
        signed = signings(session, "visit", ids)
        tried = attempts.attempts(session, outlet_id)
        use = use_of(outlet_use.use_events(session, [outlet_id]).get(outlet_id, ()), outlet.retired_on)
        to_do = tuple(each for each in actions.actions_at(session, [outlet_id]) if each.state.live)
    history = [
        HistoryLine(visit, holdings.valves[valve_id], kept[visit.id], signed[visit.id])
        for valve_id, group in holdings.visits.items()
        for visit in group
    ]
    history.sort(key=lambda line: (line.visit.on, line.visit.id), reverse=True)
    page = OutletPage(
        outlet=outlet,
        state=_shown(holdings, outlet, OutletState.NO_VALVE),
        rule_set=holdings.rules_at(outlet).id,
        fittings=tuple(
            (each, holdings.valves[each.valve_id]) for each in holdings.fittings_at(outlet.position_id)
        ),
        history=tuple(history),
        attempts=tuple(sorted(tried, key=lambda each: (each.on, each.id), reverse=True)),
        use=use,
        actions=to_do,
    )
    fitting = holdings.in_place(today).get(outlet.position_id)
    return page if fitting is None else _with_valve(page, holdings, fitting, today)


def _with_valve(page: OutletPage, holdings: Holdings, fitting: Fitting, today: date) -> OutletPage:
    outlet, valve = page.outlet, holdings.valves[fitting.valve_id]
    served = holdings.by_position.get(outlet.position_id, (outlet,))
    rules, life = holdings.rules_at(outlet), holdings.life(fitting)
    limits = limits_for(served, valve, rules)
    learned = learned_of(holdings, [fitting]).get(fitting.valve_id)
    window = plan(life, rules, today, learned)
    verdict = life.judgement.verdict if life.judgement else None
    return replace(
        page,
        state=_shown(holdings, outlet, state_of(verdict, window, today)),
        valve=valve,
        also_serves=tuple(each.reference for each in served if each.id != outlet.id),
        set_c=limits.set_c.value if limits.set_c else None,
        set_source=limits.set_c.source if limits.set_c else "",
        ceiling_c=limits.ceiling_c.value if limits.ceiling_c else None,
        ceiling_source=limits.ceiling_c.source if limits.ceiling_c else "",
        window=window,
        judgement=life.judgement,
        would_change=what_would_change(window, life, rules),
        learned=learned,
        limits=field_limits(served, valve, rules),
    )

"""Choose rule sets and lay the site's own values over them; who, when and why are kept."""

from collections.abc import Mapping
from datetime import date, datetime

from estate.domain.changes import ChangeSet
from estate.domain.places import Outlet
from estate.domain.rules.overlay import check_override, check_rules
from estate.domain.rules.typed import typed_value
from estate.domain.rules.values import Override, RuleSet
from estate.errors import EntryFault, RuleFault
from estate.operations.holdings import read_holdings
from estate.operations.record_visit import judge_again
from estate.operations.register import Register
from estate.operations.rulebook import RuleBook, read_rulebook
from estate.store import places, rules
from estate.store.database import Session
from estate.store.transaction import Transaction, writing

ESTATE = "estate"


def rules_at(register: Register, place: str = ESTATE) -> RuleSet:
    """The rules in force at a place: ``estate``, ``building:ID`` or ``outlet:ID``.

    Raises:
        EntryFault: that is no place.
        NotFoundFault: there is no such outlet.
    """
    with register.database.reading() as session:
        return _at(read_rulebook(session, register.published), session, place)


def overrides(register: Register) -> tuple[Override, ...]:
    """Every value of the site's own, withdrawn ones too, oldest first."""
    with register.database.reading() as session:
        return rules.overrides(session)


def published(sets: Mapping[str, RuleSet], rule_set: str) -> RuleSet:
    """A rule set as published.

    Raises:
        RuleFault: there is no such rule set.
    """
    if rule_set not in sets:
        known = ", ".join(sorted(sets))
        raise RuleFault("No such rule set", f'"{rule_set}" is not known.', f"Choose one of: {known}.")
    return sets[rule_set]


def value_of(key: str, written: str) -> float | str:
    """The value of a key as typed: a number where the key holds one; a temperature may be typed like 110 °F.

    Raises:
        RuleFault: the key is unknown, or the value can't stand there.
    """
    typed = typed_value(key, written)
    check_override(key, typed)
    return typed


def _at(book: RuleBook, session: Session, place: str) -> RuleSet:
    kind, place_id = _parts(place)
    if kind == "outlet":
        return book.at_outlet(places.outlet(session, place_id))
    return book.at_building(place_id) if kind == "building" else book.at_estate()


def _parts(place: str) -> tuple[str, int]:
    kind, _, number = place.partition(":")
    if place == ESTATE:
        return ESTATE, 0
    if kind not in ("building", "outlet") or not number.isdigit():
        raise EntryFault("No such place", f'"{place}".', "Give estate, building:NUMBER or outlet:NUMBER.")
    return kind, int(number)


def override(
    register: Register,
    rule_set: str,
    key: str,
    place: str,
    value: float | str | None,
    *,
    who: str,
    at: datetime,
    why: str,
) -> ChangeSet:
    """Lay a value of the site's own over a published one, or withdraw it with None.

    The last visit of every valve concerned is judged again; its earlier judgement stays on record.

    Raises:
        EntryFault: who or why is missing, or there is no such place.
        RuleFault: the key is unknown or the value can't stand there.
    """
    if not who.strip() or not why.strip():
        raise EntryFault(
            "Who and why",
            "A value of the site's own is kept with who and why.",
            "Give both; nothing was changed.",
        )
    published(register.published, rule_set)
    made = Override(rule_set, key, place, check_override(key, value), who.strip(), at, why.strip())
    with writing(register.database, who, f"set {key} at {place}", at) as tx:
        rules.add_override(tx, made)
        check_rules(_at(read_rulebook(tx.session, register.published), tx.session, place))
        _judge_last_again(tx, register, place)
        tx.touch(rules=True, everything=True)
    return tx.changes


def choose(register: Register, place: str, rule_set: str, *, who: str, at: datetime) -> ChangeSet:
    """Choose the rule set of the estate, a building or an outlet.

    Raises:
        RuleFault: there is no such rule set.
        EntryFault: there is no such place.
    """
    published(register.published, rule_set)
    kind, place_id = _parts(place)
    with writing(register.database, who, f"chose {rule_set} for {place}", at) as tx:
        if kind == "outlet":
            places.amend_outlet(tx, place_id, rule_set=rule_set)
        elif kind == "building":
            places.choose_building_rules(tx, place_id, rule_set)
        else:
            rules.choose_estate_rules(tx, rule_set)
        _judge_last_again(tx, register, place)
        tx.touch(rules=True, everything=True)
    return tx.changes


def _judge_last_again(tx: Transaction, register: Register, place: str) -> None:
    holdings = read_holdings(tx.session, register.published)
    building_of = places.building_of_outlet(tx.session)
    reached = {each.position_id for each in holdings.outlets if _within(place, each, building_of)}
    since: dict[int, date] = {}
    for fitting in holdings.fittings:
        counting = holdings.counting(fitting.valve_id)
        if fitting.position_id in reached and fitting.removed_on is None and counting:
            since[fitting.valve_id] = counting[-1].on
    judge_again(tx, register, since)


def _within(place: str, outlet: Outlet, building_of: Mapping[int, int]) -> bool:
    kind, place_id = _parts(place)
    if kind == "building":
        return building_of[outlet.id] == place_id
    return kind == ESTATE or outlet.id == place_id

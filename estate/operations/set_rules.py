"""Choose rule sets and lay the site's own values over them; who, when and why are kept."""

from collections.abc import Mapping
from datetime import date, datetime

from estate.domain.changes import ChangeSet
from estate.domain.conflicts import ConflictFault, FieldChange, Meanwhile, Seen
from estate.domain.phrases import phrase
from estate.domain.places import Outlet
from estate.domain.rules.overlay import check_override, check_rules
from estate.domain.rules.typed import typed_value
from estate.domain.rules.values import Override, RuleSet, RuleValue
from estate.errors import EntryFault, RuleFault
from estate.operations.holdings import read_holdings
from estate.operations.record_visit import judge_again
from estate.operations.register import Register
from estate.operations.rulebook import RuleBook, read_rulebook
from estate.store import ledger, places, row_versions, rules
from estate.store.database import Session
from estate.store.retrying import retried
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
        raise RuleFault(
            "No such rule set",
            phrase('"{rule_set}" is not known.', rule_set=rule_set),
            phrase("Choose one of: {known}.", known=known),
        )
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


@retried
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
    seen: RuleValue | None = None,
) -> ChangeSet:
    """Lay a value of the site's own over a published one, or withdraw it with None.

    The last visit of every valve concerned is judged again; its earlier judgement stays on record.

    Args:
        register: the open register.
        rule_set: id of the rule set.
        key: of the value.
        place: ``estate``, ``building:ID`` or ``outlet:ID``.
        value: the site's own; None goes back to the published one.
        who: who decides it.
        at: now, UTC.
        why: kept for good.
        seen: the value in force there as the form saw it; None asks nothing.

    Raises:
        EntryFault: who or why is missing, or there is no such place.
        ConflictFault: somebody else set another value there meanwhile.
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
    with writing(register.database, who, f"set {key} at {place}", at, why=made.why) as tx:
        _must_be_in_force(tx.session, register, made, seen)
        rules.add_override(tx, made)
        check_rules(_at(read_rulebook(tx.session, register.published), tx.session, place))
        _judge_last_again(tx, register, place)
        tx.touch(rules=True, everything=True)
    return tx.changes


@retried
def choose(
    register: Register,
    place: str,
    rule_set: str,
    *,
    who: str,
    at: datetime,
    why: str = "",
    seen: Seen | None = None,
) -> ChangeSet:
    """Choose the rule set of the estate, a building or an outlet.

    Args:
        register: the open register.
        place: ``estate``, ``building:ID`` or ``outlet:ID``.
        rule_set: id of the rule set.
        who: who chooses it.
        at: now, UTC.
        why: the reason, for the ledger; empty where none was given.
        seen: the row that holds the choice as the form saw it; None asks nothing.

    Raises:
        ConflictFault: somebody else changed that row meanwhile.
        RuleFault: there is no such rule set.
        EntryFault: there is no such place.
    """
    published(register.published, rule_set)
    kind, place_id = _parts(place)
    with writing(register.database, who, f"chose {rule_set} for {place}", at, why=why.strip()) as tx:
        row_versions.must_be_as_seen(tx, seen)
        if kind == "outlet":
            places.amend_outlet(tx, place_id, rule_set=rule_set)
        elif kind == "building":
            places.choose_building_rules(tx, place_id, rule_set)
        else:
            rules.choose_estate_rules(tx, rule_set)
        _judge_last_again(tx, register, place)
        tx.touch(rules=True, everything=True)
    return tx.changes


def _must_be_in_force(session: Session, register: Register, made: Override, seen: RuleValue | None) -> None:
    """Refuse where the value in force at a place is no longer the one that a form was filled from."""
    if seen is None:
        return
    in_force = _at(read_rulebook(session, register.published), session, made.place)
    now = in_force.get(made.key)
    if in_force.id != made.rule_set:
        raise ConflictFault("Other rules apply there now", _chosen(session, made, in_force.id), None)
    if now != seen:
        raise ConflictFault("Somebody else changed the value", _set_last(session, made, seen, now), now)


def _set_last(
    session: Session, made: Override, seen: RuleValue, now: RuleValue | None
) -> tuple[Meanwhile, ...]:
    own = [
        each for each in rules.overrides(session) if (each.rule_set, each.key) == (made.rule_set, made.key)
    ]
    after = "" if now is None else str(now.value)
    return tuple(
        Meanwhile(each.who, each.at, f"set it at {each.place}", each.why, (_value(seen, after),))
        for each in sorted(own, key=lambda each: each.at)[-1:]
    )


def _value(seen: RuleValue, after: str) -> FieldChange:
    return FieldChange("value", str(seen.value), after)


def _chosen(session: Session, made: Override, rule_set: str) -> tuple[Meanwhile, ...]:
    kind, place_id = _parts(made.place)
    rows = {("register", 1), (kind, place_id)} - {(ESTATE, 0)}
    told = [each for row in rows for each in ledger.entries(session, *row) if '"rule_set"' in each.after]
    changed = (FieldChange("rule set", made.rule_set, rule_set),)
    return tuple(
        Meanwhile(each.who, each.at, each.what, each.why, changed)
        for each in sorted(told, key=lambda each: each.id)[-1:]
    )


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

"""Change fields of one or many outlets by hand."""

from collections.abc import Mapping, Sequence
from datetime import datetime
from typing import Final

from estate.domain.conflicts import Rows, Seen
from estate.domain.editing import FROM_ABOVE, Edited, OutletChange
from estate.domain.phrases import phrase
from estate.domain.place_names import must_fit
from estate.domain.places import Outlet
from estate.domain.roles import Deed, why_not
from estate.errors import EntryFault
from estate.operations.judge_last import judge_last_again
from estate.operations.register import Register
from estate.operations.rename_place import nothing_changes
from estate.operations.set_rules import published
from estate.store import outlet_changes, places, roles, row_versions
from estate.store.database import Session
from estate.store.retrying import retried
from estate.store.transaction import writing

_ALONE: Final = {"reference": phrase("reference"), "name": phrase("wording")}
_NOT_JUDGED: Final = frozenset(_ALONE)


def outlets_of(register: Register, outlet_ids: Sequence[int]) -> tuple[Outlet, ...]:
    """Outlets as recorded, in the order asked.

    Raises:
        NotFoundFault: there is no such outlet.
    """
    with register.database.reading() as session:
        return places.outlets_by_id(session, outlet_ids)


def outlets_seen(register: Register, outlet_ids: Sequence[int]) -> Rows:
    """Outlets as a form is filled from them next; one that is gone has version 0."""
    with register.database.reading() as session:
        return row_versions.seen_rows(session, "outlet", outlet_ids)


@retried
def amend_outlets(
    register: Register,
    outlet_ids: Sequence[int],
    change: OutletChange,
    *,
    who: str,
    at: datetime,
    why: str = "",
    seen: Seen | Rows | None = None,
) -> Edited:
    """Change fields of outlets, all or none; the last visits are judged again by them.

    Args:
        register: the open register.
        outlet_ids: the outlets; one that has the values already stays as it is.
        change: what becomes different.
        who: who changes it.
        at: now, UTC.
        why: the reason, for the ledger; empty where none was given.
        seen: the outlet, or each of them, as the form saw it; None asks nothing.

    Raises:
        EntryFault: a reference is taken or goes to several outlets, the pipe's length is not a length, or
            nothing would change; or the account may not choose rules.
        ConflictFault: somebody else changed one of the outlets meanwhile.
        RuleFault: there is no such rule set.
        NotFoundFault: there is no such outlet.
    """
    fields = _fields(register, change)
    ids = list(dict.fromkeys(outlet_ids))
    for name in _ALONE.keys() & fields.keys():
        if len(ids) > 1:
            detail = phrase("{count} outlets were chosen.", count=len(ids))
            raise EntryFault(
                phrase("Only one outlet takes another {alone}", alone=_ALONE[name]), detail, "Choose one."
            )
    what = "changed an outlet" if len(ids) == 1 else f"changed {len(ids)} outlets"
    with writing(register.database, who, what, at, why=why.strip()) as tx:
        row_versions.must_be_as_seen(tx, seen)
        told = places.outlets_by_id(tx.session, ids)
        differing = {each.id: found for each in told if (found := _differing(each, fields))}
        if not differing:
            raise nothing_changes("The outlets have these values already.")
        if any("rule_set" in values for values in differing.values()):
            _may_choose_rules(tx.session)
        for outlet_id, values in differing.items():
            outlet_changes.write_outlet(tx, outlet_id, values)
        judged = [each for each, values in differing.items() if values.keys() - _NOT_JUDGED]
        judge_last_again(tx, register, judged)
        tx.touch(everything=any(values.keys() & _NOT_JUDGED for values in differing.values()))
    return Edited(tx.changes, tx.written)


def _may_choose_rules(session: Session) -> None:
    refused = why_not(roles.role_of_login(session), Deed.SET_RULES)
    if refused is not None:
        raise EntryFault("You may not choose rules", refused, "Ask one of them; nothing was changed.")


def _fields(register: Register, change: OutletChange) -> dict[str, object]:
    """The fields of an outlet that are to be set, by their columns."""
    given = {
        "reference": None if change.reference is None else change.reference.strip(),
        "name": None if change.words is None else " ".join(change.words.split()),
        "use": change.use,
        "user_group": change.user_group,
        "little_used": change.little_used,
        "pipe_m": change.pipe_m,
        "rule_set": change.rule_set,
    }
    fields: dict[str, object] = {name: value for name, value in given.items() if value is not None}
    for name in _ALONE.keys() & fields.keys():
        must_fit(str(fields[name]))
    if change.rule_set == FROM_ABOVE:
        fields["rule_set"] = None
    elif change.rule_set is not None:
        published(register.published, change.rule_set)
    return fields


def _differing(outlet: Outlet, fields: Mapping[str, object]) -> dict[str, object]:
    held = {
        "reference": outlet.reference,
        "name": outlet.path.outlet,
        "use": outlet.use,
        "user_group": outlet.user_group,
        "little_used": outlet.little_used,
        "pipe_m": outlet.pipe_m,
        "rule_set": outlet.rule_set,
    }
    return {name: value for name, value in fields.items() if held[name] != value}

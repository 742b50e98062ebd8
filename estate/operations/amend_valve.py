"""Change what is recorded of a valve body by hand."""

from dataclasses import fields, replace
from datetime import datetime
from typing import Any, Final

from estate.domain.conflicts import Seen
from estate.domain.editing import Edited, ValveChange
from estate.domain.phrases import phrase
from estate.domain.place_names import must_fit
from estate.domain.valve_figures import must_be_possible
from estate.domain.valves import Valve
from estate.errors import NotFoundFault
from estate.operations.judge_last import judge_last_again
from estate.operations.register import Register
from estate.operations.rename_place import nothing_changes
from estate.store import row_versions, valves
from estate.store.retrying import retried
from estate.store.transaction import writing

_LIMITS: Final = ("min_differential_k", "max_pressure_ratio")
_TEXTS: Final = ("make", "model", "serial")


@retried
def amend_valve(
    register: Register,
    valve_id: int,
    change: ValveChange,
    *,
    who: str,
    at: datetime,
    why: str = "",
    seen: Seen | None = None,
) -> Edited:
    """Change recorded facts of a body; its last visit is judged again by them.

    Args:
        register: the open register.
        valve_id: the body.
        change: what becomes different.
        who: who changes it.
        at: now, UTC.
        why: the reason, for the ledger; empty where none was given.
        seen: the body as the form saw it; None asks nothing.

    Raises:
        EntryFault: a figure can't be true, a text is too long, or nothing would change.
        ConflictFault: somebody else changed the body meanwhile.
        NotFoundFault: there is no such body.
    """
    with writing(register.database, who, "changed a valve", at, why=why.strip()) as tx:
        row_versions.must_be_as_seen(tx, seen)
        held = valves.valves(tx.session).get(valve_id)
        if held is None:
            raise NotFoundFault(
                "No such valve", phrase("valve {valve_id}.", valve_id=valve_id), "Read the register afresh."
            )
        changed = _changed(held, change)
        must_be_possible(changed)
        told: dict[str, Any] = {
            each.name: value
            for each in fields(Valve)
            if (value := getattr(changed, each.name)) != getattr(held, each.name)
        }
        if not told:
            raise nothing_changes(phrase("It is recorded so of {held} already.", held=held.words))
        valves.amend_valve(tx, valve_id, **told)
        judge_last_again(tx, register, (), [valve_id])
        tx.touch(valves=[valve_id], outlets=valves.outlets_served(tx.session, valve_id))
    return Edited(tx.changes, tx.written)


def _changed(held: Valve, change: ValveChange) -> Valve:
    given = {each.name: value for each in fields(change) if (value := getattr(change, each.name)) is not None}
    for name in given.keys() & set(_TEXTS):
        given[name] = " ".join(given[name].split())
        must_fit(given[name])
    limits = replace(held.limits, **{name: given.pop(name) for name in _LIMITS if name in given})
    return replace(held, limits=limits, **given)

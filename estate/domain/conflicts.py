"""What somebody else changed between the filling of a form and the keeping of it."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from types import MappingProxyType
from typing import Final

from estate.domain.phrases import phrase, together
from estate.domain.rules.values import RuleValue
from estate.domain.visits import VisitDraft, measured
from estate.errors import EntryFault

NO_INSTRUMENTS: Final[Mapping[int, str]] = MappingProxyType({})


@dataclass(frozen=True, slots=True)
class Seen:
    """A row of the register as a form was filled from it.

    Attributes:
        noun: the table, such as ``outlet``.
        version: raised with every change of the row.
    """

    noun: str
    row_id: int
    version: int = 1


Rows = tuple[Seen, ...]
"""Several rows of one table, as a form was filled from all of them."""


@dataclass(frozen=True, slots=True)
class FieldChange:
    """One field that somebody changed, both values as shown to a person."""

    field: str
    before: str
    after: str


@dataclass(frozen=True, slots=True)
class Meanwhile:
    """One change that somebody made meanwhile.

    Attributes:
        at: when, UTC.
        what: what they did, as the ledger tells it.
        why: their reason; empty where none was given.
    """

    who: str
    at: datetime
    what: str
    why: str = ""
    fields: tuple[FieldChange, ...] = ()


_LOOK: Final = phrase("Look at what is there now, and do it again where it still holds; nothing was changed.")


class ConflictFault(EntryFault):
    """A change was begun on an older state of what it would change; nothing was written.

    Args:
        title: what somebody did.
        meanwhile: what was changed, oldest first.
        now: what is there now, for a form that goes on with its own values; None where there is nothing
            left that they could be kept for.
        remedy: what the person can do.
    """

    def __init__(
        self,
        title: str,
        meanwhile: tuple[Meanwhile, ...],
        now: Seen | Rows | RuleValue | None,
        remedy: str = _LOOK,
    ) -> None:
        told = together(*map(_words, meanwhile), between="; ") or phrase("The ledger does not tell by whom")
        super().__init__(title, phrase("{told}.", told=told), remedy)
        self.meanwhile = meanwhile
        self.now = now


def _words(made: Meanwhile) -> str:
    said = phrase("changed by {who} at {at:%Y-%m-%d %H:%M} UTC", who=made.who, at=made.at)
    if made.fields:
        changed = together(*map(_change, made.fields), between=", ")
        said = phrase("{said}: {changed}", said=said, changed=changed)
    return phrase("{said} ({why})", said=said, why=made.why) if made.why else said


def _change(made: FieldChange) -> str:
    before, after = (f'"{each}"' if each else phrase("nothing") for each in (made.before, made.after))
    return phrase("{field} from {before} to {after}", field=made.field, before=before, after=after)


def draft_changes(
    before: VisitDraft, after: VisitDraft, instruments: Mapping[int, str] = NO_INSTRUMENTS
) -> tuple[FieldChange, ...]:
    """Where two drafts of a visit say something else."""
    told = [draft_words(each, instruments) for each in (before, after)]
    names = dict.fromkeys([*told[0], *told[1]])
    pairs = [(name, told[0].get(name, ""), told[1].get(name, "")) for name in names]
    return tuple(FieldChange(*pair) for pair in pairs if pair[1] != pair[2])


def draft_words(draft: VisitDraft, instruments: Mapping[int, str] = NO_INSTRUMENTS) -> dict[str, str]:
    """What a draft says by field, as shown; readings by their dotted names.

    Args:
        draft: the draft.
        instruments: references by id.
    """
    named = "" if draft.instrument_id is None else f"number {draft.instrument_id}"
    head = {
        "kind": draft.kind.value,
        "date": f"{draft.on:%Y-%m-%d}",
        "person": draft.person,
        "instrument": draft.instrument_words or instruments.get(draft.instrument_id or 0, named),
    }
    readings = {name: _shown(value) for name, value in measured(draft.readings).items()}
    return {**head, **readings, "remarks": draft.remarks}


def _shown(value: object) -> str:
    if isinstance(value, bool):
        return "yes" if value else "no"
    return f"{value:g}" if isinstance(value, float) else str(value)

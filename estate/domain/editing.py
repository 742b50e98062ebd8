"""Changes that a person makes to places, outlets and valves by hand, and the way back from each."""

from dataclasses import dataclass

from estate.domain.browsing import PlaceKind
from estate.domain.changes import ChangeSet
from estate.domain.places import Use, UserGroup
from estate.domain.valves import EnType, SchemeClass

Place = tuple[PlaceKind, int]
"""A storey of the tree and the id of a row in it."""

FROM_ABOVE = ""
"""As a rule set: the one of the building or the estate, and none of its own."""


@dataclass(frozen=True, slots=True)
class Written:
    """What one change left in the trail.

    Attributes:
        first, last: its first and last entry, by their numbers.
    """

    first: int
    last: int


@dataclass(frozen=True, slots=True)
class Edited:
    """What a change by hand came to.

    Attributes:
        written: by which it can be taken back.
        added_id: the row that was added; None where none was.
    """

    changes: ChangeSet
    written: Written
    added_id: int | None = None


@dataclass(frozen=True, slots=True)
class PlaceNames:
    """What a place is called; only a room has a number."""

    name: str
    number: str = ""


@dataclass(frozen=True, slots=True)
class OutletDraft:
    """An outlet that is added by hand.

    Attributes:
        words: what it is called within its room, such as ``basin by the door``.
        pipe_m: blended pipe from valve to outlet, metres; None if not measured.
    """

    reference: str
    words: str
    use: Use
    user_group: UserGroup
    little_used: bool = False
    pipe_m: float | None = None


@dataclass(frozen=True, slots=True)
class OutletChange:
    """What becomes different at outlets; None leaves a field as it is.

    Attributes:
        rule_set: id of the rule set chosen; `FROM_ABOVE` gives up an own choice.
        reference, words: for one outlet alone.
        pipe_m: metres.
    """

    use: Use | None = None
    user_group: UserGroup | None = None
    little_used: bool | None = None
    rule_set: str | None = None
    reference: str | None = None
    words: str | None = None
    pipe_m: float | None = None


@dataclass(frozen=True, slots=True)
class ValveChange:
    """What becomes different of a valve body as recorded; None leaves a field as it is.

    Attributes:
        set_c: the mixed temperature it is meant to be set to, °C.
        size_mm: nominal size, mm.
        min_differential_k: from its maker's instructions, K.
    """

    make: str | None = None
    model: str | None = None
    serial: str | None = None
    scheme_class: SchemeClass | None = None
    en_type: EnType | None = None
    designations: tuple[str, ...] | None = None
    size_mm: float | None = None
    set_c: float | None = None
    check_valves: bool | None = None
    strainers: bool | None = None
    isolating_valves: bool | None = None
    min_differential_k: float | None = None
    max_pressure_ratio: float | None = None

"""Where water is drawn and by whom: sites down to outlets."""

from dataclasses import dataclass
from datetime import date
from enum import StrEnum
from typing import Final


class Use(StrEnum):
    """What an outlet is for; it decides the temperature limits (D08-30..34)."""

    BASIN = "basin"
    SHOWER = "shower"
    BATH = "bath"
    ASSISTED_BATH = "assisted bath"
    BIDET = "bidet"
    HAIR_WASH = "hair wash"
    OTHER = "other"


class UserGroup(StrEnum):
    """Who uses an outlet, from robust staff to people who can't protect themselves (HSE-15)."""

    STAFF = "staff"
    PUBLIC = "public"
    PATIENTS = "patients"
    RESIDENTS = "residents"
    CHILDREN = "children"
    DEPENDENT = "dependent people"

    @property
    def vulnerability(self) -> int:
        """Rank from 0 (robust staff) to 5 (people who can't protect themselves)."""
        return _VULNERABILITY[self]

    @property
    def at_risk(self) -> bool:
        """Whether the group holds people whom hot water hurts sooner (HSE-15)."""
        return self is not UserGroup.STAFF


_VULNERABILITY: Final = {each: place for place, each in enumerate(UserGroup)}


@dataclass(frozen=True, slots=True)
class OutletPath:
    """The words that lead a person to an outlet, from site to outlet."""

    site: str
    building: str
    level: str
    room_number: str
    room: str
    outlet: str

    @property
    def room_words(self) -> str:
        """Number and name of the room in one phrase."""
        return f"{self.room_number} {self.room}".strip()

    def __str__(self) -> str:
        return " · ".join(part for part in (self.building, self.level, self.room_words, self.outlet) if part)


@dataclass(frozen=True, slots=True)
class Outlet:
    """One place where a person draws mixed water.

    Attributes:
        position_id: the mounting position whose valve serves this outlet.
        pipe_m: blended pipe from valve to outlet in metres; None if not measured.
        rule_set: the rule set chosen for this outlet itself; None takes the building's or estate's.
    """

    id: int
    reference: str
    path: OutletPath
    use: Use
    user_group: UserGroup
    position_id: int
    little_used: bool = False
    pipe_m: float | None = None
    rule_set: str | None = None
    retired_on: date | None = None

"""What a register says of itself, for every report's heading."""

from dataclasses import dataclass
from datetime import date


@dataclass(frozen=True, slots=True)
class RuleSetIdentity:
    """A rule set in force: its id, title and edition."""

    id: str
    title: str
    edition: str


@dataclass(frozen=True, slots=True)
class RegisterIdentity:
    """Name and identity of a register and the rule sets in force.

    Attributes:
        identifier: made once when the register is made; tells two registers of one name apart.
        revision: schema revision.
    """

    name: str
    identifier: str
    revision: str
    rule_sets: tuple[RuleSetIdentity, ...]


@dataclass(frozen=True, slots=True)
class AsAt:
    """The day and register that a report speaks of."""

    today: date
    register: RegisterIdentity

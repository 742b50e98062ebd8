"""Lines of the due list: one per valve, in walking order."""

import re
from dataclasses import dataclass
from datetime import date
from functools import lru_cache

from estate.domain.findings import Verdict
from estate.domain.places import OutletPath, Use, UserGroup
from estate.domain.standing import OutletState, shown_state, state_of
from estate.domain.windows import Window


@dataclass(frozen=True, slots=True)
class DueLine:
    """A valve, the outlet it is tested at, its next window and its last verdict.

    Attributes:
        also_serves: references of further outlets on the same valve.
        last_visit, verdict: None if never tested.
        out_of_use: whether every outlet on the valve is out of use.
        to_do: whether an action is open at any of them.
    """

    ref: str
    outlet_id: int
    valve_id: int
    valve: str
    path: OutletPath
    use: Use
    user_group: UserGroup
    window: Window
    today: date
    rule_set: str
    last_visit: date | None = None
    verdict: Verdict | None = None
    also_serves: tuple[str, ...] = ()
    out_of_use: bool = False
    to_do: bool = False

    @property
    def days_late(self) -> int:
        """Days past the window; 0 while it is not past."""
        return self.window.days_late(self.today)

    @property
    def overdue(self) -> bool:
        """Whether the window has passed."""
        return self.days_late > 0

    @property
    def found(self) -> OutletState:
        """The valve's state in one word, whatever was done about its outlets since."""
        return state_of(self.verdict, self.window, self.today)

    @property
    def state(self) -> OutletState:
        """The outlet's state in one word."""
        return shown_state(self.found, out_of_use=self.out_of_use, to_do=self.to_do)


_LEVELS = {"lb": -2, "b": -1, "basement": -1, "lg": -0.5, "g": 0.0, "ground": 0.0, "m": 0.5}


@lru_cache(maxsize=10_000)
def level_rank(level: str) -> tuple[float, str]:
    """Storeys from the bottom up: basement, ground, 1, 2, 10; unknown names last."""
    word = level.strip().casefold().removeprefix("level").removesuffix("floor").strip()
    if word in _LEVELS:
        return (_LEVELS[word], word)
    number = re.search(r"-?\d+", word)
    return (float(number.group()), word) if number else (1e6, word)


@lru_cache(maxsize=50_000)
def natural_key(words: str) -> tuple[tuple[int, int, str], ...]:
    """Sort key in which ``G2`` comes before ``G10``."""
    parts = re.findall(r"\d+|\D+", words.casefold())
    return tuple((0, int(part), "") if part.isdigit() else (1, 0, part) for part in parts)


def walking_key(path: OutletPath, reference: str) -> tuple[object, ...]:
    """The order in which a person walks: site, building, level, room number, outlet."""
    return (
        natural_key(path.site),
        natural_key(path.building),
        level_rank(path.level),
        natural_key(path.room_number),
        natural_key(path.outlet),
        reference,
    )

"""How a window stood when it was left: register, place on the screen, page, tree; kept among the settings."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Any, Final

from estate.window.spots import Spot, found, kept

MOST_UNFOLDED: Final = 500
LEAST_WIDE: Final = 480
LEAST_HIGH: Final = 360
LEAST_IN_SIGHT: Final = 80
_SIDES: Final = 4
Box = tuple[int, int, int, int]
"""Left, top, width and height in logical pixels."""


@dataclass(frozen=True, slots=True)
class AsLeft:
    """One window.

    Attributes:
        register: its file or address; empty where none was open.
        box: the window on the screen, when it does not fill it.
        full: whether it filled the screen.
        parts: widths of tree and page.
        unfolded: kinds and ids of the places unfolded in the tree.
    """

    register: str = ""
    box: Box | None = None
    full: bool = False
    parts: tuple[int, ...] = ()
    spot: Spot | None = None
    unfolded: tuple[tuple[str, int], ...] = ()


def keep_window(left: AsLeft) -> dict[str, Any]:
    """A window as it is kept among the settings."""
    return {
        "register": left.register,
        "box": None if left.box is None else list(left.box),
        "full": left.full,
        "parts": list(left.parts),
        "spot": None if left.spot is None else kept(left.spot),
        "unfolded": [list(each) for each in left.unfolded[:MOST_UNFOLDED]],
    }


def find_windows(read: Iterable[Any]) -> list[AsLeft]:
    """The windows from the settings; whatever is told wrongly takes its usual value."""
    return [_window(each) for each in read if isinstance(each, dict)]


def _window(read: dict[str, Any]) -> AsLeft:
    register = read.get("register")
    box = _whole(read.get("box"))
    return AsLeft(
        register=register if isinstance(register, str) else "",
        box=(box[0], box[1], box[2], box[3]) if len(box) == _SIDES else None,
        full=read.get("full") is True,
        parts=tuple(each for each in _whole(read.get("parts")) if each > 0),
        spot=found(read.get("spot")),
        unfolded=tuple(_places(read.get("unfolded"))),
    )


def _whole(read: Any) -> list[int]:
    listed = read if isinstance(read, list) else []
    return listed if all(type(each) is int for each in listed) else []


def _places(read: Any) -> Iterable[tuple[str, int]]:
    for each in read if isinstance(read, list) else ():
        if isinstance(each, list) and [type(part) for part in each] == [str, int]:
            yield each[0], each[1]


def in_sight(box: Box, screens: Sequence[Box]) -> Box:
    """A window where a person can reach it: as it was, or on the first screen where that screen is gone.

    Args:
        box: as it was left.
        screens: the room that each screen has for windows, the first one first.
    """
    if not screens:
        return box
    home = next((each for each in screens if _shared(box, each) >= LEAST_IN_SIGHT), None)
    left, top, wide, high = screens[0] if home is None else home
    width, height = min(max(box[2], LEAST_WIDE), wide), min(max(box[3], LEAST_HIGH), high)
    if home is None:
        return left + (wide - width) // 2, top + (high - height) // 2, width, height
    across = min(max(box[0], left - width + LEAST_IN_SIGHT), left + wide - LEAST_IN_SIGHT)
    down = min(max(box[1], top), top + high - LEAST_IN_SIGHT)
    return across, down, width, height


def _shared(one: Box, other: Box) -> int:
    """The lesser side of what two boxes share, in logical pixels."""
    across = min(one[0] + one[2], other[0] + other[2]) - max(one[0], other[0])
    down = min(one[1] + one[3], other[1] + other[3]) - max(one[1], other[1])
    return min(across, down)

"""Spots of a window: the pages that were shown, in order, to go back and forward among, and to return to."""

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field, replace
from typing import Any, Final

MOST_BACK: Final = 100
MOST_RECENT: Final = 15


@dataclass(frozen=True, slots=True)
class Spot:
    """A page as it was shown.

    Attributes:
        page: which page.
        kind, id: the place or outlet it shows; empty and 0 of a page that shows none.
        choice, words: what was chosen on it, and the words its lines were narrowed to.
        title: what the person knows it by.
    """

    page: str
    kind: str = ""
    id: int = 0
    choice: str = ""
    words: str = ""
    title: str = field(default="", compare=False)

    @property
    def what(self) -> tuple[str, str, int]:
        """What it shows, however its lines are chosen."""
        return self.page, self.kind, self.id


class Spots:
    """Where a window has been, and where in that it is."""

    def __init__(self) -> None:
        self._been: list[Spot] = []
        self._place = -1
        self._recent: list[Spot] = []

    @property
    def here(self) -> Spot | None:
        """Where the window is."""
        return self._been[self._place] if self._been else None

    @property
    def behind(self) -> Spot | None:
        """Where back leads."""
        return self._been[self._place - 1] if self._place > 0 else None

    @property
    def ahead(self) -> Spot | None:
        """Where forward leads."""
        return self._been[self._place + 1] if self._place + 1 < len(self._been) else None

    @property
    def recent(self) -> Sequence[Spot]:
        """What was shown of late, each once, the newest first."""
        return tuple(self._recent)

    def arrive(self, spot: Spot) -> None:
        """Come to a spot; what lay ahead is left. The same page chosen otherwise is no further spot."""
        if self.here is not None and self.here.what == spot.what:
            self._been[self._place] = spot
        else:
            self._been = [*self._been[: self._place + 1], spot][-MOST_BACK:]
            self._place = len(self._been) - 1
        self._note(spot)

    def step(self, by: int) -> Spot | None:
        """Go back (-1) or forward (1); None where there is nothing."""
        if not 0 <= self._place + by < len(self._been):
            return None
        self._place += by
        self._note(self._been[self._place])
        return self.here

    def keep_only(self, there: Callable[[Spot], bool]) -> None:
        """Forget what is gone."""
        here = self.here
        before = [each for each in self._been[: self._place] if there(each)]
        still = [] if here is None or not there(here) else [here]
        after = [each for each in self._been[self._place + 1 :] if there(each)]
        self._been = [*before, *still, *after]
        place = len(before) if still else max(len(before) - 1, 0)
        self._place = min(place, len(self._been) - 1)
        self._recent = [each for each in self._recent if there(each)]

    def remember(self, recent: Iterable[Spot]) -> None:
        """Begin with what was shown when the register was open before."""
        known = {each.what for each in self._recent}
        self._recent = [*self._recent, *(each for each in recent if each.what not in known)][:MOST_RECENT]

    def forget(self) -> None:
        """Begin anew."""
        self._been, self._place, self._recent = [], -1, []

    def _note(self, spot: Spot) -> None:
        others = [each for each in self._recent if each.what != spot.what]
        self._recent = [spot, *others][:MOST_RECENT]


def kept(spot: Spot) -> dict[str, Any]:
    """A spot as it is kept among the settings: its ids, nothing of the register beside its title."""
    return {
        "page": spot.page,
        "kind": spot.kind,
        "id": spot.id,
        "choice": spot.choice,
        "words": spot.words,
        "title": spot.title,
    }


def found(read: Any) -> Spot | None:
    """A spot from the settings; None where it is told wrongly."""
    if not isinstance(read, dict):
        return None
    usual = kept(Spot(""))
    good = {name: read[name] for name in usual if type(read.get(name)) is type(usual[name])}
    return replace(Spot(""), **good) if good.get("page") else None

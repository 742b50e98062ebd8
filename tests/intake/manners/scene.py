"""What every manner needs: an estate, a seeded choice, and the makings of its tables."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date
from random import Random
from typing import Any

from tests.intake.manners.headings import Headings
from tests.intake.manners.lives import Test, autumn, round_of
from tests.intake.manners.paper import Due, Entry, Page, Sheet
from tests.intake.manners.places import STYLES, Spot, estate
from tests.intake.manners.writing import (
    DAYS,
    Column,
    day,
    number,
    pick,
    reference,
    words,
    yes_no,
)

TICKS: tuple[tuple[Any, Any], ...] = (
    ("Y", "N"), ("Yes", "No"), ("✓", "✗"), ("Pass", "Fail"), ("P", "F"), ("PASS", "FAIL"), ("ok",
    "not ok"), ("yes", "no"),
)  # fmt: skip


@dataclass(slots=True)
class Scene:
    """The makings of one sheet."""

    manner: str
    seed: int
    random: Random
    style: str

    @property
    def spots(self) -> tuple[Spot, ...]:
        """The outlets of the estate."""
        return estate(self.style)

    def round(
        self, count: int = 0, days: Sequence[date] | None = None, spots: Sequence[Spot] | None = None
    ) -> list[Test]:
        """The tests of a round; without a count, of 25 to 45 outlets."""
        many = count or self.random.randrange(25, 46)
        return round_of(self.random, self.style, many, days or autumn(self.random), spots)

    def page(self, name: str = "") -> Page:
        """An empty page."""
        return Page(name or pick(self.random, "Sheet1", "TMV", "Results", "Round", "Tabelle1", "Data"))

    def sheet(
        self,
        pages: Page | Sequence[Page],
        entries: Sequence[Entry],
        saver: str = "",
        since_1904: bool = False,
    ) -> Sheet:
        """The finished sheet."""
        all_pages = [pages] if isinstance(pages, Page) else list(pages)
        saver = saver or pick(self.random, "openpyxl", "by hand")
        return Sheet(self.manner, self.seed, self.style, saver, all_pages, tuple(entries), since_1904)

    def usual(
        self,
        heads: Headings | None = None,
        on: str = "real",
        ticks: tuple[Any, Any] | None = None,
        write: Any = float,
        few: bool = False,
    ) -> list[Column]:
        """The columns of a usual round sheet in a usual order, some left out.

        Args:
            heads: the headings; None chooses English ones.
            on: how dates are written.
            ticks: how yes and no are written.
            write: how numbers are written.
            few: whether only the columns that no sheet is without.
        """
        random = self.random
        heads = heads or Headings(random)
        answers = ticks or pick(random, *TICKS)
        columns = [reference(heads["ref"]), day(heads["on"], DAYS[on])]
        if random.random() < 0.6 and not few:
            columns.insert(1, words(heads["place"], lambda test: f"{test.spot.room} {test.spot.room_number}"))
        columns += [number(name, heads[name], write) for name in ("hot_c", "cold_c", "found_c", "left_c")]
        if few:
            return columns
        spare = [
            number("cold_isolated.residual_ml_min", heads["cold_isolated.residual_ml_min"]),
            number("cold_isolated.shut_s", heads["cold_isolated.shut_s"], write),
            yes_no("cold_isolated.said_to_shut", heads["cold_isolated.said_to_shut"], answers),
            yes_no("strainers_cleaned", heads["strainers_cleaned"], answers),
        ]
        chosen = sorted(random.sample(range(len(spare)), random.randrange(1, len(spare) + 1)))
        columns += [spare[place] for place in chosen]
        if random.random() < 0.4:
            columns.append(words(heads["person"], lambda test: test.person))
        if random.random() < 0.6:
            columns.append(words(heads["remarks"], lambda test: test.remarks or None))
        if random.random() < 0.3:
            lines = iter(range(1, 10000))
            columns.insert(0, words(pick(random, "No.", "#", "Line"), lambda test: next(lines)))
        return columns


def scene(manner: str, seed: int) -> Scene:
    """The scene of a manner and a seed; the estate goes round its styles."""
    random = Random(f"{manner} {seed}")
    return Scene(manner, seed, random, STYLES[(seed + len(manner)) % len(STYLES)])


def asked(entry: Entry, why: str) -> Entry:
    """The same entry, but one that no clerk would take unasked."""
    return replace(entry, due=Due.ASK, why=why)


def either(entry: Entry, why: str) -> Entry:
    """The same entry, but one that may be asked about."""
    return replace(entry, due=Due.EITHER, why=why)

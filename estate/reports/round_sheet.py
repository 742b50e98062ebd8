"""A blank round sheet as values: what a person at the valve is given and what is to be entered."""

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

from estate.domain.dates import day_words
from estate.domain.field_limits import FieldLimit
from estate.domain.places import OutletPath
from estate.domain.register import AsAt
from estate.reports.document import Document, Fact
from estate.reports.round_columns import LIMITED, RoundColumn, columns, limit_titles
from estate.reports.wording import CAUTIONS, basis, counted, identity_facts

TITLE = "Round sheet: tests of thermostatic mixing valves"
NO_LIMIT = "none known"
_HELD_TOGETHER = re.compile(r"(?<=[≤≥<±]) | (?=[±*])")
"""Spaces at which no line is broken: a sign and its number stay together."""

UNVERIFIED = "*"
HOW_TO = (
    "Write in the framed white cells only. What was not measured stays empty: it is not tested, never a pass."
    " Rows may be sorted, left empty or left out; the reference of a row belongs to its hidden key."
)
STARRED = (
    f"{UNVERIFIED} beside a limit: the number was not seen in the document it comes from (sheet Read first)."
    " The previous value is of an earlier visit; it is no result of this one."
)
READ_FIRST = (
    Fact("Filling in", HOW_TO),
    Fact("Instrument and tester", "Once above the table for every row, or in the row where it differs."),
    Fact("Odd readings", "Enter what was read, however odd: the sheet warns of a slip and refuses nothing."),
    Fact(
        "Protection", "The given cells are protected without a password, so that none is changed by mistake."
    ),
    Fact("Printing", "Made for A3 across; on A4 the letters are smaller."),
    Fact("Sending back", "Save it as .xlsx and bring it in; each row finds its own outlet by its key."),
)


@dataclass(frozen=True, slots=True)
class RoundLine:
    """One outlet to visit.

    Attributes:
        also_serves: references of further outlets on the same valve.
        set_c: temperature the valve is meant to be set to, °C; None if not recorded.
        last: what it was left at at an earlier visit, in words.
        key: see `estate.domain.round_key`.
        limits: by field, such as ``hot_c``.
    """

    reference: str
    path: OutletPath
    use: str
    users: str
    valve: str
    key: str
    set_c: float | None = None
    last: str = ""
    also_serves: tuple[str, ...] = ()
    limits: Mapping[str, FieldLimit] = field(default_factory=dict)

    def given(self, name: str) -> str:
        """The words of a given column."""
        also = f" (the valve also serves {', '.join(self.also_serves)})" if self.also_serves else ""
        words = {
            "reference": self.reference,
            "site": self.path.site,
            "building": self.path.building,
            "level": self.path.level,
            "room": self.path.room_words,
            "outlet": self.path.outlet + also,
            "use": self.use,
            "users": self.users,
            "valve": self.valve,
            "set_words": "not recorded" if self.set_c is None else f"set {self.set_c:g}\u00a0°C",
            "last": self.last,
            "key": self.key,
        }
        return words[name]

    def limit(self, name: str) -> str:
        """The limit beside a field."""
        return limit_words(self.limits.get(name))


def limit_words(limit: FieldLimit | None) -> str:
    """A limit, starred where a number of it was not verified."""
    if limit is None:
        return NO_LIMIT
    words = limit.words if limit.verified else f"{limit.words} {UNVERIFIED}"
    return _HELD_TOGETHER.sub("\u00a0", words)


@dataclass(frozen=True, slots=True)
class RoundSheet:
    """A blank round sheet.

    Attributes:
        front: what the sheet to read first says; its first fact names the outlets chosen.
        shared: the limit, or None, of each field for which it is the same at every outlet.
        lists: what drop-downs offer of the register's own, by name.
        legend: each limit of the sheet with where it comes from.
    """

    front: Document
    columns: tuple[RoundColumn, ...]
    lines: tuple[RoundLine, ...]
    shared: Mapping[str, FieldLimit | None]
    lists: Mapping[str, tuple[str, ...]]
    legend: tuple[Fact, ...]

    @property
    def subtitle(self) -> str:
        """Estate, day and choice in one line."""
        front = self.front
        made = f"made on {day_words(front.as_at)}"
        return " · ".join((front.register, made, front.facts[0].words, front.basis))


def round_sheet(
    lines: Sequence[RoundLine],
    as_at: AsAt,
    chosen: str,
    instruments: Sequence[str] = (),
    people: Sequence[str] = (),
) -> RoundSheet:
    """Say what stands on a round sheet.

    Args:
        lines: the outlets, in walking order.
        as_at: the day and the register.
        chosen: which outlets these are, in words.
        instruments: references to offer.
        people: names to offer.
    """
    several = len({each.path.site for each in lines}) > 1
    shared = _shared(lines)
    outlets = Fact("Outlets", f"{counted(len(lines), 'outlet')}: {chosen}")
    made = Fact("Made on", day_words(as_at.today))
    facts = (outlets, made, *identity_facts(as_at)[1:])
    return RoundSheet(
        front=Document(TITLE, as_at.register.name, as_at.today, basis(as_at), facts, CAUTIONS, ()),
        columns=columns(several, [name for name in LIMITED if name not in shared]),
        lines=tuple(lines),
        shared=shared,
        lists={"instruments": tuple(instruments), "people": tuple(people)},
        legend=_legend(lines),
    )


def _shared(lines: Sequence[RoundLine]) -> Mapping[str, FieldLimit | None]:
    found = {name: {each.limits.get(name) for each in lines} for name in LIMITED}
    return {name: next(iter(limits)) for name, limits in found.items() if len(limits) == 1}


def _legend(lines: Sequence[RoundLine]) -> tuple[Fact, ...]:
    """Each limit once, with at how many outlets of the sheet it holds."""
    found = []
    for name, title in limit_titles():
        counts: dict[FieldLimit, int] = {}
        for each in lines:
            if limit := each.limits.get(name):
                counts[limit] = counts.get(limit, 0) + 1
        for limit, count in counts.items():
            star = "" if limit.verified else f" {UNVERIFIED}"
            where = "" if count == len(lines) else f" (at {count} of {counted(len(lines), 'outlet')})"
            found.append(Fact(f"{title}: {limit.words}{star}", "; ".join(limit.sources) + where))
    return tuple(found)

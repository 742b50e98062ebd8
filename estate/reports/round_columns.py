"""The columns of a round sheet: what is given, what is to be entered, what stands beside it."""

from collections.abc import Collection, Iterator
from dataclasses import dataclass
from enum import StrEnum

from estate.domain.visits import VisitKind


class Part(StrEnum):
    """What a column of a round sheet is for."""

    GIVEN = "given"
    LIMIT = "limit"
    ENTRY = "entry"
    KEY = "key"


class Holds(StrEnum):
    """What a person enters in a column."""

    WORDS = "words"
    NUMBER = "number"
    DATE = "date"
    ANSWER = "one of a few answers"
    LISTED = "one of a list, or anything else"


@dataclass(frozen=True, slots=True)
class RoundColumn:
    """One column.

    Attributes:
        name: of the field, of the line's attribute if given, or of the field that a limit stands beside.
        room: width in characters.
        answers: what the drop-down offers; for `Holds.LISTED` the name of the list instead.
        lowest, highest: outside them a number is warned about, never refused.
        hint: said when the cell is chosen.
    """

    name: str
    title: str
    room: float
    part: Part
    holds: Holds = Holds.WORDS
    answers: tuple[str, ...] = ()
    lowest: float = 0.0
    highest: float = 0.0
    hint: str = ""


NOT_DONE = (
    "no access: locked",
    "no access: in use",
    "no access: not allowed in",
    "no access: valve can't be reached",
)
"""What may be said of a valve that could not be tested."""

_YES_NO = ("yes", "no")
_EMPTY = "Leave it empty if it was not measured: an empty cell is not tested, never a pass."


def _given(name: str, title: str, room: float) -> RoundColumn:
    return RoundColumn(name, title, room, Part.GIVEN)


def _number(name: str, title: str, highest: float, hint: str) -> RoundColumn:
    hint = f"{hint} {_EMPTY}"
    return RoundColumn(name, title, 7, Part.ENTRY, Holds.NUMBER, highest=highest, hint=hint)


def _limit(name: str, room: float = 7) -> RoundColumn:
    return RoundColumn(name, "Limit", room, Part.LIMIT)


def _answer(name: str, title: str, room: float, answers: tuple[str, ...], hint: str) -> RoundColumn:
    return RoundColumn(name, title, room, Part.ENTRY, Holds.ANSWER, answers, hint=hint)


def _seen(name: str, title: str) -> RoundColumn:
    return _answer(name, title, 7, _YES_NO, "yes or no. Leave it empty if it was not looked at.")


def _listed(name: str, title: str, offered: str, hint: str) -> RoundColumn:
    return RoundColumn(name, title, 8.5, Part.ENTRY, Holds.LISTED, (offered,), hint=hint)


def _isolated(supply: str, name: str, title: str, highest: float, hint: str) -> tuple[RoundColumn, ...]:
    field = f"{supply}_isolated.{name}"
    return _number(field, f"{supply.title()} off: {title}", highest, hint), _limit(field)


SITE = _given("site", "Site", 10)

PLACE = (
    _given("reference", "Outlet reference", 13),
    _given("building", "Building", 9.5),
    _given("level", "Level", 5),
    _given("room", "Room", 11),
    _given("outlet", "Outlet", 9.5),
    _given("use", "Use", 7),
    _given("users", "Used by", 8),
    _given("valve", "Valve", 11.5),
    _given("set_words", "Set to", 8.5),
    _given("last", "Last time", 11),
)

_DAY = "Day of the visit, such as 25 Nov 2026 or 2026-11-25."
_FOUND = "Before anything is adjusted, at the largest draw-off, once steady."
_ADJUSTED = "yes if the temperature was set anew at this visit, else no."
_LEFT = "At the end. Left empty with Adjusted no, it is as found."
_INSTRUMENT = "Reference of the thermometer; another one may be written in."
_WHO = "Who tested; another name may be written in."
_WHY = "Only where the valve could not be tested. Enter the date too."
_LINES = "Anything worth knowing; over several lines if need be."

ENTRIES = (
    RoundColumn("on", "Date", 8, Part.ENTRY, Holds.DATE, hint=_DAY),
    _number("hot_c", "Hot (°C)", 100, "Hot supply to the valve."),
    _limit("hot_c"),
    _number("cold_c", "Cold (°C)", 100, "Cold supply to the valve."),
    _limit("cold_c"),
    _number("found_c", "Mixed as found (°C)", 100, _FOUND),
    _limit("found_c"),
    _number("flow_l_min", "Flow (l/min)", 200, "Mixed water at the largest draw-off."),
    *_isolated("cold", "max_c", "max (°C)", 100, "Highest mixed temperature after the cold is shut."),
    *_isolated("cold", "stabilised_c", "stabilised (°C)", 100, "Final temperature of what still flows."),
    *_isolated("cold", "residual_ml_min", "residual flow (ml/min)", 60_000, "Collected in one minute."),
    *_isolated("cold", "shut_s", "shut-off time (s)", 3600, "From shutting the cold until the flow stops."),
    *_isolated("hot", "residual_ml_min", "residual flow (ml/min)", 60_000, "Collected in one minute."),
    _seen("strainers_cleaned", "Strainers cleaned"),
    _seen("check_valves_good", "Check valves good"),
    _seen("isolating_valves_open", "Isolating valves open"),
    _answer("adjusted", "Adjusted", 7.5, _YES_NO, _ADJUSTED),
    _number("left_c", "Mixed as left (°C)", 100, _LEFT),
    _limit("left_c", 11),
    _seen("cap_refitted", "Cap refitted"),
    _listed("instrument", "Instrument", "instruments", _INSTRUMENT),
    _listed("person", "Tested by", "people", _WHO),
    _answer("kind", "Kind of visit", 8.5, tuple(VisitKind), "Empty is an in-service test."),
    _answer("not_done", "Why not tested", 9, NOT_DONE, _WHY),
    RoundColumn("remarks", "Remarks", 14, Part.ENTRY, hint=_LINES),
)

KEY = RoundColumn("key", "Register key", 30, Part.KEY)

LIMITED = tuple(each.name for each in ENTRIES if each.part is Part.LIMIT)
"""Fields that may have a limit."""


def columns(several_sites: bool, varying: Collection[str]) -> tuple[RoundColumn, ...]:
    """Every column from left to right.

    Args:
        several_sites: whether the sheet leads to more than one; else there is no column for it.
        varying: fields whose limit is not the same at every outlet; only they have a column for it.
    """
    first, *others = PLACE
    entries = (each for each in ENTRIES if each.part is not Part.LIMIT or each.name in varying)
    return (first, *((SITE,) if several_sites else ()), *others, *entries, KEY)


def limit_titles() -> Iterator[tuple[str, str]]:
    """Each field that may have a limit, and the title of its own column."""
    titles = {each.name: each.title for each in ENTRIES if each.part is Part.ENTRY}
    yield from ((name, titles[name]) for name in LIMITED)

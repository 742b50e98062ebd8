"""Work out the figures of the first page from what is known on a day."""

from collections.abc import Iterable, Sequence
from datetime import timedelta
from typing import Final

from estate.domain.dates import day_words
from estate.domain.due import DueLine
from estate.domain.figures_of_means import of_care, of_instruments, of_people
from estate.domain.findings import Severity, Verdict
from estate.domain.known_today import Known
from estate.domain.life.outlet_use import OutletUse, UseOfOutlet
from estate.domain.phrases import phrase, phrase_count, together
from estate.domain.standing import OutletState
from estate.domain.today import Behind, Figure, ListAsked, Part, Week, Weight, Workload, weeks_from

SOON_WEEKS: Final = 4
"""Windows that end within so many weeks are told as due soon."""


def figures(known: Known) -> tuple[Figure, ...]:
    """Every figure, what hurts first; those that count nothing too."""
    return (
        _to_stop(known),
        _out_of_use(known),
        _put_right(known),
        *_actions(known),
        _overdue(known),
        _not_tested(known),
        _due_soon(known),
        *of_instruments(known),
        *of_people(known),
        *of_care(known),
    )


def _of_lines(behind: Behind, words: str, lines: Iterable[DueLine]) -> ListAsked:
    return ListAsked(behind, words, frozenset(each.outlet_id for each in lines))


def _valves(of: Sequence[object]) -> str:
    return phrase_count(len(of), "{n:,} valve", "{n:,} valves")


def _to_stop(known: Known) -> Figure:
    def runs(line: DueLine) -> bool:
        stand = (known.uses.get(each, UseOfOutlet()).use for each in known.served[line.outlet_id])
        return OutletUse.IN_USE in stand

    found = [each for each in known.lines if each.verdict is Verdict.OUT_OF_USE and runs(each)]
    return Figure(
        Part.SAFETY,
        Weight.HARM,
        len(found),
        _valves(found),
        phrase_count(
            len(found),
            "must come out of use: what was found could hurt somebody, and the outlet is on record as in "
            "use.",
            "must come out of use: what was found could hurt somebody, and the outlet is on record as in "
            "use.",
        ),
        phrase("no valve is on record that must come out of use and has not"),
        _of_lines(Behind.STOP, phrase("Must come out of use"), found),
        phrase("Make each safe first, then record it."),
    )


def _out_of_use(known: Known) -> Figure:
    found = known.out_of_use()
    since = next((each.use.since for each in found if each.use.since), None)
    return Figure(
        Part.SAFETY,
        Weight.WITHDRAWN,
        len(found),
        phrase_count(len(found), "{n:,} outlet", "{n:,} outlets"),
        phrase_count(len(found), "is out of use.", "are out of use."),
        phrase("no outlet is out of use"),
        ListAsked(Behind.OUT_OF_USE, phrase("Out of use"), frozenset(each.outlet.id for each in found)),
        phrase("The longest since {day}. Water stands there: flush.", day=day_words(since)) if since else "",
    )


def _put_right(known: Known) -> Figure:
    found = [each for each in known.lines if each.found is OutletState.PUT_RIGHT]
    return Figure(
        Part.SAFETY,
        Weight.MEND,
        len(found),
        _valves(found),
        phrase_count(len(found), "is to be put right.", "are to be put right."),
        phrase("no valve is to be put right"),
        _of_lines(Behind.PUT_RIGHT, phrase("To be put right"), found),
    )


def _actions(known: Known) -> tuple[Figure, ...]:
    live = [each for each in known.actions if each.state.live]
    late = [each for each in live if each.days_late(known.today)]
    stop = sum(each.severity is Severity.OUT_OF_USE for each in late)
    most = max((each.days_late(known.today) for each in late), default=0)
    unowned = [each for each in live if not each.owner]
    return (
        Figure(
            Part.SAFETY,
            Weight.LATE,
            len(late),
            phrase_count(len(late), "{n:,} action", "{n:,} actions"),
            phrase_count(len(late), "is past its target date.", "are past their target date."),
            phrase("no action is past its target date"),
            ListAsked(Behind.ACTIONS_LATE, phrase("Past their target date")),
            _longest_late(most, stop),
        ),
        Figure(
            Part.SAFETY,
            Weight.SETTLE,
            len(unowned),
            phrase_count(len(unowned), "{n:,} action", "{n:,} actions"),
            phrase_count(len(unowned), "has no owner.", "have no owner."),
            phrase("every action has an owner") if live else phrase("no action is open"),
            ListAsked(Behind.UNOWNED, phrase("Without an owner")),
        ),
    )


def _longest_late(most: int, stop: int) -> str:
    longest = phrase_count(most, "The longest by {n:,} day.", "The longest by {n:,} days.")
    grave = phrase_count(
        stop,
        "{n:,} of them about taking an outlet out of use.",
        "{n:,} of them about taking an outlet out of use.",
    )
    return together(longest, grave if stop else "")


def _overdue(known: Known) -> Figure:
    found = [each for each in known.lines if each.overdue]
    never = sum(each.verdict is None for each in found)
    most = max((each.days_late for each in found), default=0)
    return Figure(
        Part.TESTS,
        Weight.LATE,
        len(found),
        _valves(found),
        phrase_count(len(found), "is past its test window.", "are past their test window."),
        phrase("no valve is past its test window"),
        _of_lines(Behind.OVERDUE, phrase("Overdue"), found),
        _longest_never(most, never) if never else _longest_late(most, 0),
    )


def _longest_never(most: int, never: int) -> str:
    return phrase_count(
        most,
        "The longest by {n:,} day; {never:,} of them never tested.",
        "The longest by {n:,} days; {never:,} of them never tested.",
        never=never,
    )


def _not_tested(known: Known) -> Figure:
    found = [each for each in known.lines if each.verdict is Verdict.NOT_TESTED]
    return Figure(
        Part.TESTS,
        Weight.UNKNOWN,
        len(found),
        _valves(found),
        phrase_count(
            len(found),
            "was visited, but something required was not measured or not in a way that counts.",
            "were visited, but something required was not measured or not in a way that counts.",
        ),
        phrase("no last visit left something required unmeasured"),
        _of_lines(Behind.NOT_TESTED, phrase("Something required not tested"), found),
        phrase("That is no pass."),
    )


def _due_soon(known: Known) -> Figure:
    last = known.today + timedelta(weeks=SOON_WEEKS)
    found = [each for each in known.lines if known.today <= each.window.not_after <= last]
    until = day_words(last)
    return Figure(
        Part.TESTS,
        Weight.COMING,
        len(found),
        _valves(found),
        phrase_count(len(found), "is due by {until}.", "are due by {until}.", until=until),
        phrase("no further valve is due by {until}", until=until),
        _of_lines(Behind.DUE_SOON, phrase("Due by {until}", until=until), found),
    )


def workload(known: Known, weeks: int = 26) -> Workload:
    """Windows by the week in which they end; those past stand apart."""
    spans = list(weeks_from(known.today, weeks))
    ending: list[list[int]] = [[] for _ in spans]
    monday = known.today - timedelta(days=known.today.weekday())
    later, overdue = 0, list[int]()
    for line in known.lines:
        week = (line.window.not_after - monday).days // 7
        if line.overdue:
            overdue.append(line.outlet_id)
        elif week < weeks:
            ending[week].append(line.outlet_id)
        else:
            later += 1
    made = tuple(Week(*span, tuple(found)) for span, found in zip(spans, ending, strict=True))
    return Workload(tuple(overdue), made, later)


def not_in_date(known: Known) -> ListAsked:
    """Valves that today's share leaves out: never tested, overdue, or the last visit not satisfactory."""
    found = [each for each in known.lines if not in_date(each)]
    return _of_lines(Behind.NOT_IN_DATE, phrase("Without a satisfactory test in date"), found)


def in_date(line: DueLine) -> bool:
    """Whether a valve has a satisfactory test in date."""
    return line.verdict is not None and line.verdict.satisfactory and not line.overdue

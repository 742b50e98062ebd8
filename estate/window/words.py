"""How values are written for a person: dates, temperatures, counts, yes and no."""

from datetime import date, datetime

from estate.domain.temperature import Scale, on_scale, told
from estate.domain.windows import Window

_MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")
NOTHING = "–"


def day(on: date | None) -> str:
    """A date as 25 Nov 2026, the same in every locale; a dash where there is none."""
    return NOTHING if on is None else f"{on.day} {_MONTHS[on.month - 1]} {on.year}"


def moment(at: datetime) -> str:
    """A UTC moment to the minute, such as 25 Nov 2026 10:42 UTC."""
    return f"{day(at.date())} {at:%H:%M} UTC"


def celsius(degrees: float | None, unit: bool = True, scale: Scale = Scale.CELSIUS) -> str:
    """A temperature in °C on a scale, to one decimal; a dash where not measured."""
    if degrees is None:
        return NOTHING
    return told(degrees, scale) if unit else f"{on_scale(degrees, scale):.1f}"


def number(value: float | None, unit: str = "") -> str:
    """A number without needless zeros, with its unit if given; a dash where there is none."""
    if value is None:
        return NOTHING
    return f"{value:g} {unit}".rstrip()


def yes_no(value: bool | None) -> str:
    """Yes, no, or that it was not recorded."""
    return "not recorded" if value is None else ("yes" if value else "no")


def count(of: int, one: str, many: str = "") -> str:
    """A count with its noun: 1 outlet, 3 outlets, 1,204 outlets."""
    return f"{of:,} {one if of == 1 else (many or one + 's')}"


def span(first: date, last: date) -> str:
    """A window from its first to its last day; one date where they are the same."""
    return day(first) if first == last else f"{day(first)} to {day(last)}"


def how_soon(window: Window, today: date) -> str:
    """Where today stands to a window: days late, open, or days until it opens."""
    late = window.days_late(today)
    if late:
        return f"{count(late, 'day')} late"
    left = (window.not_after - today).days
    if window.not_before <= today:
        return "closes today" if left == 0 else f"open now, closes in {count(left, 'day')}"
    return f"opens in {count((window.not_before - today).days, 'day')}"


def sentence(words: str) -> str:
    """The words with a capital first letter; the rest is left alone."""
    return words[:1].upper() + words[1:]


def listed(parts: list[str], most: int = 6) -> str:
    """Parts in one line, the surplus counted."""
    shown = ", ".join(parts[:most])
    more = len(parts) - most
    return f"{shown} and {more} more" if more > 0 else shown


def first_sentence(text: str) -> tuple[str, str]:
    """The first sentence and the rest; a point inside a number ends none."""
    first, stop, rest = text.partition(". ")
    return (f"{first}.", rest) if stop else (text, "")


def month(on: date) -> str:
    """A month as Nov 2026."""
    return f"{_MONTHS[on.month - 1]} {on.year}"


def share(of: float, unit: bool = True) -> str:
    """A probability or share in per cent, never rounded to nothing or to certainty."""
    percent = of * 100
    if percent < 0.1:
        shown = "less than 0.1"
    elif percent > 99.9:
        shown = "more than 99.9"
    else:
        shown = f"{percent:.1f}" if percent < 10 or percent > 99 else f"{percent:.0f}"
    return f"{shown} %" if unit else shown

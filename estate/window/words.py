"""How values are written for a person: dates, temperatures, counts, yes and no."""

from datetime import date, datetime

from estate.domain.temperature import Scale, on_scale, told
from estate.domain.windows import Window
from estate.window.translating import tr, tr_count

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
    if value is None:
        return tr("not recorded")
    return tr("yes") if value else tr("no")


def span(first: date, last: date) -> str:
    """A window from its first to its last day; one date where they are the same."""
    return day(first) if first == last else tr("{first} to {last}", first=day(first), last=day(last))


def how_soon(window: Window, today: date) -> str:
    """Where today stands to a window: days late, open, or days until it opens."""
    late = window.days_late(today)
    if late:
        return tr_count(late, "{n:,} day late", "{n:,} days late")
    left = (window.not_after - today).days
    if window.not_before <= today:
        if left == 0:
            return tr("closes today")
        return tr_count(left, "open now, closes in {n:,} day", "open now, closes in {n:,} days")
    return tr_count((window.not_before - today).days, "opens in {n:,} day", "opens in {n:,} days")


def sentence(words: str) -> str:
    """The words with a capital first letter; the rest is left alone."""
    return words[:1].upper() + words[1:]


def listed(parts: list[str], most: int = 6) -> str:
    """Parts in one line, the surplus counted."""
    shown = ", ".join(parts[:most])
    more = len(parts) - most
    return tr("{shown} and {more} more", shown=shown, more=more) if more > 0 else shown


def together(*sentences: str) -> str:
    """Whole sentences one after the other; an empty one is left out."""
    return " ".join(each for each in sentences if each)


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
        shown = tr("less than 0.1")
    elif percent > 99.9:
        shown = tr("more than 99.9")
    else:
        shown = f"{percent:.1f}" if percent < 10 or percent > 99 else f"{percent:.0f}"
    return f"{shown} %" if unit else shown


def in_eights(digest: str) -> str:
    """A digest in groups of eight, to be read aloud and to go on in the next line."""
    return " ".join(digest[at : at + 8] for at in range(0, len(digest), 8))

"""How the share of valves with a satisfactory test in date is told, and how it moved."""

from collections.abc import Sequence

from estate.domain.today import Share
from estate.window import words
from estate.window.translating import tr, tr_count

_SAME_POINTS = 0.5


def percent(share: Share) -> str:
    """A share as people read it; a dash where no valve was in place.

    Whole and none are told only where they are so.
    """
    if share.of_one is None:
        return words.NOTHING
    if share.good in (0, share.valves):
        return "0 %" if share.good == 0 else "100 %"
    return f"{min(99, max(1, round(100 * share.of_one)))} %"


def moved(shares: Sequence[Share]) -> str:
    """How today's share differs from the end of last month, and from the first month known."""
    now, past = shares[-1], [each for each in shares[:-1] if each.of_one is not None]
    if now.of_one is None or not past:
        return ""
    said = _against(now, past[-1])
    if len(past) > 1:
        said += f", {_against(now, past[0])}"
    return f"{words.sentence(said)}."


def _against(now: Share, then: Share) -> str:
    points = 100 * ((now.of_one or 0.0) - (then.of_one or 0.0))
    when = tr("at the end of {month} ({then})", month=words.month(then.on), then=percent(then))
    if abs(points) < _SAME_POINTS:
        return tr("as {when}", when=when)
    whole = round(abs(points))
    if points > 0:
        return tr_count(whole, "{n} point more than {when}", "{n} points more than {when}", when=when)
    return tr_count(whole, "{n} point less than {when}", "{n} points less than {when}", when=when)


def of_day(share: Share, today: bool) -> str:
    """One point of the line."""
    when = tr("Today, {day}", day=words.day(share.on)) if today else words.day(share.on)
    if share.of_one is None:
        return tr("{when}: no valve in place", when=when)
    return tr_count(
        share.valves,
        "{when}: {share}, {good:,} of {n:,} valve",
        "{when}: {share}, {good:,} of {n:,} valves",
        when=when,
        share=percent(share),
        good=share.good,
    )


def in_words(shares: Sequence[Share]) -> str:
    """The whole line."""
    return "; ".join(of_day(each, each is shares[-1]) for each in shares)

"""How the share of valves with a satisfactory test in date is told, and how it moved."""

from collections.abc import Sequence

from estate.domain.today import Share
from estate.window import words

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
    when = f"at the end of {words.month(then.on)} ({percent(then)})"
    if abs(points) < _SAME_POINTS:
        return f"as {when}"
    whole = f"{abs(points):.0f} point{'' if round(abs(points)) == 1 else 's'}"
    return f"{whole} {'more' if points > 0 else 'less'} than {when}"


def of_day(share: Share, today: bool) -> str:
    """One point of the line."""
    when = f"Today, {words.day(share.on)}" if today else words.day(share.on)
    if share.of_one is None:
        return f"{when}: no valve in place"
    return f"{when}: {percent(share)}, {share.good:,} of {words.count(share.valves, 'valve')}"


def in_words(shares: Sequence[Share]) -> str:
    """The whole line."""
    return "; ".join(of_day(each, each is shares[-1]) for each in shares)

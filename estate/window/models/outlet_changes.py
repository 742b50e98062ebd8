"""What a change of outlets would come to, in words, and what must be weighed before it."""

from collections import Counter
from collections.abc import Callable, Sequence
from dataclasses import replace
from typing import Final

from estate.domain.editing import FROM_ABOVE, OutletChange
from estate.domain.places import Outlet
from estate.window import words
from estate.window.translating import said, tr, tr_count

_WEAKER_USERS: Final = said(
    "Limits for these users may be weaker than for those who use it now. Say so only where nobody at greater "
    "risk can draw water there: the site's risk assessment and those responsible for water safety decide it."
)
_OTHER_RULES: Final = said(
    "Another rule set may allow hotter water or longer between tests. Local codes, the maker's instructions "
    "and the site's risk assessment come before every rule set; competent people decide which one is used."
)
_OTHER_USE: Final = said(
    "Limits depend on what an outlet is for: a bath holds more water than a basin and scalds more of a body. "
    "See at the outlet what it is for."
)
_NOT_FLUSHED: Final = said(
    "An outlet that is no longer little used is no longer asked to be flushed. Water that stands breeds "
    "legionella: say so only where it is drawn often, as the site's written scheme means it."
)


def shares(
    outlets: Sequence[Outlet], of: Callable[[Outlet], object], said_of: Callable[[object], str]
) -> str:
    """The values that outlets have in one field, the commonest first, such as 9 patients, 3 staff."""
    counted = Counter(of(each) for each in outlets).most_common()
    if len(counted) == 1:
        return said_of(counted[0][0])
    return words.listed([f"{count:,} {said_of(value)}" for value, count in counted], 3)


def what_differs(outlets: Sequence[Outlet], change: OutletChange) -> OutletChange:
    """A change without the fields in which no outlet becomes different."""
    same = {
        "use": all(each.use is change.use for each in outlets),
        "user_group": all(each.user_group is change.user_group for each in outlets),
        "little_used": all(each.little_used is change.little_used for each in outlets),
        "rule_set": all((each.rule_set or FROM_ABOVE) == change.rule_set for each in outlets),
    }
    return replace(change, **{field: None for field, holds in same.items() if holds})


def cautions(outlets: Sequence[Outlet], change: OutletChange) -> list[str]:
    """What must be weighed before outlets are changed."""
    to, use, rules = change.user_group, change.use, change.rule_set
    held = [
        (
            to is not None and any(each.user_group.vulnerability > to.vulnerability for each in outlets),
            _WEAKER_USERS,
        ),
        (rules is not None and any((each.rule_set or FROM_ABOVE) != rules for each in outlets), _OTHER_RULES),
        (use is not None and any(each.use is not use for each in outlets), _OTHER_USE),
        (change.little_used is False and any(each.little_used for each in outlets), _NOT_FLUSHED),
    ]
    return [tr(caution) for holds, caution in held if holds]


def changed_words(change: OutletChange) -> list[str]:
    """Each field that becomes different, in words."""
    told = []
    if change.use is not None:
        told.append(tr("use becomes {to}", to=tr(change.use.value)))
    if change.user_group is not None:
        told.append(tr("user group becomes {to}", to=tr(change.user_group.value)))
    if change.rule_set is not None:
        own = change.rule_set
        told.append(
            tr("rule set becomes {to}", to=own)
            if own
            else tr("rule set comes from the building or the estate")
        )
    if change.little_used is not None:
        told.append(tr("becomes little used") if change.little_used else tr("is no longer little used"))
    if change.pipe_m is not None:
        told.append(tr("blended pipe becomes {to:g} m", to=change.pipe_m))
    if change.reference is not None:
        told.append(tr("reference becomes {to}", to=change.reference))
    if change.words is not None:
        told.append(tr("name becomes {to}", to=change.words))
    return told


def judged_again(change: OutletChange) -> bool:
    """Whether visits are judged by a field that becomes different."""
    return any(each is not None for each in (change.use, change.user_group, change.rule_set, change.pipe_m))


def preview(outlets: int, change: OutletChange, visited: int) -> str:
    """What a change would do, such as 12 outlets: user group becomes residents; 12 last visits ....

    Args:
        outlets: how many are changed.
        change: what becomes different.
        visited: how many of them have a visit that counts.
    """
    told = changed_words(change)
    if not told:
        return tr("Nothing changes yet.")
    if judged_again(change):
        told.append(
            tr_count(visited, "{n:,} last visit is judged again", "{n:,} last visits are judged again")
            if visited
            else tr("none was visited yet")
        )
    held = tr_count(outlets, "{n:,} outlet", "{n:,} outlets")
    return f"{held}: {'; '.join(told)}."

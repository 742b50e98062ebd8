"""What the commands about rules print for people."""

from collections.abc import Iterable, Sequence

from estate.domain.rules.catalogue import describe
from estate.domain.rules.listing import blanks, days, how_sure, listed, told
from estate.domain.rules.values import TO_BE_FILLED_IN, Remark, RuleSet, RuleValue
from estate.domain.temperature import Scale


def rules_words(rules: RuleSet, scale: Scale = Scale.CELSIUS) -> list[str]:
    """A rule set with every value and its source, what is blank, and where sources disagree."""
    where = f", {rules.place}" if rules.place else ""
    lines = [f"{rules.id}, {rules.title}{where}, edition {rules.edition}", rules.scope, *rules.cautions, ""]
    lines += [_value(each, scale) for each in listed(rules)]
    empty = blanks(rules)
    if empty:
        lines += ["", f"Blank, {TO_BE_FILLED_IN}:"]
        lines += [f"{each.key:<34} {describe(each.key)}" for each in empty]
    return [
        *lines,
        *_remarks("Where sources disagree:", rules.disagreements),
        *_remarks(_NOT_JUDGED, rules.not_judged),
    ]


_NOT_JUDGED = "Asked for by the sources, not judged here:"


def _value(value: RuleValue, scale: Scale) -> str:
    applies = "" if value.until is None and not value.chosen else f" [{days(value)}]"
    return f"{value.key:<34} {told(value, scale):>15} {value.shown_source}{applies}"


def _remarks(heading: str, remarks: Sequence[Remark]) -> list[str]:
    if not remarks:
        return []
    return ["", heading, *(_remark(each) for each in remarks)]


def _remark(remark: Remark) -> str:
    applied = f" Applied: {remark.applied}" if remark.applied else ""
    return f"  {', '.join(remark.facts)}: {remark.words}{applied}"


def rule_sets_words(sets: Iterable[RuleSet]) -> list[str]:
    """Every rule set that can be chosen, with how much of it is sure."""
    head = f"{'rule set':<18} {'seen':>5} {'2nd':>5} {'none':>5} {'blank':>5}  title"
    return [head, *(_set(each) for each in sets), "", *_LEGEND]


_LEGEND = (
    "seen: read in the source itself; 2nd: second-hand, not verified; none: this register's own default or "
    "common practice, no source; blank: to be filled in by the site, with its source.",
    "Local codes and the authority having jurisdiction, the maker's instructions and the site's risk "
    "assessment come before all of them.",
)


def _set(rules: RuleSet) -> str:
    sure = how_sure(rules)
    counts = (sure.seen, sure.second_hand, sure.without_source, sure.blank)
    return f"{rules.id:<18} " + " ".join(f"{each:>5}" for each in counts) + f"  {rules.title}"

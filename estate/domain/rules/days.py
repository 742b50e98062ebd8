"""Which of several dated values applies: by the day of the visit, or of fitting the valve."""

from bisect import bisect_right
from collections.abc import Sequence
from dataclasses import replace
from datetime import date
from types import MappingProxyType

from estate.domain.dates import day_words
from estate.domain.rules.catalogue import UNIT_WORDS
from estate.domain.rules.values import ChosenBy, RuleSet, RuleValue


def as_of(rules: RuleSet, on: date, fitted_on: date | None = None) -> RuleSet:
    """The rule set by which a visit is judged.

    Args:
        rules: with the site's own values laid over; these apply whatever the day.
        on: day of the visit.
        fitted_on: day on which the valve was fitted; None if it is not known, which takes the strictest.

    Returns:
        The same object for days between the same changes, so that few are made for many visits.
    """
    if rules.newest_from is not None and on >= rules.newest_from:
        return rules
    visits, fittings = (rules.days_of_change[each] for each in ChosenBy)
    place = (bisect_right(visits, on), fitted_on and bisect_right(fittings, fitted_on))
    if place not in rules.chosen:
        rules.chosen[place] = _chosen(rules, on, fitted_on)
    return rules.chosen[place]


def newest(dated: Sequence[RuleValue], on: date) -> RuleValue | None:
    """Of a key's dated values, in order, the newest that applies to a visit; of those by fitting the last."""
    return dated[-1] if dated[0].chosen_by is ChosenBy.FITTING else _by_visit(dated, on)


def days_matter(dated: Sequence[RuleValue]) -> bool:
    """Whether there is more to a key than the first day of a single value."""
    return len(dated) > 1 or dated[0].until is not None or dated[0].chosen_by is ChosenBy.FITTING


def _chosen(rules: RuleSet, on: date, fitted_on: date | None) -> RuleSet:
    values: dict[str, RuleValue] = {}
    for key in dict.fromkeys((*rules.values, *rules.dated)):
        laid = rules.values.get(key)
        if laid is not None and laid.override is not None:
            values[key] = laid
            continue
        dated = rules.dated.get(key) or ((laid,) if laid is not None else ())
        found = _by_fitting(dated, fitted_on) if _asks_fitting(dated) else _by_visit(dated, on)
        if found is not None:
            values[key] = found
    return rules if values == rules.values else replace(rules, values=MappingProxyType(values))


def _asks_fitting(dated: Sequence[RuleValue]) -> bool:
    return dated[0].chosen_by is ChosenBy.FITTING


def _applies(value: RuleValue, day: date) -> bool:
    return value.effective <= day and (value.until is None or day <= value.until)


def _by_visit(dated: Sequence[RuleValue], on: date) -> RuleValue | None:
    there = [each for each in dated if _applies(each, on)]
    if not there or len(dated) == 1:
        return there[-1] if there else None
    return replace(there[-1], chosen=f"by the day of the visit, {_span(there[-1], dated)}{_besides(there)}")


def _by_fitting(dated: Sequence[RuleValue], fitted_on: date | None) -> RuleValue:
    """The value for work of a day; for work before the first known value that first one, and it says so."""
    if fitted_on is None and len(dated) > 1:
        strictest = min(dated, key=lambda each: each.number)
        return replace(strictest, chosen="the strictest, because the day of fitting is not known")
    there = [each for each in dated if _applies(each, fitted_on or date.min)]
    if not there:
        words = (
            f"of valves fitted {_span(dated[0], dated)}; nothing is known for earlier ones, so taken for them"
        )
        return replace(dated[0], chosen=words)
    return replace(there[-1], chosen=f"by the day of fitting, {_span(there[-1], dated)}{_besides(there)}")


def _span(value: RuleValue, dated: Sequence[RuleValue]) -> str:
    """Its days in words; the first of several says only when the next one came."""
    later = [each for each in dated if each.effective > value.effective]
    if later and value is dated[0]:
        return f"before {day_words(later[0].effective)}"
    return f"from {day_words(value.effective)}" + (f" to {day_words(value.until)}" if value.until else "")


def _besides(there: Sequence[RuleValue]) -> str:
    """An earlier value that could still be used on the day."""
    words = ""
    for each in there[:-1]:
        if each.until is not None:
            earlier = f"{each.figure} {UNIT_WORDS[each.unit]}"
            words += f"; the earlier {earlier} could still be used until {day_words(each.until)}"
    return words

"""All that a rule set holds, for those who list it: every dated value, and what is blank."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date

from estate.domain.dates import day_words
from estate.domain.rules.catalogue import CATALOGUE, UNIT_WORDS
from estate.domain.rules.checking import COMMON_PRACTICE, OWN_DEFAULT
from estate.domain.rules.values import FAHRENHEIT, TO_BE_FILLED_IN, ChosenBy, RuleSet, RuleSource, RuleValue
from estate.domain.temperature import Scale, step_on_scale, to_fahrenheit

BLANK = RuleSource(TO_BE_FILLED_IN)


def listed(rules: RuleSet) -> tuple[RuleValue, ...]:
    """Every value in the order of the catalogue; dated ones each, unless the site has its own."""
    return tuple(each for key in CATALOGUE for each in _of_key(rules, key))


def blanks(rules: RuleSet) -> tuple[RuleValue, ...]:
    """A blank for every key without a value, but for those that the rule set leaves aside."""
    return tuple(blank(key) for key in CATALOGUE if key not in rules.values and not _aside(rules, key))


def blank(key: str) -> RuleValue:
    """What stands for a key that nothing is published for."""
    return RuleValue(key, "", CATALOGUE[key].unit, BLANK, "", False, date.min, blank=True)


def sureness(value: RuleValue) -> str:
    """How sure a value is, in words."""
    if value.blank:
        return "blank"
    if value.override is not None:
        return "site's own"
    if value.source.document in (COMMON_PRACTICE, OWN_DEFAULT):
        return value.source.document
    return "seen in the source itself" if value.verified else "second-hand, not verified in the source"


@dataclass(frozen=True, slots=True)
class HowSure:
    """How many values of a rule set are how sure; those of the site's own are in none.

    Attributes:
        seen: read in the source itself.
        second_hand: published, not verified in the source.
        without_source: own defaults and common practice.
        blank: to be filled in by the site.
    """

    seen: int
    second_hand: int
    without_source: int
    blank: int

    @property
    def caution(self) -> str:
        """What whoever chooses the rule set has to know."""
        return (
            f"{self.second_hand} of its values are second-hand and not verified, {self.without_source} have "
            f"no published source, {self.blank} are blank and not judged until the site fills them in. Local "
            "codes and the authority having jurisdiction come first."
        )


def how_sure(rules: RuleSet) -> HowSure:
    """Count the values of a rule set by how sure they are."""
    published = [each for each in rules.values.values() if each.override is None]
    without = sum(each.source.document in (COMMON_PRACTICE, OWN_DEFAULT) for each in published)
    seen = sum(each.verified for each in published)
    return HowSure(seen, len(published) - seen - without, without, len(blanks(rules)))


def days(value: RuleValue) -> str:
    """From when to when a value applies, in words, and to what."""
    if value.blank:
        return ""
    what = "fitted " if value.chosen_by is ChosenBy.FITTING else ""
    until = f" to {day_words(value.until)}" if value.until is not None else ""
    return f"{what}from {day_words(value.effective)}{until}"


def told(value: RuleValue, scale: Scale = Scale.CELSIUS) -> str:
    """A value with its unit as a person reads it; one published in °F is given in both.

    Args:
        value: of a rule set.
        scale: in which temperatures are wanted; a conversion shows up to six figures.
    """
    if value.blank:
        return "blank"
    if isinstance(value.value, str):
        return f"Type {value.value}" if value.unit == "class" else value.value
    if value.unit == FAHRENHEIT:
        return f"{value.figure} °F" + ("" if scale is Scale.FAHRENHEIT else f" ({value.number:.6g} °C)")
    if scale is Scale.FAHRENHEIT and value.unit == "degC":
        return f"{to_fahrenheit(value.number):.6g} °F"
    if scale is Scale.FAHRENHEIT and value.unit == "K":
        return f"{step_on_scale(value.number, scale):.6g} {scale.step}"
    return f"{value.figure} {UNIT_WORDS[value.unit]}"


def _of_key(rules: RuleSet, key: str) -> Iterator[RuleValue]:
    value = rules.get(key)
    if value is not None and value.override is not None:
        yield value
    else:
        yield from rules.dated.get(key, (value,) if value is not None else ())


def _aside(rules: RuleSet, key: str) -> bool:
    return any(each in key for each in rules.left_aside)

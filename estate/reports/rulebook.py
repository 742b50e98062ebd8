"""What a report says of its rules: sets, values with their sources, and the site's own values."""

from collections.abc import Iterator, Sequence
from itertools import groupby

from estate.domain.dates import day_words
from estate.domain.register import RuleSetIdentity
from estate.domain.rules.catalogue import CATALOGUE, UNIT_WORDS
from estate.domain.rules.listing import days
from estate.domain.rules.values import TO_BE_FILLED_IN, ChosenBy, Override, RuleValue
from estate.reports.document import Cell, Column, Group, Kind, Row, Section, Table
from estate.reports.wording import counted

_SET_COLUMNS = (Column("Rule set", 20), Column("Title", 50), Column("Edition", 20))

_VALUE_COLUMNS = (
    Column("What", 23),
    Column("Key", 23, below=True),
    Column("Value", 7, Kind.NUMBER),
    Column("Unit", 6),
    Column("Source", 41),
    Column("Note", 41, below=True),
    Column("Fact", 7),
    Column("In force since", 8, Kind.DATE),
    Column("Checked in the source", 8),
)

_OVERRIDE_COLUMNS = (
    Column("What", 24),
    Column("Key", 24, below=True),
    Column("Rule set", 11),
    Column("Where", 11),
    Column("Value", 8, Kind.NUMBER),
    Column("Unit", 7),
    Column("Who", 12),
    Column("When", 8, Kind.DATE),
    Column("Why", 19),
)


def rule_sets_section(rule_sets: Sequence[RuleSetIdentity]) -> Section:
    """Which rule sets are in force."""
    if not rule_sets:
        return Section("Rule sets in force", ("No rule set is chosen, so nothing is judged.",))
    rows = tuple(Row((each.id, each.title, each.edition)) for each in rule_sets)
    return Section("Rule sets in force", (), Table("Rule sets", _SET_COLUMNS, (Group((), rows),)))


def rules_section(rules: Sequence[RuleValue]) -> Section:
    """Every value in force with its unit, source and how sure it is."""
    if not rules:
        return Section("Values in force", ("No values were given for this report.",))
    known = [each for each in rules if not each.blank]
    doubtful = sum(not each.verified and each.override is None for each in known)
    words = (
        f"Not verified: {doubtful} of {counted(len(known), 'value')}. No reader has checked them in the"
        " source itself; look them up there before relying on them.",
        *_blanks(rules),
    )
    named = any(each.rule_set for each in rules)
    groups = tuple(
        Group((name,) if named else (), tuple(_value_row(each) for each in values))
        for name, values in groupby(known, key=lambda each: each.rule_set)
    )
    table = Table("Values in force", _VALUE_COLUMNS, groups, ("Rule set",) if named else ())
    return Section("Values in force", words, table)


def _blanks(rules: Sequence[RuleValue]) -> Iterator[str]:
    """What no source gives, rule set by rule set; nothing is judged by it."""
    for name, values in groupby((each for each in rules if each.blank), key=lambda each: each.rule_set):
        of = f" in {name}" if name else ""
        yield f"Blank{of}, {TO_BE_FILLED_IN}: {'; '.join(_name(each.key) for each in values)}."


def _value_row(rule: RuleValue) -> Row:
    made = rule.override
    checked = "yes" if rule.verified else "not verified"
    source, note, since = str(rule.source), rule.note, rule.effective
    if made is not None:
        note = f"Set by {made.who} on {day_words(made.at.date())}: {made.why}"
        source, checked, since = f"Site's own value in place of: {source}", "site's own", made.at.date()
    if rule.chosen or rule.until is not None or rule.chosen_by is ChosenBy.FITTING:
        source = f"{source}; {days(rule)}"
    unit = _unit(rule.unit)
    return Row((_name(rule.key), rule.key, rule.value, unit, source, note, rule.fact, since, checked))


def _name(key: str) -> str:
    entry = CATALOGUE.get(key)
    return entry.words if entry else key


def _unit(unit: str) -> str:
    return UNIT_WORDS.get(unit, unit)


def overrides_section(overrides: Sequence[Override]) -> Section:
    """Every value of the site's own, oldest first, with who, when and why."""
    if not overrides:
        return Section(
            "The site's own values", ("The site has put no value of its own in place of a published one.",)
        )
    rows = tuple(_override_row(each) for each in overrides)
    words = (
        "Oldest first, kept for good; a later line for the same value and place replaces an earlier one.",
    )
    return Section("The site's own values", words, Table("Own values", _OVERRIDE_COLUMNS, (Group((), rows),)))


def _override_row(made: Override) -> Row:
    value: Cell = "withdrawn" if made.value is None else made.value
    entry = CATALOGUE.get(made.key)
    unit = _unit(entry.unit) if entry else ""
    place = _where(made.place)
    return Row(
        (_name(made.key), made.key, made.rule_set, place, value, unit, made.who, made.at.date(), made.why)
    )


def _where(place: str) -> str:
    kind, _, number = place.partition(":")
    if number:
        return f"{kind} no. {number}"
    return "whole estate" if place == "estate" else place

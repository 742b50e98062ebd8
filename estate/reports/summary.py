"""The compliance summary: shares with their counts, failures, what is coming, rules in force."""

from collections.abc import Sequence

from estate.domain.compliance import Compliance, Tally
from estate.domain.due import DueLine
from estate.domain.register import AsAt
from estate.reports.document import Column, Document, Fact, Group, Kind, Row, Section, Table
from estate.reports.due_table import due_table
from estate.reports.rulebook import overrides_section, rule_sets_section, rules_section
from estate.reports.wording import (
    CAUTIONS,
    basis,
    counted,
    identity_facts,
    number_words,
    share_down,
    share_words,
)

_TALLY_COLUMNS = (
    Column("Building", 24),
    Column("In date and satisfactory", 10, Kind.WHOLE, "valves"),
    Column("Of", 8, Kind.WHOLE, "valves"),
    Column("Share", 8, Kind.SHARE, "%"),
    Column("In date, not satisfactory", 12, Kind.WHOLE, "valves"),
    Column("Overdue, satisfactory last time", 13, Kind.WHOLE, "valves"),
    Column("Overdue, not satisfactory", 13, Kind.WHOLE, "valves"),
    Column("Never tested", 12, Kind.WHOLE, "valves"),
)

_COMING_COLUMNS = (
    Column("Week beginning", 12, Kind.DATE),
    Column("Windows ending", 10, Kind.WHOLE, "valves"),
    Column("Drawn to scale", 40, Kind.BAR),
)


def summary(compliance: Compliance, as_at: AsAt) -> Document:
    """Say how the estate stands on a day.

    Args:
        compliance: the counts, which are taken as they are.
        as_at: the day and the register.
    """
    return Document(
        title="Compliance summary of thermostatic mixing valves",
        register=as_at.register.name,
        as_at=as_at.today,
        basis=basis(as_at),
        facts=(*_headline(compliance.total), *identity_facts(as_at)),
        cautions=CAUTIONS,
        sections=(
            _shares(compliance),
            _overdue_ages(compliance),
            _failure_ages(compliance),
            _coming(compliance),
            _failures(compliance.failures),
            rule_sets_section(as_at.register.rule_sets),
            rules_section(compliance.rules),
            overrides_section(compliance.overrides),
        ),
        known_at=as_at.known_at,
    )


def _headline(total: Tally) -> tuple[Fact, ...]:
    late = total.overdue + total.overdue_not_satisfactory
    return (
        Fact("In date and satisfactory", share_words(total.good, total.valves, "valves")),
        Fact("In date, not satisfactory", share_words(total.not_satisfactory, total.valves, "valves")),
        Fact("Tested before, now overdue", share_words(late, total.valves, "valves")),
        Fact("Never tested", share_words(total.never, total.valves, "valves")),
    )


def _shares(compliance: Compliance) -> Section:
    words = (
        "Each valve is counted once. In date and satisfactory: its test window has not passed, and at its"
        " last visit everything required was measured and nothing has to be put right. Not satisfactory: to"
        " be put right, taken out of use, or not fully tested. Shares are rounded down, so that only a full"
        " count reads 100 %.",
    )
    groups = [_site_group(site, compliance.by_building) for site in compliance.by_site]
    groups.append(Group(("Whole estate",), (_tally_row("All sites", compliance.total, strong=True),)))
    table = Table("By building", _TALLY_COLUMNS, tuple(groups), ("Site",))
    return Section("In date and satisfactory, by site and building", words, table)


def _site_group(site: Tally, buildings: Sequence[Tally]) -> Group:
    rows = [_tally_row(each.building, each) for each in buildings if each.site == site.site]
    return Group((site.site,), (*rows, _tally_row("All buildings of the site", site, strong=True)))


def _tally_row(name: str, tally: Tally, strong: bool = False) -> Row:
    return Row(
        (
            name,
            tally.good,
            tally.valves,
            share_down(tally.good, tally.valves),
            tally.not_satisfactory,
            tally.overdue,
            tally.overdue_not_satisfactory,
            tally.never,
        ),
        strong,
    )


def _age_table(name: str, heading: str, ages: Sequence[tuple[str, int]]) -> Table:
    columns = (
        Column(heading, 22),
        Column("Count", 8, Kind.WHOLE, "valves"),
        Column("Drawn to scale", 30, Kind.BAR),
    )
    rows = [Row((band, count, count)) for band, count in ages]
    rows.append(Row(("in all", sum(count for _, count in ages), None), strong=True))
    return Table(name, columns, (Group((), tuple(rows)),))


def _overdue_ages(compliance: Compliance) -> Section:
    words = (
        "Every valve whose window has passed, never-tested ones too, by days since the window's last day.",
    )
    return Section(
        "Overdue, by how late", words, _age_table("Overdue by age", "Late", compliance.overdue_by_age)
    )


def _failure_ages(compliance: Compliance) -> Section:
    words = ("Valves whose last visit says put right or take out of use, by the time since that visit.",)
    table = _age_table("Failures by age", "Since the failing visit", compliance.failures_by_age)
    return Section("Failures that wait for a retest, by age", words, table)


def _coming(compliance: Compliance) -> Section:
    weeks = compliance.coming
    due = sum(count for _, count in weeks)
    words = (
        f"Test windows of {counted(due, 'valve')} end in the {number_words(len(weeks))} weeks from now; the"
        " first week counts from the as-at day. Windows that have passed are not in it.",
    )
    rows = tuple(Row((monday, count, count)) for monday, count in weeks)
    table = Table("Coming weeks", _COMING_COLUMNS, (Group((), rows),))
    return Section(f"Coming {number_words(len(weeks))} weeks", words, table)


def _failures(failures: Sequence[DueLine]) -> Section:
    title = "Failures: to be put right or taken out of use"
    if not failures:
        none = "No valve's last visit says put right or take out of use. Never-tested ones are not counted."
        return Section(title, (none,))
    words = (f"{counted(len(failures), 'valve')}, in walking order.",)
    return Section(title, words, due_table("Failures", failures))

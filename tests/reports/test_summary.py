from dataclasses import replace
from datetime import UTC, date, datetime

from estate.domain.compliance import summarise
from estate.domain.findings import Verdict
from estate.domain.rules.values import Override, RuleSource, RuleValue
from estate.reports.content import summary
from estate.reports.document import Document, Section
from tests.reports.builders import TODAY, as_at, estate, line

MADE = Override(
    "uk-healthcare",
    "mixed.ceiling.basin",
    "estate",
    42.0,
    "R. Aldous",
    datetime(2026, 5, 4, tzinfo=UTC),
    "frail users",
)


def value(
    key: str, *, verified: bool = True, override: Override | None = None, rule_set: str = ""
) -> RuleValue:
    source = RuleSource("D 08 supplement", "2017", "table 2")
    return RuleValue(
        key, 43.0, "degC", source, "D08-30", verified, date(2017, 3, 1), override=override, rule_set=rule_set
    )


def section(document: Document, title: str) -> Section:
    (found,) = [each for each in document.sections if each.title.startswith(title)]
    return found


def rows(found: Section) -> list[tuple[object, ...]]:
    assert found.table is not None
    return [row.cells for group in found.table.groups for row in group.rows]


def mixed_estate() -> Document:
    lines = estate(300, days_late=[-30, -5, -50, 3, -70, 40, -3, -12])
    return summary(summarise(lines, TODAY), as_at())


def test_that_buildings_add_up_to_their_site_and_sites_to_the_estate() -> None:
    cells = rows(section(mixed_estate(), "In date and satisfactory"))
    *buildings, site, whole = cells
    for place in (1, 2, 4, 5, 6, 7):
        numbers = [row[place] for row in buildings]
        assert sum(number for number in numbers if isinstance(number, int)) == site[place] == whole[place]


def test_that_each_valve_is_in_exactly_one_part() -> None:
    for row in rows(section(mixed_estate(), "In date and satisfactory")):
        parts = [row[place] for place in (1, 4, 5, 6, 7)]
        assert sum(part for part in parts if isinstance(part, int)) == row[2]


def test_that_the_share_stands_beside_its_counts() -> None:
    for row in rows(section(mixed_estate(), "In date and satisfactory")):
        good, of, share = row[1:4]
        assert isinstance(good, int)
        assert isinstance(of, int)
        assert share == good * 1000 // of / 1000


def test_that_ages_add_up_to_what_is_overdue() -> None:
    lines = estate(50, days_late=[3, 40, 100, 300, -4])
    cells = rows(section(summary(summarise(lines, TODAY), as_at()), "Overdue, by how late"))
    assert [row[1] for row in cells] == [10, 10, 10, 10, 40]


def test_that_twelve_weeks_are_listed_even_where_nothing_is_due() -> None:
    cells = rows(section(summary(summarise([line("A", -8)], TODAY), as_at()), "Coming 12 weeks"))
    assert len(cells) == 12
    assert [row[1] for row in cells] == [0, 1] + [0] * 10


def test_that_every_failure_is_listed() -> None:
    lines = [
        line("A", -9, verdict=Verdict.PUT_RIGHT),
        line("B", 4, verdict=Verdict.OUT_OF_USE),
        line("C", -9),
    ]
    cells = rows(section(summary(summarise(lines, TODAY), as_at()), "Failures: to be put right"))
    assert [row[0] for row in cells] == ["A", "B"]


def test_that_no_failure_is_said_in_words() -> None:
    found = section(summary(summarise([line("A", -9)], TODAY), as_at()), "Failures: to be put right")
    assert found.table is None
    assert "Never-tested" in found.words[0]


def test_that_an_empty_estate_has_no_share() -> None:
    document = summary(summarise([], TODAY), as_at())
    assert document.facts[0].words == "0 of 0 valves"
    assert rows(section(document, "In date and satisfactory"))[-1][3] is None


def test_that_unverified_values_say_so() -> None:
    rules = (value("mixed.ceiling.basin"), value("mixed.ceiling.bath", verified=False))
    found = section(summary(summarise([], TODAY, rules), as_at()), "Values in force")
    assert [row[-1] for row in rows(found)] == ["yes", "not verified"]
    assert found.words[0].startswith("Not verified: 1 of 2 values.")


def test_that_values_carry_unit_and_source() -> None:
    (cells,) = rows(
        section(summary(summarise([], TODAY, (value("mixed.ceiling.basin"),)), as_at()), "Values in force")
    )
    assert cells[2:5] == (43.0, "°C", "D 08 supplement, 2017, table 2")
    assert cells[6:8] == ("D08-30", date(2017, 3, 1))


def test_that_a_value_of_the_sites_own_says_who_when_and_why() -> None:
    rules = (value("mixed.ceiling.basin", override=MADE),)
    document = summary(summarise([], TODAY, rules, (MADE,)), as_at())
    (cells,) = rows(section(document, "Values in force"))
    assert cells[5] == "Set by R. Aldous on 4 May 2026: frail users"
    assert cells[-2:] == (date(2026, 5, 4), "site's own")
    (own,) = rows(section(document, "The site's own values"))
    assert own[1:] == (
        "mixed.ceiling.basin",
        "uk-healthcare",
        "whole estate",
        42.0,
        "°C",
        "R. Aldous",
        date(2026, 5, 4),
        "frail users",
    )


def test_that_a_withdrawn_value_says_so_and_names_its_place() -> None:
    gone = Override("uk-type2", "no.such.key", "building:3", None, "R. Aldous", MADE.at, "no longer needed")
    (own,) = rows(section(summary(summarise([], TODAY, (), (gone,)), as_at()), "The site's own values"))
    assert own[:6] == ("no.such.key", "no.such.key", "uk-type2", "building no. 3", "withdrawn", "")


def test_that_values_of_several_rule_sets_are_told_apart() -> None:
    rules = (
        value("mixed.ceiling.basin", rule_set="uk-healthcare"),
        value("mixed.ceiling.basin", rule_set="uk-type2"),
    )
    found = section(summary(summarise([], TODAY, rules), as_at()), "Values in force")
    assert found.table is not None
    assert [group.path for group in found.table.groups] == [("uk-healthcare",), ("uk-type2",)]


def test_that_rule_sets_in_force_are_named_with_their_editions() -> None:
    assert rows(section(mixed_estate(), "Rule sets in force"))[0] == (
        "uk-healthcare",
        "Healthcare premises, Type 3",
        "2026-1",
    )


def test_that_a_register_without_a_rule_set_says_that_nothing_is_judged() -> None:
    bare = as_at()
    bare = replace(bare, register=replace(bare.register, rule_sets=()))
    document = summary(summarise([], TODAY), bare)
    assert section(document, "Rule sets in force").words == ("No rule set is chosen, so nothing is judged.",)
    assert document.basis.endswith("rule sets: none")

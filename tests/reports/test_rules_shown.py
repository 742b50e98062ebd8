"""What reports and the page of rule sets say of dated values, of °F and of blanks."""

from dataclasses import replace
from datetime import date

from estate.domain.rules.listing import blank
from estate.domain.rules.loading import parse
from estate.domain.rules.values import ChosenBy
from estate.reports.rulebook import rules_section
from estate.reports.rules_page import rules_page
from tests.domain.rules.rule_text import WHOLE
from tests.reports.test_summary import rows, value


def test_that_blanks_are_told_by_rule_set_and_stand_in_no_row() -> None:
    empty = [replace(blank(key), rule_set="ie-healthcare") for key in ("mixed.set.basin", "isolation.wait")]
    found = rules_section([replace(value("mixed.ceiling.bath"), rule_set="ie-healthcare"), *empty])
    assert len(rows(found)) == 1
    assert "Not verified: 0 of 1 value." in found.words[0]
    assert found.words[1] == (
        "Blank in ie-healthcare, to be filled in by the site, with its source: highest set mixed "
        "temperature, basin; wait after isolating a supply before judging."
    )


def test_that_blanks_of_one_rule_set_need_no_name() -> None:
    assert (
        rules_section([value("mixed.ceiling.bath"), blank("isolation.wait")])
        .words[1]
        .startswith("Blank, to be")
    )


def test_that_a_dated_value_stands_with_its_days_and_its_unit_as_published() -> None:
    new = replace(
        value("mixed.ceiling.bath"), unit="degF", chosen_by=ChosenBy.FITTING, until=date(2024, 11, 1)
    )
    (row,) = rows(rules_section([new]))
    assert row[3] == "°F"
    assert str(row[4]).endswith("; fitted from 1 Mar 2017 to 1 Nov 2024")


def test_that_the_page_says_nothing_of_blanks_where_there_are_none() -> None:
    whole = replace(parse(WHOLE, "trial.toml"), left_aside=(".",))
    assert "**Blank, to be" not in rules_page([whole])
    assert "**Blank, to be" in rules_page([replace(whole, left_aside=())])

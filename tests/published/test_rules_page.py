"""The page of rule sets says what the files say."""

from pathlib import Path

from estate.domain.rules.listing import blanks, listed, told
from estate.reports.rules_page import rules_page
from tests.published.rule_files import every

PAGE = Path(__file__).parents[2] / "docs" / "rules.md"


def test_that_the_page_is_what_the_rule_files_say_today() -> None:
    assert PAGE.read_text("utf-8") == rules_page(every().values()), (
        "write it anew: estate rules-page docs/rules.md"
    )


def test_that_each_value_and_each_blank_stands_on_the_page_with_its_source() -> None:
    page = PAGE.read_text("utf-8")
    for rules in every().values():
        section = page.split(f"\n`{rules.id}`, ")[1].split("\n## ")[0] + page.split("own defaults\n")[1]
        for value in listed(rules):
            assert f"`{value.key}`" in section
            assert told(value) in section
            assert value.fact == "OWN" or str(value.source) in section
        for each in blanks(rules):
            assert f"(`{each.key}`)" in section

"""Limits outside the United Kingdom, copied by hand from the trade facts named beside them.

Each rule set is given whole: what stands here is published, all else is this register's own default or common
practice and says so, or is blank.
"""

from datetime import date

import pytest

from estate.domain.rules.days import as_of
from estate.domain.rules.listing import blanks, listed
from tests.published.rule_files import every, shipped

USES = ("basin", "shower", "bath", "assisted-bath", "bidet")
Published = dict[str, tuple[float, str, str]]
"""Key to the value as published, its unit, and the fact that it comes from."""


def hygiene(value: float, unit: str, fact: str, uses: tuple[str, ...] = USES) -> Published:
    """One ceiling for several uses."""
    return {f"mixed.ceiling.{use}": (value, unit, fact) for use in uses}


YEARLY: Published = {"test.maximum-interval": (12, "month", "AU-03")}  # AU-03, AS 4032.3: within 12 months
EN: Published = {
    "hot.legionella-min": (60, "degC", "DE-03"),  # DE-03, 30 s after opening: hot at least 60 °C
    "cold.legionella-max": (25, "degC", "DE-03"),  # DE-03, 30 s after opening: cold at most 25 °C
}

PUBLISHED: dict[str, Published] = {
    "au-health": hygiene(45, "degC", "AU-01") | YEARLY,  # AU-01, AS/NZS 3500.4: care, schools, childhood
    "au-other": hygiene(50, "degC", "AU-01") | YEARLY,  # AU-01, AS/NZS 3500.4: elsewhere
    "au-nsw-health": hygiene(45, "degC", "AU-01")
    | YEARLY
    | {"hot.legionella-min": (60, "degC", "AU-05")},  # AU-05, Public Health Regulation 2022 s.5
    "nz-care": hygiene(45, "degC", "NZ-01"),  # NZ-01, G12/AS1 6.14: aged care and hospitals
    "nz-school": hygiene(45, "degC", "NZ-01"),  # NZ-01: schools, disability
    "nz-children": hygiene(40, "degC", "NZ-01"),  # NZ-01: early childhood; 40 where children can get to it
    "nz-other": hygiene(50, "degC", "NZ-01"),  # NZ-01: all other, from November 2023; 55 before
    "ie-healthcare": {},  # IE-01: a draft exists, its values were not seen
    "eu-en806": hygiene(43, "degC", "DE-01") | EN,  # DE-01, EN 806-2 9.3.2: hospitals, schools, old people
    "eu-en806-special": hygiene(38, "degC", "DE-01") | EN,  # DE-01: kindergartens, special care areas
    "us-ipc": hygiene(120, "degF", "US-01", ("bath", "assisted-bath", "shower"))  # US-01, IPC: 120 °F
    | hygiene(110, "degF", "US-02", ("basin",)),  # US-02, IPC: public hand-washing 110 °F
    "us-ny-nursing": hygiene(110, "degF", "US-03"),  # US-03, 10 NYCRR 713; 415 gives 120 °F: the stricter
    "us-dc": hygiene(110, "degF", "US-04"),  # US-04: residents' outlets 110 °F
    "us-ca": hygiene(120, "degF", "US-05"),  # US-05: patients' fixtures 105 to 120 °F
    "ca": hygiene(49, "degC", "CA-03", ("bath", "assisted-bath", "shower")),  # CA-03, National Plumbing Code
    "ca-on": hygiene(49, "degC", "CA-01"),  # CA-01, Ontario Building Code 7.6.5.2 and 7.6.5.3
}
CARE = {"care.flushing": "HSE-08", "care.shower-head": "HSE-07", "review.interval": "HSE-09"}
WITHOUT_SOURCE = {"OWN", "TP-01", "TP-02", "TP-04"}


def test_that_these_are_all_rule_sets_outside_the_united_kingdom() -> None:
    assert set(PUBLISHED) == {each for each in every() if not each.startswith("uk-")}


@pytest.mark.parametrize("name", PUBLISHED)
def test_that_a_rule_set_publishes_these_values_and_no_others(name: str) -> None:
    found = {
        key: (each.value, each.unit, each.fact)
        for key, each in shipped(name).values.items()
        if each.fact not in WITHOUT_SOURCE
    }
    assert found == PUBLISHED[name]


@pytest.mark.parametrize("name", PUBLISHED)
def test_that_own_defaults_are_those_of_the_uk_rule_sets(name: str) -> None:
    uk = {
        key: each.value
        for key, each in shipped("uk-healthcare").values.items()
        if each.fact == "OWN" or key in CARE
    }
    own = {key: each.value for key, each in shipped(name).values.items() if each.fact == "OWN"}
    assert own.items() <= {**uk, "window.opening": 0.857}.items()
    assert len(own) >= 32


@pytest.mark.parametrize("name", PUBLISHED)
def test_that_upkeep_intervals_of_the_united_kingdom_are_own_defaults_elsewhere(name: str) -> None:
    for key, fact in CARE.items():
        value = shipped(name).values[key]
        assert (value.fact, value.verified) == ("OWN", False)
        assert fact in value.note
        assert "Local guidance comes first" in value.note


@pytest.mark.parametrize("name", PUBLISHED)
def test_that_only_the_regulation_that_was_read_is_called_verified(
    name: str,
) -> None:  # AU-05 is S, all else S2
    verified = [each.fact for each in listed(shipped(name)) if each.verified]
    assert verified == (["AU-05"] if name == "au-nsw-health" else [])


@pytest.mark.parametrize("name", PUBLISHED)
def test_that_what_no_source_gives_is_blank(name: str) -> None:
    empty = {each.key for each in blanks(shipped(name))}
    assert {"mixed.set.basin", "mixed.ceiling.hair-wash", "isolation.wait", "change.small"} <= empty
    assert ("mixed.ceiling.basin" in empty) is (name in ("ie-healthcare", "ca"))
    assert not any(".type-" in each or each.startswith(("stage.", "class.")) for each in empty)


@pytest.mark.parametrize("name", PUBLISHED)
def test_that_each_place_tells_that_the_local_authority_comes_first(name: str) -> None:
    assert "authority having jurisdiction" in shipped(name).cautions[0]
    assert shipped(name).place


# NZ-01: 55 °C before the change; the ministry gives 2 November 2023 and 12 months of transition.
@pytest.mark.parametrize(
    ("fitted", "limit_c", "said"),
    [
        (date(2010, 5, 1), 55, "nothing is known for earlier ones"),
        (date(2023, 11, 1), 55, "by the day of fitting, before 2 Nov 2023"),
        (date(2023, 11, 2), 50, "55 °C could still be used until 1 Nov 2024"),
        (date(2024, 11, 1), 50, "55 °C could still be used until 1 Nov 2024"),
        (date(2024, 11, 2), 50, "by the day of fitting, from 2 Nov 2023"),
        (None, 50, "the strictest, because the day of fitting is not known"),
    ],
)
def test_that_new_zealand_changed_from_55_to_50_for_newer_work(
    fitted: date | None, limit_c: float, said: str
) -> None:
    for visited in (date(2023, 12, 1), date(2026, 11, 25)):
        value = as_of(shipped("nz-other"), visited, fitted).values["mixed.ceiling.basin"]
        assert value.number == limit_c
        assert said in value.shown_source
        assert ("could still be used" in value.shown_source) is ("could still be used" in said)


def test_that_a_limit_published_in_fahrenheit_is_kept_so_and_judged_exactly() -> None:  # US-02: 110 °F
    value = shipped("us-ipc").values["mixed.ceiling.basin"]
    assert (value.value, value.unit) == (110, "degF")
    assert value.number == pytest.approx(390 / 9, abs=1e-12)
    assert "published as 110 °F" in value.shown_source


# Trade facts, section 10: what is named where sources disagree.
@pytest.mark.parametrize(
    ("name", "fact", "applied"),
    [
        ("uk-healthcare", "D08-92", "strictest"),  # 3
        ("uk-healthcare", "D08-94", "120 ml/min"),  # 4
        ("uk-type2", "T2-07", "rule set chosen"),  # 5
        ("uk-healthcare", "D08-85", "large change decides"),  # 6
        ("uk-healthcare", "D08-76", "Both"),  # 7
        ("uk-type2", "T2-10", "rule set and the use"),  # 8
        ("eu-en806", "HSE-13", "different things"),  # 9
        ("au-nsw-health", "AU-02", "unless the State"),  # 10
        ("us-ny-nursing", "US-03", "the stricter"),  # 11
        ("nz-other", "NZ-01", "day on which the valve was fitted"),  # 12
        ("uk-healthcare", "D08-26", "model's own figure"),  # 19
    ],
)
def test_that_a_disagreement_of_sources_is_named_with_what_is_applied(
    name: str, fact: str, applied: str
) -> None:
    said = [each.applied for each in shipped(name).disagreements if fact in each.facts]
    assert any(applied in each for each in said)

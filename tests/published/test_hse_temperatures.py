"""HSE temperatures, intervals and keeping times, copied by hand from the trade facts named beside them."""

import pytest

from tests.published.rule_files import number, shipped


def test_that_hot_water_reaches_55_in_healthcare_and_50_elsewhere() -> None:  # HSE-01, HSE web page
    assert number("uk-healthcare", "hot.legionella-min") == 55
    assert number("uk-type2", "hot.legionella-min") == 50


@pytest.mark.parametrize("rule_set_id", ["uk-healthcare", "uk-type2"])
@pytest.mark.parametrize(
    ("key", "value"),
    [
        ("cold.legionella-max", 20),  # HSE-03, HSE web page
        ("mixed.immersion-max", 44),  # HSE-12, HSE web page and HSIS6
        ("records.results", 5),  # HSE-18, L8 and HSE web page
        ("strainers.interval", 12),  # HSE-10, HTM 04-01 second-hand
        ("test.maximum-interval", 12),  # HSE-10; for Type 2 T2-07
    ],
)
def test_that_hse_limits_stand_in_both_rule_sets(rule_set_id: str, key: str, value: float) -> None:
    assert number(rule_set_id, key) == value


def test_that_only_the_supervised_bath_is_set_above_the_immersion_limit() -> None:  # HSE-12, D08-37
    limit_c = number("uk-healthcare", "mixed.immersion-max")
    sets = {
        key: each for key, each in shipped("uk-healthcare").values.items() if key.startswith("mixed.set.")
    }
    above = {key: each for key, each in sets.items() if each.number > limit_c}
    assert list(above) == ["mixed.set.assisted-bath"]
    assert "supervised by a competent person" in above["mixed.set.assisted-bath"].note

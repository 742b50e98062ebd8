import math
from dataclasses import replace

import pytest

from estate.domain.places import Use
from estate.domain.rules.values import RuleSet
from estate.domain.suitability.check import check_suitability
from estate.domain.suitability.swings import Swings
from tests.domain.suitability.surveys import BARE, RULES, SOUND, cold, hot, worked_out


def moved(swings: Swings | None) -> dict[str, float]:
    assert swings is not None
    return {each.change: each.mixed_c for each in swings.swings}


def test_that_the_published_fixed_mixer_comes_out() -> None:
    """PH-04: 60 and 15 °C at equal pressures give 37.5 °C; the cold pressure halved gives 41.36 °C."""
    found = worked_out(hot=hot(temperature_c=60.0), cold=cold(temperature_c=15.0), set_c=37.5).swings
    assert found is not None
    assert found.hot_opening == pytest.approx(0.5)
    (halved,) = [each for each in found.swings if each.change == "cold pressure halved"]
    assert (round(halved.mixed_c, 2), round(halved.moved_k, 2)) == (41.36, 3.86)
    assert halved.above_ceiling is False


def test_that_the_hot_fraction_decides_how_far_a_hotter_supply_moves_the_mix() -> None:
    """PH-02: at 60, 15 and 41 °C a share of 0.57778 is hot, so 5 K hotter gives 2.889 K."""
    found = moved(worked_out(cold=cold(temperature_c=15.0)).swings)
    assert found["hot supply 5 K hotter"] - 41 == pytest.approx(5 * 0.57778, abs=1e-4)
    assert 41 - found["hot supply 5 K cooler"] == pytest.approx(5 * 0.57778, abs=1e-4)


def test_that_halving_one_side_and_doubling_the_other_come_to_the_same() -> None:
    found = moved(worked_out(hot=hot(flow_bar=3.0), cold=cold(flow_bar=1.5)).swings)
    assert found["cold pressure halved"] == pytest.approx(found["hot pressure doubled"])
    assert found["cold pressure doubled"] == pytest.approx(found["hot pressure halved"])


def test_that_a_second_way_to_the_same_mix_agrees() -> None:
    """With h parts of hot and c parts of cold, halved pressure leaves c/√2 parts."""
    hot_parts, cold_parts = 41 - 12, 60 - 41
    parts = cold_parts / math.sqrt(2)
    expected = (hot_parts * 60 + parts * 12) / (hot_parts + parts)
    assert moved(worked_out().swings)["cold pressure halved"] == pytest.approx(expected)


def test_that_a_lost_cold_supply_gives_the_hot_one_with_what_it_does_to_skin() -> None:
    found = worked_out().swings
    assert found is not None
    lost = found.swings[-1]
    assert (lost.change, lost.mixed_c, lost.above_ceiling) == ("cold supply lost", 60.0, True)
    assert "not a permitted exposure" in lost.burn


def test_that_pressures_not_measured_are_taken_as_equal_and_said_so() -> None:
    found = worked_out(hot=hot(flow_bar=None), cold=cold(flow_bar=None)).swings
    assert found is not None
    assert found.measured is False
    assert moved(found) == pytest.approx(moved(worked_out().swings))
    none = worked_out(cold=cold(flow_bar=0.0)).swings
    assert none is not None
    assert none.measured is False


def test_that_nothing_is_worked_out_that_cannot_be_mixed() -> None:
    assert worked_out(BARE).swings is None
    assert worked_out(set_c=61.0).swings is None
    assert worked_out(hot=hot(temperature_c=12.0)).swings is None


def test_that_the_ceiling_is_the_use_s_own_or_set_and_2_k() -> None:

    other = replace(SOUND, use=Use.OTHER, set_c=40.0)
    found = check_suitability(other, RULES).swings
    assert found is not None
    assert [each.above_ceiling for each in found.swings[4:]] == [True, False, True]
    blank = check_suitability(other, RuleSet("blank", "Nothing", "1", "nowhere", ("Ask.",))).swings
    assert blank is not None
    assert {each.above_ceiling for each in blank.swings} == {None}


def test_that_a_mixer_that_would_stand_wholly_on_the_cold_side_is_not_worked_out() -> None:
    """Without the cold supply nothing would flow through it."""
    assert worked_out(set_c=12.0, cold=cold(temperature_c=12.0)).swings is None

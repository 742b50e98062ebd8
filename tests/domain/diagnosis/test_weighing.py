from dataclasses import replace
from datetime import timedelta
from typing import Any

import pytest

from estate.domain.diagnosis.course import Companion
from estate.domain.diagnosis.evidence import Bearing
from estate.domain.learned import DriftEstimate, Learned
from estate.domain.rules.values import RuleSet
from estate.domain.visits import Isolation, VisitKind
from tests.builders import TODAY, draft, instrument, valve
from tests.domain.diagnosis.courses import BEGAN, TESTED, bearing, course, evidence, found, others
from tests.window.builders import GROUP

FOR, AGAINST, MISSING, SEEN = Bearing.FOR, Bearing.AGAINST, Bearing.MISSING, Bearing.SEEN

WEIGHED: list[tuple[str, Bearing, str, dict[str, Any]]] = [
    ("instrument", FOR, "3 of 3 other valves", {"companions": others(2.0, 2.2, 2.1)}),
    ("instrument", AGAINST, "not off alike", {"companions": others(0.1, -0.2, 0.1)}),
    ("instrument", AGAINST, "not off alike", {"companions": others(-2.0, -2.2, -2.1)}),
    ("instrument", AGAINST, "not off alike", {"companions": others(2.0, 2.2, 2.1, -1.0, -1.0, -1.0, 2.0)}),
    ("instrument", MISSING, "readings of 3 other valves", {"companions": others(2.0, 2.2)}),
    (
        "instrument",
        MISSING,
        "readings of 3",
        {"companions": tuple(Companion(str(n), False, 2.0) for n in range(4))},
    ),
    ("instrument", AGAINST, "are not off by what", {}),
    (
        "instrument",
        FOR,
        "not on record",
        {"on_case": {"instrument": instrument(calibrations=())}, "found_c": 43.7},
    ),
    ("supply-changed", FOR, "hot supply is 64.0 °C; it was 60.0 °C on 5 Jan 2026", {"hot_c": 64.0}),
    ("supply-changed", AGAINST, "Both supply temperatures", {}),
    ("supply-changed", AGAINST, "Both pressures are within 20%", {}),
    ("supply-changed", FOR, "The cold pressure is 1.5 bar", {"cold_flow_bar": 1.5}),
    ("supply-changed", FOR, "The hot pressure is 4.0 bar", {"hot_flow_bar": None, "hot_static_bar": 4.0}),
    ("supply-changed", MISSING, "hot pressure", {"hot_flow_bar": None, "hot_static_bar": None}),
    ("supply-changed", MISSING, "cold supply temperature", {"cold_c": None}),
    ("supply-changed", FOR, "conditions of use", {"hot_c": 66.0}),
    (
        "supply-changed",
        FOR,
        "at 3 other valves that day too",
        {"companions": others(0, 0, 0, hot_change_k=-4.0)},
    ),
    ("imbalance", AGAINST, "ratio 1.0 : 1", {}),
    ("imbalance", FOR, "ratio 6.0 : 1", {"hot_flow_bar": 3.0, "cold_flow_bar": 0.5}),
    ("imbalance", FOR, "grew from 1.0:1 to 2.0:1", {"cold_flow_bar": 1.0}),
    ("imbalance", MISSING, "at one time", {"cold_flow_bar": None, "cold_static_bar": None}),
    ("imbalance", MISSING, "at one time", {"cold_flow_bar": 0.0}),
    ("reversed", SEEN, "not above the cold", {"hot_c": 12.0}),
    ("reversed", AGAINST, "left mixing on 2 visits", {}),
    ("reversed", MISSING, "at the valve's inlets", {"hot_c": None}),
    ("cold-restricted", SEEN, "not fully open", {"isolating_valves_open": False}),
    ("cold-restricted", AGAINST, "not less cold water", {"found_c": 39.0, "left_c": 39.0}),
    ("cold-restricted", MISSING, "mixed temperature as found", {"found_c": None, "left_c": 44.0}),
    ("cold-restricted", AGAINST, "The flow is 6.0 l/min", {}),
    ("cold-restricted", FOR, "Strainers due by", {"on_case": {"strainers_due": TODAY - timedelta(days=9)}}),
    ("hot-restricted", FOR, "less hot water", {"found_c": 39.0, "left_c": 39.0}),
    ("hot-restricted", AGAINST, "hot flow pressure is 2.0 bar", {}),
    ("hot-restricted", MISSING, "hot flow pressure", {"hot_flow_bar": None}),
    ("hot-restricted", MISSING, "hot pressure at rest", {"hot_flow_bar": 1.0, "hot_static_bar": None}),
    ("check-valve", AGAINST, "in good order", {"check_valves_good": True}),
    ("check-valve", SEEN, "not in good order", {"check_valves_good": False}),
    ("check-valve", FOR, "no check valves", {"body": valve(check_valves=False)}),
    ("check-valve", AGAINST, "not warmer", {}),
    ("check-valve", MISSING, "cold supply temperature, here", {"cold_c": None}),
    ("check-valve", FOR, "cold pipe is warm", {"cold_c": 17.0}),
    ("check-valve", MISSING, "at other valves", {"cold_c": 17.0}),
    ("check-valve", FOR, "is not warmer", {"cold_c": 17.0, "companions": others(0, 0, 0, cold_change_k=0.5)}),
    (
        "check-valve",
        AGAINST,
        "at other valves too",
        {"cold_c": 17.0, "companions": others(0, 0, 0, cold_change_k=4.0)},
    ),
    ("check-valve", AGAINST, "into the hot pipe instead", {"cold_c": 17.0, "cold_static_bar": 3.5}),
    (
        "check-valve",
        FOR,
        "pushes hot water",
        {"cold_c": 17.0, "cold_static_bar": None, "hot_flow_bar": 2.4},
    ),
    (
        "check-valve",
        MISSING,
        "both pressures at rest",
        {"cold_c": 17.0, "cold_static_bar": None, "hot_static_bar": None, "cold_flow_bar": None},
    ),
    ("check-valve", FOR, "fell from 60.0 to 54.0", {"hot_c": 54.0, "cold_static_bar": 3.5}),
    ("supply-changed", FOR, "at least 55 °C", {"hot_c": 54.0}),
    ("adjuster", FOR, "was not in place", {"cap_refitted": False}),
    ("adjuster", AGAINST, "cap was refitted", {}),
    (
        "adjuster",
        MISSING,
        "cap",
        {"earlier": (BEGAN, draft(TESTED.on, found_c=41.2, left_c=41.2, cap_refitted=None))},
    ),
    ("adjuster", FOR, "was expected of this valve", {"expected_c": (40.1, 42.5)}),
    ("adjuster", AGAINST, "was expected of this valve", {"expected_c": (40.1, 44.5)}),
    ("adjuster", FOR, "at once", {}),
    ("adjuster", FOR, "supplies are what they were", {}),
    ("adjuster", MISSING, "mixed temperature as found", {"found_c": None, "left_c": 44.0}),
    ("element", FOR, "would have moved by", {"hot_c": 65.0}),
    ("element", AGAINST, "would have moved by", {"hot_c": 64.0, "found_c": 41.3, "left_c": 43.5}),
    ("element", AGAINST, "it shut", {}),
    ("element", FOR, "still flowed", {"cold_isolated": Isolation(residual_ml_min=500.0)}),
    ("element", MISSING, "smaller draw-off", {"small_draw_c": None}),
    ("element", FOR, "The smaller draw-off gives 46.0 °C", {"small_draw_c": 46.0}),
    ("element", AGAINST, "The smaller draw-off gives 43.0 °C", {"small_draw_c": 43.0}),
    ("element", MISSING, "at several visits", {}),
    ("seals", AGAINST, "either supply isolated", {}),
    ("seals", MISSING, "collected for a minute", {"cold_isolated": Isolation(), "hot_isolated": Isolation()}),
    ("seals", FOR, "only the shut-off", {"found_c": 41.3, "hot_isolated": Isolation(residual_ml_min=500.0)}),
    ("scale", FOR, "The water is hard, 250", {"hardness_mg_l": 250.0}),
    ("scale", AGAINST, "The water is soft, 60", {"hardness_mg_l": 60.0}),
    ("scale", MISSING, "hardness", {}),
    ("scale", AGAINST, "all at once", {}),
    ("scale", FOR, "The flow fell from 6.0 to 4.0", {"flow_l_min": 4.0}),
]


@pytest.mark.parametrize(("code", "which", "words", "fields"), WEIGHED)
def test_that_a_reading_bears_on_a_cause(
    code: str, which: Bearing, words: str, fields: dict[str, Any]
) -> None:
    assert words in bearing(found(**fields), code, which)


def test_that_water_of_middling_hardness_bears_neither_way() -> None:
    middling = evidence(found(hardness_mg_l=150.0), "scale")
    assert not any("water" in each.words for each in middling)


def test_that_a_service_not_long_ago_speaks_against_scale() -> None:
    serviced = draft(TODAY - timedelta(days=60), VisitKind.SERVICE, left_c=41.0)
    assert "serviced 60 days before" in bearing(
        found(earlier=(BEGAN, serviced), on_case={"reference": serviced}), "scale", AGAINST
    )
    year_ago = draft(TODAY - timedelta(days=400), VisitKind.SERVICE, left_c=41.0)
    hard = found(earlier=(year_ago,), hardness_mg_l=300.0)
    assert "400 days in hard water since its service" in bearing(hard, "scale", FOR)
    assert "days in hard" not in bearing(found(earlier=(year_ago,), hardness_mg_l=90.0), "scale", FOR)
    long_ago = draft(TODAY - timedelta(days=300), VisitKind.SERVICE, left_c=41.0)
    assert "serviced" not in bearing(found(earlier=(long_ago,)), "scale", AGAINST)
    assert "serviced" not in bearing(found(earlier=()), "scale", AGAINST)


def test_that_a_steady_drift_is_told_only_where_it_stands_out_of_its_error() -> None:
    def said(slope: float) -> str:
        drift = DriftEstimate(TODAY, 43.0, 0.2, slope, 0.01, 0.0)
        return bearing(found(learned=Learned(GROUP, drift=drift)), "scale", FOR)

    assert "+0.040 ± 0.020 K a week" in said(0.04)
    assert "drifts" not in said(0.015)


def test_that_three_changes_one_way_are_gradual_and_one_of_them_the_other_way_is_not() -> None:
    def after(*left: float) -> tuple[bool, bool]:
        days = [TESTED.on + timedelta(weeks=10 * place) for place in range(len(left))]
        visits = [draft(day, found_c=each, left_c=each) for day, each in zip(days, left, strict=True)]
        whole = course(earlier=(BEGAN, *visits), found_c=43.2)
        return whole.gradual, whole.step

    assert after(41.6, 42.4) == (True, False)
    assert after(40.8, 42.4) == (False, False)
    assert after(41.2, 41.0) == (False, True)
    gradual = (BEGAN, TESTED, draft(TESTED.on + timedelta(weeks=9), found_c=42.2, left_c=42.2))
    assert "three tests running" in bearing(found(earlier=gradual, found_c=43.2), "adjuster", AGAINST)
    assert "three tests running" in bearing(found(earlier=gradual, found_c=43.2), "scale", FOR)


def test_that_a_change_counts_from_the_last_known_level() -> None:
    unread = draft(TESTED.on + timedelta(weeks=9), found_c=None, left_c=None)
    whole = course(earlier=(BEGAN, TESTED, unread))
    assert whole.changes == (0.2, None, 2.4)
    turned = draft(unread.on, found_c=None, left_c=None, adjusted=True)
    assert course(earlier=(BEGAN, TESTED, turned)).changes == (0.2, None, None)
    assert course(earlier=()).change_k is None
    commissioning = course(on_case={"visit": draft(TODAY, VisitKind.COMMISSIONING, found_c=44.0)})
    assert commissioning.change_k is None


def test_that_without_rules_the_published_edges_of_change_stand() -> None:
    blank = course(rules=RuleSet("blank", "Nothing", "1", "nowhere", ("Ask.",)))
    assert (blank.small_k, blank.large_k) == (1.0, 2.0)


def test_that_a_fixed_mixer_is_not_reckoned_where_a_figure_is_missing_or_cannot_be() -> None:
    def moved(earlier: dict[str, Any], **now: Any) -> float | None:
        before = replace(TESTED, readings=replace(TESTED.readings, **earlier))
        return course(earlier=(BEGAN, before), **now).fixed_move_k

    assert course(earlier=()).fixed_move_k is None
    assert moved({"hot_c": None}) is None
    assert moved({}, hot_c=None) is None
    assert moved({"left_c": 70.0}) is None
    assert moved({}, hot_flow_bar=0.0, cold_flow_bar=0.0) is None
    assert moved({}) == pytest.approx(0.0)
    assert moved({"hot_flow_bar": None}, hot_c=65.0) == pytest.approx(5 * (41.2 - 13) / 47)


def test_that_a_figure_that_the_reference_lacks_is_taken_from_the_latest_visit_that_has_it() -> None:
    bare = replace(BEGAN, readings=replace(BEGAN.readings, flow_l_min=None))
    compared = course(earlier=(bare, TESTED)).compared("flow_l_min")
    assert compared is not None
    assert compared.day == TESTED.on
    assert course(earlier=(bare,)).compared("flow_l_min") is None


def test_that_a_figure_that_was_nothing_has_no_share() -> None:
    before = replace(TESTED, readings=replace(TESTED.readings, flow_l_min=0.0))
    compared = course(earlier=(before,)).compared("flow_l_min")
    assert compared is not None
    assert compared.share == 0.0


def test_that_a_mixer_moved_half_way_is_told_neither_way() -> None:
    whole = found(hot_c=65.0, found_c=42.4, small_draw_c=42.0)
    assert not any("would have moved" in each.words for each in evidence(whole, "element"))


def test_that_pressures_alike_push_neither_way() -> None:
    whole = evidence(found(cold_c=17.0), "check-valve")
    assert not any("pressure" in each.words for each in whole)


def test_that_a_flow_pressure_that_fell_with_the_one_at_rest_is_no_restriction_at_the_valve() -> None:
    fallen = found(cold_flow_bar=1.2, cold_static_bar=2.0)
    assert "flow pressure" not in bearing(fallen, "cold-restricted", FOR)


def test_that_a_cold_pipe_a_little_warmer_bears_neither_way() -> None:
    assert "cold supply is" not in " ".join(
        each.words for each in evidence(found(cold_c=15.0), "check-valve")
    )

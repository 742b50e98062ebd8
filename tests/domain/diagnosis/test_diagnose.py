from dataclasses import replace
from typing import Any

import pytest

from estate.domain.diagnosis.causes import BEFORE, CAUSES
from estate.domain.diagnosis.diagnose import CAUTIONS, ORDERING
from estate.domain.diagnosis.evidence import Bearing
from estate.domain.learned import Learned, RegulationEstimate
from estate.domain.steps import Seen, Steps
from estate.domain.visits import Isolation
from tests.builders import GOOD, TODAY, draft, instrument, valve
from tests.domain.diagnosis.courses import BEGAN, TESTED, UNCHECKED, course, found, others, suspect
from tests.window.builders import GROUP

PASSING = Isolation(max_c=42.0, stabilised_c=41.5, residual_ml_min=300.0, shut_s=2.0)
HOT_AND_PASSING = Isolation(max_c=52.0, stabilised_c=51.0, residual_ml_min=900.0, shut_s=20.0)

FIRST: list[tuple[str, dict[str, Any]]] = [
    (
        "instrument",
        {"found_c": 42.7, "hot_c": 61.6, "cold_c": 14.5, "companions": others(1.4, 1.6, 1.5, 1.4)},
    ),
    ("supply-changed", {"found_c": 42.5, "hot_c": 68.0, "hot_flow_bar": 3.2, "hot_static_bar": 4.5}),
    ("imbalance", {"found_c": 42.5, "hot_flow_bar": 2.2, "cold_flow_bar": 0.4, "flow_l_min": None}),
    (
        "reversed",
        {"earlier": (), "found_c": 44.0, "hot_c": 13.0, "cold_c": 60.0, "cold_isolated": HOT_AND_PASSING},
    ),
    ("cold-restricted", {"flow_l_min": 4.0, "cold_flow_bar": 1.2}),
    ("hot-restricted", {"found_c": 38.6, "flow_l_min": 4.0, "hot_flow_bar": 1.2}),
    (
        "check-valve",
        {
            "found_c": 41.4,
            "cold_c": 21.0,
            "hot_static_bar": 3.6,
            "companions": others(0.1, 0.2, 0.1, cold_change_k=0.2),
        },
    ),
    ("adjuster", {"found_c": 44.0, "small_draw_c": 44.0, "expected_c": (40.0, 42.4), "cap_refitted": False}),
    ("element", {"found_c": 44.0, "hot_c": 66.0, "cold_isolated": HOT_AND_PASSING, "hot_flow_bar": None}),
    ("seals", {"found_c": 41.2, "cold_isolated": PASSING, "hot_isolated": Isolation(residual_ml_min=200.0)}),
    (
        "scale",
        {
            "earlier": (
                BEGAN,
                *(
                    draft(TODAY.replace(month=each), found_c=40.9 + each / 4, left_c=40.9 + each / 4)
                    for each in (3, 6, 9)
                ),
            ),
            "found_c": 43.4,
            "small_draw_c": 43.2,
            "flow_l_min": 4.5,
            "hardness_mg_l": 280.0,
            "hot_flow_bar": None,
            "cold_flow_bar": 2.1,
        },
    ),
]


@pytest.mark.parametrize(("code", "fields"), FIRST)
def test_that_the_cause_that_a_story_tells_comes_first(code: str, fields: dict[str, Any]) -> None:
    suspects = found(**fields).suspects
    balances = {each.cause.code: each.balance for each in suspects}
    assert suspects[0].cause.code == code, balances
    assert suspects[0].suspected


def test_that_each_cause_has_a_story_and_each_check_a_source() -> None:
    assert [code for code, _ in FIRST] == [each.code for each in CAUSES]
    assert all(each.source and each.check and each.shows for each in CAUSES)
    assert {code for each in BEFORE for code in each.clears} <= {each.code for each in CAUSES}


def test_that_every_piece_of_evidence_names_its_source_or_says_that_it_has_none() -> None:
    for _, fields in FIRST:
        diagnosis = found(**fields)
        for each in (*diagnosis.suspects, *diagnosis.others):
            for evidence in each.evidence:
                assert evidence.words
                assert bool(evidence.source) == (evidence.bearing is not Bearing.MISSING)


def test_that_nothing_amiss_names_no_cause() -> None:
    diagnosis = found(found_c=41.3)
    assert not (diagnosis.symptoms or diagnosis.suspects or diagnosis.others or diagnosis.checks)
    assert diagnosis.cautions == CAUTIONS


def test_that_what_was_seen_comes_before_what_was_only_inferred() -> None:
    fields: dict[str, Any] = {"flow_l_min": 4.0, "cold_flow_bar": 1.2}
    assert found(**fields).suspects[0].cause.code == "cold-restricted"
    seen = found(**fields, check_valves_good=False, companions=others(0, 0, 0))
    assert seen.suspects[0].cause.code == "check-valve"


def test_that_of_equals_the_one_that_is_checked_first_comes_first() -> None:
    for _, fields in FIRST:
        suspects = found(**fields).suspects
        order = [each.code for each in CAUSES]
        keys = [
            (-min(1, each.count(Bearing.SEEN)), -each.balance, order.index(each.cause.code))
            for each in suspects
        ]
        assert keys == sorted(keys)


def test_that_the_three_checks_before_re_adjusting_come_in_their_order_before_the_valve_s_own() -> None:
    words = [each.words for each in found(cap_refitted=False, hardness_mg_l=300.0).checks]
    places = [words.index(each.words) for each in BEFORE]
    assert places == sorted(places)
    adjuster = next(each.check for each in CAUSES if each.code == "adjuster")
    assert max(places) < words.index(adjuster)


def test_that_a_check_made_at_the_visit_or_of_a_part_that_is_not_there_is_not_asked_for_again() -> None:
    done = found(strainers_cleaned=True, check_valves_good=True)
    assert {each.words for each in BEFORE} & {each.words for each in done.checks} == {BEFORE[2].words}
    none = found(body=valve(strainers=False))
    assert BEFORE[0].words not in {each.words for each in none.checks}


def test_that_the_check_that_tells_the_first_suspects_apart_is_marked() -> None:
    diagnosis = found(flow_l_min=4.0, cold_flow_bar=1.2)
    (marked,) = [each for each in diagnosis.checks if each.tells_apart]
    first = {each.cause.name for each in diagnosis.suspects[:2]}
    assert 0 < len(first & set(marked.points_to)) < len(first)
    assert marked.words


def test_that_measurements_that_would_help_most_are_asked_for_first() -> None:
    pressures = ("hot_flow_bar", "cold_flow_bar", "hot_static_bar", "cold_static_bar")
    bare: dict[str, Any] = dict.fromkeys((*pressures, "flow_l_min", "hot_c", "cold_c", "small_draw_c"))
    wanted = found(**bare).wanted
    assert [len(each.bears_on) for each in wanted] == sorted(
        (len(each.bears_on) for each in wanted), reverse=True
    )
    assert len(wanted[0].bears_on) == 2
    assert {"hardness of the water, mg/l CaCO3", "both flow pressures at one time"} <= {
        each.words for each in wanted
    }


def test_that_the_order_is_explained_and_is_no_probability() -> None:
    assert "not a probability" in ORDERING
    assert found().ordering == ORDERING


def test_that_a_body_seen_the_wrong_way_round_is_taken_at_that_word() -> None:
    wrong = replace(course().case.visit, steps=Steps((Seen("right-way-round", False),)))
    right = replace(wrong, steps=Steps((Seen("right-way-round", True),)))
    seen = suspect(found(on_case={"visit": wrong}), "reversed")
    assert seen.count(Bearing.SEEN) == 1
    assert suspect(found(on_case={"visit": right}), "reversed").count(Bearing.SEEN) == 0


def test_that_symptoms_are_short_and_come_from_the_judgement() -> None:
    symptoms = found().symptoms
    assert symptoms[0] == "As found 43.6 °C, ceiling 43.0 °C"
    assert not any("Moritz" in each for each in symptoms)


def test_that_a_regulating_element_speaks_against_itself_as_the_cause() -> None:
    def weighed(index: float, low: float, high: float) -> int:
        learned = Learned(GROUP, regulation=RegulationEstimate(index, low, high, 9))
        return suspect(found(learned=learned), "element").balance

    assert weighed(0.9, 0.7, 1.1) == weighed(0.1, -0.1, 0.3) + 2 == weighed(0.4, 0.1, 0.7) + 1


def test_that_the_good_readings_of_the_builders_raise_no_symptom() -> None:
    assert found(found_c=GOOD.found_c).symptoms == ()
    assert found(found_c=43.6, on_case={"instrument": instrument()}).symptoms
    assert UNCHECKED.keys() <= {name for each in BEFORE for name in (each.field,)}
    assert TESTED.readings.found_c == 41.2

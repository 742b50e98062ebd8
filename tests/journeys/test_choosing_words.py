"""What the commands about choosing, faults and the year ahead print, on values made up."""

from dataclasses import replace

from estate.cli.choosing_words import diagnosis_words, forecast_words, suitability_words
from estate.domain.diagnosis.diagnose import Diagnosis
from estate.domain.diagnosis.diagnosed import Diagnosed
from estate.domain.forecast import (
    Ages,
    BodyChance,
    Counted,
    Drift,
    Expected,
    Forecast,
    GroupForecast,
    PartForecast,
    Ranged,
    StillInPlace,
)
from estate.domain.rules.values import RuleSet
from estate.domain.suitability.check import check_suitability
from estate.domain.suitability.given import Checked
from tests.builders import TODAY, outlet
from tests.domain.diagnosis.courses import course, found
from tests.domain.suitability.surveys import SOUND, cold, hot, worked_out

RATE = Counted(24, 152.0, Ranged(0.158, 0.101, 0.235), Expected(3.1, 0, 7))
RICH = GroupForecast(
    name="Make A A15",
    in_place=8,
    watched=32,
    ages=Ages(7, 1, 5.5, 8.0),
    replaced=RATE,
    by_age=True,
    shut_off=RATE,
    services=Counted(2, 8.0),
    still_in_place=(
        StillInPlace(2.0, Ranged(1.0, None, None), 30),
        StillInPlace(5.0, Ranged(0.8, 0.6, 0.9), 20),
    ),
    half_replaced_years=Ranged(8.0, 7.5, None),
    drift=Drift(Ranged(0.006, 0.003, 0.009), 0.012, 30, 300),
)
POOR = replace(
    RICH,
    name="Make C C3",
    ages=Ages(0, 3),
    by_age=False,
    half_replaced_years=None,
    drift=None,
    still_in_place=(),
)


def test_that_a_rich_forecast_is_told_with_every_interval() -> None:
    whole = Forecast(
        TODAY,
        RICH,
        (POOR,),
        likeliest=(BodyChance("MM/1", "A15 1", None, Ranged(0.2, 0.1, 0.3)),),
        parts=(PartForecast("element", 2.0, 0.0, None),),
    )
    text = "\n".join(forecast_words(whole))
    for words in (
        "replaced: 24 in 152 valve-years, 15.8 % a year (10.1 % to 23.5 %); expected 3.1 (0 to 7)",
        "still in place at age 2: 100.0 %, 30 watched then",
        "still in place at age 5: 80.0 % (60.0 % to 90.0 %), 20 watched then",
        "half are replaced by the age of 8.0 years (7.5 to not reached)",
        "services: 2 in 8 valve-years\n",
        "drift +0.0060 K a week (+0.0030 to +0.0090), from valve to valve ± 0.0120",
        "median age not known, oldest not known",
        "one rate for all ages",
        "MM/1               A15 1, not known: 20.0 % (10.0 % to 30.0 %)",
        "element: 2 used in 0.0 years; expected can't be told",
        "They replace no test and no service",
    ):
        assert words in text


def test_that_shares_of_tests_and_valves_are_told_where_there_were_any() -> None:
    tested = replace(RICH, shut_off_tested=48, shut_off_tests=Ranged(0.021, 0.001, 0.111), tested_valves=11)
    tested = replace(tested, put_right=Ranged(0.091, 0.002, 0.413))
    text = "\n".join(forecast_words(Forecast(TODAY, tested, ())))
    assert "it did not shut in 2.1 % (0.1 % to 11.1 %) of 48 tests" in text
    assert "to be put right in the last year: 9.1 % (0.2 % to 41.3 %) of 11 valves tested" in text


def test_that_a_diagnosis_without_a_suspect_says_so() -> None:
    bare = Diagnosed(outlet(), "A15", Diagnosis(TODAY, ("Left 41.0 °C",)))
    text = "\n".join(diagnosis_words(bare))
    assert "none: nothing that was measured speaks for one" in text
    assert "Not measured, and would help" not in text


def test_that_evidence_stands_by_its_bearing_and_a_check_may_point_to_none() -> None:
    made = found(check_valves_good=False, isolating_valves_open=None)
    text = "\n".join(diagnosis_words(Diagnosed(outlet(), "A15", made)))
    assert text.index("seen     Check valves looked at") < text.index("against  The cold supply is 13.0 °C")
    assert course().readings.check_valves_good is None
    checks = tuple(replace(each, points_to=()) for each in made.checks)
    plain = "\n".join(diagnosis_words(Diagnosed(outlet(), "A15", replace(made, checks=checks))))
    assert "If one is not" not in plain


def test_that_a_survey_under_a_rule_set_without_conditions_says_so() -> None:
    blank = RuleSet("blank", "Nothing", "1", "nowhere", ("Ask.",))
    text = "\n".join(suitability_words(Checked(check_suitability(replace(SOUND, scheme_class=None), blank))))
    assert "Checked for no class, high pressure; rules blank 1" in text
    assert "the rule set publishes no conditions of use" in text
    assert text.endswith("Ask.")


def test_that_what_was_not_measured_and_what_reducing_would_do_are_told() -> None:
    text = "\n".join(
        suitability_words(Checked(worked_out(hot=hot(flow_bar=6.0), cold=cold(static_bar=None))))
    )
    assert (
        "fails         Type 3 HP-W: hot flow pressure 6 bar (1 to 5); would do with both at 2 bar under flow"
        in text
    )
    assert "can't be told Cold static pressure: not known; ≤ 10 bar" in text
    assert "A mixer without thermostat" in text
    open_ended = "\n".join(suitability_words(Checked(worked_out(cold=cold(static_bar=None)))))
    assert "can't be told Type 3 HP-W: not measured: cold static pressure" in open_ended

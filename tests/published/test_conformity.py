"""Values of JCGM 106:2012 and ILAC-G8:09/2019, copied by hand from the trade facts named beside them."""

import pytest

from estate.domain.conformity import (
    Decision,
    decide,
    probability_above,
    probability_conforming,
    two_sided_probability,
)


def test_that_the_jcgm_106_examples_come_out() -> None:  # MU-07
    assert probability_conforming(-5.47, -5.40, 0.05) == pytest.approx(0.919, abs=0.0005)
    assert probability_above(507.5, 490, 8.6) == pytest.approx(0.979, abs=0.0005)
    assert two_sided_probability(13.6, 12.5, 16.3, 1.8) == pytest.approx(0.663, abs=0.0005)


@pytest.mark.parametrize(
    ("measured_c", "probability"),
    [(42.4, 0.9918), (42.5, 0.9772), (42.75, 0.8413), (43.0, 0.5000), (43.5, 0.0228)],  # MU-08
)
def test_that_the_mixing_valve_values_come_out(measured_c: float, probability: float) -> None:
    assert probability_conforming(measured_c, 43.0, 0.25) == pytest.approx(probability, abs=0.00005)


@pytest.mark.parametrize(
    ("measured_c", "decision"),
    [
        (42.49, Decision.PASS),  # MU-03: below TL − w
        (42.5, Decision.CONDITIONAL_PASS),  # MU-03: from TL − w
        (43.0, Decision.CONDITIONAL_PASS),  # MU-01, MU-03: exactly the limit is accepted
        (43.01, Decision.CONDITIONAL_FAIL),  # MU-03: above TL
        (43.5, Decision.CONDITIONAL_FAIL),  # MU-03: up to TL + w
        (43.51, Decision.FAIL),  # MU-03: above TL + w
    ],
)
def test_that_the_four_outcomes_of_ilac_g8_apply_with_two_standard_uncertainties(
    measured_c: float, decision: Decision
) -> None:
    assert decide(measured_c, 43.0, 0.25) is decision


@pytest.mark.parametrize("measured_c", [43.0, 42.9, 20.0])
def test_that_simple_acceptance_passes_up_to_the_limit_itself(measured_c: float) -> None:  # MU-01
    assert decide(measured_c, 43.0, None) is Decision.PASS


def test_that_a_pass_leaves_at_most_two_and_a_half_per_cent_of_false_acceptance() -> None:  # MU-04
    for tenths in range(300, 500):
        measured_c = tenths / 10
        if decide(measured_c, 43.0, 0.25) is Decision.PASS:
            assert 1 - probability_conforming(measured_c, 43.0, 0.25) <= 0.025

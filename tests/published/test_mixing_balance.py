"""The heat balance of mixed water against the worked values of the trade facts PH-01 to PH-04 and MU-12."""

import pytest

from estate.domain.mixing import collected_flow, fixed_mixer_temperature, hot_fraction, mixed_temperature


def test_that_41_from_60_and_15_takes_0_57778_of_hot_water() -> None:  # PH-02
    share = hot_fraction(41, 60, 15)
    assert share is not None
    assert share == pytest.approx(0.57778, abs=5e-6)
    assert share / (1 - share) == pytest.approx(1.3684, abs=5e-5)


def test_that_the_hot_share_of_ph_02_mixes_back_to_41() -> None:  # PH-01 against PH-02
    assert mixed_temperature(1.3684, 60, 1, 15) == pytest.approx(41, abs=0.001)


def test_that_a_fixed_mixer_at_60_and_15_and_equal_pressure_gives_37_5() -> None:  # PH-04
    assert fixed_mixer_temperature(60, 15, 2, 2) == pytest.approx(37.5)


def test_that_halving_the_cold_pressure_gives_41_36() -> None:  # PH-03, PH-04: 3.86 K more
    halved_c = fixed_mixer_temperature(60, 15, 2, 1)
    assert halved_c == pytest.approx(41.36, abs=0.005)
    assert halved_c - 37.5 == pytest.approx(3.86, abs=0.005)


def test_that_relative_variances_of_volume_and_time_add_up() -> None:  # MU-12
    flow = collected_flow(120, 60, 6, 0.6)
    assert flow.ml_min == pytest.approx(120)
    assert (flow.u_ml_min / flow.ml_min) ** 2 == pytest.approx((6 / 120) ** 2 + (0.6 / 60) ** 2)

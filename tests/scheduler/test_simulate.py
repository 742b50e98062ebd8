from dataclasses import replace

import numpy as np
import pytest
from scipy.special import ndtr

from estate.scheduler.policies import Fixed, Staircase
from estate.scheduler.records import Records
from estate.scheduler.simulate import Practice, Trial, recorded, simulate
from estate.scheduler.states import DriftParameters
from estate.scheduler.truths import MODEL, WEEKS_PER_YEAR, Truth, World

SMALL = Trial(valves=400, years=3)
HANDS_OFF = Practice(adjusted_beyond_k=1e9, serviced_beyond_k=1e9)
STILL = DriftParameters(0.0, 0.0, 0.0, 0.0)


def test_that_untouched_valves_are_above_as_often_as_the_normal_law_says() -> None:
    """A second way: x at week t is N(41 + μt, s² + σ²t + ω²t²), averaged over the weeks."""
    outcome = simulate(Fixed(26), Trial(valves=20000, years=2, practice=HANDS_OFF))
    drift, week = MODEL.drift, np.arange(1, round(2 * WEEKS_PER_YEAR) + 1)
    spread = np.sqrt(drift.s**2 + drift.sigma**2 * week + (drift.omega * week) ** 2)
    expected = ndtr((41 + drift.mu * week - 43) / spread).mean()
    assert outcome.weeks_above_error < 0.05 * expected
    assert abs(outcome.weeks_above - expected) < 3 * outcome.weeks_above_error
    assert outcome.adjusted == 0


def test_that_six_monthly_is_two_visits_a_year() -> None:
    assert simulate(Fixed(26), SMALL).visits_a_year == pytest.approx(2, abs=0.02)
    assert simulate(Fixed(13.9), SMALL).visits_a_year == pytest.approx(4, abs=0.1)


def test_that_the_same_seed_gives_the_same_outcome_and_another_does_not() -> None:
    first = simulate(Fixed(26), SMALL)
    assert simulate(Fixed(26), SMALL) == first
    assert simulate(Fixed(26), replace(SMALL, seed=2)) != first


def test_that_policies_meet_the_same_valves() -> None:
    """Left alone, an estate goes the same way under every policy, however often it is read."""
    alone = replace(SMALL, practice=HANDS_OFF)
    assert simulate(Fixed(5), alone).weeks_above == simulate(Fixed(40), alone).weeks_above


def test_that_records_hold_what_a_register_would() -> None:
    panel = recorded(Staircase(), SMALL)
    beyond = np.arange(panel.weeks.shape[1]) >= panel.count[:, None]
    assert np.isnan(panel.weeks[beyond]).all()
    assert (panel.kind_sets_reference[:, 0] & panel.reset[:, 0]).all()
    assert (panel.left[panel.reset] == 41.0).all()
    tests = ~beyond & (np.arange(panel.weeks.shape[1]) > 0)
    far = np.abs(panel.found - 41.0) > 1.0 + 1e-6
    assert (panel.reset[tests] == far[tests]).all()
    assert (np.diff(panel.weeks, axis=1)[tests[:, 1:]] >= 1).all()


def test_that_more_visits_than_were_laid_out_are_kept() -> None:
    records = Records(2, 41.0)
    for week in range(1, 60):
        one = np.array([1])
        records.add(one, week, np.array([41.0 + week]), np.array([np.nan]), np.array([False]))
    panel = records.panel()
    assert panel.count.tolist() == [1, 60]
    assert panel.found[1, 59] == 100.0
    assert np.isnan(panel.found[0, 1:]).all()


def test_that_progress_is_told_to_the_end() -> None:
    told: list[float] = []
    simulate(Fixed(26), Trial(valves=5, years=1), told.append)
    assert told == sorted(told)
    assert told[-1] == 1.0


def world(truth: Truth, weeks: int, valves: int = 4000) -> World:
    made = World(truth, valves, 3)
    for _ in range(weeks):
        made.pass_week()
    return made


def test_that_jumps_spread_valves_as_their_rate_says() -> None:
    made = world(Truth("jumps", STILL, jumps_a_year=2.0, jump_k=1.5), 104)
    assert made.mixed.var() == pytest.approx(2.0 * 104 / WEEKS_PER_YEAR * 1.5**2, rel=0.1)


def test_that_spells_of_scale_add_their_share_of_drift_and_a_service_ends_them() -> None:
    truth = Truth("spells", STILL, spells_a_year=1.0, spell_weeks=26, spell_k_per_week=0.1)
    made = world(truth, 1000)
    busy = (1 / WEEKS_PER_YEAR) / (1 / WEEKS_PER_YEAR + 1 / 26)
    assert made.mixed.mean() == pytest.approx(1000 * busy * 0.1, rel=0.03)
    before = made.mixed
    made.service(np.ones(4000, np.bool_))
    made.pass_week()
    assert (made.mixed - before).mean() == pytest.approx(0.1 / WEEKS_PER_YEAR, rel=0.6)


def test_that_supplies_shift_all_valves_of_a_site_together() -> None:
    truth = Truth("supplies", STILL, supply_k=0.5)
    values = np.array([world(truth, week, 200).mixed for week in range(1, 200)])
    together = np.corrcoef(values.T)
    assert np.mean(np.abs(together) > 0.999) == pytest.approx(1 / 5, abs=0.03)
    assert values.std() == pytest.approx(0.5 * np.sqrt(1 + 1 / 12), rel=0.35)


def test_that_slips_change_what_is_written_and_not_what_is_seen() -> None:
    shown, written = World(Truth("slips", slip_share=0.25), 8000, 1).read()
    off = np.round(written - shown, 6)
    assert np.mean(off != 0) == pytest.approx(0.25, abs=0.02)
    assert set(off[off != 0]) == {-9.0, -2.7, 2.7, 9.0}


def test_that_setting_a_valve_leaves_it_within_the_error_of_a_reading() -> None:
    made = world(Truth("supplies", DriftParameters(0.5, 0.1, 0.3, 0.25), supply_k=0.5), 20)
    chosen = np.arange(4000) < 2000
    before = made.mixed
    made.set_to(chosen, 41.0)
    assert made.mixed[chosen].mean() == pytest.approx(41.0, abs=0.02)
    assert made.mixed[chosen].std() == pytest.approx(0.25, rel=0.05)
    assert made.mixed[~chosen] == pytest.approx(before[~chosen])

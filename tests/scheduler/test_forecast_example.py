"""The worked examples of docs/forecast.md, worked out again."""

from pathlib import Path

import numpy as np

from estate.scheduler.counting import rate_of
from estate.scheduler.replacing import one_band, replacements_to_come
from estate.scheduler.survival import FEWEST_AT_RISK, Lifetimes, product_limit


def test_that_the_replacements_of_twenty_bodies_come_out_as_told(checkout: Path) -> None:
    text = " ".join((checkout / "docs" / "forecast.md").read_text("utf-8").split())
    rate = rate_of(3, 40.0)
    assert rate is not None
    assert f"{rate.value:.3f} a year, 95 % from {rate.low:.4f} to {rate.high:.4f}" in text
    (chance,) = one_band(40.0, 3).chances()
    assert f"(40/41)^3.5 = {chance.value:.4f}, from {chance.low:.4f} to {chance.high:.4f}" in text
    found = replacements_to_come(one_band(40.0, 3), np.array([20]))
    assert f"{chance.value:.4f} = {found.mean:.2f} are expected" in text
    assert f"between {found.low} and {found.high}" in text


def test_that_the_curve_of_ten_bodies_comes_out_as_told(checkout: Path) -> None:
    text = (checkout / "docs" / "forecast.md").read_text("utf-8")
    entry = np.array([0, 0, 1, 0, 2, 0, 0, 3, 0, 0], np.float64)
    left = np.array([2, 3, 4, 4, 5, 6, 6.5, 7, 8, 8])
    replaced = np.isin(np.arange(10), [1, 3, 5, 9])
    curve = product_limit(Lifetimes(entry, left, replaced))
    low, high = curve.ends()
    for row, age in enumerate(curve.age.tolist()):
        line = next(line for line in text.splitlines() if line.startswith(f"| {age:g} |"))
        assert line.startswith(f"| {age:g} | {curve.at_risk[row]} | {curve.replaced[row]} |")
        assert f" = {curve.share[row]:.3f} | {low[row]:.3f} to {high[row]:.3f} |" in line
    assert curve.at_risk[-1] < FEWEST_AT_RISK

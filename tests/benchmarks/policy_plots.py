"""Draws the plots of docs/policies.md and docs/predictions.md from what the commands print with --json.

python -m estate compare-policies --valves 4000 --json > policies.json
python -m estate --register sample_estate.db backtest --on 2026-11-25 --json > backtest.json
python tests/benchmarks/policy_plots.py policies.json backtest.json docs/pictures
"""

import json
import math
import sys
from collections.abc import Iterable, Sequence
from pathlib import Path
from typing import Any

WIDTH, HEIGHT, LEFT, TOP, RIGHT, BOTTOM = 800, 440, 80, 40, 330, 60
OURS, OTHERS, PAPER, INK, RULE = "#0b5a75", "#8a4b08", "#ffffff", "#1b2226", "#d5dadd"


def sheet(title: str, parts: Iterable[str]) -> str:
    """One SVG with its title."""
    head = f"<svg xmlns='http://www.w3.org/2000/svg' viewBox='0 0 {WIDTH} {HEIGHT}' role='img'>"
    ground = f"<title>{title}</title><rect width='{WIDTH}' height='{HEIGHT}' fill='{PAPER}'/>"
    return "\n".join([head, ground, words(LEFT, 22, title, 14), *parts, "</svg>\n"])


def words(x: float, y: float, text: str, size: int = 11, anchor: str = "start") -> str:
    """Words at a place."""
    font = f"font-family='DejaVu Sans, sans-serif' font-size='{size}' fill='{INK}'"
    return f"<text x='{x:.1f}' y='{y:.1f}' {font} text-anchor='{anchor}'>{text}</text>"


def line(x1: float, y1: float, x2: float, y2: float, colour: str = RULE) -> str:
    """A line."""
    return f"<line x1='{x1:.1f}' y1='{y1:.1f}' x2='{x2:.1f}' y2='{y2:.1f}' stroke='{colour}'/>"


def mark(x: float, y: float, number: int, ours: bool) -> str:
    """A numbered mark: a disc for ours, a square for the others."""
    shape = (
        f"<circle cx='{x:.1f}' cy='{y:.1f}' r='9' fill='{OURS}'/>"
        if ours
        else f"<rect x='{x - 8:.1f}' y='{y - 8:.1f}' width='16' height='16' fill='{OTHERS}'/>"
    )
    label = f"<text x='{x:.1f}' y='{y + 4:.1f}' font-size='10' font-family='DejaVu Sans' fill='{PAPER}'"
    return f"{shape}{label} text-anchor='middle'>{number}</text>"


def policies_plot(outcomes: Sequence[dict[str, Any]]) -> str:
    """Visits a year against valve-weeks above the ceiling (logarithmic), one truth."""
    shares = [max(each["weeks_above"], 1e-5) for each in outcomes]
    low, high = math.floor(math.log10(min(shares))), math.ceil(math.log10(max(shares)))
    most = math.ceil(max(each["visits_a_year"] for each in outcomes) + 0.2)

    def place(visits: float, share: float) -> tuple[float, float]:
        across = LEFT + visits / most * (WIDTH - LEFT - RIGHT)
        up = (high - math.log10(share)) / (high - low)
        return across, TOP + up * (HEIGHT - TOP - BOTTOM)

    parts = []
    for power in range(low, high + 1):
        for step in (1, 2, 5):
            share = step * 10.0**power
            if share <= 10.0**high:
                x, y = place(0, share)
                parts += [line(x, y, WIDTH - RIGHT, y), words(x - 8, y + 4, f"{share * 100:g} %", 11, "end")]
    for visits in range(most + 1):
        x, y = place(visits, 10.0**low)
        parts += [line(x, TOP, x, y), words(x, y + 18, str(visits), 11, "middle")]
    parts.append(
        words(LEFT, HEIGHT - 14, "visits a valve and year; upwards: share of valve-weeks above the ceiling")
    )
    for number, (each, share) in enumerate(zip(outcomes, shares, strict=True), start=1):
        ours = each["policy"].startswith("drift")
        parts.append(mark(*place(each["visits_a_year"], share), number, ours))
        y = TOP + 10 + 24 * (number - 1)
        parts += [mark(WIDTH - RIGHT + 24, y, number, ours), words(WIDTH - RIGHT + 40, y + 4, each["policy"])]
    return sheet(f"Policies compared: {outcomes[0]['truth']}", parts)


def predictions_plot(told: dict[str, Any]) -> str:
    """Predicted against observed crossings with the 95 % interval and the number of cases."""
    side = HEIGHT - TOP - BOTTOM

    def place(predicted: float, observed: float) -> tuple[float, float]:
        return LEFT + predicted * side, TOP + (1 - observed) * side

    parts = []
    for tenth in range(0, 11, 2):
        share = tenth / 10
        (x, bottom), (left, y) = place(share, 0), place(0, share)
        parts += [line(x, TOP, x, bottom), line(left, y, left + side, y)]
        parts += [
            words(x, bottom + 18, f"{share:.0%}", 11, "middle"),
            words(left - 8, y + 4, f"{share:.0%}", 11, "end"),
        ]
    parts.append(line(*place(0, 0), *place(1, 1), colour=INK))
    for each in told["reliability"]:
        if each["cases"]:
            x, low = place(each["predicted"], each["likely_low"])
            _, high = place(0, each["likely_high"])
            at = place(each["predicted"], each["observed"])
            parts += [
                line(x, low, x, high, OURS),
                f"<circle cx='{at[0]:.1f}' cy='{at[1]:.1f}' r='5' fill='{OURS}'/>",
            ]
    parts.append(
        words(LEFT, HEIGHT - 14, "predicted chance to be above the ceiling; upwards: share that was")
    )
    rows = [
        f"{level} % interval: {each['inside']} of {each['cases']} inside"
        for level, each in told["coverage"].items()
    ]
    rows += [
        f"{each['low']:.0%} to {each['high']:.0%}: {each['above']} of {each['cases']} above"
        for each in told["reliability"]
    ]
    parts += [words(LEFT + side + 40, TOP + 12 + 22 * row, text) for row, text in enumerate(rows)]
    return sheet("Last readings, hidden and predicted", parts)


def main(policies: str, backtest: str, folder: str) -> None:
    """Write the plots."""
    outcomes = json.loads(Path(policies).read_text("utf-8"))
    for number, truth in enumerate(dict.fromkeys(each["truth"] for each in outcomes), start=1):
        plot = policies_plot([each for each in outcomes if each["truth"] == truth])
        (Path(folder) / f"policies-{number}.svg").write_text(plot, "utf-8")
    told = json.loads(Path(backtest).read_text("utf-8"))
    (Path(folder) / "predictions.svg").write_text(predictions_plot(told), "utf-8")


if __name__ == "__main__":
    main(*sys.argv[1:4])

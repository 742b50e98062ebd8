"""The worked example of docs/choosing.md, worked out again."""

from pathlib import Path

from estate.domain.places import Use, UserGroup
from estate.domain.suitability.check import check_suitability
from estate.domain.suitability.conditions import Held
from estate.domain.suitability.survey import ModelFigures, Supply, Survey
from estate.domain.valves import SchemeClass
from tests.domain.suitability.surveys import RULES, condition

FOUND = check_suitability(
    Survey(
        Use.BASIN,
        UserGroup.PATIENTS,
        hot=Supply(60.0, 4.0, 3.5),
        cold=Supply(12.0, 1.5, 0.8),
        set_c=41.0,
        scheme_class=SchemeClass.TYPE_3,
        designations=("HP-W",),
        pipe_m=2.6,
        model=ModelFigures(min_differential_k=10.0, max_pressure_ratio=5.0),
    ),
    RULES,
)
SHOWN = {
    "hot-legionella": "hot supply for legionella control",
    "differential": "hot supply above the mixed water",
    "hot-flow-pressure": "hot flow pressure",
    "cold-flow-pressure": "cold flow pressure",
    "pressure-ratio": "higher flow pressure to the lower",
    "pipe": "blended pipe",
}


def test_that_each_line_of_the_table_is_what_is_worked_out(checkout: Path) -> None:
    text = (checkout / "docs" / "choosing.md").read_text("utf-8")
    rows = {line.split("|")[1].strip(): line for line in text.splitlines() if line.startswith("| ")}
    for code, name in SHOWN.items():
        made = condition(FOUND, code)
        _, _, figure, limit, margin, held, _ = (part.strip() for part in rows[name].split("|"))
        assert f"{made.value:g}" in figure
        assert limit == made.limit_words
        assert margin == f"{made.margin:+g}"
        assert held.startswith(made.held.value)
    assert condition(FOUND, "risk-assessment").held is Held.UNTOLD
    assert "falls to 0.70 bar" in condition(FOUND, "pressure-ratio").words


def test_that_the_designations_it_names_are_those_that_fit() -> None:
    fits = {each.words: each for each in FOUND.fits}
    assert [words for words, each in fits.items() if each.held is Held.HOLDS] == ["Type 2 HP-W"]
    assert fits["Type 3 LP-W"].reduced_bar == 0.8


def test_that_the_swings_it_shows_are_those_of_the_mixing_balance(checkout: Path) -> None:
    text = (checkout / "docs" / "choosing.md").read_text("utf-8")
    assert FOUND.swings is not None
    told = {each.change: f"{each.mixed_c:.1f} °C" for each in FOUND.swings.swings}
    lines = [
        line.strip("| ").split(" | ")
        for line in text.splitlines()
        if line.startswith(("| cold ", "| hot supply 5"))
    ]
    shown = {line[0]: line[1] for line in lines if line[0] in told}
    assert len(shown) == 4
    assert shown == {change: told[change] for change in shown}
    assert f"{(41 - 12) / (60 - 12):.3f}" in text

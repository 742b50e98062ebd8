"""Headings understood by their parts."""

import random
from pathlib import Path

import pytest

from estate.domain.layouts import SheetKind
from estate.errors import IntakeFault
from estate.intake.headings import Column, understand
from estate.intake.parts_file import parts_of_headings
from estate.intake.reading import read
from estate.intake.words_file import load

WORDS = load()
TAKEN = {
    "Hot side temp at TMV": "hot_c",
    "Blended temp prior to adjustment": "found_c",
    "Temp. after 60 s cold shut": "cold_isolated.stabilised_c",
    "Discharge with cold off ml/min": "cold_isolated.residual_ml_min",
    "Volume collected in 60 s (ml)": "cold_isolated.residual_ml_min",
    "Peak blended temp with cold supply isolated °C": "cold_isolated.max_c",
    "Höchste Mischtemperatur bei Kaltwasserausfall °C": "cold_isolated.max_c",
    "Auslauftemperatur nach der Justierung": "left_c",
    "Température sortie avant réglage": "found_c",
}
NOT_TAKEN = (
    "Hot return °C", "Mixed limit °C", "Calorifier hot flow °C", "Hot outlet temp °C", "Hot at 1 min °C",
    "Residual chlorine mg/l", "Temp with cold off °C", "Date of manufacture", "Fail safe required?",
    "Max residual ml/min", "Mischwasser Sollwert °C", "Retour ECS °C", "Adjustment required",
)  # fmt: skip


def _column(heading: str) -> Column:
    return understand([(0, heading)], WORDS, SheetKind.VISITS)[0]


def _field(heading: str) -> str:
    field = _column(heading).field
    return field.name if field else ""


@pytest.mark.parametrize(("heading", "field"), TAKEN.items())
def test_that_parts_tell_what_a_heading_means(heading: str, field: str) -> None:
    assert _field(heading) == field


@pytest.mark.parametrize("heading", NOT_TAKEN)
def test_that_a_heading_of_another_thing_is_not_taken(heading: str) -> None:
    assert _field(heading) == ""


@pytest.mark.parametrize("heading", TAKEN)
def test_that_a_word_of_another_thing_unsays_a_heading(heading: str) -> None:
    assert _field(f"Previous {heading}") == ""


def test_that_an_unknown_word_leaves_a_suggestion() -> None:
    column = _column("Hot wibble temp at valve °C")
    assert column.field is None
    assert column.suggested == "hot_c"


def test_that_the_order_of_words_without_meaning_does_not_matter() -> None:
    draw = random.Random(7)
    for _ in range(50):
        words = ["blended", "temp", "found", *draw.sample(["the", "of", "at", "reading", "water"], 3)]
        draw.shuffle(words)
        assert _field(" ".join(words)) == "found_c", words


def test_that_millilitres_over_a_minute_tell_their_unit() -> None:
    unit = _column("Volume collected in 60 s (ml)").unit
    assert unit is not None
    assert unit.name == "ml_min"


def test_that_an_unread_column_of_numbers_is_said(tmp_path: Path) -> None:
    rows = ["Ref;Date;Hot °C;Wibble;Mixed limit °C"]
    rows += [f"MB/G/G0{each}/WHB1;2026-10-1{each};60.{each};41.{each};43" for each in range(1, 6)]
    path = tmp_path / "a.csv"
    path.write_text("\n".join(rows), "utf-8")
    reading = read(path, SheetKind.VISITS)
    assert len(reading.visits) == 5
    assert [(each.code, each.cell, each.found) for each in reading.notes] == [
        ("unread-column", "D1", "Wibble")
    ]


@pytest.mark.parametrize("heading", ["Date of manufacture", "Install date", "Date raised", "Remedial date"])
def test_that_days_of_other_things_are_not_the_days_of_visits(tmp_path: Path, heading: str) -> None:
    rows = [f"Ref;{heading};Hot °C"]
    rows += [f"MB/G/G0{each}/WHB1;2026-05-1{each};60.{each}" for each in range(1, 6)]
    path = tmp_path / "a.csv"
    path.write_text("\n".join(rows), "utf-8")
    with pytest.raises(IntakeFault, match="date"):
        read(path, SheetKind.VISITS)


@pytest.mark.parametrize(
    "text",
    [
        "nonsense",
        "blockers = []",
        "blockers = []\nother_days = []\nparts = 1\nrules = []",
        "blockers = []\nother_days = []\nrules = 1\n[parts]\na = ['x']",
        "blockers = []\nother_days = []\nrules = [1]\n[parts]\na = ['x']",
        "blockers = []\nother_days = []\n[parts]\na = [1]\n[[rules]]\nfield = 'f'\nneeds = [['a']]\nmay = []",
        "blockers = []\nother_days = []\n[parts]\na = ['x']\n[[rules]]\nfield = 1\nneeds = [['a']]\nmay = []",
        "blockers = []\nother_days = []\n[parts]\na = ['x']\n[[rules]]\nfield=''\nneeds = [['b']]\nmay = []",
    ],
)
def test_that_a_damaged_file_of_parts_is_refused(tmp_path: Path, text: str) -> None:
    path = tmp_path / "parts.toml"
    path.write_text(text, "utf-8")
    with pytest.raises(IntakeFault, match="parts of headings are damaged"):
        parts_of_headings(path)

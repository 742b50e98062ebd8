"""Cells that hold numbers, answers and choices."""

from datetime import date, time, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from estate.intake.grid import Cell, Trouble
from estate.intake.values import Doubt, Number, answer, choice, number
from estate.intake.words import Words
from estate.intake.words_file import load

WORDS: Words = load()
TEMPERATURE, RESIDUAL = WORDS.dimensions["temperature"], WORDS.dimensions["residual"]
CELLS: st.SearchStrategy[Cell] = st.one_of(
    st.none(),
    st.text(max_size=60),
    st.floats(),
    st.booleans(),
    st.dates(),
    st.datetimes(),
    st.times(),
    st.timedeltas(),
    st.builds(Trouble, st.sampled_from(["formula-without-value", "unreadable-value"]), st.text(max_size=5)),
    st.from_regex(r"[-+]?[0-9]{0,4}[.,]?[0-9]{0,4} ?(°|C|°C|F|ml/min)?", fullmatch=True),
)


def temperature(cell: Cell, unit: str = "") -> float | str | None:
    found = number(cell, WORDS.unit(unit, "temperature") if unit else None, TEMPERATURE, WORDS)
    return found.code if isinstance(found, Doubt) else found.value if found else None


@pytest.mark.parametrize(
    ("written", "value"),
    [
        ("59,9", 59.9),
        ("17,5 °C", 17.5),
        ("61,5 C", 61.5),
        ("41,4°", 41.4),
        ("41.4", 41.4),
        (" 41.4 ", 41.4),
        ("+41", 41.0),
        ("41 deg C", 41.0),
        ("41,4 Grad", 41.4),
        ("41.4℃", 41.4),
        ("41.4 º", 41.4),
        ("41\u00a0°C", 41.0),
        (",5", 0.5),
        (41.0, 41.0),
        ("41.375", 41.375),
        ("106 °F", 41.111),
        ("212F", 100.0),
        ("140 ℉", 60.0),
        ("0", 0.0),
    ],
)
def test_that_a_written_temperature_is_the_number_written(written: Cell, value: float) -> None:
    assert temperature(written) == value


@pytest.mark.parametrize("cell", [None, "", "  ", "-", "–", "n/a", "N/A", "not measured", "nicht gemessen"])
def test_that_nothing_measured_is_none_and_never_zero(cell: Cell) -> None:
    assert temperature(cell) is None


@pytest.mark.parametrize(
    "cell",
    [
        "41..4",
        "41,4,1",
        "41-42",
        "41/42",
        "<41",
        "~41",
        ">41",
        "41 bar",
        "41 ml/min",
        "4l",
        "forty",
        "1e5",
        "41½",
        "4²",
        "４１",
        "nan",
        "inf",
        "41 ok",
        "?",
        "'41",
        "1 200",
        "41.",
        "=41",
        "x" * 200,
        True,
        False,
        date(2026, 5, 4),
        time(4, 1),
        timedelta(41),
        Trouble("unreadable-value", "#N/A"),
    ],
)
def test_that_what_is_not_one_plain_number_is_asked_about(cell: Cell) -> None:
    assert temperature(cell) == "unreadable-value"


@pytest.mark.parametrize("cell", [101.0, -1.0, "-5", "415", "414,0 °C", "300 F", float("inf"), float("nan")])
def test_that_a_number_no_outlet_can_give_is_asked_about(cell: Cell) -> None:
    assert temperature(cell) == "implausible-value"


def test_that_a_cells_own_unit_goes_before_the_headings() -> None:
    assert temperature("104", "°F") == 40.0
    assert temperature(104.0, "°F") == 40.0
    assert temperature("40 °C", "°F") == 40.0
    assert temperature("104 °F", "°C") == 40.0


@pytest.mark.parametrize("written", ["1,200", "1.200", "12,000", "1.200 ml/min"])
def test_that_a_thousands_mark_that_may_be_a_decimal_is_asked_about(written: str) -> None:
    unit = WORDS.unit("ml/min", "residual")
    found = number(written, unit, RESIDUAL, WORDS)
    assert isinstance(found, Doubt)
    assert found.code == "unreadable-value"


def test_that_a_flow_without_a_unit_is_asked_about_unless_it_is_nought() -> None:
    assert number(0.0, None, RESIDUAL, WORDS) == Number(0.0, None)
    found = number(300.0, None, RESIDUAL, WORDS)
    assert isinstance(found, Doubt)
    assert "ml/min" in found.remedy
    own = number("0,3 l/min", None, RESIDUAL, WORDS)
    assert isinstance(own, Number)
    assert own.value == 300.0


def test_that_a_formula_without_a_value_is_asked_about_as_such() -> None:
    assert temperature(Trouble("formula-without-value", "=A1")) == "formula-without-value"
    for found in (
        answer(Trouble("formula-without-value", "=A1"), WORDS),
        choice(Trouble("formula-without-value", "=A1"), "use", "unknown-use", WORDS),
    ):
        assert isinstance(found, Doubt)
        assert found.code == "formula-without-value"


@given(CELLS, st.sampled_from(["", "°C", "°F"]))
def test_that_any_cell_gives_a_plausible_number_or_a_doubt(cell: Cell, unit: str) -> None:
    found = temperature(cell, unit)
    assert found is None or isinstance(found, str) or 0 <= found <= 100


@given(CELLS)
def test_that_any_cell_gives_an_answer_or_a_doubt(cell: Cell) -> None:
    assert isinstance(answer(cell, WORDS), bool | Doubt | None)
    chosen = choice(cell, "use", "unknown-use", WORDS)
    assert chosen is None or isinstance(chosen, Doubt) or chosen in WORDS.choices["use"].values()


@given(
    st.integers(0, 9999),
    st.sampled_from([",", "."]),
    st.sampled_from(["", " ", "\u00a0"]),
    st.sampled_from(["", "°", "C", "°C", "c"]),
)
def test_that_a_written_number_is_read_as_the_same_number(
    hundredths: int, mark: str, gap: str, unit: str
) -> None:
    whole, part = divmod(hundredths, 100)
    assert temperature(f"{whole}{mark}{part:02}{gap}{unit}") == hundredths / 100


@pytest.mark.parametrize("cell", ["yes", "Y", "✓", "✔️", "Pass", "OK", "ok.", "ja", "Oui", "i.O.", True])
def test_that_a_yes_is_a_yes(cell: Cell) -> None:
    assert answer(cell, WORDS) is True


@pytest.mark.parametrize("cell", ["no", "N", "✗", "Fail", "nein", "n.i.O.", "non conforme", False])
def test_that_a_no_is_a_no(cell: Cell) -> None:
    assert answer(cell, WORDS) is False


@pytest.mark.parametrize(
    "cell", ["x", "1", 1.0, 0.0, "yes/no", "✓✗", "✗ ok", "OK?no", "maybe", date(2026, 1, 1)]
)
def test_that_an_answer_that_is_not_plain_is_asked_about(cell: Cell) -> None:
    assert isinstance(answer(cell, WORDS), Doubt)


@pytest.mark.parametrize("cell", [None, "", "-", "n/a"])
def test_that_no_answer_is_none(cell: Cell) -> None:
    assert answer(cell, WORDS) is None


def test_that_a_choice_is_known_by_its_words_and_else_asked_about() -> None:
    assert choice("WASH-HAND BASIN", "use", "unknown-use", WORDS) == "basin"
    assert choice("Badewanne", "use", "unknown-use", WORDS) == "bath"
    assert choice(3.0, "scheme_class", "unreadable-value", WORDS) == "3"
    assert choice(None, "use", "unknown-use", WORDS) is None
    unknown = choice("fountain", "use", "unknown-use", WORDS)
    assert isinstance(unknown, Doubt)
    assert (unknown.code, "basin" in unknown.remedy) == ("unknown-use", True)

"""Cells that hold numbers, answers and choices."""

from datetime import date, time, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from estate.intake.grid import Cell, Trouble
from estate.intake.numbers import Number, bare_number, number
from estate.intake.values import Doubt, answer, choice
from estate.intake.words import Words
from estate.intake.words_file import load

WORDS: Words = load()
TEMPERATURE, RESIDUAL = WORDS.dimensions["temperature"], WORDS.dimensions["residual"]
FLOW, DURATION = WORDS.dimensions["flow"], WORDS.dimensions["duration"]
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


def test_that_a_degree_sign_alone_leaves_the_scale_to_the_heading() -> None:
    assert temperature("104°", "°F") == 40.0
    assert temperature("104 deg", "°F") == 40.0
    assert temperature("104 Grad", "°") == "implausible-value"
    assert temperature("40°", "°") == 40.0


@pytest.mark.parametrize(
    "cell",
    [
        "approx 41",
        "ca. 41",
        "c. 41",
        "about 41",
        "41 approx",
        "41*",
        "41.2 ok",
        "41 to 42",
        "41-42",
        "< 43",
        "≤43",
        "max 43",
    ],
)
def test_that_an_estimate_a_range_a_limit_or_a_footnote_is_no_measured_temperature(cell: str) -> None:
    assert temperature(cell) == "unreadable-value"


def residual(cell: Cell, unit: str = "ml/min") -> tuple[float, bool] | str | None:
    found = number(cell, WORDS.unit(unit, "residual"), RESIDUAL, WORDS)
    return found.code if isinstance(found, Doubt) else (found.value, found.bound) if found else None


@pytest.mark.parametrize(
    ("cell", "expected"),
    [
        ("<1", (1.0, True)),
        ("< 0,5", (0.5, True)),
        ("≤ 20 ml/min", (20.0, True)),
        ("<= 20", (20.0, True)),
        ("less than 5", (5.0, True)),
        ("Under 5 ml/min", (5.0, True)),
        ("unter 5", (5.0, True)),
        ("moins de 5", (5.0, True)),
        ("<0,5 l/min", (500.0, True)),
        ("<.5", (0.5, True)),
        ("<0", "unreadable-value"),
        ("<-1", "unreadable-value"),
        ("-<1", "unreadable-value"),
        ("<1 bar", "unreadable-value"),
        ("<1..2", "unreadable-value"),
        ("<1.200", "unreadable-value"),
        ("<99999", "implausible-value"),
        (">60", "unreadable-value"),
        ("> 60 ml/min", "unreadable-value"),
        ("approx 5", "unreadable-value"),
        ("20 ml", (20.0, False)),
        ("0.3 l", (300.0, False)),
        ("20 m", "unreadable-value"),
    ],
)
def test_that_less_than_a_residual_flow_is_that_flow_and_more_than_one_is_asked_about(
    cell: str, expected: object
) -> None:
    assert residual(cell) == expected


def test_that_less_than_a_time_is_that_time_and_less_than_a_flow_is_asked_about() -> None:
    assert number("<2 s", None, DURATION, WORDS) == Number(
        2.0, WORDS.unit("s", "duration"), own=True, bound=True
    )
    assert isinstance(number("<2", WORDS.unit("l/min", "flow"), FLOW, WORDS), Doubt)


@pytest.mark.parametrize(
    "cell",
    ["nil", "NIL", "none", "zero", "No flow", "kein Durchfluss", "néant", "aucun", "0", 0.0, "0 ml/min"],
)
def test_that_a_word_for_no_flow_is_a_nought(cell: Cell) -> None:
    assert residual(cell) == (0.0, False)


@pytest.mark.parametrize("cell", ["nil", "none", "zero"])
def test_that_a_word_for_no_flow_is_no_temperature_and_no_time(cell: str) -> None:
    assert temperature(cell) == "unreadable-value"
    assert isinstance(number(cell, None, DURATION, WORDS), Doubt)


@pytest.mark.parametrize(
    "cell", ["trace", "Drips", "a few drips", "dribble", "tropft", "goutte à goutte", "slight"]
)
def test_that_a_trace_is_neither_nought_nor_a_measured_flow(cell: str) -> None:
    found = number(cell, WORDS.unit("ml/min", "residual"), RESIDUAL, WORDS)
    assert isinstance(found, Doubt)
    assert (found.code, "not measured" in found.remedy) == ("unreadable-value", True)


@given(
    st.integers(1, 9999),
    st.sampled_from([",", "."]),
    st.sampled_from(["<", "< ", "≤", "<= ", "under ", "weniger als "]),
    st.sampled_from(["", " ml/min", "ml/min"]),
)
def test_that_a_bound_is_read_as_that_bound_and_said_to_be_one(
    hundredths: int, mark: str, before: str, unit: str
) -> None:
    whole, part = divmod(hundredths, 100)
    assert residual(f"{before}{whole}{mark}{part:02}{unit}") == (hundredths / 100, True)


@given(
    st.integers(0, 999),
    st.sampled_from(["", "<", ">", "~", "ca. ", "approx ", "-"]),
    st.sampled_from(["", " ", "\u00a0", "\u202f"]),
    st.sampled_from(["", "°C", "°F", "°", "C", "F", "deg C", "bar", "ml/min", "*", " ok", "-42", "/42", "²"]),
    st.sampled_from(["", "°C", "°F"]),
)
def test_that_a_temperature_in_any_manner_reads_back_exactly_or_is_asked_about(
    tenths: int, before: str, gap: str, after: str, heading: str
) -> None:
    found = temperature(f"{before}{tenths / 10}{gap}{after}", heading)
    fahrenheit = (after or heading).endswith("F") or (after == "°" and heading == "°F")
    true = round((tenths / 10 - 32) * 5 / 9, 3) if fahrenheit else tenths / 10
    readable = before in ("", "-") and after in ("", "°C", "°F", "°", "C", "F", "deg C")
    value = -true if before == "-" and not fahrenheit else true
    if not readable:
        assert found == "unreadable-value"
    elif before == "-" and tenths:
        assert found == "implausible-value"
    else:
        assert found == (value if 0 <= value <= 100 else "implausible-value")


@pytest.mark.parametrize(
    ("cell", "value"),
    [
        (41.0, 41.0),
        ("41,2", 41.2),
        ("41°", 41.0),
        ("41 °C", None),
        ("104 F", None),
        ("41 ok", None),
        ("x", None),
        (None, None),
        ("9" * 50, None),
    ],
)
def test_that_a_bare_number_is_one_without_a_scale(cell: Cell, value: float | None) -> None:
    assert bare_number(cell, WORDS) == value


@pytest.mark.parametrize(
    ("written", "unit", "dimension", "value"),
    [
        ("300", "kPa", "pressure", 3.0),
        ("0,3", "MPa", "pressure", 3.0),
        ("3000", "mbar", "pressure", 3.0),
        ("43.5", "psi", "pressure", 2.999),
        ("360", "l/h", "flow", 6.0),
        ("0,36", "m³/h", "flow", 6.0),
        ("0.1", "l/s", "flow", 6.0),
        ("100", "ml in 30 s", "residual", 200.0),
        ("2", "ml/s", "residual", 120.0),
        ("6", "l/h", "residual", 100.0),
        ("0.5", "min", "duration", 30.0),
    ],
)
def test_that_other_units_are_converted(written: str, unit: str, dimension: str, value: float) -> None:
    found = number(written, WORDS.unit(unit, dimension), WORDS.dimensions[dimension], WORDS)
    assert isinstance(found, Number)
    assert found.value == pytest.approx(value, abs=0.001)


def test_that_a_unit_with_a_full_stop_is_known() -> None:
    assert WORDS.units_written("Sek.") == WORDS.units_written("sek") != ()


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


@pytest.mark.parametrize(
    "cell", ["yes", "Y", "P", "✓", "✔️", "Pass", "OK", "ok.", "✓ ok", "OK - pass", "ja", "Oui", "i.O.", True]
)
def test_that_a_yes_is_a_yes(cell: Cell) -> None:
    assert answer(cell, WORDS) is True


@pytest.mark.parametrize(
    "cell", ["no", "N", "F", "✗", "Fail", "nein", "n.i.O.", "non conforme", "did not shut", False]
)
def test_that_a_no_is_a_no(cell: Cell) -> None:
    assert answer(cell, WORDS) is False


@pytest.mark.parametrize(
    "cell",
    [
        "x",
        "X",
        "no fail",
        "OK?",
        "pass*",
        "✓ ok?",
        "u",
        "1",
        1.0,
        0.0,
        "yes/no",
        "✓✗",
        "✗ ok",
        "OK?no",
        "maybe",
        date(2026, 1, 1),
    ],
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
    assert isinstance(choice("Basin?", "use", "unknown-use", WORDS), Doubt)
    unknown = choice("fountain", "use", "unknown-use", WORDS)
    assert isinstance(unknown, Doubt)
    assert (unknown.code, "basin" in unknown.remedy) == ("unknown-use", True)

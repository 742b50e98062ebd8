import csv
from io import StringIO

import pytest
from hypothesis import given
from hypothesis import strategies as st

from estate.domain.neutral import as_it_was, begins_like_a_formula, neutral

HOSTILE = [
    '=HYPERLINK("//x","y")',
    "+1+cmd|' /C x'!A0",
    "-2+3",
    "@SUM(A1)",
    "\t=1+1",
    "\r=1+1",
    "\n=1+1",
    "  =1+1",
    "\u200b=1+1",
    "\ufeff@x",
    "＝1+1",
    "＋1",
    "－1",
    "＠x",
    "−1+1",
    "⁼1",
    "-",
]
HARMLESS = ["MC/1", "checked - fine", "a=b", "5-3", "x@y", "'=1", "#N/A", "", "'"]
PIECES = st.text(alphabet="=+-@'; \t\r\n\u200bx＝−", max_size=12) | st.text(max_size=20)


@pytest.mark.parametrize("text", HOSTILE)
def test_that_a_text_that_begins_like_a_formula_gets_an_apostrophe(text: str) -> None:
    assert begins_like_a_formula(text)
    assert neutral(text).startswith(f"'{text[:1]}")


@pytest.mark.parametrize("text", HARMLESS)
def test_that_other_texts_are_no_formula(text: str) -> None:
    assert not begins_like_a_formula(text)


@pytest.mark.parametrize(
    "text", ["MC/1", "checked - fine", "a=b", "seen; fine", "a\n\nb", "it's", "'quoted'"]
)
def test_that_plain_texts_stay_as_they_are(text: str) -> None:
    assert neutral(text) == text


def test_that_an_apostrophe_before_a_formula_is_kept_apart_from_the_one_put_there() -> None:
    assert (neutral("=1"), neutral("'=1")) == ("'=1", "''=1")
    assert (as_it_was("'=1"), as_it_was("''=1"), as_it_was("'x")) == ("=1", "'=1", "'x")


@pytest.mark.parametrize("delimiter", [",", ";", "\t"])
@given(text=PIECES)
def test_that_no_delimiter_makes_a_cell_that_begins_like_a_formula(delimiter: str, text: str) -> None:
    written = StringIO(newline="")
    csv.writer(written).writerow([7, neutral(text), "x"])
    lines = csv.reader(StringIO(written.getvalue(), newline=""), delimiter=delimiter)
    cells = [cell for line in lines for cell in line]
    if delimiter == ",":
        assert not begins_like_a_formula(cells[1])
        return
    assert not [cell for cell in cells if cell.lstrip('"').startswith(("=", "+", "-", "@"))]


@given(text=PIECES)
def test_that_nothing_is_lost(text: str) -> None:
    assert as_it_was(neutral(text)) == text


@pytest.mark.parametrize("unit", ["'", " ", "\x1c", ";", "; ", "\n", "\u200b'", "=;"])
def test_that_a_long_text_takes_no_longer_than_its_length(unit: str) -> None:
    text = f"{unit * 100_000}x"
    assert as_it_was(neutral(text)) == text

from hypothesis import given
from hypothesis import strategies as st

from estate.reports.pdf.ink import Face, Style
from estate.reports.pdf.lettering import elided, elided_to, lines_of, printable, width_of

STYLE = Style(Face.PLAIN, 8.4)
BOLD = Style(Face.BOLD, 8.4)


@given(st.text(max_size=200), st.floats(min_value=20, max_value=300))
def test_that_lines_fit_their_width_and_lose_nothing(text: str, width: float) -> None:
    lines = lines_of(text, STYLE, width)
    assert all(width_of(line, STYLE) <= width for line in lines)
    assert "".join("".join(lines).split()) == "".join(printable(text).split())


@given(st.text(max_size=100), st.floats(min_value=20, max_value=300))
def test_that_a_head_fits_on_its_line(text: str, width: float) -> None:
    assert width_of(elided_to(text, BOLD, width), BOLD) <= width


@given(st.text(max_size=100))
def test_that_every_printable_character_has_a_width_in_both_faces(text: str) -> None:
    words = printable(text).replace("\n", "")
    assert width_of(words, STYLE) >= 0
    assert width_of(words, BOLD) >= 0


def test_that_words_break_between_words_first_and_after_punctuation_next() -> None:
    width = width_of("MC/G/G02/", STYLE) + 1
    assert lines_of("MC/G/G02/WHB1", STYLE, width) == ("MC/G/G02/", "WHB1")
    assert lines_of("a b", STYLE, width_of("a b", STYLE)) == ("a b",)


def test_that_line_breaks_in_the_text_are_kept() -> None:
    assert lines_of("one\ntwo\r\nthree", STYLE, 200) == ("one", "two", "three")


def test_that_empty_words_take_no_line() -> None:
    assert lines_of("", STYLE, 50) == ()
    assert lines_of("   ", STYLE, 50) == ()


def test_that_composed_and_decomposed_letters_look_alike() -> None:
    assert printable("e\u0301") == "é"


def test_that_control_characters_and_marks_of_direction_are_left_out() -> None:
    assert printable("a\x00\x1b\u202eb\tc") == "ab c"


def test_that_cutting_shows() -> None:
    assert elided("abcdef", 6) == "abcdef"
    assert elided("abcdefg", 6) == "abcde…"
    assert elided_to("Marlpit Cross", STYLE, 30).endswith("…")


def test_that_figures_are_of_one_width_so_that_columns_stand_straight() -> None:
    assert len({width_of(figure, STYLE) for figure in "0123456789"}) == 1

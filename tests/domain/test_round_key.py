import string

import pytest

from estate.domain.round_key import RoundKey, key_text, read_key

KEYS = [RoundKey("mx-1", 1), RoundKey("7f3a90bc12de4455", 40_017), RoundKey("of, check 12 of", 9)]


@pytest.mark.parametrize("key", KEYS)
def test_that_a_key_says_what_was_written(key: RoundKey) -> None:
    assert read_key(key_text(key)) == key


def test_that_a_key_is_words_for_a_person_and_never_a_number_or_a_date() -> None:
    text = key_text(RoundKey("mx-1", 17))
    assert text.startswith("outlet 17 of mx-1, check ")
    assert text[-2:].isdigit()


def test_that_white_space_in_a_key_does_not_matter() -> None:
    text = key_text(RoundKey("mx-1", 17))
    assert read_key(f"  {text.replace(' ', '  ')}\n") == RoundKey("mx-1", 17)


@pytest.mark.parametrize("key", KEYS[:2])
def test_that_any_one_changed_character_shows(key: RoundKey) -> None:
    text = key_text(key)
    for place in range(len(text)):
        for other in string.printable.strip():
            changed = text[:place] + other + text[place + 1 :]
            assert changed == text or read_key(changed) is None


@pytest.mark.parametrize("key", KEYS[:2])
def test_that_any_two_swapped_neighbours_show(key: RoundKey) -> None:
    text = key_text(key)
    for place in range(len(text) - 1):
        swapped = text[:place] + text[place + 1] + text[place] + text[place + 2 :]
        assert " ".join(swapped.split()) == text or read_key(swapped) is None


@pytest.mark.parametrize(
    "text",
    ["", "17", "outlet 17 of \ud800, check 12", "outlet 17 of mx-1", "outlet ² of mx-1, check 12", "x" * 500],
)
def test_that_another_text_is_no_key(text: str) -> None:
    assert read_key(text) is None


def test_that_a_text_of_thousands_of_digits_is_no_key() -> None:
    assert read_key(f"outlet {'1' * 5000} of mx-1, check 12") is None

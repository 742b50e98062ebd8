"""Sentences that can be told in another language, and that are plain English words everywhere else."""

import copy
import json
import pickle

import pytest

from estate.domain.phrases import Phrase, phrase, phrase_count, some_of, together


def _loud(text: str, count: int | None) -> str:
    """A language in which every word is shouted, with forms of its own for 1 and for the rest."""
    told = "".join(part if "{" in part else part.upper() for part in text.split("|"))
    return told if count is None else f"[{'one' if count == 1 else 'many'}] {told}"


def _english(text: str, count: int | None) -> str:
    return text


def test_that_a_phrase_is_its_english_words() -> None:
    made = phrase("Due by {day}.", day="25 Nov 2026")
    assert made == "Due by 25 Nov 2026."
    assert hash(made) == hash("Due by 25 Nov 2026.")
    assert json.dumps([made]) == '["Due by 25 Nov 2026."]'
    assert sorted([made, "A"]) == ["A", "Due by 25 Nov 2026."]


@pytest.mark.parametrize(
    "made",
    [
        phrase("No valve"),
        phrase("Due by {day}.", day="25 Nov 2026"),
        phrase_count(2, "{n:,} valve", "{n:,} valves"),
        together("One.", phrase("Two.")),
    ],
)
def test_that_what_is_kept_or_copied_of_a_phrase_is_a_plain_text(made: Phrase) -> None:
    for kept in (str(made), f"{made}", pickle.loads(pickle.dumps(made)), copy.deepcopy(made)):
        assert type(kept) is str
        assert kept == made


def test_that_a_phrase_is_told_with_the_text_of_another_language_and_its_own_values() -> None:
    made = phrase("|Left in by |{who}|.", who="E. Marlow")
    assert made.told(_loud) == "LEFT IN BY E. Marlow."
    assert phrase("no valve").told(_loud) == "NO VALVE"


def test_that_a_phrase_within_a_phrase_is_told_too() -> None:
    made = phrase("{first}|, then |{second}", first=phrase("test"), second="as typed")
    assert made == "test|, then |as typed"
    assert made.told(_loud) == "TEST, THEN as typed"


def test_that_a_count_goes_with_its_form() -> None:
    for n, english in ((0, "0 days"), (1, "1 day"), (1_204, "1,204 days")):
        made = phrase_count(n, "{n:,} day", "{n:,} days")
        assert made == english
        assert made.told(_english) == english
    assert phrase_count(1, "{n:,}| day", "{n:,}| days").told(_loud) == "[one] 1 DAYS"
    assert phrase_count(2, "{n:,}| day of |{who}", "{n:,}| days of |{who}", who="a").told(_loud) == (
        "[many] 2 DAYS OF a"
    )


def test_that_texts_together_are_each_told_and_empty_ones_left_out() -> None:
    made = together(phrase("One."), "", "typed", between="; ")
    assert made == "One.; typed"
    assert made.told(_loud) == "ONE.; typed"


def test_that_of_many_texts_the_first_are_told_and_the_rest_counted() -> None:
    found = [phrase("{n} valves", n=n) for n in (2, 3, 4)]
    assert some_of(found, 3) == "2 valves; 3 valves; 4 valves"
    assert some_of(found, 2) == "2 valves; 3 valves; and 1 more"
    known = {"{n} valves": "{n} Ventile", "{said}; and {more} more": "{said} und {more} weitere"}
    assert some_of(found, 2).told(lambda text, _: known[text]) == "2 Ventile; 3 Ventile und 1 weitere"

"""Answers meet questions: the closest one goes before, and of two alike the later."""

from estate.domain.questions import CHOICE_WORDS, CHOICES, NEEDING_A_VALUE, Answer, Answers, Choice, Question


def test_that_an_answer_that_names_its_place_goes_before_one_for_all_alike() -> None:
    everywhere = Answer("future-date", Choice.LEAVE_OUT)
    here = Answer("future-date", Choice.VALUE, "Round", 9, value="2026-10-17")
    answers = Answers((here, everywhere))
    assert answers.to("future-date", "Round", 9, "C9") is here
    assert answers.to("future-date", "Round", 10, "C10") is everywhere
    assert answers.to("unknown-outlet", "Round", 9, "A9") is None


def test_that_of_two_answers_to_the_same_question_the_later_counts() -> None:
    first, second = (Answer("duplicate-row", choice, "S", 4) for choice in (Choice.TAKE, Choice.LEAVE_OUT))
    assert Answers((first, second)).to("duplicate-row", "S", 4, "A4") is second


def test_that_every_choice_has_words_and_an_unknown_question_can_be_left_out() -> None:
    assert set(CHOICE_WORDS) == set(Choice)
    assert set(Choice) > NEEDING_A_VALUE
    assert {each for choices in CHOICES.values() for each in choices} == set(Choice)
    assert Question("S", 1, "A1", "something-new", None, "", "").choices == (Choice.LEAVE_OUT,)

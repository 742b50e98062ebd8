"""Preferences: kept as JSON; a damaged file or a full disk stops no work."""

from pathlib import Path

import pytest

from estate.settings import ListLook, Settings, load, sample_place, save, usual_place
from estate.window.preferences import Preferences


def test_that_what_is_saved_is_loaded(tmp_path: Path) -> None:
    chosen = Settings(scheme="dark", who="A. Officer", due_weeks=12)
    place = tmp_path / "deep" / "settings.json"
    assert save(chosen, place)
    assert load(place) == chosen
    assert [each.name for each in place.parent.iterdir()] == ["settings.json"]


@pytest.mark.parametrize(
    "text",
    ["", "not json", "[]", "{}", '{"scheme": 3}', '{"width": true}', '{"due_weeks": "8"}', '{"older": 1}'],
)
def test_that_a_damaged_file_gives_the_usual_values(text: str, tmp_path: Path) -> None:
    place = tmp_path / "settings.json"
    place.write_text(text, encoding="utf-8")
    assert load(place) == Settings()


def test_that_one_bad_value_spoils_no_other(tmp_path: Path) -> None:
    place = tmp_path / "settings.json"
    place.write_text('{"scheme": 3, "who": "A. Officer"}', encoding="utf-8")
    assert load(place) == Settings(who="A. Officer")


def test_that_no_file_gives_the_usual_values(tmp_path: Path) -> None:
    assert load(tmp_path / "none.json") == Settings()


def test_that_a_place_that_cannot_be_written_stops_nothing(tmp_path: Path) -> None:
    blocked = tmp_path / "file"
    blocked.write_text("x", encoding="utf-8")
    assert not save(Settings(), blocked / "settings.json")


def test_that_the_account_stands_in_until_a_name_is_given() -> None:
    kept: list[Settings] = []
    preferences = Preferences(Settings(), kept.append, "account")
    assert preferences.who == "account"
    preferences.change(who="A. Officer")
    preferences.change(who="A. Officer")
    assert preferences.who == "A. Officer"
    assert kept == [Settings(who="A. Officer")]


def test_that_settings_and_sample_lie_in_places_of_the_program() -> None:
    assert usual_place().parent.name == sample_place().parent.name == "estate-register"


def test_that_how_a_list_is_liked_is_saved_and_loaded(tmp_path: Path) -> None:
    look = ListLook(("b", "a"), ("a",), ("c",), {"b": 120}, "b", True, "c")
    place = tmp_path / "settings.json"
    chosen = Settings(lists={"due": look, "people": ListLook(group="state")})
    assert save(chosen, place)
    assert load(place) == chosen


@pytest.mark.parametrize(
    ("told", "look"),
    [
        ("7", None),
        ("{}", ListLook()),
        ('{"order": "a", "hidden": {"a": 1}, "widths": []}', ListLook()),
        ('{"order": ["a", 7, null], "shown": ["b"]}', ListLook(order=("a",), shown=("b",))),
        ('{"widths": {"a": 90, "b": "90", "c": true, "d": -3}}', ListLook(widths={"a": 90})),
        ('{"sort": 3, "descending": "yes", "group": "state"}', ListLook(group="state")),
        ('{"later": 1, "sort": "a"}', ListLook(sort="a")),
    ],
)
def test_that_of_a_list_told_wrongly_what_is_right_is_taken(
    told: str, look: ListLook | None, tmp_path: Path
) -> None:
    place = tmp_path / "settings.json"
    place.write_text(f'{{"who": "A. Officer", "lists": {{"due": {told}}}}}', encoding="utf-8")
    assert load(place) == Settings(who="A. Officer", lists={} if look is None else {"due": look})


def test_that_lists_that_are_no_lists_are_forgotten(tmp_path: Path) -> None:
    place = tmp_path / "settings.json"
    place.write_text('{"lists": [1]}', encoding="utf-8")
    assert load(place) == Settings()

"""Preferences: kept as JSON; a damaged file or a full disk stops no work."""

from pathlib import Path

import pytest

from estate.settings import Settings, load, sample_place, save, usual_place
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

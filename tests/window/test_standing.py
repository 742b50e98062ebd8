"""How windows stood when the program was left, whatever became of screens and settings since."""

from pathlib import Path
from typing import Any

import pytest

from estate.app.composing import sample_copy
from estate.app.taking_up import take_up
from estate.domain.progress import Cancelled
from estate.settings import Settings, load, sample_place, save
from estate.window.pictures import settle
from estate.window.spots import Spot
from estate.window.standing import AsLeft, Box, find_windows, in_sight, keep_window
from tests.window.conftest import Seat

SCREEN = (0, 0, 1920, 1040)
LEFT = AsLeft("estate.db", (40, 60, 1280, 800), True, (322, 958), Spot("due"), (("site", 1), ("room", 4)))


def test_that_what_is_kept_is_found_again_in_the_settings(tmp_path: Path) -> None:
    assert save(Settings(windows=[keep_window(LEFT)], registers=["estate.db"]), tmp_path / "s.json")
    kept = load(tmp_path / "s.json")
    assert find_windows(kept.windows) == [LEFT]
    assert kept.registers == ["estate.db"]


@pytest.mark.parametrize(
    "read",
    [
        {},
        {"register": 3, "box": "wide", "full": 1, "parts": {}, "spot": [], "unfolded": 4},
        {"box": [1, 2], "parts": [-4, "x"], "unfolded": [["site"], ["site", "1"], 3, ["site", True]]},
    ],
)
def test_that_a_window_told_wrongly_takes_the_usual_values(read: dict[str, Any]) -> None:
    assert find_windows([read, 3, None]) == [AsLeft()]


@pytest.mark.parametrize(
    ("box", "stands"),
    [
        ((40, 60, 1280, 800), (40, 60, 1280, 800)),
        ((3000, 60, 1280, 800), (320, 120, 1280, 800)),
        ((-5000, -5000, 100, 100), (720, 340, 480, 360)),
        ((-1100, 60, 1280, 800), (-1100, 60, 1280, 800)),
        ((100, -20, 4000, 3000), (100, 0, 1920, 1040)),
        ((1800, 940, 1280, 800), (1800, 940, 1280, 800)),
    ],
)
def test_that_a_window_stands_where_it_can_be_reached(box: Box, stands: Box) -> None:
    assert in_sight(box, [SCREEN]) == stands


def test_that_a_second_screen_counts_and_no_screen_changes_nothing() -> None:
    box = (2000, 60, 1280, 800)
    assert in_sight(box, [SCREEN, (1920, 0, 1920, 1040)]) == box
    assert in_sight(box, []) == box


def test_that_a_register_that_is_gone_is_told_of_and_the_others_are_offered(
    bare: Seat, tmp_path: Path
) -> None:
    there = str(tmp_path / "copy.db")
    preferred = Settings(register="/gone/estate.db", registers=["/gone/estate.db", "/gone/too.db", there])
    take_up(bare.window, bare.built.tasks, None, preferred)
    settle()
    start = bare.window.pages.start
    assert "/gone/estate.db" in start.gone.text()
    assert [each.text() for each in start.late_buttons] == [there]
    start.late_buttons[0].click()
    settle()
    assert bare.window.showing.reading is not None


def test_that_several_windows_on_a_register_are_taken_up_together(bare: Seat, tmp_path: Path) -> None:
    where = str(tmp_path / "copy.db")
    windows = [keep_window(AsLeft(each, spot=Spot("due"))) for each in ("/gone/estate.db", where, where)]
    take_up(bare.window, bare.built.tasks, None, Settings(windows=windows))
    settle()
    settle()
    (other,) = bare.built.further
    assert other.showing.desk is bare.window.showing.desk is not None
    assert bare.window.showing.stack.currentWidget() is bare.window.pages.due
    other.close()
    settle()


def test_that_a_register_that_was_asked_for_is_opened_alone(bare: Seat, tmp_path: Path) -> None:
    where = str(tmp_path / "copy.db")
    windows = [keep_window(AsLeft(each, spot=Spot("due"))) for each in ("/other.db", where)]
    take_up(bare.window, bare.built.tasks, where, Settings(windows=windows))
    settle()
    assert bare.window.showing.stack.currentWidget() is bare.window.pages.due
    assert bare.built.further == []


def test_that_a_sample_that_is_stopped_half_way_leaves_nothing_behind() -> None:
    def stop(done: int, of: int, words: str) -> None:
        raise Cancelled

    place = sample_place()
    place.parent.mkdir(parents=True, exist_ok=True)
    held = set(place.parent.iterdir())
    with pytest.raises(Cancelled):
        sample_copy(stop)
    assert set(place.parent.iterdir()) == held
    assert not place.exists()

"""The worked example of docs/diagnosis.md, worked out again."""

from pathlib import Path
from typing import Any

from estate.domain.diagnosis.causes import CAUSES
from estate.domain.diagnosis.evidence import Bearing
from tests.domain.diagnosis.courses import bearing, course, found

READINGS: dict[str, Any] = {"flow_l_min": 4.0, "cold_flow_bar": 1.2, "small_draw_c": None}


def test_that_the_example_comes_out_as_it_is_told(checkout: Path) -> None:
    text = " ".join((checkout / "docs" / "diagnosis.md").read_text("utf-8").split())
    diagnosis = found(**READINGS)
    first, second = diagnosis.suspects[:2]
    assert [first.cause.code, second.cause.code] == ["cold-restricted", "supply-changed"]
    said = bearing(diagnosis, "cold-restricted", Bearing.FOR)
    for words in ("+2.4 K", "less cold water", "at rest it is what it was"):
        assert words in said
        assert words in text
    assert bearing(diagnosis, "cold-restricted", Bearing.AGAINST) == ""
    assert "temperatures are within 3 K" in bearing(diagnosis, "supply-changed", Bearing.AGAINST)
    moved = course(**READINGS).fixed_move_k
    assert moved is not None
    assert f"moved by {moved:+.1f} K" in text
    (marked,) = [each for each in diagnosis.checks if each.tells_apart]
    assert f'"{marked.words}"' in text


def test_that_every_cause_is_told_of_in_its_order(checkout: Path) -> None:
    text = (checkout / "docs" / "diagnosis.md").read_text("utf-8")
    places = [text.index(f"| {each.name} |") for each in CAUSES]
    assert places == sorted(places)
    assert "Eleven causes" in text
    assert len(CAUSES) == 11

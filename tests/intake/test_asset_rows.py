"""Rows of an asset list become assets or questions."""

from datetime import date
from pathlib import Path

import pytest

from estate.domain.intake import SheetKind, SheetReading
from estate.domain.places import Use, UserGroup
from estate.intake.reading import read
from tests.intake.making import ASSET_HEADING, text_file

ROW = ("A1", "Marlpit Cross", "Main", "G", "G01", "Hall", "Basin", "Staff")


def assets(folder: Path, *rows: tuple[str, ...], heading: tuple[str, ...] = ASSET_HEADING) -> SheetReading:
    return read(text_file(folder, [heading, *rows]), SheetKind.ASSETS)


@pytest.mark.parametrize(
    ("column", "text", "code", "cell"),
    [
        (0, "", "missing-reference", "A2"),
        (2, "", "missing-place", "C2"),
        (6, "", "unknown-use", "G2"),
        (6, "fountain", "unknown-use", "G2"),
        (7, "", "unknown-user-group", "H2"),
        (7, "cats", "unknown-user-group", "H2"),
    ],
)
def test_that_what_an_outlet_needs_is_asked_for(
    tmp_path: Path, column: int, text: str, code: str, cell: str
) -> None:
    row = (*ROW[:column], text, *ROW[column + 1 :])
    reading = assets(tmp_path, row)
    assert (reading.assets, reading.read) == ((), 1)
    assert [(question.code, question.cell, question.found) for question in reading.questions] == [
        (code, cell, text)
    ]


def test_that_a_room_needs_a_number_or_a_name(tmp_path: Path) -> None:
    neither = (*ROW[:4], "", "", *ROW[6:])
    named = (*ROW[:4], "", "Hall", *ROW[6:])
    reading = assets(tmp_path, neither, named)
    assert [(question.code, question.cell) for question in reading.questions] == [("missing-place", "F2")]
    assert [asset.room for asset in reading.assets] == ["Hall"]


def test_that_a_room_number_alone_will_do(tmp_path: Path) -> None:
    heading = ("Ref", "Building", "Room no", "Use", "Used by")
    reading = assets(
        tmp_path,
        ("A1", "Main", "7", "Shower", "Patients"),
        ("A2", "Main", "", "Bath", "Children"),
        heading=heading,
    )
    assert [asset.room_number for asset in reading.assets] == ["7"]
    assert [(question.code, question.cell) for question in reading.questions] == [("missing-place", "C3")]


def test_that_use_and_users_are_known_by_their_words(tmp_path: Path) -> None:
    reading = assets(tmp_path, (*ROW[:6], "Pflegewanne", "Vulnerable people"))
    (asset,) = reading.assets
    assert (asset.use, asset.user_group) == (Use.ASSISTED_BATH, UserGroup.DEPENDENT)
    assert (asset.outlet, asset.cell("use"), asset.cell("make")) == ("Pflegewanne", "G2", "")


def test_that_valve_columns_are_read_or_asked_about(tmp_path: Path) -> None:
    heading = (*ASSET_HEADING, "Class", "Size mm", "Set °C", "Fitted", "Pipe length (mm)")
    good = (*ROW, "Type 2", "15", "41", "13/05/2024", "800")
    bad = ("A2", *ROW[1:], "TMV9", "big", "410", "soon", "long")
    reading = assets(tmp_path, good, bad, heading=heading)
    (asset,) = reading.assets
    assert (asset.scheme_class, asset.size_mm, asset.set_c) == ("2", 15, 41)
    assert (asset.fitted_on, asset.pipe_m) == (date(2024, 5, 13), 0.8)
    assert [(question.code, question.cell) for question in reading.questions] == [
        ("unreadable-value", "I3"),
        ("unreadable-value", "J3"),
        ("implausible-value", "K3"),
        ("unreadable-value", "M3"),
        ("unreadable-date", "L3"),
    ]


def test_that_what_is_not_said_of_a_valve_stays_unknown(tmp_path: Path) -> None:
    (asset,) = assets(tmp_path, ROW).assets
    unknown = (asset.make, asset.scheme_class, asset.size_mm, asset.set_c, asset.fitted_on, asset.pipe_m)
    assert unknown == ("", None, None, None, None, None)

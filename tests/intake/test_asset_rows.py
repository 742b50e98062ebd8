"""Rows of an asset list become assets or questions."""

from datetime import date, time
from pathlib import Path

import pytest

from estate.domain.intake import SheetReading
from estate.domain.layouts import SheetKind
from estate.domain.places import Use, UserGroup
from estate.domain.valves import DESIGNATIONS, EnType
from estate.intake.reading import read
from tests.intake.making import ASSET_HEADING, text_file, workbook_file

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


def said(folder: Path, heading: str, field: str, text: str) -> object:
    """What one further column says in a field, else the code and the cell of the question about it."""
    reading = assets(folder, (*ROW, text), heading=(*ASSET_HEADING, heading))
    if reading.questions:
        (question,) = reading.questions
        assert (reading.assets, question.found) == ((), text)
        return question.code, question.cell
    return getattr(reading.assets[0], field)


ASKED = ("unreadable-value", "I2")


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("HP-W", ("HP-W",)),
        ("hp-w, LP-T44", ("HP-W", "LP-T44")),
        ("HP-S/HP-W", ("HP-S", "HP-W")),
        ("HP-B + HP-T46  LP-T", ("HP-B", "HP-T46", "LP-T")),
        ("HP–W, HP-W", ("HP-W",)),
        (" ".join(DESIGNATIONS), DESIGNATIONS),
        ("", ()),
        ("-", ()),
        ("n/a", ()),
        ("HP-X", ASKED),
        ("HP", ASKED),
        ("HP-W, S", ASKED),
        ("HP-T45", ASKED),
        ("/", ASKED),
    ],
)
def test_that_designations_are_taken_only_if_every_code_is_known(
    tmp_path: Path, text: str, found: object
) -> None:
    assert said(tmp_path, "Designations", "designations", text) == found


def test_that_semicolons_part_designations_too(tmp_path: Path) -> None:
    rows = [(*ASSET_HEADING, "Designation"), (*ROW, "HP-W; HP-S")]
    (asset,) = read(workbook_file(tmp_path, {"List": rows}), SheetKind.ASSETS).assets
    assert asset.designations == ("HP-W", "HP-S")


def test_that_designations_whose_value_the_file_does_not_hold_are_asked_about(tmp_path: Path) -> None:
    rows = [(*ASSET_HEADING, "Designation"), (*ROW, "=1+1")]
    reading = read(workbook_file(tmp_path, {"List": rows}), SheetKind.ASSETS)
    assert [(each.code, each.cell) for each in reading.questions] == [("formula-without-value", "I2")]


@pytest.mark.parametrize(
    ("text", "found"),
    [("3", EnType.SINGLE_SEQUENTIAL), ("Type 6", EnType.OTHER), ("", None), ("TMV3", ASKED), ("7", ASKED)],
)
def test_that_a_type_of_the_standard_is_one_of_six(tmp_path: Path, text: str, found: object) -> None:
    assert said(tmp_path, "BS EN 1111 type", "en_type", text) == found


@pytest.mark.parametrize("heading", ["Class", "TMV type", "Type 2 or 3", "Typ", "Type", "Valve type"])
def test_that_only_a_heading_that_names_the_standard_gives_its_type(tmp_path: Path, heading: str) -> None:
    assert said(tmp_path, heading, "en_type", "2") is None


def test_that_the_type_of_the_standard_and_the_scheme_class_keep_apart(tmp_path: Path) -> None:
    (asset,) = assets(tmp_path, (*ROW, "TMV3", "1"), heading=(*ASSET_HEADING, "TMV type", "EN type")).assets
    assert (asset.scheme_class, asset.en_type) == ("3", "1")


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("Yes", True),
        ("✓", True),
        ("vorhanden", True),
        ("oui", True),
        ("No", False),
        ("none", False),
        ("✗", False),
        ("nicht vorhanden", False),
        ("aucun", False),
        ("", None),
        ("–", None),
        ("n/a", None),
        ("perhaps", ASKED),
        ("2", ASKED),
    ],
)
@pytest.mark.parametrize(
    ("heading", "field"),
    [
        ("Check valves", "check_valves"),
        ("Strainers fitted?", "strainers"),
        ("Isolating valves", "isolating_valves"),
        ("Little used", "little_used"),
    ],
)
def test_that_what_is_there_or_is_so_is_read_from_plain_words_and_ticks(
    tmp_path: Path, heading: str, field: str, text: str, found: object
) -> None:
    assert said(tmp_path, heading, field, text) == found


@pytest.mark.parametrize("text", ["fail", "pass", "OK", "not done", "☒"])
def test_that_words_of_condition_do_not_say_whether_strainers_are_there(tmp_path: Path, text: str) -> None:
    assert said(tmp_path, "Strainers", "strainers", text) == ASKED


@pytest.mark.parametrize(
    ("heading", "text", "found"),
    [
        ("Min differential", "10", 10),
        ("Minimum temperature differential (K)", "12,5 K", 12.5),
        ("Min ΔT °C", "10", 10),
        ("Minimum differential (°F)", "18", 10),
        ("Min differential", "", None),
        ("Min differential", "10-12", ASKED),
        ("Min differential", "0", ("implausible-value", "I2")),
        ("Min differential", "1 bar", ASKED),
    ],
)
def test_that_the_least_differential_is_a_difference_in_kelvin(
    tmp_path: Path, heading: str, text: str, found: object
) -> None:
    assert said(tmp_path, heading, "min_differential_k", text) == found


@pytest.mark.parametrize(
    ("text", "found"),
    [
        ("10:1", 10),
        ("10 : 1", 10),
        ("10 to 1", 10),
        ("10 zu 1", 10),
        ("10", 10),
        ("2,5:1", 2.5),
        ("", None),
        ("n/a", None),
        ("1:10", ASKED),
        ("10:2", ASKED),
        ("2.5 bar", ASKED),
        ("0.5", ("implausible-value", "I2")),
    ],
)
def test_that_a_pressure_ratio_is_to_one(tmp_path: Path, text: str, found: object) -> None:
    assert said(tmp_path, "Max pressure ratio", "max_pressure_ratio", text) == found


def test_that_a_ratio_that_became_a_time_of_day_is_asked_about(tmp_path: Path) -> None:
    rows = [(*ASSET_HEADING, "Max pressure ratio"), (*ROW, time(10, 1))]
    reading = read(workbook_file(tmp_path, {"List": rows}), SheetKind.ASSETS)
    assert [(question.code, question.cell) for question in reading.questions] == [ASKED]


@pytest.mark.parametrize(
    ("heading", "field", "text", "found"),
    [
        ("HP/LP-Bezeichnung", "designations", "HP-W", ("HP-W",)),
        ("Désignations HP/LP", "designations", "HP-W", ("HP-W",)),
        ("Typ nach EN 1111", "en_type", "Typ 2", EnType.DUAL_CONTROL),
        ("Type selon EN 1111", "en_type", "2", EnType.DUAL_CONTROL),
        ("EN 1111", "en_type", "2", EnType.DUAL_CONTROL),
        ("Rückflussverhinderer", "check_valves", "ja", True),
        ("Clapets anti-retour", "check_valves", "oui", True),
        ("Schmutzfänger", "strainers", "nein", False),
        ("Tamis", "strainers", "non", False),
        ("Absperrventile", "isolating_valves", "ja", True),
        ("Vannes d'arrêt", "isolating_valves", "oui", True),
        ("Mindest-Temperaturdifferenz", "min_differential_k", "10", 10),
        ("Écart minimal de température", "min_differential_k", "10", 10),
        ("Max. Druckverhältnis", "max_pressure_ratio", "10:1", 10),
        ("Rapport max. des pressions", "max_pressure_ratio", "10:1", 10),
        ("Selten genutzt", "little_used", "ja", True),
        ("Peu utilisé", "little_used", "non", False),
    ],
)
def test_that_german_and_french_headings_are_known(
    tmp_path: Path, heading: str, field: str, text: str, found: object
) -> None:
    assert said(tmp_path, heading, field, text) == found


def test_that_further_columns_left_out_stay_unknown(tmp_path: Path) -> None:
    (asset,) = assets(tmp_path, ROW).assets
    facts = (asset.check_valves, asset.strainers, asset.isolating_valves, asset.little_used)
    assert (asset.designations, asset.en_type, facts) == ((), None, (None, None, None, None))
    assert (asset.min_differential_k, asset.max_pressure_ratio) == (None, None)

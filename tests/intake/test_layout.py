"""Where the table is and what its columns are."""

from pathlib import Path

import pytest

from estate.domain.layouts import SheetKind
from estate.errors import IntakeFault
from estate.intake.reading import read
from tests.intake.making import HEADING, one_visit, read_rows, text_file, workbook_file

ROW = ("A1", "17 Oct 2026", "60", "15", "41,5", "41")


@pytest.mark.parametrize(
    ("heading", "field"),
    [
        ("Hot in", "hot_c"),
        ("HWS temp (°C)", "hot_c"),
        ("T hot °C", "hot_c"),
        ("Warmwasser °C", "hot_c"),
        ("Température ECS", "hot_c"),
        ("COLD", "cold_c"),
        ("Kaltwasser [°C]", "cold_c"),
        ("Mixed", "found_c"),
        ("Mixed (as found)", "found_c"),
        ("Mischwasser vorher", "found_c"),
        ("Température mitigée avant réglage", "found_c"),
        ("Mixed / Mischwasser", "found_c"),
        ("Shut-off time (s)", "cold_isolated.shut_s"),
        ("Fail-safe, ml/min", "cold_isolated.residual_ml_min"),
        ("ml in 1 min", "cold_isolated.residual_ml_min"),
        ("Flow hot off ml/min", "hot_isolated.residual_ml_min"),
        ("Residual flow °C", "cold_isolated.residual_c"),
        ("Low flow °C", "small_draw_c"),
        ("Low flow l/min", "small_draw_l_min"),
        ("Flow l/min", "flow_l_min"),
        ("Hot static pressure (bar)", "hot_static_bar"),
        ("Fail safe", "cold_isolated.said_to_shut"),
        ("Siebe gereinigt", "strainers_cleaned"),
    ],
)
def test_that_a_heading_is_known_by_its_words(tmp_path: Path, heading: str, field: str) -> None:
    reading = read(
        text_file(tmp_path, [("Tag", "Date", "Cap refitted", heading), ("A1", "17 Oct 2026", "Y", "")])
    )
    assert [name for _, said, name in reading.mapping if said == heading] == [field]


@pytest.mark.parametrize(
    "heading",
    [
        "Temp",
        "Temp 1",
        "°C",
        "Hot/Cold",
        "Hot (bar)",
        "Flow hot l/min",
        "Max °C",
        "Mixed found bar",
        "",
        "No.",
        "h" * 300,
    ],
)
def test_that_a_heading_that_may_mean_several_things_is_not_guessed(tmp_path: Path, heading: str) -> None:
    reading = read(
        text_file(tmp_path, [("Tag", "Date", "Cap refitted", heading), ("A1", "17 Oct 2026", "Y", "41")])
    )
    assert {name for _, _, name in reading.mapping} == {"reference", "on", "cap_refitted"}


def test_that_two_columns_for_one_thing_are_refused_by_name(tmp_path: Path) -> None:
    path = text_file(tmp_path, [(*HEADING, "Mixed as found"), (*ROW, "42")])
    with pytest.raises(IntakeFault) as fault:
        read(path)
    assert "“Mixed found °C” in E1 and “Mixed as found” in G1" in fault.value.detail
    assert "found_c" in fault.value.detail


def test_that_a_sure_heading_goes_before_a_weak_one(tmp_path: Path) -> None:
    visit = one_visit(
        tmp_path, ("Basin", "A1", "17 Oct 2026", "41"), ("Outlet", "Asset ref", "Date", "Mixed found")
    )
    assert visit.reference == "A1"
    visit = one_visit(tmp_path, ("A1", "17 Oct 2026", "41"), ("Outlet", "Date", "Mixed found"))
    assert visit.reference == "A1"


def test_that_titles_may_stand_above_on_any_row(tmp_path: Path) -> None:
    above = [("TMV round",), (), ("Hospital: North", "", "Sheet 2 of 4"), ("",) * 3] * 30
    reading = read(text_file(tmp_path, [*above, HEADING, ROW]))
    assert [visit.source.row for visit in reading.visits] == [122]
    assert reading.visits[0].cell("found_c") == "E122"


def test_that_group_words_over_headings_tell_equal_headings_apart(tmp_path: Path) -> None:
    rows = [
        ["Ref", "Date", "As found", "Cold off", None, "Hot off", None],
        [None, None, "Mixed °C", "Max °C", "ml/min", "Max °C", "ml/min"],
        ["A1", "17 Oct 2026", 41, 42, 10, 20, 30],
    ]
    plain = read(workbook_file(tmp_path, {"Round": rows}))
    merged = read(workbook_file(tmp_path, {"Round": rows}, {"Round": ["D1:E1", "F1:G1"]}))
    for reading in (plain, merged):
        (visit,) = reading.visits
        cold, hot = visit.readings.cold_isolated, visit.readings.hot_isolated
        assert visit.readings.found_c == 41
        assert (cold.max_c, cold.residual_ml_min, hot.max_c, hot.residual_ml_min) == (42, 10, 20, 30)


def test_that_group_words_go_before_the_heading_alone(tmp_path: Path) -> None:
    rows = [
        ("", "", "", "Hot off"),
        ("Ref", "Date", "Mixed found °C", "Residual flow ml/min"),
        ("A1", "17 Oct 2026", "41", "30"),
    ]
    (visit,) = read(text_file(tmp_path, rows)).visits
    assert visit.readings.hot_isolated.residual_ml_min == 30
    assert visit.readings.cold_isolated.residual_ml_min is None


def test_that_group_words_not_understood_leave_the_column_out(tmp_path: Path) -> None:
    rows = [
        ("", "", "", "Second draw"),
        ("Ref", "Date", "Hot °C", "Mixed found °C"),
        ("A1", "17 Oct 2026", "60", "30"),
    ]
    (visit,) = read(text_file(tmp_path, rows)).visits
    assert (visit.readings.hot_c, visit.readings.found_c) == (60, None)


def test_that_words_above_that_spoil_the_header_are_taken_for_a_title(tmp_path: Path) -> None:
    rows = [("", "Northern Water"), ("Ref", "Date", "Hot °C"), ("A1", "17 Oct 2026", "60")]
    (visit,) = read(text_file(tmp_path, rows)).visits
    assert visit.readings.hot_c == 60


def test_that_units_may_stand_in_a_row_of_their_own(tmp_path: Path) -> None:
    rows = [
        ("Ref", "Date", "Hot", "Residual flow"),
        ("", "", "°F", "ml/min"),
        ("A1", "17 Oct 2026", "140", "30"),
    ]
    reading = read(text_file(tmp_path, rows))
    (visit,) = reading.visits
    assert (visit.readings.hot_c, visit.readings.cold_isolated.residual_ml_min) == (60, 30)
    assert ("round", "Hot °F (C2)", "hot_c, converted from °f") in reading.mapping


def test_that_a_unit_converted_in_a_cell_is_said_in_the_mapping(tmp_path: Path) -> None:
    reading = read_rows(tmp_path, ("A1", "17 Oct 2026", "140 F", "15", "41", ""))
    assert reading.visits[0].readings.hot_c == 60
    assert [line for line in reading.mapping if "converted" in line[2]] == [
        ("round", "Hot °C (C1)", "hot_c, converted from °f")
    ]


def test_that_a_header_far_down_is_found_by_its_words_alone(tmp_path: Path) -> None:
    wide = [("word",) * 900] * 20
    assert len(read(text_file(tmp_path, [*wide, HEADING, ROW])).visits) == 1
    grouped = [("", "", "Cold off"), ("Ref", "Date", "Max °C"), ("A1", "17 Oct 2026", "42")]
    assert len(read(text_file(tmp_path, [*wide[:5], *grouped])).visits) == 1
    with pytest.raises(IntakeFault):
        read(text_file(tmp_path, [*wide, *grouped]))


def test_that_headers_that_take_turns_far_down_each_rule_their_own_rows(tmp_path: Path) -> None:
    other = ("Ref", "Date", "Cold °C", "Hot °C")
    blocks = [
        line for _ in range(60) for line in (HEADING, ROW, (), other, ("A2", "17 Oct 2026", "15", "60"), ())
    ]
    reading = read(text_file(tmp_path, blocks))
    assert {(visit.readings.hot_c, visit.readings.cold_c) for visit in reading.visits} == {(60, 15)}
    assert len(reading.visits) == 120


def test_that_a_sheet_of_nothing_but_headers_is_refused(tmp_path: Path) -> None:
    with pytest.raises(IntakeFault, match="more than 2,000 rows of headings"):
        read(text_file(tmp_path, [HEADING] * 2_300))


def test_that_missing_columns_are_named_with_what_was_found_and_what_is_expected(tmp_path: Path) -> None:
    path = text_file(tmp_path, [("Tag", "Hot in", "Colour"), ("A1", "60", "blue")])
    with pytest.raises(IntakeFault) as fault:
        read(path, SheetKind.VISITS)
    assert "Sheet “round”, row 1: not found: date." in fault.value.detail
    assert "“Tag”, “Hot in”, “Colour”" in fault.value.detail
    assert "a reference, a date and at least one measurement" in fault.value.remedy


def test_that_an_asset_list_is_not_read_as_results_nor_the_other_way_about(tmp_path: Path) -> None:
    path = text_file(tmp_path, [HEADING, ROW])
    with pytest.raises(IntakeFault, match="building"):
        read(path, SheetKind.ASSETS)


@pytest.mark.parametrize("rows", [[("one",), ("two",)], [("a", "b"), ("1", "2")]])
def test_that_a_file_without_a_table_is_refused(tmp_path: Path, rows: list[tuple[str, ...]]) -> None:
    with pytest.raises(IntakeFault):
        read(text_file(tmp_path, rows))


def test_that_a_second_sheet_that_looks_like_a_table_but_is_none_is_asked_about(tmp_path: Path) -> None:
    odd = [["Vannas", "Diena", "Karsts"], ["A1", "17", 60], ["A2", "17", 60]]
    cover = [["Round of October"], ["Northern Water"], ["Page", 1]]
    reading = read(workbook_file(tmp_path, {"Cover": cover, "Round": [HEADING, ROW], "Odd": odd}))
    assert [(question.sheet, question.code) for question in reading.questions] == [
        ("Odd", "unreadable-sheet")
    ]
    assert len(reading.visits) == 1


def test_that_assets_and_results_in_one_workbook_must_be_told_apart(tmp_path: Path) -> None:
    assets = [
        ["Ref", "Building", "Room", "Use", "Used by"],
        ["A1", "Main", "Hall", "Basin", "Staff"],
        ["A2", "Main", "Hall", "Basin", "Staff"],
    ]
    path = workbook_file(tmp_path, {"Round": [HEADING, ROW], "List": assets})
    with pytest.raises(IntakeFault, match="both kinds"):
        read(path)
    for kind, counts in ((SheetKind.VISITS, (1, 0)), (SheetKind.ASSETS, (0, 2))):
        reading = read(path, kind)
        assert (len(reading.visits), len(reading.assets), reading.questions) == (*counts, ())

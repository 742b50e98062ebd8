"""Which outlet a row is matched to: by key, reference, look-alike, confirmed words or place."""

from collections.abc import Sequence
from dataclasses import replace
from datetime import UTC, date, datetime
from random import Random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from estate.domain.aliases import Alias
from estate.domain.intake import AttemptRow, PlaceWords, VisitRow
from estate.domain.places import Outlet, OutletPath, Use, UserGroup
from estate.domain.questions import Answer, Choice
from estate.domain.round_key import RoundKey, key_text
from estate.domain.visits import Readings, Source, VisitKind
from estate.operations.match_outlets import Found, OutletFinder, Row, Unfound, cell_of, words_of

HERE, DAY = "mx-1", date(2026, 10, 1)
NOW = datetime(2026, 11, 25, tzinfo=UTC)
KINDS = {"Wash-hand basin": Use.BASIN, "Shower": Use.SHOWER, "Bath": Use.BATH, "Sink": Use.OTHER}


def outlet(
    number: int, reference: str, room: str, name: str, building: str = "Main Block", **more: str
) -> Outlet:
    words = {"level": "Ground floor", "room_number": ""} | more
    path = OutletPath("Marlpit Cross", building, words["level"], words["room_number"], room, name)
    use = next((use for kind, use in KINDS.items() if name.startswith(kind)), Use.OTHER)
    return Outlet(number, reference, path, use, UserGroup.PATIENTS, number)


WARDS = [
    outlet(10 * ward + bed, f"WD-{ward}{bed:02}", f"Ward {ward} bed {bed}", "Wash-hand basin")
    for ward in (3, 4)
    for bed in range(1, 7)
]
ROOMS = [
    outlet(101, "MM/G/G01/WHB1", "Bedroom", "Wash-hand basin 1", room_number="G01"),
    outlet(102, "MM/G/G02/WHB1", "En-suite", "Wash-hand basin 1", room_number="G02"),
    outlet(103, "MM/G/G02/SHR1", "En-suite", "Shower 1", room_number="G02"),
    outlet(104, "MM/G/G03/SHR1", "Shower room", "Shower 1", room_number="G03"),
    outlet(105, "MM/G/G03/SHR2", "Shower room", "Shower 2", room_number="G03"),
    outlet(106, "MM/G/G06/WHB1", "Staff WC", "Wash-hand basin", room_number="G06"),
    outlet(107, "MM/G/G07/WHB1", "WC", "Wash-hand basin", room_number="G07"),
    outlet(108, "DU/G/G01/WHB1", "Treatment room", "Wash-hand basin", "Day Unit", room_number="G01"),
    outlet(109, "DU/1/104/SHR1", "Shower", "Sink", "Day Unit", level="1", room_number="104"),
    outlet(110, "DU/1/105/SNK1", "Quiet room", "Sink", "Day Unit", level="1"),
]
OUTLETS = [*WARDS, *ROOMS]


def row(
    reference: str = "",
    place: str | PlaceWords = "",
    number: int = 2,
    on: date = DAY,
    found_c: float = 41.0,
    **more: str,
) -> VisitRow:
    words = PlaceWords(room=place) if isinstance(place, str) else place
    told = [("reference", f"A{number}")] if reference else []
    told += [
        (field, f"{column}{number}")
        for field, column in (("building", "C"), ("room", "D"))
        if getattr(words, field)
    ]
    source, readings = Source("round.xlsx", "Round", number), Readings(found_c=found_c)
    return VisitRow(
        source, reference, VisitKind.IN_SERVICE, on, readings, cells=tuple(told), place=words, **more
    )


def found(rows: Sequence[Row], outlets: Sequence[Outlet] = OUTLETS, **more: object) -> list[Found | Unfound]:
    return OutletFinder(outlets, HERE, **more).find(rows)  # type: ignore[arg-type]


def said(result: Found | Unfound) -> str:
    return result.outlet.reference if isinstance(result, Found) else result.code


def matched(rows: Sequence[Row], outlets: Sequence[Outlet] = OUTLETS, **more: object) -> list[str]:
    return [said(each) for each in found(rows, outlets, **more)]


def one(result: Sequence[Found | Unfound]) -> Unfound:
    (only,) = result
    assert isinstance(only, Unfound)
    return only


@pytest.mark.parametrize(
    ("words", "reference"),
    [
        ("Ward 3 bed 4 basin", "WD-304"),
        ("ward 3 bed 5 WHB", "WD-305"),
        ("Wrd 4 bd 2 bsn", "WD-402"),
        ("basin bed 3 ward 4", "WD-403"),
        ("Station 3 Bett 1 Waschbecken", "WD-301"),
        ("Bldg Main, GF, G01 bedroom whb", "MM/G/G01/WHB1"),
        ("Chambre G-01 lavabo, Main Block", "MM/G/G01/WHB1"),
        ("G02 ensuite shwr", "MM/G/G02/SHR1"),
        ("Shower room G03, shower 2", "MM/G/G03/SHR2"),
        ("Staff WC basin", "MM/G/G06/WHB1"),
        ("Main block ground floor WC basin", "MM/G/G07/WHB1"),
        ("Day Unit treatmnt rm basin", "DU/G/G01/WHB1"),
        ("Level 1 quiet room sink, DU", "DU/1/105/SNK1"),
    ],
)
def test_that_place_words_name_the_outlet_that_they_alone_fit(words: str, reference: str) -> None:
    (result,) = found([row(place=words)])
    assert isinstance(result, Found)
    assert (result.outlet.reference, result.by) == (reference, "place")
    assert 0.8 <= result.confidence <= 1.0


@pytest.mark.parametrize(
    ("words", "code", "suggested"),
    [
        ("G02 ensuite", "several-outlets", {"MM/G/G02/WHB1", "MM/G/G02/SHR1"}),
        ("Shower room G03 shower", "several-outlets", {"MM/G/G03/SHR1", "MM/G/G03/SHR2"}),
        ("G01 basin", "several-outlets", {"MM/G/G01/WHB1", "DU/G/G01/WHB1"}),
        ("Ward 5 bed 1 basin", "unknown-outlet", {"WD-301", "WD-401"}),
        ("Ward 3 bed 4 shower", "unknown-outlet", {"WD-304"}),
        ("Level 2 ward 3 bed 4 basin", "unknown-outlet", {"WD-304"}),
        ("Bay 3 bed 4 basin", "unknown-outlet", {"WD-304"}),
        ("Male staff WC basin", "unknown-outlet", set()),
        ("Room 104 shower", "unknown-outlet", {"DU/1/104/SHR1"}),
        ("WC basin", "unknown-outlet", {"MM/G/G07/WHB1"}),
        ("Ward 3", "several-outlets", set()),
        ("basin", "several-outlets", set()),
        ("Old laundry", "unknown-outlet", set()),
    ],
)
def test_that_words_that_fit_several_or_none_are_asked(words: str, code: str, suggested: set[str]) -> None:
    question = one(found([row(place=words)]))
    assert question.code == code
    assert suggested <= set(question.suggested)
    assert len(question.suggested) <= 5
    assert question.found == words


def test_that_a_number_counts_what_stands_before_it() -> None:
    beds = [outlet(1, "A-1", "Bed 3", "Wash-hand basin 1"), outlet(2, "A-2", "Bay 3", "Wash-hand basin")]
    rows = [row(place="Bed 3 basin"), row(place="bay 3 basin", number=3), row(place="Basin 3", number=4)]
    assert matched(rows, beds) == ["A-1", "A-2", "unknown-outlet"]


@pytest.mark.parametrize(
    ("place", "result"),
    [
        (PlaceWords(room_number="12", outlet="1"), "A-1"),
        (PlaceWords(room_number="12", outlet="basin 1"), "A-1"),
        (PlaceWords(room="Store 12", outlet="basin"), "A-1"),
        (PlaceWords(room="Ward 12", outlet="basin"), "unknown-outlet"),
        (PlaceWords(room_number="12", outlet="12"), "unknown-outlet"),
        (PlaceWords(room_number="1", outlet="basin"), "unknown-outlet"),
        (PlaceWords(building="12", outlet="basin"), "unknown-outlet"),
    ],
)
def test_that_a_number_is_of_the_column_that_it_stands_in(place: PlaceWords, result: str) -> None:
    store = [outlet(1, "A-1", "Store", "Wash-hand basin 1", room_number="12")]
    assert matched([row(place=place)], store) == [result]


def test_that_an_outlet_that_another_row_fits_far_better_is_not_in_question() -> None:
    outlets = [
        outlet(1, "A-1", "Yranley", "Sink", room_number="G01"),
        outlet(2, "A-2", "Yarn", "Sink", room_number="G01"),
    ]
    rows = [row(place="G01 yran"), row(place="G01 yarn", number=3)]
    assert matched(rows[:1], outlets) == ["several-outlets"]
    assert matched(rows, outlets) == ["A-1", "A-2"]


def test_that_what_other_rows_leave_over_names_no_outlet() -> None:
    outlets = [outlet(1, "A-1", "Wet room", "Shower, left"), outlet(2, "A-2", "Wet room", "Shower, right")]
    rows = [row(place="Wet room shower"), row(place="Wet room shower right", number=3)]
    assert matched(rows, outlets) == ["several-outlets", "A-2"]


def test_that_two_rows_of_one_day_that_fit_one_outlet_are_both_asked_unless_they_enter_the_same() -> None:
    two = [row(place="Staff WC basin"), row(place="staff w.c. WHB", number=3, found_c=42.0)]
    assert matched(two) == ["several-outlets", "several-outlets"]
    assert matched([two[0], replace(two[1], on=date(2026, 10, 2))]) == ["MM/G/G06/WHB1"] * 2
    assert (
        matched([two[0], replace(two[0], source=Source("round.xlsx", "Round", 9))]) == ["MM/G/G06/WHB1"] * 2
    )


def test_that_a_row_that_fits_many_outlets_keeps_none_from_the_others() -> None:
    many = [outlet(n, f"Z-{n}", f"Ward 9 bed {n}", "Wash-hand basin") for n in range(1, 60)]
    rows = [row(place="Ward 9 basin"), row(place="Ward 9 bed 7 basin", number=3)]
    assert matched(rows, many) == ["several-outlets", "Z-7"]


def test_that_a_reference_is_compared_without_case_and_punctuation() -> None:
    (result,) = found([row("mm g g01 whb-1")])
    assert isinstance(result, Found)
    assert (result.outlet.id, result.by, result.confidence) == (101, "reference", 1.0)


def test_that_a_reference_and_a_place_that_contradict_each_other_are_asked() -> None:
    question = one(found([row("MM/G/G01/WHB1", "G06 Staff WC")]))
    assert (question.code, question.suggested) == ("several-outlets", ("MM/G/G01/WHB1", "MM/G/G06/WHB1"))
    agreeing = ("G01", "Bedroom", "bed room g01", "Room 4711", "next to the lift")
    assert matched([row("MM/G/G01/WHB1", words) for words in agreeing]) == ["MM/G/G01/WHB1"] * 5
    other = PlaceWords(building="Day Unit", room_number="G01", outlet="Basin")
    assert matched([row("MM/G/G01/WHB1", other)]) == ["several-outlets"]


def test_that_a_reference_that_one_outlet_alone_looks_like_is_taken() -> None:
    (result,) = found([row("MM/G/GOI/WHBl")])
    assert isinstance(result, Found)
    assert (result.outlet.id, result.by) == (101, "look-alike")
    assert matched([row("MM/G/GOI/WHBl"), row("MM/G/G01/WHB1", number=3)]) == [
        "several-outlets",
        "MM/G/G01/WHB1",
    ]
    assert matched([row("MM/G/GOI/WHBl"), row("MM/G/GO1/WHB1", number=3)]) == ["several-outlets"] * 2
    assert matched([row("MM/G/GOI/WHBl"), row("mm g goi whbl", number=3)]) == ["MM/G/G01/WHB1"] * 2
    assert matched([row("MM/G/G01/WH81")]) == ["unknown-outlet"]
    assert one(found([row("MM/G/G01/WH81")])).suggested[0] == "MM/G/G01/WHB1"


def test_that_two_outlets_that_look_alike_are_asked_about() -> None:
    alike = [outlet(1, "T-10", "Ward 1", "Shower"), outlet(2, "T-1O", "Ward 2", "Shower")]
    assert matched([row("T-10"), row("T-1O", number=3), row("T-IO", number=4)], alike) == [
        "T-10", "T-1O", "several-outlets",
    ]  # fmt: skip


def alias(words: str, outlet_id: int) -> Alias:
    return Alias(words, outlet_id, "A. Officer", NOW)


def test_that_confirmed_words_stand_for_their_outlet() -> None:
    known = [alias("Tap by the lift", 106), alias("00123", 101), alias("7, Sluice", 107), alias("gone", 999)]
    rows = [
        row("tap by the LIFT"), row("00123"), row("7", "Sluice", number=4), row("7", number=5), row("gone"),
    ]  # fmt: skip
    results = found(rows, aliases=known)
    assert [said(each) for each in results] == [
        "MM/G/G06/WHB1", "MM/G/G01/WHB1", "MM/G/G07/WHB1", "unknown-outlet", "unknown-outlet",
    ]  # fmt: skip
    assert {each.by for each in results if isinstance(each, Found)} == {"alias"}


def test_that_confirmed_words_that_look_like_another_outlet_are_asked() -> None:
    known = [alias("MM/G/GOI/WHBl", 106)]
    question = one(found([row("MM/G/GOI/WHBl")], aliases=known))
    assert (question.code, question.suggested) == ("several-outlets", ("MM/G/G06/WHB1", "MM/G/G01/WHB1"))
    assert matched([row("MM/G/GOI/WHBl")], aliases=[alias("MM/G/GOI/WHBl", 101)]) == ["MM/G/G01/WHB1"]


def test_that_a_row_is_called_by_its_reference_or_else_by_all_its_words() -> None:
    place = PlaceWords(building="Main Block", room="Sluice", outlet="Sink")
    called = {
        "TMV-7": "TMV-7",
        "7": "7, Main Block, Sluice, Sink",
        "A1b": "A1b",
        "abc": "abc, Main Block, Sluice, Sink",
    }
    assert {reference: words_of(row(reference, place)) for reference in called} == called
    assert words_of(row("", place)) == "Main Block, Sluice, Sink"


def test_that_a_question_points_to_the_cell_that_names_the_outlet() -> None:
    assert cell_of(row("X-1", "Sluice")) == "A2"
    assert cell_of(row("", "Sluice")) == "D2"
    assert cell_of(replace(row(), cells=(("key", "Z2"),))) == "Z2"
    assert cell_of(row()) == ""


def key(outlet_id: int, register: str = HERE) -> str:
    return key_text(RoundKey(register, outlet_id))


def test_that_the_key_of_a_round_sheet_names_its_outlet() -> None:
    (result,) = found([row(key=key(103))])
    assert isinstance(result, Found)
    assert (result.outlet.id, result.by) == (103, "key")
    assert matched([row("MM/G/G02/SHR1", key=key(103))]) == ["MM/G/G02/SHR1"]


@pytest.mark.parametrize(
    ("tried", "code", "suggested"),
    [
        (row("MM/G/G01/WHB1", key=key(101, "other")), "other-register", ("MM/G/G01/WHB1",)),
        (row(key=key(101, "other")), "other-register", ()),
        (row("MM/G/G01/WHB1", key=key(102)), "several-outlets", ("MM/G/G02/WHB1", "MM/G/G01/WHB1")),
        (row("MM/G/G01/WHB1", key=key(999)), "unknown-outlet", ("MM/G/G01/WHB1",)),
        (row(key="outlet 101 of mx-1, check 00"), "unknown-outlet", ()),
        (row("", "G06 Staff WC basin", key=key(101)), "several-outlets", ("MM/G/G01/WHB1", "MM/G/G06/WHB1")),
    ],
)
def test_that_a_key_that_is_foreign_changed_or_contradicted_is_asked(
    tried: VisitRow, code: str, suggested: tuple[str, ...]
) -> None:
    question = one(found([tried]))
    assert (question.code, question.suggested) == (code, suggested)


def test_that_an_unknown_reference_in_the_registers_manner_is_asked_whatever_the_place_says() -> None:
    assert matched([row("MM/G/G06/WHB2", "Staff WC basin")]) == ["unknown-outlet"]
    assert matched([row("MM/G/G99/WHB1", "Staff WC basin")]) == ["unknown-outlet"]


def test_that_a_slip_in_a_reference_is_borne_out_by_the_place() -> None:
    assert matched([row("MM/G/G06/WB1", "G06 Staff WC basin")]) == ["MM/G/G06/WHB1"]
    assert matched([row("MM/G/G08/WHB1", "G06 Staff WC basin")]) == ["MM/G/G06/WHB1"]
    assert matched([row("MM/G/G08/WHB1", "Main Block WC basin, ground floor")]) == ["unknown-outlet"]
    assert matched([row("MM/G/G06/WB1", "G01")]) == ["unknown-outlet"]


def test_that_a_senders_own_numbers_leave_the_place_to_name_the_outlet() -> None:
    own = [row("4711", "Staff WC basin"), row("4712", "Ward 3 bed 4 basin", number=3)]
    assert matched(own) == ["MM/G/G06/WHB1", "WD-304"]
    among = [row(each.reference, number=number) for number, each in enumerate(ROOMS[:4], 10)]
    assert matched([own[0], *among])[0] == "unknown-outlet"


def test_that_words_in_the_reference_column_are_a_place() -> None:
    assert matched([row("Ward 3 bed 4 basin")]) == ["WD-304"]
    assert matched([row("WHB1", "G01 bedroom")]) == ["MM/G/G01/WHB1"]
    assert matched([row("Lift lobby 12")]) == ["unknown-outlet"]
    assert one(found([row("Bed 4 basin")])).suggested[:2] == ("WD-304", "WD-404")
    assert one(found([row("Ward 4 bed 9 basin")])).suggested[0] == "WD-401"


def test_that_a_retired_outlet_stands_for_its_place_until_its_day() -> None:
    outlets = [replace(ROOMS[5], retired_on=date(2026, 6, 1)), replace(ROOMS[5], id=200, reference="NEW-1")]
    late, early = row(place="Staff WC basin"), row(place="Staff WC basin", on=date(2026, 5, 1))
    assert matched([late], outlets) == ["NEW-1"]
    assert matched([early], outlets) == ["several-outlets"]


def outlet_answer(value: str, **where: object) -> Answer:
    return Answer("unknown-outlet", Choice.OUTLET, value=value, **where)  # type: ignore[arg-type]


def test_that_an_answer_of_one_row_names_its_outlet_and_teaches_its_words() -> None:
    given = [outlet_answer("mm g g06 whb1", sheet="Round", row=2, cell="A2")]
    (result,) = found([row("Tap by the lift")], answers=given)
    assert isinstance(result, Found)
    assert (result.outlet.id, result.by, result.learnt) == (106, "alias", "Tap by the lift")
    assert matched([row("MM/G/G01/WHB1")], answers=[outlet_answer("MM/G/G06/WHB1", row=2)]) == [
        "MM/G/G06/WHB1"
    ]


@pytest.mark.parametrize(
    "where",
    [{"row": 3}, {"row": 2, "sheet": "Other"}, {"row": 2, "cell": "B2"}, {}],
)
def test_that_an_answer_of_another_place_names_nothing(where: dict[str, object]) -> None:
    assert matched([row("Tap")], answers=[outlet_answer("MM/G/G06/WHB1", **where)]) == ["unknown-outlet"]


def test_that_an_answer_that_names_no_outlet_leaves_the_question() -> None:
    assert matched([row("Tap")], answers=[outlet_answer("ZZ-9", row=2)]) == ["unknown-outlet"]


def test_that_attempts_are_matched_beside_visits() -> None:
    tried = AttemptRow(
        Source("round.xlsx", "Round", 3), "", DAY, "no access", place=PlaceWords(room="Staff WC basin")
    )
    assert matched([row(place="Staff WC basin"), tried]) == ["MM/G/G06/WHB1"] * 2


def test_that_only_so_many_rows_are_looked_up_at_length(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("estate.operations.match_outlets.MOST_LOOKED_UP", 1)
    first, second = found([row("MM/G/G01/WHB1X9"), row("MM/G/G01/WHB1X8", number=3)])
    assert isinstance(first, Unfound)
    assert isinstance(second, Unfound)
    assert (first.suggested[:1], second.suggested) == (("MM/G/G01/WHB1",), ())


WRITTEN = st.sampled_from(
    [
        "Ward 3 bed 4 basin", "Ward 3 bed 5 WHB", "ward 4 bed 4 basn", "Ward 3 basin", "G02 ensuite",
        "G02 en-suite shower", "G03 shower", "G03 shower 2", "Staff WC basin", "WC basin", "G01 basin",
        "Day Unit G01 basin", "Ward 9 bed 1 basin",
    ]
)  # fmt: skip
REFERENCE = st.sampled_from(
    [
        "",
        "",
        "MM/G/G01/WHB1",
        "MM/G/GO1/WHB1",
        "MM/G/G02/SHR1",
        "WD-304",
        "WD-3O4",
        "MM/G/G06/WHB",
        "4711",
        "MM/X",
    ]
)
SHEET = st.lists(st.tuples(REFERENCE, WRITTEN, st.integers(1, 2), st.sampled_from([40.0, 41.0])), max_size=9)


def rows_of(sheet: Sequence[tuple[str, str, int, float]]) -> list[VisitRow]:
    return [
        row(reference, words, number, date(2026, 10, day), read)
        for number, (reference, words, day, read) in enumerate(sheet, start=2)
    ]


@given(SHEET, st.integers(0, 1000))
@settings(max_examples=200, deadline=None)
def test_that_the_order_of_the_rows_never_changes_which_outlet_is_matched(
    sheet: list[tuple[str, str, int, float]], seed: int
) -> None:
    rows = rows_of(sheet)
    shuffled = Random(seed).sample(rows, len(rows))
    by_row = dict(zip((each.source.row for each in shuffled), matched(shuffled), strict=True))
    assert [by_row[each.source.row] for each in rows] == matched(rows)


STRANGER = st.sampled_from(
    [
        outlet(900, "MM/2/201/WHB1", "Bedroom", "Wash-hand basin", level="2", room_number="201"),
        outlet(901, "ZZ-1", "Ward 12 bed 4", "Wash-hand basin"),
        outlet(902, "WE/G/G01/BTH1", "Bathroom", "Bath", "Withy End", room_number="G01"),
        outlet(903, "MM/G/G16/WHB1", "Plant", "Sink", room_number="G16"),
        outlet(904, "WD-305B", "Sluice", "Sink"),
    ]
)


@given(SHEET, STRANGER)
@settings(max_examples=200, deadline=None)
def test_that_an_outlet_more_turns_no_question_into_another_match(
    sheet: list[tuple[str, str, int, float]], stranger: Outlet
) -> None:
    rows = rows_of(sheet)
    before, after = matched(rows), matched(rows, [*OUTLETS, stranger])
    for was, now in zip(before, after, strict=True):
        assert now in (was, "several-outlets", "unknown-outlet")

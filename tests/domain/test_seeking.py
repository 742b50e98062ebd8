"""One box finds everything: the best first, whatever the manner of writing."""

from dataclasses import replace
from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from estate.domain.browsing import PlaceKind, PlaceNode
from estate.domain.estate_reading import EstateReading
from estate.domain.instruments import Instrument
from estate.domain.life.people import Person
from estate.domain.places import Outlet, OutletPath, Use, UserGroup
from estate.domain.register import RegisterIdentity
from estate.domain.seeking import Seeker
from estate.domain.standing import OutletState
from estate.domain.things import Thing, ThingKind, things_of
from estate.domain.today import Behind, ListAsked, Today, Workload
from estate.domain.valves import Fitting, Valve

DAY = date(2026, 11, 25)


def outlet(number: int, reference: str, position: int | None = None) -> Outlet:
    path = OutletPath("Marlpit Cross", "Main Block", "G", f"G{number:02}", "Bathroom", "Basin")
    return Outlet(number, reference, path, Use.BASIN, UserGroup.PATIENTS, position or number)


def node(kind: PlaceKind, number: int, label: str, *below: PlaceNode) -> PlaceNode:
    return PlaceNode(kind, number, label, OutletState.OVERDUE, 0, len(below), label, below)


TREE = (
    node(
        PlaceKind.SITE,
        1,
        "Marlpit Cross",
        node(
            PlaceKind.BUILDING,
            2,
            "Main Block",
            node(
                PlaceKind.LEVEL,
                3,
                "Level G",
                node(PlaceKind.ROOM, 4, "G01  Bathroom", node(PlaceKind.OUTLET, 1, "MM/G/G01/WHB1")),
            ),
        ),
    ),
)
READING = EstateReading(
    identity=RegisterIdentity("Marlpit", "mx", "1", ()),
    tree=TREE,
    lines=(),
    today=Today(DAY, "Marlpit", 0, (), (), ListAsked(Behind.NOT_IN_DATE, ""), Workload((), (), 0)),
    instruments=(Instrument(5, "T-101", specification="immersion probe"),),
    people=(Person(6, "T. Tester", "fitter"), Person(7, "O. Gone", left_on=DAY)),
    outlets=(outlet(1, "MM/G/G01/WHB1"), outlet(2, "MM/G/G01/WHB10", 1), outlet(3, "MM/G/G03/WHB1")),
    valves={
        8: Valve(8, "Make A", "A15", "A15-1"),
        9: Valve(9, "Make B", "B-15 HC", ""),
        10: Valve(10, "Make C", "C3", "C3-77"),
    },
    fittings=(
        Fitting(8, 1, date(2020, 1, 1), date(2024, 1, 1)),
        Fitting(9, 1, date(2024, 1, 1)),
        Fitting(8, 3, date(2024, 2, 1)),
        Fitting(8, 1, None, date(2019, 1, 1)),
        Fitting(10, 99, None),
    ),
)
SEEKER = Seeker(things_of(READING))


def first(text: str, seeker: Seeker = SEEKER) -> Thing:
    return seeker.seek(text)[1][0]


def test_that_a_whole_reference_comes_before_one_that_begins_so() -> None:
    fitting, found = SEEKER.seek("MM/G/G01/WHB1")
    assert [each.label for each in found[:2]] == ["MM/G/G01/WHB1", "MM/G/G01/WHB10"]
    assert fitting == len(found)


@pytest.mark.parametrize(
    "written", ["mm g g01 whb1", "MMGG01WHB1", "mm-g.g01/whb1", "ＭＭ／Ｇ／Ｇ01／ＷＨＢ１"]
)
def test_that_case_width_and_punctuation_of_a_reference_do_not_matter(written: str) -> None:
    assert first(written).label == "MM/G/G01/WHB1"


def test_that_a_serial_leads_to_where_the_body_was_last() -> None:
    found = first("a15-1")
    assert (found.kind, found.goes_to, found.said) == (ThingKind.VALVE, 3, "at MM/G/G03/WHB1")
    assert SEEKER.seek("c3-77") == (0, ())


def test_that_a_body_that_was_taken_out_says_so() -> None:
    away = replace(READING, fittings=READING.fittings[:1])
    assert first("a15", Seeker(things_of(away))).said == "was at MM/G/G01/WHB1"


def test_that_rooms_levels_buildings_and_sites_are_found_with_what_they_lie_in() -> None:
    room = first("g01 bath")
    assert (room.kind, room.goes_to) == (ThingKind.ROOM, 4)
    assert room.said == "Marlpit Cross · Main Block · Level G"
    kinds = {each.kind for each in SEEKER.seek("marlpit")[1]}
    assert kinds == {ThingKind.OUTLET, ThingKind.ROOM, ThingKind.LEVEL, ThingKind.BUILDING, ThingKind.SITE}
    assert first("level g").said == "Marlpit Cross · Main Block"


def test_that_people_and_instruments_are_found() -> None:
    assert (first("tester").kind, first("tester").said) == (ThingKind.PERSON, "fitter")
    assert first("gone").said == "left"
    assert (first("t101").kind, first("t101").goes_to) == (ThingKind.INSTRUMENT, 5)


def test_that_an_outlet_tells_its_state_and_one_without_a_place_in_the_tree_tells_none() -> None:
    assert first("MM/G/G01/WHB1").state is OutletState.OVERDUE
    assert first("MM/G/G03/WHB1").state is None


@pytest.mark.parametrize("text", ["", "  ", "/", "· -"])
def test_that_nothing_is_found_without_a_letter_or_digit(text: str) -> None:
    assert SEEKER.seek(text) == (0, ())


def test_that_only_the_best_are_given_and_all_are_counted() -> None:
    fitting, found = SEEKER.seek("g", most=2)
    assert (fitting > 2, len(found)) == (True, 2)


def test_that_the_beginning_of_a_word_comes_before_its_middle() -> None:
    things = [
        Thing(ThingKind.PERSON, number, name) for number, name in enumerate(("Manbath", "A Bath", "Bath"))
    ]
    _, found = Seeker(things).seek("bath")
    assert [each.label for each in found] == ["Bath", "A Bath", "Manbath"]


LETTERS = st.text("mg01/whb -a5.ßＭ", max_size=8)


@given(st.lists(LETTERS, min_size=1, max_size=5))
def test_that_what_was_typed_before_changes_no_answer(texts: list[str]) -> None:
    again = Seeker(things_of(READING))
    for text in texts:
        assert again.seek(text) == Seeker(things_of(READING)).seek(text)

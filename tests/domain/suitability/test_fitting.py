from dataclasses import replace

import pytest

from estate.domain.designations import bands_of, endings_of
from estate.domain.places import Use, UserGroup
from estate.domain.suitability.check import Suitability, check_suitability
from estate.domain.suitability.conditions import Held
from estate.domain.suitability.fitting import DesignationFit
from tests.domain.suitability.surveys import BARE, RULES, SOUND, cold, hot, worked_out


def fit(found: Suitability, kind: str, band: str) -> DesignationFit:
    (one,) = [each for each in found.fits if (each.scheme_class, each.band) == (kind, band)]
    return one


def test_that_designations_are_read_by_band_and_use() -> None:
    assert bands_of(("lp-w", "HP-S", "XX-W")) == ("hp", "lp")
    assert bands_of(()) == ()
    assert endings_of(("HP-W", "LP-T44", "HP")) == {"W", "T44"}


def test_that_the_classes_and_codes_that_fit_the_supplies_are_named() -> None:
    found = worked_out()
    assert [each.words for each in found.fits if each.held is Held.HOLDS] == ["Type 3 HP-W", "Type 2 HP-W"]
    assert fit(found, "3", "lp").outside == (
        "hot flow pressure 2 bar (0.2 to 1)",
        "cold flow pressure 2 bar (0.2 to 1)",
    )
    assert fit(found, "3", "hp").sources


def test_that_a_class_below_the_one_its_users_need_is_marked() -> None:
    assert [each.enough for each in worked_out().fits] == [True, True, False, False]
    staff = worked_out(users=UserGroup.STAFF)
    assert {each.enough for each in staff.fits} == {True}
    some = RULES
    values = {key: value for key, value in some.values.items() if "class.needed" not in key}
    assert {each.enough for each in check_suitability(SOUND, replace(some, values=values)).fits} == {None}


def test_that_reducing_valves_are_told_where_they_alone_would_do() -> None:
    found = worked_out(hot=hot(flow_bar=6.0))
    assert fit(found, "3", "hp").reduced_bar == 2.0
    assert fit(found, "3", "lp").reduced_bar == 1.0
    assert fit(worked_out(), "3", "hp").reduced_bar is None
    assert fit(worked_out(hot=hot(flow_bar=6.0), cold=cold(flow_bar=0.5)), "3", "hp").reduced_bar is None
    assert fit(worked_out(hot=hot(temperature_c=70.0, flow_bar=6.0)), "3", "hp").reduced_bar is None
    assert fit(worked_out(hot=hot(flow_bar=6.0), cold=cold(flow_bar=None)), "3", "hp").reduced_bar is None


def test_that_what_was_not_measured_leaves_a_fit_open() -> None:
    found = worked_out(cold=cold(flow_bar=None))
    assert fit(found, "3", "hp").held is Held.UNTOLD
    assert fit(found, "3", "hp").missing == ("cold flow pressure",)
    assert {each.held for each in worked_out(BARE).fits} == {Held.UNTOLD}


@pytest.mark.parametrize(
    ("use", "words"),
    [(Use.BATH, "Type 3 HP-T or HP-T44"), (Use.OTHER, "Type 3 HP"), (Use.BIDET, "Type 3 HP-B")],
)
def test_that_codes_go_by_the_use(use: Use, words: str) -> None:
    assert fit(worked_out(use=use), "3", "hp").words == words

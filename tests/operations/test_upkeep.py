from datetime import date, timedelta
from typing import Any

import pytest

from estate.domain.life.care import CareAsked, CareDraft, CareKind, ReviewDraft
from estate.domain.life.outlet_use import UseStep
from estate.domain.life.supplies import SuppliesDraft
from estate.errors import EntryFault, NotFoundFault
from estate.operations import browse
from estate.operations.browse_actions import outlet_life
from estate.operations.browse_upkeep import cares_of, entry_behind, reviews_of, surveys_of, upkeep_lines
from estate.operations.keep_upkeep import (
    record_care,
    record_survey,
    review_outlet,
    take_back_care,
    take_back_review,
    take_back_survey,
)
from estate.operations.register import Register
from tests.builders import TODAY
from tests.operations.conftest import NOW, WHO
from tests.operations.test_actions import BASIN, SHOWER, use

SAID: dict[str, Any] = {"who": WHO, "at": NOW, "today": TODAY}
DAY = date(2026, 11, 20)


def at(register: Register, ref: str = BASIN) -> int:
    return browse.find_outlet(register, ref).id


def asked(register: Register, what: CareAsked, **fields: Any) -> dict[str, date | None]:
    return {each.outlet.reference: each.last for each in upkeep_lines(register, TODAY, asked=what, **fields)}


def test_that_shower_heads_are_asked_for_until_they_are_cleaned(register: Register) -> None:
    both = {SHOWER: None, "MM/G/G02/SHR2": None}
    assert asked(register, CareAsked.SHOWER_HEAD, due_only=True) == both
    record_care(register, [CareDraft(at(register, SHOWER), CareKind.SHOWER_HEAD, DAY, "A. Thorne")], **SAID)
    assert asked(register, CareAsked.SHOWER_HEAD) == both | {SHOWER: DAY}
    assert asked(register, CareAsked.SHOWER_HEAD, due_only=True) == {"MM/G/G02/SHR2": None}


def test_that_an_outlet_out_of_use_is_on_the_list_of_flushing(register: Register) -> None:
    assert asked(register, CareAsked.FLUSHING) == {}
    use(register, UseStep.TAKE_OUT)
    assert asked(register, CareAsked.FLUSHING) == {BASIN: None}
    assert CareAsked.FLUSHING in {each.asked for each in outlet_life(register, at(register), TODAY).upkeep}
    use(register, UseStep.RETIRE)
    assert asked(register, CareAsked.FLUSHING) == {}
    assert outlet_life(register, at(register), TODAY).upkeep == ()


def test_that_several_outlets_are_flushed_in_one_go_and_one_is_taken_back(register: Register) -> None:
    drafts = [
        CareDraft(at(register, ref), CareKind.FLUSHED, DAY, "A. Thorne", 180.0) for ref in (BASIN, SHOWER)
    ]
    changes = record_care(register, drafts, **SAID)
    assert changes.outlets == {at(register), at(register, SHOWER)}
    (care,) = cares_of(register, at(register))
    take_back_care(register, care.id, why="another basin", who=WHO, at=NOW)
    (care,) = cares_of(register, at(register))
    assert care.withdrawn == "another basin"
    with pytest.raises(EntryFault, match="No reason"):
        take_back_care(register, care.id, why=" ", who=WHO, at=NOW)


def test_that_what_a_line_shows_as_last_is_the_entry_taken_back(register: Register) -> None:
    place = at(register, SHOWER)
    for kind, on in ((CareKind.SHOWER_HEAD, DAY), (CareKind.SHOWER_HEAD, DAY), (CareKind.FLUSHED, TODAY)):
        record_care(register, [CareDraft(place, kind, on, "A. Thorne")], **SAID)
    review_outlet(register, ReviewDraft(place, DAY, "the group", True, "children"), **SAID)
    shown = {each.asked: each for each in upkeep_lines(register, TODAY) if each.outlet.id == place}
    newest = max(each.id for each in cares_of(register, place) if each.draft.kind is CareKind.SHOWER_HEAD)
    assert entry_behind(register, shown[CareAsked.SHOWER_HEAD]) == newest
    assert entry_behind(register, shown[CareAsked.REVIEW]) == reviews_of(register, place)[0].id
    take_back_review(register, reviews_of(register, place)[0].id, why="another", who=WHO, at=NOW)
    with pytest.raises(NotFoundFault, match="Nothing to take back"):
        entry_behind(register, shown[CareAsked.REVIEW])


def test_that_a_review_says_whether_the_valve_is_needed(register: Register) -> None:
    review_outlet(register, ReviewDraft(at(register), DAY, "the group", False, "staff only"), **SAID)
    (review,) = reviews_of(register, at(register))
    assert (review.draft.needed, review.draft.why) == (False, "staff only")
    assert asked(register, CareAsked.REVIEW)[BASIN] == DAY
    take_back_review(register, review.id, why="another basin", who=WHO, at=NOW)
    assert asked(register, CareAsked.REVIEW)[BASIN] is None


def test_that_a_survey_is_kept_and_taken_back(register: Register) -> None:
    record_survey(register, SuppliesDraft(at(register), DAY, "A. Thorne", hot_static_bar=3.0), **SAID)
    (survey,) = surveys_of(register, at(register))
    assert (survey.draft.hot_static_bar, survey.draft.cold_static_bar) == (3.0, None)
    take_back_survey(register, survey.id, why="another basin", who=WHO, at=NOW)
    assert surveys_of(register, at(register))[0].withdrawn == "another basin"


@pytest.mark.parametrize(
    ("fields", "words"),
    [
        ({}, "Nothing was measured"),
        ({"hot_static_bar": 40.0}, "hot static 40 bar.*Give 0 to 25 bar"),
        ({"hot_c": -1.0}, "hot -1 °C"),
        ({"wanted_flow_l_min": float("nan")}, "wanted flow nan l/min"),
        ({"hot_c": 60.0, "on": TODAY + timedelta(days=1)}, "lies ahead"),
    ],
)
def test_that_a_survey_that_cannot_be_true_is_refused(
    register: Register, fields: dict[str, Any], words: str
) -> None:
    said: dict[str, Any] = {"outlet_id": at(register), "on": DAY} | fields
    draft = SuppliesDraft(**said)
    with pytest.raises(EntryFault, match=words):
        record_survey(register, draft, **SAID)


@pytest.mark.parametrize(
    ("fields", "words"),
    [
        ({"duration_s": 0.0}, "no time"),
        ({"duration_s": 9000.0}, "no time"),
        ({"on": TODAY + timedelta(days=1)}, "lies ahead"),
    ],
)
def test_that_upkeep_that_cannot_be_true_is_refused(
    register: Register, fields: dict[str, Any], words: str
) -> None:
    said: dict[str, Any] = {"outlet_id": at(register), "kind": CareKind.FLUSHED, "on": DAY} | fields
    draft = CareDraft(**said)
    with pytest.raises(EntryFault, match=words):
        record_care(register, [draft], **SAID)


def test_that_upkeep_names_an_outlet_that_is_there(register: Register) -> None:
    with pytest.raises(EntryFault, match="No outlet is named"):
        record_care(register, [], **SAID)
    with pytest.raises(NotFoundFault):
        record_care(register, [CareDraft(999, CareKind.FLUSHED, DAY)], **SAID)


@pytest.mark.parametrize(("person", "why"), [(" ", "staff only"), ("the group", "")])
def test_that_a_review_is_kept_with_who_and_why(register: Register, person: str, why: str) -> None:
    with pytest.raises(EntryFault, match="Who and why"):
        review_outlet(register, ReviewDraft(at(register), DAY, person, True, why), **SAID)

"""A visit typed on a line is read whole or refused with the place and the remedy."""

from dataclasses import replace
from datetime import date
from typing import Any

import pytest

from estate.domain.steps import Part, Seen
from estate.domain.visits import Isolation, Readings, VisitKind
from estate.errors import EntryFault, KnownFault, NotFoundFault
from estate.operations.keep_instruments import add_instrument
from estate.operations.record_visit import correct_visit, record_visit
from estate.operations.register import Register
from estate.operations.type_visit import TypedVisit, draft_of
from tests.builders import TODAY
from tests.operations.conftest import NOW, WHO

TYPED = TypedVisit(
    outlet="mm g g01 whb1",
    kind=VisitKind.COMMISSIONING,
    on=TODAY,
    readings=(
        "hot_c=60,1",
        "left_c = 41",
        "cap_refitted=yes",
        "cold_isolated.max_c=42.5",
        "hot_isolated.shut_s=2",
    ),
    seen=("washers=yes", "support=no: bracket loose"),
    parts=("strainer=2", "washer"),
    collected=("cold=30/60",),
    person="M. Osei",
    remarks="new body",
)


def test_that_a_typed_visit_is_what_was_typed(register: Register) -> None:
    made = draft_of(register, TYPED)
    assert made.readings == Readings(
        hot_c=60.1,
        left_c=41.0,
        cap_refitted=True,
        cold_isolated=Isolation(max_c=42.5, residual_ml_min=30.0),
        hot_isolated=Isolation(shut_s=2.0),
    )
    assert made.steps.seen[:2] == (Seen("washers", True), Seen("support", False, remark="bracket loose"))
    assert made.steps.number("cold-collected-time") == 60.0
    assert made.steps.parts == (Part("strainer", 2.0), Part("washer"))
    assert (made.person, made.remarks, made.kind, made.on) == ("M. Osei", "new body", TYPED.kind, TODAY)
    assert (made.instrument_id, made.instrument_words) == (None, "")


def test_that_the_instrument_is_found_by_its_reference(register: Register) -> None:
    add_instrument(register, reference="T-101", who=WHO, at=NOW)
    made = draft_of(register, replace(TYPED, instrument="t 101"))
    assert made.instrument_words == "T-101"
    assert made.instrument_id is not None
    with pytest.raises(NotFoundFault, match="T-999"):
        draft_of(register, replace(TYPED, instrument="T-999"))


@pytest.mark.parametrize(
    ("fields", "named"),
    [
        ({"readings": ("hot_c",)}, "hot_c=60.1"),
        ({"readings": ("hot_c=",)}, "hot_c=60.1"),
        ({"readings": ("hot_c=warm",)}, "hot_c=warm"),
        ({"readings": ("heat=60",)}, "left_c"),
        ({"readings": ("hot_c=60", "hot_c=61")}, "twice"),
        ({"readings": ("cold_isolated.max_c=42", "cold_isolated.max_c=43")}, "twice"),
        ({"readings": ("cap_refitted=perhaps",)}, "yes or no"),
        ({"seen": ("washers=maybe",)}, "washers=yes"),
        ({"seen": ("gold=yes",)}, "watertight"),
        ({"seen": ("washers=yes",), "kind": VisitKind.IN_SERVICE}, "none to answer"),
        ({"parts": ("=2",)}, "strainer=2"),
        ({"parts": ("strainer=two",)}, "strainer=2"),
        ({"collected": ("warm=30/60",)}, "cold=30/60"),
        ({"collected": ("cold=30",)}, "cold=30/60"),
        ({"collected": ("cold=some/60",)}, "cold=some/60"),
        ({"collected": ("cold=30/0",)}, "more than 0"),
        ({"readings": ("cold_isolated.residual_ml_min=30",)}, "volume and its time"),
        ({"on": date(1999, 1, 1)}, "Correct the day"),
    ],
)
def test_that_what_can_not_be_read_is_named_with_its_remedy(
    register: Register, fields: dict[str, Any], named: str
) -> None:
    with pytest.raises(KnownFault) as told:
        draft_of(register, replace(TYPED, **fields))
    assert named in f"{told.value.title} {told.value.detail} {told.value.remedy}"


def test_that_the_very_same_visit_is_not_recorded_twice(register: Register) -> None:
    made = draft_of(register, TYPED)
    first = record_visit(register, made, who=WHO, at=NOW, today=TODAY)
    with pytest.raises(EntryFault, match=f"Visit {first.visit.id}"):
        record_visit(register, made, who=WHO, at=NOW, today=TODAY)
    again = correct_visit(register, first.visit.id, made, who=WHO, at=NOW, today=TODAY)
    assert again.visit.corrects == first.visit.id

from datetime import date
from typing import Any

import pytest

from estate.domain.life.people import Competence
from estate.errors import EntryFault, NotFoundFault
from estate.operations import browse
from estate.operations.keep_people import (
    add_competence,
    add_person,
    amend_person,
    people_known,
    person,
    withdraw_competence,
)
from estate.operations.register import Register
from tests.builders import TODAY
from tests.operations.conftest import NOW, WHO
from tests.operations.test_actions import BASIN, record

SAID: dict[str, Any] = {"who": WHO, "at": NOW}
ENDED = Competence("testing of valves", date(2024, 1, 1), date(2025, 12, 31), "C-1")
YEAR = Competence("testing of valves", date(2026, 1, 1), date(2026, 12, 31), "C-2")


def flagged(register: Register) -> bool:
    page = browse.outlet_page(register, browse.find_outlet(register, BASIN).id, TODAY)
    assert page.judgement is not None
    return "person-competence" in {each.code for each in page.judgement.findings}


def test_that_an_unknown_person_is_named_and_not_judged(register: Register) -> None:
    record(register)
    assert not flagged(register)
    assert people_known(register).unknown == ("A. Thorne",)


def test_that_a_visit_by_a_person_whose_competence_ended_is_noted_until_it_is_renewed(
    register: Register,
) -> None:
    add_person(register, "A. Thorne", position="engineer", competence=ENDED, **SAID)
    record(register)
    assert flagged(register)
    add_competence(register, "a thorne", YEAR, **SAID)
    assert not flagged(register)
    known = people_known(register)
    assert known.unknown == ()
    assert [(each.name, each.position) for each in known.known] == [("A. Thorne", "engineer")]


def test_that_a_person_is_changed_and_a_competence_withdrawn(register: Register) -> None:
    add_person(register, "B. Other", competence=YEAR, **SAID)
    add_person(register, "C. Third", **SAID)
    assert person(register, "C. Third").competences == ()
    amend_person(register, "B. Other", position="fitter", left_on=TODAY, **SAID)
    found = person(register, "b other")
    assert (found.position, found.left_on, len(found.competences)) == ("fitter", TODAY, 1)
    with pytest.raises(EntryFault, match="No reason"):
        withdraw_competence(register, found.competences[0].id, why=" ", **SAID)
    withdraw_competence(register, found.competences[0].id, why="another person's", **SAID)
    assert person(register, "B. Other").competences == ()
    with pytest.raises(NotFoundFault, match="No such person"):
        person(register, "D. Nobody")


@pytest.mark.parametrize(
    ("held", "words"),
    [
        (Competence(" ", date(2026, 1, 1)), "No subject"),
        (Competence("testing", date(2026, 1, 1), date(2025, 1, 1)), "ends before it begins"),
    ],
)
def test_that_a_competence_that_cannot_be_true_is_refused(
    register: Register, held: Competence, words: str
) -> None:
    with pytest.raises(EntryFault, match=words):
        add_person(register, "B. Other", competence=held, **SAID)
    assert people_known(register).known == ()

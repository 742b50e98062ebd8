"""Put people and their competences into the register."""

from dataclasses import dataclass
from datetime import date, datetime

from estate.domain.changes import ChangeSet
from estate.domain.dates import day_words
from estate.domain.judging.person import COMPETENCE
from estate.domain.life.people import Competence, Person
from estate.domain.phrases import phrase
from estate.domain.references import reference_key
from estate.errors import EntryFault, NotFoundFault
from estate.operations.record_visit import judge_again
from estate.operations.register import Register
from estate.store import people, visits
from estate.store.retrying import retried
from estate.store.transaction import Transaction, writing


@dataclass(frozen=True, slots=True)
class People:
    """Who is known.

    Attributes:
        known: everybody in the register of people, by name.
        unknown: names that stand on visits and are not in it: of those nothing is judged.
    """

    known: tuple[Person, ...]
    unknown: tuple[str, ...]


def people_known(register: Register) -> People:
    """Everybody known, and the names on visits that nobody knows."""
    with register.database.reading() as session:
        known, named = people.people(session), visits.people(session)
    keys = {reference_key(each.name) for each in known}
    return People(known, tuple(each for each in named if reference_key(each) not in keys))


@retried
def add_person(
    register: Register,
    name: str,
    *,
    position: str = "",
    competence: Competence | None = None,
    who: str,
    at: datetime,
) -> ChangeSet:
    """Add a person, with a competence if there is one.

    Raises:
        EntryFault: the name is empty or taken, or the competence can't be true.
    """
    with writing(register.database, who, f"added {name.strip()}", at) as tx:
        person_id = people.add_person(tx, name, position)
        if competence is not None:
            _add(tx, person_id, competence)
            _judge_again(tx, register, name)
        tx.touch(everything=True)
    return tx.changes


@retried
def amend_person(
    register: Register,
    name: str,
    *,
    position: str | None = None,
    left_on: date | None = None,
    who: str,
    at: datetime,
) -> ChangeSet:
    """Change what a person is, or say when the person left; None leaves either as it is.

    Raises:
        NotFoundFault: there is no such person.
    """
    with writing(register.database, who, f"changed {name.strip()}", at) as tx:
        found = people.person_by_name(tx.session, name)
        people.amend_person(tx, found.id, position=position, left_on=left_on)
        tx.touch(everything=True)
    return tx.changes


@retried
def add_competence(
    register: Register, name: str, competence: Competence, *, who: str, at: datetime
) -> ChangeSet:
    """Add a competence of a person; visits that were flagged for want of it are judged again.

    Raises:
        NotFoundFault: there is no such person.
        EntryFault: it says nothing, or ends before it begins.
    """
    with writing(register.database, who, f"added a competence of {name.strip()}", at) as tx:
        found = people.person_by_name(tx.session, name)
        _add(tx, found.id, competence)
        _judge_again(tx, register, name)
        tx.touch(everything=True)
    return tx.changes


@retried
def withdraw_competence(
    register: Register, competence_id: int, *, why: str, who: str, at: datetime
) -> ChangeSet:
    """Take a competence back that was entered wrongly; it stays on record with the reason.

    Visits already judged keep their judgement until they are judged again.

    Raises:
        EntryFault: no reason is given.
        NotFoundFault: there is no such competence.
    """
    if not why.strip():
        raise EntryFault("No reason", "A competence is taken back with a reason.", "Say why it is wrong.")
    with writing(register.database, who, "withdrew a competence", at, why=why.strip()) as tx:
        people.withdraw_competence(tx, competence_id, why)
        tx.touch(everything=True)
    return tx.changes


def _add(tx: Transaction, person_id: int, competence: Competence) -> None:
    if not competence.subject.strip():
        raise EntryFault(
            "No subject", "A competence is in something.", "Say in what the person is competent."
        )
    until = competence.until_on
    if until is not None and until < competence.from_on:
        detail = phrase("From {day} to {until}.", day=day_words(competence.from_on), until=day_words(until))
        raise EntryFault("The competence ends before it begins", detail, "Correct one of the two days.")
    people.add_competence(tx, person_id, competence)


def _judge_again(tx: Transaction, register: Register, name: str) -> None:
    since = people.visits_judged_on(tx.session, name, COMPETENCE)
    if since:
        judge_again(tx, register, since)


def person(register: Register, name: str) -> Person:
    """One person.

    Raises:
        NotFoundFault: there is no such person.
    """
    found = [each for each in people_known(register).known if reference_key(each.name) == reference_key(name)]
    if not found:
        raise NotFoundFault(
            "No such person", phrase('"{name}" is not in the register.', name=name), "Add the person first."
        )
    return found[0]

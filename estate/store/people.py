"""People and their competences; a competence is never changed, only withdrawn with a reason."""

from collections import defaultdict
from datetime import date

from sqlalchemy import select
from sqlalchemy.orm import Session

from estate.domain.life.people import Competence, Person
from estate.domain.phrases import phrase
from estate.domain.references import reference_key
from estate.errors import EntryFault, NotFoundFault
from estate.store.life_schema import CompetenceRow, PersonRow
from estate.store.transaction import Transaction
from estate.store.visit_schema import FindingRow, JudgementRow, VisitRow


def people(session: Session) -> tuple[Person, ...]:
    """Everybody by name, those who left too, each with the competences that count."""
    rows = session.scalars(select(CompetenceRow).order_by(CompetenceRow.from_on, CompetenceRow.id)).all()
    withdrawn = {row.withdraws for row in rows if row.withdraws is not None}
    held: defaultdict[int, list[Competence]] = defaultdict(list)
    for row in rows:
        if row.withdraws is None and row.id not in withdrawn:
            competence = Competence(row.subject, row.from_on, row.until_on, row.certificate, row.id)
            held[row.person_id].append(competence)
    found = session.scalars(select(PersonRow).order_by(PersonRow.name, PersonRow.id))
    return tuple(
        Person(each.id, each.name, each.position, each.left_on, tuple(held[each.id])) for each in found
    )


def person_by_name(session: Session, name: str) -> Person:
    """The person of a name, however it is written.

    Raises:
        NotFoundFault: there is none.
    """
    key = reference_key(name)
    found = next((each for each in people(session) if reference_key(each.name) == key), None)
    if found is None:
        raise NotFoundFault(
            "No such person", phrase('"{name}" is not in the register.', name=name), "Add the person first."
        )
    return found


def add_person(tx: Transaction, name: str, position: str) -> int:
    """Add a person; returns the id.

    Raises:
        EntryFault: the name is empty or taken.
    """
    key = reference_key(name)
    if not key:
        raise EntryFault("A person needs a name", f'"{name}".', "Give the name as it stands on the records.")
    taken = tx.session.execute(select(PersonRow.name).where(PersonRow.name_key == key)).scalar_one_or_none()
    if taken is not None:
        detail = phrase('"{name}" is the same as "{taken}".', name=name, taken=taken)
        raise EntryFault("That person is there already", detail, "Add a competence to that one.")
    row = PersonRow(name=name.strip(), name_key=key, position=position.strip(), left_on=None)
    return tx.insert(row)


def amend_person(tx: Transaction, person_id: int, *, position: str | None, left_on: date | None) -> None:
    """Change what a person is, or the last day here; None leaves either."""
    fields = {"position": position, "left_on": left_on}
    tx.amend(PersonRow, person_id, **{name: value for name, value in fields.items() if value is not None})


def add_competence(tx: Transaction, person_id: int, competence: Competence) -> int:
    """Add a competence of a person; returns its id."""
    row = CompetenceRow(
        person_id=person_id,
        subject=competence.subject.strip(),
        certificate=competence.certificate.strip(),
        from_on=competence.from_on,
        until_on=competence.until_on,
        at=tx.at,
        who=tx.who,
        withdraws=None,
        why="",
    )
    return tx.insert(row)


def withdraw_competence(tx: Transaction, competence_id: int, why: str) -> int:
    """Take a competence back; returns the person's id.

    Raises:
        NotFoundFault: there is none with this id that counts.
    """
    there = {held.id: each for each in people(tx.session) for held in each.competences}
    if competence_id not in there:
        detail = phrase(
            "competence {competence_id} is not there, or was withdrawn already.", competence_id=competence_id
        )
        raise NotFoundFault("No such competence", detail, "Look at the list of people.")
    person = there[competence_id]
    (held,) = (each for each in person.competences if each.id == competence_id)
    row = CompetenceRow(
        person_id=person.id,
        subject=held.subject,
        certificate=held.certificate,
        from_on=held.from_on,
        until_on=held.until_on,
        at=tx.at,
        who=tx.who,
        withdraws=competence_id,
        why=why.strip(),
    )
    tx.insert(row)
    return person.id


def visits_judged_on(session: Session, name: str, code: str) -> dict[int, date]:
    """Valves with a visit of a person of which some judgement failed a check: the first such day of each."""
    query = (
        select(VisitRow.valve_id, VisitRow.visited_on, VisitRow.person)
        .join(JudgementRow, JudgementRow.visit_id == VisitRow.id)
        .join(FindingRow, FindingRow.judgement_id == JudgementRow.id)
        .where(FindingRow.code == code)
        .distinct()
    )
    key, found = reference_key(name), dict[int, date]()
    for valve_id, on, person in session.execute(query):
        if reference_key(person) == key:
            found[valve_id] = min(on, found.get(valve_id, on))
    return found

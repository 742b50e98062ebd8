"""Read the register once for everything that a window shows on opening it."""

from datetime import date

from estate.domain.estate_reading import EstateReading
from estate.operations.browse import identity_in, tree_of
from estate.operations.plan_basis import read_plan_basis
from estate.operations.plan_retests import lines_of
from estate.operations.register import Register
from estate.operations.today import today_in
from estate.store import actions, batches, instruments, people, places, roles
from estate.store.visit_records import uncollected


def read_estate(register: Register, today: date) -> EstateReading:
    """Places, due lines, first page and what else is found by its words, from one reading.

    Args:
        register: the open register.
        today: the as-at day.
    """
    # Every value stays, so looking for garbage among them costs time and finds none.
    with register.database.reading() as session, uncollected():
        basis = read_plan_basis(session, register.published, today)
        lines = lines_of(basis, today)
        return EstateReading(
            identity=identity_in(session, basis.rulebook, basis.outlets),
            tree=tree_of(basis, places.rooms(session, bare=True), lines),
            lines=lines,
            today=today_in(session, basis, lines, today),
            instruments=instruments.instruments(session),
            actions=actions.actions(session),
            people=people.people(session),
            batches=batches.batches(session),
            outlets=basis.outlets,
            valves=basis.valves,
            fittings=basis.fittings,
            role=roles.role_of_login(session),
        )

"""Work out the next window of every valve in place."""

from collections.abc import Mapping
from datetime import date

from estate.domain.due import DueLine
from estate.domain.learned import Learned
from estate.domain.places import Outlet
from estate.domain.valves import Fitting
from estate.operations.holdings import Holdings, read_holdings
from estate.operations.learn import learned_of
from estate.operations.register import Register
from estate.scheduler.interval import plan


def due_lines(register: Register, today: date) -> tuple[DueLine, ...]:
    """One line for every valve in place that serves an outlet in use, in walking order."""
    with register.database.reading() as session:
        return lines_of(read_holdings(session, register.published, on=today), today)


def lines_of(holdings: Holdings, today: date) -> tuple[DueLine, ...]:
    """The due lines of a reading of the register."""
    in_place = holdings.in_place(today)
    learned = learned_of(holdings, in_place.values())
    return tuple(
        _line(holdings, in_place[position], outlets, today, learned)
        for position, outlets in holdings.by_position.items()
        if position in in_place
    )


def _line(
    holdings: Holdings,
    fitting: Fitting,
    outlets: tuple[Outlet, ...],
    today: date,
    learned: Mapping[int, Learned],
) -> DueLine:
    first = outlets[0]
    rules = holdings.rules_at(first)
    life = holdings.life(fitting)
    return DueLine(
        ref=first.reference,
        outlet_id=first.id,
        valve_id=fitting.valve_id,
        valve=holdings.valves[fitting.valve_id].words,
        path=first.path,
        use=first.use,
        user_group=max((each.user_group for each in outlets), key=lambda group: group.vulnerability),
        window=plan(life, rules, today, learned.get(fitting.valve_id)),
        today=today,
        rule_set=rules.id,
        last_visit=life.last.on if life.last else None,
        verdict=life.judgement.verdict if life.judgement else None,
        also_serves=tuple(each.reference for each in outlets[1:]),
    )

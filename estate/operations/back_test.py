"""Test the register's predictions on its own history: hide each valve's last reading and predict it."""

from datetime import date

from estate.operations.holdings import read_holdings
from estate.operations.learn import asked_of, names_of
from estate.operations.register import Register
from estate.scheduler import backtest


def back_test(register: Register, on: date) -> backtest.BackTest:
    """How well the readings up to a day were predicted by those before them.

    Args:
        register: the open register.
        on: readings after it are left out.

    Returns:
        Coverage of the 50, 80 and 95 % intervals and a reliability table of crossings, with the number
        of cases; all counts zero for a register without two readings of any valve.
    """
    with register.database.reading() as session:
        holdings = read_holdings(session, register.published, on=on)
    served = [
        (fitting, holdings.by_position[fitting.position_id])
        for fitting in holdings.fittings
        if fitting.position_id in holdings.by_position
    ]
    return backtest.back_test_of(
        [holdings.life(fitting) for fitting, _ in served],
        [asked_of(holdings, *each).ceiling_c for each in served],
        [names_of(holdings, fitting, outlets[0]) for fitting, outlets in served],
    )

from dataclasses import replace
from datetime import date, timedelta

from estate.domain.learned import GroupParameters
from estate.store import fits
from estate.store.database import Database
from estate.store.transaction import writing
from tests.store.builders import NOW

FIT = GroupParameters("estate", 0.02, 0.03, 0.1, 0.25, 2.0, 40.0, 12, 90, date(2026, 5, 1), "1")


def keep(database: Database, *found: GroupParameters, later: int = 0) -> None:
    with writing(database, "A. Officer", "fitted the groups", NOW + timedelta(minutes=later)) as tx:
        fits.add_fits(tx, found)


def test_that_the_fits_of_a_past_day_can_be_found_again(database: Database) -> None:
    later = replace(FIT, fitted_on=date(2026, 6, 1), mu=0.03)
    keep(database, FIT, replace(FIT, name="A15"))
    keep(database, later)
    with database.reading() as session:
        assert fits.fits_as_of(session, date(2026, 4, 30)) == {}
        assert fits.fits_as_of(session, date(2026, 5, 31)) == {"estate": FIT, "A15": replace(FIT, name="A15")}
        assert fits.fits_as_of(session, date(2026, 6, 1)) == {"estate": later}


def test_that_of_two_fits_of_one_day_the_later_counts_as_a_whole(database: Database) -> None:
    keep(database, FIT, replace(FIT, name="A15"))
    keep(database, replace(FIT, mu=0.05), later=5)
    with database.reading() as session:
        assert fits.fits_as_of(session, FIT.fitted_on) == {"estate": replace(FIT, mu=0.05)}


def test_that_withdrawn_fits_count_no_longer_from_that_day_on(database: Database) -> None:
    with writing(database, "A. Officer", "fitted", NOW) as tx:
        fits.add_fits(tx, [replace(FIT, fitted_on=date(2026, 4, 1))])
        fits.add_fits(tx, [FIT])
        fits.withdraw_fits(tx, FIT.fitted_on)
    with database.reading() as session:
        assert fits.fits_as_of(session, FIT.fitted_on) == {}
        assert list(fits.fits_as_of(session, date(2026, 4, 1))) == [FIT.name]
    with writing(database, "A. Officer", "fitted", NOW) as tx:
        fits.add_fits(tx, [FIT])
    with database.reading() as session:
        assert fits.fits_as_of(session, FIT.fitted_on) == {FIT.name: FIT}

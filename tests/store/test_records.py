from dataclasses import fields

from estate.domain.visits import Isolation, Readings, measured
from estate.store.records import reading_columns, reading_values
from estate.store.visit_records import VISIT_COLUMNS
from estate.store.visit_schema import VisitRow
from tests.store.builders import EVERYTHING_MEASURED


def test_that_every_reading_has_a_column_of_its_own() -> None:
    isolation = [each.name for each in fields(Isolation)]
    single = [each.name for each in fields(Readings) if not each.name.endswith("_isolated")]
    both = [f"{which}_isolated_{name}" for which in ("cold", "hot") for name in isolation]
    assert sorted(reading_columns()) == sorted(single + both)
    assert set(reading_columns()) <= set(VisitRow.__table__.columns.keys())


def test_that_every_column_of_a_visit_is_read() -> None:
    assert sorted(VISIT_COLUMNS) == sorted(VisitRow.__table__.columns.keys())


def test_that_the_example_measures_everything_and_is_laid_out_by_name() -> None:
    told = {name.replace(".", "_"): value for name, value in measured(EVERYTHING_MEASURED).items()}
    assert told == reading_values(EVERYTHING_MEASURED)
    assert len(told) == len(reading_columns())


def test_that_no_two_readings_of_the_example_could_be_mixed_up() -> None:
    figures = [value for value in reading_values(EVERYTHING_MEASURED).values() if isinstance(value, float)]
    assert len(set(figures)) == len(figures)

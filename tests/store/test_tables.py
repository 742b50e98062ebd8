from estate.store import identity, tables, visits
from estate.store.database import Database
from estate.store.transaction import Transaction, writing
from estate.store.upgrade import newest_revision
from tests.store.builders import DAY, NOW, add_basin, draft


def test_that_every_table_is_told_with_its_rows(tx: Transaction) -> None:
    basin = add_basin(tx)
    visits.add_visits(tx, [draft(basin), draft(basin)], None)
    told = {name: (columns, list(rows)) for name, columns, rows in tables.every_table(tx.session)}
    columns, rows = told["visit"]
    first = dict(zip(columns, rows[0], strict=True))
    assert (first["id"], first["visited_on"], first["found_c"], first["hot_c"]) == (1, DAY, 41.2, None)
    assert len(rows) == 2
    assert told["site"] == (
        ["id", "name", "name_key", "row_version"],
        [(1, "Marlpit Cross", "marlpitcross", 1)],
    )
    assert told["batch"][1] == []


def test_that_no_table_is_left_out_and_no_bytes_are_told(database: Database) -> None:
    with database.reading() as session:
        told = {name: columns for name, columns, _ in tables.every_table(session)}
    assert len(told) == 44
    assert "content" not in told["batch"]
    assert "digest" in told["batch"]


def test_that_a_register_says_who_it_is(database: Database) -> None:
    with database.reading() as session:
        assert identity.name(session) == "Marlpit Cross"
        assert identity.identifier(session) == "mx-1"
        assert identity.revision(session) == newest_revision()


def test_that_many_rows_are_told_in_order(database: Database) -> None:
    with writing(database, "A. Officer", "many", NOW) as tx:
        basin = add_basin(tx)
        visits.add_visits(tx, [draft(basin)] * 4500, None)
    with database.reading() as session:
        told = next(rows for name, _, rows in tables.every_table(session) if name == "visit")
        assert [row[0] for row in told] == list(range(1, 4501))

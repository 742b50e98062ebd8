"""One reading tells the same as reading for each thing apart."""

from estate.operations import browse, browse_batches, keep_people, make_roles
from estate.operations.plan_retests import due_lines
from estate.operations.read_estate import read_estate
from estate.operations.register import Register
from estate.operations.today import today_of
from estate.store import actions, places, valves
from tests.builders import TODAY


def test_that_one_reading_tells_the_same_as_the_separate_ones(only_read: Register) -> None:
    read = read_estate(only_read, TODAY)
    assert read.identity == browse.identity(only_read)
    assert read.tree == browse.tree(only_read, TODAY)
    assert read.lines == due_lines(only_read, TODAY)
    assert len(read.lines) > 0
    assert read.today == today_of(only_read, TODAY)
    assert read.instruments == browse.instruments(only_read)
    assert read.people == keep_people.people_known(only_read).known
    assert read.batches == browse_batches.batches(only_read)
    assert read.role is make_roles.my_role(only_read)
    with only_read.database.reading() as session:
        assert read.actions == actions.actions(session)
        assert read.outlets == places.outlets(session)
        assert read.valves == valves.valves(session)
        assert read.fittings == valves.fittings(session)


def test_that_an_empty_register_is_read_too(empty: Register) -> None:
    read = read_estate(empty, TODAY)
    assert (read.tree, read.lines, read.outlets) == ((), (), ())
    assert read.today == today_of(empty, TODAY)

from estate.domain.route import next_on_route
from tests.window.builders import due_line


def test_that_the_walk_goes_on_to_the_next_open_window() -> None:
    lines = [due_line(1), due_line(2, before=1, after=30), due_line(3, before=0, after=30)]
    found = next_on_route(lines, 1)
    assert found is not None
    assert found.outlet_id == 3


def test_that_the_walk_ends_and_begins_nowhere_else() -> None:
    lines = [due_line(1), due_line(2, before=1, after=30)]
    assert next_on_route(lines, 1) is None
    assert next_on_route(lines, 2) is None
    assert next_on_route(lines, 9) is None

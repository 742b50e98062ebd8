"""The walk from one valve that waits for its test to the next."""

from collections.abc import Sequence

from estate.domain.due import DueLine


def next_on_route(lines: Sequence[DueLine], valve_id: int) -> DueLine | None:
    """The next valve on the way that may be tested now.

    Args:
        lines: every valve, in walking order.
        valve_id: the valve that was just tested.

    Returns:
        The first line behind it whose window is open or past; None at the end of the walk, and where the
        valve is not among the lines.
    """
    bodies = [each.valve_id for each in lines]
    if valve_id not in bodies:
        return None
    behind = lines[bodies.index(valve_id) + 1 :]
    return next((each for each in behind if each.window.not_before <= each.today), None)

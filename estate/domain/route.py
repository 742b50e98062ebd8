"""The walk from one valve that waits for its test to the next."""

from collections.abc import Sequence

from estate.domain.due import DueLine


def next_on_route(lines: Sequence[DueLine], outlet_id: int) -> DueLine | None:
    """The next valve on the way that may be tested now.

    Args:
        lines: every valve, in walking order.
        outlet_id: the outlet that was just tested; of a valve with several, any of them.

    Returns:
        The first line behind it whose window is open or past; None at the end of the walk, and where the
        outlet is not among the lines.
    """
    refs = [each.outlet_id for each in lines]
    if outlet_id not in refs:
        return None
    behind = lines[refs.index(outlet_id) + 1 :]
    return next((each for each in behind if each.window.not_before <= each.today), None)

"""The order in which the temperatures of one visit stand if they were read and written right."""

from estate.domain.visits import Readings

SLACK_K = 2.0
"""Two instruments, or one moved between taps, may differ by this much (this register's own allowance)."""
COLDEST_C = 2.0
"""A cold supply below this is close to freezing and more likely a slipped decimal (likewise)."""
SLIP = 5.0
"""As found and as left apart by this factor: a slipped decimal (likewise)."""

Doubtful = tuple[str, str]


def out_of_order(readings: Readings) -> Doubtful | None:
    """The first temperature that can't stand beside the others of its visit, and why.

    A mixed temperature lies between those of the two supplies (conservation of energy, PH-02), and the hot
    supply is warmer than the cold one. What breaks this was swapped, slipped or read elsewhere, or the
    supplies failed: a person has to say which.

    Args:
        readings: °C; a value not measured is not looked at.

    Returns:
        Name of the field and words; None where nothing speaks against the readings.
    """
    return _supplies(readings) or _mixed(readings) or _slipped(readings)


def _supplies(readings: Readings) -> Doubtful | None:
    hot, cold = readings.hot_c, readings.cold_c
    if cold is not None and cold < COLDEST_C:
        return "cold_c", f"Cold supply {cold:g} °C is close to freezing: did a decimal slip?"
    if hot is not None and cold is not None and hot < cold:
        return (
            "hot_c",
            f"Hot supply {hot:g} °C is colder than the cold supply, {cold:g} °C: were they swapped?",
        )
    return None


def _mixed(readings: Readings) -> Doubtful | None:
    hot, cold = readings.hot_c, readings.cold_c
    for field, name, value in (
        ("found_c", "Mixed as found", readings.found_c),
        ("left_c", "Mixed as left", readings.left_c),
        ("cold_isolated.max_c", "Highest mixed with the cold isolated", readings.cold_isolated.max_c),
    ):
        if value is None:
            continue
        if hot is not None and value > hot + SLACK_K:
            return (
                field,
                f"{name} {value:g} °C is hotter than the hot supply, {hot:g} °C: is one of them wrong?",
            )
        if cold is not None and value < cold - SLACK_K:
            return (
                field,
                f"{name} {value:g} °C is colder than the cold supply, {cold:g} °C: is one of them wrong?",
            )
    return None


def _slipped(readings: Readings) -> Doubtful | None:
    found, left = readings.found_c, readings.left_c
    if found is None or left is None or max(found, left) <= SLIP * min(found, left):
        return None
    field, value, other = ("left_c", left, found) if left < found else ("found_c", found, left)
    return field, f"{value:g} °C beside {other:g} °C: did a decimal slip?"

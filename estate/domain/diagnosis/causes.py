"""The causes that are weighed, in the order in which the trade checks them."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Final

from estate.domain.diagnosis import outside_causes, pipe_causes, valve_causes
from estate.domain.diagnosis.course import Course
from estate.domain.diagnosis.evidence import (
    BEFORE_ADJUSTING,
    FAULT_LISTS,
    PRACTICE,
    SERVICE_NEEDED,
    SUPPLIES_MATTER,
    Evidence,
)
from estate.domain.phrases import phrase


@dataclass(frozen=True, slots=True)
class Cause:
    """One cause.

    Attributes:
        code: stable name.
        check: what to do to find out, after the three checks of D08-72.
        shows: what it shows if this is the cause.
        source: of the check.
        weigh: finds the evidence.
    """

    code: str
    name: str
    check: str
    shows: str
    source: str
    weigh: Callable[[Course], Iterator[Evidence]]


CAUSES: Final = (
    Cause(
        "instrument",
        phrase("the thermometer reads wrong"),
        phrase("Read again with a second thermometer in calibration, both in the same water."),
        phrase("the two differ"),
        f"D08-71; {PRACTICE}",
        outside_causes.instrument,
    ),
    Cause(
        "supply-changed",
        phrase("a supply has changed since the reference"),
        phrase("Measure both supplies at the inlets, temperature and pressure, at rest and while it runs."),
        phrase("a figure is not that of the reference"),
        SUPPLIES_MATTER,
        outside_causes.supply_changed,
    ),
    Cause(
        "imbalance",
        phrase("the supply pressures are out of balance"),
        phrase("Read both flow pressures at one time, also while other outlets on the same pipes run."),
        phrase("their ratio passes the model's own figure"),
        f"D08-26, TP-04; {PRACTICE}",
        outside_causes.imbalance,
    ),
    Cause(
        "reversed",
        phrase("hot and cold are the wrong way round"),
        phrase("Follow both pipes to the marks on the body."),
        phrase("the hot pipe leads to the cold inlet"),
        f"TP-07, {PRACTICE}",
        outside_causes.reversed_supplies,
    ),
    Cause(
        "cold-restricted",
        phrase("the cold side is restricted"),
        phrase(
            "Compare the cold pressure before and behind strainer and isolating valve while the outlet runs."
        ),
        phrase("it falls across one of them"),
        PRACTICE,
        pipe_causes.cold_restricted,
    ),
    Cause(
        "hot-restricted",
        phrase("the hot side is restricted"),
        phrase(
            "Compare the hot pressure before and behind strainer and isolating valve while the outlet runs."
        ),
        phrase("it falls across one of them"),
        PRACTICE,
        pipe_causes.hot_restricted,
    ),
    Cause(
        "check-valve",
        phrase("a check valve passes"),
        phrase(
            "With the outlet shut, measure both pipes at the valve; isolate the hotter supply, measure again."
        ),
        phrase("the cold pipe is warm (or the hot one cool) only while both supplies are open"),
        PRACTICE,
        pipe_causes.check_valve_passing,
    ),
    Cause(
        "adjuster",
        phrase("the adjuster was turned"),
        phrase("Look at the cap and its seal, and ask who has worked there."),
        phrase("the cap is off or its seal broken"),
        f"TP-06, {PRACTICE}",
        valve_causes.adjuster_turned,
    ),
    Cause(
        "element",
        phrase("the thermostatic element does not regulate"),
        phrase("Draw fully, then by half, then isolate the cold: watch the mixed temperature each time."),
        phrase("it moves by more than 2 K, or it does not shut"),
        SERVICE_NEEDED,
        valve_causes.element,
    ),
    Cause(
        "seals",
        phrase("seals or seats are worn"),
        phrase("Isolate each supply in turn, wait, and collect what still flows for a minute."),
        phrase("more flows than is accepted while the mix itself is right"),
        SERVICE_NEEDED,
        valve_causes.seals,
    ),
    Cause(
        "scale",
        phrase("scale in the valve"),
        phrase("Open the valve at its service and look at element and seats."),
        phrase("they are crusted"),
        FAULT_LISTS,
        valve_causes.scale,
    ),
)
"""In the order of checking (D08-72 for the fittings; the rest common practice, no source)."""


@dataclass(frozen=True, slots=True)
class BeforeAdjusting:
    """One of the three checks before re-adjusting.

    Attributes:
        field: the reading that says whether it was done.
        clears: causes that it would show.
    """

    words: str
    shows: str
    field: str
    clears: tuple[str, ...]
    source: str = BEFORE_ADJUSTING


BEFORE: Final = (
    BeforeAdjusting(
        phrase("Look into both strainers and clean them."),
        phrase("they are dirty or crusted"),
        "strainers_cleaned",
        ("cold-restricted", "hot-restricted", "scale"),
    ),
    BeforeAdjusting(
        phrase("Check that the check valves are in good order."),
        phrase("one sticks or passes"),
        "check_valves_good",
        ("check-valve", "cold-restricted", "hot-restricted"),
    ),
    BeforeAdjusting(
        phrase("Check that both isolating valves are fully open."),
        phrase("one is not"),
        "isolating_valves_open",
        ("cold-restricted", "hot-restricted", "imbalance"),
    ),
)
"""The three checks of D08-72, in its order."""

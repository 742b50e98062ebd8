"""The procedures at a valve: their steps in order, what each records, and where it comes from.

The order matters: what is found before anything is turned tells how the valve has drifted, and a supply is
isolated only after the valve was set (D08-50..64, D08-71..74, TP-01..07).
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from types import MappingProxyType
from typing import Final

from estate.domain.phrases import phrase, together
from estate.domain.steps import Steps
from estate.domain.visits import Readings, VisitKind, measured

COMMON_PRACTICE: Final = "common practice, no source"
SCALD: Final = phrase(
    "Scald risk: let nobody use the outlet until the test is done; never feel for the temperature by hand."
)
ISOLATION: Final = phrase("Isolate slowly and open again slowly; tell those whom the same pipes serve.")
HYGIENE: Final = phrase(
    "Hygiene: clean and disinfect vessel, probe and strainers; flush afterwards; spray can carry legionella."
)


@dataclass(frozen=True, slots=True)
class Step:
    """One step.

    Attributes:
        key: stable, such as ``right-way-round``.
        words: what is done, as an instruction.
        source: the fact it rests on, or "common practice, no source".
        readings: dotted names of the readings that it records, in the order in which they are taken.
        asked: whether it is answered with yes or no, under `key`.
        wrong: what a no means; empty where a no is nothing to put right.
        if_needed: only where the valve changed; nothing is missing without it.
        caution: what can hurt someone here.
    """

    key: str
    words: str
    source: str
    readings: tuple[str, ...] = ()
    asked: bool = False
    wrong: str = ""
    if_needed: bool = False
    caution: str = ""


def _asked(key: str, words: str, source: str, wrong: str) -> Step:
    return Step(key, words, source, asked=True, wrong=wrong)


_PRESSURES = ("hot_static_bar", "cold_static_bar", "hot_flow_bar", "cold_flow_bar")
_COLD_OFF = tuple(
    f"cold_isolated.{name}" for name in ("shut_s", "residual_ml_min", "max_c", "stabilised_c", "residual_c")
)
_HOT_OFF = ("hot_isolated.shut_s", "hot_isolated.residual_ml_min")

_FITTED: Final = (
    _asked(
        "designation-fits",
        phrase("Read the valve's designation and compare it with what the outlet is for."),
        "D08-50",
        phrase("The valve is not designated for this use."),
    ),
    _asked(
        "right-way-round",
        phrase("See that hot and cold are connected the right way round, by the marks on the body."),
        "TP-07",
        phrase("Hot and cold are connected the wrong way round."),
    ),
    _asked(
        "washers",
        phrase("See that the unions are sealed with washers."),
        "TP-07",
        phrase("Washers are missing."),
    ),
    _asked(
        "strainers-fitted",
        phrase("See that strainers are fitted and clean."),
        "D08-53",
        phrase("Strainers are missing or not clean."),
    ),
    _asked(
        "check-valves-fitted",
        phrase("See that check valves are fitted in both supplies."),
        COMMON_PRACTICE,
        phrase("Check valves are missing: hot and cold can cross."),
    ),
    _asked(
        "isolating-valves-fitted",
        phrase("See that isolating valves are fitted in both supplies and can be reached."),
        "D08-53, TP-07",
        phrase("Isolating valves are missing or out of reach: the valve can't be tested."),
    ),
    _asked("watertight", phrase("See that everything is watertight."), "D08-53", phrase("It leaks.")),
    _asked(
        "access",
        phrase("See that there is room to test and service the valve."),
        "TP-07",
        phrase("The valve can't be reached for test and service."),
    ),
    _asked(
        "support",
        phrase("See that valve and pipes are held firmly."),
        COMMON_PRACTICE,
        phrase("Valve or pipes are loose."),
    ),
    _asked(
        "clearance",
        phrase("See that the valve stands clear of the outlet and the outlet clear of the rim below it."),
        COMMON_PRACTICE,
        phrase("Valve or outlet does not stand clear."),
    ),
)

_SUPPLIES: Final = Step(
    "supply-temperatures",
    phrase("Measure the hot and the cold supply, each after it ran steady."),
    "D08-52, D08-55",
    ("hot_c", "cold_c"),
    caution=SCALD,
)
_FOUND: Final = Step(
    "as-found",
    phrase(
        "Before anything is turned, measure the mixed temperature at the largest draw-off, once steady, the"
        " probe fully in the water."
    ),
    "D08-56, D08-63, D08-72",
    ("found_c", "flow_l_min"),
    caution=SCALD,
)
_TRAVEL: Final = _asked(
    "full-travel",
    phrase("Turn the adjuster through its full travel at least three times."),
    "D08-54",
    phrase("The adjuster does not travel freely."),
)
_SET: Final = Step(
    "set",
    phrase(
        "Set the mixed temperature; measure it at the largest draw-off, once steady, the probe fully in the"
        " water."
    ),
    "D08-54, D08-56, D08-63, TP-01",
    ("left_c", "flow_l_min"),
    caution=SCALD,
)
_SET_AGAIN: Final = Step(
    "set-again",
    phrase("Re-adjust only after the checks above, then measure again."),
    "D08-73",
    ("left_c",),
    if_needed=True,
    caution=SCALD,
)
_PROOF: Final = (
    Step(
        "smaller-draw",
        phrase("Measure it again at a smaller draw-off, and that draw-off too."),
        "D08-57",
        ("small_draw_c", "small_draw_l_min"),
    ),
    Step(
        "cold-isolated",
        phrase(
            "Isolate the cold: time how long it takes to shut; after the wait collect what still flows for a"
            " minute; note the highest and the steady temperature. Open the cold again."
        ),
        "D08-58, D08-59, D08-90, TP-02",
        _COLD_OFF,
        caution=together(SCALD, ISOLATION),
    ),
    Step(
        "hot-isolated",
        phrase("Isolate the hot in the same way. Open it again."),
        "D08-61, TP-06",
        _HOT_OFF,
        caution=ISOLATION,
    ),
    Step("cap", phrase("Refit the cap over the adjuster."), "TP-06", ("cap_refitted",)),
)

CHECKS_BEFORE_SETTING: Final = (
    Step(
        "strainers-clean",
        phrase("See that the strainers are clean, in line and in the valve."),
        "D08-72",
        ("strainers_cleaned",),
        if_needed=True,
        caution=HYGIENE,
    ),
    Step(
        "check-valves-good",
        phrase("See that the check valves are in good order."),
        "D08-72",
        ("check_valves_good",),
        if_needed=True,
    ),
    Step(
        "isolating-valves-open",
        phrase("See that the isolating valves are fully open."),
        "D08-72",
        ("isolating_valves_open",),
        if_needed=True,
    ),
)
"""What is looked at before a valve that changed is re-adjusted, in this order."""

COMMISSIONING: Final = (
    *_FITTED,
    Step(
        "supply-pressures",
        phrase("Measure both supply pressures, standing and flowing."),
        "D08-51",
        _PRESSURES,
    ),
    _TRAVEL,
    _SUPPLIES,
    _SET,
    *_PROOF,
)
IN_SERVICE: Final = (_SUPPLIES, _FOUND, *CHECKS_BEFORE_SETTING, _SET_AGAIN, *_PROOF)
SERVICE: Final = (
    _FOUND,
    _asked(
        "isolated",
        phrase("Isolate hot and cold and let the pressure off before the valve is opened."),
        COMMON_PRACTICE,
        phrase("The valve was opened under pressure."),
    ),
    Step(
        "strainers-cleaned",
        phrase("Take out the strainers, clean, descale and disinfect them."),
        "HSE-09",
        ("strainers_cleaned",),
        caution=HYGIENE,
    ),
    _asked("descaled", phrase("Descale the parts that water touches, as the maker says."), "HSE-09", ""),
    _asked("disinfected", phrase("Disinfect the parts before they go back in."), "HSE-09", ""),
    *(replace(step, if_needed=False) for step in CHECKS_BEFORE_SETTING[1:]),
    _TRAVEL,
    _SUPPLIES,
    replace(_SET, source=f"{_SET.source}, D08-64"),
    *_PROOF,
)

PROCEDURES: Final[Mapping[VisitKind, tuple[Step, ...]]] = MappingProxyType(
    {
        VisitKind.COMMISSIONING: COMMISSIONING,
        VisitKind.IN_SERVICE: IN_SERVICE,
        VisitKind.SERVICE: SERVICE,
    }
)
"""The steps of each kind of visit, in the order in which the work is done."""


def asked_steps(kind: VisitKind) -> tuple[Step, ...]:
    """The steps of a procedure that are answered with yes or no."""
    return tuple(step for step in PROCEDURES[kind] if step.asked)


def not_done(kind: VisitKind, readings: Readings, steps: Steps) -> Iterator[Step]:
    """Each step of a procedure of which nothing is on record, in order."""
    there = measured(readings)
    for step in PROCEDURES[kind]:
        told = (
            steps.said(step.key) is not None if step.asked else any(name in there for name in step.readings)
        )
        if not told and not step.if_needed:
            yield step


def wrong(kind: VisitKind, steps: Steps) -> Iterator[tuple[Step, str]]:
    """Each step that was answered with no though a no must be put right, with the remark made on it."""
    for step in PROCEDURES[kind]:
        if step.wrong and steps.said(step.key) is False:
            yield step, steps.by_key[step.key].remark

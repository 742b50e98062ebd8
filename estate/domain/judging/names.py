"""What each check is called; a judgement kept without its untested words is read back by these."""

from collections.abc import Mapping
from types import MappingProxyType

from estate.domain.procedures import PROCEDURES

_STEPS = {
    f"step-{step.key}": f"{step.words} ({step.source})"
    for steps in PROCEDURES.values()
    for step in steps
    if step.asked
}
CHECK_NAMES: Mapping[str, str] = MappingProxyType(
    {
        "reading-unlikely": "Reading unlikely for this valve, confirmed by the person who entered it",
        "found-above-ceiling": "Mixed temperature as found against the ceiling",
        "left-above-ceiling": "Mixed temperature as left against the ceiling",
        "left-off-set": "Mixed temperature as left against the set temperature",
        "small-draw-above-ceiling": "Mixed temperature at a smaller draw-off (D08-57)",
        "bath-above-immersion-limit": "Bath temperature for people who may be immersed (HSE-12)",
        "changed-since-previous": "Change since the previous visit (D08-72)",
        "changed-since-reference": "Change since the reference (D08-74)",
        "cold-isolated-flow": "Residual flow with the cold isolated (TP-02)",
        "cold-isolated-stabilised": "Stabilised temperature with the cold isolated (D08-59)",
        "cold-isolated-highest": "Highest temperature after isolating the cold (D08-59)",
        "cold-isolated-rise": "Rise of the highest temperature since the previous test (D08-74)",
        "cold-isolated-time": "Time to shut with the cold isolated (D08-90)",
        "hot-isolated-flow": "Residual flow with the hot isolated (D08-61, TP-06)",
        "hot-isolated-time": "Time to shut with the hot isolated",
        "hot-too-cool": "Hot supply against legionella control (HSE-01)",
        "hot-outside-class": "Hot supply against the class's conditions of use (D08-22)",
        "cold-too-warm": "Cold supply against legionella control (HSE-03)",
        "cold-outside-class": "Cold supply against the class's conditions of use (D08-23)",
        "supplies-reversed": "Hot and cold the right way round (TP-07)",
        "differential-too-small": "Hot-to-mix differential against the model's own figure (D08-24)",
        "hot-static-pressure": "Hot static pressure (D08-20)",
        "hot-flow-pressure": "Hot flow pressure (D08-21)",
        "cold-static-pressure": "Cold static pressure (D08-20)",
        "cold-flow-pressure": "Cold flow pressure (D08-21)",
        "pressure-ratio": "Balance of the pressures (D08-26, TP-04)",
        "pipe-too-long": "Length of blended pipe (TP-03)",
        "class-too-low": "Class of valve against its users (D08-06)",
        "designation-unfit": "Designation against the use (D08-50)",
        "strainers-overdue": "Strainers cleaned in time (HSE-09, HSE-10)",
        "check-valves": "Check valves in good order (D08-72)",
        "isolating-valves": "Isolating valves fully open (D08-72)",
        "cap": "Cap refitted over the adjuster (TP-06)",
        "instrument-out-of-calibration": "Instrument in calibration on the day (D08-60)",
        "person-competence": "Competence of the person on the day (HSE-09)",
        "instrument-of-other-kind": "Instrument of the same specification as last time (D08-71)",
    }
    | _STEPS
)
"""Name of every check by its code, with the fact that it rests on."""

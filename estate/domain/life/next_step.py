"""What is to be done now about an action, in words, and what a person may do about it."""

from typing import Final

from estate.domain.judging.instrument import OUT_OF_DATE
from estate.domain.life.actions import MOVES, Action, ActionKind, ActionState, Step
from estate.domain.life.guards import BY_ITSELF
from estate.domain.life.outlet_use import OutletUse, UseOfOutlet
from estate.domain.phrases import phrase

ORDER: Final = (
    *(Step.MAKE_SAFE, Step.PUT_RIGHT, Step.RETEST, Step.CLOSE, Step.ASSIGN, Step.RETARGET),
    *(Step.NOTE, Step.REOPEN, Step.CANCEL),
)
"""The steps in the order in which a person takes them."""

_TEST_AGAIN: Final = phrase(
    "Test again; a valve that was adjusted or repaired is set up anew: record that as service or "
    "commissioning (D08-64)."
)


def next_step(action: Action, use: UseOfOutlet) -> str:
    """What is to be done now; empty where nothing is."""
    if not action.state.live:
        return ""
    if action.state is ActionState.RETESTED:
        if use.use is OutletUse.OUT_OF_USE:
            return phrase("The retest passed: put the outlet back in use and close it.")
        return phrase("The retest passed: close it.")
    stops = bool(action.stop_codes) or action.opening.kind is ActionKind.COMMISSIONING
    if stops and use.use is OutletUse.IN_USE:
        return phrase("Take the outlet out of use now: tell the person in charge of the area, put a sign up.")
    if action.state is ActionState.PUT_RIGHT:
        return _TEST_AGAIN if action.asks_retest else phrase("Close it.")
    if action.opening.kind is ActionKind.COMMISSIONING:
        return phrase("Commission the valve and record the visit.")
    if action.codes == {OUT_OF_DATE}:
        return phrase("Test again with an instrument in calibration, or justify why the visit counts.")
    if action.asks_retest:
        return phrase("Have it put right by a competent person, then test again.")
    return phrase("Have it put right by a competent person.")


def possible_steps(action: Action) -> tuple[Step, ...]:
    """What a person may do about an action now, as far as the table of changes goes."""
    by_hand = [step for step in ORDER if step not in BY_ITSELF and (action.state, step) in MOVES]
    if action.opening.kind is not ActionKind.WORK:
        by_hand = [step for step in by_hand if step is not Step.RETEST]
    if action.state is ActionState.PUT_RIGHT and action.asks_retest:
        by_hand = [step for step in by_hand if step is not Step.CLOSE]
    return tuple(by_hand)

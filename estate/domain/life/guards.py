"""Why a change of an action is refused, beyond the table of changes."""

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType
from typing import Final

from estate.domain.dates import day_words
from estate.domain.life.actions import MOVES, Action, ActionKind, ActionState, EventDraft, Step
from estate.domain.life.faults import Faults
from estate.domain.phrases import phrase

GUARDS: Final[Mapping[Step, str]] = MappingProxyType(
    {
        Step.MAKE_SAFE: phrase("Say what was done."),
        Step.PUT_RIGHT: phrase("Say what was done."),
        Step.RETEST: phrase(
            "A later visit that counts found in order every check that failed; a commissioning "
            "asked for was made and is satisfactory."
        ),
        Step.FOUND_AGAIN: phrase("Only by a visit that is not known to the action yet."),
        Step.CORRECT: phrase("Only by the entry that corrects its visit."),
        Step.CLOSE: phrase("The retest passed; without a retest only where none is asked for."),
        Step.REOPEN: phrase("Say why."),
        Step.CANCEL: phrase(
            "Say why. Not while a finding stands that asks for the outlet to be out of use, "
            "nor one that asks for a retest while the outlet is out of use; where the outlet is retired, "
            "always."
        ),
        Step.ASSIGN: phrase("Say to whom."),
        Step.RETARGET: phrase("Say to which day, and why."),
        Step.NOTE: phrase("Say what."),
    }
)
"""What must hold for each change, in words."""

_TO_BE_SAID: Final = (Step.MAKE_SAFE, Step.PUT_RIGHT, Step.REOPEN, Step.CANCEL, Step.RETARGET, Step.NOTE)
BY_ITSELF: Final = (Step.FOUND_AGAIN, Step.CORRECT)
"""What the register does from the visits alone; nobody can do it by hand."""


@dataclass(frozen=True, slots=True)
class Ground:
    """What a change of an action is judged against.

    Attributes:
        faults: of the body that the action is about; of no body there are none.
        out_of_use, retired: how its outlet stands.
    """

    faults: Faults
    out_of_use: bool = False
    retired: bool = False


def refusal(action: Action, event: EventDraft, ground: Ground) -> str | None:
    """Why a person can't take an action through a change; None where it can be done."""
    if (action.state, event.step) not in MOVES:
        return phrase(
            'From "{state}" it can\'t be "{step}".',
            state=phrase(action.state.value),
            step=phrase(event.step.value),
        )
    if event.on < action.opening.found_on:
        return phrase("It was found on {day}, after that day.", day=day_words(action.opening.found_on))
    missing = _missing(event)
    if missing is not None:
        return missing
    if event.step is Step.CLOSE and action.state is ActionState.PUT_RIGHT and action.asks_retest:
        return phrase("It asks for a retest: record a later visit that finds it in order first.")
    if event.step is Step.RETEST:
        return _no_retest(action, event, ground)
    if event.step is Step.CANCEL:
        return _not_cancelled(action, ground)
    return None


def _missing(event: EventDraft) -> str | None:
    if event.step in BY_ITSELF:
        return phrase("The register does that by itself, when a visit is recorded.")
    if event.step in _TO_BE_SAID and not event.why.strip():
        return phrase("{guard} Nothing was said.", guard=GUARDS[event.step])
    if event.step is Step.ASSIGN and not event.owner.strip():
        return phrase("Nobody was named.")
    if event.step is Step.RETARGET and event.target_on is None:
        return phrase("No day was given.")
    return None


def _no_retest(action: Action, event: EventDraft, ground: Ground) -> str | None:
    if action.opening.kind is not ActionKind.WORK:
        return phrase("The register does that by itself, when the visit is recorded.")
    series = {each.id: each for each in ground.faults.series}
    visit = series.get(event.visit_id or 0)
    if visit is None:
        return phrase("Name a visit to this valve that counts.")
    if visit.on < action.opening.found_on or not visit.satisfactory or visit.doubtful:
        return phrase("The visit of {day} came before, or was not satisfactory.", day=day_words(visit.on))
    return None


def _not_cancelled(action: Action, ground: Ground) -> str | None:
    if ground.retired:
        return None
    if action.opening.kind is ActionKind.COMMISSIONING and ground.out_of_use:
        return phrase("Its outlet is out of use until the valve is commissioned.")
    if not ground.faults.stand(action.findings):
        return None
    if action.stop_codes:
        return phrase(
            "Its finding stands and asks for the outlet to be out of use. Test again; "
            "where the visit is wrong, correct or void the visit."
        )
    if ground.out_of_use and action.asks_retest:
        return phrase(
            "Its finding stands and asks for a retest, and the outlet is out of use: test again first."
        )
    return None

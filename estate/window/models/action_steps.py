"""What can be done about an action, as the words of its buttons."""

from estate.domain.life.actions import Step
from estate.window.translating import said

STEP_WORDS: dict[Step, tuple[str, str]] = {
    Step.MAKE_SAFE: (said("Made safe…"), said("Say what was done so that nobody can be hurt meanwhile")),
    Step.PUT_RIGHT: (said("Put right…"), said("Say what was done to put it right")),
    Step.RETEST: (said("Retest passed…"), said("Of an action opened by hand: name the visit")),
    Step.CLOSE: (said("Close…"), said("Everything is done; it stays on record")),
    Step.ASSIGN: (said("Assign…"), said("Say who does it")),
    Step.RETARGET: (said("New date…"), said("Set another day, with a reason")),
    Step.NOTE: (said("Note…"), said("Add a note to its history")),
    Step.REOPEN: (said("Reopen…"), said("It has to be done after all, with a reason")),
    Step.CANCEL: (said("Cancel…"), said("It need not be done, with a reason")),
}
"""What each button says and what it is for, in the order in which the work goes."""

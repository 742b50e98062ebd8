"""Outlets in use, out of use and retired, and the changes between them."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from datetime import date, datetime
from enum import StrEnum
from types import MappingProxyType
from typing import Final

from estate.domain.dates import day_words
from estate.domain.findings import Severity
from estate.domain.life.actions import Action, ActionKind, ActionState
from estate.domain.life.faults import Faults
from estate.domain.phrases import phrase

FLUSH_FIRST: Final = (
    "Flush the outlet before it is used: water that stood breeds legionella and other bacteria. Make as "
    "little spray as can be, and take the sign away last."
)


class OutletUse(StrEnum):
    """Whether people draw water at an outlet."""

    IN_USE = "in use"
    OUT_OF_USE = "out of use"
    RETIRED = "retired"


class UseStep(StrEnum):
    """What may be done about an outlet's use."""

    TAKE_OUT = "taken out of use"
    PUT_BACK = "put back in use"
    RETIRE = "retired"
    TAKE_UP = "taken up again"


USE_MOVES: Final[Mapping[tuple[OutletUse, UseStep], OutletUse]] = MappingProxyType(
    {
        (OutletUse.IN_USE, UseStep.TAKE_OUT): OutletUse.OUT_OF_USE,
        (OutletUse.IN_USE, UseStep.RETIRE): OutletUse.RETIRED,
        (OutletUse.OUT_OF_USE, UseStep.PUT_BACK): OutletUse.IN_USE,
        (OutletUse.OUT_OF_USE, UseStep.RETIRE): OutletUse.RETIRED,
        (OutletUse.RETIRED, UseStep.TAKE_UP): OutletUse.OUT_OF_USE,
    }
)
"""Every change that there is; nothing else is possible."""

USE_GUARDS: Final[Mapping[UseStep, str]] = MappingProxyType(
    {
        UseStep.TAKE_OUT: phrase("Say why, and who was told."),
        UseStep.PUT_BACK: phrase(
            "Say why. The retest passed that the finding asks for: of every "
            "action of the outlet's valve that asks for it to be out of use, of every commissioning asked "
            "for, and of the action for which it was taken out."
        ),
        UseStep.RETIRE: phrase("Say why."),
        UseStep.TAKE_UP: phrase("Say why; it is out of use first."),
    }
)
"""What must hold for each change, in words."""


@dataclass(frozen=True, slots=True)
class UseDraft:
    """A change of an outlet's use, before it is in the register.

    Attributes:
        who_told: who in charge of the area was told.
        sign_placed: whether a sign was put up; None where nothing was said.
        action_id: the action that asked for it.
        visit_id: the retest that lets it back.
    """

    step: UseStep
    on: date
    why: str
    who_told: str = ""
    sign_placed: bool | None = None
    action_id: int | None = None
    visit_id: int | None = None


@dataclass(frozen=True, slots=True)
class UseEvent:
    """A change of an outlet's use in the register; `at` is the moment of entry, UTC."""

    id: int
    outlet_id: int
    draft: UseDraft
    who: str
    at: datetime


@dataclass(frozen=True, slots=True)
class UseOfOutlet:
    """How an outlet stands.

    Attributes:
        since: the day of the last change; None where there is none on record.
        action_id: the action for which it was taken out of use.
        events: oldest first.
    """

    use: OutletUse = OutletUse.IN_USE
    since: date | None = None
    action_id: int | None = None
    events: tuple[UseEvent, ...] = field(default=())


def use_of(events: Iterable[UseEvent], retired_on: date | None) -> UseOfOutlet:
    """How an outlet stands after its events, in their order; an asset list may retire it as well."""
    use, since, action_id, counted = OutletUse.IN_USE, None, None, tuple(events)
    for event in counted:
        state = USE_MOVES.get((use, event.draft.step))
        if state is None:
            continue
        use, since = state, event.draft.on
        if state is OutletUse.OUT_OF_USE:
            action_id = event.draft.action_id or action_id
        elif state is OutletUse.IN_USE:
            action_id = None
    if retired_on is not None:
        return UseOfOutlet(OutletUse.RETIRED, since or retired_on, action_id, counted)
    if use is OutletUse.RETIRED:  # the asset list took it up again: it is out of use until it is put back
        use = OutletUse.OUT_OF_USE
    return UseOfOutlet(use, since, action_id, counted)


@dataclass(frozen=True, slots=True)
class UseGround:
    """What a change of use is judged against.

    Attributes:
        actions: of the valve in place and of every outlet that it serves.
        faults: of the valve in place; None where there is none.
    """

    actions: Sequence[Action]
    faults: Faults | None


def use_refusal(stands: UseOfOutlet, draft: UseDraft, ground: UseGround) -> str | None:
    """Why an outlet can't go through a change of use; None where it can."""
    if (stands.use, draft.step) not in USE_MOVES:
        return phrase(
            "The outlet is {use}: it can't be {step}.",
            use=phrase(stands.use.value),
            step=phrase(draft.step.value),
        )
    if not draft.why.strip():
        return phrase("Nothing was said of why.")
    if draft.step is UseStep.TAKE_OUT and not draft.who_told.strip():
        return phrase("Nobody in charge of the area was told: name who was.")
    if draft.step is UseStep.PUT_BACK:
        return _not_back(stands, ground)
    return None


def _not_back(stands: UseOfOutlet, ground: UseGround) -> str | None:
    if ground.faults is not None:
        for fault in ground.faults.standing:
            if fault.check.severity is Severity.OUT_OF_USE:
                found = f"{fault.check.short} ({day_words(fault.on)})"
                return phrase(
                    "A finding that asks for it to be out of use stands: {found}. Test again first.",
                    found=found,
                )
    for action in ground.actions:
        if _blocks(action, stands, ground.faults):
            return phrase(
                "Action {number} asks for a retest that has not passed: {words} Record the visit that "
                "finds it in order first.",
                number=action.id,
                words=action.opening.words,
            )
    return None


def _blocks(action: Action, stands: UseOfOutlet, faults: Faults | None) -> bool:
    if not action.asks_retest or action.retest_id is not None:
        return False
    if action.state is ActionState.CANCELLED:
        return faults is not None and faults.stand(action.findings)
    asks = bool(action.stop_codes) or action.opening.kind is ActionKind.COMMISSIONING
    return asks or action.id == stands.action_id

"""The commands that add, amend and retire outlets by hand, and fit and amend their valves."""

from datetime import date, datetime
from enum import StrEnum
from typing import Annotated, Any, Final

import typer

from estate.cli.places import ReasonOption, place_of, places, tell
from estate.cli.terminal import OnOption, RegisterOption, WhoOption, day_of, name_of, now, opened_register
from estate.domain.browsing import PlaceKind
from estate.domain.editing import FROM_ABOVE, OutletChange, OutletDraft, ValveChange
from estate.domain.life.outlet_use import UseStep
from estate.domain.places import Use, UserGroup
from estate.domain.valves import ModelLimits, SchemeClass, Valve
from estate.errors import EntryFault
from estate.operations import add_outlet as adding
from estate.operations import amend_outlets, amend_valve, browse, fit_valve, use_outlets
from estate.operations.register import Register

_ABOVE: Final = "above"
OutletsArgument = Annotated[list[str], typer.Argument(metavar="OUTLET ...", help="References.")]
PipeOption = Annotated[float | None, typer.Option("--pipe", help="Blended pipe from valve to outlet, m.")]
MakeOption = Annotated[str | None, typer.Option("--make")]
ModelOption = Annotated[str | None, typer.Option("--model")]
SerialOption = Annotated[str | None, typer.Option("--serial")]
SetOption = Annotated[float | None, typer.Option("--set", help="The temperature it is set to, °C.")]
SizeOption = Annotated[float | None, typer.Option("--size", help="Nominal size, mm.")]
CodesOption = Annotated[list[str] | None, typer.Option("--designation", help="As on the body, such as HP-W.")]
DifferentialOption = Annotated[
    float | None, typer.Option("--min-differential", help="From its maker's instructions, K.")
]
RatioOption = Annotated[float | None, typer.Option("--max-ratio", help="From its maker's instructions.")]


class ValveClass(StrEnum):
    """Scheme classes as the command takes them."""

    ONE = "1"
    TWO = "2"
    THREE = "3"


ClassOption = Annotated[ValveClass | None, typer.Option("--class", help="UK scheme class.")]


def _ids(opened: Register, references: list[str]) -> list[int]:
    return [browse.find_outlet(opened, each).id for each in references]


def _known(valve_class: ValveClass | None) -> SchemeClass | None:
    return None if valve_class is None else SchemeClass(valve_class.value)


@places.command("add-outlet")
def add_outlet(
    context: typer.Context,
    reference: str,
    within: Annotated[str, typer.Option("--in", metavar="PLACE", help="room:NUMBER")],
    use: Annotated[Use, typer.Option("--use")],
    users: Annotated[UserGroup, typer.Option("--users")],
    words: Annotated[str, typer.Option("--words", help="What it is called within its room.")] = "",
    little_used: Annotated[bool, typer.Option("--little-used")] = False,
    pipe: PipeOption = None,
    why: ReasonOption = "",
    who: WhoOption = None,
    register: RegisterOption = None,
) -> None:
    """Add an outlet to a room, with no valve yet."""
    draft = OutletDraft(reference, words, use, users, little_used, pipe)
    with opened_register(context, register) as opened:
        kind, room_id = place_of(opened, within)
        if kind is not PlaceKind.ROOM:
            raise typer.BadParameter("an outlet lies in a room; give room:NUMBER")
        edited = adding.add_outlet(opened, room_id, draft, who=name_of(who), at=now(), why=why)
    tell(f"{reference.strip()} is added; it has no valve yet.", edited)


@places.command()
def amend(
    context: typer.Context,
    outlets: OutletsArgument,
    use: Annotated[Use | None, typer.Option("--use")] = None,
    users: Annotated[UserGroup | None, typer.Option("--users")] = None,
    little_used: Annotated[bool | None, typer.Option("--little-used/--much-used")] = None,
    rules: Annotated[
        str | None, typer.Option("--rules", help=f"A rule set of their own; {_ABOVE} gives it up.")
    ] = None,
    reference: Annotated[str | None, typer.Option("--reference", help="Another one, of one outlet.")] = None,
    words: Annotated[str | None, typer.Option("--words", help="Other words, of one outlet.")] = None,
    pipe: PipeOption = None,
    why: ReasonOption = "",
    who: WhoOption = None,
    register: RegisterOption = None,
) -> None:
    """Change outlets, all or none; their last visits are judged again by it."""
    chosen = FROM_ABOVE if rules == _ABOVE else rules
    change = OutletChange(use, users, little_used, chosen, reference, words, pipe)
    with opened_register(context, register) as opened:
        ids = _ids(opened, outlets)
        edited = amend_outlets.amend_outlets(opened, ids, change, who=name_of(who), at=now(), why=why)
    tell(f"{', '.join(outlets)} changed; the last visits were judged again by it.", edited)


@places.command()
def retire(
    context: typer.Context,
    outlets: OutletsArgument,
    why: ReasonOption,
    on: OnOption = None,
    who: WhoOption = None,
    register: RegisterOption = None,
) -> None:
    """Retire outlets, all or none; they keep their history."""
    _stop(context, register, outlets, UseStep.RETIRE, on=day_of(on), why=why, who=name_of(who))


@places.command("out-of-use")
def out_of_use(
    context: typer.Context,
    outlets: OutletsArgument,
    why: ReasonOption,
    told: Annotated[str, typer.Option("--told", help="Who in charge of the area was told.")],
    sign: Annotated[bool | None, typer.Option("--sign/--no-sign", help="Whether signs were put up.")] = None,
    on: OnOption = None,
    who: WhoOption = None,
    register: RegisterOption = None,
) -> None:
    """Take outlets out of use, all or none."""
    more = {"who_told": told, "sign_placed": sign}
    _stop(context, register, outlets, UseStep.TAKE_OUT, on=day_of(on), why=why, who=name_of(who), **more)


def _stop(
    context: typer.Context,
    register: str | None,
    outlets: list[str],
    step: UseStep,
    *,
    on: date,
    why: str,
    who: str,
    **more: Any,
) -> None:
    with opened_register(context, register) as opened:
        ids = _ids(opened, outlets)
        edited = use_outlets.use_outlets(opened, ids, step, on=on, why=why, who=who, at=now(), **more)
    tell(f"{', '.join(outlets)} {step.value}.", edited)


@places.command("fit-valve")
def fit(
    context: typer.Context,
    outlet: str,
    make: MakeOption = None,
    model: ModelOption = None,
    serial: SerialOption = None,
    valve_class: ClassOption = None,
    set_c: SetOption = None,
    size_mm: SizeOption = None,
    codes: CodesOption = None,
    least_k: DifferentialOption = None,
    ratio: RatioOption = None,
    fitted: Annotated[
        datetime | None, typer.Option("--fitted", formats=["%Y-%m-%d"], help="Day of the work, if known.")
    ] = None,
    why: ReasonOption = "",
    who: WhoOption = None,
    register: RegisterOption = None,
) -> None:
    """Fit the first valve of an outlet that has none; an action asks for its commissioning before use."""
    body = Valve(
        *(0, make or "", model or "", serial or ""),
        scheme_class=_known(valve_class),
        designations=tuple(codes or ()),
        size_mm=size_mm,
        set_c=set_c,
        limits=ModelLimits(least_k, ratio),
    )
    on = None if fitted is None else fitted.date()
    with opened_register(context, register) as opened:
        (number,) = _ids(opened, [outlet])
        edited = fit_valve.fit_valve(opened, number, body, on=on, who=name_of(who), at=now(), why=why)
    tell(f"A valve is fitted at {outlet}. Commission it before the outlet is used.", edited)


@places.command("amend-valve")
def change_valve(
    context: typer.Context,
    outlet: str,
    make: MakeOption = None,
    model: ModelOption = None,
    serial: SerialOption = None,
    valve_class: ClassOption = None,
    set_c: SetOption = None,
    size_mm: SizeOption = None,
    codes: CodesOption = None,
    least_k: DifferentialOption = None,
    ratio: RatioOption = None,
    on: OnOption = None,
    why: ReasonOption = "",
    who: WhoOption = None,
    register: RegisterOption = None,
) -> None:
    """Change what is recorded of the valve in place at an outlet; its last visit is judged again by it."""
    change = ValveChange(
        make=make,
        model=model,
        serial=serial,
        scheme_class=_known(valve_class),
        designations=None if codes is None else tuple(codes),
        size_mm=size_mm,
        set_c=set_c,
        min_differential_k=least_k,
        max_pressure_ratio=ratio,
    )
    with opened_register(context, register) as opened:
        page = browse.outlet_page(opened, browse.find_outlet(opened, outlet).id, day_of(on))
        if page.valve is None:
            raise EntryFault("There is no valve", f"None is in place at {outlet}.", "Fit one first.")
        edited = amend_valve.amend_valve(opened, page.valve.id, change, who=name_of(who), at=now(), why=why)
    tell(f"The valve at {outlet} changed; its last visit was judged again by it.", edited)

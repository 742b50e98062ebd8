"""The commands that change sites, buildings, levels and rooms by hand, and take such a change back."""

from collections.abc import Iterable, Iterator
from typing import Annotated, Any, Final

import typer

from estate.cli.terminal import (
    JsonOption,
    OnOption,
    RegisterOption,
    WhoOption,
    app,
    day_of,
    name_of,
    now,
    opened_register,
    show,
    show_json,
)
from estate.domain.browsing import PlaceKind, PlaceNode
from estate.domain.editing import Edited, Place, PlaceNames, Written
from estate.operations import add_place, browse, move_places, remove_empty, rename_place, take_back_edit
from estate.operations.register import Register

places = typer.Typer(
    name="places",
    help="Change places, outlets and valves by hand; each change can be taken back.",
    no_args_is_help=True,
    rich_markup_mode=None,
)
app.add_typer(places)

_FORMS: Final = "site:NUMBER, building:NUMBER, level:NUMBER, room:NUMBER or outlet:REFERENCE"
PlaceArgument = Annotated[str, typer.Argument(metavar="PLACE", help=_FORMS)]
ReasonOption = Annotated[str, typer.Option("--why", help="The reason; kept for good.")]
NumberOption = Annotated[str, typer.Option("--number", help="The number on the door, of a room.")]


def place_of(opened: Register, written: str) -> Place:
    """A place as it is written on the command line.

    Raises:
        BadParameter: that is no place.
        NotFoundFault: there is no such outlet.
    """
    word, _, which = written.partition(":")
    if word == PlaceKind.OUTLET.value and which:
        return PlaceKind.OUTLET, browse.find_outlet(opened, which).id
    if word not in set(PlaceKind) or not which.isdigit():
        raise typer.BadParameter(f'"{written}" is no place; give {_FORMS}')
    return PlaceKind(word), int(which)


def tell(said: str, edited: Edited) -> None:
    """Say what was done, and how it is taken back."""
    first, last = edited.written.first, edited.written.last
    typer.echo(f"{said} Entries {first} to {last} of the trail: `places take-back {first} {last}` undoes it.")


@places.command("list")
def list_them(
    context: typer.Context, on: OnOption = None, register: RegisterOption = None, as_json: JsonOption = False
) -> None:
    """List every place with the number that the other commands take."""
    with opened_register(context, register) as opened:
        tree = browse.tree(opened, day_of(on))
    if as_json:
        show_json([_shape(each) for each in tree])
    else:
        show(_lines(tree))


def _named(node: PlaceNode) -> str:
    if node.kind is PlaceKind.OUTLET:
        return f"outlet:{node.label.split('  ')[0]}"
    return f"{node.kind.value}:{node.id}"


def _lines(nodes: Iterable[PlaceNode], depth: int = 0) -> Iterator[str]:
    for node in nodes:
        yield f"{'  ' * depth}{node.label}  ({_named(node)})"
        yield from _lines(node.children, depth + 1)


def _shape(node: PlaceNode) -> dict[str, Any]:
    return {
        "place": _named(node),
        "label": node.label,
        "outlets": node.outlets,
        "below": [_shape(each) for each in node.children],
    }


@places.command()
def add(
    context: typer.Context,
    name: str,
    number: NumberOption = "",
    within: Annotated[
        str | None, typer.Option("--in", metavar="PLACE", help="What it lies in; a site lies in none.")
    ] = None,
    why: ReasonOption = "",
    who: WhoOption = None,
    register: RegisterOption = None,
) -> None:
    """Add a site, a building to a site, a level to a building, or a room to a level."""
    with opened_register(context, register) as opened:
        above = None if within is None else place_of(opened, within)
        names = PlaceNames(name, number)
        edited = add_place.add_place(opened, above, names, who=name_of(who), at=now(), why=why)
    kinds = list(PlaceKind)
    kind = PlaceKind.SITE if above is None else kinds[kinds.index(above[0]) + 1]
    tell(f"{kind.value}:{edited.added_id} is added.", edited)


@places.command()
def rename(
    context: typer.Context,
    place: PlaceArgument,
    name: str,
    number: Annotated[
        str | None, typer.Option("--number", help="The number on the door; as it was if not given.")
    ] = None,
    why: ReasonOption = "",
    who: WhoOption = None,
    register: RegisterOption = None,
) -> None:
    """Call a site, building, level or room otherwise; what lies in it and its history stay."""
    with opened_register(context, register) as opened:
        at = place_of(opened, place)
        held = rename_place.names_of(opened, at)
        names = PlaceNames(name, held.number if number is None else number)
        edited = rename_place.rename_place(opened, at, names, who=name_of(who), at=now(), why=why)
    tell(f"{place} is called {f'{names.number} {names.name}'.strip()} now.", edited)


@places.command()
def move(
    context: typer.Context,
    moved: Annotated[list[str], typer.Argument(metavar="PLACE ...", help=_FORMS)],
    to: Annotated[str, typer.Option("--to", metavar="PLACE", help="A place one storey above them.")],
    why: ReasonOption = "",
    who: WhoOption = None,
    register: RegisterOption = None,
) -> None:
    """Move rooms to a level, levels to a building, buildings to a site, outlets to a room: all or none."""
    with opened_register(context, register) as opened:
        chosen = [place_of(opened, each) for each in moved]
        target = place_of(opened, to)
        edited = move_places.move_places(opened, chosen, target, who=name_of(who), at=now(), why=why)
    tell(f"{', '.join(moved)} moved to {to}.", edited)


@places.command()
def remove(
    context: typer.Context,
    place: PlaceArgument,
    why: ReasonOption = "",
    who: WhoOption = None,
    register: RegisterOption = None,
) -> None:
    """Take a place away that holds nothing and never held anything; an outlet with a history is retired."""
    with opened_register(context, register) as opened:
        at = place_of(opened, place)
        edited = remove_empty.remove_empty(opened, at, who=name_of(who), at=now(), why=why)
    tell(f"{place} is removed.", edited)


@places.command("take-back")
def take_back(
    context: typer.Context,
    first: Annotated[int, typer.Argument(help="The first entry of the change in the trail.")],
    last: Annotated[int, typer.Argument(help="The last one.")],
    why: ReasonOption = "",
    who: WhoOption = None,
    register: RegisterOption = None,
) -> None:
    """Undo a change by hand exactly. Refused, with names, where later work rests on it."""
    with opened_register(context, register) as opened:
        take_back_edit.take_back_edit(opened, Written(first, last), who=name_of(who), at=now(), why=why)
    typer.echo(f"Entries {first} to {last} are taken back; what was measured stays on record.")

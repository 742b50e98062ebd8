"""The commands about a register that a team shares on a server: moving it there, roles, accounts."""

from typing import Annotated

import typer

from estate.cli.terminal import RegisterOption, WhoOption, app, name_of, now, opened_register, progress_bar
from estate.domain.roles import Role
from estate.operations import make_roles as keeping
from estate.operations import move_register


@app.command()
def move(
    context: typer.Context,
    to: Annotated[str, typer.Argument(help="An empty database (postgresql+psycopg://...) or a new file.")],
    who: WhoOption = None,
    register: RegisterOption = None,
) -> None:
    """Copy the register whole to a server or back into a file; counts and digests are compared."""
    with opened_register(context, register) as opened:
        moved = move_register.move(opened, to, who=name_of(who), at=now(), progress=progress_bar())
    typer.echo(
        f"{moved.where}: {moved.rows} rows in {len(moved.tables)} tables, each the same as before. "
        "Put the old register away, so that nobody goes on writing in it."
    )


@app.command("make-roles")
def make_roles(context: typer.Context, who: WhoOption = None, register: RegisterOption = None) -> None:
    """Make the roles of a register on a server: reader, recorder, officer, keeper."""
    with opened_register(context, register) as opened:
        keeping.make_roles(opened, who=name_of(who), at=now())
    typer.echo("The roles are made. Do it again after every upgrade of the register.")


@app.command()
def account(
    context: typer.Context,
    login: Annotated[str, typer.Argument(help="The login on the server.")],
    role: Annotated[Role | None, typer.Option("--role", help="Makes the login with this role.")] = None,
    building: Annotated[
        int | None, typer.Option("--building", help="Only this building, by its number.")
    ] = None,
    withdraw: Annotated[bool, typer.Option("--withdraw", help="Takes the role away.")] = False,
    who: WhoOption = None,
    register: RegisterOption = None,
) -> None:
    """Give a login a role, or take it away; its password is set with the server's own means."""
    if withdraw == (role is not None):
        raise typer.BadParameter("give --role or --withdraw")
    with opened_register(context, register) as opened:
        if role is None:
            keeping.withdraw_account(opened, login, who=name_of(who), at=now())
        else:
            keeping.add_account(opened, login, role, building, who=name_of(who), at=now())
    typer.echo(f"{login}: {'withdrawn' if role is None else role.value}.")

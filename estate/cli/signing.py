"""The commands about keys and signatures: made, added, withdrawn; signed, countersigned, shown."""

from datetime import datetime
from pathlib import Path
from typing import Annotated

import typer

from estate import settings
from estate.cli.passphrase import PassphraseOption, passphrase_of
from estate.cli.signing_shapes import key_shape, own_shape, signing_shape
from estate.cli.terminal import (
    MOMENT_FORMATS,
    QUESTIONED,
    JsonOption,
    RegisterOption,
    WhoOption,
    app,
    doors_of,
    name_of,
    now,
    opened_register,
    show,
    show_json,
)
from estate.domain.signatures import CAUTION, Key, OwnKey, SignedNoun, SigningState, shown_fingerprint
from estate.errors import EntryFault, ReportFault
from estate.operations import browse_signatures, keep_keys, sign_entries

IdsArgument = Annotated[
    list[int],
    typer.Argument(help="Numbers as `history --json` and `batches` show them.", metavar="NUMBER..."),
]
KeyOption = Annotated[
    str, typer.Option("--key", help="Which of your keys, by the beginning of its fingerprint.")
]
ToOption = Annotated[
    Path | None, typer.Option("--to", help="Write the public key to this file; shown on the screen without.")
]

key_app = typer.Typer(help="Make a key, add a person's to the register, withdraw one.", no_args_is_help=True)
app.add_typer(key_app, name="key")


@app.command()
def keys(context: typer.Context, register: RegisterOption = None, as_json: JsonOption = False) -> None:
    """List your own keys, and those of the register if one is named."""
    own, faults = keep_keys.own_keys(settings.keys_place())
    known: tuple[Key, ...] = ()
    if register or doors_of(context).register:
        with opened_register(context, register) as opened:
            known = keep_keys.keys(opened)
    if as_json:
        show_json({"own": [own_shape(each) for each in own], "register": [key_shape(each) for each in known]})
        return
    show(["Yours:", *(f"  {_own(each)}" for each in own)] if own else ["No key of yours is here."])
    show(f"  {each}" for each in faults)
    show(
        ["In the register:", *(f"  {_key(each)}" for each in known)]
        if known
        else ["No register is named, or it has no key."]
    )


def _own(own: OwnKey) -> str:
    return f"{shown_fingerprint(own.fingerprint)}  {own.person}, made {own.made_at:%d %b %Y}"


def _key(key: Key) -> str:
    added = f"{key.person}, added {key.at:%d %b %Y} by {key.added_by}"
    gone = key.withdrawal
    if gone is not None:
        added += f"; withdrawn from {gone.since:%d %b %Y %H:%M} UTC on by {gone.who}: {gone.why}"
    return f"{shown_fingerprint(key.fingerprint)}  {added}"


@key_app.command("new")
def key_new(
    person: Annotated[str, typer.Option("--person", help="The name that stands beside your signatures.")],
    to: ToOption = None,
    passphrase: PassphraseOption = None,
) -> None:
    """Make a key of your own in your profile; its public half goes to the officer."""
    secret = passphrase_of(passphrase, fresh=True)
    own = keep_keys.make_key(person, secret, settings.keys_place(), at=now())
    _hand_out(own, to)
    typer.echo(
        f"Kept, locked by the passphrase: {own.file}. A lost passphrase can't be found again. Give the "
        "public key to the officer, and read the fingerprint to them by phone.",
        err=True,
    )


@key_app.command("show")
def key_show(key: KeyOption = "", to: ToOption = None) -> None:
    """Show the public half of your key again, for the officer."""
    _hand_out(keep_keys.own_key(settings.keys_place(), key), to)


def _hand_out(own: OwnKey, to: Path | None) -> None:
    text = keep_keys.key_text(own)
    if to is None:
        typer.echo(text)
        return
    try:
        to.write_text(text, encoding="utf-8")
    except OSError as fault:
        remedy = "Choose a folder that can be written to; `estate key show` writes it again."
        raise ReportFault("The public key can't be written", f"{to}: {fault.strerror}.", remedy) from fault
    typer.echo(f"{to}: the public key of {own.person}, {shown_fingerprint(own.fingerprint)}.")


@key_app.command("add")
def key_add(
    context: typer.Context,
    file: Path,
    compared: Annotated[
        bool,
        typer.Option("--compared", help="The fingerprint was compared with the person. Only shown without."),
    ] = False,
    who: WhoOption = None,
    register: RegisterOption = None,
) -> None:
    """Add a person's public key to the register, once its fingerprint was compared with them by phone."""
    text = _text(file)
    own = keep_keys.read_key_text(text)
    typer.echo(f"{own.person}: {shown_fingerprint(own.fingerprint)}, made {own.made_at:%d %b %Y %H:%M} UTC")
    if not compared:
        typer.echo(
            f"Nothing was added. Call {own.person} on a number that you know, let them read their "
            "fingerprint to you, and give --compared if it is the same."
        )
        return
    with opened_register(context, register) as opened:
        keep_keys.add_key(opened, text, who=name_of(who), at=now())
    typer.echo("Added.")


def _text(path: Path) -> str:
    try:
        return path.read_text(encoding="utf-8")
    except (OSError, UnicodeDecodeError) as fault:
        raise EntryFault("The public key can't be read", f"{path}: {fault}.", "Check its name.") from fault


@key_app.command("withdraw")
def key_withdraw(
    context: typer.Context,
    fingerprint: Annotated[str, typer.Argument(help="Its beginning is enough.")],
    why: Annotated[str, typer.Option("--why", help="Kept for good.")],
    since: Annotated[
        datetime | None,
        typer.Option(
            "--since",
            formats=MOMENT_FORMATS,
            help="When it was lost or stolen, by this machine's clock; now without.",
        ),
    ] = None,
    who: WhoOption = None,
    register: RegisterOption = None,
) -> None:
    """Withdraw a key of the register; what it signed from then on does not count as signed."""
    from_then = since.astimezone() if since is not None else None
    with opened_register(context, register) as opened:
        found = keep_keys.find_key(opened, fingerprint)
        keep_keys.withdraw_key(opened, found, why=why, who=name_of(who), at=now(), since=from_then)
    typer.echo(f"The key of {found.person} is withdrawn. What it signed before stays good.")


@app.command()
def sign(
    context: typer.Context,
    what: SignedNoun,
    numbers: IdsArgument,
    key: KeyOption = "",
    passphrase: PassphraseOption = None,
    who: WhoOption = None,
    register: RegisterOption = None,
) -> None:
    """Sign visits, or batches with all their rows; either all that are named or none."""
    with opened_register(context, register) as opened:
        own = keep_keys.own_key(settings.keys_place(), key)
        secret = passphrase_of(passphrase)
        done = sign_entries.sign(opened, what, numbers, own, secret, who=name_of(who), at=now())
    typer.echo(f"{_counted(done.signed)} by {done.person}{_rest(done)}. {CAUTION}")


@app.command()
def countersign(
    context: typer.Context,
    what: SignedNoun,
    numbers: IdsArgument,
    key: KeyOption = "",
    passphrase: PassphraseOption = None,
    who: WhoOption = None,
    register: RegisterOption = None,
) -> None:
    """Countersign visits or batches that another person signed; each of their signatures is covered."""
    with opened_register(context, register) as opened:
        own = keep_keys.own_key(settings.keys_place(), key)
        secret = passphrase_of(passphrase)
        done = sign_entries.countersign(opened, what, numbers, own, secret, who=name_of(who), at=now())
    typer.echo(f"{_counted(done.signed, 'countersignature')} by {done.person}{_rest(done)}. {CAUTION}")


def _counted(number: int, what: str = "signature") -> str:
    return f"{number} {what}{'' if number == 1 else 's'} added"


def _rest(done: sign_entries.Signed) -> str:
    return f", {done.already} there already" if done.already else ""


@app.command()
def signatures(
    context: typer.Context,
    what: SignedNoun,
    numbers: IdsArgument,
    proof: Annotated[
        Path | None,
        typer.Option("--proof", help="Write each as files into this folder, to check with openssl."),
    ] = None,
    register: RegisterOption = None,
    as_json: JsonOption = False,
) -> None:
    """Say how visits or batches stand: unsigned, signed, countersigned, or what does not fit."""
    with opened_register(context, register) as opened:
        found = browse_signatures.signing_of(opened, what, numbers)
        numbered = sorted({each.id for standing in found.values() for each in standing.signatures})
        for number in numbered if proof is not None else ():
            for path in browse_signatures.write_proof(opened, number, proof or Path()):
                typer.echo(str(path), err=True)
    if as_json:
        show_json([{what.value: row_id, **signing_shape(each)} for row_id, each in found.items()])
    else:
        show(f"{what.value} {row_id}: {each.words}" for row_id, each in found.items())
    if any(each.state is SigningState.MISFIT for each in found.values()):
        raise typer.Exit(QUESTIONED)

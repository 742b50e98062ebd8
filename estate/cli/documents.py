"""The commands about documents and photographs: list, add, take out, void."""

from pathlib import Path
from typing import Annotated, Any

import typer

from estate.cli.terminal import (
    JsonOption,
    KnownAtOption,
    RegisterOption,
    WhoOption,
    app,
    name_of,
    now,
    opened_register,
    read_register,
    show,
    show_json,
)
from estate.domain.dates import moment_words
from estate.domain.documents import OPENING_CAUTION, SIZE_BOUND_MB, Document
from estate.operations import keep_documents

OwnerOption = Annotated[
    str,
    typer.Option("--of", help="register, outlet:REFERENCE, instrument:REFERENCE, or visit:NUMBER and so on."),
]

document = typer.Typer(help="Add a document or photograph, take one out, or void one.", no_args_is_help=True)
app.add_typer(document, name="document")


@app.command()
def documents(
    context: typer.Context,
    of: Annotated[
        str | None, typer.Option("--of", help="Only of this: outlet:REFERENCE, visit:NUMBER and so on.")
    ] = None,
    known_at: KnownAtOption = None,
    register: RegisterOption = None,
    as_json: JsonOption = False,
) -> None:
    """List documents and photographs; void ones stay listed with their reason."""
    with read_register(context, register, known_at, as_json) as opened:
        owners = None if of is None else [keep_documents.owner_named(opened, of)]
        found = keep_documents.documents(opened, owners)
    if as_json:
        show_json([_shape(each) for each in found])
    else:
        show([_words(each) for each in found] or ["No document is kept."])


@document.command()
def add(
    context: typer.Context,
    file: Path,
    of: OwnerOption,
    remark: Annotated[str, typer.Option("--remark", help="What it shows.")] = "",
    bound_mb: Annotated[
        int, typer.Option("--largest-mb", min=1, help="Greatest size; every backup copies what is kept.")
    ] = SIZE_BOUND_MB,
    who: WhoOption = None,
    register: RegisterOption = None,
) -> None:
    """Keep a file, byte for byte, after a look at what kind it is by its content."""
    with opened_register(context, register) as opened:
        owner = keep_documents.owner_named(opened, of)
        kept = keep_documents.add_document(
            opened, owner, file, remark=remark, who=name_of(who), at=now(), bound_mb=bound_mb
        )
    typer.echo(_words(kept.document))


@document.command("take-out")
def take_out(
    context: typer.Context,
    number: int,
    to: Path,
    known_at: KnownAtOption = None,
    register: RegisterOption = None,
) -> None:
    """Write a document as it came in, proved by its digest, to a file that is not there yet."""
    with read_register(context, register, known_at, aside=True) as opened:
        written = keep_documents.take_out(opened, number, to)
    show([str(written), OPENING_CAUTION])


@document.command()
def void(
    context: typer.Context,
    number: int,
    why: Annotated[str, typer.Option("--why", help="Kept for good.")],
    who: WhoOption = None,
    register: RegisterOption = None,
) -> None:
    """Say of a document, with a reason, that it counts no more; it stays on record."""
    with opened_register(context, register) as opened:
        keep_documents.void_document(opened, number, why=why, who=name_of(who), at=now())
    typer.echo(f"Document {number} is void and stays on record.")


def _words(each: Document) -> str:
    said = [each.name, each.owner.words, each.media_type.words, each.size_words]
    said += [each.remark] if each.remark else []
    said.append(f"added by {each.who or 'nobody named'} on {moment_words(each.at)}")
    if each.void is not None:
        said.append(
            f"VOID: {each.void.why} ({each.void.who or 'nobody named'}, {moment_words(each.void.at)})"
        )
    return f"{each.id:>5}  {'; '.join(said)}"


def _shape(each: Document) -> dict[str, Any]:
    void = each.void
    return {
        "document": each.id,
        "of": {"noun": each.owner.noun, "number": each.owner.row_id, "words": each.owner.words},
        "name": each.name,
        "media_type": each.media_type.value,
        "size_bytes": each.size_bytes,
        "sha256": each.sha256,
        "added_by": each.who,
        "added_at": each.at.isoformat(),
        "remark": each.remark,
        "void": None if void is None else {"by": void.who, "at": void.at.isoformat(), "why": void.why},
    }

"""Keep documents and photographs: add, list, void, and give out again as they came in."""

import stat
import tempfile
import unicodedata
from collections.abc import Sequence
from contextlib import suppress
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path, PureWindowsPath
from typing import Final

from estate.domain.changes import ChangeSet
from estate.domain.document_kinds import kind_of
from estate.domain.documents import SIZE_BOUND_MB, Document, Owner
from estate.domain.phrases import phrase
from estate.domain.references import reference_key
from estate.errors import EntryFault, NotFoundFault, ReportFault
from estate.operations.register import Register
from estate.store import documents as store
from estate.store import instruments, places
from estate.store.database import Session
from estate.store.retrying import retried
from estate.store.transaction import writing

_LONGEST_NAME: Final = 200
_BYTES_OF_MB: Final = 1_000_000
_HIDING: Final = frozenset({"Cc", "Cf", "Co", "Cn", "Cs", "Zl", "Zp"})
"""Kinds of characters that hide or turn round what a name says."""


@dataclass(frozen=True, slots=True)
class Kept:
    """A document that was added."""

    document: Document
    changes: ChangeSet


def documents(register: Register, owners: Sequence[Owner] | None = None) -> tuple[Document, ...]:
    """Documents of these owners, or all; void ones too, oldest first."""
    with register.database.reading() as session:
        wanted = None if owners is None else [(each.noun, each.row_id) for each in owners]
        return store.documents(session, wanted)


def owner_named(register: Register, words: str) -> Owner:
    """What documents may belong to, by words such as ``outlet:MX-G-01-B1``, ``visit:12`` or ``register``.

    Raises:
        EntryFault: it is written otherwise.
        NotFoundFault: there is no such thing in the register.
    """
    noun, _, name = words.partition(":")
    if noun == "register" and not name:
        name = "1"
    if noun not in store.OWNERS or not name:
        shown = ", ".join(each for each in store.OWNERS if each != "register")
        remedy = phrase(
            "Write register, or one of {shown} with a colon and its number or reference: outlet:MX-1.",
            shown=shown,
        )
        raise EntryFault("It is not clear what the document belongs to", f'"{words}".', remedy)
    with register.database.reading() as session:
        row_id = _by_reference(session, noun, name)
        if row_id is None and name.isdecimal():
            row_id = int(name)
        if row_id is None:
            detail = phrase('{noun} "{name}" is not in the register.', noun=noun, name=name)
            raise NotFoundFault(
                "There is nothing of that name", detail, "Look it up and write it as it is there."
            )
        return store.owner(session, noun, row_id)


def _by_reference(session: Session, noun: str, name: str) -> int | None:
    if noun == "outlet":
        outlet = places.outlet_by_reference(session, name)
        return None if outlet is None else outlet.id
    if noun == "instrument":
        key = reference_key(name)
        every = instruments.instruments(session)
        return next((each.id for each in every if reference_key(each.reference) == key), None)
    return None


@retried
def add_document(
    register: Register,
    owner: Owner,
    path: Path,
    *,
    remark: str = "",
    who: str,
    at: datetime,
    bound_mb: int = SIZE_BOUND_MB,
) -> Kept:
    """Keep a file, byte for byte, after a look at what kind it is.

    Args:
        register: the open register.
        owner: what it belongs to.
        path: the file.
        remark: what it shows.
        who: who adds it.
        at: now, UTC.
        bound_mb: greatest size that is kept, MB (10^6 bytes).

    Raises:
        EntryFault: it can't be read, is too big or empty, of a kind that is not kept, bears the ending of
            another kind, or is kept for this owner already.
        NotFoundFault: the owner is not in the register.
    """
    content, name = _read(path, bound_mb), _tidy_name(path.name)
    media_type = kind_of(content, name)
    with writing(register.database, who, "added a document", at) as tx:
        there = store.owner(tx.session, owner.noun, owner.row_id)
        document_id = store.add_document(
            tx, there, name=name, media_type=media_type, content=content, remark=remark.strip()
        )
        kept = store.document(tx.session, document_id)
    return Kept(kept, tx.changes)


def _read(path: Path, bound_mb: int) -> bytes:
    most = bound_mb * _BYTES_OF_MB
    try:
        with path.open("rb") as file:
            content = file.read(most + 1)
    except OSError as error:
        remedy = phrase("Check its name and that you may read it; nothing was kept.")
        raise EntryFault("The file can't be read", f"{path}: {error.strerror}.", remedy) from error
    if len(content) > most:
        detail = phrase(
            "{name} has more than {bound_mb} MB, and every backup would copy it.",
            name=path.name,
            bound_mb=bound_mb,
        )
        remedy = phrase(
            "Save it smaller, or keep it elsewhere and name the place in a remark; nothing was kept."
        )
        raise EntryFault(
            "The file is too big",
            detail,
            phrase("{remedy} The settings tell the greatest size.", remedy=remedy),
        )
    return content


def _tidy_name(name: str) -> str:
    hidden = [each for each in name if unicodedata.category(each) in _HIDING]
    if hidden or len(name) > _LONGEST_NAME:
        why = (
            phrase("holds characters that hide what it says")
            if hidden
            else phrase("has over {longest_name} letters", longest_name=_LONGEST_NAME)
        )
        shown = "".join(each for each in name if each not in hidden)[:60]
        raise EntryFault(
            "The file's name is not kept",
            phrase('"{shown}" {why}.', shown=shown, why=why),
            "Give it another name and add it.",
        )
    return name


@retried
def void_document(register: Register, document_id: int, *, why: str, who: str, at: datetime) -> ChangeSet:
    """Say of a document, with a reason, that it counts no more; it stays on record.

    Raises:
        EntryFault: no reason is given, or it is void already.
        NotFoundFault: there is no such document.
    """
    with writing(register.database, who, "voided a document", at, why=why.strip()) as tx:
        store.void_document(tx, document_id, why)
    return tx.changes


def content(register: Register, document_id: int) -> bytes:
    """The bytes of a document, proved by their digest.

    Raises:
        NotFoundFault: there is no such document.
        RegisterFault: the bytes are others than were added.
    """
    with register.database.reading() as session:
        return store.content(session, document_id)


def take_out(register: Register, document_id: int, to: Path) -> Path:
    """Write a document, proved by its digest, to a file that a person named.

    Raises:
        NotFoundFault: there is no such document.
        RegisterFault: the bytes are others than were added.
        ReportFault: a file is there already, or it can't be written.
    """
    kept = content(register, document_id)
    try:
        with to.open("xb") as file:
            file.write(kept)
    except FileExistsError as error:
        raise ReportFault("There is a file of that name", f"{to}.", "Give another name.") from error
    except OSError as error:
        remedy = phrase("Choose a folder that you may write to.")
        raise ReportFault("The document can't be written", f"{to}: {error.strerror}.", remedy) from error
    return to


def copy_to_open(register: Register, document_id: int) -> Path:
    """A read-only copy, proved by its digest, in a folder that only the person can enter.

    It bears the ending of its kind whatever its name says, so that it is opened as what it was proved to be.
    Take it away with `clear_away`.

    Raises:
        NotFoundFault: there is no such document.
        RegisterFault: the bytes are others than were added.
        ReportFault: it can't be written.
    """
    with register.database.reading() as session:
        found = store.document(session, document_id)
        kept = store.content(session, document_id)
    try:
        folder = Path(tempfile.mkdtemp(prefix="estate-document-"))
        copy = folder / f"document {document_id}{found.media_type.endings[0]}"
        with copy.open("xb") as file:
            file.write(kept)
        copy.chmod(stat.S_IRUSR)
    except OSError as error:
        remedy = phrase(
            "Make room on the disk for temporary files, or take the document out to another folder."
        )
        raise ReportFault("The copy can't be written", f"{found.name}: {error.strerror}.", remedy) from error
    return copy


def clear_away(copy: Path) -> bool:
    """Take away a copy that was made to be opened, with its folder; whether it is gone.

    A program that still shows it may hold it on some systems; then it stays, for the system to clear.
    """
    with suppress(OSError):
        copy.chmod(stat.S_IRUSR | stat.S_IWUSR)  # on some systems a read-only file can't be taken away
        copy.unlink(missing_ok=True)
        copy.parent.rmdir()
    return not copy.parent.exists()


def usual_name(document: Document) -> str:
    """The name to write a document under: its own, without anything that would lead elsewhere."""
    return PureWindowsPath(document.name).name or f"document {document.id}{document.media_type.endings[0]}"

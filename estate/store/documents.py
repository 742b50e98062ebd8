"""Documents and photographs: added, voided with a reason, given out only as they came in."""

from collections import defaultdict
from collections.abc import Callable, Collection, Iterator, Mapping, Sequence
from hashlib import sha256
from typing import Any, Final

from sqlalchemy import ColumnElement, Row, Table, and_, select
from sqlalchemy.orm import Session

from estate.domain.dates import day_words
from estate.domain.documents import Document, DocumentVoid, MediaType, Owner
from estate.domain.phrases import phrase
from estate.errors import EntryFault, NotFoundFault, RegisterFault
from estate.store import columns
from estate.store.document_schema import DocumentContentRow, DocumentRow, DocumentVoidRow
from estate.store.parting import parts
from estate.store.transaction import Transaction

_NAMED: Final[Mapping[str, Callable[[Row[Any]], str]]] = {
    "register": lambda row: "the whole register",
    "site": lambda row: f"site {row.name}",
    "building": lambda row: f"building {row.name}",
    "level": lambda row: f"level {row.name}",
    "room": lambda row: f"room {row.number} {row.name}".rstrip(),
    "outlet": lambda row: f"outlet {row.reference}",
    "valve": lambda row: " ".join(filter(None, ("valve", row.make, row.model, row.serial))),
    "visit": lambda row: f"visit of {day_words(row.visited_on)}",
    "instrument": lambda row: f"instrument {row.reference}",
    "batch": lambda row: f"batch {row.id}, {row.file}",
}
"""What documents may belong to, and how one is named."""

OWNERS: Final = tuple(_NAMED)


def owner(session: Session, noun: str, row_id: int) -> Owner:
    """What a document may belong to, with its words.

    Raises:
        NotFoundFault: there is no such row, or documents do not belong to rows of this kind.
    """
    found = _owners(session, {noun: {row_id}}) if noun in _NAMED else {}
    if (noun, row_id) not in found:
        detail = phrase("{noun} {row_id} is not in the register.", noun=noun, row_id=row_id)
        raise NotFoundFault("There is nothing to keep the document for", detail, "Read the register afresh.")
    return found[noun, row_id]


def _owners(session: Session, wanted: Mapping[str, Collection[int]]) -> dict[tuple[str, int], Owner]:
    found: dict[tuple[str, int], Owner] = {}
    for noun, ids in wanted.items():
        table = _table(noun)
        kept = [each for each in table.columns if each.name not in ("content", "answers")]
        for part in parts(ids):
            for row in session.execute(select(*kept).where(table.c.id.in_(part))):
                found[noun, row.id] = Owner(noun, row.id, _NAMED[noun](row))
    return found


def _table(noun: str) -> Table:
    return columns.Row.metadata.tables[noun]


def documents(session: Session, owners: Sequence[tuple[str, int]] | None = None) -> tuple[Document, ...]:
    """Documents, void ones too, oldest first, without their bytes.

    Args:
        owners: nouns and ids of what they belong to; None gives all.
    """
    if owners is None:
        return _found(session)
    ids: defaultdict[str, set[int]] = defaultdict(set)
    for noun, row_id in owners:
        ids[noun].add(row_id)
    found = [
        each
        for noun, rows in ids.items()
        for part in parts(rows)
        for each in _found(session, and_(DocumentRow.noun == noun, DocumentRow.row_id.in_(part)))
    ]
    return tuple(sorted(found, key=lambda each: each.id))


def document(session: Session, document_id: int) -> Document:
    """One document.

    Raises:
        NotFoundFault: there is none with this number.
    """
    found = _found(session, DocumentRow.id == document_id)
    if not found:
        detail = phrase("Document {document_id} is not in the register.", document_id=document_id)
        raise NotFoundFault("No such document", detail, "List the documents and take a number from there.")
    return found[0]


def _found(session: Session, *where: ColumnElement[bool]) -> tuple[Document, ...]:
    voided = [DocumentVoidRow.who.label("void_who"), DocumentVoidRow.at.label("void_at"), DocumentVoidRow.why]
    query = (
        select(*DocumentRow.__table__.columns, *voided)
        .join(DocumentVoidRow, DocumentVoidRow.document_id == DocumentRow.id, isouter=True)
        .where(*where)
        .order_by(DocumentRow.id)
    )
    rows = session.execute(query).all()
    wanted: defaultdict[str, set[int]] = defaultdict(set)
    for row in rows:
        wanted[row.noun].add(row.row_id)
    owners = _owners(session, {noun: ids for noun, ids in wanted.items() if noun in _NAMED})
    return tuple(_document_of(row, owners) for row in rows)


def _document_of(row: Row[Any], owners: Mapping[tuple[str, int], Owner]) -> Document:
    void = None if row.why is None else DocumentVoid(row.void_who, row.void_at, row.why)
    unnamed = Owner(row.noun, row.row_id, f"{row.noun} {row.row_id}")
    return Document(
        row.id,
        owners.get((row.noun, row.row_id), unnamed),
        row.name,
        MediaType(row.media_type),
        row.size_bytes,
        row.sha256,
        row.at,
        row.who,
        row.remark,
        void,
    )


def add_document(
    tx: Transaction, owner: Owner, *, name: str, media_type: MediaType, content: bytes, remark: str = ""
) -> int:
    """Keep a file; the same bytes are kept once, however often they are added.

    Returns:
        The number of the document.

    Raises:
        EntryFault: a document of the same owner with these bytes counts already.
    """
    digest = sha256(content).hexdigest()
    for each in documents(tx.session, [(owner.noun, owner.row_id)]):
        if each.sha256 == digest and each.void is None:
            detail = phrase(
                "{name} is document {id}, {there}, of {owner}.",
                name=name,
                id=each.id,
                there=each.name,
                owner=owner.words or owner.noun,
            )
            raise EntryFault("The file is kept there already", detail, "Nothing more is needed.")
    row = DocumentRow(
        noun=owner.noun,
        row_id=owner.row_id,
        name=name,
        media_type=media_type.value,
        size_bytes=len(content),
        sha256=digest,
        at=tx.at,
        who=tx.who,
        remark=remark,
    )
    document_id = tx.insert(row)  # first: on a server the right to add the bytes is judged by it
    kept = select(DocumentContentRow.id).where(DocumentContentRow.sha256 == digest)
    if tx.session.execute(kept).first() is None:
        tx.insert(DocumentContentRow(sha256=digest, content=content))
    _touch(tx, owner)
    return document_id


def void_document(tx: Transaction, document_id: int, why: str) -> None:
    """Say of a document, with a reason, that it counts no more; it stays on record.

    Raises:
        EntryFault: no reason is given, or it is void already.
        NotFoundFault: there is no such document.
    """
    found = document(tx.session, document_id)
    if not why.strip():
        raise EntryFault(
            "No reason is given",
            phrase("Document {document_id} stays as it is.", document_id=document_id),
            "Say why.",
        )
    if found.void is not None:
        detail = phrase(
            "Document {document_id}: {why}, {who}.",
            document_id=document_id,
            why=found.void.why,
            who=found.void.who,
        )
        raise EntryFault("The document is void already", detail, "Nothing more is needed.")
    tx.insert(DocumentVoidRow(document_id=document_id, who=tx.who, at=tx.at, why=why.strip()))
    _touch(tx, found.owner)


def _touch(tx: Transaction, owner: Owner) -> None:
    ids = {
        noun: [owner.row_id] if owner.noun == noun else [] for noun in ("outlet", "valve", "visit", "batch")
    }
    everything = not any(ids.values())
    tx.touch(
        outlets=ids["outlet"],
        valves=ids["valve"],
        visits=ids["visit"],
        batches=ids["batch"],
        everything=everything,
    )


def content(session: Session, document_id: int) -> bytes:
    """The bytes of a document, proved to be those that were added.

    Raises:
        NotFoundFault: there is no such document.
        RegisterFault: the bytes are not there, or are others than were added.
    """
    found = document(session, document_id)
    query = select(DocumentContentRow.content).where(DocumentContentRow.sha256 == found.sha256)
    kept = session.execute(query).scalar_one_or_none()
    if kept is None or sha256(kept).hexdigest() != found.sha256:
        what = (
            phrase("its bytes are not there")
            if kept is None
            else phrase("its bytes are others than were added")
        )
        remedy = phrase("The register was changed past the program: verify it, and look into a backup.")
        raise RegisterFault(
            "The document can't be given out", phrase("{name}: {what}.", name=found.name, what=what), remedy
        )
    return bytes(kept)


def owners_with_documents(session: Session, noun: str, ids: Collection[int]) -> Iterator[tuple[int, int]]:
    """Rows of a kind among these ids that have documents, void ones too: row and document."""
    for part in parts(ids):
        where = and_(DocumentRow.noun == noun, DocumentRow.row_id.in_(part))
        query = select(DocumentRow.row_id, DocumentRow.id).where(where).order_by(DocumentRow.id)
        yield from ((row.row_id, row.id) for row in session.execute(query))

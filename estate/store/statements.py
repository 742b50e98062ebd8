"""What is signed, exactly: one canonical JSON object for each row (docs/trust.md)."""

from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from hashlib import sha256
from typing import Any, Final

from sqlalchemy import ColumnElement, Table, literal_column, select
from sqlalchemy.orm import Session

from estate.store.canonical import converters, settled, text_of
from estate.store.covering import lines
from estate.store.parting import parts
from estate.store.raw_rows import tables
from estate.store.replay import as_told

Values = Mapping[str, Any]
SIGNATURE: Final = "signature"
OF_BATCH: Final = ("attempt", "batch_question", "batch_row", "visit")
"""Tables of evidence whose rows a batch writes."""
OF_VISIT: Final = ("visit_check", "visit_part")
"""Tables of what was seen and put in at a visit."""

_SIGNED: Final = frozenset({"visit", "batch", SIGNATURE})


@dataclass(frozen=True, slots=True)
class Signer:
    """Who signs what and when: what a statement tells beside the row.

    Attributes:
        register: the register's identifier.
        role: ``signed`` or ``countersigned``.
        at: the moment in its canonical form.
    """

    register: str
    person: str
    fingerprint: str
    role: str
    at: str


def statement(signer: Signer, noun: str, row_id: int, told: Values) -> str:
    """The text whose UTF-8 bytes are signed.

    Args:
        signer: who, as what and when.
        noun, row_id: the row.
        told: what `told_rows` gives of it.
    """
    return text_of(
        {
            "at": signer.at,
            "fingerprint": signer.fingerprint,
            "noun": noun,
            "person": signer.person,
            "register": signer.register,
            "role": signer.role,
            "row_id": row_id,
            **told,
        }
    )


def digest_of(text: str) -> str:
    """SHA-256 of a statement, hex."""
    return sha256(text.encode()).hexdigest()


def can_be_signed(noun: object) -> bool:
    """Whether there are statements of a table's rows."""
    return noun in _SIGNED


def told_rows(session: Session, noun: str, ids: Collection[int]) -> dict[int, dict[str, Any]]:
    """What a statement tells of rows: the row and, of a batch or visit, its rows; not those that are gone.

    Args:
        session: an open session.
        noun: ``visit``, ``batch`` or ``signature``.
        ids: the rows.
    """
    table = _table(noun)
    asked = [table.c.id.in_(part) for part in parts(ids)]
    rows = {row["id"]: row for each in asked for row in rows_where(session, table, each)}
    told: dict[int, dict[str, Any]] = {
        row_id: {"row": {name: value for name, value in as_told(row).items() if name != "id"}}
        for row_id, row in rows.items()
    }
    if noun == "batch":
        for row_id, values in told.items():
            values["rows"] = {each: _rows_of(session, each, "batch_id", row_id) for each in OF_BATCH}
    if noun == "visit":
        for each in OF_VISIT:
            for row_id in _with_rows(session, each, told):
                told[row_id].setdefault("rows", {})[each] = _rows_of(session, each, "visit_id", row_id)
    return told


def _with_rows(session: Session, noun: str, visit_ids: Collection[int]) -> list[int]:
    """Those of some visits that have rows in a table."""
    owner = _table(noun).c.visit_id
    found = [session.execute(select(owner).where(owner.in_(part))).scalars() for part in parts(visit_ids)]
    return sorted({visit_id for each in found for visit_id in each})


def rows_where(session: Session, table: Table, *asked: ColumnElement[bool]) -> Iterator[dict[str, Any]]:
    """Rows by id, with values as the digests cover them; nothing put in place of a value is smoothed over."""
    names = tuple(table.columns.keys())
    query = select(*_plain(session, names)).select_from(table).where(*asked).order_by(table.c.id)
    rows = (tuple(each) for each in session.execute(query))
    for row in settled(rows, converters(table, names)):
        yield dict(zip(names, row, strict=True))


def _rows_of(session: Session, noun: str, owner: str, owner_id: int) -> dict[str, Any]:
    table = _table(noun)
    names = tuple(table.columns.keys())
    query = select(*_plain(session, names)).select_from(table).where(table.c[owner] == owner_id)
    rows: Iterable[Sequence[Any]] = session.execute(query.order_by(table.c.id)).all()
    whole, count = sha256(), 0
    for line in lines(table, names, rows):
        whole.update(line)
        count += 1
    return {"count": count, "sha256": whole.hexdigest()}


def _plain(session: Session, names: Iterable[str]) -> list[Any]:
    quote = session.connection().dialect.identifier_preparer.quote
    return [literal_column(quote(name)) for name in names]


def _table(noun: str) -> Table:
    return next(table for table in tables() if table.name == noun)

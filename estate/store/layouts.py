"""Layouts of senders' sheets, kept under a name each."""

from sqlalchemy import select
from sqlalchemy.orm import Session

from estate.domain.layouts import Layout
from estate.domain.phrases import phrase
from estate.domain.references import reference_key
from estate.errors import EntryFault, NotFoundFault
from estate.store.batch_records import layout_body, layout_of
from estate.store.batch_schema import LayoutRow
from estate.store.transaction import Transaction


def layouts(session: Session) -> tuple[Layout, ...]:
    """Every layout, in the order of the alphabet."""
    found = [layout_of(row) for row in session.execute(select(*LayoutRow.__table__.columns))]
    return tuple(sorted(found, key=lambda each: (each.name.casefold(), each.name)))


def layout(session: Session, name: str) -> Layout:
    """The layout of a name, however it is written.

    Raises:
        NotFoundFault: there is no layout of that name.
    """
    query = select(*LayoutRow.__table__.columns).where(LayoutRow.name_key == reference_key(name))
    row = session.execute(query).one_or_none()
    if row is None:
        raise _no_such(session, name)
    return layout_of(row)


def keep_layout(tx: Transaction, layout: Layout) -> None:
    """Keep a layout; one of the same name, however it is written, is kept no longer.

    Raises:
        EntryFault: it has no name or no column.
    """
    key = reference_key(layout.name)
    if not key:
        detail = phrase("'{name}' has no letter or figure.", name=layout.name)
        raise EntryFault("A layout needs a name", detail, "Name it after who sends such sheets.")
    if not layout.columns:
        raise EntryFault(
            "A layout needs columns",
            phrase("'{name}' has none.", name=layout.name),
            "Give at least one column.",
        )
    values = {
        "name": layout.name.strip(),
        "name_key": key,
        "kind": layout.kind.value,
        "sender": layout.sender.strip(),
        "body": layout_body(layout),
        "who": tx.who,
        "at": tx.at,
    }
    there = id_of(tx.session, layout.name)
    if there is None:
        tx.insert(LayoutRow(**values))
    else:
        tx.amend(LayoutRow, there, **values)


def forget_layout(tx: Transaction, name: str) -> None:
    """Keep a layout no longer; the ledger tells what it said.

    Raises:
        NotFoundFault: there is no layout of that name.
    """
    there = id_of(tx.session, name)
    if there is None:
        raise _no_such(tx.session, name)
    tx.remove(LayoutRow, there)


def _no_such(session: Session, name: str) -> NotFoundFault:
    known = ", ".join(each.name for each in layouts(session)) or phrase("none")
    return NotFoundFault(
        "No such layout",
        phrase("'{name}' is not known.", name=name),
        phrase("Layouts kept: {known}.", known=known),
    )


def id_of(session: Session, name: str) -> int | None:
    """The id of the layout of a name, however it is written; None where there is none."""
    query = select(LayoutRow.id).where(LayoutRow.name_key == reference_key(name))
    return session.execute(query).scalar_one_or_none()

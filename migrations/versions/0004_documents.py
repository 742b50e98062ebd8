"""Documents and photographs with their bytes, and guards that hold against replacing by any unique column."""

import sqlalchemy as sa
from alembic import op

revision = "0004"
down_revision = "0003"
branch_labels = None
depends_on = None

NEW_EVIDENCE = ("document_content", "document", "document_void")
UNIQUE_IN_EVIDENCE = {
    "visit_void": "visit_id",
    "attempt_void": "attempt_id",
    "batch_undo": "batch_id",
    "document_content": "sha256",
    "document_void": "document_id",
}


def upgrade() -> None:
    _create_documents()
    _create_voids()
    if op.get_bind().dialect.name == "sqlite":
        _guard_in_sqlite(NEW_EVIDENCE)
        _guard_unique_in_sqlite()
    else:
        _guard_in_postgresql(NEW_EVIDENCE)


def _create_documents() -> None:
    op.create_table(
        "document_content",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("sha256", sa.Text(), nullable=False),
        sa.Column("content", sa.LargeBinary(), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_document_content"),
        sa.UniqueConstraint("sha256", name="uq_document_content_sha256"),
    )
    op.create_table(
        "document",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("noun", sa.Text(), nullable=False),
        sa.Column("row_id", sa.Integer(), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("media_type", sa.Text(), nullable=False),
        sa.Column("size_bytes", sa.Integer(), nullable=False),
        sa.Column("sha256", sa.Text(), nullable=False),
        sa.Column("at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("who", sa.Text(), nullable=False),
        sa.Column("remark", sa.Text(), nullable=False, server_default=""),
        sa.Column("batch_id", sa.Integer(), nullable=True),
        sa.PrimaryKeyConstraint("id", name="pk_document"),
        sa.CheckConstraint("size_bytes > 0", name=op.f("ck_document_not_empty")),
        # At the end of the transaction: whether bytes may be added is judged by the document that has them.
        sa.ForeignKeyConstraint(
            ["sha256"],
            ["document_content.sha256"],
            name="fk_document_sha256_document_content",
            deferrable=True,
            initially="DEFERRED",
        ),
        sa.ForeignKeyConstraint(["batch_id"], ["batch.id"], name="fk_document_batch_id_batch"),
    )
    op.create_index("ix_document_noun_row_id", "document", ["noun", "row_id"])
    op.create_index("ix_document_sha256", "document", ["sha256"])
    op.create_index("ix_document_batch_id", "document", ["batch_id"])


def _create_voids() -> None:
    op.create_table(
        "document_void",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("document_id", sa.Integer(), nullable=False),
        sa.Column("who", sa.Text(), nullable=False),
        sa.Column("at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("why", sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_document_void"),
        sa.UniqueConstraint("document_id", name="uq_document_void_document_id"),
        sa.CheckConstraint("why <> ''", name=op.f("ck_document_void_why_given")),
        sa.ForeignKeyConstraint(
            ["document_id"], ["document.id"], name="fk_document_void_document_id_document"
        ),
    )


def _refusal(table: str) -> str:
    return f"SELECT RAISE(ABORT, 'evidence is never changed or deleted: {table}');"


def _guard_in_sqlite(tables: tuple[str, ...]) -> None:
    for table in tables:
        for event in ("UPDATE", "DELETE"):
            op.execute(
                f"CREATE TRIGGER {table}_no_{event.lower()} BEFORE {event} ON {table} "
                f"BEGIN {_refusal(table)} END"
            )
        op.execute(
            f"CREATE TRIGGER {table}_no_replace BEFORE INSERT ON {table} "
            f"WHEN EXISTS (SELECT 1 FROM {table} WHERE id = NEW.id) BEGIN {_refusal(table)} END"
        )


def _guard_unique_in_sqlite() -> None:
    # REPLACE deletes also the old row that has the same value in another unique column.
    for table, column in UNIQUE_IN_EVIDENCE.items():
        op.execute(f"DROP TRIGGER {table}_no_replace")
        op.execute(
            f"CREATE TRIGGER {table}_no_replace BEFORE INSERT ON {table} "
            f"WHEN EXISTS (SELECT 1 FROM {table} WHERE id = NEW.id OR {column} = NEW.{column}) "
            f"BEGIN {_refusal(table)} END"
        )


def _guard_in_postgresql(tables: tuple[str, ...]) -> None:
    for table in tables:
        op.execute(
            f"CREATE TRIGGER {table}_no_change BEFORE UPDATE OR DELETE OR TRUNCATE ON {table} "
            "FOR EACH STATEMENT EXECUTE FUNCTION refuse_change_of_evidence()"
        )

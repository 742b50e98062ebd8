"""Batches with their answers and follow-ups, what they wrote, their undoing; layouts, aliases, attempts."""

import sqlalchemy as sa
from alembic import op

revision = "0002"
down_revision = "0001"
branch_labels = None
depends_on = None

NEW_EVIDENCE = ("attempt", "attempt_void", "batch_row", "batch_undo", "alias")


def upgrade() -> None:
    _alter_batch()
    _create_what_batches_keep()
    _create_layouts_and_aliases()
    _create_attempts()
    if op.get_bind().dialect.name == "sqlite":
        # The table of batches was made anew, and its triggers went with the old one.
        _guard_in_sqlite(("batch", *NEW_EVIDENCE))
    else:
        _guard_in_postgresql(NEW_EVIDENCE)


def _alter_batch() -> None:
    with op.batch_alter_table("batch") as batch:
        batch.drop_constraint("uq_batch_kind_digest", type_="unique")
        for name, default in (("layout", ""), ("forms", ""), ("date_order", ""), ("answers", "[]")):
            batch.add_column(sa.Column(name, sa.Text(), nullable=False, server_default=default))
        batch.add_column(sa.Column("follows", sa.Integer(), nullable=True))
        batch.create_foreign_key("fk_batch_follows_batch", "batch", ["follows"], ["id"])
        batch.create_index("ix_batch_digest", ["digest"])
        batch.create_index("ix_batch_follows", ["follows"])


def _create_what_batches_keep() -> None:
    op.create_table(
        "batch_row",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("batch_id", sa.Integer(), nullable=False),
        sa.Column("noun", sa.Text(), nullable=False),
        sa.Column("row_id", sa.Integer(), nullable=False),
        sa.Column("action", sa.Text(), nullable=False),
        sa.Column("before", sa.Text(), nullable=False),
        sa.Column("after", sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_batch_row"),
        sa.ForeignKeyConstraint(["batch_id"], ["batch.id"], name="fk_batch_row_batch_id_batch"),
    )
    op.create_index("ix_batch_row_batch_id", "batch_row", ["batch_id"])
    op.create_table(
        "batch_undo",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("batch_id", sa.Integer(), nullable=False),
        sa.Column("who", sa.Text(), nullable=False),
        sa.Column("at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("why", sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_batch_undo"),
        sa.CheckConstraint("why <> ''", name=op.f("ck_batch_undo_why_given")),
        sa.ForeignKeyConstraint(["batch_id"], ["batch.id"], name="fk_batch_undo_batch_id_batch"),
        sa.UniqueConstraint("batch_id", name="uq_batch_undo_batch_id"),
    )


def _create_layouts_and_aliases() -> None:
    op.create_table(
        "layout",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("name_key", sa.Text(), nullable=False),
        sa.Column("kind", sa.Text(), nullable=False),
        sa.Column("sender", sa.Text(), nullable=False),
        sa.Column("body", sa.Text(), nullable=False),
        sa.Column("who", sa.Text(), nullable=False),
        sa.Column("at", sa.DateTime(timezone=True), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_layout"),
        sa.UniqueConstraint("name_key", name="uq_layout_name_key"),
    )
    op.create_table(
        "alias",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("words", sa.Text(), nullable=False),
        sa.Column("words_key", sa.Text(), nullable=False),
        sa.Column("outlet_id", sa.Integer(), nullable=True),
        sa.Column("batch_id", sa.Integer(), nullable=True),
        sa.Column("who", sa.Text(), nullable=False),
        sa.Column("at", sa.DateTime(timezone=True), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_alias"),
        sa.ForeignKeyConstraint(["batch_id"], ["batch.id"], name="fk_alias_batch_id_batch"),
        sa.ForeignKeyConstraint(["outlet_id"], ["outlet.id"], name="fk_alias_outlet_id_outlet"),
    )
    for column in ("words_key", "outlet_id", "batch_id"):
        op.create_index(f"ix_alias_{column}", "alias", [column])


def _create_attempts() -> None:
    op.create_table(
        "attempt",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("outlet_id", sa.Integer(), nullable=False),
        sa.Column("attempted_on", sa.Date(), nullable=False),
        sa.Column("why", sa.Text(), nullable=False),
        sa.Column("person", sa.Text(), nullable=False),
        sa.Column("source_file", sa.Text(), nullable=True),
        sa.Column("source_sheet", sa.Text(), nullable=True),
        sa.Column("source_row", sa.Integer(), nullable=True),
        sa.Column("source_cells", sa.Text(), nullable=True),
        sa.Column("recorded_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("recorded_by", sa.Text(), nullable=False),
        sa.Column("batch_id", sa.Integer(), nullable=True),
        sa.PrimaryKeyConstraint("id", name="pk_attempt"),
        sa.ForeignKeyConstraint(["batch_id"], ["batch.id"], name="fk_attempt_batch_id_batch"),
        sa.ForeignKeyConstraint(["outlet_id"], ["outlet.id"], name="fk_attempt_outlet_id_outlet"),
    )
    op.create_index("ix_attempt_batch_id", "attempt", ["batch_id"])
    op.create_index("ix_attempt_outlet_id", "attempt", ["outlet_id"])
    op.create_table(
        "attempt_void",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("attempt_id", sa.Integer(), nullable=False),
        sa.Column("reason", sa.Text(), nullable=False),
        sa.Column("who", sa.Text(), nullable=False),
        sa.Column("at", sa.DateTime(timezone=True), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_attempt_void"),
        sa.CheckConstraint("reason <> ''", name=op.f("ck_attempt_void_reason_given")),
        sa.ForeignKeyConstraint(["attempt_id"], ["attempt.id"], name="fk_attempt_void_attempt_id_attempt"),
        sa.UniqueConstraint("attempt_id", name="uq_attempt_void_attempt_id"),
    )


def _guard_in_sqlite(tables: tuple[str, ...]) -> None:
    for table in tables:
        refusal = f"SELECT RAISE(ABORT, 'evidence is never changed or deleted: {table}');"
        for event in ("UPDATE", "DELETE"):
            op.execute(
                f"CREATE TRIGGER {table}_no_{event.lower()} BEFORE {event} ON {table} BEGIN {refusal} END"
            )
        # REPLACE deletes the old row without firing the trigger above.
        op.execute(
            f"CREATE TRIGGER {table}_no_replace BEFORE INSERT ON {table} "
            f"WHEN EXISTS (SELECT 1 FROM {table} WHERE id = NEW.id) BEGIN {refusal} END"
        )


def _guard_in_postgresql(tables: tuple[str, ...]) -> None:
    for table in tables:
        op.execute(
            f"CREATE TRIGGER {table}_no_change BEFORE UPDATE OR DELETE OR TRUNCATE ON {table} "
            "FOR EACH STATEMENT EXECUTE FUNCTION refuse_change_of_evidence()"
        )

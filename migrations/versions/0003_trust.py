"""The ledger chained by digests, row versions, keys and signatures, checkpoints, accounts."""

import sqlalchemy as sa
from alembic import op

revision = "0003"
down_revision = "0002"
branch_labels = None
depends_on = None

NEW_EVIDENCE = ("person_key", "signature", "checkpoint")
AMENDABLE = (
    "register",
    "site",
    "building",
    "level",
    "room",
    "position",
    "outlet",
    "valve",
    "fitting",
    "instrument",
    "calibration",
    "layout",
)


def upgrade() -> None:
    _chain_the_ledger()
    _number_the_versions()
    _create_keys_and_signatures()
    _create_checkpoints()
    _create_accounts()
    if op.get_bind().dialect.name == "sqlite":
        _guard_in_sqlite(NEW_EVIDENCE)
    else:
        _guard_in_postgresql(NEW_EVIDENCE)


def _chain_the_ledger() -> None:
    # Plain ALTERs: making the table anew would lose its triggers.
    for name in ("local_at", "program"):
        op.add_column("ledger_entry", sa.Column(name, sa.Text(), nullable=False, server_default=""))
    op.add_column("ledger_entry", sa.Column("batch_id", sa.Integer(), nullable=True))
    for name in ("before", "why", "previous", "digest"):
        op.add_column("ledger_entry", sa.Column(name, sa.Text(), nullable=False, server_default=""))


def _number_the_versions() -> None:
    for table in AMENDABLE:
        op.add_column(table, sa.Column("row_version", sa.Integer(), nullable=False, server_default="1"))


def _create_keys_and_signatures() -> None:
    op.create_table(
        "person_key",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("person", sa.Text(), nullable=False),
        sa.Column("key", sa.Text(), nullable=False),
        sa.Column("fingerprint", sa.Text(), nullable=False),
        sa.Column("made_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("added_by", sa.Text(), nullable=False),
        sa.Column("at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("withdraws", sa.Integer(), nullable=True),
        sa.Column("withdrawn_at", sa.DateTime(timezone=True), nullable=True),
        sa.Column("why", sa.Text(), nullable=False, server_default=""),
        sa.PrimaryKeyConstraint("id", name="pk_person_key"),
        sa.ForeignKeyConstraint(["withdraws"], ["person_key.id"], name="fk_person_key_withdraws_person_key"),
    )
    op.create_index("ix_person_key_fingerprint", "person_key", ["fingerprint"])
    op.create_table(
        "signature",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("noun", sa.Text(), nullable=False),
        sa.Column("row_id", sa.Integer(), nullable=False),
        sa.Column("digest", sa.Text(), nullable=False),
        sa.Column("person_key_id", sa.Integer(), nullable=False),
        sa.Column("signature", sa.Text(), nullable=False),
        sa.Column("role", sa.Text(), nullable=False),
        sa.Column("at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("who", sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_signature"),
        sa.CheckConstraint("role IN ('signed', 'countersigned')", name=op.f("ck_signature_role_known")),
        sa.ForeignKeyConstraint(
            ["person_key_id"], ["person_key.id"], name="fk_signature_person_key_id_person_key"
        ),
    )
    op.create_index("ix_signature_noun_row_id", "signature", ["noun", "row_id"])
    op.create_index("ix_signature_person_key_id", "signature", ["person_key_id"])


def _create_checkpoints() -> None:
    op.create_table(
        "checkpoint",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("who", sa.Text(), nullable=False),
        sa.Column("last_entry_id", sa.Integer(), nullable=False),
        sa.Column("digest", sa.Text(), nullable=False),
        sa.Column("entries", sa.Integer(), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_checkpoint"),
    )


def _create_accounts() -> None:
    op.create_table(
        "account",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("role", sa.Text(), nullable=False),
        sa.Column("building_id", sa.Integer(), nullable=True),
        sa.Column("at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("who", sa.Text(), nullable=False),
        sa.Column("row_version", sa.Integer(), nullable=False, server_default="1"),
        sa.PrimaryKeyConstraint("id", name="pk_account"),
        sa.CheckConstraint(
            "role IN ('reader', 'recorder', 'officer', 'keeper')", name=op.f("ck_account_role_known")
        ),
        sa.ForeignKeyConstraint(["building_id"], ["building.id"], name="fk_account_building_id_building"),
    )
    op.create_index("ix_account_building_id", "account", ["building_id"])
    op.create_index("ix_account_name", "account", ["name"])


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

"""A valve's whole life: actions, use of outlets, what was seen at visits, people, upkeep, surveys."""

from datetime import date, datetime

import sqlalchemy as sa
from alembic import op

revision = "0005"
down_revision = "0004"
branch_labels = None
depends_on = None

NEW_EVIDENCE = (
    "action",
    "action_event",
    "outlet_event",
    "visit_check",
    "visit_part",
    "visit_justification",
    "competence",
    "care",
    "outlet_review",
    "survey",
)


def upgrade() -> None:
    _create_actions()
    _create_use_of_outlets()
    _create_what_was_seen()
    _create_people()
    _create_upkeep()
    _create_surveys()
    if op.get_bind().dialect.name == "sqlite":
        _guard_in_sqlite(NEW_EVIDENCE)
    else:
        _guard_in_postgresql(NEW_EVIDENCE)


def _key() -> sa.Column[int]:
    return sa.Column("id", sa.Integer(), nullable=False)


def _number(name: str, nullable: bool = False) -> sa.Column[int]:
    return sa.Column(name, sa.Integer(), nullable=nullable)


def _text(name: str) -> sa.Column[str]:
    return sa.Column(name, sa.Text(), nullable=False)


def _truth(name: str, nullable: bool = False) -> sa.Column[bool]:
    return sa.Column(name, sa.Boolean(), nullable=nullable)


def _day(name: str, nullable: bool = False) -> sa.Column[date]:
    return sa.Column(name, sa.Date(), nullable=nullable)


def _moment(name: str) -> sa.Column[datetime]:
    return sa.Column(name, sa.DateTime(timezone=True), nullable=False)


def _measured(name: str) -> sa.Column[float]:
    return sa.Column(name, sa.Double(), nullable=True)


def _primary(table: str) -> sa.PrimaryKeyConstraint:
    return sa.PrimaryKeyConstraint("id", name=f"pk_{table}")


def _refers(table: str, column: str, other: str) -> sa.ForeignKeyConstraint:
    return sa.ForeignKeyConstraint([column], [f"{other}.id"], name=f"fk_{table}_{column}_{other}")


def _why_given(table: str) -> sa.CheckConstraint:
    return sa.CheckConstraint("why <> ''", name=op.f(f"ck_{table}_why_given"))


def _index(table: str, *columns: str) -> None:
    for column in columns:
        op.create_index(f"ix_{table}_{column}", table, [column])


def _create_actions() -> None:
    op.create_table(
        "action",
        _key(),
        _number("outlet_id"),
        _number("valve_id", nullable=True),
        _number("visit_id", nullable=True),
        _text("kind"),
        _number("severity"),
        _truth("asks_retest"),
        _text("codes"),
        _text("stop_codes"),
        _text("words"),
        _moment("opened_at"),
        _text("opened_by"),
        _day("found_on"),
        _day("target_on", nullable=True),
        _text("owner"),
        _number("batch_id", nullable=True),
        _primary("action"),
        sa.CheckConstraint("words <> ''", name=op.f("ck_action_words_given")),
        _refers("action", "outlet_id", "outlet"),
        _refers("action", "valve_id", "valve"),
        _refers("action", "visit_id", "visit"),
        _refers("action", "batch_id", "batch"),
    )
    _index("action", "outlet_id", "valve_id", "visit_id", "batch_id")
    op.create_table(
        "action_event",
        _key(),
        _number("action_id"),
        _text("kind"),
        _moment("at"),
        _text("who"),
        _day("done_on"),
        _truth("by_itself"),
        _text("why"),
        _text("owner"),
        _day("target_on", nullable=True),
        _number("visit_id", nullable=True),
        _text("codes"),
        _text("stop_codes"),
        _number("severity", nullable=True),
        _primary("action_event"),
        _refers("action_event", "action_id", "action"),
        _refers("action_event", "visit_id", "visit"),
    )
    _index("action_event", "action_id", "visit_id")


def _create_use_of_outlets() -> None:
    op.create_table(
        "outlet_event",
        _key(),
        _number("outlet_id"),
        _text("kind"),
        _day("done_on"),
        _moment("at"),
        _text("who"),
        _text("who_told"),
        _truth("sign_placed", nullable=True),
        _text("why"),
        _number("action_id", nullable=True),
        _number("visit_id", nullable=True),
        _primary("outlet_event"),
        _why_given("outlet_event"),
        _refers("outlet_event", "outlet_id", "outlet"),
        _refers("outlet_event", "action_id", "action"),
        _refers("outlet_event", "visit_id", "visit"),
    )
    _index("outlet_event", "outlet_id", "action_id", "visit_id")


def _create_what_was_seen() -> None:
    op.create_table(
        "visit_check",
        _key(),
        _number("visit_id"),
        _text("key"),
        _truth("said", nullable=True),
        _measured("number"),
        _text("unit"),
        _text("remark"),
        _primary("visit_check"),
        _refers("visit_check", "visit_id", "visit"),
    )
    op.create_table(
        "visit_part",
        _key(),
        _number("visit_id"),
        _text("part"),
        _measured("quantity"),
        _text("remark"),
        _primary("visit_part"),
        _refers("visit_part", "visit_id", "visit"),
    )
    op.create_table(
        "visit_justification",
        _key(),
        _number("visit_id"),
        _text("who"),
        _moment("at"),
        _text("why"),
        _number("withdraws", nullable=True),
        _primary("visit_justification"),
        _why_given("visit_justification"),
        _refers("visit_justification", "visit_id", "visit"),
        _refers("visit_justification", "withdraws", "visit_justification"),
    )
    for table in ("visit_check", "visit_part", "visit_justification"):
        _index(table, "visit_id")


def _create_people() -> None:
    op.create_table(
        "person",
        _key(),
        _text("name"),
        _text("name_key"),
        _text("position"),
        _day("left_on", nullable=True),
        sa.Column("row_version", sa.Integer(), nullable=False, server_default="1"),
        _primary("person"),
        sa.UniqueConstraint("name_key", name="uq_person_name_key"),
    )
    op.create_table(
        "competence",
        _key(),
        _number("person_id"),
        _text("subject"),
        _text("certificate"),
        _day("from_on"),
        _day("until_on", nullable=True),
        _moment("at"),
        _text("who"),
        _number("withdraws", nullable=True),
        _text("why"),
        _primary("competence"),
        sa.CheckConstraint("until_on >= from_on", name=op.f("ck_competence_ends_after_it_begins")),
        _refers("competence", "person_id", "person"),
        _refers("competence", "withdraws", "competence"),
    )
    _index("competence", "person_id")


def _create_upkeep() -> None:
    op.create_table(
        "care",
        _key(),
        _number("outlet_id"),
        _text("kind"),
        _day("done_on"),
        _text("person"),
        _measured("duration_s"),
        _text("remarks"),
        _moment("at"),
        _text("who"),
        _number("withdraws", nullable=True),
        _text("why"),
        _primary("care"),
        _refers("care", "outlet_id", "outlet"),
        _refers("care", "withdraws", "care"),
    )
    op.create_table(
        "outlet_review",
        _key(),
        _number("outlet_id"),
        _day("done_on"),
        _text("person"),
        _truth("needed"),
        _text("why"),
        _moment("at"),
        _text("who"),
        _number("withdraws", nullable=True),
        _primary("outlet_review"),
        _why_given("outlet_review"),
        _refers("outlet_review", "outlet_id", "outlet"),
        _refers("outlet_review", "withdraws", "outlet_review"),
    )
    for table in ("care", "outlet_review"):
        _index(table, "outlet_id")


def _create_surveys() -> None:
    measured = (
        *("hot_static_bar", "cold_static_bar", "hot_flow_bar", "cold_flow_bar"),
        *("hot_c", "cold_c", "wanted_flow_l_min"),
    )
    op.create_table(
        "survey",
        _key(),
        _number("outlet_id"),
        _day("done_on"),
        _text("person"),
        *(_measured(name) for name in measured),
        _text("remarks"),
        _moment("at"),
        _text("who"),
        _number("withdraws", nullable=True),
        _text("why"),
        _primary("survey"),
        _refers("survey", "outlet_id", "outlet"),
        _refers("survey", "withdraws", "survey"),
    )
    _index("survey", "outlet_id")


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

"""The register: places, valves, visits, what judging found, batches, rules and the ledger."""

import sqlalchemy as sa
from alembic import op

revision = "0001"
down_revision = None
branch_labels = None
depends_on = None

EVIDENCE = (
    "visit",
    "visit_void",
    "judgement",
    "finding",
    "batch",
    "batch_question",
    "rule_override",
    "group_fit",
    "ledger_entry",
)
_IN_PLACE = sa.text("removed_on IS NULL")


def upgrade() -> None:
    _create_places()
    _create_valves()
    _create_batches()
    _create_visits()
    _create_judgements()
    if op.get_bind().dialect.name == "sqlite":
        _guard_evidence_in_sqlite()
    else:
        _guard_evidence_in_postgresql()


def _create_places() -> None:
    op.create_table(
        "register",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("identifier", sa.Text(), nullable=False),
        sa.Column("made_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("rule_set", sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_register"),
        sa.CheckConstraint("id = 1", name=op.f("ck_register_single")),
    )
    op.create_table(
        "site",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("name_key", sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_site"),
        sa.UniqueConstraint("name_key", name="uq_site_name_key"),
    )
    op.create_table(
        "building",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("site_id", sa.Integer(), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("name_key", sa.Text(), nullable=False),
        sa.Column("rule_set", sa.Text(), nullable=True),
        sa.PrimaryKeyConstraint("id", name="pk_building"),
        sa.ForeignKeyConstraint(["site_id"], ["site.id"], name="fk_building_site_id_site"),
        sa.UniqueConstraint("site_id", "name_key", name="uq_building_site_id_name_key"),
    )
    op.create_table(
        "level",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("building_id", sa.Integer(), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("name_key", sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_level"),
        sa.ForeignKeyConstraint(["building_id"], ["building.id"], name="fk_level_building_id_building"),
        sa.UniqueConstraint("building_id", "name_key", name="uq_level_building_id_name_key"),
    )
    op.create_table(
        "room",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("level_id", sa.Integer(), nullable=False),
        sa.Column("number", sa.Text(), nullable=False),
        sa.Column("number_key", sa.Text(), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("name_key", sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_room"),
        sa.ForeignKeyConstraint(["level_id"], ["level.id"], name="fk_room_level_id_level"),
        sa.UniqueConstraint(
            "level_id", "number_key", "name_key", name="uq_room_level_id_number_key_name_key"
        ),
    )
    op.create_table(
        "position",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("room_id", sa.Integer(), nullable=False),
        sa.Column("words", sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_position"),
        sa.ForeignKeyConstraint(["room_id"], ["room.id"], name="fk_position_room_id_room"),
    )
    op.create_index("ix_position_room_id", "position", ["room_id"])
    op.create_table(
        "outlet",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("room_id", sa.Integer(), nullable=False),
        sa.Column("position_id", sa.Integer(), nullable=False),
        sa.Column("reference", sa.Text(), nullable=False),
        sa.Column("reference_key", sa.Text(), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("use", sa.Text(), nullable=False),
        sa.Column("user_group", sa.Text(), nullable=False),
        sa.Column("little_used", sa.Boolean(), nullable=False),
        sa.Column("pipe_m", sa.Double(), nullable=True),
        sa.Column("rule_set", sa.Text(), nullable=True),
        sa.Column("retired_on", sa.Date(), nullable=True),
        sa.PrimaryKeyConstraint("id", name="pk_outlet"),
        sa.CheckConstraint("pipe_m >= 0", name=op.f("ck_outlet_pipe_m_not_negative")),
        sa.ForeignKeyConstraint(["position_id"], ["position.id"], name="fk_outlet_position_id_position"),
        sa.ForeignKeyConstraint(["room_id"], ["room.id"], name="fk_outlet_room_id_room"),
        sa.UniqueConstraint("reference_key", name="uq_outlet_reference_key"),
    )
    op.create_index("ix_outlet_position_id", "outlet", ["position_id"])
    op.create_index("ix_outlet_room_id", "outlet", ["room_id"])


def _create_valves() -> None:
    op.create_table(
        "valve",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("make", sa.Text(), nullable=False),
        sa.Column("model", sa.Text(), nullable=False),
        sa.Column("serial", sa.Text(), nullable=False),
        sa.Column("scheme_class", sa.Text(), nullable=True),
        sa.Column("en_type", sa.Text(), nullable=True),
        sa.Column("designations", sa.Text(), nullable=False),
        sa.Column("size_mm", sa.Double(), nullable=True),
        sa.Column("set_c", sa.Double(), nullable=True),
        sa.Column("check_valves", sa.Boolean(), nullable=True),
        sa.Column("strainers", sa.Boolean(), nullable=True),
        sa.Column("isolating_valves", sa.Boolean(), nullable=True),
        sa.Column("min_differential_k", sa.Double(), nullable=True),
        sa.Column("max_pressure_ratio", sa.Double(), nullable=True),
        sa.PrimaryKeyConstraint("id", name="pk_valve"),
    )
    op.create_table(
        "fitting",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("valve_id", sa.Integer(), nullable=False),
        sa.Column("position_id", sa.Integer(), nullable=False),
        sa.Column("fitted_on", sa.Date(), nullable=True),
        sa.Column("removed_on", sa.Date(), nullable=True),
        sa.PrimaryKeyConstraint("id", name="pk_fitting"),
        sa.CheckConstraint("removed_on >= fitted_on", name=op.f("ck_fitting_removed_after_fitted")),
        sa.ForeignKeyConstraint(["position_id"], ["position.id"], name="fk_fitting_position_id_position"),
        sa.ForeignKeyConstraint(["valve_id"], ["valve.id"], name="fk_fitting_valve_id_valve"),
    )
    op.create_index("ix_fitting_position_id", "fitting", ["position_id"])
    op.create_index("ix_fitting_valve_id", "fitting", ["valve_id"])
    op.create_index(
        "uq_fitting_position_in_place",
        "fitting",
        ["position_id"],
        unique=True,
        sqlite_where=_IN_PLACE,
        postgresql_where=_IN_PLACE,
    )
    op.create_index(
        "uq_fitting_valve_in_place",
        "fitting",
        ["valve_id"],
        unique=True,
        sqlite_where=_IN_PLACE,
        postgresql_where=_IN_PLACE,
    )
    op.create_table(
        "instrument",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("reference", sa.Text(), nullable=False),
        sa.Column("reference_key", sa.Text(), nullable=False),
        sa.Column("kind", sa.Text(), nullable=False),
        sa.Column("specification", sa.Text(), nullable=False),
        sa.Column("standard_uncertainty_k", sa.Double(), nullable=True),
        sa.PrimaryKeyConstraint("id", name="pk_instrument"),
        sa.CheckConstraint(
            "standard_uncertainty_k >= 0", name=op.f("ck_instrument_uncertainty_not_negative")
        ),
        sa.UniqueConstraint("reference_key", name="uq_instrument_reference_key"),
    )
    op.create_table(
        "calibration",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("instrument_id", sa.Integer(), nullable=False),
        sa.Column("calibrated_on", sa.Date(), nullable=False),
        sa.Column("due_on", sa.Date(), nullable=False),
        sa.Column("certificate", sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_calibration"),
        sa.CheckConstraint("due_on >= calibrated_on", name=op.f("ck_calibration_due_after_calibrated")),
        sa.ForeignKeyConstraint(
            ["instrument_id"], ["instrument.id"], name="fk_calibration_instrument_id_instrument"
        ),
    )
    op.create_index("ix_calibration_instrument_id", "calibration", ["instrument_id"])


def _create_batches() -> None:
    op.create_table(
        "batch",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("kind", sa.Text(), nullable=False),
        sa.Column("file", sa.Text(), nullable=False),
        sa.Column("digest", sa.Text(), nullable=False),
        sa.Column("content", sa.LargeBinary(), nullable=False),
        sa.Column("rows_read", sa.Integer(), nullable=False),
        sa.Column("accepted", sa.Integer(), nullable=False),
        sa.Column("already_there", sa.Integer(), nullable=False),
        sa.Column("who", sa.Text(), nullable=False),
        sa.Column("at", sa.DateTime(timezone=True), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_batch"),
        sa.UniqueConstraint("kind", "digest", name="uq_batch_kind_digest"),
    )
    op.create_table(
        "batch_question",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("batch_id", sa.Integer(), nullable=False),
        sa.Column("sheet", sa.Text(), nullable=False),
        sa.Column("row_number", sa.Integer(), nullable=False),
        sa.Column("cell", sa.Text(), nullable=False),
        sa.Column("code", sa.Text(), nullable=False),
        sa.Column("reference", sa.Text(), nullable=True),
        sa.Column("found", sa.Text(), nullable=False),
        sa.Column("remedy", sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_batch_question"),
        sa.ForeignKeyConstraint(["batch_id"], ["batch.id"], name="fk_batch_question_batch_id_batch"),
    )
    op.create_index("ix_batch_question_batch_id", "batch_question", ["batch_id"])
    op.create_table(
        "rule_override",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("rule_set", sa.Text(), nullable=False),
        sa.Column("key", sa.Text(), nullable=False),
        sa.Column("place", sa.Text(), nullable=False),
        sa.Column("number_value", sa.Double(), nullable=True),
        sa.Column("text_value", sa.Text(), nullable=True),
        sa.Column("who", sa.Text(), nullable=False),
        sa.Column("at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("why", sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_rule_override"),
        sa.CheckConstraint(
            "number_value IS NULL OR text_value IS NULL",
            name=op.f("ck_rule_override_one_value"),
        ),
        sa.CheckConstraint("why <> ''", name=op.f("ck_rule_override_why_given")),
    )
    op.create_table(
        "group_fit",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("name", sa.Text(), nullable=False),
        sa.Column("fitted_on", sa.Date(), nullable=False),
        sa.Column("fitted_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("mu", sa.Double(), nullable=False),
        sa.Column("omega", sa.Double(), nullable=False),
        sa.Column("sigma", sa.Double(), nullable=False),
        sa.Column("s", sa.Double(), nullable=False),
        sa.Column("a", sa.Double(), nullable=False),
        sa.Column("b_years", sa.Double(), nullable=False),
        sa.Column("valves", sa.Integer(), nullable=False),
        sa.Column("readings", sa.Integer(), nullable=False),
        sa.Column("version", sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_group_fit"),
    )
    op.create_index("ix_group_fit_fitted_on", "group_fit", ["fitted_on"])
    op.create_table(
        "ledger_entry",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("who", sa.Text(), nullable=False),
        sa.Column("what", sa.Text(), nullable=False),
        sa.Column("noun", sa.Text(), nullable=False),
        sa.Column("row_id", sa.Integer(), nullable=True),
        sa.Column("action", sa.Text(), nullable=False),
        sa.Column("after", sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_ledger_entry"),
    )
    op.create_index("ix_ledger_entry_noun_row_id", "ledger_entry", ["noun", "row_id"])


def _create_visits() -> None:
    op.create_table(
        "visit",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("valve_id", sa.Integer(), nullable=False),
        sa.Column("outlet_id", sa.Integer(), nullable=False),
        sa.Column("kind", sa.Text(), nullable=False),
        sa.Column("visited_on", sa.Date(), nullable=False),
        sa.Column("person", sa.Text(), nullable=False),
        sa.Column("instrument_id", sa.Integer(), nullable=True),
        sa.Column("instrument_words", sa.Text(), nullable=False),
        sa.Column("remarks", sa.Text(), nullable=False),
        sa.Column("hot_c", sa.Double(), nullable=True),
        sa.Column("cold_c", sa.Double(), nullable=True),
        sa.Column("found_c", sa.Double(), nullable=True),
        sa.Column("left_c", sa.Double(), nullable=True),
        sa.Column("flow_l_min", sa.Double(), nullable=True),
        sa.Column("small_draw_c", sa.Double(), nullable=True),
        sa.Column("small_draw_l_min", sa.Double(), nullable=True),
        sa.Column("hot_static_bar", sa.Double(), nullable=True),
        sa.Column("cold_static_bar", sa.Double(), nullable=True),
        sa.Column("hot_flow_bar", sa.Double(), nullable=True),
        sa.Column("cold_flow_bar", sa.Double(), nullable=True),
        sa.Column("cold_isolated_max_c", sa.Double(), nullable=True),
        sa.Column("cold_isolated_stabilised_c", sa.Double(), nullable=True),
        sa.Column("cold_isolated_residual_ml_min", sa.Double(), nullable=True),
        sa.Column("cold_isolated_residual_c", sa.Double(), nullable=True),
        sa.Column("cold_isolated_shut_s", sa.Double(), nullable=True),
        sa.Column("cold_isolated_said_to_shut", sa.Boolean(), nullable=True),
        sa.Column("hot_isolated_max_c", sa.Double(), nullable=True),
        sa.Column("hot_isolated_stabilised_c", sa.Double(), nullable=True),
        sa.Column("hot_isolated_residual_ml_min", sa.Double(), nullable=True),
        sa.Column("hot_isolated_residual_c", sa.Double(), nullable=True),
        sa.Column("hot_isolated_shut_s", sa.Double(), nullable=True),
        sa.Column("hot_isolated_said_to_shut", sa.Boolean(), nullable=True),
        sa.Column("adjusted", sa.Boolean(), nullable=True),
        sa.Column("strainers_cleaned", sa.Boolean(), nullable=True),
        sa.Column("check_valves_good", sa.Boolean(), nullable=True),
        sa.Column("isolating_valves_open", sa.Boolean(), nullable=True),
        sa.Column("cap_refitted", sa.Boolean(), nullable=True),
        sa.Column("source_file", sa.Text(), nullable=True),
        sa.Column("source_sheet", sa.Text(), nullable=True),
        sa.Column("source_row", sa.Integer(), nullable=True),
        sa.Column("source_cells", sa.Text(), nullable=True),
        sa.Column("recorded_at", sa.DateTime(timezone=True), nullable=False),
        sa.Column("recorded_by", sa.Text(), nullable=False),
        sa.Column("batch_id", sa.Integer(), nullable=True),
        sa.Column("corrects", sa.Integer(), nullable=True),
        sa.PrimaryKeyConstraint("id", name="pk_visit"),
        sa.ForeignKeyConstraint(["batch_id"], ["batch.id"], name="fk_visit_batch_id_batch"),
        sa.ForeignKeyConstraint(["corrects"], ["visit.id"], name="fk_visit_corrects_visit"),
        sa.ForeignKeyConstraint(
            ["instrument_id"], ["instrument.id"], name="fk_visit_instrument_id_instrument"
        ),
        sa.ForeignKeyConstraint(["outlet_id"], ["outlet.id"], name="fk_visit_outlet_id_outlet"),
        sa.ForeignKeyConstraint(["valve_id"], ["valve.id"], name="fk_visit_valve_id_valve"),
    )
    op.create_index("ix_visit_batch_id", "visit", ["batch_id"])
    op.create_index("ix_visit_corrects", "visit", ["corrects"])
    op.create_index("ix_visit_instrument_id", "visit", ["instrument_id"])
    op.create_index("ix_visit_outlet_id", "visit", ["outlet_id"])
    op.create_index("ix_visit_valve_id_visited_on_id", "visit", ["valve_id", "visited_on", "id"])
    op.create_table(
        "visit_void",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("visit_id", sa.Integer(), nullable=False),
        sa.Column("reason", sa.Text(), nullable=False),
        sa.Column("who", sa.Text(), nullable=False),
        sa.Column("at", sa.DateTime(timezone=True), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_visit_void"),
        sa.CheckConstraint("reason <> ''", name=op.f("ck_visit_void_reason_given")),
        sa.ForeignKeyConstraint(["visit_id"], ["visit.id"], name="fk_visit_void_visit_id_visit"),
        sa.UniqueConstraint("visit_id", name="uq_visit_void_visit_id"),
    )


def _create_judgements() -> None:
    op.create_table(
        "judgement",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("visit_id", sa.Integer(), nullable=False),
        sa.Column("rule_set", sa.Text(), nullable=False),
        sa.Column("rule_set_edition", sa.Text(), nullable=False),
        sa.Column("verdict", sa.Text(), nullable=False),
        sa.Column("met_count", sa.Integer(), nullable=False),
        sa.Column("met_codes", sa.Text(), nullable=False),
        sa.Column("untested_codes", sa.Text(), nullable=False),
        sa.Column("judged_at", sa.DateTime(timezone=True), nullable=False),
        sa.PrimaryKeyConstraint("id", name="pk_judgement"),
        sa.ForeignKeyConstraint(["visit_id"], ["visit.id"], name="fk_judgement_visit_id_visit"),
    )
    op.create_index("ix_judgement_visit_id", "judgement", ["visit_id"])
    op.create_table(
        "finding",
        sa.Column("id", sa.Integer(), nullable=False),
        sa.Column("judgement_id", sa.Integer(), nullable=False),
        sa.Column("code", sa.Text(), nullable=False),
        sa.Column("outcome", sa.Text(), nullable=False),
        sa.Column("words", sa.Text(), nullable=False),
        sa.Column("severity", sa.Integer(), nullable=True),
        sa.Column("required", sa.Boolean(), nullable=False),
        sa.Column("measured", sa.Double(), nullable=True),
        sa.Column("limit_value", sa.Double(), nullable=True),
        sa.Column("unit", sa.Text(), nullable=False),
        sa.Column("source", sa.Text(), nullable=False),
        sa.Column("action", sa.Text(), nullable=False),
        sa.Column("retest_from_weeks", sa.Double(), nullable=True),
        sa.Column("retest_to_weeks", sa.Double(), nullable=True),
        sa.PrimaryKeyConstraint("id", name="pk_finding"),
        sa.ForeignKeyConstraint(["judgement_id"], ["judgement.id"], name="fk_finding_judgement_id_judgement"),
    )
    op.create_index("ix_finding_judgement_id", "finding", ["judgement_id"])


def _guard_evidence_in_sqlite() -> None:
    for table in EVIDENCE:
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


def _guard_evidence_in_postgresql() -> None:
    op.execute(
        "CREATE FUNCTION refuse_change_of_evidence() RETURNS trigger LANGUAGE plpgsql AS "
        "$$ BEGIN RAISE EXCEPTION 'evidence is never changed or deleted: %', TG_TABLE_NAME; END $$"
    )
    for table in EVIDENCE:
        op.execute(
            f"CREATE TRIGGER {table}_no_change BEFORE UPDATE OR DELETE OR TRUNCATE ON {table} "
            "FOR EACH STATEMENT EXECUTE FUNCTION refuse_change_of_evidence()"
        )

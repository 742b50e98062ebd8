"""Whose rows a recorder may add: functions and row policies of PostgreSQL.

A recorder reaches an outlet, and everything that hangs on it, through the `account` table by the login that
opened the connection.
"""

from collections.abc import Iterator, Mapping
from typing import Final

_WITHIN = """
    FROM {table} t JOIN room r ON r.id = t.room_id JOIN level l ON l.id = r.level_id
    JOIN account a ON a.building_id IS NULL OR a.building_id = l.building_id
    WHERE {where} AND a.role = 'recorder' AND a.name = session_user::text"""
_OUTLET = _WITHIN.format(table="outlet", where="t.id = $1")
_VALVE = _WITHIN.format(
    table="position", where="t.id IN (SELECT position_id FROM fitting WHERE valve_id = $1)"
)

FUNCTIONS: Final[Mapping[str, str]] = {
    "reaches_outlet(integer)": f"SELECT EXISTS (SELECT 1 {_OUTLET})",
    "reaches_valve(integer)": f"SELECT EXISTS (SELECT 1 {_VALVE})",
    "reaches_visit(integer)": (
        "SELECT EXISTS (SELECT 1 FROM visit v WHERE v.id = $1 "
        "AND reaches_outlet(v.outlet_id) AND reaches_valve(v.valve_id))"
    ),
    "reaches_attempt(integer)": (
        "SELECT EXISTS (SELECT 1 FROM attempt t WHERE t.id = $1 AND reaches_outlet(t.outlet_id))"
    ),
    "reaches_judgement(integer)": (
        "SELECT EXISTS (SELECT 1 FROM judgement j WHERE j.id = $1 AND reaches_visit(j.visit_id))"
    ),
    "reaches_action(integer)": (
        "SELECT EXISTS (SELECT 1 FROM action a WHERE a.id = $1 AND reaches_outlet(a.outlet_id) "
        "AND (a.valve_id IS NULL OR reaches_valve(a.valve_id)))"
    ),
    # A batch is written in one transaction: what is added to an older one is not the recorder's.
    "batch_is_new(integer)": (
        "SELECT $1 IS NULL OR EXISTS (SELECT 1 FROM batch b WHERE b.id = $1 "
        "AND b.xmin::text::bigint = mod(pg_current_xact_id()::text::numeric, 4294967296)::bigint)"
    ),
    "reaches_batch(integer)": (
        "SELECT EXISTS (SELECT 1 FROM visit WHERE batch_id = $1 "
        "UNION ALL SELECT 1 FROM attempt WHERE batch_id = $1) "
        "AND NOT EXISTS (SELECT 1 FROM visit v WHERE v.batch_id = $1 AND NOT reaches_visit(v.id)) "
        "AND NOT EXISTS (SELECT 1 FROM attempt t WHERE t.batch_id = $1 AND NOT reaches_outlet(t.outlet_id)) "
        "AND NOT EXISTS (SELECT 1 FROM batch_row w WHERE w.batch_id = $1)"
    ),
    "reaches_owner(text, integer)": (
        "SELECT CASE $1 WHEN 'outlet' THEN reaches_outlet($2) WHEN 'valve' THEN reaches_valve($2) "
        "WHEN 'visit' THEN reaches_visit($2) ELSE false END"
    ),
    "reaches_document(integer)": (
        "SELECT EXISTS (SELECT 1 FROM document d WHERE d.id = $1 AND reaches_owner(d.noun, d.row_id))"
    ),
    "reaches_content(text)": (
        "SELECT EXISTS (SELECT 1 FROM document d WHERE d.sha256 = $1 AND reaches_owner(d.noun, d.row_id))"
    ),
    "reaches_row(text, integer)": (
        "SELECT CASE $1 "
        "WHEN 'visit' THEN reaches_visit($2) "
        "WHEN 'visit_void' THEN EXISTS (SELECT 1 FROM visit_void x WHERE x.id = $2 "
        "AND reaches_visit(x.visit_id)) "
        "WHEN 'attempt' THEN reaches_attempt($2) "
        "WHEN 'attempt_void' THEN EXISTS (SELECT 1 FROM attempt_void x WHERE x.id = $2 "
        "AND reaches_attempt(x.attempt_id)) "
        "WHEN 'judgement' THEN reaches_judgement($2) "
        "WHEN 'finding' THEN EXISTS (SELECT 1 FROM finding x WHERE x.id = $2 "
        "AND reaches_judgement(x.judgement_id)) "
        "WHEN 'action' THEN reaches_action($2) "
        "WHEN 'action_event' THEN EXISTS (SELECT 1 FROM action_event x WHERE x.id = $2 "
        "AND reaches_action(x.action_id)) "
        "WHEN 'outlet_event' THEN EXISTS (SELECT 1 FROM outlet_event x WHERE x.id = $2 "
        "AND reaches_outlet(x.outlet_id)) "
        "WHEN 'visit_check' THEN EXISTS (SELECT 1 FROM visit_check x WHERE x.id = $2 "
        "AND reaches_visit(x.visit_id)) "
        "WHEN 'visit_part' THEN EXISTS (SELECT 1 FROM visit_part x WHERE x.id = $2 "
        "AND reaches_visit(x.visit_id)) "
        "WHEN 'care' THEN EXISTS (SELECT 1 FROM care x WHERE x.id = $2 AND reaches_outlet(x.outlet_id)) "
        "WHEN 'outlet_review' THEN EXISTS (SELECT 1 FROM outlet_review x WHERE x.id = $2 "
        "AND reaches_outlet(x.outlet_id)) "
        "WHEN 'survey' THEN EXISTS (SELECT 1 FROM survey x WHERE x.id = $2 AND reaches_outlet(x.outlet_id)) "
        "WHEN 'batch' THEN batch_is_new($2) "
        "WHEN 'batch_question' THEN EXISTS (SELECT 1 FROM batch_question x WHERE x.id = $2 "
        "AND batch_is_new(x.batch_id)) "
        "WHEN 'batch_undo' THEN EXISTS (SELECT 1 FROM batch_undo x WHERE x.id = $2 "
        "AND reaches_batch(x.batch_id)) "
        "WHEN 'alias' THEN EXISTS (SELECT 1 FROM alias x WHERE x.id = $2 AND reaches_outlet(x.outlet_id)) "
        "WHEN 'document' THEN reaches_document($2) "
        "WHEN 'document_content' THEN EXISTS (SELECT 1 FROM document_content x WHERE x.id = $2 "
        "AND reaches_content(x.sha256)) "
        "WHEN 'document_void' THEN EXISTS (SELECT 1 FROM document_void x WHERE x.id = $2 "
        "AND reaches_document(x.document_id)) "
        "WHEN 'signature' THEN EXISTS (SELECT 1 FROM signature x WHERE x.id = $2 AND CASE x.noun "
        "WHEN 'visit' THEN reaches_visit(x.row_id) WHEN 'batch' THEN reaches_batch(x.row_id) "
        "ELSE false END) "
        "ELSE false END"
    ),
    "reaches_rows(text, integer, text)": (
        "SELECT CASE WHEN $2 IS NOT NULL THEN reaches_row($1, $2) ELSE "
        "($3::jsonb ->> 'last_id')::bigint - ($3::jsonb ->> 'first_id')::bigint < 1000000 "
        "AND NOT EXISTS (SELECT 1 FROM generate_series(($3::jsonb ->> 'first_id')::integer, "
        "($3::jsonb ->> 'last_id')::integer) AS n WHERE NOT reaches_row($1, n)) END"
    ),
}
"""Those that others call come first."""

RECORDABLE: Final[Mapping[str, str]] = {
    "visit": (
        "reaches_outlet(outlet_id) AND reaches_valve(valve_id) AND batch_is_new(batch_id) "
        "AND (corrects IS NULL OR reaches_visit(corrects))"
    ),
    "visit_void": "reaches_visit(visit_id)",
    "attempt": "reaches_outlet(outlet_id) AND batch_is_new(batch_id)",
    "attempt_void": "reaches_attempt(attempt_id)",
    "judgement": "reaches_visit(visit_id)",
    "finding": "reaches_judgement(judgement_id)",
    "action": (
        "reaches_outlet(outlet_id) AND (valve_id IS NULL OR reaches_valve(valve_id)) "
        "AND (visit_id IS NULL OR reaches_visit(visit_id)) AND batch_is_new(batch_id)"
    ),
    "action_event": "reaches_action(action_id) AND (visit_id IS NULL OR reaches_visit(visit_id))",
    "outlet_event": (
        "reaches_outlet(outlet_id) AND (action_id IS NULL OR reaches_action(action_id)) "
        "AND (visit_id IS NULL OR reaches_visit(visit_id))"
    ),
    "visit_check": "reaches_visit(visit_id)",
    "visit_part": "reaches_visit(visit_id)",
    "care": "reaches_outlet(outlet_id) AND (withdraws IS NULL OR reaches_row('care', withdraws))",
    "outlet_review": (
        "reaches_outlet(outlet_id) AND (withdraws IS NULL OR reaches_row('outlet_review', withdraws))"
    ),
    "survey": "reaches_outlet(outlet_id) AND (withdraws IS NULL OR reaches_row('survey', withdraws))",
    "batch": "follows IS NULL OR reaches_batch(follows)",
    "batch_question": "batch_is_new(batch_id)",
    "batch_undo": "reaches_batch(batch_id)",
    "alias": (
        "outlet_id IS NOT NULL AND reaches_outlet(outlet_id) AND batch_is_new(batch_id) "
        "AND NOT words_are_of_others(words_key)"
    ),
    "signature": (
        "role = 'signed' AND CASE noun WHEN 'visit' THEN reaches_visit(row_id) "
        "WHEN 'batch' THEN reaches_batch(row_id) ELSE false END"
    ),
    "document": "reaches_owner(noun, row_id) AND batch_is_new(batch_id)",
    "document_content": "reaches_content(sha256) AND sha256 = encode(sha256(content), 'hex')",
    "document_void": "reaches_document(document_id)",
    "ledger_entry": "action IN ('added', 'added many') AND reaches_rows(noun, row_id, \"after\")",
}
"""What a recorder may add, and which rows of it."""

# A policy on a table can't ask that table in its own words, only through a function.
_WORDS = "words_are_of_others(text)"
_OF_OTHERS = (
    "SELECT EXISTS (SELECT 1 FROM alias x WHERE x.words_key = $1 AND NOT reaches_outlet(x.outlet_id))"
)


def functions(schema: str) -> Iterator[str]:
    """Statements that make the functions.

    Args:
        schema: quoted. The functions look there alone: a temporary table of a table's name must not
            stand in for it.
    """
    for head, body in {**FUNCTIONS, _WORDS: _OF_OTHERS}.items():
        yield (
            f"CREATE OR REPLACE FUNCTION {schema}.{head} RETURNS boolean LANGUAGE sql STABLE "
            f"SET search_path = {schema}, pg_temp AS $body$ {body} $body$"
        )


def policies(groups: Mapping[str, str]) -> Iterator[str]:
    """Statements that let each group see every row and add or change what is its own.

    Args:
        groups: quoted names of the groups, by role.
    """
    everyone = ", ".join(groups.values())
    for table, check in RECORDABLE.items():
        yield from _guarded(table, everyone)
        yield _policy(table, "recorder", f"FOR INSERT TO {groups['recorder']} WITH CHECK ({check})")
        mine = "noun NOT IN ('rule_override', 'account')" if table == "ledger_entry" else "true"
        yield _policy(table, "officer", f"FOR INSERT TO {groups['officer']} WITH CHECK ({mine})")
        yield _policy(table, "keeper", f"FOR INSERT TO {groups['keeper']} WITH CHECK (true)")
    for table in ("building", "outlet"):
        yield from _guarded(table, everyone)
        both = f"{groups['officer']}, {groups['keeper']}"
        yield _policy(table, "officer", f"FOR INSERT TO {groups['officer']} WITH CHECK (rule_set IS NULL)")
        yield _policy(table, "keeper", f"FOR INSERT TO {groups['keeper']} WITH CHECK (true)")
        yield _policy(table, "amend", f"FOR UPDATE TO {both} USING (true)")
        yield _policy(table, "remove", f"FOR DELETE TO {both} USING (true)")


def _guarded(table: str, everyone: str) -> Iterator[str]:
    yield f"ALTER TABLE {table} ENABLE ROW LEVEL SECURITY"
    for name in ("read", "recorder", "officer", "keeper", "amend", "remove"):
        yield f"DROP POLICY IF EXISTS {table}_{name} ON {table}"
    yield _policy(table, "read", f"FOR SELECT TO {everyone} USING (true)")


def _policy(table: str, name: str, words: str) -> str:
    return f"CREATE POLICY {table}_{name} ON {table} {words}"

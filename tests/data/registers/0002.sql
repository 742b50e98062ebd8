BEGIN TRANSACTION;
CREATE TABLE alembic_version (
	version_num VARCHAR(32) NOT NULL, 
	CONSTRAINT alembic_version_pkc PRIMARY KEY (version_num)
);
INSERT INTO "alembic_version" VALUES('0002');
CREATE TABLE alias (
	id INTEGER NOT NULL, 
	words TEXT NOT NULL, 
	words_key TEXT NOT NULL, 
	outlet_id INTEGER, 
	batch_id INTEGER, 
	who TEXT NOT NULL, 
	at DATETIME NOT NULL, 
	CONSTRAINT pk_alias PRIMARY KEY (id), 
	CONSTRAINT fk_alias_batch_id_batch FOREIGN KEY(batch_id) REFERENCES batch (id), 
	CONSTRAINT fk_alias_outlet_id_outlet FOREIGN KEY(outlet_id) REFERENCES outlet (id)
);
INSERT INTO "alias" VALUES(1,'the basin','thebasin',1,1,'A. Officer','2026-11-25 09:30:00.000000');
CREATE TABLE attempt (
	id INTEGER NOT NULL, 
	outlet_id INTEGER NOT NULL, 
	attempted_on DATE NOT NULL, 
	why TEXT NOT NULL, 
	person TEXT NOT NULL, 
	source_file TEXT, 
	source_sheet TEXT, 
	source_row INTEGER, 
	source_cells TEXT, 
	recorded_at DATETIME NOT NULL, 
	recorded_by TEXT NOT NULL, 
	batch_id INTEGER, 
	CONSTRAINT pk_attempt PRIMARY KEY (id), 
	CONSTRAINT fk_attempt_batch_id_batch FOREIGN KEY(batch_id) REFERENCES batch (id), 
	CONSTRAINT fk_attempt_outlet_id_outlet FOREIGN KEY(outlet_id) REFERENCES outlet (id)
);
INSERT INTO "attempt" VALUES(1,2,'2026-11-24','no access','',NULL,NULL,NULL,NULL,'2026-11-25 09:30:00.000000','A. Officer',1);
CREATE TABLE attempt_void (
	id INTEGER NOT NULL, 
	attempt_id INTEGER NOT NULL, 
	reason TEXT NOT NULL, 
	who TEXT NOT NULL, 
	at DATETIME NOT NULL, 
	CONSTRAINT pk_attempt_void PRIMARY KEY (id), 
	CONSTRAINT ck_attempt_void_reason_given CHECK (reason <> ''), 
	CONSTRAINT fk_attempt_void_attempt_id_attempt FOREIGN KEY(attempt_id) REFERENCES attempt (id), 
	CONSTRAINT uq_attempt_void_attempt_id UNIQUE (attempt_id)
);
CREATE TABLE "batch" (
	id INTEGER NOT NULL, 
	kind TEXT NOT NULL, 
	file TEXT NOT NULL, 
	digest TEXT NOT NULL, 
	content BLOB NOT NULL, 
	rows_read INTEGER NOT NULL, 
	accepted INTEGER NOT NULL, 
	already_there INTEGER NOT NULL, 
	who TEXT NOT NULL, 
	at DATETIME NOT NULL, 
	layout TEXT DEFAULT '' NOT NULL, 
	forms TEXT DEFAULT '' NOT NULL, 
	date_order TEXT DEFAULT '' NOT NULL, 
	answers TEXT DEFAULT '[]' NOT NULL, 
	follows INTEGER, 
	CONSTRAINT pk_batch PRIMARY KEY (id), 
	CONSTRAINT fk_batch_follows_batch FOREIGN KEY(follows) REFERENCES batch (id)
);
INSERT INTO "batch" VALUES(1,'visits','round.csv','2d711642b726b04401627ca9fbac32f5c8530fb1903cc4db02258717921a4881',X'78',3,2,0,'A. Officer','2026-11-25 09:30:00.000000','','','','[]',NULL);
CREATE TABLE batch_question (
	id INTEGER NOT NULL, 
	batch_id INTEGER NOT NULL, 
	sheet TEXT NOT NULL, 
	row_number INTEGER NOT NULL, 
	cell TEXT NOT NULL, 
	code TEXT NOT NULL, 
	reference TEXT, 
	found TEXT NOT NULL, 
	remedy TEXT NOT NULL, 
	CONSTRAINT pk_batch_question PRIMARY KEY (id), 
	CONSTRAINT fk_batch_question_batch_id_batch FOREIGN KEY(batch_id) REFERENCES batch (id)
);
CREATE TABLE batch_row (
	id INTEGER NOT NULL, 
	batch_id INTEGER NOT NULL, 
	noun TEXT NOT NULL, 
	row_id INTEGER NOT NULL, 
	action TEXT NOT NULL, 
	"before" TEXT NOT NULL, 
	"after" TEXT NOT NULL, 
	CONSTRAINT pk_batch_row PRIMARY KEY (id), 
	CONSTRAINT fk_batch_row_batch_id_batch FOREIGN KEY(batch_id) REFERENCES batch (id)
);
CREATE TABLE batch_undo (
	id INTEGER NOT NULL, 
	batch_id INTEGER NOT NULL, 
	who TEXT NOT NULL, 
	at DATETIME NOT NULL, 
	why TEXT NOT NULL, 
	CONSTRAINT pk_batch_undo PRIMARY KEY (id), 
	CONSTRAINT ck_batch_undo_why_given CHECK (why <> ''), 
	CONSTRAINT fk_batch_undo_batch_id_batch FOREIGN KEY(batch_id) REFERENCES batch (id), 
	CONSTRAINT uq_batch_undo_batch_id UNIQUE (batch_id)
);
CREATE TABLE building (
	id INTEGER NOT NULL, 
	site_id INTEGER NOT NULL, 
	name TEXT NOT NULL, 
	name_key TEXT NOT NULL, 
	rule_set TEXT, 
	CONSTRAINT pk_building PRIMARY KEY (id), 
	CONSTRAINT fk_building_site_id_site FOREIGN KEY(site_id) REFERENCES site (id), 
	CONSTRAINT uq_building_site_id_name_key UNIQUE (site_id, name_key)
);
INSERT INTO "building" VALUES(1,1,'Main block','mainblock',NULL);
CREATE TABLE calibration (
	id INTEGER NOT NULL, 
	instrument_id INTEGER NOT NULL, 
	calibrated_on DATE NOT NULL, 
	due_on DATE NOT NULL, 
	certificate TEXT NOT NULL, 
	CONSTRAINT pk_calibration PRIMARY KEY (id), 
	CONSTRAINT ck_calibration_due_after_calibrated CHECK (due_on >= calibrated_on), 
	CONSTRAINT fk_calibration_instrument_id_instrument FOREIGN KEY(instrument_id) REFERENCES instrument (id)
);
CREATE TABLE finding (
	id INTEGER NOT NULL, 
	judgement_id INTEGER NOT NULL, 
	code TEXT NOT NULL, 
	outcome TEXT NOT NULL, 
	words TEXT NOT NULL, 
	severity INTEGER, 
	required BOOLEAN NOT NULL, 
	measured DOUBLE, 
	limit_value DOUBLE, 
	unit TEXT NOT NULL, 
	source TEXT NOT NULL, 
	action TEXT NOT NULL, 
	retest_from_weeks DOUBLE, 
	retest_to_weeks DOUBLE, 
	CONSTRAINT pk_finding PRIMARY KEY (id), 
	CONSTRAINT fk_finding_judgement_id_judgement FOREIGN KEY(judgement_id) REFERENCES judgement (id)
);
INSERT INTO "finding" VALUES(1,1,'shut-off-residual','not met','35 ml/min still flow',3,1,35.0,20.0,'ml/min','D08-91: a document','Clean the strainers',0.0,2.5);
INSERT INTO "finding" VALUES(2,2,'shut-off-residual','not met','35 ml/min still flow',3,1,35.0,20.0,'ml/min','D08-91: a document','Clean the strainers',0.0,2.5);
CREATE TABLE fitting (
	id INTEGER NOT NULL, 
	valve_id INTEGER NOT NULL, 
	position_id INTEGER NOT NULL, 
	fitted_on DATE, 
	removed_on DATE, 
	CONSTRAINT pk_fitting PRIMARY KEY (id), 
	CONSTRAINT ck_fitting_removed_after_fitted CHECK (removed_on >= fitted_on), 
	CONSTRAINT fk_fitting_position_id_position FOREIGN KEY(position_id) REFERENCES position (id), 
	CONSTRAINT fk_fitting_valve_id_valve FOREIGN KEY(valve_id) REFERENCES valve (id)
);
INSERT INTO "fitting" VALUES(1,1,1,'2024-01-02',NULL);
INSERT INTO "fitting" VALUES(2,2,2,'2024-01-02',NULL);
CREATE TABLE group_fit (
	id INTEGER NOT NULL, 
	name TEXT NOT NULL, 
	fitted_on DATE NOT NULL, 
	fitted_at DATETIME NOT NULL, 
	mu DOUBLE NOT NULL, 
	omega DOUBLE NOT NULL, 
	sigma DOUBLE NOT NULL, 
	s DOUBLE NOT NULL, 
	a DOUBLE NOT NULL, 
	b_years DOUBLE NOT NULL, 
	valves INTEGER NOT NULL, 
	readings INTEGER NOT NULL, 
	version TEXT NOT NULL, 
	CONSTRAINT pk_group_fit PRIMARY KEY (id)
);
CREATE TABLE instrument (
	id INTEGER NOT NULL, 
	reference TEXT NOT NULL, 
	reference_key TEXT NOT NULL, 
	kind TEXT NOT NULL, 
	specification TEXT NOT NULL, 
	standard_uncertainty_k DOUBLE, 
	CONSTRAINT pk_instrument PRIMARY KEY (id), 
	CONSTRAINT ck_instrument_uncertainty_not_negative CHECK (standard_uncertainty_k >= 0), 
	CONSTRAINT uq_instrument_reference_key UNIQUE (reference_key)
);
CREATE TABLE judgement (
	id INTEGER NOT NULL, 
	visit_id INTEGER NOT NULL, 
	rule_set TEXT NOT NULL, 
	rule_set_edition TEXT NOT NULL, 
	verdict TEXT NOT NULL, 
	met_count INTEGER NOT NULL, 
	met_codes TEXT NOT NULL, 
	untested_codes TEXT NOT NULL, 
	judged_at DATETIME NOT NULL, 
	CONSTRAINT pk_judgement PRIMARY KEY (id), 
	CONSTRAINT fk_judgement_visit_id_visit FOREIGN KEY(visit_id) REFERENCES visit (id)
);
INSERT INTO "judgement" VALUES(1,1,'uk-healthcare','1','put right',1,'left-above-ceiling','hot-supply-cool','2026-11-25 09:30:00.000000');
INSERT INTO "judgement" VALUES(2,2,'uk-healthcare','1','put right',1,'left-above-ceiling','hot-supply-cool','2026-11-25 09:30:00.000000');
CREATE TABLE layout (
	id INTEGER NOT NULL, 
	name TEXT NOT NULL, 
	name_key TEXT NOT NULL, 
	kind TEXT NOT NULL, 
	sender TEXT NOT NULL, 
	body TEXT NOT NULL, 
	who TEXT NOT NULL, 
	at DATETIME NOT NULL, 
	CONSTRAINT pk_layout PRIMARY KEY (id), 
	CONSTRAINT uq_layout_name_key UNIQUE (name_key)
);
INSERT INTO "layout" VALUES(1,'Pipework Ltd','pipeworkltd','visits','Pipework Ltd, J. Bloggs','{"columns":[["Außentemp","",""],["Hot","hot_c","fahrenheit"]],"form":"one card a valve","date_order":"month first"}','A. Officer','2026-11-25 09:30:00.000000');
CREATE TABLE ledger_entry (
	id INTEGER NOT NULL, 
	at DATETIME NOT NULL, 
	who TEXT NOT NULL, 
	what TEXT NOT NULL, 
	noun TEXT NOT NULL, 
	row_id INTEGER, 
	action TEXT NOT NULL, 
	"after" TEXT NOT NULL, 
	CONSTRAINT pk_ledger_entry PRIMARY KEY (id)
);
INSERT INTO "ledger_entry" VALUES(1,'2026-11-25 09:30:00.000000','A. Officer','made the register','register',1,'added','{"id":1,"identifier":"we-2","made_at":"2026-11-25T09:30:00+00:00","name":"Withy End","rule_set":"uk-healthcare"}');
INSERT INTO "ledger_entry" VALUES(2,'2026-11-25 09:30:00.000000','A. Officer','added','site',1,'added','{"name":"Marlpit Cross","name_key":"marlpitcross"}');
INSERT INTO "ledger_entry" VALUES(3,'2026-11-25 09:30:00.000000','A. Officer','added','building',1,'added','{"name":"Main block","name_key":"mainblock","site_id":1}');
INSERT INTO "ledger_entry" VALUES(4,'2026-11-25 09:30:00.000000','A. Officer','added','level',1,'added','{"building_id":1,"name":"G","name_key":"g"}');
INSERT INTO "ledger_entry" VALUES(5,'2026-11-25 09:30:00.000000','A. Officer','added','room',1,'added','{"level_id":1,"name":"Bay 1","name_key":"bay1","number":"01","number_key":"01"}');
INSERT INTO "ledger_entry" VALUES(6,'2026-11-25 09:30:00.000000','A. Officer','added','position',1,'added','{"room_id":1,"words":"under the basin"}');
INSERT INTO "ledger_entry" VALUES(7,'2026-11-25 09:30:00.000000','A. Officer','added','outlet',1,'added','{"little_used":false,"name":"Basin","pipe_m":0.6,"position_id":1,"reference":"MX-G-01-B1","reference_key":"mxg01b1","room_id":1,"use":"basin","user_group":"patients"}');
INSERT INTO "ledger_entry" VALUES(8,'2026-11-25 09:30:00.000000','A. Officer','added','valve',1,'added','{"designations":"[]","make":"Invented","model":"Model A","serial":"S-MX-G-01-B1"}');
INSERT INTO "ledger_entry" VALUES(9,'2026-11-25 09:30:00.000000','A. Officer','added','fitting',1,'added','{"fitted_on":"2024-01-02","position_id":1,"valve_id":1}');
INSERT INTO "ledger_entry" VALUES(10,'2026-11-25 09:30:00.000000','A. Officer','added','position',2,'added','{"room_id":1,"words":"under the basin"}');
INSERT INTO "ledger_entry" VALUES(11,'2026-11-25 09:30:00.000000','A. Officer','added','outlet',2,'added','{"little_used":false,"name":"Basin","pipe_m":0.6,"position_id":2,"reference":"MX-G-01-B2","reference_key":"mxg01b2","room_id":1,"use":"basin","user_group":"patients"}');
INSERT INTO "ledger_entry" VALUES(12,'2026-11-25 09:30:00.000000','A. Officer','added','valve',2,'added','{"designations":"[]","make":"Invented","model":"Model A","serial":"S-MX-G-01-B2"}');
INSERT INTO "ledger_entry" VALUES(13,'2026-11-25 09:30:00.000000','A. Officer','added','fitting',2,'added','{"fitted_on":"2024-01-02","position_id":2,"valve_id":2}');
INSERT INTO "ledger_entry" VALUES(14,'2026-11-25 09:30:00.000000','A. Officer','added','batch',1,'added','{"accepted":2,"already_there":0,"answers":"[]","at":"2026-11-25T09:30:00+00:00","date_order":"","digest":"2d711642b726b04401627ca9fbac32f5c8530fb1903cc4db02258717921a4881","file":"round.csv","forms":"","kind":"visits","layout":"","rows_read":3,"who":"A. Officer"}');
INSERT INTO "ledger_entry" VALUES(15,'2026-11-25 09:30:00.000000','A. Officer','added','visit',1,'added','{"adjusted":true,"batch_id":1,"cap_refitted":false,"check_valves_good":true,"cold_c":14.9,"cold_flow_bar":2.6,"cold_isolated_max_c":42.1,"cold_isolated_residual_c":40.9,"cold_isolated_residual_ml_min":35.0,"cold_isolated_said_to_shut":true,"cold_isolated_shut_s":2.5,"cold_isolated_stabilised_c":41.2,"cold_static_bar":3.3,"flow_l_min":6.2,"found_c":41.3,"hot_c":60.5,"hot_flow_bar":2.4,"hot_isolated_max_c":41.9,"hot_isolated_residual_c":19.0,"hot_isolated_residual_ml_min":12.5,"hot_isolated_said_to_shut":false,"hot_isolated_shut_s":3.6,"hot_isolated_stabilised_c":20.1,"hot_static_bar":3.1,"instrument_words":"","isolating_valves_open":true,"kind":"in-service test","left_c":41.0,"outlet_id":1,"person":"","recorded_at":"2026-11-25T09:30:00+00:00","recorded_by":"A. Officer","remarks":"","small_draw_c":41.5,"small_draw_l_min":2.0,"source_cells":"[[\"Date\", \"Ref\", \"Ref\"], [\"24/11/2026\", \"MX-1\", \"again\"]]","source_file":"round.csv","source_row":7,"source_sheet":"round","strainers_cleaned":false,"valve_id":1,"visited_on":"2026-11-24"}');
INSERT INTO "ledger_entry" VALUES(16,'2026-11-25 09:30:00.000000','A. Officer','added','visit',2,'added','{"batch_id":1,"found_c":41.2,"instrument_words":"","kind":"in-service test","outlet_id":2,"person":"","recorded_at":"2026-11-25T09:30:00+00:00","recorded_by":"A. Officer","remarks":"","valve_id":2,"visited_on":"2026-11-24"}');
INSERT INTO "ledger_entry" VALUES(17,'2026-11-25 09:30:00.000000','A. Officer','added','judgement',NULL,'added many','{"first_id":1,"last_id":2,"rows":2}');
INSERT INTO "ledger_entry" VALUES(18,'2026-11-25 09:30:00.000000','A. Officer','added','finding',NULL,'added many','{"first_id":1,"last_id":2,"rows":2}');
INSERT INTO "ledger_entry" VALUES(19,'2026-11-25 09:30:00.000000','A. Officer','added','alias',1,'added','{"at":"2026-11-25T09:30:00+00:00","batch_id":1,"outlet_id":1,"who":"A. Officer","words":"the basin","words_key":"thebasin"}');
INSERT INTO "ledger_entry" VALUES(20,'2026-11-25 09:30:00.000000','A. Officer','added','attempt',1,'added','{"attempted_on":"2026-11-24","batch_id":1,"outlet_id":2,"person":"","recorded_at":"2026-11-25T09:30:00+00:00","recorded_by":"A. Officer","why":"no access"}');
INSERT INTO "ledger_entry" VALUES(21,'2026-11-25 09:30:00.000000','A. Officer','added','layout',1,'added','{"at":"2026-11-25T09:30:00+00:00","body":"{\"columns\":[[\"Außentemp\",\"\",\"\"],[\"Hot\",\"hot_c\",\"fahrenheit\"]],\"form\":\"one card a valve\",\"date_order\":\"month first\"}","kind":"visits","name":"Pipework Ltd","name_key":"pipeworkltd","sender":"Pipework Ltd, J. Bloggs","who":"A. Officer"}');
INSERT INTO "ledger_entry" VALUES(22,'2026-11-25 09:30:00.000000','B. Other','amended and voided','outlet',1,'amended','{"name":"Wash basin"}');
INSERT INTO "ledger_entry" VALUES(23,'2026-11-25 09:30:00.000000','B. Other','amended and voided','visit_void',1,'added','{"at":"2026-11-25T09:30:00+00:00","reason":"wrong outlet","visit_id":2,"who":"B. Other"}');
CREATE TABLE level (
	id INTEGER NOT NULL, 
	building_id INTEGER NOT NULL, 
	name TEXT NOT NULL, 
	name_key TEXT NOT NULL, 
	CONSTRAINT pk_level PRIMARY KEY (id), 
	CONSTRAINT fk_level_building_id_building FOREIGN KEY(building_id) REFERENCES building (id), 
	CONSTRAINT uq_level_building_id_name_key UNIQUE (building_id, name_key)
);
INSERT INTO "level" VALUES(1,1,'G','g');
CREATE TABLE outlet (
	id INTEGER NOT NULL, 
	room_id INTEGER NOT NULL, 
	position_id INTEGER NOT NULL, 
	reference TEXT NOT NULL, 
	reference_key TEXT NOT NULL, 
	name TEXT NOT NULL, 
	use TEXT NOT NULL, 
	user_group TEXT NOT NULL, 
	little_used BOOLEAN NOT NULL, 
	pipe_m DOUBLE, 
	rule_set TEXT, 
	retired_on DATE, 
	CONSTRAINT pk_outlet PRIMARY KEY (id), 
	CONSTRAINT ck_outlet_pipe_m_not_negative CHECK (pipe_m >= 0), 
	CONSTRAINT fk_outlet_position_id_position FOREIGN KEY(position_id) REFERENCES position (id), 
	CONSTRAINT fk_outlet_room_id_room FOREIGN KEY(room_id) REFERENCES room (id), 
	CONSTRAINT uq_outlet_reference_key UNIQUE (reference_key)
);
INSERT INTO "outlet" VALUES(1,1,1,'MX-G-01-B1','mxg01b1','Wash basin','basin','patients',0,0.6,NULL,NULL);
INSERT INTO "outlet" VALUES(2,1,2,'MX-G-01-B2','mxg01b2','Basin','basin','patients',0,0.6,NULL,NULL);
CREATE TABLE position (
	id INTEGER NOT NULL, 
	room_id INTEGER NOT NULL, 
	words TEXT NOT NULL, 
	CONSTRAINT pk_position PRIMARY KEY (id), 
	CONSTRAINT fk_position_room_id_room FOREIGN KEY(room_id) REFERENCES room (id)
);
INSERT INTO "position" VALUES(1,1,'under the basin');
INSERT INTO "position" VALUES(2,1,'under the basin');
CREATE TABLE register (
	id INTEGER NOT NULL, 
	name TEXT NOT NULL, 
	identifier TEXT NOT NULL, 
	made_at DATETIME NOT NULL, 
	rule_set TEXT NOT NULL, 
	CONSTRAINT pk_register PRIMARY KEY (id), 
	CONSTRAINT ck_register_single CHECK (id = 1)
);
INSERT INTO "register" VALUES(1,'Withy End','we-2','2026-11-25 09:30:00.000000','uk-healthcare');
CREATE TABLE room (
	id INTEGER NOT NULL, 
	level_id INTEGER NOT NULL, 
	number TEXT NOT NULL, 
	number_key TEXT NOT NULL, 
	name TEXT NOT NULL, 
	name_key TEXT NOT NULL, 
	CONSTRAINT pk_room PRIMARY KEY (id), 
	CONSTRAINT fk_room_level_id_level FOREIGN KEY(level_id) REFERENCES level (id), 
	CONSTRAINT uq_room_level_id_number_key_name_key UNIQUE (level_id, number_key, name_key)
);
INSERT INTO "room" VALUES(1,1,'01','01','Bay 1','bay1');
CREATE TABLE rule_override (
	id INTEGER NOT NULL, 
	rule_set TEXT NOT NULL, 
	"key" TEXT NOT NULL, 
	place TEXT NOT NULL, 
	number_value DOUBLE, 
	text_value TEXT, 
	who TEXT NOT NULL, 
	at DATETIME NOT NULL, 
	why TEXT NOT NULL, 
	CONSTRAINT pk_rule_override PRIMARY KEY (id), 
	CONSTRAINT ck_rule_override_one_value CHECK (number_value IS NULL OR text_value IS NULL), 
	CONSTRAINT ck_rule_override_why_given CHECK (why <> '')
);
CREATE TABLE site (
	id INTEGER NOT NULL, 
	name TEXT NOT NULL, 
	name_key TEXT NOT NULL, 
	CONSTRAINT pk_site PRIMARY KEY (id), 
	CONSTRAINT uq_site_name_key UNIQUE (name_key)
);
INSERT INTO "site" VALUES(1,'Marlpit Cross','marlpitcross');
CREATE TABLE valve (
	id INTEGER NOT NULL, 
	make TEXT NOT NULL, 
	model TEXT NOT NULL, 
	serial TEXT NOT NULL, 
	scheme_class TEXT, 
	en_type TEXT, 
	designations TEXT NOT NULL, 
	size_mm DOUBLE, 
	set_c DOUBLE, 
	check_valves BOOLEAN, 
	strainers BOOLEAN, 
	isolating_valves BOOLEAN, 
	min_differential_k DOUBLE, 
	max_pressure_ratio DOUBLE, 
	CONSTRAINT pk_valve PRIMARY KEY (id)
);
INSERT INTO "valve" VALUES(1,'Invented','Model A','S-MX-G-01-B1',NULL,NULL,'[]',NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "valve" VALUES(2,'Invented','Model A','S-MX-G-01-B2',NULL,NULL,'[]',NULL,NULL,NULL,NULL,NULL,NULL,NULL);
CREATE TABLE visit (
	id INTEGER NOT NULL, 
	valve_id INTEGER NOT NULL, 
	outlet_id INTEGER NOT NULL, 
	kind TEXT NOT NULL, 
	visited_on DATE NOT NULL, 
	person TEXT NOT NULL, 
	instrument_id INTEGER, 
	instrument_words TEXT NOT NULL, 
	remarks TEXT NOT NULL, 
	hot_c DOUBLE, 
	cold_c DOUBLE, 
	found_c DOUBLE, 
	left_c DOUBLE, 
	flow_l_min DOUBLE, 
	small_draw_c DOUBLE, 
	small_draw_l_min DOUBLE, 
	hot_static_bar DOUBLE, 
	cold_static_bar DOUBLE, 
	hot_flow_bar DOUBLE, 
	cold_flow_bar DOUBLE, 
	cold_isolated_max_c DOUBLE, 
	cold_isolated_stabilised_c DOUBLE, 
	cold_isolated_residual_ml_min DOUBLE, 
	cold_isolated_residual_c DOUBLE, 
	cold_isolated_shut_s DOUBLE, 
	cold_isolated_said_to_shut BOOLEAN, 
	hot_isolated_max_c DOUBLE, 
	hot_isolated_stabilised_c DOUBLE, 
	hot_isolated_residual_ml_min DOUBLE, 
	hot_isolated_residual_c DOUBLE, 
	hot_isolated_shut_s DOUBLE, 
	hot_isolated_said_to_shut BOOLEAN, 
	adjusted BOOLEAN, 
	strainers_cleaned BOOLEAN, 
	check_valves_good BOOLEAN, 
	isolating_valves_open BOOLEAN, 
	cap_refitted BOOLEAN, 
	source_file TEXT, 
	source_sheet TEXT, 
	source_row INTEGER, 
	source_cells TEXT, 
	recorded_at DATETIME NOT NULL, 
	recorded_by TEXT NOT NULL, 
	batch_id INTEGER, 
	corrects INTEGER, 
	CONSTRAINT pk_visit PRIMARY KEY (id), 
	CONSTRAINT fk_visit_batch_id_batch FOREIGN KEY(batch_id) REFERENCES batch (id), 
	CONSTRAINT fk_visit_corrects_visit FOREIGN KEY(corrects) REFERENCES visit (id), 
	CONSTRAINT fk_visit_instrument_id_instrument FOREIGN KEY(instrument_id) REFERENCES instrument (id), 
	CONSTRAINT fk_visit_outlet_id_outlet FOREIGN KEY(outlet_id) REFERENCES outlet (id), 
	CONSTRAINT fk_visit_valve_id_valve FOREIGN KEY(valve_id) REFERENCES valve (id)
);
INSERT INTO "visit" VALUES(1,1,1,'in-service test','2026-11-24','',NULL,'','',60.5,14.9,41.3,41.0,6.2,41.5,2.0,3.1,3.3,2.4,2.6,42.1,41.2,35.0,40.9,2.5,1,41.9,20.1,12.5,19.0,3.6,0,1,0,1,1,0,'round.csv','round',7,'[["Date", "Ref", "Ref"], ["24/11/2026", "MX-1", "again"]]','2026-11-25 09:30:00.000000','A. Officer',1,NULL);
INSERT INTO "visit" VALUES(2,2,2,'in-service test','2026-11-24','',NULL,'','',NULL,NULL,41.2,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'2026-11-25 09:30:00.000000','A. Officer',1,NULL);
CREATE TABLE visit_void (
	id INTEGER NOT NULL, 
	visit_id INTEGER NOT NULL, 
	reason TEXT NOT NULL, 
	who TEXT NOT NULL, 
	at DATETIME NOT NULL, 
	CONSTRAINT pk_visit_void PRIMARY KEY (id), 
	CONSTRAINT ck_visit_void_reason_given CHECK (reason <> ''), 
	CONSTRAINT fk_visit_void_visit_id_visit FOREIGN KEY(visit_id) REFERENCES visit (id), 
	CONSTRAINT uq_visit_void_visit_id UNIQUE (visit_id)
);
INSERT INTO "visit_void" VALUES(1,2,'wrong outlet','B. Other','2026-11-25 09:30:00.000000');
CREATE INDEX ix_position_room_id ON position (room_id);
CREATE INDEX ix_outlet_position_id ON outlet (position_id);
CREATE INDEX ix_outlet_room_id ON outlet (room_id);
CREATE INDEX ix_fitting_position_id ON fitting (position_id);
CREATE INDEX ix_fitting_valve_id ON fitting (valve_id);
CREATE UNIQUE INDEX uq_fitting_position_in_place ON fitting (position_id) WHERE removed_on IS NULL;
CREATE UNIQUE INDEX uq_fitting_valve_in_place ON fitting (valve_id) WHERE removed_on IS NULL;
CREATE INDEX ix_calibration_instrument_id ON calibration (instrument_id);
CREATE INDEX ix_batch_question_batch_id ON batch_question (batch_id);
CREATE INDEX ix_group_fit_fitted_on ON group_fit (fitted_on);
CREATE INDEX ix_ledger_entry_noun_row_id ON ledger_entry (noun, row_id);
CREATE INDEX ix_visit_batch_id ON visit (batch_id);
CREATE INDEX ix_visit_corrects ON visit (corrects);
CREATE INDEX ix_visit_instrument_id ON visit (instrument_id);
CREATE INDEX ix_visit_outlet_id ON visit (outlet_id);
CREATE INDEX ix_visit_valve_id_visited_on_id ON visit (valve_id, visited_on, id);
CREATE INDEX ix_judgement_visit_id ON judgement (visit_id);
CREATE INDEX ix_finding_judgement_id ON finding (judgement_id);
CREATE TRIGGER visit_no_update BEFORE UPDATE ON visit BEGIN SELECT RAISE(ABORT, 'evidence is never changed or deleted: visit'); END;
CREATE TRIGGER visit_no_delete BEFORE DELETE ON visit BEGIN SELECT RAISE(ABORT, 'evidence is never changed or deleted: visit'); END;
CREATE TRIGGER visit_no_replace BEFORE INSERT ON visit WHEN EXISTS (SELECT 1 FROM visit WHERE id = NEW.id) BEGIN SELECT RAISE(ABORT, 'evidence is never changed or deleted: visit'); END;
CREATE TRIGGER visit_void_no_update BEFORE UPDATE ON visit_void BEGIN SELECT RAISE(ABORT, 'evidence is never changed or deleted: visit_void'); END;
CREATE TRIGGER visit_void_no_delete BEFORE DELETE ON visit_void BEGIN SELECT RAISE(ABORT, 'evidence is never changed or deleted: visit_void'); END;
CREATE TRIGGER visit_void_no_replace BEFORE INSERT ON visit_void WHEN EXISTS (SELECT 1 FROM visit_void WHERE id = NEW.id) BEGIN SELECT RAISE(ABORT, 'evidence is never changed or deleted: visit_void'); END;
CREATE TRIGGER judgement_no_update BEFORE UPDATE ON judgement BEGIN SELECT RAISE(ABORT, 'evidence is never changed or deleted: judgement'); END;
CREATE TRIGGER judgement_no_delete BEFORE DELETE ON judgement BEGIN SELECT RAISE(ABORT, 'evidence is never changed or deleted: judgement'); END;
CREATE TRIGGER judgement_no_replace BEFORE INSERT ON judgement WHEN EXISTS (SELECT 1 FROM judgement WHERE id = NEW.id) BEGIN SELECT RAISE(ABORT, 'evidence is never changed or deleted: judgement'); END;
CREATE TRIGGER finding_no_update BEFORE UPDATE ON finding BEGIN SELECT RAISE(ABORT, 'evidence is never changed or deleted: finding'); END;
CREATE TRIGGER finding_no_delete BEFORE DELETE ON finding BEGIN SELECT RAISE(ABORT, 'evidence is never changed or deleted: finding'); END;
CREATE TRIGGER finding_no_replace BEFORE INSERT ON finding WHEN EXISTS (SELECT 1 FROM finding WHERE id = NEW.id) BEGIN SELECT RAISE(ABORT, 'evidence is never changed or deleted: finding'); END;
CREATE TRIGGER batch_question_no_update BEFORE UPDATE ON batch_question BEGIN SELECT RAISE(ABORT, 'evidence is never changed or deleted: batch_question'); END;
CREATE TRIGGER batch_question_no_delete BEFORE DELETE ON batch_question BEGIN SELECT RAISE(ABORT, 'evidence is never changed or deleted: batch_question'); END;
CREATE TRIGGER batch_question_no_replace BEFORE INSERT ON batch_question WHEN EXISTS (SELECT 1 FROM batch_question WHERE id = NEW.id) BEGIN SELECT RAISE(ABORT, 'evidence is never changed or deleted: batch_question'); END;
CREATE TRIGGER rule_override_no_update BEFORE UPDATE ON rule_override BEGIN SELECT RAISE(ABORT, 'evidence is never changed or deleted: rule_override'); END;
CREATE TRIGGER rule_override_no_delete BEFORE DELETE ON rule_override BEGIN SELECT RAISE(ABORT, 'evidence is never changed or deleted: rule_override'); END;
CREATE TRIGGER rule_override_no_replace BEFORE INSERT ON rule_override WHEN EXISTS (SELECT 1 FROM rule_override WHERE id = NEW.id) BEGIN SELECT RAISE(ABORT, 'evidence is never changed or deleted: rule_override'); END;
CREATE TRIGGER group_fit_no_update BEFORE UPDATE ON group_fit BEGIN SELECT RAISE(ABORT, 'evidence is never changed or deleted: group_fit'); END;
CREATE TRIGGER group_fit_no_delete BEFORE DELETE ON group_fit BEGIN SELECT RAISE(ABORT, 'evidence is never changed or deleted: group_fit'); END;
CREATE TRIGGER group_fit_no_replace BEFORE INSERT ON group_fit WHEN EXISTS (SELECT 1 FROM group_fit WHERE id = NEW.id) BEGIN SELECT RAISE(ABORT, 'evidence is never changed or deleted: group_fit'); END;
CREATE TRIGGER ledger_entry_no_update BEFORE UPDATE ON ledger_entry BEGIN SELECT RAISE(ABORT, 'evidence is never changed or deleted: ledger_entry'); END;
CREATE TRIGGER ledger_entry_no_delete BEFORE DELETE ON ledger_entry BEGIN SELECT RAISE(ABORT, 'evidence is never changed or deleted: ledger_entry'); END;
CREATE TRIGGER ledger_entry_no_replace BEFORE INSERT ON ledger_entry WHEN EXISTS (SELECT 1 FROM ledger_entry WHERE id = NEW.id) BEGIN SELECT RAISE(ABORT, 'evidence is never changed or deleted: ledger_entry'); END;
CREATE INDEX ix_batch_digest ON batch (digest);
CREATE INDEX ix_batch_follows ON batch (follows);
CREATE INDEX ix_batch_row_batch_id ON batch_row (batch_id);
CREATE INDEX ix_alias_words_key ON alias (words_key);
CREATE INDEX ix_alias_outlet_id ON alias (outlet_id);
CREATE INDEX ix_alias_batch_id ON alias (batch_id);
CREATE INDEX ix_attempt_batch_id ON attempt (batch_id);
CREATE INDEX ix_attempt_outlet_id ON attempt (outlet_id);
CREATE TRIGGER batch_no_update BEFORE UPDATE ON batch BEGIN SELECT RAISE(ABORT, 'evidence is never changed or deleted: batch'); END;
CREATE TRIGGER batch_no_delete BEFORE DELETE ON batch BEGIN SELECT RAISE(ABORT, 'evidence is never changed or deleted: batch'); END;
CREATE TRIGGER batch_no_replace BEFORE INSERT ON batch WHEN EXISTS (SELECT 1 FROM batch WHERE id = NEW.id) BEGIN SELECT RAISE(ABORT, 'evidence is never changed or deleted: batch'); END;
CREATE TRIGGER attempt_no_update BEFORE UPDATE ON attempt BEGIN SELECT RAISE(ABORT, 'evidence is never changed or deleted: attempt'); END;
CREATE TRIGGER attempt_no_delete BEFORE DELETE ON attempt BEGIN SELECT RAISE(ABORT, 'evidence is never changed or deleted: attempt'); END;
CREATE TRIGGER attempt_no_replace BEFORE INSERT ON attempt WHEN EXISTS (SELECT 1 FROM attempt WHERE id = NEW.id) BEGIN SELECT RAISE(ABORT, 'evidence is never changed or deleted: attempt'); END;
CREATE TRIGGER attempt_void_no_update BEFORE UPDATE ON attempt_void BEGIN SELECT RAISE(ABORT, 'evidence is never changed or deleted: attempt_void'); END;
CREATE TRIGGER attempt_void_no_delete BEFORE DELETE ON attempt_void BEGIN SELECT RAISE(ABORT, 'evidence is never changed or deleted: attempt_void'); END;
CREATE TRIGGER attempt_void_no_replace BEFORE INSERT ON attempt_void WHEN EXISTS (SELECT 1 FROM attempt_void WHERE id = NEW.id) BEGIN SELECT RAISE(ABORT, 'evidence is never changed or deleted: attempt_void'); END;
CREATE TRIGGER batch_row_no_update BEFORE UPDATE ON batch_row BEGIN SELECT RAISE(ABORT, 'evidence is never changed or deleted: batch_row'); END;
CREATE TRIGGER batch_row_no_delete BEFORE DELETE ON batch_row BEGIN SELECT RAISE(ABORT, 'evidence is never changed or deleted: batch_row'); END;
CREATE TRIGGER batch_row_no_replace BEFORE INSERT ON batch_row WHEN EXISTS (SELECT 1 FROM batch_row WHERE id = NEW.id) BEGIN SELECT RAISE(ABORT, 'evidence is never changed or deleted: batch_row'); END;
CREATE TRIGGER batch_undo_no_update BEFORE UPDATE ON batch_undo BEGIN SELECT RAISE(ABORT, 'evidence is never changed or deleted: batch_undo'); END;
CREATE TRIGGER batch_undo_no_delete BEFORE DELETE ON batch_undo BEGIN SELECT RAISE(ABORT, 'evidence is never changed or deleted: batch_undo'); END;
CREATE TRIGGER batch_undo_no_replace BEFORE INSERT ON batch_undo WHEN EXISTS (SELECT 1 FROM batch_undo WHERE id = NEW.id) BEGIN SELECT RAISE(ABORT, 'evidence is never changed or deleted: batch_undo'); END;
CREATE TRIGGER alias_no_update BEFORE UPDATE ON alias BEGIN SELECT RAISE(ABORT, 'evidence is never changed or deleted: alias'); END;
CREATE TRIGGER alias_no_delete BEFORE DELETE ON alias BEGIN SELECT RAISE(ABORT, 'evidence is never changed or deleted: alias'); END;
CREATE TRIGGER alias_no_replace BEFORE INSERT ON alias WHEN EXISTS (SELECT 1 FROM alias WHERE id = NEW.id) BEGIN SELECT RAISE(ABORT, 'evidence is never changed or deleted: alias'); END;
COMMIT;

BEGIN TRANSACTION;
CREATE TABLE account (
	id INTEGER NOT NULL, 
	name TEXT NOT NULL, 
	role TEXT NOT NULL, 
	building_id INTEGER, 
	at DATETIME NOT NULL, 
	who TEXT NOT NULL, 
	row_version INTEGER DEFAULT '1' NOT NULL, 
	CONSTRAINT pk_account PRIMARY KEY (id), 
	CONSTRAINT ck_account_role_known CHECK (role IN ('reader', 'recorder', 'officer', 'keeper')), 
	CONSTRAINT fk_account_building_id_building FOREIGN KEY(building_id) REFERENCES building (id)
);
CREATE TABLE alembic_version (
	version_num VARCHAR(32) NOT NULL, 
	CONSTRAINT alembic_version_pkc PRIMARY KEY (version_num)
);
INSERT INTO "alembic_version" VALUES('0004');
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
INSERT INTO "attempt" VALUES(1,1,'2026-11-24','no access','',NULL,NULL,NULL,NULL,'2026-11-25 09:30:00.000000','A. Officer',1);
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
INSERT INTO "attempt_void" VALUES(1,1,'wrong outlet','A. Officer','2026-11-25 09:30:00.000000');
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
INSERT INTO "batch" VALUES(1,'visits','f.csv','ab',X'78',2,1,0,'A. Officer','2026-11-25 09:30:00.000000','','','','[]',NULL);
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
INSERT INTO "batch_question" VALUES(1,1,'s',2,'A2','no-access',NULL,'','Go again.');
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
INSERT INTO "batch_row" VALUES(1,1,'valve',1,'changed','{"set_c":null}','{"set_c":42.0}');
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
INSERT INTO "batch_undo" VALUES(1,1,'A. Officer','2026-11-25 09:30:00.000000','wrong file');
CREATE TABLE building (
	id INTEGER NOT NULL, 
	site_id INTEGER NOT NULL, 
	name TEXT NOT NULL, 
	name_key TEXT NOT NULL, 
	rule_set TEXT, row_version INTEGER DEFAULT '1' NOT NULL, 
	CONSTRAINT pk_building PRIMARY KEY (id), 
	CONSTRAINT fk_building_site_id_site FOREIGN KEY(site_id) REFERENCES site (id), 
	CONSTRAINT uq_building_site_id_name_key UNIQUE (site_id, name_key)
);
INSERT INTO "building" VALUES(1,1,'Main block','mainblock',NULL,1);
CREATE TABLE calibration (
	id INTEGER NOT NULL, 
	instrument_id INTEGER NOT NULL, 
	calibrated_on DATE NOT NULL, 
	due_on DATE NOT NULL, 
	certificate TEXT NOT NULL, row_version INTEGER DEFAULT '1' NOT NULL, 
	CONSTRAINT pk_calibration PRIMARY KEY (id), 
	CONSTRAINT ck_calibration_due_after_calibrated CHECK (due_on >= calibrated_on), 
	CONSTRAINT fk_calibration_instrument_id_instrument FOREIGN KEY(instrument_id) REFERENCES instrument (id)
);
CREATE TABLE checkpoint (
	id INTEGER NOT NULL, 
	at DATETIME NOT NULL, 
	who TEXT NOT NULL, 
	last_entry_id INTEGER NOT NULL, 
	digest TEXT NOT NULL, 
	entries INTEGER NOT NULL, 
	CONSTRAINT pk_checkpoint PRIMARY KEY (id)
);
INSERT INTO "checkpoint" VALUES(1,'2026-11-25 09:30:00.000000','A. Officer',1,'1565980fafae84c2a97727540f5018dae60aa337b50b18ad45bb31d7fb271d51',1);
CREATE TABLE document (
	id INTEGER NOT NULL, 
	noun TEXT NOT NULL, 
	row_id INTEGER NOT NULL, 
	name TEXT NOT NULL, 
	media_type TEXT NOT NULL, 
	size_bytes INTEGER NOT NULL, 
	sha256 TEXT NOT NULL, 
	at DATETIME NOT NULL, 
	who TEXT NOT NULL, 
	remark TEXT DEFAULT '' NOT NULL, 
	batch_id INTEGER, 
	CONSTRAINT pk_document PRIMARY KEY (id), 
	CONSTRAINT ck_document_not_empty CHECK (size_bytes > 0), 
	CONSTRAINT fk_document_sha256_document_content FOREIGN KEY(sha256) REFERENCES document_content (sha256) DEFERRABLE INITIALLY DEFERRED, 
	CONSTRAINT fk_document_batch_id_batch FOREIGN KEY(batch_id) REFERENCES batch (id)
);
INSERT INTO "document" VALUES(1,'visit',1,'x.txt','text/plain',1,'ab','2026-11-25 09:30:00.000000','A. Officer','',NULL);
CREATE TABLE document_content (
	id INTEGER NOT NULL, 
	sha256 TEXT NOT NULL, 
	content BLOB NOT NULL, 
	CONSTRAINT pk_document_content PRIMARY KEY (id), 
	CONSTRAINT uq_document_content_sha256 UNIQUE (sha256)
);
INSERT INTO "document_content" VALUES(1,'ab',X'78');
CREATE TABLE document_void (
	id INTEGER NOT NULL, 
	document_id INTEGER NOT NULL, 
	who TEXT NOT NULL, 
	at DATETIME NOT NULL, 
	why TEXT NOT NULL, 
	CONSTRAINT pk_document_void PRIMARY KEY (id), 
	CONSTRAINT uq_document_void_document_id UNIQUE (document_id), 
	CONSTRAINT ck_document_void_why_given CHECK (why <> ''), 
	CONSTRAINT fk_document_void_document_id_document FOREIGN KEY(document_id) REFERENCES document (id)
);
INSERT INTO "document_void" VALUES(1,1,'A. Officer','2026-11-25 09:30:00.000000','another basin');
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
INSERT INTO "finding" VALUES(3,3,'shut-off-residual','not met','35 ml/min still flow',3,1,35.0,20.0,'ml/min','D08-91: a document','Clean the strainers',0.0,2.5);
CREATE TABLE fitting (
	id INTEGER NOT NULL, 
	valve_id INTEGER NOT NULL, 
	position_id INTEGER NOT NULL, 
	fitted_on DATE, 
	removed_on DATE, row_version INTEGER DEFAULT '1' NOT NULL, 
	CONSTRAINT pk_fitting PRIMARY KEY (id), 
	CONSTRAINT ck_fitting_removed_after_fitted CHECK (removed_on >= fitted_on), 
	CONSTRAINT fk_fitting_position_id_position FOREIGN KEY(position_id) REFERENCES position (id), 
	CONSTRAINT fk_fitting_valve_id_valve FOREIGN KEY(valve_id) REFERENCES valve (id)
);
INSERT INTO "fitting" VALUES(1,1,1,'2024-01-02',NULL,1);
INSERT INTO "fitting" VALUES(2,2,2,'2024-01-02',NULL,1);
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
INSERT INTO "group_fit" VALUES(1,'estate','2026-05-01','2026-11-25 09:30:00.000000',0.02,0.03,0.1,0.25,2.0,40.0,12,90,'1');
CREATE TABLE instrument (
	id INTEGER NOT NULL, 
	reference TEXT NOT NULL, 
	reference_key TEXT NOT NULL, 
	kind TEXT NOT NULL, 
	specification TEXT NOT NULL, 
	standard_uncertainty_k DOUBLE, row_version INTEGER DEFAULT '1' NOT NULL, 
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
INSERT INTO "judgement" VALUES(3,3,'uk-healthcare','1','put right',1,'left-above-ceiling','hot-supply-cool','2026-11-25 09:30:00.000000');
CREATE TABLE layout (
	id INTEGER NOT NULL, 
	name TEXT NOT NULL, 
	name_key TEXT NOT NULL, 
	kind TEXT NOT NULL, 
	sender TEXT NOT NULL, 
	body TEXT NOT NULL, 
	who TEXT NOT NULL, 
	at DATETIME NOT NULL, row_version INTEGER DEFAULT '1' NOT NULL, 
	CONSTRAINT pk_layout PRIMARY KEY (id), 
	CONSTRAINT uq_layout_name_key UNIQUE (name_key)
);
CREATE TABLE ledger_entry (
	id INTEGER NOT NULL, 
	at DATETIME NOT NULL, 
	who TEXT NOT NULL, 
	what TEXT NOT NULL, 
	noun TEXT NOT NULL, 
	row_id INTEGER, 
	action TEXT NOT NULL, 
	"after" TEXT NOT NULL, local_at TEXT DEFAULT '' NOT NULL, program TEXT DEFAULT '' NOT NULL, batch_id INTEGER, "before" TEXT DEFAULT '' NOT NULL, why TEXT DEFAULT '' NOT NULL, previous TEXT DEFAULT '' NOT NULL, digest TEXT DEFAULT '' NOT NULL, 
	CONSTRAINT pk_ledger_entry PRIMARY KEY (id)
);
INSERT INTO "ledger_entry" VALUES(1,'2026-11-25 09:30:00.000000','','made the register','register',1,'added','{"id":1,"identifier":"mx-1","made_at":"2026-11-25T09:30:00+00:00","name":"Marlpit Cross","rule_set":"uk-healthcare"}','2026-11-25T09:30:00+00:00','estate-register',NULL,'','','','1565980fafae84c2a97727540f5018dae60aa337b50b18ad45bb31d7fb271d51');
INSERT INTO "ledger_entry" VALUES(2,'2026-11-25 09:30:00.000000','A. Officer','filled it','site',1,'added','{"name":"Marlpit Cross","name_key":"marlpitcross"}','2026-11-25T09:30:00+00:00','estate-register',NULL,'','','1565980fafae84c2a97727540f5018dae60aa337b50b18ad45bb31d7fb271d51','2fc66bc4e023528e776c9df366cc7e200508d856e2e895ee0f82592c2ea2907b');
INSERT INTO "ledger_entry" VALUES(3,'2026-11-25 09:30:00.000000','A. Officer','filled it','building',1,'added','{"name":"Main block","name_key":"mainblock","site_id":1}','2026-11-25T09:30:00+00:00','estate-register',NULL,'','','2fc66bc4e023528e776c9df366cc7e200508d856e2e895ee0f82592c2ea2907b','e4ffa1e6bad665e76e677547baad2d71924fd34cb0dacd4194df7d884765c42f');
INSERT INTO "ledger_entry" VALUES(4,'2026-11-25 09:30:00.000000','A. Officer','filled it','level',1,'added','{"building_id":1,"name":"G","name_key":"g"}','2026-11-25T09:30:00+00:00','estate-register',NULL,'','','e4ffa1e6bad665e76e677547baad2d71924fd34cb0dacd4194df7d884765c42f','cbd7e48e9772de7370b9023ec2b9d0b9a8bb3143f6899ef8c9443f308fe36e0e');
INSERT INTO "ledger_entry" VALUES(5,'2026-11-25 09:30:00.000000','A. Officer','filled it','room',1,'added','{"level_id":1,"name":"Bay 1","name_key":"bay1","number":"01","number_key":"01"}','2026-11-25T09:30:00+00:00','estate-register',NULL,'','','cbd7e48e9772de7370b9023ec2b9d0b9a8bb3143f6899ef8c9443f308fe36e0e','a90f7de65de19589aff1c9f2c5ebb29efb5a5b3715d6b566f72b717b7d248f75');
INSERT INTO "ledger_entry" VALUES(6,'2026-11-25 09:30:00.000000','A. Officer','filled it','position',1,'added','{"room_id":1,"words":"under the basin"}','2026-11-25T09:30:00+00:00','estate-register',NULL,'','','a90f7de65de19589aff1c9f2c5ebb29efb5a5b3715d6b566f72b717b7d248f75','aefa14ae491ed7693abee580c5ba2d1cacf2299f6c0cc16163f11dd2bd1cae78');
INSERT INTO "ledger_entry" VALUES(7,'2026-11-25 09:30:00.000000','A. Officer','filled it','outlet',1,'added','{"little_used":false,"name":"Basin","pipe_m":0.6,"position_id":1,"reference":"MX-G-01-B1","reference_key":"mxg01b1","room_id":1,"use":"basin","user_group":"patients"}','2026-11-25T09:30:00+00:00','estate-register',NULL,'','','aefa14ae491ed7693abee580c5ba2d1cacf2299f6c0cc16163f11dd2bd1cae78','18b76c8923b0f3f8c8d93f00857939e69feaf0bdf2f6e6d6c78efde084aa3c65');
INSERT INTO "ledger_entry" VALUES(8,'2026-11-25 09:30:00.000000','A. Officer','filled it','valve',1,'added','{"designations":"[]","make":"Invented","model":"Model A","serial":"S-MX-G-01-B1"}','2026-11-25T09:30:00+00:00','estate-register',NULL,'','','18b76c8923b0f3f8c8d93f00857939e69feaf0bdf2f6e6d6c78efde084aa3c65','bc3675bcdfc0a745b203092312c946449b0a6a3a8c4fe2673ae4f6724c4684c0');
INSERT INTO "ledger_entry" VALUES(9,'2026-11-25 09:30:00.000000','A. Officer','filled it','fitting',1,'added','{"fitted_on":"2024-01-02","position_id":1,"valve_id":1}','2026-11-25T09:30:00+00:00','estate-register',NULL,'','','bc3675bcdfc0a745b203092312c946449b0a6a3a8c4fe2673ae4f6724c4684c0','6bcfaf10f488ecb5699e4f3edcc751973c073d1ae0967acb5166564c99bc295a');
INSERT INTO "ledger_entry" VALUES(10,'2026-11-25 09:30:00.000000','A. Officer','filled it','batch',1,'added','{"accepted":1,"already_there":0,"answers":"[]","at":"2026-11-25T09:30:00+00:00","content":"sha256:2d711642b726b04401627ca9fbac32f5c8530fb1903cc4db02258717921a4881","date_order":"","digest":"ab","file":"f.csv","forms":"","kind":"visits","layout":"","rows_read":2,"who":"A. Officer"}','2026-11-25T09:30:00+00:00','estate-register',NULL,'','','6bcfaf10f488ecb5699e4f3edcc751973c073d1ae0967acb5166564c99bc295a','453d5318a4c16ab553ae0bc3f1629e082bd7711e56b92a44255c4d0ae7798f75');
INSERT INTO "ledger_entry" VALUES(11,'2026-11-25 09:30:00.000000','A. Officer','filled it','batch_question',NULL,'added many','{"columns":["batch_id","cell","code","found","id","reference","remedy","row_number","sheet"],"digest":"db69fad0c00ad842ef4d54fef7a9dfaabe9b5861cae98931df9dd02e0766896b","first_id":1,"last_id":1,"marks":"r2Xepg==","rows":1}','2026-11-25T09:30:00+00:00','estate-register',NULL,'','','453d5318a4c16ab553ae0bc3f1629e082bd7711e56b92a44255c4d0ae7798f75','f84be856eec4d6c0f3e1f7be66d941157d634469c7465420cb0c3cf48c864756');
INSERT INTO "ledger_entry" VALUES(12,'2026-11-25 09:30:00.000000','A. Officer','filled it','valve',1,'amended','{"set_c":42.0}','2026-11-25T09:30:00+00:00','estate-register',1,'{"set_c":null}','','f84be856eec4d6c0f3e1f7be66d941157d634469c7465420cb0c3cf48c864756','96725999fb1a7074706305d58677f389a1f0b59ca6b761977acacfe488bc4e3e');
INSERT INTO "ledger_entry" VALUES(13,'2026-11-25 09:30:00.000000','A. Officer','filled it','alias',1,'added','{"at":"2026-11-25T09:30:00+00:00","batch_id":1,"outlet_id":1,"who":"A. Officer","words":"the basin","words_key":"thebasin"}','2026-11-25T09:30:00+00:00','estate-register',1,'','','96725999fb1a7074706305d58677f389a1f0b59ca6b761977acacfe488bc4e3e','56017bc65d20f471f3fd08a168350c2d84fbc6bf0de40e68b0518526140b05ac');
INSERT INTO "ledger_entry" VALUES(14,'2026-11-25 09:30:00.000000','A. Officer','filled it','attempt',1,'added','{"attempted_on":"2026-11-24","batch_id":1,"outlet_id":1,"person":"","recorded_at":"2026-11-25T09:30:00+00:00","recorded_by":"A. Officer","why":"no access"}','2026-11-25T09:30:00+00:00','estate-register',1,'','','56017bc65d20f471f3fd08a168350c2d84fbc6bf0de40e68b0518526140b05ac','3abb4be643c0b1a246abc434936162e2f03c5411788668ca32288ce5348790de');
INSERT INTO "ledger_entry" VALUES(15,'2026-11-25 09:30:00.000000','A. Officer','filled it','attempt_void',1,'added','{"at":"2026-11-25T09:30:00+00:00","attempt_id":1,"reason":"wrong outlet","who":"A. Officer"}','2026-11-25T09:30:00+00:00','estate-register',1,'','','3abb4be643c0b1a246abc434936162e2f03c5411788668ca32288ce5348790de','af2345d033568f10bf6b07030332ccb508ee49c7470e713a79135d7f62cfafed');
INSERT INTO "ledger_entry" VALUES(16,'2026-11-25 09:30:00.000000','A. Officer','filled it','batch_undo',1,'added','{"at":"2026-11-25T09:30:00+00:00","batch_id":1,"who":"A. Officer","why":"wrong file"}','2026-11-25T09:30:00+00:00','estate-register',1,'','','af2345d033568f10bf6b07030332ccb508ee49c7470e713a79135d7f62cfafed','f1d95d3552d0e8d9a7e9cbaf289463d217062f4a19cfaa784c208d28d73cd397');
INSERT INTO "ledger_entry" VALUES(17,'2026-11-25 09:30:00.000000','A. Officer','filled it','visit',1,'added','{"batch_id":1,"found_c":41.2,"instrument_words":"","kind":"in-service test","outlet_id":1,"person":"","recorded_at":"2026-11-25T09:30:00+00:00","recorded_by":"A. Officer","remarks":"","valve_id":1,"visited_on":"2026-11-24"}','2026-11-25T09:30:00+00:00','estate-register',1,'','','f1d95d3552d0e8d9a7e9cbaf289463d217062f4a19cfaa784c208d28d73cd397','d67c60ea6ea9bf806c39e56acb7be6582e12a9ac724d3f3cabe75c9055023ddb');
INSERT INTO "ledger_entry" VALUES(18,'2026-11-25 09:30:00.000000','A. Officer','filled it','judgement',NULL,'added many','{"columns":["id","judged_at","met_codes","met_count","rule_set","rule_set_edition","untested_codes","verdict","visit_id"],"digest":"5a6a256544e39656a5eb41042b8817df7447adea399d480e8e74d1c789fffda0","first_id":1,"last_id":1,"marks":"2aHN4A==","rows":1}','2026-11-25T09:30:00+00:00','estate-register',1,'','','d67c60ea6ea9bf806c39e56acb7be6582e12a9ac724d3f3cabe75c9055023ddb','5af1bd62315073003fcd89c0b1aae3e1776e9314318e6526716ffac2a76cf868');
INSERT INTO "ledger_entry" VALUES(19,'2026-11-25 09:30:00.000000','A. Officer','filled it','finding',NULL,'added many','{"columns":["action","code","id","judgement_id","limit_value","measured","outcome","required","retest_from_weeks","retest_to_weeks","severity","source","unit","words"],"digest":"ff7416b5d74bf9f5aedc5adcb06e0bf66dcd6022ec83167614d46a3f8c623cf2","first_id":1,"last_id":1,"marks":"mmI6aQ==","rows":1}','2026-11-25T09:30:00+00:00','estate-register',1,'','','5af1bd62315073003fcd89c0b1aae3e1776e9314318e6526716ffac2a76cf868','5b7fe143a9ba2dcc7c014a87d2133520bd3a7f5ab9842310d15ffb6d2131f177');
INSERT INTO "ledger_entry" VALUES(20,'2026-11-25 09:30:00.000000','A. Officer','filled it','visit_void',1,'added','{"at":"2026-11-25T09:30:00+00:00","reason":"wrong outlet","visit_id":1,"who":"A. Officer"}','2026-11-25T09:30:00+00:00','estate-register',1,'','','5b7fe143a9ba2dcc7c014a87d2133520bd3a7f5ab9842310d15ffb6d2131f177','e86fb6facc4b4945aa2f79027f5a89206cecc70c51aaa28a4faeb087329e5b5b');
INSERT INTO "ledger_entry" VALUES(21,'2026-11-25 09:30:00.000000','A. Officer','filled it','rule_override',1,'added','{"at":"2026-11-25T09:30:00+00:00","key":"k","number_value":1.0,"place":"estate","rule_set":"r","who":"A. Officer","why":"why"}','2026-11-25T09:30:00+00:00','estate-register',1,'','','e86fb6facc4b4945aa2f79027f5a89206cecc70c51aaa28a4faeb087329e5b5b','5fc760caf9cd2725b7c055140f61138b26a43876a41334aabe9bdbbb25be6b6c');
INSERT INTO "ledger_entry" VALUES(22,'2026-11-25 09:30:00.000000','A. Officer','filled it','group_fit',NULL,'added many','{"columns":["a","b_years","fitted_at","fitted_on","id","mu","name","omega","readings","s","sigma","valves","version"],"digest":"fdbeca4ef59daf64d39fa85c247244c43b612f52dcce403fce4b29b64322a364","first_id":1,"last_id":1,"marks":"En6/7g==","rows":1}','2026-11-25T09:30:00+00:00','estate-register',1,'','','5fc760caf9cd2725b7c055140f61138b26a43876a41334aabe9bdbbb25be6b6c','830c790a729ce43e929222dc9943c0554bb1b9c84d15afaacdd1c41aceaa7a42');
INSERT INTO "ledger_entry" VALUES(23,'2026-11-25 09:30:00.000000','A. Officer','filled it','person_key',1,'added','{"added_by":"A. Officer","at":"2026-11-25T09:30:00+00:00","fingerprint":"00","key":"00","made_at":"2026-11-25T09:30:00+00:00","person":"A. Officer","why":""}','2026-11-25T09:30:00+00:00','estate-register',1,'','','830c790a729ce43e929222dc9943c0554bb1b9c84d15afaacdd1c41aceaa7a42','753963a9d3d2ab36cb1846768d4ce607a8c54bf817edb175cdfcc8c34e40e338');
INSERT INTO "ledger_entry" VALUES(24,'2026-11-25 09:30:00.000000','A. Officer','filled it','signature',1,'added','{"at":"2026-11-25T09:30:00+00:00","digest":"00","noun":"visit","person_key_id":1,"role":"signed","row_id":1,"signature":"00","who":"A. Officer"}','2026-11-25T09:30:00+00:00','estate-register',1,'','','753963a9d3d2ab36cb1846768d4ce607a8c54bf817edb175cdfcc8c34e40e338','ee4579654b853e612b8ef826e13ca78d8db3337fa37f5f02213e6639b1aeb53c');
INSERT INTO "ledger_entry" VALUES(25,'2026-11-25 09:30:00.000000','A. Officer','filled it','checkpoint',1,'added','{"at":"2026-11-25T09:30:00+00:00","digest":"1565980fafae84c2a97727540f5018dae60aa337b50b18ad45bb31d7fb271d51","entries":1,"last_entry_id":1,"who":"A. Officer"}','2026-11-25T09:30:00+00:00','estate-register',1,'','','ee4579654b853e612b8ef826e13ca78d8db3337fa37f5f02213e6639b1aeb53c','04f5b9830ff327333f9a8127a69860010cbd80aa7b40d29b98177aa93d76f6b8');
INSERT INTO "ledger_entry" VALUES(26,'2026-11-25 09:30:00.000000','A. Officer','filled it','document_content',1,'added','{"content":"sha256:2d711642b726b04401627ca9fbac32f5c8530fb1903cc4db02258717921a4881","sha256":"ab"}','2026-11-25T09:30:00+00:00','estate-register',1,'','','04f5b9830ff327333f9a8127a69860010cbd80aa7b40d29b98177aa93d76f6b8','20bc648192b9f6d2b21bf0301dd2692880e84dce98294998a9919088aa912625');
INSERT INTO "ledger_entry" VALUES(27,'2026-11-25 09:30:00.000000','A. Officer','filled it','document',1,'added','{"at":"2026-11-25T09:30:00+00:00","media_type":"text/plain","name":"x.txt","noun":"visit","remark":"","row_id":1,"sha256":"ab","size_bytes":1,"who":"A. Officer"}','2026-11-25T09:30:00+00:00','estate-register',1,'','','20bc648192b9f6d2b21bf0301dd2692880e84dce98294998a9919088aa912625','b60a4b6cfbcd0c57f46980382848f24e09ead7879f5f2ed87a133a99d9dd708f');
INSERT INTO "ledger_entry" VALUES(28,'2026-11-25 09:30:00.000000','A. Officer','filled it','document_void',1,'added','{"at":"2026-11-25T09:30:00+00:00","document_id":1,"who":"A. Officer","why":"another basin"}','2026-11-25T09:30:00+00:00','estate-register',1,'','','b60a4b6cfbcd0c57f46980382848f24e09ead7879f5f2ed87a133a99d9dd708f','9f1de4aff191886c9586823b0e3a7661b75a2f17dbb1774d2a7ceedb61224131');
INSERT INTO "ledger_entry" VALUES(29,'2026-11-25 09:30:00.000000','A. Officer','filled it','batch_row',NULL,'added many','{"columns":["action","after","batch_id","before","id","noun","row_id"],"digest":"4419d14bdd6458a6eb552d0d001db7dfe722f0da0f4e44b3b1f3654022fd57b7","first_id":1,"last_id":1,"marks":"bDCUyA==","rows":1}','2026-11-25T09:30:00+00:00','estate-register',1,'','','9f1de4aff191886c9586823b0e3a7661b75a2f17dbb1774d2a7ceedb61224131','26aa187d02cf1c4faf47c0e188dce47aef56cae45331a25b151a8f193c333d4e');
INSERT INTO "ledger_entry" VALUES(30,'2026-11-25 09:30:00.000000','A. Officer','recorded a visit','room',2,'added','{"level_id":1,"name":"Bay 2","name_key":"bay2","number":"01","number_key":"01"}','2026-11-25T09:30:00+00:00','estate-register',NULL,'','','26aa187d02cf1c4faf47c0e188dce47aef56cae45331a25b151a8f193c333d4e','0ed4c052b5556dfa76005dc2be146961a2ff6be811cc04ccd058c46adfb9ed82');
INSERT INTO "ledger_entry" VALUES(31,'2026-11-25 09:30:00.000000','A. Officer','recorded a visit','position',2,'added','{"room_id":2,"words":"under the basin"}','2026-11-25T09:30:00+00:00','estate-register',NULL,'','','0ed4c052b5556dfa76005dc2be146961a2ff6be811cc04ccd058c46adfb9ed82','d69ea827ff2ad6bd21413c560b7f4cbf1556b847ed51ddd34bfd65dc194cdd1b');
INSERT INTO "ledger_entry" VALUES(32,'2026-11-25 09:30:00.000000','A. Officer','recorded a visit','outlet',2,'added','{"little_used":false,"name":"Basin","pipe_m":0.6,"position_id":2,"reference":"MX-G-02-B1","reference_key":"mxg02b1","room_id":2,"use":"basin","user_group":"patients"}','2026-11-25T09:30:00+00:00','estate-register',NULL,'','','d69ea827ff2ad6bd21413c560b7f4cbf1556b847ed51ddd34bfd65dc194cdd1b','03696a0e1f47315204b51c953dc5bb1d25a5a9740934bf83399685c05d6666f0');
INSERT INTO "ledger_entry" VALUES(33,'2026-11-25 09:30:00.000000','A. Officer','recorded a visit','valve',2,'added','{"designations":"[]","make":"Invented","model":"Model A","serial":"S-MX-G-02-B1"}','2026-11-25T09:30:00+00:00','estate-register',NULL,'','','03696a0e1f47315204b51c953dc5bb1d25a5a9740934bf83399685c05d6666f0','f201e4070e7be9f13eb478ae6ba984351f3eea810d64e1bcdba297c76d63fca2');
INSERT INTO "ledger_entry" VALUES(34,'2026-11-25 09:30:00.000000','A. Officer','recorded a visit','fitting',2,'added','{"fitted_on":"2024-01-02","position_id":2,"valve_id":2}','2026-11-25T09:30:00+00:00','estate-register',NULL,'','','f201e4070e7be9f13eb478ae6ba984351f3eea810d64e1bcdba297c76d63fca2','556737722f9dcd49e37b8cf2a837b5865630c2a1716829763c5f0ddde85493d5');
INSERT INTO "ledger_entry" VALUES(35,'2026-11-25 09:30:00.000000','A. Officer','recorded a visit','visit',2,'added','{"found_c":41.2,"instrument_words":"","kind":"in-service test","outlet_id":2,"person":"","recorded_at":"2026-11-25T09:30:00+00:00","recorded_by":"A. Officer","remarks":"","valve_id":2,"visited_on":"2026-10-25"}','2026-11-25T09:30:00+00:00','estate-register',NULL,'','','556737722f9dcd49e37b8cf2a837b5865630c2a1716829763c5f0ddde85493d5','1d6009d17200a116bd44f27d19d0ac1665e146b207984d3ffde2dbe354d67be9');
INSERT INTO "ledger_entry" VALUES(36,'2026-11-25 09:30:00.000000','A. Officer','recorded a visit','judgement',NULL,'added many','{"columns":["id","judged_at","met_codes","met_count","rule_set","rule_set_edition","untested_codes","verdict","visit_id"],"digest":"94659032998e8a672183a6d0a2d93bfd0d4abdb3dce320d02d63d5c39ee6acad","first_id":2,"last_id":2,"marks":"Sju3SA==","rows":1}','2026-11-25T09:30:00+00:00','estate-register',NULL,'','','1d6009d17200a116bd44f27d19d0ac1665e146b207984d3ffde2dbe354d67be9','abb992f930241c2f8511e5b4bda07631c06844e5129731db26b78fa07581d199');
INSERT INTO "ledger_entry" VALUES(37,'2026-11-25 09:30:00.000000','A. Officer','recorded a visit','finding',NULL,'added many','{"columns":["action","code","id","judgement_id","limit_value","measured","outcome","required","retest_from_weeks","retest_to_weeks","severity","source","unit","words"],"digest":"7a2e0a3117f188151546ec64fb8a15880fd1a322a0e608c73c665a2c995dea86","first_id":2,"last_id":2,"marks":"86qurQ==","rows":1}','2026-11-25T09:30:00+00:00','estate-register',NULL,'','','abb992f930241c2f8511e5b4bda07631c06844e5129731db26b78fa07581d199','bdeae3ca84b3efe24fced4f4f6b56a350bbf1d5d4e108a0e3678a870bdc77847');
INSERT INTO "ledger_entry" VALUES(38,'2026-11-25 09:30:00.000000','A. Officer','recorded a visit','visit',3,'added','{"found_c":41.2,"instrument_words":"","kind":"in-service test","outlet_id":2,"person":"","recorded_at":"2026-11-25T09:30:00+00:00","recorded_by":"A. Officer","remarks":"","valve_id":2,"visited_on":"2026-11-24"}','2026-11-25T09:30:00+00:00','estate-register',NULL,'','','bdeae3ca84b3efe24fced4f4f6b56a350bbf1d5d4e108a0e3678a870bdc77847','609f1a69070a690c7d63f1271dda9832a2d0d7b96dcb04dccc937e87ada7a236');
INSERT INTO "ledger_entry" VALUES(39,'2026-11-25 09:30:00.000000','A. Officer','recorded a visit','judgement',NULL,'added many','{"columns":["id","judged_at","met_codes","met_count","rule_set","rule_set_edition","untested_codes","verdict","visit_id"],"digest":"2f4842e47083cae19ef86bbebdea2195bc598426d1d0cff5d46bc671e3535acf","first_id":3,"last_id":3,"marks":"O02e0A==","rows":1}','2026-11-25T09:30:00+00:00','estate-register',NULL,'','','609f1a69070a690c7d63f1271dda9832a2d0d7b96dcb04dccc937e87ada7a236','a586159b5c8b7c2910cdc77b4f55fd5e627d349e46bcbd4bcc99b223bf2eea23');
INSERT INTO "ledger_entry" VALUES(40,'2026-11-25 09:30:00.000000','A. Officer','recorded a visit','finding',NULL,'added many','{"columns":["action","code","id","judgement_id","limit_value","measured","outcome","required","retest_from_weeks","retest_to_weeks","severity","source","unit","words"],"digest":"64de044dcb4353dd85634a825e4ce421d027d0eefa531a570c68e6031fe4a727","first_id":3,"last_id":3,"marks":"Yj3fLg==","rows":1}','2026-11-25T09:30:00+00:00','estate-register',NULL,'','','a586159b5c8b7c2910cdc77b4f55fd5e627d349e46bcbd4bcc99b223bf2eea23','5ca5234d64bd3796dd98aa7358eea5a7e2246154a6b40909658d34ec013715fc');
CREATE TABLE level (
	id INTEGER NOT NULL, 
	building_id INTEGER NOT NULL, 
	name TEXT NOT NULL, 
	name_key TEXT NOT NULL, row_version INTEGER DEFAULT '1' NOT NULL, 
	CONSTRAINT pk_level PRIMARY KEY (id), 
	CONSTRAINT fk_level_building_id_building FOREIGN KEY(building_id) REFERENCES building (id), 
	CONSTRAINT uq_level_building_id_name_key UNIQUE (building_id, name_key)
);
INSERT INTO "level" VALUES(1,1,'G','g',1);
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
	retired_on DATE, row_version INTEGER DEFAULT '1' NOT NULL, 
	CONSTRAINT pk_outlet PRIMARY KEY (id), 
	CONSTRAINT ck_outlet_pipe_m_not_negative CHECK (pipe_m >= 0), 
	CONSTRAINT fk_outlet_position_id_position FOREIGN KEY(position_id) REFERENCES position (id), 
	CONSTRAINT fk_outlet_room_id_room FOREIGN KEY(room_id) REFERENCES room (id), 
	CONSTRAINT uq_outlet_reference_key UNIQUE (reference_key)
);
INSERT INTO "outlet" VALUES(1,1,1,'MX-G-01-B1','mxg01b1','Basin','basin','patients',0,0.6,NULL,NULL,1);
INSERT INTO "outlet" VALUES(2,2,2,'MX-G-02-B1','mxg02b1','Basin','basin','patients',0,0.6,NULL,NULL,1);
CREATE TABLE person_key (
	id INTEGER NOT NULL, 
	person TEXT NOT NULL, 
	"key" TEXT NOT NULL, 
	fingerprint TEXT NOT NULL, 
	made_at DATETIME NOT NULL, 
	added_by TEXT NOT NULL, 
	at DATETIME NOT NULL, 
	withdraws INTEGER, 
	withdrawn_at DATETIME, 
	why TEXT DEFAULT '' NOT NULL, 
	CONSTRAINT pk_person_key PRIMARY KEY (id), 
	CONSTRAINT fk_person_key_withdraws_person_key FOREIGN KEY(withdraws) REFERENCES person_key (id)
);
INSERT INTO "person_key" VALUES(1,'A. Officer','00','00','2026-11-25 09:30:00.000000','A. Officer','2026-11-25 09:30:00.000000',NULL,NULL,'');
CREATE TABLE position (
	id INTEGER NOT NULL, 
	room_id INTEGER NOT NULL, 
	words TEXT NOT NULL, row_version INTEGER DEFAULT '1' NOT NULL, 
	CONSTRAINT pk_position PRIMARY KEY (id), 
	CONSTRAINT fk_position_room_id_room FOREIGN KEY(room_id) REFERENCES room (id)
);
INSERT INTO "position" VALUES(1,1,'under the basin',1);
INSERT INTO "position" VALUES(2,2,'under the basin',1);
CREATE TABLE register (
	id INTEGER NOT NULL, 
	name TEXT NOT NULL, 
	identifier TEXT NOT NULL, 
	made_at DATETIME NOT NULL, 
	rule_set TEXT NOT NULL, row_version INTEGER DEFAULT '1' NOT NULL, 
	CONSTRAINT pk_register PRIMARY KEY (id), 
	CONSTRAINT ck_register_single CHECK (id = 1)
);
INSERT INTO "register" VALUES(1,'Marlpit Cross','mx-1','2026-11-25 09:30:00.000000','uk-healthcare',1);
CREATE TABLE room (
	id INTEGER NOT NULL, 
	level_id INTEGER NOT NULL, 
	number TEXT NOT NULL, 
	number_key TEXT NOT NULL, 
	name TEXT NOT NULL, 
	name_key TEXT NOT NULL, row_version INTEGER DEFAULT '1' NOT NULL, 
	CONSTRAINT pk_room PRIMARY KEY (id), 
	CONSTRAINT fk_room_level_id_level FOREIGN KEY(level_id) REFERENCES level (id), 
	CONSTRAINT uq_room_level_id_number_key_name_key UNIQUE (level_id, number_key, name_key)
);
INSERT INTO "room" VALUES(1,1,'01','01','Bay 1','bay1',1);
INSERT INTO "room" VALUES(2,1,'01','01','Bay 2','bay2',1);
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
INSERT INTO "rule_override" VALUES(1,'r','k','estate',1.0,NULL,'A. Officer','2026-11-25 09:30:00.000000','why');
CREATE TABLE signature (
	id INTEGER NOT NULL, 
	noun TEXT NOT NULL, 
	row_id INTEGER NOT NULL, 
	digest TEXT NOT NULL, 
	person_key_id INTEGER NOT NULL, 
	signature TEXT NOT NULL, 
	role TEXT NOT NULL, 
	at DATETIME NOT NULL, 
	who TEXT NOT NULL, 
	CONSTRAINT pk_signature PRIMARY KEY (id), 
	CONSTRAINT ck_signature_role_known CHECK (role IN ('signed', 'countersigned')), 
	CONSTRAINT fk_signature_person_key_id_person_key FOREIGN KEY(person_key_id) REFERENCES person_key (id)
);
INSERT INTO "signature" VALUES(1,'visit',1,'00',1,'00','signed','2026-11-25 09:30:00.000000','A. Officer');
CREATE TABLE site (
	id INTEGER NOT NULL, 
	name TEXT NOT NULL, 
	name_key TEXT NOT NULL, row_version INTEGER DEFAULT '1' NOT NULL, 
	CONSTRAINT pk_site PRIMARY KEY (id), 
	CONSTRAINT uq_site_name_key UNIQUE (name_key)
);
INSERT INTO "site" VALUES(1,'Marlpit Cross','marlpitcross',1);
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
	max_pressure_ratio DOUBLE, row_version INTEGER DEFAULT '1' NOT NULL, 
	CONSTRAINT pk_valve PRIMARY KEY (id)
);
INSERT INTO "valve" VALUES(1,'Invented','Model A','S-MX-G-01-B1',NULL,NULL,'[]',NULL,42.0,NULL,NULL,NULL,NULL,NULL,2);
INSERT INTO "valve" VALUES(2,'Invented','Model A','S-MX-G-02-B1',NULL,NULL,'[]',NULL,NULL,NULL,NULL,NULL,NULL,NULL,1);
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
INSERT INTO "visit" VALUES(1,1,1,'in-service test','2026-11-24','',NULL,'','',NULL,NULL,41.2,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'2026-11-25 09:30:00.000000','A. Officer',1,NULL);
INSERT INTO "visit" VALUES(2,2,2,'in-service test','2026-10-25','',NULL,'','',NULL,NULL,41.2,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'2026-11-25 09:30:00.000000','A. Officer',NULL,NULL);
INSERT INTO "visit" VALUES(3,2,2,'in-service test','2026-11-24','',NULL,'','',NULL,NULL,41.2,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'2026-11-25 09:30:00.000000','A. Officer',NULL,NULL);
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
INSERT INTO "visit_void" VALUES(1,1,'wrong outlet','A. Officer','2026-11-25 09:30:00.000000');
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
CREATE TRIGGER batch_row_no_update BEFORE UPDATE ON batch_row BEGIN SELECT RAISE(ABORT, 'evidence is never changed or deleted: batch_row'); END;
CREATE TRIGGER batch_row_no_delete BEFORE DELETE ON batch_row BEGIN SELECT RAISE(ABORT, 'evidence is never changed or deleted: batch_row'); END;
CREATE TRIGGER batch_row_no_replace BEFORE INSERT ON batch_row WHEN EXISTS (SELECT 1 FROM batch_row WHERE id = NEW.id) BEGIN SELECT RAISE(ABORT, 'evidence is never changed or deleted: batch_row'); END;
CREATE TRIGGER batch_undo_no_update BEFORE UPDATE ON batch_undo BEGIN SELECT RAISE(ABORT, 'evidence is never changed or deleted: batch_undo'); END;
CREATE TRIGGER batch_undo_no_delete BEFORE DELETE ON batch_undo BEGIN SELECT RAISE(ABORT, 'evidence is never changed or deleted: batch_undo'); END;
CREATE TRIGGER alias_no_update BEFORE UPDATE ON alias BEGIN SELECT RAISE(ABORT, 'evidence is never changed or deleted: alias'); END;
CREATE TRIGGER alias_no_delete BEFORE DELETE ON alias BEGIN SELECT RAISE(ABORT, 'evidence is never changed or deleted: alias'); END;
CREATE TRIGGER alias_no_replace BEFORE INSERT ON alias WHEN EXISTS (SELECT 1 FROM alias WHERE id = NEW.id) BEGIN SELECT RAISE(ABORT, 'evidence is never changed or deleted: alias'); END;
CREATE INDEX ix_person_key_fingerprint ON person_key (fingerprint);
CREATE INDEX ix_signature_noun_row_id ON signature (noun, row_id);
CREATE INDEX ix_signature_person_key_id ON signature (person_key_id);
CREATE INDEX ix_account_building_id ON account (building_id);
CREATE INDEX ix_account_name ON account (name);
CREATE TRIGGER person_key_no_update BEFORE UPDATE ON person_key BEGIN SELECT RAISE(ABORT, 'evidence is never changed or deleted: person_key'); END;
CREATE TRIGGER person_key_no_delete BEFORE DELETE ON person_key BEGIN SELECT RAISE(ABORT, 'evidence is never changed or deleted: person_key'); END;
CREATE TRIGGER person_key_no_replace BEFORE INSERT ON person_key WHEN EXISTS (SELECT 1 FROM person_key WHERE id = NEW.id) BEGIN SELECT RAISE(ABORT, 'evidence is never changed or deleted: person_key'); END;
CREATE TRIGGER signature_no_update BEFORE UPDATE ON signature BEGIN SELECT RAISE(ABORT, 'evidence is never changed or deleted: signature'); END;
CREATE TRIGGER signature_no_delete BEFORE DELETE ON signature BEGIN SELECT RAISE(ABORT, 'evidence is never changed or deleted: signature'); END;
CREATE TRIGGER signature_no_replace BEFORE INSERT ON signature WHEN EXISTS (SELECT 1 FROM signature WHERE id = NEW.id) BEGIN SELECT RAISE(ABORT, 'evidence is never changed or deleted: signature'); END;
CREATE TRIGGER checkpoint_no_update BEFORE UPDATE ON checkpoint BEGIN SELECT RAISE(ABORT, 'evidence is never changed or deleted: checkpoint'); END;
CREATE TRIGGER checkpoint_no_delete BEFORE DELETE ON checkpoint BEGIN SELECT RAISE(ABORT, 'evidence is never changed or deleted: checkpoint'); END;
CREATE TRIGGER checkpoint_no_replace BEFORE INSERT ON checkpoint WHEN EXISTS (SELECT 1 FROM checkpoint WHERE id = NEW.id) BEGIN SELECT RAISE(ABORT, 'evidence is never changed or deleted: checkpoint'); END;
CREATE INDEX ix_document_noun_row_id ON document (noun, row_id);
CREATE INDEX ix_document_sha256 ON document (sha256);
CREATE INDEX ix_document_batch_id ON document (batch_id);
CREATE TRIGGER document_content_no_update BEFORE UPDATE ON document_content BEGIN SELECT RAISE(ABORT, 'evidence is never changed or deleted: document_content'); END;
CREATE TRIGGER document_content_no_delete BEFORE DELETE ON document_content BEGIN SELECT RAISE(ABORT, 'evidence is never changed or deleted: document_content'); END;
CREATE TRIGGER document_no_update BEFORE UPDATE ON document BEGIN SELECT RAISE(ABORT, 'evidence is never changed or deleted: document'); END;
CREATE TRIGGER document_no_delete BEFORE DELETE ON document BEGIN SELECT RAISE(ABORT, 'evidence is never changed or deleted: document'); END;
CREATE TRIGGER document_no_replace BEFORE INSERT ON document WHEN EXISTS (SELECT 1 FROM document WHERE id = NEW.id) BEGIN SELECT RAISE(ABORT, 'evidence is never changed or deleted: document'); END;
CREATE TRIGGER document_void_no_update BEFORE UPDATE ON document_void BEGIN SELECT RAISE(ABORT, 'evidence is never changed or deleted: document_void'); END;
CREATE TRIGGER document_void_no_delete BEFORE DELETE ON document_void BEGIN SELECT RAISE(ABORT, 'evidence is never changed or deleted: document_void'); END;
CREATE TRIGGER visit_void_no_replace BEFORE INSERT ON visit_void WHEN EXISTS (SELECT 1 FROM visit_void WHERE id = NEW.id OR visit_id = NEW.visit_id) BEGIN SELECT RAISE(ABORT, 'evidence is never changed or deleted: visit_void'); END;
CREATE TRIGGER attempt_void_no_replace BEFORE INSERT ON attempt_void WHEN EXISTS (SELECT 1 FROM attempt_void WHERE id = NEW.id OR attempt_id = NEW.attempt_id) BEGIN SELECT RAISE(ABORT, 'evidence is never changed or deleted: attempt_void'); END;
CREATE TRIGGER batch_undo_no_replace BEFORE INSERT ON batch_undo WHEN EXISTS (SELECT 1 FROM batch_undo WHERE id = NEW.id OR batch_id = NEW.batch_id) BEGIN SELECT RAISE(ABORT, 'evidence is never changed or deleted: batch_undo'); END;
CREATE TRIGGER document_content_no_replace BEFORE INSERT ON document_content WHEN EXISTS (SELECT 1 FROM document_content WHERE id = NEW.id OR sha256 = NEW.sha256) BEGIN SELECT RAISE(ABORT, 'evidence is never changed or deleted: document_content'); END;
CREATE TRIGGER document_void_no_replace BEFORE INSERT ON document_void WHEN EXISTS (SELECT 1 FROM document_void WHERE id = NEW.id OR document_id = NEW.document_id) BEGIN SELECT RAISE(ABORT, 'evidence is never changed or deleted: document_void'); END;
COMMIT;

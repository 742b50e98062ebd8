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
INSERT INTO "alembic_version" VALUES('0003');
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
INSERT INTO "checkpoint" VALUES(1,'2026-11-25 11:30:00.000000','B. Officer',29,'fcfd3eb802885be40152cfa0fd6f433001fb2e7e0fe6aa54c79794ddc69b85bc',29);
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
INSERT INTO "ledger_entry" VALUES(1,'2026-11-25 09:30:00.000000','A. Officer','made the register','register',1,'added','{"id":1,"identifier":"mx-1","made_at":"2026-11-25T09:30:00+00:00","name":"Marlpit Cross","rule_set":"uk-healthcare"}','2026-11-25T09:30:00+00:00','estate 0.3',NULL,'','','','950cb92a5b8092341985258d64593f07453da8905b60bf2bf347124d64e05a59');
INSERT INTO "ledger_entry" VALUES(2,'2026-11-25 09:30:00.000000','A. Officer','filled it','site',1,'added','{"name":"Marlpit Cross","name_key":"marlpitcross"}','2026-11-25T09:30:00+00:00','estate 0.3',NULL,'','','950cb92a5b8092341985258d64593f07453da8905b60bf2bf347124d64e05a59','91f888bf6202a3d15a52c29566b37eb5946b20bfd2e9f20e17f9a5fb8e5907da');
INSERT INTO "ledger_entry" VALUES(3,'2026-11-25 09:30:00.000000','A. Officer','filled it','building',1,'added','{"name":"Main block","name_key":"mainblock","site_id":1}','2026-11-25T09:30:00+00:00','estate 0.3',NULL,'','','91f888bf6202a3d15a52c29566b37eb5946b20bfd2e9f20e17f9a5fb8e5907da','064be4292847d9610e9f76ecb42b2f0027437a07576ac43352fed24156c14782');
INSERT INTO "ledger_entry" VALUES(4,'2026-11-25 09:30:00.000000','A. Officer','filled it','level',1,'added','{"building_id":1,"name":"G","name_key":"g"}','2026-11-25T09:30:00+00:00','estate 0.3',NULL,'','','064be4292847d9610e9f76ecb42b2f0027437a07576ac43352fed24156c14782','7084cd501a3b1fc1ac5a23ecd6cec60730f205576bebd4d5282740ef8e9de2fd');
INSERT INTO "ledger_entry" VALUES(5,'2026-11-25 09:30:00.000000','A. Officer','filled it','room',1,'added','{"level_id":1,"name":"Bay 1","name_key":"bay1","number":"01","number_key":"01"}','2026-11-25T09:30:00+00:00','estate 0.3',NULL,'','','7084cd501a3b1fc1ac5a23ecd6cec60730f205576bebd4d5282740ef8e9de2fd','f9a9677814f4eaf12c7765e0d011ca56e9630ef308b95ebad5145a6ec450aa19');
INSERT INTO "ledger_entry" VALUES(6,'2026-11-25 09:30:00.000000','A. Officer','filled it','position',1,'added','{"room_id":1,"words":"under the basin"}','2026-11-25T09:30:00+00:00','estate 0.3',NULL,'','','f9a9677814f4eaf12c7765e0d011ca56e9630ef308b95ebad5145a6ec450aa19','38c4103f65bbea32cf4053623e8419f6c4999e77a004aaa7ec47f224c743cb30');
INSERT INTO "ledger_entry" VALUES(7,'2026-11-25 09:30:00.000000','A. Officer','filled it','outlet',1,'added','{"little_used":false,"name":"Basin","pipe_m":0.6,"position_id":1,"reference":"MX-G-01-B1","reference_key":"mxg01b1","room_id":1,"use":"basin","user_group":"patients"}','2026-11-25T09:30:00+00:00','estate 0.3',NULL,'','','38c4103f65bbea32cf4053623e8419f6c4999e77a004aaa7ec47f224c743cb30','08fe347173463faa6f49e39d90a029d62e68c8a3ce4d6e0f77cfa848910fbee0');
INSERT INTO "ledger_entry" VALUES(8,'2026-11-25 09:30:00.000000','A. Officer','filled it','valve',1,'added','{"designations":"[]","make":"Invented","model":"Model A","serial":"S-MX-G-01-B1"}','2026-11-25T09:30:00+00:00','estate 0.3',NULL,'','','08fe347173463faa6f49e39d90a029d62e68c8a3ce4d6e0f77cfa848910fbee0','da6808899542a4305040126428f79eef87ce6d8e813a1a14182e6798d761966f');
INSERT INTO "ledger_entry" VALUES(9,'2026-11-25 09:30:00.000000','A. Officer','filled it','fitting',1,'added','{"fitted_on":"2024-01-02","position_id":1,"valve_id":1}','2026-11-25T09:30:00+00:00','estate 0.3',NULL,'','','da6808899542a4305040126428f79eef87ce6d8e813a1a14182e6798d761966f','69f17242d6e3d408e191cce650c49a1752bcf7f744ae0c84919b89657e6c35a8');
INSERT INTO "ledger_entry" VALUES(10,'2026-11-25 09:30:00.000000','A. Officer','filled it','batch',1,'added','{"accepted":1,"already_there":0,"answers":"[]","at":"2026-11-25T09:30:00+00:00","content":"sha256:2d711642b726b04401627ca9fbac32f5c8530fb1903cc4db02258717921a4881","date_order":"","digest":"ab","file":"f.csv","forms":"","kind":"visits","layout":"","rows_read":2,"who":"A. Officer"}','2026-11-25T09:30:00+00:00','estate 0.3',NULL,'','','69f17242d6e3d408e191cce650c49a1752bcf7f744ae0c84919b89657e6c35a8','08f5d1d873f2e09eb412c61d9f438f7083e01eea961e65ee081771ba295025cb');
INSERT INTO "ledger_entry" VALUES(11,'2026-11-25 09:30:00.000000','A. Officer','filled it','batch_question',NULL,'added many','{"columns":["batch_id","cell","code","found","id","reference","remedy","row_number","sheet"],"digest":"db69fad0c00ad842ef4d54fef7a9dfaabe9b5861cae98931df9dd02e0766896b","first_id":1,"last_id":1,"marks":"r2Xepg==","rows":1}','2026-11-25T09:30:00+00:00','estate 0.3',NULL,'','','08f5d1d873f2e09eb412c61d9f438f7083e01eea961e65ee081771ba295025cb','470caad757ee33c540969e2c12192aecbe86ca595ffb5864cb91088b5b1b1c69');
INSERT INTO "ledger_entry" VALUES(12,'2026-11-25 09:30:00.000000','A. Officer','filled it','valve',1,'amended','{"set_c":42.0}','2026-11-25T09:30:00+00:00','estate 0.3',1,'{"set_c":null}','','470caad757ee33c540969e2c12192aecbe86ca595ffb5864cb91088b5b1b1c69','262715ed72f29b7b0ae985a7e4b22cb01a070c1b090f964ce798ba3d737ab675');
INSERT INTO "ledger_entry" VALUES(13,'2026-11-25 09:30:00.000000','A. Officer','filled it','alias',1,'added','{"at":"2026-11-25T09:30:00+00:00","batch_id":1,"outlet_id":1,"who":"A. Officer","words":"the basin","words_key":"thebasin"}','2026-11-25T09:30:00+00:00','estate 0.3',1,'','','262715ed72f29b7b0ae985a7e4b22cb01a070c1b090f964ce798ba3d737ab675','f52ffa87569d7c38781d6087bdd049727d0a0ed9017ee4d0804c2d70c1e8d275');
INSERT INTO "ledger_entry" VALUES(14,'2026-11-25 09:30:00.000000','A. Officer','filled it','attempt',1,'added','{"attempted_on":"2026-11-24","batch_id":1,"outlet_id":1,"person":"","recorded_at":"2026-11-25T09:30:00+00:00","recorded_by":"A. Officer","why":"no access"}','2026-11-25T09:30:00+00:00','estate 0.3',1,'','','f52ffa87569d7c38781d6087bdd049727d0a0ed9017ee4d0804c2d70c1e8d275','ce9550f53b44e1078ec7d764f8906c7404d47b795ff934537ec1917ab9ab1e42');
INSERT INTO "ledger_entry" VALUES(15,'2026-11-25 09:30:00.000000','A. Officer','filled it','attempt_void',1,'added','{"at":"2026-11-25T09:30:00+00:00","attempt_id":1,"reason":"wrong outlet","who":"A. Officer"}','2026-11-25T09:30:00+00:00','estate 0.3',1,'','','ce9550f53b44e1078ec7d764f8906c7404d47b795ff934537ec1917ab9ab1e42','72138fa0999865d94d7fe2737bdf3328e81d74cf4b33183c5f28ab8e7776a2b9');
INSERT INTO "ledger_entry" VALUES(16,'2026-11-25 09:30:00.000000','A. Officer','filled it','batch_undo',1,'added','{"at":"2026-11-25T09:30:00+00:00","batch_id":1,"who":"A. Officer","why":"wrong file"}','2026-11-25T09:30:00+00:00','estate 0.3',1,'','','72138fa0999865d94d7fe2737bdf3328e81d74cf4b33183c5f28ab8e7776a2b9','13d649ec33e4a8ca0390c6c4d096e1a6dfb164c628d65bb1499ff71fc166a292');
INSERT INTO "ledger_entry" VALUES(17,'2026-11-25 09:30:00.000000','A. Officer','filled it','visit',1,'added','{"batch_id":1,"found_c":41.2,"instrument_words":"","kind":"in-service test","outlet_id":1,"person":"","recorded_at":"2026-11-25T09:30:00+00:00","recorded_by":"A. Officer","remarks":"","valve_id":1,"visited_on":"2026-11-24"}','2026-11-25T09:30:00+00:00','estate 0.3',1,'','','13d649ec33e4a8ca0390c6c4d096e1a6dfb164c628d65bb1499ff71fc166a292','212d0899ba3053cad410335385a8e7b121c85ec78ca9ec6fca8b38fee4a358e9');
INSERT INTO "ledger_entry" VALUES(18,'2026-11-25 09:30:00.000000','A. Officer','filled it','judgement',NULL,'added many','{"columns":["id","judged_at","met_codes","met_count","rule_set","rule_set_edition","untested_codes","verdict","visit_id"],"digest":"5a6a256544e39656a5eb41042b8817df7447adea399d480e8e74d1c789fffda0","first_id":1,"last_id":1,"marks":"2aHN4A==","rows":1}','2026-11-25T09:30:00+00:00','estate 0.3',1,'','','212d0899ba3053cad410335385a8e7b121c85ec78ca9ec6fca8b38fee4a358e9','8f6dceadcf809f658075740d051bfa7e0c2c8ca2519c5eaf3a2fa9a5065ea4b1');
INSERT INTO "ledger_entry" VALUES(19,'2026-11-25 09:30:00.000000','A. Officer','filled it','finding',NULL,'added many','{"columns":["action","code","id","judgement_id","limit_value","measured","outcome","required","retest_from_weeks","retest_to_weeks","severity","source","unit","words"],"digest":"ff7416b5d74bf9f5aedc5adcb06e0bf66dcd6022ec83167614d46a3f8c623cf2","first_id":1,"last_id":1,"marks":"mmI6aQ==","rows":1}','2026-11-25T09:30:00+00:00','estate 0.3',1,'','','8f6dceadcf809f658075740d051bfa7e0c2c8ca2519c5eaf3a2fa9a5065ea4b1','a81e978bd2a30f826be84609088103d299737283e9c4804debfe1a25a301ae98');
INSERT INTO "ledger_entry" VALUES(20,'2026-11-25 09:30:00.000000','A. Officer','filled it','visit_void',1,'added','{"at":"2026-11-25T09:30:00+00:00","reason":"wrong outlet","visit_id":1,"who":"A. Officer"}','2026-11-25T09:30:00+00:00','estate 0.3',1,'','','a81e978bd2a30f826be84609088103d299737283e9c4804debfe1a25a301ae98','14ccbda2de4909792cae4a74841a1ead45b8b9a49579e45bb1d4fbba1773dbc9');
INSERT INTO "ledger_entry" VALUES(21,'2026-11-25 09:30:00.000000','A. Officer','filled it','rule_override',1,'added','{"at":"2026-11-25T09:30:00+00:00","key":"k","number_value":1.0,"place":"estate","rule_set":"r","who":"A. Officer","why":"why"}','2026-11-25T09:30:00+00:00','estate 0.3',1,'','','14ccbda2de4909792cae4a74841a1ead45b8b9a49579e45bb1d4fbba1773dbc9','72af8cef32eb12f5a2a38a659dc00bdaf94d8f0cf6107ca5436c18edaf672f44');
INSERT INTO "ledger_entry" VALUES(22,'2026-11-25 09:30:00.000000','A. Officer','filled it','group_fit',NULL,'added many','{"columns":["a","b_years","fitted_at","fitted_on","id","mu","name","omega","readings","s","sigma","valves","version"],"digest":"fdbeca4ef59daf64d39fa85c247244c43b612f52dcce403fce4b29b64322a364","first_id":1,"last_id":1,"marks":"En6/7g==","rows":1}','2026-11-25T09:30:00+00:00','estate 0.3',1,'','','72af8cef32eb12f5a2a38a659dc00bdaf94d8f0cf6107ca5436c18edaf672f44','e6d8ac8e8e3fcd892d6bd6d63eba356924dbaada7bdbd3bb23137a5037a57bb7');
INSERT INTO "ledger_entry" VALUES(23,'2026-11-25 09:30:00.000000','A. Officer','filled it','batch_row',NULL,'added many','{"columns":["action","after","batch_id","before","id","noun","row_id"],"digest":"4419d14bdd6458a6eb552d0d001db7dfe722f0da0f4e44b3b1f3654022fd57b7","first_id":1,"last_id":1,"marks":"bDCUyA==","rows":1}','2026-11-25T09:30:00+00:00','estate 0.3',1,'','','e6d8ac8e8e3fcd892d6bd6d63eba356924dbaada7bdbd3bb23137a5037a57bb7','9242ab9f37ce397ed56ddf8e96c5ca5e78e522da38cca9b7e81903c80ffbc432');
INSERT INTO "ledger_entry" VALUES(24,'2026-11-25 10:30:00.000000','B. Officer','added a second basin','room',2,'added','{"level_id":1,"name":"Bay 2","name_key":"bay2","number":"01","number_key":"01"}','2026-11-25T10:30:00+00:00','estate 0.3',NULL,'','it was missing','9242ab9f37ce397ed56ddf8e96c5ca5e78e522da38cca9b7e81903c80ffbc432','3e49b8f2740fd05f6da228b01a4cf0fd87313733d2f45dc9d8e6f5496d16b586');
INSERT INTO "ledger_entry" VALUES(25,'2026-11-25 10:30:00.000000','B. Officer','added a second basin','position',2,'added','{"room_id":2,"words":"under the basin"}','2026-11-25T10:30:00+00:00','estate 0.3',NULL,'','it was missing','3e49b8f2740fd05f6da228b01a4cf0fd87313733d2f45dc9d8e6f5496d16b586','c13fbba02f90f0c043656200afe6e27f051ab341327b8dcdce8ee236f1c85d88');
INSERT INTO "ledger_entry" VALUES(26,'2026-11-25 10:30:00.000000','B. Officer','added a second basin','outlet',2,'added','{"little_used":false,"name":"Basin","pipe_m":0.6,"position_id":2,"reference":"MX-G-01-B2","reference_key":"mxg01b2","room_id":2,"use":"basin","user_group":"patients"}','2026-11-25T10:30:00+00:00','estate 0.3',NULL,'','it was missing','c13fbba02f90f0c043656200afe6e27f051ab341327b8dcdce8ee236f1c85d88','68018597a20dd2a92906eb7cb5ddb2ebede8a777e507ad4e80bfda0157bf6c5f');
INSERT INTO "ledger_entry" VALUES(27,'2026-11-25 10:30:00.000000','B. Officer','added a second basin','valve',2,'added','{"designations":"[]","make":"Invented","model":"Model A","serial":"S-MX-G-01-B2"}','2026-11-25T10:30:00+00:00','estate 0.3',NULL,'','it was missing','68018597a20dd2a92906eb7cb5ddb2ebede8a777e507ad4e80bfda0157bf6c5f','49654a3824677f87acbd61be486efbb38b66676859b1c26525970df56513cd2a');
INSERT INTO "ledger_entry" VALUES(28,'2026-11-25 10:30:00.000000','B. Officer','added a second basin','fitting',2,'added','{"fitted_on":"2024-01-02","position_id":2,"valve_id":2}','2026-11-25T10:30:00+00:00','estate 0.3',NULL,'','it was missing','49654a3824677f87acbd61be486efbb38b66676859b1c26525970df56513cd2a','8fb64ee075bbe13a862c14fadc95b7b46eded8ba793f0a8363d497c621264190');
INSERT INTO "ledger_entry" VALUES(29,'2026-11-25 10:30:00.000000','B. Officer','added a second basin','visit',2,'added','{"adjusted":true,"cap_refitted":false,"check_valves_good":true,"cold_c":14.9,"cold_flow_bar":2.6,"cold_isolated_max_c":42.1,"cold_isolated_residual_c":40.9,"cold_isolated_residual_ml_min":35.0,"cold_isolated_said_to_shut":true,"cold_isolated_shut_s":2.5,"cold_isolated_stabilised_c":41.2,"cold_static_bar":3.3,"flow_l_min":6.2,"found_c":41.3,"hot_c":60.5,"hot_flow_bar":2.4,"hot_isolated_max_c":41.9,"hot_isolated_residual_c":19.0,"hot_isolated_residual_ml_min":12.5,"hot_isolated_said_to_shut":false,"hot_isolated_shut_s":3.6,"hot_isolated_stabilised_c":20.1,"hot_static_bar":3.1,"instrument_words":"","isolating_valves_open":true,"kind":"in-service test","left_c":41.0,"outlet_id":2,"person":"","recorded_at":"2026-11-25T10:30:00+00:00","recorded_by":"B. Officer","remarks":"","small_draw_c":41.5,"small_draw_l_min":2.0,"source_cells":"[[\"Date\", \"Ref\", \"Ref\"], [\"24/11/2026\", \"MX-1\", \"again\"]]","source_file":"round.csv","source_row":7,"source_sheet":"round","strainers_cleaned":false,"valve_id":2,"visited_on":"2026-11-24"}','2026-11-25T10:30:00+00:00','estate 0.3',NULL,'','it was missing','8fb64ee075bbe13a862c14fadc95b7b46eded8ba793f0a8363d497c621264190','fcfd3eb802885be40152cfa0fd6f433001fb2e7e0fe6aa54c79794ddc69b85bc');
INSERT INTO "ledger_entry" VALUES(30,'2026-11-25 11:30:00.000000','B. Officer','took a checkpoint','checkpoint',1,'added','{"at":"2026-11-25T11:30:00+00:00","digest":"fcfd3eb802885be40152cfa0fd6f433001fb2e7e0fe6aa54c79794ddc69b85bc","entries":29,"last_entry_id":29,"who":"B. Officer"}','2026-11-25T11:30:00+00:00','estate 0.3',NULL,'','','fcfd3eb802885be40152cfa0fd6f433001fb2e7e0fe6aa54c79794ddc69b85bc','28692fc0505a7ac297d6df352b9e2e2efb81c47a0aea80ad12b6dbc34738bc9f');
INSERT INTO "ledger_entry" VALUES(31,'2026-11-25 12:30:00.000000','B. Officer','set the valve','valve',2,'amended','{"set_c":41.0}','2026-11-25T12:30:00+00:00','estate 0.3',NULL,'{"set_c":null}','','28692fc0505a7ac297d6df352b9e2e2efb81c47a0aea80ad12b6dbc34738bc9f','f5ff64bb175b833a58f9a7bd1516caf4fa3a7a154de53340210ce217d636fff0');
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
INSERT INTO "outlet" VALUES(2,2,2,'MX-G-01-B2','mxg01b2','Basin','basin','patients',0,0.6,NULL,NULL,1);
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
INSERT INTO "valve" VALUES(2,'Invented','Model A','S-MX-G-01-B2',NULL,NULL,'[]',NULL,41.0,NULL,NULL,NULL,NULL,NULL,2);
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
INSERT INTO "visit" VALUES(2,2,2,'in-service test','2026-11-24','',NULL,'','',60.5,14.9,41.3,41.0,6.2,41.5,2.0,3.1,3.3,2.4,2.6,42.1,41.2,35.0,40.9,2.5,1,41.9,20.1,12.5,19.0,3.6,0,1,0,1,1,0,'round.csv','round',7,'[["Date", "Ref", "Ref"], ["24/11/2026", "MX-1", "again"]]','2026-11-25 10:30:00.000000','B. Officer',NULL,NULL);
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
COMMIT;

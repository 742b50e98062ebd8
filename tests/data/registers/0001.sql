BEGIN TRANSACTION;
CREATE TABLE alembic_version (
	version_num VARCHAR(32) NOT NULL, 
	CONSTRAINT alembic_version_pkc PRIMARY KEY (version_num)
);
INSERT INTO "alembic_version" VALUES('0001');
CREATE TABLE batch (
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
	CONSTRAINT pk_batch PRIMARY KEY (id), 
	CONSTRAINT uq_batch_kind_digest UNIQUE (kind, digest)
);
INSERT INTO "batch" VALUES(1,'assets','assets.csv','1a56fb8caeb688a8df94a5b421412e3e60e13b81be1dc8aed6b1a8df0dbbc0e9',X'4173736574207265662C536974652C4275696C64696E672C4C6576656C2C526F6F6D206E6F2C526F6F6D2C4F75746C65742C5573652C557365642062792C4D616B652C4D6F64656C2C53657269616C206E6F2C436C6173732C53697A65206D6D2C53657420C2B0432C4669747465642C5069706520746F206F75746C657420286D290A4D4D2F472F4730312F574842312C4D61726C7069742043726F73732C4D61696E20426C6F636B2C472C4730312C426564726F6F6D2C576173682D68616E6420626173696E20312C576173682D68616E6420626173696E2C50617469656E74732C4D616B6520412C4131352C4131352D312C544D56332C31352C34312C323032362D30312D30352C312E320A4D4D2F472F4730322F534852312C4D61726C7069742043726F73732C4D61696E20426C6F636B2C472C4730322C53686F77657220726F6F6D2C53686F77657220312C53686F7765722C50617469656E74732C4D616B6520412C4131352C4131352D322C544D56332C31352C34312C323032362D30312D30352C312E300A4D4D2F472F4730322F534852322C4D61726C7069742043726F73732C4D61696E20426C6F636B2C472C4730322C53686F77657220726F6F6D2C53686F77657220322C53686F7765722C50617469656E74732C4D616B6520412C4131352C4131352D322C544D56332C31352C34312C323032362D30312D30352C312E350A4D4D2F312F3130312F425448312C4D61726C7069742043726F73732C4D61696E20426C6F636B2C312C3130312C42617468726F6F6D2C4261746820312C426174682C50617469656E74732C4D616B6520422C422D31352C422D332C544D56332C31352C34342C323032362D30312D30352C302E380A57452F472F4730312F574842312C576974687920456E642C576974687920456E6420486F7573652C472C4730312C5574696C6974792C576173682D68616E6420626173696E20312C576173682D68616E6420626173696E2C53746166662C4D616B6520432C43332C43332D342C544D56322C31352C34312C323032362D30312D30352C312E390A',5,5,0,'A. Officer','2026-11-25 10:30:00.000000');
INSERT INTO "batch" VALUES(2,'visits','visits.csv','af7ba01f9644e235f6fc7c4399781b392c8f6e68264eb7f818b5898f76c2bb4b',X'4173736574207265662C446174652C56697369742C486F7420C2B0432C436F6C6420C2B0432C4D6978656420617320666F756E6420C2B0432C4D69786564206173206C65667420C2B0432C526573696475616C20666C6F77206D6C2F6D696E0A4D4D2F472F4730312F574842312C323032362D30312D30352C436F6D6D697373696F6E696E672C36302E312C31332E322C2C34312E302C300A4D4D2F472F4730312F574842312C323032362D30322D32332C496E2D736572766963652C36302E342C31332E302C34312E322C34312E322C300A4D4D2F472F4730322F534852312C323032362D30312D30352C436F6D6D697373696F6E696E672C36302E302C31332E312C2C34312E312C300A4D4D2F312F3130312F425448312C323032362D30312D30352C436F6D6D697373696F6E696E672C35392E382C31322E392C2C34342E302C300A4D4D2F312F3130312F425448312C323032362D30322D32342C496E2D736572766963652C35392E392C31322E372C34362E392C34362E392C3430300A',5,5,0,'A. Officer','2026-11-25 10:30:00.000000');
INSERT INTO "batch" VALUES(3,'visits','round.csv','b1155e0e0470c3ea1f32d11a55d602fee2a19abb8a7a8327bc494456fb9262b5',X'4173736574207265662C446174652C56697369742C486F7420C2B0432C436F6C6420C2B0432C4D6978656420617320666F756E6420C2B0432C4D69786564206173206C65667420C2B0432C526573696475616C20666C6F77206D6C2F6D696E0A4D4D2F472F4730312F574842312C323032362D30352D30312C496E2D736572766963652C36302C31332C34312C34312C300A4D4D2F582C323032362D30352D30312C496E2D736572766963652C36302C31332C34312C34312C300A',2,1,0,'A. Officer','2026-11-25 10:30:00.000000');
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
INSERT INTO "batch_question" VALUES(1,3,'round',3,'A3','unknown-outlet',NULL,'MM/X','Correct the reference, or add the outlet to the register first.');
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
INSERT INTO "building" VALUES(1,1,'Main Block','mainblock',NULL);
INSERT INTO "building" VALUES(2,2,'Withy End House','withyendhouse',NULL);
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
INSERT INTO "calibration" VALUES(1,1,'2026-03-02','2027-03-01','CAL-1');
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
INSERT INTO "finding" VALUES(1,5,'found-above-ceiling','not met','As found 46.9 °C, ceiling 46.0 °C. At 46.9 °C an adult''s skin can burn through its full thickness in about 48 min. Children and older people burn sooner, and this is not a permitted exposure. Source: Moritz and Henriques, Studies of thermal injury II, Am J Pathol 1947;23:695-720, full-thickness burn of adult skin, as given in a secondary table (not verified in the source).',4,0,46.9,46.0,'°C','D08-33: TMV3 scheme, commissioning and in-service test procedure, issue not stated, seen second-hand in manuals of several makers, maximum stabilised temperature on site tests, bath, 44 °C fill (not verified in the source)','Take the outlet out of use, put a sign on it and tell the person in charge of the area. Hot water can scald: isolate the supplies before work on the valve. Put right by a competent person, then test again before use.',0.0,0.0);
INSERT INTO "finding" VALUES(2,5,'left-above-ceiling','not met','As left 46.9 °C, ceiling 46.0 °C. At 46.9 °C an adult''s skin can burn through its full thickness in about 48 min. Children and older people burn sooner, and this is not a permitted exposure. Source: Moritz and Henriques, Studies of thermal injury II, Am J Pathol 1947;23:695-720, full-thickness burn of adult skin, as given in a secondary table (not verified in the source).',4,0,46.9,46.0,'°C','D08-33: TMV3 scheme, commissioning and in-service test procedure, issue not stated, seen second-hand in manuals of several makers, maximum stabilised temperature on site tests, bath, 44 °C fill (not verified in the source)','Take the outlet out of use, put a sign on it and tell the person in charge of the area. Hot water can scald: isolate the supplies before work on the valve. Put right by a competent person, then test again before use.',0.0,0.0);
INSERT INTO "finding" VALUES(3,5,'left-off-set','not met','As left 46.9 °C, set temperature 44.0 °C',1,0,46.9,44.0,'°C','D08-33: TMV3 scheme, template for installation and maintenance instructions, undated, older than the 2017 D 08 Supplement, Table 2, bath, 44 °C fill; ± 2 K accepted, TP-01: common practice, no source (not verified in the source)','Set the valve again.',NULL,NULL);
INSERT INTO "finding" VALUES(4,5,'bath-above-immersion-limit','not met','Bath left at 46.9 °C; limit for people at risk who may be immersed 44.0 °C',2,0,46.9,44.0,'°C','HSE-12: HSE, web page Scalding and burning, and HSIS6, undated web page, whole-body immersion of vulnerable people','Fill above this only where a competent person always supervises the bather (D08-37).',NULL,NULL);
INSERT INTO "finding" VALUES(5,5,'changed-since-previous','not met','Changed by +2.9 K since the previous visit (44.0 °C on 5 Jan 2026)',3,0,2.9,2.0,'K','D08-74: TMV3 scheme, commissioning and in-service test procedure, issue not stated, seen second-hand in manuals of several makers, in-service test, service needed (not verified in the source)','Before re-adjusting check in this order: strainers clean, check valves in good order, isolating valves fully open (D08-72). Service the valve and look at its supplies; re-commission it afterwards (D08-64). Isolate hot and cold first.',0.0,4.0);
INSERT INTO "finding" VALUES(6,5,'cold-isolated-flow','not met','With the cold isolated 400 ml/min still flowed; 120 ml/min are accepted',4,0,400.0,120.0,'ml/min','TP-02: common practice, no source (not verified in the source)','Take the outlet out of use, put a sign on it and tell the person in charge of the area. Hot water can scald: isolate the supplies before work on the valve. Put right by a competent person, then test again before use.',0.0,0.0);
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
INSERT INTO "fitting" VALUES(1,1,1,'2026-01-05',NULL);
INSERT INTO "fitting" VALUES(2,2,2,'2026-01-05','2026-06-01');
INSERT INTO "fitting" VALUES(3,3,3,'2026-01-05',NULL);
INSERT INTO "fitting" VALUES(4,4,4,'2026-01-05',NULL);
INSERT INTO "fitting" VALUES(5,5,2,'2026-06-01',NULL);
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
INSERT INTO "group_fit" VALUES(1,'the whole estate','2026-11-25','2026-11-25 10:30:00.000000',0.0161462,0.0291095,0.0954752,0.231297,2.00964,13.7113,1,1,'drift 1, shut-off 1');
INSERT INTO "group_fit" VALUES(2,'the whole estate','2026-11-25','2026-11-25 10:30:00.000000',0.0119444,0.0280402,0.0927009,0.22553,2.00865,13.9426,1,2,'drift 1, shut-off 1');
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
INSERT INTO "instrument" VALUES(1,'T-101','t101','immersion probe','',0.25);
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
INSERT INTO "judgement" VALUES(1,1,'uk-healthcare','2026-11','satisfactory',11,'left-above-ceiling left-off-set cold-isolated-flow hot-too-cool hot-outside-class cold-too-warm cold-outside-class supplies-reversed pipe-too-long class-too-low strainers-overdue','small-draw-above-ceiling cold-isolated-stabilised cold-isolated-highest cold-isolated-rise cold-isolated-time hot-isolated-flow hot-isolated-time differential-too-small hot-static-pressure hot-flow-pressure cold-static-pressure cold-flow-pressure pressure-ratio designation-unfit check-valves isolating-valves cap instrument-out-of-calibration','2026-11-25 10:30:00.000000');
INSERT INTO "judgement" VALUES(2,2,'uk-healthcare','2026-11','satisfactory',13,'found-above-ceiling left-above-ceiling left-off-set changed-since-previous cold-isolated-flow hot-too-cool hot-outside-class cold-too-warm cold-outside-class supplies-reversed pipe-too-long class-too-low strainers-overdue','small-draw-above-ceiling cold-isolated-stabilised cold-isolated-highest cold-isolated-rise cold-isolated-time hot-isolated-flow hot-isolated-time differential-too-small hot-static-pressure hot-flow-pressure cold-static-pressure cold-flow-pressure pressure-ratio designation-unfit check-valves isolating-valves cap instrument-out-of-calibration','2026-11-25 10:30:00.000000');
INSERT INTO "judgement" VALUES(3,3,'uk-healthcare','2026-11','satisfactory',11,'left-above-ceiling left-off-set cold-isolated-flow hot-too-cool hot-outside-class cold-too-warm cold-outside-class supplies-reversed pipe-too-long class-too-low strainers-overdue','small-draw-above-ceiling cold-isolated-stabilised cold-isolated-highest cold-isolated-rise cold-isolated-time hot-isolated-flow hot-isolated-time differential-too-small hot-static-pressure hot-flow-pressure cold-static-pressure cold-flow-pressure pressure-ratio designation-unfit check-valves isolating-valves cap instrument-out-of-calibration','2026-11-25 10:30:00.000000');
INSERT INTO "judgement" VALUES(4,4,'uk-healthcare','2026-11','satisfactory',12,'left-above-ceiling left-off-set bath-above-immersion-limit cold-isolated-flow hot-too-cool hot-outside-class cold-too-warm cold-outside-class supplies-reversed pipe-too-long class-too-low strainers-overdue','small-draw-above-ceiling cold-isolated-stabilised cold-isolated-highest cold-isolated-rise cold-isolated-time hot-isolated-flow hot-isolated-time differential-too-small hot-static-pressure hot-flow-pressure cold-static-pressure cold-flow-pressure pressure-ratio designation-unfit check-valves isolating-valves cap instrument-out-of-calibration','2026-11-25 10:30:00.000000');
INSERT INTO "judgement" VALUES(5,5,'uk-healthcare','2026-11','take out of use',8,'hot-too-cool hot-outside-class cold-too-warm cold-outside-class supplies-reversed pipe-too-long class-too-low strainers-overdue','small-draw-above-ceiling cold-isolated-stabilised cold-isolated-highest cold-isolated-rise cold-isolated-time hot-isolated-flow hot-isolated-time differential-too-small hot-static-pressure hot-flow-pressure cold-static-pressure cold-flow-pressure pressure-ratio designation-unfit check-valves isolating-valves cap instrument-out-of-calibration','2026-11-25 10:30:00.000000');
INSERT INTO "judgement" VALUES(6,6,'uk-healthcare','2026-11','satisfactory',14,'found-above-ceiling left-above-ceiling left-off-set changed-since-previous changed-since-reference cold-isolated-flow hot-too-cool hot-outside-class cold-too-warm cold-outside-class supplies-reversed pipe-too-long class-too-low strainers-overdue','small-draw-above-ceiling cold-isolated-stabilised cold-isolated-highest cold-isolated-rise cold-isolated-time hot-isolated-flow hot-isolated-time differential-too-small hot-static-pressure hot-flow-pressure cold-static-pressure cold-flow-pressure pressure-ratio designation-unfit check-valves isolating-valves cap instrument-out-of-calibration','2026-11-25 10:30:00.000000');
INSERT INTO "judgement" VALUES(7,7,'uk-healthcare','2026-11','satisfactory',14,'found-above-ceiling left-above-ceiling left-off-set changed-since-previous changed-since-reference cold-isolated-flow hot-too-cool hot-outside-class cold-too-warm cold-outside-class supplies-reversed pipe-too-long class-too-low strainers-overdue','small-draw-above-ceiling cold-isolated-stabilised cold-isolated-highest cold-isolated-rise cold-isolated-time hot-isolated-flow hot-isolated-time differential-too-small hot-static-pressure hot-flow-pressure cold-static-pressure cold-flow-pressure pressure-ratio designation-unfit check-valves isolating-valves cap instrument-out-of-calibration','2026-11-25 10:30:00.000000');
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
INSERT INTO "ledger_entry" VALUES(1,'2026-11-25 10:30:00.000000','A. Officer','made the register','register',1,'added','{"id":1,"identifier":"we-0001","made_at":"2026-11-25T10:30:00+00:00","name":"Withy End Care Home","rule_set":"uk-healthcare"}');
INSERT INTO "ledger_entry" VALUES(2,'2026-11-25 10:30:00.000000','A. Officer','added instrument T-101','instrument',1,'added','{"kind":"immersion probe","reference":"T-101","reference_key":"t101","specification":"","standard_uncertainty_k":0.25}');
INSERT INTO "ledger_entry" VALUES(3,'2026-11-25 10:30:00.000000','A. Officer','added instrument T-101','calibration',1,'added','{"calibrated_on":"2026-03-02","certificate":"CAL-1","due_on":"2027-03-01","instrument_id":1}');
INSERT INTO "ledger_entry" VALUES(4,'2026-11-25 10:30:00.000000','A. Officer','brought in assets.csv','batch',1,'added','{"accepted":5,"already_there":0,"at":"2026-11-25T10:30:00+00:00","digest":"1a56fb8caeb688a8df94a5b421412e3e60e13b81be1dc8aed6b1a8df0dbbc0e9","file":"assets.csv","kind":"assets","rows_read":5,"who":"A. Officer"}');
INSERT INTO "ledger_entry" VALUES(5,'2026-11-25 10:30:00.000000','A. Officer','brought in assets.csv','site',1,'added','{"name":"Marlpit Cross","name_key":"marlpitcross"}');
INSERT INTO "ledger_entry" VALUES(6,'2026-11-25 10:30:00.000000','A. Officer','brought in assets.csv','building',1,'added','{"name":"Main Block","name_key":"mainblock","site_id":1}');
INSERT INTO "ledger_entry" VALUES(7,'2026-11-25 10:30:00.000000','A. Officer','brought in assets.csv','level',1,'added','{"building_id":1,"name":"G","name_key":"g"}');
INSERT INTO "ledger_entry" VALUES(8,'2026-11-25 10:30:00.000000','A. Officer','brought in assets.csv','room',1,'added','{"level_id":1,"name":"Bedroom","name_key":"bedroom","number":"G01","number_key":"g01"}');
INSERT INTO "ledger_entry" VALUES(9,'2026-11-25 10:30:00.000000','A. Officer','brought in assets.csv','position',1,'added','{"room_id":1,"words":"Wash-hand basin 1"}');
INSERT INTO "ledger_entry" VALUES(10,'2026-11-25 10:30:00.000000','A. Officer','brought in assets.csv','valve',1,'added','{"designations":"[]","make":"Make A","model":"A15","scheme_class":"3","serial":"A15-1","set_c":41.0,"size_mm":15.0}');
INSERT INTO "ledger_entry" VALUES(11,'2026-11-25 10:30:00.000000','A. Officer','brought in assets.csv','fitting',1,'added','{"fitted_on":"2026-01-05","position_id":1,"valve_id":1}');
INSERT INTO "ledger_entry" VALUES(12,'2026-11-25 10:30:00.000000','A. Officer','brought in assets.csv','outlet',1,'added','{"little_used":false,"name":"Wash-hand basin 1","pipe_m":1.2,"position_id":1,"reference":"MM/G/G01/WHB1","reference_key":"mmgg01whb1","room_id":1,"use":"basin","user_group":"patients"}');
INSERT INTO "ledger_entry" VALUES(13,'2026-11-25 10:30:00.000000','A. Officer','brought in assets.csv','room',2,'added','{"level_id":1,"name":"Shower room","name_key":"showerroom","number":"G02","number_key":"g02"}');
INSERT INTO "ledger_entry" VALUES(14,'2026-11-25 10:30:00.000000','A. Officer','brought in assets.csv','position',2,'added','{"room_id":2,"words":"Shower 1"}');
INSERT INTO "ledger_entry" VALUES(15,'2026-11-25 10:30:00.000000','A. Officer','brought in assets.csv','valve',2,'added','{"designations":"[]","make":"Make A","model":"A15","scheme_class":"3","serial":"A15-2","set_c":41.0,"size_mm":15.0}');
INSERT INTO "ledger_entry" VALUES(16,'2026-11-25 10:30:00.000000','A. Officer','brought in assets.csv','fitting',2,'added','{"fitted_on":"2026-01-05","position_id":2,"valve_id":2}');
INSERT INTO "ledger_entry" VALUES(17,'2026-11-25 10:30:00.000000','A. Officer','brought in assets.csv','outlet',2,'added','{"little_used":false,"name":"Shower 1","pipe_m":1.0,"position_id":2,"reference":"MM/G/G02/SHR1","reference_key":"mmgg02shr1","room_id":2,"use":"shower","user_group":"patients"}');
INSERT INTO "ledger_entry" VALUES(18,'2026-11-25 10:30:00.000000','A. Officer','brought in assets.csv','outlet',3,'added','{"little_used":false,"name":"Shower 2","pipe_m":1.5,"position_id":2,"reference":"MM/G/G02/SHR2","reference_key":"mmgg02shr2","room_id":2,"use":"shower","user_group":"patients"}');
INSERT INTO "ledger_entry" VALUES(19,'2026-11-25 10:30:00.000000','A. Officer','brought in assets.csv','level',2,'added','{"building_id":1,"name":"1","name_key":"1"}');
INSERT INTO "ledger_entry" VALUES(20,'2026-11-25 10:30:00.000000','A. Officer','brought in assets.csv','room',3,'added','{"level_id":2,"name":"Bathroom","name_key":"bathroom","number":"101","number_key":"101"}');
INSERT INTO "ledger_entry" VALUES(21,'2026-11-25 10:30:00.000000','A. Officer','brought in assets.csv','position',3,'added','{"room_id":3,"words":"Bath 1"}');
INSERT INTO "ledger_entry" VALUES(22,'2026-11-25 10:30:00.000000','A. Officer','brought in assets.csv','valve',3,'added','{"designations":"[]","make":"Make B","model":"B-15","scheme_class":"3","serial":"B-3","set_c":44.0,"size_mm":15.0}');
INSERT INTO "ledger_entry" VALUES(23,'2026-11-25 10:30:00.000000','A. Officer','brought in assets.csv','fitting',3,'added','{"fitted_on":"2026-01-05","position_id":3,"valve_id":3}');
INSERT INTO "ledger_entry" VALUES(24,'2026-11-25 10:30:00.000000','A. Officer','brought in assets.csv','outlet',4,'added','{"little_used":false,"name":"Bath 1","pipe_m":0.8,"position_id":3,"reference":"MM/1/101/BTH1","reference_key":"mm1101bth1","room_id":3,"use":"bath","user_group":"patients"}');
INSERT INTO "ledger_entry" VALUES(25,'2026-11-25 10:30:00.000000','A. Officer','brought in assets.csv','site',2,'added','{"name":"Withy End","name_key":"withyend"}');
INSERT INTO "ledger_entry" VALUES(26,'2026-11-25 10:30:00.000000','A. Officer','brought in assets.csv','building',2,'added','{"name":"Withy End House","name_key":"withyendhouse","site_id":2}');
INSERT INTO "ledger_entry" VALUES(27,'2026-11-25 10:30:00.000000','A. Officer','brought in assets.csv','level',3,'added','{"building_id":2,"name":"G","name_key":"g"}');
INSERT INTO "ledger_entry" VALUES(28,'2026-11-25 10:30:00.000000','A. Officer','brought in assets.csv','room',4,'added','{"level_id":3,"name":"Utility","name_key":"utility","number":"G01","number_key":"g01"}');
INSERT INTO "ledger_entry" VALUES(29,'2026-11-25 10:30:00.000000','A. Officer','brought in assets.csv','position',4,'added','{"room_id":4,"words":"Wash-hand basin 1"}');
INSERT INTO "ledger_entry" VALUES(30,'2026-11-25 10:30:00.000000','A. Officer','brought in assets.csv','valve',4,'added','{"designations":"[]","make":"Make C","model":"C3","scheme_class":"2","serial":"C3-4","set_c":41.0,"size_mm":15.0}');
INSERT INTO "ledger_entry" VALUES(31,'2026-11-25 10:30:00.000000','A. Officer','brought in assets.csv','fitting',4,'added','{"fitted_on":"2026-01-05","position_id":4,"valve_id":4}');
INSERT INTO "ledger_entry" VALUES(32,'2026-11-25 10:30:00.000000','A. Officer','brought in assets.csv','outlet',5,'added','{"little_used":false,"name":"Wash-hand basin 1","pipe_m":1.9,"position_id":4,"reference":"WE/G/G01/WHB1","reference_key":"wegg01whb1","room_id":4,"use":"basin","user_group":"staff"}');
INSERT INTO "ledger_entry" VALUES(33,'2026-11-25 10:30:00.000000','A. Officer','brought in visits.csv','batch',2,'added','{"accepted":5,"already_there":0,"at":"2026-11-25T10:30:00+00:00","digest":"af7ba01f9644e235f6fc7c4399781b392c8f6e68264eb7f818b5898f76c2bb4b","file":"visits.csv","kind":"visits","rows_read":5,"who":"A. Officer"}');
INSERT INTO "ledger_entry" VALUES(34,'2026-11-25 10:30:00.000000','A. Officer','brought in visits.csv','visit',1,'added','{"batch_id":2,"cold_c":13.2,"cold_isolated_residual_ml_min":0.0,"hot_c":60.1,"instrument_words":"","kind":"commissioning","left_c":41.0,"outlet_id":1,"person":"","recorded_at":"2026-11-25T10:30:00+00:00","recorded_by":"A. Officer","remarks":"","source_cells":"[[\"Asset ref\", \"Date\", \"Visit\", \"Hot °C\", \"Cold °C\", \"Mixed as left °C\", \"Residual flow ml/min\"], [\"MM/G/G01/WHB1\", \"2026-01-05\", \"Commissioning\", \"60.1\", \"13.2\", \"41.0\", \"0\"]]","source_file":"visits.csv","source_row":2,"source_sheet":"visits","valve_id":1,"visited_on":"2026-01-05"}');
INSERT INTO "ledger_entry" VALUES(35,'2026-11-25 10:30:00.000000','A. Officer','brought in visits.csv','visit',2,'added','{"adjusted":false,"batch_id":2,"cold_c":13.0,"cold_isolated_residual_ml_min":0.0,"found_c":41.2,"hot_c":60.4,"instrument_words":"","kind":"in-service test","left_c":41.2,"outlet_id":1,"person":"","recorded_at":"2026-11-25T10:30:00+00:00","recorded_by":"A. Officer","remarks":"","source_cells":"[[\"Asset ref\", \"Date\", \"Visit\", \"Hot °C\", \"Cold °C\", \"Mixed as found °C\", \"Mixed as left °C\", \"Residual flow ml/min\"], [\"MM/G/G01/WHB1\", \"2026-02-23\", \"In-service\", \"60.4\", \"13.0\", \"41.2\", \"41.2\", \"0\"]]","source_file":"visits.csv","source_row":3,"source_sheet":"visits","valve_id":1,"visited_on":"2026-02-23"}');
INSERT INTO "ledger_entry" VALUES(36,'2026-11-25 10:30:00.000000','A. Officer','brought in visits.csv','visit',3,'added','{"batch_id":2,"cold_c":13.1,"cold_isolated_residual_ml_min":0.0,"hot_c":60.0,"instrument_words":"","kind":"commissioning","left_c":41.1,"outlet_id":2,"person":"","recorded_at":"2026-11-25T10:30:00+00:00","recorded_by":"A. Officer","remarks":"","source_cells":"[[\"Asset ref\", \"Date\", \"Visit\", \"Hot °C\", \"Cold °C\", \"Mixed as left °C\", \"Residual flow ml/min\"], [\"MM/G/G02/SHR1\", \"2026-01-05\", \"Commissioning\", \"60.0\", \"13.1\", \"41.1\", \"0\"]]","source_file":"visits.csv","source_row":4,"source_sheet":"visits","valve_id":2,"visited_on":"2026-01-05"}');
INSERT INTO "ledger_entry" VALUES(37,'2026-11-25 10:30:00.000000','A. Officer','brought in visits.csv','visit',4,'added','{"batch_id":2,"cold_c":12.9,"cold_isolated_residual_ml_min":0.0,"hot_c":59.8,"instrument_words":"","kind":"commissioning","left_c":44.0,"outlet_id":4,"person":"","recorded_at":"2026-11-25T10:30:00+00:00","recorded_by":"A. Officer","remarks":"","source_cells":"[[\"Asset ref\", \"Date\", \"Visit\", \"Hot °C\", \"Cold °C\", \"Mixed as left °C\", \"Residual flow ml/min\"], [\"MM/1/101/BTH1\", \"2026-01-05\", \"Commissioning\", \"59.8\", \"12.9\", \"44.0\", \"0\"]]","source_file":"visits.csv","source_row":5,"source_sheet":"visits","valve_id":3,"visited_on":"2026-01-05"}');
INSERT INTO "ledger_entry" VALUES(38,'2026-11-25 10:30:00.000000','A. Officer','brought in visits.csv','visit',5,'added','{"adjusted":false,"batch_id":2,"cold_c":12.7,"cold_isolated_residual_ml_min":400.0,"found_c":46.9,"hot_c":59.9,"instrument_words":"","kind":"in-service test","left_c":46.9,"outlet_id":4,"person":"","recorded_at":"2026-11-25T10:30:00+00:00","recorded_by":"A. Officer","remarks":"","source_cells":"[[\"Asset ref\", \"Date\", \"Visit\", \"Hot °C\", \"Cold °C\", \"Mixed as found °C\", \"Mixed as left °C\", \"Residual flow ml/min\"], [\"MM/1/101/BTH1\", \"2026-02-24\", \"In-service\", \"59.9\", \"12.7\", \"46.9\", \"46.9\", \"400\"]]","source_file":"visits.csv","source_row":6,"source_sheet":"visits","valve_id":3,"visited_on":"2026-02-24"}');
INSERT INTO "ledger_entry" VALUES(39,'2026-11-25 10:30:00.000000','A. Officer','brought in visits.csv','judgement',NULL,'added many','{"first_id":1,"last_id":5,"rows":5}');
INSERT INTO "ledger_entry" VALUES(40,'2026-11-25 10:30:00.000000','A. Officer','brought in visits.csv','finding',NULL,'added many','{"first_id":1,"last_id":6,"rows":6}');
INSERT INTO "ledger_entry" VALUES(41,'2026-11-25 10:30:00.000000','A. Officer','brought in visits.csv','group_fit',NULL,'added many','{"first_id":1,"last_id":1,"rows":1}');
INSERT INTO "ledger_entry" VALUES(42,'2026-11-25 10:30:00.000000','A. Officer','brought in round.csv','batch',3,'added','{"accepted":1,"already_there":0,"at":"2026-11-25T10:30:00+00:00","digest":"b1155e0e0470c3ea1f32d11a55d602fee2a19abb8a7a8327bc494456fb9262b5","file":"round.csv","kind":"visits","rows_read":2,"who":"A. Officer"}');
INSERT INTO "ledger_entry" VALUES(43,'2026-11-25 10:30:00.000000','A. Officer','brought in round.csv','batch_question',NULL,'added many','{"first_id":1,"last_id":1,"rows":1}');
INSERT INTO "ledger_entry" VALUES(44,'2026-11-25 10:30:00.000000','A. Officer','brought in round.csv','visit',6,'added','{"adjusted":false,"batch_id":3,"cold_c":13.0,"cold_isolated_residual_ml_min":0.0,"found_c":41.0,"hot_c":60.0,"instrument_words":"","kind":"in-service test","left_c":41.0,"outlet_id":1,"person":"","recorded_at":"2026-11-25T10:30:00+00:00","recorded_by":"A. Officer","remarks":"","source_cells":"[[\"Asset ref\", \"Date\", \"Visit\", \"Hot °C\", \"Cold °C\", \"Mixed as found °C\", \"Mixed as left °C\", \"Residual flow ml/min\"], [\"MM/G/G01/WHB1\", \"2026-05-01\", \"In-service\", \"60\", \"13\", \"41\", \"41\", \"0\"]]","source_file":"round.csv","source_row":2,"source_sheet":"round","valve_id":1,"visited_on":"2026-05-01"}');
INSERT INTO "ledger_entry" VALUES(45,'2026-11-25 10:30:00.000000','A. Officer','brought in round.csv','judgement',NULL,'added many','{"first_id":6,"last_id":6,"rows":1}');
INSERT INTO "ledger_entry" VALUES(46,'2026-11-25 10:30:00.000000','A. Officer','brought in round.csv','group_fit',NULL,'added many','{"first_id":2,"last_id":2,"rows":1}');
INSERT INTO "ledger_entry" VALUES(47,'2026-11-25 10:30:00.000000','A. Officer','corrected a visit','visit',7,'added','{"adjusted":false,"cold_c":13.0,"cold_isolated_residual_ml_min":0.0,"corrects":6,"found_c":41.2,"hot_c":60.0,"instrument_words":"","kind":"in-service test","left_c":41.0,"outlet_id":1,"person":"","recorded_at":"2026-11-25T10:30:00+00:00","recorded_by":"A. Officer","remarks":"","valve_id":1,"visited_on":"2026-05-01"}');
INSERT INTO "ledger_entry" VALUES(48,'2026-11-25 10:30:00.000000','A. Officer','corrected a visit','judgement',NULL,'added many','{"first_id":7,"last_id":7,"rows":1}');
INSERT INTO "ledger_entry" VALUES(49,'2026-11-25 10:30:00.000000','A. Officer','voided a visit','visit_void',1,'added','{"at":"2026-11-25T10:30:00+00:00","reason":"the probe was broken","visit_id":3,"who":"A. Officer"}');
INSERT INTO "ledger_entry" VALUES(50,'2026-11-25 10:30:00.000000','A. Officer','replaced a valve','fitting',2,'amended','{"removed_on":"2026-06-01"}');
INSERT INTO "ledger_entry" VALUES(51,'2026-11-25 10:30:00.000000','A. Officer','replaced a valve','valve',5,'added','{"designations":"[]","make":"Make C","model":"Model C","serial":"C-1"}');
INSERT INTO "ledger_entry" VALUES(52,'2026-11-25 10:30:00.000000','A. Officer','replaced a valve','fitting',5,'added','{"fitted_on":"2026-06-01","position_id":2,"valve_id":5}');
INSERT INTO "ledger_entry" VALUES(53,'2026-11-25 10:30:00.000000','A. Officer','set isolation.residual-flow at outlet:1','rule_override',1,'added','{"at":"2026-11-25T10:30:00+00:00","key":"isolation.residual-flow","number_value":60.0,"place":"outlet:1","rule_set":"uk-healthcare","who":"A. Officer","why":"risk assessment WE-04"}');
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
INSERT INTO "level" VALUES(2,1,'1','1');
INSERT INTO "level" VALUES(3,2,'G','g');
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
INSERT INTO "outlet" VALUES(1,1,1,'MM/G/G01/WHB1','mmgg01whb1','Wash-hand basin 1','basin','patients',0,1.2,NULL,NULL);
INSERT INTO "outlet" VALUES(2,2,2,'MM/G/G02/SHR1','mmgg02shr1','Shower 1','shower','patients',0,1.0,NULL,NULL);
INSERT INTO "outlet" VALUES(3,2,2,'MM/G/G02/SHR2','mmgg02shr2','Shower 2','shower','patients',0,1.5,NULL,NULL);
INSERT INTO "outlet" VALUES(4,3,3,'MM/1/101/BTH1','mm1101bth1','Bath 1','bath','patients',0,0.8,NULL,NULL);
INSERT INTO "outlet" VALUES(5,4,4,'WE/G/G01/WHB1','wegg01whb1','Wash-hand basin 1','basin','staff',0,1.9,NULL,NULL);
CREATE TABLE position (
	id INTEGER NOT NULL, 
	room_id INTEGER NOT NULL, 
	words TEXT NOT NULL, 
	CONSTRAINT pk_position PRIMARY KEY (id), 
	CONSTRAINT fk_position_room_id_room FOREIGN KEY(room_id) REFERENCES room (id)
);
INSERT INTO "position" VALUES(1,1,'Wash-hand basin 1');
INSERT INTO "position" VALUES(2,2,'Shower 1');
INSERT INTO "position" VALUES(3,3,'Bath 1');
INSERT INTO "position" VALUES(4,4,'Wash-hand basin 1');
CREATE TABLE register (
	id INTEGER NOT NULL, 
	name TEXT NOT NULL, 
	identifier TEXT NOT NULL, 
	made_at DATETIME NOT NULL, 
	rule_set TEXT NOT NULL, 
	CONSTRAINT pk_register PRIMARY KEY (id), 
	CONSTRAINT ck_register_single CHECK (id = 1)
);
INSERT INTO "register" VALUES(1,'Withy End Care Home','we-0001','2026-11-25 10:30:00.000000','uk-healthcare');
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
INSERT INTO "room" VALUES(1,1,'G01','g01','Bedroom','bedroom');
INSERT INTO "room" VALUES(2,1,'G02','g02','Shower room','showerroom');
INSERT INTO "room" VALUES(3,2,'101','101','Bathroom','bathroom');
INSERT INTO "room" VALUES(4,3,'G01','g01','Utility','utility');
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
INSERT INTO "rule_override" VALUES(1,'uk-healthcare','isolation.residual-flow','outlet:1',60.0,NULL,'A. Officer','2026-11-25 10:30:00.000000','risk assessment WE-04');
CREATE TABLE site (
	id INTEGER NOT NULL, 
	name TEXT NOT NULL, 
	name_key TEXT NOT NULL, 
	CONSTRAINT pk_site PRIMARY KEY (id), 
	CONSTRAINT uq_site_name_key UNIQUE (name_key)
);
INSERT INTO "site" VALUES(1,'Marlpit Cross','marlpitcross');
INSERT INTO "site" VALUES(2,'Withy End','withyend');
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
INSERT INTO "valve" VALUES(1,'Make A','A15','A15-1','3',NULL,'[]',15.0,41.0,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "valve" VALUES(2,'Make A','A15','A15-2','3',NULL,'[]',15.0,41.0,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "valve" VALUES(3,'Make B','B-15','B-3','3',NULL,'[]',15.0,44.0,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "valve" VALUES(4,'Make C','C3','C3-4','2',NULL,'[]',15.0,41.0,NULL,NULL,NULL,NULL,NULL);
INSERT INTO "valve" VALUES(5,'Make C','Model C','C-1',NULL,NULL,'[]',NULL,NULL,NULL,NULL,NULL,NULL,NULL);
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
INSERT INTO "visit" VALUES(1,1,1,'commissioning','2026-01-05','',NULL,'','',60.1,13.2,NULL,41.0,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,0.0,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'visits.csv','visits',2,'[["Asset ref", "Date", "Visit", "Hot °C", "Cold °C", "Mixed as left °C", "Residual flow ml/min"], ["MM/G/G01/WHB1", "2026-01-05", "Commissioning", "60.1", "13.2", "41.0", "0"]]','2026-11-25 10:30:00.000000','A. Officer',2,NULL);
INSERT INTO "visit" VALUES(2,1,1,'in-service test','2026-02-23','',NULL,'','',60.4,13.0,41.2,41.2,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,0.0,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,0,NULL,NULL,NULL,NULL,'visits.csv','visits',3,'[["Asset ref", "Date", "Visit", "Hot °C", "Cold °C", "Mixed as found °C", "Mixed as left °C", "Residual flow ml/min"], ["MM/G/G01/WHB1", "2026-02-23", "In-service", "60.4", "13.0", "41.2", "41.2", "0"]]','2026-11-25 10:30:00.000000','A. Officer',2,NULL);
INSERT INTO "visit" VALUES(3,2,2,'commissioning','2026-01-05','',NULL,'','',60.0,13.1,NULL,41.1,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,0.0,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'visits.csv','visits',4,'[["Asset ref", "Date", "Visit", "Hot °C", "Cold °C", "Mixed as left °C", "Residual flow ml/min"], ["MM/G/G02/SHR1", "2026-01-05", "Commissioning", "60.0", "13.1", "41.1", "0"]]','2026-11-25 10:30:00.000000','A. Officer',2,NULL);
INSERT INTO "visit" VALUES(4,3,4,'commissioning','2026-01-05','',NULL,'','',59.8,12.9,NULL,44.0,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,0.0,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'visits.csv','visits',5,'[["Asset ref", "Date", "Visit", "Hot °C", "Cold °C", "Mixed as left °C", "Residual flow ml/min"], ["MM/1/101/BTH1", "2026-01-05", "Commissioning", "59.8", "12.9", "44.0", "0"]]','2026-11-25 10:30:00.000000','A. Officer',2,NULL);
INSERT INTO "visit" VALUES(5,3,4,'in-service test','2026-02-24','',NULL,'','',59.9,12.7,46.9,46.9,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,400.0,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,0,NULL,NULL,NULL,NULL,'visits.csv','visits',6,'[["Asset ref", "Date", "Visit", "Hot °C", "Cold °C", "Mixed as found °C", "Mixed as left °C", "Residual flow ml/min"], ["MM/1/101/BTH1", "2026-02-24", "In-service", "59.9", "12.7", "46.9", "46.9", "400"]]','2026-11-25 10:30:00.000000','A. Officer',2,NULL);
INSERT INTO "visit" VALUES(6,1,1,'in-service test','2026-05-01','',NULL,'','',60.0,13.0,41.0,41.0,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,0.0,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,0,NULL,NULL,NULL,NULL,'round.csv','round',2,'[["Asset ref", "Date", "Visit", "Hot °C", "Cold °C", "Mixed as found °C", "Mixed as left °C", "Residual flow ml/min"], ["MM/G/G01/WHB1", "2026-05-01", "In-service", "60", "13", "41", "41", "0"]]','2026-11-25 10:30:00.000000','A. Officer',3,NULL);
INSERT INTO "visit" VALUES(7,1,1,'in-service test','2026-05-01','',NULL,'','',60.0,13.0,41.2,41.0,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,0.0,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,0,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,'2026-11-25 10:30:00.000000','A. Officer',NULL,6);
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
INSERT INTO "visit_void" VALUES(1,3,'the probe was broken','A. Officer','2026-11-25 10:30:00.000000');
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
CREATE TRIGGER batch_no_update BEFORE UPDATE ON batch BEGIN SELECT RAISE(ABORT, 'evidence is never changed or deleted: batch'); END;
CREATE TRIGGER batch_no_delete BEFORE DELETE ON batch BEGIN SELECT RAISE(ABORT, 'evidence is never changed or deleted: batch'); END;
CREATE TRIGGER batch_no_replace BEFORE INSERT ON batch WHEN EXISTS (SELECT 1 FROM batch WHERE id = NEW.id) BEGIN SELECT RAISE(ABORT, 'evidence is never changed or deleted: batch'); END;
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
COMMIT;

BEGIN TRANSACTION;
CREATE TABLE addon (
	revision INTEGER NOT NULL, 
	position INTEGER NOT NULL, 
	id VARCHAR NOT NULL, 
	name VARCHAR NOT NULL, 
	boost_kpa FLOAT NOT NULL, raises_seat_mm FLOAT, 
	CONSTRAINT pk_addon PRIMARY KEY (revision, id), 
	CONSTRAINT fk_addon_revision FOREIGN KEY(revision) REFERENCES revision (number)
);
INSERT INTO "addon" VALUES(1,0,'blower','Belt-driven blower',60.0,15.0);
CREATE TABLE addon_chassis (
	revision INTEGER NOT NULL, 
	position INTEGER NOT NULL, 
	addon VARCHAR NOT NULL, 
	chassis VARCHAR NOT NULL, 
	CONSTRAINT pk_addon_chassis PRIMARY KEY (revision, addon, position), 
	CONSTRAINT fk_addon_chassis_revision_addon FOREIGN KEY(revision, addon) REFERENCES addon (revision, id), 
	CONSTRAINT fk_addon_chassis_revision_chassis FOREIGN KEY(revision, chassis) REFERENCES chassis (revision, id)
);
INSERT INTO "addon_chassis" VALUES(1,0,'blower','brook');
CREATE TABLE addon_clearance (
	revision INTEGER NOT NULL, 
	position INTEGER NOT NULL, 
	addon VARCHAR NOT NULL, 
	spot VARCHAR NOT NULL, 
	axial_mm FLOAT, 
	across_mm FLOAT, 
	CONSTRAINT pk_addon_clearance PRIMARY KEY (revision, addon, position), 
	CONSTRAINT fk_addon_clearance_revision_addon FOREIGN KEY(revision, addon) REFERENCES addon (revision, id), 
	CONSTRAINT ck_addon_clearance_spot CHECK ("spot" IN ('left', 'centre', 'right', 'top', '1.left', '1.centre', '1.right', '1.top', '2.left', '2.centre', '2.right', '2.top'))
);
INSERT INTO "addon_clearance" VALUES(1,0,'blower','right',35.0,NULL);
CREATE TABLE addon_mounting (
	revision INTEGER NOT NULL, 
	position INTEGER NOT NULL, 
	addon VARCHAR NOT NULL, 
	role VARCHAR NOT NULL, 
	sku VARCHAR NOT NULL, 
	qty INTEGER NOT NULL, 
	CONSTRAINT pk_addon_mounting PRIMARY KEY (revision, addon, position), 
	CONSTRAINT fk_addon_mounting_revision_addon FOREIGN KEY(revision, addon) REFERENCES addon (revision, id), 
	CONSTRAINT fk_addon_mounting_revision_sku FOREIGN KEY(revision, sku) REFERENCES item (revision, sku), 
	CONSTRAINT ck_addon_mounting_qty CHECK (qty >= 1)
);
INSERT INTO "addon_mounting" VALUES(1,0,'blower','rail-screw','SCREW-6-LONG',2);
CREATE TABLE alembic_version (
	version_num VARCHAR(32) NOT NULL, 
	CONSTRAINT alembic_version_pkc PRIMARY KEY (version_num)
);
INSERT INTO "alembic_version" VALUES('0010');
CREATE TABLE batch_order (
	batch VARCHAR NOT NULL, 
	position INTEGER NOT NULL, 
	sheet_order VARCHAR NOT NULL, 
	verdict VARCHAR, 
	outcome VARCHAR, 
	CONSTRAINT pk_batch_order PRIMARY KEY (batch, position), 
	CONSTRAINT fk_batch_order_batch FOREIGN KEY(batch) REFERENCES order_batch (id) ON DELETE CASCADE
);
INSERT INTO "batch_order" VALUES('a-batch',0,'{"name":"one"}','complete','[]');
CREATE TABLE chassis (
	revision INTEGER NOT NULL, 
	position INTEGER NOT NULL, 
	id VARCHAR NOT NULL, 
	name VARCHAR NOT NULL, 
	engine VARCHAR NOT NULL, 
	cylinders INTEGER NOT NULL, 
	banks INTEGER NOT NULL, 
	pattern VARCHAR NOT NULL, 
	base_kpa FLOAT NOT NULL, 
	stock_kw FLOAT NOT NULL, 
	CONSTRAINT pk_chassis PRIMARY KEY (revision, id), 
	CONSTRAINT fk_chassis_revision FOREIGN KEY(revision) REFERENCES revision (number), 
	CONSTRAINT ck_chassis_cylinders CHECK (cylinders >= 1), 
	CONSTRAINT ck_chassis_banks CHECK (banks >= 1)
);
INSERT INTO "chassis" VALUES(1,0,'brook','Brook hatchback','1.6 l straight four',4,1,'straight-four',300.0,90.0);
INSERT INTO "chassis" VALUES(1,1,'heron','Heron coupe','3.0 l six, two banks',6,2,'broad-six',350.0,170.0);
CREATE TABLE chassis_clearance (
	revision INTEGER NOT NULL, 
	position INTEGER NOT NULL, 
	chassis VARCHAR NOT NULL, 
	spot VARCHAR NOT NULL, 
	axial_mm FLOAT, 
	across_mm FLOAT, 
	CONSTRAINT pk_chassis_clearance PRIMARY KEY (revision, chassis, position), 
	CONSTRAINT fk_chassis_clearance_revision_chassis FOREIGN KEY(revision, chassis) REFERENCES chassis (revision, id), 
	CONSTRAINT ck_chassis_clearance_spot CHECK ("spot" IN ('left', 'centre', 'right', 'top', '1.left', '1.centre', '1.right', '1.top', '2.left', '2.centre', '2.right', '2.top'))
);
INSERT INTO "chassis_clearance" VALUES(1,0,'brook','centre',120.0,60.0);
INSERT INTO "chassis_clearance" VALUES(1,0,'heron','2.top',30.0,NULL);
CREATE TABLE chassis_hookup (
	revision INTEGER NOT NULL, 
	position INTEGER NOT NULL, 
	chassis VARCHAR NOT NULL, 
	id VARCHAR NOT NULL, 
	standard VARCHAR NOT NULL, 
	"end" VARCHAR NOT NULL, 
	flow_bore_mm FLOAT, 
	flow_length_mm FLOAT, 
	flow_loss_k FLOAT, 
	flow_roughness_mm FLOAT, 
	has_spots BOOLEAN NOT NULL, 
	CONSTRAINT pk_chassis_hookup PRIMARY KEY (revision, chassis, id), 
	CONSTRAINT fk_chassis_hookup_revision_chassis FOREIGN KEY(revision, chassis) REFERENCES chassis (revision, id), 
	CONSTRAINT fk_chassis_hookup_revision_standard FOREIGN KEY(revision, standard) REFERENCES port_standard (revision, id), 
	CONSTRAINT ck_chassis_hookup_end CHECK ("end" IN ('male', 'female')), 
	CONSTRAINT ck_chassis_hookup_flow_whole CHECK ((flow_bore_mm IS NULL) = (flow_length_mm IS NULL) AND (flow_bore_mm IS NULL) = (flow_loss_k IS NULL) AND (flow_bore_mm IS NULL) = (flow_roughness_mm IS NULL))
);
INSERT INTO "chassis_hookup" VALUES(1,0,'brook','factory-line','quick-3/8','female',7.5,900.0,1.0,0.002,1);
INSERT INTO "chassis_hookup" VALUES(1,0,'heron','factory-line','quick-3/8','female',NULL,NULL,NULL,NULL,1);
CREATE TABLE chassis_hookup_reach (
	revision INTEGER NOT NULL, 
	position INTEGER NOT NULL, 
	chassis VARCHAR NOT NULL, 
	hookup VARCHAR NOT NULL, 
	spot VARCHAR NOT NULL, 
	min_mm FLOAT NOT NULL, 
	max_mm FLOAT NOT NULL, 
	CONSTRAINT pk_chassis_hookup_reach PRIMARY KEY (revision, chassis, hookup, spot), 
	CONSTRAINT fk_chassis_hookup_reach_revision_chassis_hookup FOREIGN KEY(revision, chassis, hookup) REFERENCES chassis_hookup (revision, chassis, id), 
	CONSTRAINT ck_chassis_hookup_reach_spot CHECK ("spot" IN ('left', 'centre', 'right', 'top', '1.left', '1.centre', '1.right', '1.top', '2.left', '2.centre', '2.right', '2.top'))
);
INSERT INTO "chassis_hookup_reach" VALUES(1,0,'brook','factory-line','left',20.0,40.0);
INSERT INTO "chassis_hookup_reach" VALUES(1,0,'heron','factory-line','1.left',20.0,40.0);
CREATE TABLE "chassis_injectors" (
	revision INTEGER NOT NULL, 
	position INTEGER NOT NULL, 
	chassis VARCHAR NOT NULL, 
	static_l_h FLOAT NOT NULL, 
	rated_kpa FLOAT NOT NULL, 
	max_duty FLOAT, 
	length_mm FLOAT NOT NULL, 
	length_tol_mm FLOAT NOT NULL, 
	upper_ring_mm FLOAT NOT NULL, 
	lower_ring_mm FLOAT NOT NULL, 
	bore_mm FLOAT NOT NULL, 
	material VARCHAR NOT NULL, 
	CONSTRAINT pk_chassis_injectors PRIMARY KEY (revision, chassis), 
	CONSTRAINT fk_chassis_injectors_revision_chassis FOREIGN KEY(revision, chassis) REFERENCES chassis (revision, id), 
	CONSTRAINT fk_chassis_injectors_revision_material FOREIGN KEY(revision, material) REFERENCES material (revision, id)
);
INSERT INTO "chassis_injectors" VALUES(1,0,'brook',20.0,300.0,0.85,60.0,0.1,3.5,4.0,13.5,'steel');
INSERT INTO "chassis_injectors" VALUES(1,0,'heron',20.0,300.0,0.85,60.0,0.1,3.5,4.0,13.5,'steel');
CREATE TABLE chassis_manifold (
	revision INTEGER NOT NULL, 
	position INTEGER NOT NULL, 
	chassis VARCHAR NOT NULL, 
	seat_mm FLOAT NOT NULL, 
	seat_tol_mm FLOAT NOT NULL, 
	thread_mm FLOAT NOT NULL, 
	material VARCHAR NOT NULL, 
	cold_c FLOAT NOT NULL, 
	hot_c FLOAT NOT NULL, 
	CONSTRAINT pk_chassis_manifold PRIMARY KEY (revision, chassis), 
	CONSTRAINT fk_chassis_manifold_revision_material FOREIGN KEY(revision, material) REFERENCES material (revision, id), 
	CONSTRAINT fk_chassis_manifold_revision_chassis FOREIGN KEY(revision, chassis) REFERENCES chassis (revision, id)
);
INSERT INTO "chassis_manifold" VALUES(1,0,'brook',-35.7,0.1,14.0,'aluminium',-20.0,110.0);
INSERT INTO "chassis_manifold" VALUES(1,0,'heron',-35.7,0.1,14.0,'aluminium',-20.0,110.0);
CREATE TABLE chassis_mounting (
	revision INTEGER NOT NULL, 
	position INTEGER NOT NULL, 
	chassis VARCHAR NOT NULL, 
	role VARCHAR NOT NULL, 
	sku VARCHAR NOT NULL, 
	qty INTEGER NOT NULL, 
	optional BOOLEAN, 
	CONSTRAINT pk_chassis_mounting PRIMARY KEY (revision, chassis, position), 
	CONSTRAINT fk_chassis_mounting_revision_chassis FOREIGN KEY(revision, chassis) REFERENCES chassis (revision, id), 
	CONSTRAINT fk_chassis_mounting_revision_sku FOREIGN KEY(revision, sku) REFERENCES item (revision, sku), 
	CONSTRAINT ck_chassis_mounting_qty CHECK (qty >= 1)
);
INSERT INTO "chassis_mounting" VALUES(1,0,'brook','rail-screw','SCREW-6',2,NULL);
INSERT INTO "chassis_mounting" VALUES(1,1,'brook','rail-spacer','SPACER-5',2,1);
INSERT INTO "chassis_mounting" VALUES(1,0,'heron','rail-screw','SCREW-6',4,NULL);
CREATE TABLE chassis_pump_point (
	revision INTEGER NOT NULL, 
	position INTEGER NOT NULL, 
	chassis VARCHAR NOT NULL, 
	kpa FLOAT NOT NULL, 
	l_h FLOAT NOT NULL, 
	CONSTRAINT pk_chassis_pump_point PRIMARY KEY (revision, chassis, position), 
	CONSTRAINT fk_chassis_pump_point_revision_chassis FOREIGN KEY(revision, chassis) REFERENCES chassis (revision, id)
);
INSERT INTO "chassis_pump_point" VALUES(1,0,'brook',0.0,180.0);
INSERT INTO "chassis_pump_point" VALUES(1,1,'brook',300.0,140.0);
INSERT INTO "chassis_pump_point" VALUES(1,2,'brook',600.0,80.0);
INSERT INTO "chassis_pump_point" VALUES(1,0,'heron',0.0,180.0);
INSERT INTO "chassis_pump_point" VALUES(1,1,'heron',300.0,140.0);
INSERT INTO "chassis_pump_point" VALUES(1,2,'heron',600.0,80.0);
CREATE TABLE chassis_pump_volts (
	revision INTEGER NOT NULL, 
	position INTEGER NOT NULL, 
	chassis VARCHAR NOT NULL, 
	rated FLOAT NOT NULL, 
	fed FLOAT NOT NULL, 
	CONSTRAINT pk_chassis_pump_volts PRIMARY KEY (revision, chassis), 
	CONSTRAINT fk_chassis_pump_volts_revision_chassis FOREIGN KEY(revision, chassis) REFERENCES chassis (revision, id)
);
INSERT INTO "chassis_pump_volts" VALUES(1,0,'brook',12.0,13.5);
INSERT INTO "chassis_pump_volts" VALUES(1,0,'heron',12.0,13.5);
CREATE TABLE chassis_regulator (
	revision INTEGER NOT NULL, 
	position INTEGER NOT NULL, 
	chassis VARCHAR NOT NULL, 
	at VARCHAR, 
	follows VARCHAR, 
	CONSTRAINT pk_chassis_regulator PRIMARY KEY (revision, chassis), 
	CONSTRAINT fk_chassis_regulator_revision_chassis FOREIGN KEY(revision, chassis) REFERENCES chassis (revision, id), 
	CONSTRAINT ck_chassis_regulator_follows CHECK ("follows" IN ('manifold', 'atmosphere')), 
	CONSTRAINT ck_chassis_regulator_at CHECK ("at" IN ('tank', 'rail'))
);
INSERT INTO "chassis_regulator" VALUES(1,0,'brook','rail','manifold');
INSERT INTO "chassis_regulator" VALUES(1,0,'heron','rail','manifold');
CREATE TABLE chassis_tank (
	revision INTEGER NOT NULL, 
	position INTEGER NOT NULL, 
	chassis VARCHAR NOT NULL, 
	fuel_c FLOAT NOT NULL, 
	soak_c FLOAT NOT NULL, 
	lift_m FLOAT NOT NULL, 
	inlet_loss_kpa FLOAT NOT NULL, 
	rest_kpa FLOAT NOT NULL, 
	CONSTRAINT pk_chassis_tank PRIMARY KEY (revision, chassis), 
	CONSTRAINT fk_chassis_tank_revision_chassis FOREIGN KEY(revision, chassis) REFERENCES chassis (revision, id)
);
INSERT INTO "chassis_tank" VALUES(1,0,'brook',35.0,70.0,-0.2,3.0,250.0);
INSERT INTO "chassis_tank" VALUES(1,0,'heron',35.0,70.0,-0.2,3.0,250.0);
CREATE TABLE contract_case (
	revision INTEGER NOT NULL, 
	position INTEGER NOT NULL, 
	id VARCHAR NOT NULL, 
	says VARCHAR NOT NULL, 
	CONSTRAINT pk_contract_case PRIMARY KEY (revision, id), 
	CONSTRAINT fk_contract_case_revision FOREIGN KEY(revision) REFERENCES revision (number)
);
INSERT INTO "contract_case" VALUES(1,0,'z-full','Everything, „told“.');
INSERT INTO "contract_case" VALUES(1,1,'a-bare','');
CREATE TABLE contract_case_addon (
	revision INTEGER NOT NULL, 
	position INTEGER NOT NULL, 
	contract_case VARCHAR NOT NULL, 
	addon VARCHAR NOT NULL, 
	CONSTRAINT pk_contract_case_addon PRIMARY KEY (revision, contract_case, position), 
	CONSTRAINT fk_contract_case_addon_revision_addon FOREIGN KEY(revision, addon) REFERENCES addon (revision, id), 
	CONSTRAINT fk_contract_case_addon_revision_contract_case FOREIGN KEY(revision, contract_case) REFERENCES contract_case (revision, id)
);
INSERT INTO "contract_case_addon" VALUES(1,0,'z-full','blower');
CREATE TABLE contract_case_clearance (
	revision INTEGER NOT NULL, 
	position INTEGER NOT NULL, 
	contract_case VARCHAR NOT NULL, 
	spot VARCHAR NOT NULL, 
	axial_mm FLOAT, 
	across_mm FLOAT, 
	CONSTRAINT pk_contract_case_clearance PRIMARY KEY (revision, contract_case, position), 
	CONSTRAINT ck_contract_case_clearance_spot CHECK ("spot" IN ('left', 'centre', 'right', 'top', '1.left', '1.centre', '1.right', '1.top', '2.left', '2.centre', '2.right', '2.top')), 
	CONSTRAINT fk_contract_case_clearance_revision_contract_case FOREIGN KEY(revision, contract_case) REFERENCES contract_case (revision, id)
);
INSERT INTO "contract_case_clearance" VALUES(1,0,'z-full','top',80.0,40.0);
INSERT INTO "contract_case_clearance" VALUES(1,1,'z-full','left',NULL,NULL);
CREATE TABLE contract_case_contains (
	revision INTEGER NOT NULL, 
	position INTEGER NOT NULL, 
	contract_case VARCHAR NOT NULL, 
	sku VARCHAR NOT NULL, 
	CONSTRAINT pk_contract_case_contains PRIMARY KEY (revision, contract_case, position), 
	CONSTRAINT fk_contract_case_contains_revision_sku FOREIGN KEY(revision, sku) REFERENCES item (revision, sku), 
	CONSTRAINT fk_contract_case_contains_revision_contract_case FOREIGN KEY(revision, contract_case) REFERENCES contract_case (revision, id)
);
INSERT INTO "contract_case_contains" VALUES(1,0,'z-full','SEALANT');
INSERT INTO "contract_case_contains" VALUES(1,1,'z-full','RAIL-S');
CREATE TABLE contract_case_exclude (
	revision INTEGER NOT NULL, 
	position INTEGER NOT NULL, 
	contract_case VARCHAR NOT NULL, 
	sku VARCHAR NOT NULL, 
	CONSTRAINT pk_contract_case_exclude PRIMARY KEY (revision, contract_case, position), 
	CONSTRAINT fk_contract_case_exclude_revision_sku FOREIGN KEY(revision, sku) REFERENCES item (revision, sku), 
	CONSTRAINT fk_contract_case_exclude_revision_contract_case FOREIGN KEY(revision, contract_case) REFERENCES contract_case (revision, id)
);
INSERT INTO "contract_case_exclude" VALUES(1,0,'z-full','SCREW-6');
CREATE TABLE contract_case_have (
	revision INTEGER NOT NULL, 
	position INTEGER NOT NULL, 
	contract_case VARCHAR NOT NULL, 
	sku VARCHAR NOT NULL, 
	qty INTEGER NOT NULL, 
	CONSTRAINT pk_contract_case_have PRIMARY KEY (revision, contract_case, position), 
	CONSTRAINT fk_contract_case_have_revision_sku FOREIGN KEY(revision, sku) REFERENCES item (revision, sku), 
	CONSTRAINT ck_contract_case_have_qty CHECK (qty >= 1), 
	CONSTRAINT fk_contract_case_have_revision_contract_case FOREIGN KEY(revision, contract_case) REFERENCES contract_case (revision, id)
);
INSERT INTO "contract_case_have" VALUES(1,0,'z-full','SEALANT',2);
CREATE TABLE contract_case_injectors (
	revision INTEGER NOT NULL, 
	position INTEGER NOT NULL, 
	contract_case VARCHAR NOT NULL, 
	static_l_h FLOAT NOT NULL, 
	rated_kpa FLOAT NOT NULL, 
	max_duty FLOAT, 
	CONSTRAINT pk_contract_case_injectors PRIMARY KEY (revision, contract_case), 
	CONSTRAINT fk_contract_case_injectors_revision_contract_case FOREIGN KEY(revision, contract_case) REFERENCES contract_case (revision, id)
);
INSERT INTO "contract_case_injectors" VALUES(1,0,'z-full',32.5,300.0,0.8);
CREATE TABLE contract_case_never (
	revision INTEGER NOT NULL, 
	position INTEGER NOT NULL, 
	contract_case VARCHAR NOT NULL, 
	sku VARCHAR NOT NULL, 
	CONSTRAINT pk_contract_case_never PRIMARY KEY (revision, contract_case, position), 
	CONSTRAINT fk_contract_case_never_revision_sku FOREIGN KEY(revision, sku) REFERENCES item (revision, sku), 
	CONSTRAINT fk_contract_case_never_revision_contract_case FOREIGN KEY(revision, contract_case) REFERENCES contract_case (revision, id)
);
INSERT INTO "contract_case_never" VALUES(1,0,'z-full','SEAL-B8');
CREATE TABLE contract_case_own_spot (
	revision INTEGER NOT NULL, 
	position INTEGER NOT NULL, 
	contract_case VARCHAR NOT NULL, 
	spot VARCHAR NOT NULL, 
	standard VARCHAR NOT NULL, 
	"end" VARCHAR NOT NULL, 
	CONSTRAINT pk_contract_case_own_spot PRIMARY KEY (revision, contract_case, spot), 
	CONSTRAINT fk_contract_case_own_spot_revision_standard FOREIGN KEY(revision, standard) REFERENCES port_standard (revision, id), 
	CONSTRAINT ck_contract_case_own_spot_spot CHECK ("spot" IN ('left', 'centre', 'right', 'top')), 
	CONSTRAINT ck_contract_case_own_spot_end CHECK ("end" IN ('male', 'female')), 
	CONSTRAINT fk_contract_case_own_spot_revision_contract_case FOREIGN KEY(revision, contract_case) REFERENCES contract_case (revision, id)
);
INSERT INTO "contract_case_own_spot" VALUES(1,0,'z-full','top','boss-8','female');
INSERT INTO "contract_case_own_spot" VALUES(1,1,'z-full','left','boss-8','female');
CREATE TABLE contract_case_promises (
	revision INTEGER NOT NULL, 
	position INTEGER NOT NULL, 
	contract_case VARCHAR NOT NULL, 
	has_bill BOOLEAN NOT NULL, 
	price_at_least BIGINT, 
	price_at_most BIGINT, 
	keyed BOOLEAN, 
	CONSTRAINT pk_contract_case_promises PRIMARY KEY (revision, contract_case), 
	CONSTRAINT fk_contract_case_promises_revision_contract_case FOREIGN KEY(revision, contract_case) REFERENCES contract_case (revision, id)
);
INSERT INTO "contract_case_promises" VALUES(1,0,'z-full',1,0,1000000000000,1);
INSERT INTO "contract_case_promises" VALUES(1,0,'a-bare',0,NULL,NULL,NULL);
CREATE TABLE contract_case_pump_point (
	revision INTEGER NOT NULL, 
	position INTEGER NOT NULL, 
	contract_case VARCHAR NOT NULL, 
	kpa FLOAT NOT NULL, 
	l_h FLOAT NOT NULL, 
	CONSTRAINT pk_contract_case_pump_point PRIMARY KEY (revision, contract_case, position), 
	CONSTRAINT fk_contract_case_pump_point_revision_contract_case FOREIGN KEY(revision, contract_case) REFERENCES contract_case (revision, id)
);
INSERT INTO "contract_case_pump_point" VALUES(1,0,'z-full',0.0,180.0);
INSERT INTO "contract_case_pump_point" VALUES(1,1,'z-full',400.0,120.0);
CREATE TABLE "contract_case_question" (
	revision INTEGER NOT NULL, 
	position INTEGER NOT NULL, 
	contract_case VARCHAR NOT NULL, 
	chassis VARCHAR NOT NULL, 
	layout VARCHAR NOT NULL, 
	fuel VARCHAR, 
	power_kw FLOAT, 
	pump_l_h FLOAT, 
	pump_v_rated FLOAT, 
	pump_v_fed FLOAT, 
	feed_hose_m FLOAT, 
	return_hose_m FLOAT, 
	boost_kpa FLOAT NOT NULL, 
	gauge VARCHAR NOT NULL, 
	finish VARCHAR, 
	in_stock_only BOOLEAN NOT NULL, 
	allow_unsold BOOLEAN NOT NULL, 
	max_price BIGINT, 
	bill_limit INTEGER, 
	group_variants BOOLEAN, 
	order_by VARCHAR, 
	CONSTRAINT pk_contract_case_question PRIMARY KEY (revision, contract_case), 
	CONSTRAINT fk_contract_case_question_revision_contract_case FOREIGN KEY(revision, contract_case) REFERENCES contract_case (revision, id), 
	CONSTRAINT fk_contract_case_question_revision_chassis FOREIGN KEY(revision, chassis) REFERENCES chassis (revision, id), 
	CONSTRAINT fk_contract_case_question_revision_layout FOREIGN KEY(revision, layout) REFERENCES layout (revision, id), 
	CONSTRAINT fk_contract_case_question_revision_fuel FOREIGN KEY(revision, fuel) REFERENCES fuel (revision, id), 
	CONSTRAINT ck_contract_case_question_order_by CHECK ("order_by" IN ('price', 'pieces', 'drop', 'lead', 'margin', 'power'))
);
INSERT INTO "contract_case_question" VALUES(1,0,'z-full','brook','hose-centre','petrol',80.5,120.0,12.0,13.5,1.5,0.1,20.0,'any','satin',1,0,1000000000000,3,0,'lead');
INSERT INTO "contract_case_question" VALUES(1,0,'a-bare','brook','hose-centre',NULL,NULL,NULL,NULL,NULL,NULL,NULL,0.0,'none',NULL,0,1,NULL,NULL,NULL,NULL);
CREATE TABLE contract_case_regulator (
	revision INTEGER NOT NULL, 
	position INTEGER NOT NULL, 
	contract_case VARCHAR NOT NULL, 
	set_kpa FLOAT, 
	follows VARCHAR, 
	CONSTRAINT pk_contract_case_regulator PRIMARY KEY (revision, contract_case), 
	CONSTRAINT fk_contract_case_regulator_revision_contract_case FOREIGN KEY(revision, contract_case) REFERENCES contract_case (revision, id), 
	CONSTRAINT ck_contract_case_regulator_follows CHECK ("follows" IN ('manifold', 'atmosphere'))
);
INSERT INTO "contract_case_regulator" VALUES(1,0,'z-full',350.0,'atmosphere');
CREATE TABLE fuel (
	revision INTEGER NOT NULL, 
	position INTEGER NOT NULL, 
	id VARCHAR NOT NULL, 
	name VARCHAR NOT NULL, 
	density_kg_m3 FLOAT NOT NULL, 
	viscosity_mpa_s FLOAT NOT NULL, 
	stoich_afr FLOAT NOT NULL, 
	bsfc_na_g_kwh FLOAT NOT NULL, 
	bsfc_boosted_g_kwh FLOAT NOT NULL, 
	source VARCHAR NOT NULL, heat_capacity_j_kg_k FLOAT, lhv_mj_kg FLOAT, 
	CONSTRAINT pk_fuel PRIMARY KEY (revision, id), 
	CONSTRAINT fk_fuel_revision FOREIGN KEY(revision) REFERENCES revision (number)
);
INSERT INTO "fuel" VALUES(1,0,'e85','E85',782.0,1.05,9.8,430.0,510.0,'rounded figures for tests',2100.0,43.0);
INSERT INTO "fuel" VALUES(1,1,'petrol','Petrol',745.0,0.55,14.6,300.0,360.0,'rounded figures for tests',2100.0,43.0);
CREATE TABLE fuel_caution (
	revision INTEGER NOT NULL, 
	position INTEGER NOT NULL, 
	fuel VARCHAR NOT NULL, 
	text VARCHAR NOT NULL, 
	CONSTRAINT pk_fuel_caution PRIMARY KEY (revision, fuel, position), 
	CONSTRAINT fk_fuel_caution_revision_fuel FOREIGN KEY(revision, fuel) REFERENCES fuel (revision, id)
);
INSERT INTO "fuel_caution" VALUES(1,0,'e85','Keep it out of the sun.');
INSERT INTO "fuel_caution" VALUES(1,0,'petrol','Keep it out of the sun.');
CREATE TABLE fuel_vapour (
	revision INTEGER NOT NULL, 
	position INTEGER NOT NULL, 
	fuel VARCHAR NOT NULL, 
	c FLOAT NOT NULL, 
	kpa_abs FLOAT NOT NULL, 
	CONSTRAINT pk_fuel_vapour PRIMARY KEY (revision, fuel, position), 
	CONSTRAINT fk_fuel_vapour_revision_fuel FOREIGN KEY(revision, fuel) REFERENCES fuel (revision, id)
);
INSERT INTO "fuel_vapour" VALUES(1,0,'e85',20.0,35.0);
INSERT INTO "fuel_vapour" VALUES(1,1,'e85',37.8,60.0);
INSERT INTO "fuel_vapour" VALUES(1,2,'e85',80.0,190.0);
INSERT INTO "fuel_vapour" VALUES(1,0,'petrol',20.0,35.0);
INSERT INTO "fuel_vapour" VALUES(1,1,'petrol',37.8,60.0);
INSERT INTO "fuel_vapour" VALUES(1,2,'petrol',80.0,190.0);
CREATE TABLE inquiry (
	id VARCHAR NOT NULL, 
	revision INTEGER NOT NULL, 
	document VARCHAR NOT NULL, 
	missing VARCHAR NOT NULL, 
	contact VARCHAR NOT NULL, 
	note VARCHAR NOT NULL, 
	created_at DATETIME NOT NULL, 
	idempotency_key VARCHAR, 
	body_digest VARCHAR NOT NULL, 
	CONSTRAINT pk_inquiry PRIMARY KEY (id), 
	CONSTRAINT fk_inquiry_revision FOREIGN KEY(revision) REFERENCES revision (number), 
	CONSTRAINT uq_inquiry_idempotency_key UNIQUE (idempotency_key)
);
INSERT INTO "inquiry" VALUES('an-inquiry',1,'{"id":"an-inquiry"}','room','nobody@example.org','','2026-03-01 12:00:00.000000','key-1','0000000000000000000000000000000000000000000000000000000000000000');
CREATE TABLE item (
	revision INTEGER NOT NULL, 
	position INTEGER NOT NULL, 
	sku VARCHAR NOT NULL, 
	name VARCHAR NOT NULL, 
	kind VARCHAR NOT NULL, 
	family VARCHAR, 
	finish VARCHAR, 
	sold BOOLEAN NOT NULL, 
	status VARCHAR NOT NULL, 
	superseded_by VARCHAR, 
	price BIGINT NOT NULL, 
	stock INTEGER NOT NULL, 
	lead_days INTEGER NOT NULL, 
	mass_g FLOAT NOT NULL, 
	max_kpa FLOAT, 
	standout_mm FLOAT, 
	across_mm FLOAT, 
	flow_bore_mm FLOAT, 
	flow_length_mm FLOAT, 
	flow_loss_k FLOAT, 
	flow_roughness_mm FLOAT, 
	has_patterns BOOLEAN NOT NULL, 
	has_supplied BOOLEAN NOT NULL, hex_mm FLOAT, drive VARCHAR, 
	CONSTRAINT pk_item PRIMARY KEY (revision, sku), 
	CONSTRAINT fk_item_revision FOREIGN KEY(revision) REFERENCES revision (number), 
	CONSTRAINT fk_item_revision_superseded_by FOREIGN KEY(revision, superseded_by) REFERENCES item (revision, sku) DEFERRABLE INITIALLY DEFERRED, 
	CONSTRAINT ck_item_kind CHECK ("kind" IN ('rail', 'fitting', 'plug', 'gauge', 'line', 'regulator', 'seal', 'fastener', 'spacer', 'clip', 'bracket', 'consumable')), 
	CONSTRAINT ck_item_status CHECK ("status" IN ('active', 'retired')), 
	CONSTRAINT ck_item_price CHECK (price >= 0), 
	CONSTRAINT ck_item_stock CHECK (stock >= 0), 
	CONSTRAINT ck_item_lead_days CHECK (lead_days >= 0), 
	CONSTRAINT ck_item_flow_whole CHECK ((flow_bore_mm IS NULL) = (flow_length_mm IS NULL) AND (flow_bore_mm IS NULL) = (flow_loss_k IS NULL) AND (flow_bore_mm IS NULL) = (flow_roughness_mm IS NULL))
);
INSERT INTO "item" VALUES(1,0,'screw-6','Screw, M6 x 25, earlier thread','spacer',NULL,NULL,1,'retired','SCREW-6',1000000000000,1000000000,3,3.00000000000000044408e-01,NULL,NULL,NULL,NULL,NULL,NULL,NULL,0,0,NULL,NULL);
INSERT INTO "item" VALUES(1,1,'RAIL-S','Fuel rail, slate','rail','rail','slate',1,'active',NULL,18900,6,10,640.0,1000.0,NULL,NULL,16.0,380.0,0.5,0.002,1,1,NULL,NULL);
INSERT INTO "item" VALUES(1,2,'PLUG-B8','Plug for a size-8 boss','plug',NULL,NULL,1,'active',NULL,900,25,3,20.0,1000.0,8.0,24.0,NULL,NULL,NULL,NULL,0,0,NULL,NULL);
INSERT INTO "item" VALUES(1,3,'PLUG-T','Plug for a 1/8 taper thread','plug',NULL,NULL,1,'active',NULL,400,25,3,20.0,1000.0,3.0,12.0,NULL,NULL,NULL,NULL,0,0,NULL,NULL);
INSERT INTO "item" VALUES(1,4,'ADAPT-B8-F6','Adapter, size-8 boss to size-6 flare','fitting',NULL,NULL,1,'active',NULL,1500,25,3,20.0,1000.0,26.0,25.0,7.5,40.0,0.4,0.002,0,0,22.0,NULL);
INSERT INTO "item" VALUES(1,5,'SPIGOT-B8-Q','Spigot, size-8 boss to 3/8 quick connector','fitting',NULL,NULL,1,'active',NULL,2100,25,3,20.0,1000.0,30.0,25.0,7.5,45.0,0.4,0.002,0,0,NULL,NULL);
INSERT INTO "item" VALUES(1,6,'GAUGE-T','Pressure gauge, 0 to 700 kPa','gauge',NULL,NULL,1,'active',NULL,3900,25,3,20.0,700.0,48.0,40.0,NULL,NULL,NULL,NULL,0,0,NULL,NULL);
INSERT INTO "item" VALUES(1,7,'LINE-F6','Link line, size-6 flare, 400 mm','line',NULL,NULL,1,'active',NULL,4600,25,3,20.0,1000.0,NULL,19.0,8.7,400.0,0.9,0.002,0,0,NULL,NULL);
INSERT INTO "item" VALUES(1,8,'REG-F6','Pressure regulator with a gauge port','regulator',NULL,NULL,1,'active',NULL,9800,25,3,20.0,1000.0,55.0,42.0,7.0,60.0,2.0,0.002,0,0,NULL,NULL);
INSERT INTO "item" VALUES(1,9,'SEAL-B8','Seal for a size-8 boss','seal',NULL,NULL,1,'active',NULL,150,25,3,20.0,NULL,NULL,NULL,NULL,NULL,NULL,NULL,0,0,NULL,NULL);
INSERT INTO "item" VALUES(1,10,'SEALANT','Thread sealant, 10 ml','consumable',NULL,NULL,1,'active',NULL,700,25,3,20.0,NULL,NULL,NULL,NULL,NULL,NULL,NULL,0,0,NULL,NULL);
INSERT INTO "item" VALUES(1,11,'SCREW-6','Screw, M6 x 25','fastener',NULL,NULL,1,'active',NULL,80,25,3,20.0,NULL,NULL,NULL,NULL,NULL,NULL,NULL,0,0,NULL,'hex key 5 mm');
INSERT INTO "item" VALUES(1,12,'SCREW-6-LONG','Screw, M6 x 40','fastener',NULL,NULL,1,'active',NULL,110,25,3,20.0,NULL,NULL,NULL,NULL,NULL,NULL,NULL,0,0,NULL,NULL);
INSERT INTO "item" VALUES(1,13,'SPACER-5','Spacer, 5 mm','spacer',NULL,NULL,1,'active',NULL,260,25,3,20.0,NULL,NULL,NULL,NULL,NULL,NULL,NULL,0,0,NULL,NULL);
CREATE TABLE item_injector_position (
	revision INTEGER NOT NULL, 
	position INTEGER NOT NULL, 
	item VARCHAR NOT NULL, 
	mm FLOAT NOT NULL, 
	CONSTRAINT pk_item_injector_position PRIMARY KEY (revision, item, position), 
	CONSTRAINT fk_item_injector_position_revision_item FOREIGN KEY(revision, item) REFERENCES item (revision, sku)
);
INSERT INTO "item_injector_position" VALUES(1,0,'RAIL-S',40.0);
INSERT INTO "item_injector_position" VALUES(1,1,'RAIL-S',120.0);
INSERT INTO "item_injector_position" VALUES(1,2,'RAIL-S',200.0);
INSERT INTO "item_injector_position" VALUES(1,3,'RAIL-S',280.0);
CREATE TABLE item_pattern (
	revision INTEGER NOT NULL, 
	position INTEGER NOT NULL, 
	item VARCHAR NOT NULL, 
	pattern VARCHAR NOT NULL, 
	CONSTRAINT pk_item_pattern PRIMARY KEY (revision, item, position), 
	CONSTRAINT fk_item_pattern_revision_item FOREIGN KEY(revision, item) REFERENCES item (revision, sku)
);
INSERT INTO "item_pattern" VALUES(1,0,'RAIL-S','straight-four');
INSERT INTO "item_pattern" VALUES(1,1,'RAIL-S','broad-six');
CREATE TABLE item_port (
	revision INTEGER NOT NULL, 
	position INTEGER NOT NULL, 
	item VARCHAR NOT NULL, 
	id VARCHAR NOT NULL, 
	standard VARCHAR NOT NULL, 
	"end" VARCHAR NOT NULL, 
	spot VARCHAR, 
	CONSTRAINT pk_item_port PRIMARY KEY (revision, item, id), 
	CONSTRAINT fk_item_port_revision_item FOREIGN KEY(revision, item) REFERENCES item (revision, sku), 
	CONSTRAINT fk_item_port_revision_standard FOREIGN KEY(revision, standard) REFERENCES port_standard (revision, id), 
	CONSTRAINT ck_item_port_end CHECK ("end" IN ('male', 'female')), 
	CONSTRAINT ck_item_port_spot CHECK ("spot" IN ('left', 'centre', 'right', 'top'))
);
INSERT INTO "item_port" VALUES(1,0,'RAIL-S','l','boss-8','female','left');
INSERT INTO "item_port" VALUES(1,1,'RAIL-S','c','boss-8','female','centre');
INSERT INTO "item_port" VALUES(1,2,'RAIL-S','r','boss-8','female','right');
INSERT INTO "item_port" VALUES(1,3,'RAIL-S','t','taper-1/8','female','top');
INSERT INTO "item_port" VALUES(1,0,'PLUG-B8','a','boss-8','male',NULL);
INSERT INTO "item_port" VALUES(1,0,'PLUG-T','a','taper-1/8','male',NULL);
INSERT INTO "item_port" VALUES(1,0,'ADAPT-B8-F6','a','boss-8','male',NULL);
INSERT INTO "item_port" VALUES(1,1,'ADAPT-B8-F6','b','flare-6','male',NULL);
INSERT INTO "item_port" VALUES(1,0,'SPIGOT-B8-Q','a','boss-8','male',NULL);
INSERT INTO "item_port" VALUES(1,1,'SPIGOT-B8-Q','b','quick-3/8','male',NULL);
INSERT INTO "item_port" VALUES(1,0,'GAUGE-T','a','taper-1/8','male',NULL);
INSERT INTO "item_port" VALUES(1,0,'LINE-F6','a','flare-6','female',NULL);
INSERT INTO "item_port" VALUES(1,1,'LINE-F6','b','flare-6','female',NULL);
INSERT INTO "item_port" VALUES(1,0,'REG-F6','in','flare-6','female',NULL);
INSERT INTO "item_port" VALUES(1,1,'REG-F6','out','flare-6','male',NULL);
INSERT INTO "item_port" VALUES(1,2,'REG-F6','gauge','taper-1/8','female',NULL);
CREATE TABLE item_regulates (
	revision INTEGER NOT NULL, 
	position INTEGER NOT NULL, 
	item VARCHAR NOT NULL, 
	min_kpa FLOAT NOT NULL, 
	max_kpa FLOAT NOT NULL, 
	follows VARCHAR NOT NULL, 
	CONSTRAINT pk_item_regulates PRIMARY KEY (revision, item), 
	CONSTRAINT fk_item_regulates_revision_item FOREIGN KEY(revision, item) REFERENCES item (revision, sku), 
	CONSTRAINT ck_item_regulates_follows CHECK ("follows" IN ('manifold', 'atmosphere'))
);
INSERT INTO "item_regulates" VALUES(1,0,'REG-F6',200.0,500.0,'manifold');
CREATE TABLE item_ring (
	revision INTEGER NOT NULL, 
	position INTEGER NOT NULL, 
	item VARCHAR NOT NULL, 
	inside_mm FLOAT NOT NULL, 
	section_mm FLOAT NOT NULL, 
	inside_tol_mm FLOAT NOT NULL, 
	section_tol_mm FLOAT NOT NULL, 
	CONSTRAINT pk_item_ring PRIMARY KEY (revision, item), 
	CONSTRAINT fk_item_ring_revision_item FOREIGN KEY(revision, item) REFERENCES item (revision, sku)
);
INSERT INTO "item_ring" VALUES(1,0,'SEAL-B8',16.36,2.21,0.23,0.08);
CREATE TABLE item_screw (
	revision INTEGER NOT NULL, 
	position INTEGER NOT NULL, 
	item VARCHAR NOT NULL, 
	thread_diameter_mm FLOAT NOT NULL, 
	thread_pitch_mm FLOAT NOT NULL, 
	thread_form VARCHAR NOT NULL, 
	strength_class VARCHAR NOT NULL, 
	length_mm FLOAT NOT NULL, 
	torque_min_nm FLOAT NOT NULL, 
	torque_max_nm FLOAT NOT NULL, 
	nut_factor_min FLOAT NOT NULL, 
	nut_factor_max FLOAT NOT NULL, 
	material VARCHAR NOT NULL, 
	CONSTRAINT pk_item_screw PRIMARY KEY (revision, item), 
	CONSTRAINT fk_item_screw_revision_material FOREIGN KEY(revision, material) REFERENCES material (revision, id), 
	CONSTRAINT ck_item_screw_thread_form CHECK ("thread_form" IN ('metric', 'unified')), 
	CONSTRAINT ck_item_screw_strength_class CHECK ("strength_class" IN ('8.8', '10.9')), 
	CONSTRAINT fk_item_screw_revision_item FOREIGN KEY(revision, item) REFERENCES item (revision, sku)
);
INSERT INTO "item_screw" VALUES(1,0,'SCREW-6',6.0,1.0,'metric','8.8',25.0,8.0,9.0,0.18,0.22,'steel');
INSERT INTO "item_screw" VALUES(1,0,'SCREW-6-LONG',6.0,1.0,'metric','10.9',40.0,8.0,9.0,0.18,0.22,'steel');
CREATE TABLE item_seats (
	revision INTEGER NOT NULL, 
	position INTEGER NOT NULL, 
	item VARCHAR NOT NULL, 
	roof_mm FLOAT NOT NULL, 
	roof_tol_mm FLOAT NOT NULL, 
	cup_depth_mm FLOAT NOT NULL, 
	foot_mm FLOAT NOT NULL, 
	material VARCHAR NOT NULL, 
	CONSTRAINT pk_item_seats PRIMARY KEY (revision, item), 
	CONSTRAINT fk_item_seats_revision_material FOREIGN KEY(revision, material) REFERENCES material (revision, id), 
	CONSTRAINT fk_item_seats_revision_item FOREIGN KEY(revision, item) REFERENCES item (revision, sku)
);
INSERT INTO "item_seats" VALUES(1,0,'RAIL-S',20.0,0.1,8.0,8.0,'aluminium');
CREATE TABLE item_spacer (
	revision INTEGER NOT NULL, 
	position INTEGER NOT NULL, 
	item VARCHAR NOT NULL, 
	height_mm FLOAT NOT NULL, 
	height_tol_mm FLOAT NOT NULL, 
	outside_mm FLOAT NOT NULL, 
	inside_mm FLOAT NOT NULL, 
	material VARCHAR NOT NULL, 
	CONSTRAINT pk_item_spacer PRIMARY KEY (revision, item), 
	CONSTRAINT fk_item_spacer_revision_material FOREIGN KEY(revision, material) REFERENCES material (revision, id), 
	CONSTRAINT fk_item_spacer_revision_item FOREIGN KEY(revision, item) REFERENCES item (revision, sku)
);
INSERT INTO "item_spacer" VALUES(1,0,'screw-6',5.0,0.05,14.0,6.4,'phenolic');
INSERT INTO "item_spacer" VALUES(1,0,'SPACER-5',5.0,0.05,14.0,6.4,'phenolic');
CREATE TABLE item_spot_position (
	revision INTEGER NOT NULL, 
	position INTEGER NOT NULL, 
	item VARCHAR NOT NULL, 
	spot VARCHAR NOT NULL, 
	mm FLOAT NOT NULL, 
	CONSTRAINT pk_item_spot_position PRIMARY KEY (revision, item, spot), 
	CONSTRAINT ck_item_spot_position_spot CHECK ("spot" IN ('left', 'centre', 'right', 'top')), 
	CONSTRAINT fk_item_spot_position_revision_item FOREIGN KEY(revision, item) REFERENCES item (revision, sku)
);
INSERT INTO "item_spot_position" VALUES(1,0,'RAIL-S','left',0.0);
INSERT INTO "item_spot_position" VALUES(1,1,'RAIL-S','centre',160.0);
INSERT INTO "item_spot_position" VALUES(1,2,'RAIL-S','right',320.0);
CREATE TABLE item_supplied (
	revision INTEGER NOT NULL, 
	position INTEGER NOT NULL, 
	item VARCHAR NOT NULL, 
	sku VARCHAR NOT NULL, 
	qty INTEGER NOT NULL, 
	spot VARCHAR, 
	role VARCHAR, 
	CONSTRAINT pk_item_supplied PRIMARY KEY (revision, item, position), 
	CONSTRAINT fk_item_supplied_revision_item FOREIGN KEY(revision, item) REFERENCES item (revision, sku), 
	CONSTRAINT fk_item_supplied_revision_sku FOREIGN KEY(revision, sku) REFERENCES item (revision, sku), 
	CONSTRAINT ck_item_supplied_qty CHECK (qty >= 1), 
	CONSTRAINT ck_item_supplied_spot CHECK ("spot" IN ('left', 'centre', 'right', 'top'))
);
INSERT INTO "item_supplied" VALUES(1,0,'RAIL-S','PLUG-T',1,'top',NULL);
INSERT INTO "item_supplied" VALUES(1,1,'RAIL-S','SCREW-6',2,NULL,'rail-screw');
CREATE TABLE item_wetted (
	revision INTEGER NOT NULL, 
	position INTEGER NOT NULL, 
	item VARCHAR NOT NULL, 
	material VARCHAR NOT NULL, 
	CONSTRAINT pk_item_wetted PRIMARY KEY (revision, item, position), 
	CONSTRAINT fk_item_wetted_revision_item FOREIGN KEY(revision, item) REFERENCES item (revision, sku), 
	CONSTRAINT fk_item_wetted_revision_material FOREIGN KEY(revision, material) REFERENCES material (revision, id)
);
INSERT INTO "item_wetted" VALUES(1,0,'RAIL-S','aluminium');
INSERT INTO "item_wetted" VALUES(1,0,'PLUG-B8','aluminium');
INSERT INTO "item_wetted" VALUES(1,1,'PLUG-B8','fluorocarbon');
INSERT INTO "item_wetted" VALUES(1,0,'PLUG-T','aluminium');
INSERT INTO "item_wetted" VALUES(1,0,'ADAPT-B8-F6','aluminium');
INSERT INTO "item_wetted" VALUES(1,1,'ADAPT-B8-F6','fluorocarbon');
INSERT INTO "item_wetted" VALUES(1,0,'SPIGOT-B8-Q','aluminium');
INSERT INTO "item_wetted" VALUES(1,1,'SPIGOT-B8-Q','fluorocarbon');
INSERT INTO "item_wetted" VALUES(1,0,'GAUGE-T','aluminium');
INSERT INTO "item_wetted" VALUES(1,0,'LINE-F6','aluminium');
INSERT INTO "item_wetted" VALUES(1,1,'LINE-F6','fluorocarbon');
INSERT INTO "item_wetted" VALUES(1,0,'REG-F6','aluminium');
INSERT INTO "item_wetted" VALUES(1,1,'REG-F6','fluorocarbon');
INSERT INTO "item_wetted" VALUES(1,0,'SEAL-B8','fluorocarbon');
CREATE TABLE "joint" (
	revision INTEGER NOT NULL, 
	position INTEGER NOT NULL, 
	id VARCHAR NOT NULL, 
	method VARCHAR NOT NULL, 
	min_nm FLOAT, 
	max_nm FLOAT, 
	min_deg FLOAT, 
	max_deg FLOAT, 
	min_threads FLOAT, 
	max_threads FLOAT, 
	turns_past_hand FLOAT, 
	has_consumables BOOLEAN NOT NULL, 
	source VARCHAR NOT NULL, 
	CONSTRAINT pk_joint PRIMARY KEY (revision, id), 
	CONSTRAINT ck_joint_method CHECK ("method" IN ('torque', 'past-hand-tight', 'flange-to-face', 'turns-engaged', 'push-to-click')), 
	CONSTRAINT fk_joint_revision FOREIGN KEY(revision) REFERENCES revision (number)
);
INSERT INTO "joint" VALUES(1,0,'boss-8-torque','torque',34.0,42.0,NULL,NULL,NULL,NULL,NULL,1,'figures for tests');
INSERT INTO "joint" VALUES(1,1,'flare-turn','past-hand-tight',NULL,NULL,60.0,75.0,NULL,NULL,NULL,1,'figures for tests');
INSERT INTO "joint" VALUES(1,2,'taper-turns','turns-engaged',NULL,NULL,NULL,NULL,4.0,6.0,1.0,1,'figures for tests');
INSERT INTO "joint" VALUES(1,3,'quick-click','push-to-click',NULL,NULL,NULL,NULL,NULL,NULL,NULL,1,'figures for tests');
INSERT INTO "joint" VALUES(1,4,'flange','flange-to-face',3.33333333333333314829e-01,8.1,NULL,NULL,NULL,NULL,NULL,1,'figures for tests');
CREATE TABLE joint_caution (
	revision INTEGER NOT NULL, 
	position INTEGER NOT NULL, 
	joint VARCHAR NOT NULL, 
	text VARCHAR NOT NULL, 
	CONSTRAINT pk_joint_caution PRIMARY KEY (revision, joint, position), 
	CONSTRAINT fk_joint_caution_revision_joint FOREIGN KEY(revision, joint) REFERENCES joint (revision, id)
);
INSERT INTO "joint_caution" VALUES(1,0,'boss-8-torque','Oil the seal before it goes in.');
INSERT INTO "joint_caution" VALUES(1,0,'flare-turn','No sealant on a flare.');
INSERT INTO "joint_caution" VALUES(1,0,'flange','Zweite Zeile:
	mit „Zeichen“ 燃料 🔧');
INSERT INTO "joint_caution" VALUES(1,1,'flange','');
INSERT INTO "joint_caution" VALUES(1,2,'flange','It''s "quoted" \ %s ? :x');
CREATE TABLE joint_consumable (
	revision INTEGER NOT NULL, 
	position INTEGER NOT NULL, 
	joint VARCHAR NOT NULL, 
	sku VARCHAR NOT NULL, 
	CONSTRAINT pk_joint_consumable PRIMARY KEY (revision, joint, position), 
	CONSTRAINT fk_joint_consumable_revision_joint FOREIGN KEY(revision, joint) REFERENCES joint (revision, id), 
	CONSTRAINT fk_joint_consumable_revision_sku FOREIGN KEY(revision, sku) REFERENCES item (revision, sku)
);
INSERT INTO "joint_consumable" VALUES(1,0,'boss-8-torque','SEALANT');
INSERT INTO "joint_consumable" VALUES(1,0,'flare-turn','SEALANT');
INSERT INTO "joint_consumable" VALUES(1,0,'taper-turns','SEALANT');
INSERT INTO "joint_consumable" VALUES(1,0,'quick-click','SEALANT');
INSERT INTO "joint_consumable" VALUES(1,0,'flange','SEALANT');
INSERT INTO "joint_consumable" VALUES(1,1,'flange','SCREW-6');
INSERT INTO "joint_consumable" VALUES(1,2,'flange','SEALANT');
CREATE TABLE joint_spare_seal (
	revision INTEGER NOT NULL, 
	position INTEGER NOT NULL, 
	joint VARCHAR NOT NULL, 
	sku VARCHAR NOT NULL, 
	CONSTRAINT pk_joint_spare_seal PRIMARY KEY (revision, joint, position), 
	CONSTRAINT fk_joint_spare_seal_revision_joint FOREIGN KEY(revision, joint) REFERENCES joint (revision, id), 
	CONSTRAINT fk_joint_spare_seal_revision_sku FOREIGN KEY(revision, sku) REFERENCES item (revision, sku)
);
INSERT INTO "joint_spare_seal" VALUES(1,0,'boss-8-torque','SEAL-B8');
INSERT INTO "joint_spare_seal" VALUES(1,0,'flare-turn','SEAL-B8');
INSERT INTO "joint_spare_seal" VALUES(1,0,'taper-turns','SEAL-B8');
INSERT INTO "joint_spare_seal" VALUES(1,0,'quick-click','SEAL-B8');
INSERT INTO "joint_spare_seal" VALUES(1,0,'flange','SEAL-B8');
INSERT INTO "joint_spare_seal" VALUES(1,1,'flange','SEALANT');
CREATE TABLE layout (
	revision INTEGER NOT NULL, 
	position INTEGER NOT NULL, 
	id VARCHAR NOT NULL, 
	name VARCHAR NOT NULL, 
	summary VARCHAR NOT NULL, 
	banks INTEGER NOT NULL, 
	CONSTRAINT pk_layout PRIMARY KEY (revision, id), 
	CONSTRAINT fk_layout_revision FOREIGN KEY(revision) REFERENCES revision (number), 
	CONSTRAINT ck_layout_banks CHECK (banks >= 1)
);
INSERT INTO "layout" VALUES(1,0,'linked-banks','Factory line, banks linked','The car''s own line feeds the first bank; a line leads on to the second.',2);
INSERT INTO "layout" VALUES(1,1,'through-return','Through flow with return','Fuel enters at one side and leaves at the other through a regulator on the rail.',1);
INSERT INTO "layout" VALUES(1,2,'hose-centre','Own hose to the centre','A size-6 hose feeds the middle of the rail; nothing returns.',1);
INSERT INTO "layout" VALUES(1,3,'factory','Factory line','The car''s own line feeds one side of the rail.',1);
CREATE TABLE layout_duty (
	revision INTEGER NOT NULL, 
	position INTEGER NOT NULL, 
	layout VARCHAR NOT NULL, 
	placement INTEGER NOT NULL, 
	spot VARCHAR NOT NULL, 
	duty VARCHAR NOT NULL, 
	hookup_kind VARCHAR, 
	hookup_standard VARCHAR, 
	hookup_end VARCHAR, 
	hookup_flow_bore_mm FLOAT, 
	hookup_flow_length_mm FLOAT, 
	hookup_flow_loss_k FLOAT, 
	hookup_flow_roughness_mm FLOAT, 
	to_spot VARCHAR, 
	has_via BOOLEAN NOT NULL, 
	CONSTRAINT pk_layout_duty PRIMARY KEY (revision, layout, placement, spot), 
	CONSTRAINT fk_layout_duty_revision_layout_placement FOREIGN KEY(revision, layout, placement) REFERENCES layout_placement (revision, layout, position), 
	CONSTRAINT fk_layout_duty_revision_hookup_standard FOREIGN KEY(revision, hookup_standard) REFERENCES port_standard (revision, id), 
	CONSTRAINT ck_layout_duty_spot CHECK ("spot" IN ('left', 'centre', 'right', 'top', '1.left', '1.centre', '1.right', '1.top', '2.left', '2.centre', '2.right', '2.top')), 
	CONSTRAINT ck_layout_duty_duty CHECK ("duty" IN ('feed', 'return', 'link')), 
	CONSTRAINT ck_layout_duty_hookup_kind CHECK ("hookup_kind" IN ('factory-line', 'bulkhead', 'own-hose')), 
	CONSTRAINT ck_layout_duty_hookup_end CHECK ("hookup_end" IN ('male', 'female')), 
	CONSTRAINT ck_layout_duty_to_spot CHECK ("to_spot" IN ('left', 'centre', 'right', 'top', '1.left', '1.centre', '1.right', '1.top', '2.left', '2.centre', '2.right', '2.top')), 
	CONSTRAINT ck_layout_duty_hookup_flow_whole CHECK ((hookup_flow_bore_mm IS NULL) = (hookup_flow_length_mm IS NULL) AND (hookup_flow_bore_mm IS NULL) = (hookup_flow_loss_k IS NULL) AND (hookup_flow_bore_mm IS NULL) = (hookup_flow_roughness_mm IS NULL))
);
INSERT INTO "layout_duty" VALUES(1,0,'linked-banks',0,'1.left','feed','factory-line',NULL,NULL,NULL,NULL,NULL,NULL,NULL,0);
INSERT INTO "layout_duty" VALUES(1,1,'linked-banks',0,'1.right','link',NULL,NULL,NULL,NULL,NULL,NULL,NULL,'2.right',0);
INSERT INTO "layout_duty" VALUES(1,2,'linked-banks',0,'2.right','link',NULL,NULL,NULL,NULL,NULL,NULL,NULL,'1.right',0);
INSERT INTO "layout_duty" VALUES(1,0,'through-return',0,'left','feed','own-hose','flare-6','female',8.7,1500.0,1.0,0.002,NULL,0);
INSERT INTO "layout_duty" VALUES(1,1,'through-return',0,'right','return','own-hose','flare-6','female',8.7,1500.0,1.0,0.002,NULL,1);
INSERT INTO "layout_duty" VALUES(1,0,'hose-centre',0,'centre','feed','own-hose','flare-6','female',8.7,1500.0,1.0,0.002,NULL,0);
INSERT INTO "layout_duty" VALUES(1,0,'factory',0,'left','feed','factory-line',NULL,NULL,NULL,NULL,NULL,NULL,NULL,0);
INSERT INTO "layout_duty" VALUES(1,0,'factory',1,'right','feed','factory-line',NULL,NULL,NULL,NULL,NULL,NULL,NULL,0);
CREATE TABLE layout_duty_via (
	revision INTEGER NOT NULL, 
	position INTEGER NOT NULL, 
	layout VARCHAR NOT NULL, 
	placement INTEGER NOT NULL, 
	spot VARCHAR NOT NULL, 
	kind VARCHAR NOT NULL, 
	CONSTRAINT pk_layout_duty_via PRIMARY KEY (revision, layout, placement, spot, position), 
	CONSTRAINT fk_layout_duty_via_revision_layout_placement_spot FOREIGN KEY(revision, layout, placement, spot) REFERENCES layout_duty (revision, layout, placement, spot), 
	CONSTRAINT ck_layout_duty_via_kind CHECK ("kind" IN ('rail', 'fitting', 'plug', 'gauge', 'line', 'regulator', 'seal', 'fastener', 'spacer', 'clip', 'bracket', 'consumable'))
);
INSERT INTO "layout_duty_via" VALUES(1,0,'through-return',0,'right','regulator');
CREATE TABLE layout_placement (
	revision INTEGER NOT NULL, 
	position INTEGER NOT NULL, 
	layout VARCHAR NOT NULL, 
	CONSTRAINT pk_layout_placement PRIMARY KEY (revision, layout, position), 
	CONSTRAINT fk_layout_placement_revision_layout FOREIGN KEY(revision, layout) REFERENCES layout (revision, id)
);
INSERT INTO "layout_placement" VALUES(1,0,'linked-banks');
INSERT INTO "layout_placement" VALUES(1,0,'through-return');
INSERT INTO "layout_placement" VALUES(1,0,'hose-centre');
INSERT INTO "layout_placement" VALUES(1,0,'factory');
INSERT INTO "layout_placement" VALUES(1,1,'factory');
CREATE TABLE material (
	revision INTEGER NOT NULL, 
	position INTEGER NOT NULL, 
	id VARCHAR NOT NULL, 
	name VARCHAR NOT NULL, 
	min_c FLOAT NOT NULL, 
	max_c FLOAT NOT NULL, 
	source VARCHAR NOT NULL, conductivity_w_m_k FLOAT, expansion_1_k FLOAT, shear_mpa FLOAT, 
	CONSTRAINT pk_material PRIMARY KEY (revision, id), 
	CONSTRAINT fk_material_revision FOREIGN KEY(revision) REFERENCES revision (number)
);
INSERT INTO "material" VALUES(1,0,'steel','steel',-50.0,150.0,'for tests',50.0,1.17e-05,NULL);
INSERT INTO "material" VALUES(1,1,'phenolic','phenolic',-50.0,150.0,'for tests',0.35,4.0e-05,NULL);
INSERT INTO "material" VALUES(1,2,'fluorocarbon','Fluorocarbon rubber',-20.0,200.0,'figures for tests',NULL,NULL,NULL);
INSERT INTO "material" VALUES(1,3,'aluminium','Hard-anodised aluminium',-80.0,150.0,'figures for tests',167.0,2.36e-05,207.0);
CREATE TABLE material_rating (
	revision INTEGER NOT NULL, 
	position INTEGER NOT NULL, 
	material VARCHAR NOT NULL, 
	fuel VARCHAR NOT NULL, 
	rating VARCHAR NOT NULL, 
	CONSTRAINT pk_material_rating PRIMARY KEY (revision, material, fuel), 
	CONSTRAINT fk_material_rating_revision_material FOREIGN KEY(revision, material) REFERENCES material (revision, id), 
	CONSTRAINT fk_material_rating_revision_fuel FOREIGN KEY(revision, fuel) REFERENCES fuel (revision, id), 
	CONSTRAINT ck_material_rating_rating CHECK ("rating" IN ('A', 'B', 'C', 'D'))
);
INSERT INTO "material_rating" VALUES(1,0,'steel','petrol','A');
INSERT INTO "material_rating" VALUES(1,1,'steel','e85','A');
INSERT INTO "material_rating" VALUES(1,0,'phenolic','petrol','A');
INSERT INTO "material_rating" VALUES(1,1,'phenolic','e85','A');
INSERT INTO "material_rating" VALUES(1,0,'fluorocarbon','petrol','A');
INSERT INTO "material_rating" VALUES(1,1,'fluorocarbon','e85','A');
INSERT INTO "material_rating" VALUES(1,0,'aluminium','petrol','A');
INSERT INTO "material_rating" VALUES(1,1,'aluminium','e85','B');
CREATE TABLE order_batch (
	id VARCHAR NOT NULL, 
	revision INTEGER NOT NULL, 
	created_at DATETIME NOT NULL, 
	worker VARCHAR NOT NULL, 
	lease_ends DATETIME NOT NULL, 
	CONSTRAINT pk_order_batch PRIMARY KEY (id), 
	CONSTRAINT fk_order_batch_revision FOREIGN KEY(revision) REFERENCES revision (number)
);
INSERT INTO "order_batch" VALUES('a-batch',1,'2026-03-01 12:00:00.000000','worker','2026-03-01 12:00:00.000000');
CREATE TABLE order_check (
	id VARCHAR NOT NULL, 
	revision INTEGER NOT NULL, 
	request VARCHAR NOT NULL, 
	result VARCHAR NOT NULL, 
	created_at DATETIME NOT NULL, 
	idempotency_key VARCHAR, 
	body_digest VARCHAR NOT NULL, 
	CONSTRAINT pk_order_check PRIMARY KEY (id), 
	CONSTRAINT fk_order_check_revision FOREIGN KEY(revision) REFERENCES revision (number), 
	CONSTRAINT uq_order_check_idempotency_key UNIQUE (idempotency_key)
);
INSERT INTO "order_check" VALUES('a-check',1,'{"chassis":"x"}','{"verdict":"complete"}','2026-03-01 12:00:00.000000','key-1','0000000000000000000000000000000000000000000000000000000000000000');
CREATE TABLE port_gland (
	revision INTEGER NOT NULL, 
	position INTEGER NOT NULL, 
	standard VARCHAR NOT NULL, 
	inside_mm FLOAT NOT NULL, 
	outside_mm FLOAT NOT NULL, 
	depth_mm FLOAT NOT NULL, 
	diameter_tol_mm FLOAT NOT NULL, 
	depth_tol_mm FLOAT NOT NULL, source VARCHAR, 
	CONSTRAINT pk_port_gland PRIMARY KEY (revision, standard), 
	CONSTRAINT fk_port_gland_revision_standard FOREIGN KEY(revision, standard) REFERENCES port_standard (revision, id)
);
INSERT INTO "port_gland" VALUES(1,0,'boss-8',16.6,22.4,1.8,0.05,0.05,'figures for tests');
CREATE TABLE port_standard (
	revision INTEGER NOT NULL, 
	position INTEGER NOT NULL, 
	id VARCHAR NOT NULL, 
	name VARCHAR NOT NULL, 
	family VARCHAR NOT NULL, 
	size VARCHAR NOT NULL, 
	seal VARCHAR NOT NULL, 
	published VARCHAR NOT NULL, 
	joint VARCHAR NOT NULL, 
	CONSTRAINT pk_port_standard PRIMARY KEY (revision, id), 
	CONSTRAINT fk_port_standard_revision FOREIGN KEY(revision) REFERENCES revision (number), 
	CONSTRAINT fk_port_standard_revision_joint FOREIGN KEY(revision, joint) REFERENCES joint (revision, id), 
	CONSTRAINT ck_port_standard_seal CHECK ("seal" IN ('o-ring', 'cone', 'taper', 'bead'))
);
INSERT INTO "port_standard" VALUES(1,0,'boss-8','Straight-thread O-ring boss, size 8','boss','8','o-ring','SAE J1926-1','boss-8-torque');
INSERT INTO "port_standard" VALUES(1,1,'flare-6','37-degree flare, size 6','flare','6','cone','SAE J514','flare-turn');
INSERT INTO "port_standard" VALUES(1,2,'taper-1/8','Taper pipe thread, 1/8','taper','1/8','taper','ASME B1.20.1','taper-turns');
INSERT INTO "port_standard" VALUES(1,3,'quick-3/8','Quick connector, 3/8','quick','3/8','o-ring','SAE J2044','quick-click');
CREATE TABLE port_taper (
	revision INTEGER NOT NULL, 
	position INTEGER NOT NULL, 
	standard VARCHAR NOT NULL, 
	outside_mm FLOAT NOT NULL, 
	pitch_mm FLOAT NOT NULL, 
	hand_tight_mm FLOAT NOT NULL, 
	CONSTRAINT pk_port_taper PRIMARY KEY (revision, standard), 
	CONSTRAINT fk_port_taper_revision_standard FOREIGN KEY(revision, standard) REFERENCES port_standard (revision, id)
);
INSERT INTO "port_taper" VALUES(1,0,'taper-1/8',10.287,0.9407,4.102);
CREATE TABLE port_thread (
	revision INTEGER NOT NULL, 
	position INTEGER NOT NULL, 
	standard VARCHAR NOT NULL, 
	diameter_mm FLOAT NOT NULL, 
	pitch_mm FLOAT NOT NULL, 
	form VARCHAR NOT NULL, 
	CONSTRAINT pk_port_thread PRIMARY KEY (revision, standard), 
	CONSTRAINT ck_port_thread_form CHECK ("form" IN ('metric', 'unified')), 
	CONSTRAINT fk_port_thread_revision_standard FOREIGN KEY(revision, standard) REFERENCES port_standard (revision, id)
);
INSERT INTO "port_thread" VALUES(1,0,'boss-8',19.05,1.5875,'unified');
CREATE TABLE revision (
	number INTEGER NOT NULL, 
	created_at DATETIME NOT NULL, 
	digest VARCHAR NOT NULL, 
	format VARCHAR NOT NULL, 
	maker_name VARCHAR NOT NULL, 
	maker_currency VARCHAR NOT NULL, 
	max_chain INTEGER NOT NULL, 
	flow_margin FLOAT NOT NULL, 
	max_feed_drop_kpa FLOAT NOT NULL, 
	max_return_drop_kpa FLOAT NOT NULL, 
	max_velocity_m_s FLOAT NOT NULL, 
	recirculation FLOAT NOT NULL, 
	port_standard_count INTEGER NOT NULL, 
	joint_count INTEGER NOT NULL, 
	fuel_count INTEGER NOT NULL, 
	material_count INTEGER NOT NULL, 
	item_count INTEGER NOT NULL, 
	chassis_count INTEGER NOT NULL, 
	addon_count INTEGER NOT NULL, 
	layout_count INTEGER NOT NULL, vapour_margin_kpa FLOAT, seal_insertion_mm FLOAT, squeeze_min FLOAT, squeeze_max FLOAT, max_gland_fill FLOAT, max_proof_part FLOAT, max_spread_percent FLOAT, contract_case_count INTEGER, power_reserve FLOAT, 
	CONSTRAINT pk_revision PRIMARY KEY (number), 
	CONSTRAINT ck_revision_number CHECK (number BETWEEN 1 AND 2147483647)
);
INSERT INTO "revision" VALUES(1,'2026-03-01 12:00:00.000000','1352aaa52a54683214318e11ff852e83561ea5470c01f1917da8c3f8969f19c3','portwright-catalog/1','Ostrevale Fuelworks','OVC',4,1.25,40.0,30.0,6.0,2.0,4,5,2,4,14,2,1,4,20.0,1.0,0.08,0.4,0.95,0.75,1.0,2,0.15);
CREATE TABLE "short_link" (
	code VARCHAR NOT NULL, 
	"key" VARCHAR NOT NULL, 
	key_digest VARCHAR NOT NULL, 
	created_at DATETIME NOT NULL, 
	CONSTRAINT pk_short_link PRIMARY KEY (code), 
	CONSTRAINT uq_short_link_key_digest UNIQUE (key_digest)
);
INSERT INTO "short_link" VALUES('abcdefgh','a-key','2a8a1240f50636655520ac8ed22aa29473b8517b4abfdbc3bc03bcad73fc8849','2026-03-01 12:00:00.000000');
CREATE INDEX ix_inquiry_created_at_id ON inquiry (created_at, id);
CREATE INDEX ix_inquiry_missing ON inquiry (missing);
CREATE INDEX ix_order_batch_created_at ON order_batch (created_at);
CREATE INDEX ix_batch_order_batch_verdict ON batch_order (batch, verdict);
CREATE INDEX ix_order_check_created_at ON order_check (created_at);
CREATE INDEX ix_short_link_created_at ON short_link (created_at);
COMMIT;

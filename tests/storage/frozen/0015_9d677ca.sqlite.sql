BEGIN TRANSACTION;
CREATE TABLE access_key (
	id VARCHAR NOT NULL, 
	account VARCHAR NOT NULL, 
	role VARCHAR NOT NULL, 
	salt BLOB NOT NULL, 
	digest BLOB NOT NULL, 
	created_at DATETIME NOT NULL, 
	expires_at DATETIME, 
	revoked_at DATETIME, 
	used_at DATETIME, 
	CONSTRAINT pk_access_key PRIMARY KEY (id)
);
INSERT INTO "access_key" VALUES('0123456789','harbour','desk',X'73616C74',X'73616C74','2026-11-29 10:00:00.000000',NULL,NULL,NULL);
CREATE TABLE alembic_version (
	version_num VARCHAR(32) NOT NULL, 
	CONSTRAINT alembic_version_pkc PRIMARY KEY (version_num)
);
INSERT INTO "alembic_version" VALUES('0015');
CREATE TABLE asked_question (
	digest VARCHAR NOT NULL, 
	request VARCHAR NOT NULL, 
	times INTEGER NOT NULL, 
	asked_at DATETIME NOT NULL, 
	CONSTRAINT pk_asked_question PRIMARY KEY (digest), 
	CONSTRAINT ck_asked_question_times CHECK (times > 0)
);
INSERT INTO "asked_question" VALUES('d1','{}',3,'2026-11-29 10:00:00.000000');
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
CREATE TABLE catalog_object (
	section VARCHAR NOT NULL, 
	"key" VARCHAR NOT NULL, 
	since INTEGER NOT NULL, 
	until INTEGER, 
	position FLOAT NOT NULL, 
	document VARCHAR NOT NULL, 
	CONSTRAINT pk_catalog_object PRIMARY KEY (section, "key", since), 
	CONSTRAINT fk_catalog_object_since FOREIGN KEY(since) REFERENCES revision (number), 
	CONSTRAINT fk_catalog_object_until FOREIGN KEY(until) REFERENCES revision (number), 
	CONSTRAINT ck_catalog_object_until CHECK (until > since)
);
INSERT INTO "catalog_object" VALUES('maker','',1,NULL,1.0,'{"name":"Ostrevale Fuelworks","currency":"OVC"}');
INSERT INTO "catalog_object" VALUES('port_standards','boss-8',1,NULL,1.0,'{"id":"boss-8","name":"Straight-thread O-ring boss, size 8","family":"boss","size":"8","seal":"o-ring","published":"SAE J1926-1","joint":"boss-8-torque","thread":{"diameter_mm":19.05,"pitch_mm":1.5875,"form":"unified"},"gland":{"inside_mm":16.6,"outside_mm":22.4,"depth_mm":1.8,"diameter_tol_mm":0.05,"depth_tol_mm":0.05,"source":"figures for tests"}}');
INSERT INTO "catalog_object" VALUES('port_standards','flare-6',1,NULL,2.0,'{"id":"flare-6","name":"37-degree flare, size 6","family":"flare","size":"6","seal":"cone","published":"SAE J514","joint":"flare-turn"}');
INSERT INTO "catalog_object" VALUES('port_standards','taper-1/8',1,NULL,3.0,'{"id":"taper-1/8","name":"Taper pipe thread, 1/8","family":"taper","size":"1/8","seal":"taper","published":"ASME B1.20.1","joint":"taper-turns","taper":{"outside_mm":10.287,"pitch_mm":0.9407,"hand_tight_mm":4.102}}');
INSERT INTO "catalog_object" VALUES('port_standards','quick-3/8',1,NULL,4.0,'{"id":"quick-3/8","name":"Quick connector, 3/8","family":"quick","size":"3/8","seal":"o-ring","published":"SAE J2044","joint":"quick-click"}');
INSERT INTO "catalog_object" VALUES('joints','boss-8-torque',1,NULL,1.0,'{"id":"boss-8-torque","consumables":["SEALANT"],"spare_seal":"SEAL-B8","cautions":["Oil the seal before it goes in."],"source":"figures for tests","method":"torque","min_nm":34.0,"max_nm":42.0}');
INSERT INTO "catalog_object" VALUES('joints','flare-turn',1,NULL,2.0,'{"id":"flare-turn","consumables":["SEALANT"],"spare_seal":"SEAL-B8","cautions":["No sealant on a flare."],"source":"figures for tests","method":"past-hand-tight","min_deg":60.0,"max_deg":75.0}');
INSERT INTO "catalog_object" VALUES('joints','taper-turns',1,NULL,3.0,'{"id":"taper-turns","consumables":["SEALANT"],"spare_seal":"SEAL-B8","cautions":[],"source":"figures for tests","method":"turns-engaged","min_threads":4.0,"max_threads":6.0,"turns_past_hand":1.0}');
INSERT INTO "catalog_object" VALUES('joints','quick-click',1,NULL,4.0,'{"id":"quick-click","consumables":["SEALANT"],"spare_seal":"SEAL-B8","cautions":[],"source":"figures for tests","method":"push-to-click"}');
INSERT INTO "catalog_object" VALUES('joints','flange',1,NULL,5.0,'{"id":"flange","consumables":["SEALANT","SCREW-6","SEALANT"],"spare_seal":["SEAL-B8","SEALANT"],"cautions":["Zweite Zeile:\n\tmit \u201eZeichen\u201c \u71c3\u6599 \ud83d\udd27","","It''s \"quoted\" \\ %s ? :x"],"source":"figures for tests","method":"flange-to-face","min_nm":0.3333333333333333,"max_nm":8.1}');
INSERT INTO "catalog_object" VALUES('fuels','e85',1,NULL,1.0,'{"id":"e85","name":"E85","density_kg_m3":782.0,"viscosity_mpa_s":1.05,"stoich_afr":9.8,"bsfc_g_kwh":{"na":430.0,"boosted":510.0},"source":"rounded figures for tests","lhv_mj_kg":43.0,"cautions":["Keep it out of the sun."],"heat_capacity_j_kg_k":2100.0,"vapour":[{"c":20.0,"kpa_abs":35.0},{"c":37.8,"kpa_abs":60.0},{"c":80.0,"kpa_abs":190.0}]}');
INSERT INTO "catalog_object" VALUES('fuels','petrol',1,NULL,2.0,'{"id":"petrol","name":"Petrol","density_kg_m3":745.0,"viscosity_mpa_s":0.55,"stoich_afr":14.6,"bsfc_g_kwh":{"na":300.0,"boosted":360.0},"source":"rounded figures for tests","lhv_mj_kg":43.0,"cautions":["Keep it out of the sun."],"heat_capacity_j_kg_k":2100.0,"vapour":[{"c":20.0,"kpa_abs":35.0},{"c":37.8,"kpa_abs":60.0},{"c":80.0,"kpa_abs":190.0}],"aliases":["first of the fuels","\u2116 1"]}');
INSERT INTO "catalog_object" VALUES('materials','steel',1,NULL,1.0,'{"id":"steel","name":"steel","ratings":{"petrol":"A","e85":"A"},"min_c":-50.0,"max_c":150.0,"source":"for tests","conductivity_w_m_k":50.0,"expansion_1_k":1.17e-05}');
INSERT INTO "catalog_object" VALUES('materials','phenolic',1,NULL,2.0,'{"id":"phenolic","name":"phenolic","ratings":{"petrol":"A","e85":"A"},"min_c":-50.0,"max_c":150.0,"source":"for tests","conductivity_w_m_k":0.35,"expansion_1_k":4e-05}');
INSERT INTO "catalog_object" VALUES('materials','fluorocarbon',1,NULL,3.0,'{"id":"fluorocarbon","name":"Fluorocarbon rubber","ratings":{"petrol":"A","e85":"A"},"min_c":-20.0,"max_c":200.0,"source":"figures for tests"}');
INSERT INTO "catalog_object" VALUES('materials','aluminium',1,NULL,4.0,'{"id":"aluminium","name":"Hard-anodised aluminium","ratings":{"petrol":"A","e85":"B"},"min_c":-80.0,"max_c":150.0,"source":"figures for tests","conductivity_w_m_k":167.0,"expansion_1_k":2.36e-05,"shear_mpa":207.0,"aliases":["first of the materials","\u2116 1"]}');
INSERT INTO "catalog_object" VALUES('items','screw-6',1,NULL,1.0,'{"sku":"screw-6","name":"Screw, M6 x 25, earlier thread","kind":"spacer","sold":true,"status":"retired","superseded_by":"SCREW-6","price":1000000000000,"stock":1000000000,"lead_days":3,"mass_g":0.30000000000000004,"ports":[],"wetted":[],"spacer":{"height_mm":5.0,"height_tol_mm":0.05,"outside_mm":14.0,"inside_mm":6.4,"material":"phenolic"}}');
INSERT INTO "catalog_object" VALUES('items','RAIL-S',1,NULL,2.0,'{"sku":"RAIL-S","name":"Fuel rail, slate","kind":"rail","family":"rail","finish":"slate","sold":true,"status":"active","price":18900,"stock":6,"lead_days":10,"mass_g":640.0,"ports":[{"id":"l","standard":"boss-8","end":"female","spot":"left"},{"id":"c","standard":"boss-8","end":"female","spot":"centre"},{"id":"r","standard":"boss-8","end":"female","spot":"right"},{"id":"t","standard":"taper-1/8","end":"female","spot":"top"}],"wetted":["aluminium"],"max_kpa":1000.0,"flow":{"bore_mm":16.0,"length_mm":380.0,"loss_k":0.5,"roughness_mm":0.002},"patterns":["straight-four","broad-six"],"supplied":[{"sku":"PLUG-T","qty":1,"spot":"top"},{"sku":"SCREW-6","qty":2,"role":"rail-screw"}],"seats":{"roof_mm":20.0,"roof_tol_mm":0.1,"cup_depth_mm":8.0,"foot_mm":8.0,"material":"aluminium"},"injector_positions_mm":[40.0,120.0,200.0,280.0],"spot_positions_mm":{"left":0.0,"centre":160.0,"right":320.0},"aliases":["first of the items","\u2116 1"]}');
INSERT INTO "catalog_object" VALUES('items','PLUG-B8',1,NULL,3.0,'{"sku":"PLUG-B8","name":"Plug for a size-8 boss","kind":"plug","sold":true,"status":"active","price":900,"stock":25,"lead_days":3,"mass_g":20.0,"ports":[{"id":"a","standard":"boss-8","end":"male"}],"wetted":["aluminium","fluorocarbon"],"max_kpa":1000.0,"standout_mm":8.0,"across_mm":24.0}');
INSERT INTO "catalog_object" VALUES('items','PLUG-T',1,NULL,4.0,'{"sku":"PLUG-T","name":"Plug for a 1/8 taper thread","kind":"plug","sold":true,"status":"active","price":400,"stock":25,"lead_days":3,"mass_g":20.0,"ports":[{"id":"a","standard":"taper-1/8","end":"male"}],"wetted":["aluminium"],"max_kpa":1000.0,"standout_mm":3.0,"across_mm":12.0}');
INSERT INTO "catalog_object" VALUES('items','ADAPT-B8-F6',1,NULL,5.0,'{"sku":"ADAPT-B8-F6","name":"Adapter, size-8 boss to size-6 flare","kind":"fitting","sold":true,"status":"active","price":1500,"stock":25,"lead_days":3,"mass_g":20.0,"ports":[{"id":"a","standard":"boss-8","end":"male"},{"id":"b","standard":"flare-6","end":"male"}],"wetted":["aluminium","fluorocarbon"],"max_kpa":1000.0,"standout_mm":26.0,"across_mm":25.0,"hex_mm":22.0,"flow":{"bore_mm":7.5,"length_mm":40.0,"loss_k":0.4,"roughness_mm":0.002}}');
INSERT INTO "catalog_object" VALUES('items','SPIGOT-B8-Q',1,NULL,6.0,'{"sku":"SPIGOT-B8-Q","name":"Spigot, size-8 boss to 3/8 quick connector","kind":"fitting","sold":true,"status":"active","price":2100,"stock":25,"lead_days":3,"mass_g":20.0,"ports":[{"id":"a","standard":"boss-8","end":"male"},{"id":"b","standard":"quick-3/8","end":"male"}],"wetted":["aluminium","fluorocarbon"],"max_kpa":1000.0,"standout_mm":30.0,"across_mm":25.0,"flow":{"bore_mm":7.5,"length_mm":45.0,"loss_k":0.4,"roughness_mm":0.002}}');
INSERT INTO "catalog_object" VALUES('items','GAUGE-T',1,NULL,7.0,'{"sku":"GAUGE-T","name":"Pressure gauge, 0 to 700 kPa","kind":"gauge","sold":true,"status":"active","price":3900,"stock":25,"lead_days":3,"mass_g":20.0,"ports":[{"id":"a","standard":"taper-1/8","end":"male"}],"wetted":["aluminium"],"max_kpa":700.0,"standout_mm":48.0,"across_mm":40.0}');
INSERT INTO "catalog_object" VALUES('items','LINE-F6',1,NULL,8.0,'{"sku":"LINE-F6","name":"Link line, size-6 flare, 400 mm","kind":"line","sold":true,"status":"active","price":4600,"stock":25,"lead_days":3,"mass_g":20.0,"ports":[{"id":"a","standard":"flare-6","end":"female"},{"id":"b","standard":"flare-6","end":"female"}],"wetted":["aluminium","fluorocarbon"],"max_kpa":1000.0,"across_mm":19.0,"flow":{"bore_mm":8.7,"length_mm":400.0,"loss_k":0.9,"roughness_mm":0.002}}');
INSERT INTO "catalog_object" VALUES('items','REG-F6',1,NULL,9.0,'{"sku":"REG-F6","name":"Pressure regulator with a gauge port","kind":"regulator","sold":true,"status":"active","price":9800,"stock":25,"lead_days":3,"mass_g":20.0,"ports":[{"id":"in","standard":"flare-6","end":"female"},{"id":"out","standard":"flare-6","end":"male"},{"id":"gauge","standard":"taper-1/8","end":"female"}],"wetted":["aluminium","fluorocarbon"],"max_kpa":1000.0,"standout_mm":55.0,"across_mm":42.0,"flow":{"bore_mm":7.0,"length_mm":60.0,"loss_k":2.0,"roughness_mm":0.002},"regulates":{"min_kpa":200.0,"max_kpa":500.0,"follows":"manifold"}}');
INSERT INTO "catalog_object" VALUES('items','SEAL-B8',1,NULL,10.0,'{"sku":"SEAL-B8","name":"Seal for a size-8 boss","kind":"seal","sold":true,"status":"active","price":150,"stock":25,"lead_days":3,"mass_g":20.0,"ports":[],"wetted":["fluorocarbon"],"ring":{"inside_mm":16.36,"section_mm":2.21,"inside_tol_mm":0.23,"section_tol_mm":0.08}}');
INSERT INTO "catalog_object" VALUES('items','SEALANT',1,NULL,11.0,'{"sku":"SEALANT","name":"Thread sealant, 10 ml","kind":"consumable","sold":true,"status":"active","price":700,"stock":25,"lead_days":3,"mass_g":20.0,"ports":[],"wetted":[]}');
INSERT INTO "catalog_object" VALUES('items','SCREW-6',1,NULL,12.0,'{"sku":"SCREW-6","name":"Screw, M6 x 25","kind":"fastener","sold":true,"status":"active","price":80,"stock":25,"lead_days":3,"mass_g":20.0,"ports":[],"wetted":[],"drive":"hex key 5 mm","screw":{"thread":{"diameter_mm":6.0,"pitch_mm":1.0,"form":"metric"},"strength_class":"8.8","length_mm":25.0,"torque_nm":{"min":8.0,"max":9.0},"nut_factor":{"min":0.18,"max":0.22},"material":"steel"}}');
INSERT INTO "catalog_object" VALUES('items','SCREW-6-LONG',1,NULL,13.0,'{"sku":"SCREW-6-LONG","name":"Screw, M6 x 40","kind":"fastener","sold":true,"status":"active","price":110,"stock":25,"lead_days":3,"mass_g":20.0,"ports":[],"wetted":[],"screw":{"thread":{"diameter_mm":6.0,"pitch_mm":1.0,"form":"metric"},"strength_class":"10.9","length_mm":40.0,"torque_nm":{"min":8.0,"max":9.0},"nut_factor":{"min":0.18,"max":0.22},"material":"steel"}}');
INSERT INTO "catalog_object" VALUES('items','SPACER-5',1,NULL,14.0,'{"sku":"SPACER-5","name":"Spacer, 5 mm","kind":"spacer","sold":true,"status":"active","price":260,"stock":25,"lead_days":3,"mass_g":20.0,"ports":[],"wetted":[],"spacer":{"height_mm":5.0,"height_tol_mm":0.05,"outside_mm":14.0,"inside_mm":6.4,"material":"phenolic"}}');
INSERT INTO "catalog_object" VALUES('chassis','brook',1,NULL,1.0,'{"id":"brook","name":"Brook hatchback","engine":"1.6 l straight four","cylinders":4,"banks":1,"pattern":"straight-four","base_kpa":300.0,"stock_kw":90.0,"hookups":[{"id":"factory-line","standard":"quick-3/8","end":"female","flow":{"bore_mm":7.5,"length_mm":900.0,"loss_k":1.0,"roughness_mm":0.002},"spots":{"left":{"min_mm":20.0,"max_mm":40.0}}}],"clearances":[{"spot":"centre","axial_mm":120.0,"across_mm":60.0}],"mounting":[{"role":"rail-screw","sku":"SCREW-6","qty":2},{"role":"rail-spacer","sku":"SPACER-5","qty":2,"optional":true}],"pump":[{"kpa":0.0,"l_h":180.0},{"kpa":300.0,"l_h":140.0},{"kpa":600.0,"l_h":80.0}],"pump_v":{"rated":12.0,"fed":13.5},"injectors":{"static_l_h":20.0,"rated_kpa":300.0,"max_duty":0.85,"length_mm":60.0,"length_tol_mm":0.1,"upper_ring_mm":3.5,"lower_ring_mm":4.0,"bore_mm":13.5,"material":"steel"},"regulator":{"at":"rail","follows":"manifold"},"manifold":{"seat_mm":-35.7,"seat_tol_mm":0.1,"thread_mm":14.0,"material":"aluminium","cold_c":-20.0,"hot_c":110.0},"tank":{"fuel_c":35.0,"soak_c":70.0,"lift_m":-0.2,"inlet_loss_kpa":3.0,"rest_kpa":250.0},"aliases":["first of the chassis","\u2116 1"]}');
INSERT INTO "catalog_object" VALUES('chassis','heron',1,NULL,2.0,'{"id":"heron","name":"Heron coupe","engine":"3.0 l six, two banks","cylinders":6,"banks":2,"pattern":"broad-six","base_kpa":350.0,"stock_kw":170.0,"hookups":[{"id":"factory-line","standard":"quick-3/8","end":"female","spots":{"1.left":{"min_mm":20.0,"max_mm":40.0}}}],"clearances":[{"spot":"2.top","axial_mm":30.0}],"mounting":[{"role":"rail-screw","sku":"SCREW-6","qty":4}],"pump":[{"kpa":0.0,"l_h":180.0},{"kpa":300.0,"l_h":140.0},{"kpa":600.0,"l_h":80.0}],"pump_v":{"rated":12.0,"fed":13.5},"injectors":{"static_l_h":20.0,"rated_kpa":300.0,"max_duty":0.85,"length_mm":60.0,"length_tol_mm":0.1,"upper_ring_mm":3.5,"lower_ring_mm":4.0,"bore_mm":13.5,"material":"steel"},"regulator":{"at":"rail","follows":"manifold"},"manifold":{"seat_mm":-35.7,"seat_tol_mm":0.1,"thread_mm":14.0,"material":"aluminium","cold_c":-20.0,"hot_c":110.0},"tank":{"fuel_c":35.0,"soak_c":70.0,"lift_m":-0.2,"inlet_loss_kpa":3.0,"rest_kpa":250.0}}');
INSERT INTO "catalog_object" VALUES('addons','blower',1,NULL,1.0,'{"id":"blower","name":"Belt-driven blower","chassis":["brook"],"boost_kpa":60.0,"clearances":[{"spot":"right","axial_mm":35.0}],"mounting":[{"role":"rail-screw","sku":"SCREW-6-LONG","qty":2}],"raises_seat_mm":15.0,"aliases":["first of the addons","\u2116 1"]}');
INSERT INTO "catalog_object" VALUES('layouts','linked-banks',1,NULL,1.0,'{"id":"linked-banks","name":"Factory line, banks linked","summary":"The car''s own line feeds the first bank; a line leads on to the second.","banks":2,"placements":[{"1.left":{"duty":"feed","hookup":{"kind":"factory-line"}},"1.right":{"duty":"link","to_spot":"2.right"},"2.right":{"duty":"link","to_spot":"1.right"}}]}');
INSERT INTO "catalog_object" VALUES('layouts','through-return',1,NULL,2.0,'{"id":"through-return","name":"Through flow with return","summary":"Fuel enters at one side and leaves at the other through a regulator on the rail.","banks":1,"placements":[{"left":{"duty":"feed","hookup":{"kind":"own-hose","standard":"flare-6","end":"female","flow":{"bore_mm":8.7,"length_mm":1500.0,"loss_k":1.0,"roughness_mm":0.002}}},"right":{"duty":"return","hookup":{"kind":"own-hose","standard":"flare-6","end":"female","flow":{"bore_mm":8.7,"length_mm":1500.0,"loss_k":1.0,"roughness_mm":0.002}},"via":["regulator"]}}]}');
INSERT INTO "catalog_object" VALUES('layouts','hose-centre',1,NULL,3.0,'{"id":"hose-centre","name":"Own hose to the centre","summary":"A size-6 hose feeds the middle of the rail; nothing returns.","banks":1,"placements":[{"centre":{"duty":"feed","hookup":{"kind":"own-hose","standard":"flare-6","end":"female","flow":{"bore_mm":8.7,"length_mm":1500.0,"loss_k":1.0,"roughness_mm":0.002}}}}]}');
INSERT INTO "catalog_object" VALUES('layouts','factory',1,NULL,4.0,'{"id":"factory","name":"Factory line","summary":"The car''s own line feeds one side of the rail.","banks":1,"placements":[{"left":{"duty":"feed","hookup":{"kind":"factory-line"}}},{"right":{"duty":"feed","hookup":{"kind":"factory-line"}}}],"aliases":["first of the layouts","\u2116 1"]}');
INSERT INTO "catalog_object" VALUES('policies','',1,NULL,1.0,'{"max_chain":4,"flow_margin":1.25,"max_feed_drop_kpa":40.0,"max_return_drop_kpa":30.0,"max_velocity_m_s":6.0,"recirculation":2.0,"vapour_margin_kpa":20.0,"seal_insertion_mm":1.0,"squeeze":{"min":0.08,"max":0.4},"max_gland_fill":0.95,"max_proof_part":0.75,"max_spread_percent":1.0,"power_reserve":0.15}');
INSERT INTO "catalog_object" VALUES('contract_cases','z-full',1,NULL,1.0,'{"id":"z-full","says":"Everything, \u201etold\u201c.","request":{"chassis":"brook","layout":"hose-centre","fuel":"petrol","power_kw":80.5,"pump_l_h":120.0,"pump":[{"kpa":0.0,"l_h":180.0},{"kpa":400.0,"l_h":120.0}],"pump_v":{"rated":12.0,"fed":13.5},"regulator":{"set_kpa":350.0,"follows":"atmosphere"},"injectors":{"static_l_h":32.5,"rated_kpa":300.0,"max_duty":0.8},"feed_hose_m":1.5,"return_hose_m":0.1,"boost_kpa":20.0,"addons":["blower"],"clearances":[{"spot":"top","axial_mm":80.0,"across_mm":40.0},{"spot":"left"}],"gauge":"any","finish":"satin","exclude":["SCREW-6"],"in_stock_only":true,"allow_unsold":false,"max_price":1000000000000,"have":[{"sku":"SEALANT","qty":2}],"own_rail":{"top":{"standard":"boss-8","end":"female"},"left":{"standard":"boss-8","end":"female"}},"limit":3,"group_variants":false,"order_by":"lead"},"promises":{"has_bill":true,"contains":["SEALANT","RAIL-S"],"never_contains":["SEAL-B8"],"price":{"at_least":0,"at_most":1000000000000},"keyed":true}}');
INSERT INTO "catalog_object" VALUES('contract_cases','a-bare',1,NULL,2.0,'{"id":"a-bare","says":"","request":{"chassis":"brook","layout":"hose-centre"},"promises":{"has_bill":false}}');
CREATE TABLE catalog_trail (
	number INTEGER NOT NULL, 
	done_at DATETIME NOT NULL, 
	author VARCHAR, 
	what VARCHAR NOT NULL, 
	reason VARCHAR, 
	draft VARCHAR, 
	version INTEGER, 
	section VARCHAR, 
	"key" VARCHAR, 
	fields VARCHAR, 
	document VARCHAR, 
	revision INTEGER, 
	CONSTRAINT pk_catalog_trail PRIMARY KEY (number)
);
INSERT INTO "catalog_trail" VALUES(1,'2026-03-01 12:00:00.000000',NULL,'imported',NULL,NULL,NULL,NULL,NULL,NULL,NULL,1);
CREATE TABLE "draft" (
	number INTEGER NOT NULL, 
	id VARCHAR NOT NULL, 
	name VARCHAR NOT NULL, 
	author VARCHAR, 
	base INTEGER NOT NULL, 
	version INTEGER NOT NULL, 
	created_at DATETIME NOT NULL, 
	changed_at DATETIME NOT NULL, 
	published INTEGER, 
	account VARCHAR NOT NULL, 
	CONSTRAINT pk_draft PRIMARY KEY (number), 
	CONSTRAINT ck_draft_version CHECK (version >= 0), 
	CONSTRAINT uq_draft_id UNIQUE (id), 
	CONSTRAINT fk_draft_published FOREIGN KEY(published) REFERENCES revision (number), 
	CONSTRAINT fk_draft_base FOREIGN KEY(base) REFERENCES revision (number)
);
INSERT INTO "draft" VALUES(1,'a-draft','one','Ottilie',1,1,'2026-03-01 12:00:00.000000','2026-03-01 12:00:00.000000',NULL,'');
CREATE TABLE draft_object (
	draft INTEGER NOT NULL, 
	section VARCHAR NOT NULL, 
	"key" VARCHAR NOT NULL, 
	what VARCHAR NOT NULL, 
	document VARCHAR, 
	version INTEGER NOT NULL, 
	author VARCHAR, 
	changed_at DATETIME NOT NULL, 
	CONSTRAINT pk_draft_object PRIMARY KEY (draft, section, "key"), 
	CONSTRAINT fk_draft_object_draft FOREIGN KEY(draft) REFERENCES draft (number) ON DELETE CASCADE, 
	CONSTRAINT ck_draft_object_what CHECK (what IN ('added', 'changed', 'removed'))
);
INSERT INTO "draft_object" VALUES(1,'items','RAIL-S','removed',NULL,1,'Ottilie','2026-03-01 12:00:00.000000');
CREATE TABLE impact_part (
	sweep VARCHAR NOT NULL, 
	"key" VARCHAR NOT NULL, 
	found VARCHAR NOT NULL, 
	CONSTRAINT pk_impact_part PRIMARY KEY (sweep, "key"), 
	CONSTRAINT fk_impact_part_sweep FOREIGN KEY(sweep) REFERENCES impact_sweep (id) ON DELETE CASCADE
);
INSERT INTO "impact_part" VALUES('sweep','k','{}');
CREATE TABLE impact_sweep (
	id VARCHAR NOT NULL, 
	"before" VARCHAR NOT NULL, 
	"after" VARCHAR NOT NULL, 
	before_name VARCHAR NOT NULL, 
	after_name VARCHAR NOT NULL, 
	created_at DATETIME NOT NULL, 
	status VARCHAR NOT NULL, 
	total INTEGER, 
	worker VARCHAR NOT NULL, 
	lease_ends DATETIME NOT NULL, 
	CONSTRAINT pk_impact_sweep PRIMARY KEY (id), 
	CONSTRAINT ck_impact_sweep_status CHECK (status IN ('running', 'done', 'cancelled'))
);
INSERT INTO "impact_sweep" VALUES('sweep','b','a','1','2','2026-11-29 10:00:00.000000','done',1,'w','2026-11-29 10:00:00.000000');
CREATE TABLE "inquiry" (
	id VARCHAR NOT NULL, 
	revision INTEGER NOT NULL, 
	document VARCHAR NOT NULL, 
	missing VARCHAR NOT NULL, 
	contact VARCHAR NOT NULL, 
	note VARCHAR NOT NULL, 
	created_at DATETIME NOT NULL, 
	idempotency_key VARCHAR, 
	body_digest VARCHAR NOT NULL, 
	status VARCHAR NOT NULL, 
	reply VARCHAR, 
	answered_at DATETIME, 
	account VARCHAR NOT NULL, 
	CONSTRAINT pk_inquiry PRIMARY KEY (id), 
	CONSTRAINT ck_inquiry_status CHECK (status IN ('open', 'answered', 'closed')), 
	CONSTRAINT fk_inquiry_revision FOREIGN KEY(revision) REFERENCES revision (number), 
	CONSTRAINT uq_inquiry_account_idempotency_key UNIQUE (account, idempotency_key)
);
INSERT INTO "inquiry" VALUES('an-inquiry',1,'{"id":"an-inquiry"}','room','nobody@example.org','','2026-03-01 12:00:00.000000','key-1','0000000000000000000000000000000000000000000000000000000000000000','open',NULL,NULL,'');
CREATE TABLE "order_batch" (
	id VARCHAR NOT NULL, 
	revision INTEGER NOT NULL, 
	created_at DATETIME NOT NULL, 
	worker VARCHAR NOT NULL, 
	lease_ends DATETIME NOT NULL, 
	account VARCHAR NOT NULL, 
	CONSTRAINT pk_order_batch PRIMARY KEY (id), 
	CONSTRAINT fk_order_batch_revision FOREIGN KEY(revision) REFERENCES revision (number)
);
INSERT INTO "order_batch" VALUES('a-batch',1,'2026-03-01 12:00:00.000000','worker','2026-03-01 12:00:00.000000','');
CREATE TABLE "order_check" (
	id VARCHAR NOT NULL, 
	revision INTEGER NOT NULL, 
	request VARCHAR NOT NULL, 
	result VARCHAR NOT NULL, 
	created_at DATETIME NOT NULL, 
	idempotency_key VARCHAR, 
	body_digest VARCHAR NOT NULL, 
	account VARCHAR NOT NULL, 
	CONSTRAINT pk_order_check PRIMARY KEY (id), 
	CONSTRAINT fk_order_check_revision FOREIGN KEY(revision) REFERENCES revision (number), 
	CONSTRAINT uq_order_check_account_idempotency_key UNIQUE (account, idempotency_key)
);
INSERT INTO "order_check" VALUES('a-check',1,'{"chassis":"x"}','{"verdict":"complete"}','2026-03-01 12:00:00.000000','key-1','0000000000000000000000000000000000000000000000000000000000000000','');
CREATE TABLE "order_reading" (
	id VARCHAR NOT NULL, 
	created_at DATETIME NOT NULL, 
	document VARCHAR NOT NULL, 
	account VARCHAR NOT NULL, 
	CONSTRAINT pk_order_reading PRIMARY KEY (id)
);
INSERT INTO "order_reading" VALUES('a-reading','2026-03-01 12:00:00.000000','{"lines":[]}','');
CREATE TABLE partner_case (
	account VARCHAR NOT NULL, 
	id VARCHAR NOT NULL, 
	document VARCHAR NOT NULL, 
	body VARCHAR, 
	created_at DATETIME NOT NULL, 
	CONSTRAINT pk_partner_case PRIMARY KEY (account, id)
);
INSERT INTO "partner_case" VALUES('harbour','one','{}',NULL,'2026-11-29 10:00:00.000000');
CREATE TABLE revision (
	number INTEGER NOT NULL, 
	created_at DATETIME NOT NULL, 
	digest VARCHAR NOT NULL, 
	maker_name VARCHAR NOT NULL, 
	counts VARCHAR NOT NULL, 
	author VARCHAR, 
	reason VARCHAR, 
	accept VARCHAR, 
	CONSTRAINT pk_revision PRIMARY KEY (number), 
	CONSTRAINT ck_revision_number CHECK (number BETWEEN 1 AND 2147483647)
);
INSERT INTO "revision" VALUES(1,'2026-03-01 12:00:00.000000','7959469c973061522276d628ca0f6cd34c5731f43215b820c4936927804c9658','Ostrevale Fuelworks','{"port_standards": 4, "joints": 5, "fuels": 2, "materials": 4, "items": 14, "chassis": 2, "addons": 1, "layouts": 4, "contract_cases": 2}',NULL,NULL,NULL);
CREATE TABLE short_link (
	code VARCHAR NOT NULL, 
	"key" VARCHAR NOT NULL, 
	key_digest VARCHAR NOT NULL, 
	created_at DATETIME NOT NULL, 
	CONSTRAINT pk_short_link PRIMARY KEY (code), 
	CONSTRAINT uq_short_link_key_digest UNIQUE (key_digest)
);
INSERT INTO "short_link" VALUES('abcdefgh','a-key','2a8a1240f50636655520ac8ed22aa29473b8517b4abfdbc3bc03bcad73fc8849','2026-03-01 12:00:00.000000');
CREATE TABLE sign_in (
	number INTEGER NOT NULL, 
	at DATETIME NOT NULL, 
	"key" VARCHAR NOT NULL, 
	account VARCHAR NOT NULL, 
	what VARCHAR NOT NULL, 
	CONSTRAINT pk_sign_in PRIMARY KEY (number)
);
INSERT INTO "sign_in" VALUES(1,'2026-11-29 10:00:00.000000','0123456789','harbour','signed in');
CREATE INDEX ix_catalog_trail_draft_number ON catalog_trail (draft, number);
CREATE INDEX ix_short_link_created_at ON short_link (created_at);
CREATE INDEX ix_catalog_object_until ON catalog_object (until);
CREATE INDEX ix_batch_order_batch_verdict ON batch_order (batch, verdict);
CREATE INDEX ix_asked_question_asked_at_digest ON asked_question (asked_at, digest);
CREATE INDEX ix_impact_sweep_created_at ON impact_sweep (created_at);
CREATE INDEX ix_impact_sweep_before_after ON impact_sweep ("before", "after");
CREATE INDEX ix_access_key_created_at ON access_key (created_at);
CREATE INDEX ix_sign_in_at ON sign_in (at);
CREATE INDEX ix_order_check_created_at ON order_check (created_at);
CREATE INDEX ix_inquiry_created_at_id ON inquiry (created_at, id);
CREATE INDEX ix_inquiry_missing ON inquiry (missing);
CREATE INDEX ix_order_batch_created_at ON order_batch (created_at);
CREATE INDEX ix_order_reading_created_at ON order_reading (created_at);
COMMIT;

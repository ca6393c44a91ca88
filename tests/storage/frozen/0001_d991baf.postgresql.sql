CREATE TABLE addon (
    revision integer NOT NULL,
    "position" integer NOT NULL,
    id character varying NOT NULL,
    name character varying NOT NULL,
    boost_kpa double precision NOT NULL
);
CREATE TABLE addon_chassis (
    revision integer NOT NULL,
    "position" integer NOT NULL,
    addon character varying NOT NULL,
    chassis character varying NOT NULL
);
CREATE TABLE addon_clearance (
    revision integer NOT NULL,
    "position" integer NOT NULL,
    addon character varying NOT NULL,
    spot character varying NOT NULL,
    axial_mm double precision,
    across_mm double precision,
    CONSTRAINT ck_addon_clearance_ck_addon_clearance_spot CHECK (((spot)::text = ANY ((ARRAY['left'::character varying, 'centre'::character varying, 'right'::character varying, 'top'::character varying, '1.left'::character varying, '1.centre'::character varying, '1.right'::character varying, '1.top'::character varying, '2.left'::character varying, '2.centre'::character varying, '2.right'::character varying, '2.top'::character varying])::text[])))
);
CREATE TABLE addon_mounting (
    revision integer NOT NULL,
    "position" integer NOT NULL,
    addon character varying NOT NULL,
    role character varying NOT NULL,
    sku character varying NOT NULL,
    qty integer NOT NULL,
    CONSTRAINT ck_addon_mounting_ck_addon_mounting_qty CHECK ((qty >= 1))
);
CREATE TABLE alembic_version (
    version_num character varying(32) NOT NULL
);
CREATE TABLE chassis (
    revision integer NOT NULL,
    "position" integer NOT NULL,
    id character varying NOT NULL,
    name character varying NOT NULL,
    engine character varying NOT NULL,
    cylinders integer NOT NULL,
    banks integer NOT NULL,
    pattern character varying NOT NULL,
    base_kpa double precision NOT NULL,
    stock_kw double precision NOT NULL,
    CONSTRAINT ck_chassis_ck_chassis_banks CHECK ((banks >= 1)),
    CONSTRAINT ck_chassis_ck_chassis_cylinders CHECK ((cylinders >= 1))
);
CREATE TABLE chassis_clearance (
    revision integer NOT NULL,
    "position" integer NOT NULL,
    chassis character varying NOT NULL,
    spot character varying NOT NULL,
    axial_mm double precision,
    across_mm double precision,
    CONSTRAINT ck_chassis_clearance_ck_chassis_clearance_spot CHECK (((spot)::text = ANY ((ARRAY['left'::character varying, 'centre'::character varying, 'right'::character varying, 'top'::character varying, '1.left'::character varying, '1.centre'::character varying, '1.right'::character varying, '1.top'::character varying, '2.left'::character varying, '2.centre'::character varying, '2.right'::character varying, '2.top'::character varying])::text[])))
);
CREATE TABLE chassis_hookup (
    revision integer NOT NULL,
    "position" integer NOT NULL,
    chassis character varying NOT NULL,
    id character varying NOT NULL,
    standard character varying NOT NULL,
    "end" character varying NOT NULL,
    flow_bore_mm double precision,
    flow_length_mm double precision,
    flow_loss_k double precision,
    flow_roughness_mm double precision,
    has_spots boolean NOT NULL,
    CONSTRAINT ck_chassis_hookup_ck_chassis_hookup_end CHECK ((("end")::text = ANY ((ARRAY['male'::character varying, 'female'::character varying])::text[]))),
    CONSTRAINT ck_chassis_hookup_ck_chassis_hookup_flow_whole CHECK ((((flow_bore_mm IS NULL) = (flow_length_mm IS NULL)) AND ((flow_bore_mm IS NULL) = (flow_loss_k IS NULL)) AND ((flow_bore_mm IS NULL) = (flow_roughness_mm IS NULL))))
);
CREATE TABLE chassis_hookup_reach (
    revision integer NOT NULL,
    "position" integer NOT NULL,
    chassis character varying NOT NULL,
    hookup character varying NOT NULL,
    spot character varying NOT NULL,
    min_mm double precision NOT NULL,
    max_mm double precision NOT NULL,
    CONSTRAINT ck_chassis_hookup_reach_ck_chassis_hookup_reach_spot CHECK (((spot)::text = ANY ((ARRAY['left'::character varying, 'centre'::character varying, 'right'::character varying, 'top'::character varying, '1.left'::character varying, '1.centre'::character varying, '1.right'::character varying, '1.top'::character varying, '2.left'::character varying, '2.centre'::character varying, '2.right'::character varying, '2.top'::character varying])::text[])))
);
CREATE TABLE chassis_mounting (
    revision integer NOT NULL,
    "position" integer NOT NULL,
    chassis character varying NOT NULL,
    role character varying NOT NULL,
    sku character varying NOT NULL,
    qty integer NOT NULL,
    optional boolean,
    CONSTRAINT ck_chassis_mounting_ck_chassis_mounting_qty CHECK ((qty >= 1))
);
CREATE TABLE fuel (
    revision integer NOT NULL,
    "position" integer NOT NULL,
    id character varying NOT NULL,
    name character varying NOT NULL,
    density_kg_m3 double precision NOT NULL,
    viscosity_mpa_s double precision NOT NULL,
    stoich_afr double precision NOT NULL,
    bsfc_na_g_kwh double precision NOT NULL,
    bsfc_boosted_g_kwh double precision NOT NULL,
    source character varying NOT NULL
);
CREATE TABLE item (
    revision integer NOT NULL,
    "position" integer NOT NULL,
    sku character varying NOT NULL,
    name character varying NOT NULL,
    kind character varying NOT NULL,
    family character varying,
    finish character varying,
    sold boolean NOT NULL,
    status character varying NOT NULL,
    superseded_by character varying,
    price bigint NOT NULL,
    stock integer NOT NULL,
    lead_days integer NOT NULL,
    mass_g double precision NOT NULL,
    max_kpa double precision,
    standout_mm double precision,
    across_mm double precision,
    flow_bore_mm double precision,
    flow_length_mm double precision,
    flow_loss_k double precision,
    flow_roughness_mm double precision,
    has_patterns boolean NOT NULL,
    has_supplied boolean NOT NULL,
    CONSTRAINT ck_item_ck_item_flow_whole CHECK ((((flow_bore_mm IS NULL) = (flow_length_mm IS NULL)) AND ((flow_bore_mm IS NULL) = (flow_loss_k IS NULL)) AND ((flow_bore_mm IS NULL) = (flow_roughness_mm IS NULL)))),
    CONSTRAINT ck_item_ck_item_kind CHECK (((kind)::text = ANY ((ARRAY['rail'::character varying, 'fitting'::character varying, 'plug'::character varying, 'gauge'::character varying, 'line'::character varying, 'regulator'::character varying, 'seal'::character varying, 'fastener'::character varying, 'spacer'::character varying, 'clip'::character varying, 'bracket'::character varying, 'consumable'::character varying])::text[]))),
    CONSTRAINT ck_item_ck_item_lead_days CHECK ((lead_days >= 0)),
    CONSTRAINT ck_item_ck_item_price CHECK ((price >= 0)),
    CONSTRAINT ck_item_ck_item_status CHECK (((status)::text = ANY ((ARRAY['active'::character varying, 'retired'::character varying])::text[]))),
    CONSTRAINT ck_item_ck_item_stock CHECK ((stock >= 0))
);
CREATE TABLE item_pattern (
    revision integer NOT NULL,
    "position" integer NOT NULL,
    item character varying NOT NULL,
    pattern character varying NOT NULL
);
CREATE TABLE item_port (
    revision integer NOT NULL,
    "position" integer NOT NULL,
    item character varying NOT NULL,
    id character varying NOT NULL,
    standard character varying NOT NULL,
    "end" character varying NOT NULL,
    spot character varying,
    CONSTRAINT ck_item_port_ck_item_port_end CHECK ((("end")::text = ANY ((ARRAY['male'::character varying, 'female'::character varying])::text[]))),
    CONSTRAINT ck_item_port_ck_item_port_spot CHECK (((spot)::text = ANY ((ARRAY['left'::character varying, 'centre'::character varying, 'right'::character varying, 'top'::character varying])::text[])))
);
CREATE TABLE item_supplied (
    revision integer NOT NULL,
    "position" integer NOT NULL,
    item character varying NOT NULL,
    sku character varying NOT NULL,
    qty integer NOT NULL,
    spot character varying,
    role character varying,
    CONSTRAINT ck_item_supplied_ck_item_supplied_qty CHECK ((qty >= 1)),
    CONSTRAINT ck_item_supplied_ck_item_supplied_spot CHECK (((spot)::text = ANY ((ARRAY['left'::character varying, 'centre'::character varying, 'right'::character varying, 'top'::character varying])::text[])))
);
CREATE TABLE item_wetted (
    revision integer NOT NULL,
    "position" integer NOT NULL,
    item character varying NOT NULL,
    material character varying NOT NULL
);
CREATE TABLE joint (
    revision integer NOT NULL,
    "position" integer NOT NULL,
    id character varying NOT NULL,
    method character varying NOT NULL,
    min_nm double precision,
    max_nm double precision,
    min_deg double precision,
    max_deg double precision,
    min_threads double precision,
    max_threads double precision,
    turns_past_hand double precision,
    spare_seal character varying,
    source character varying NOT NULL,
    CONSTRAINT ck_joint_ck_joint_method CHECK (((method)::text = ANY ((ARRAY['torque'::character varying, 'past-hand-tight'::character varying, 'flange-to-face'::character varying, 'turns-engaged'::character varying, 'push-to-click'::character varying])::text[])))
);
CREATE TABLE joint_caution (
    revision integer NOT NULL,
    "position" integer NOT NULL,
    joint character varying NOT NULL,
    text character varying NOT NULL
);
CREATE TABLE joint_consumable (
    revision integer NOT NULL,
    "position" integer NOT NULL,
    joint character varying NOT NULL,
    sku character varying NOT NULL
);
CREATE TABLE layout (
    revision integer NOT NULL,
    "position" integer NOT NULL,
    id character varying NOT NULL,
    name character varying NOT NULL,
    summary character varying NOT NULL,
    banks integer NOT NULL,
    CONSTRAINT ck_layout_ck_layout_banks CHECK ((banks >= 1))
);
CREATE TABLE layout_duty (
    revision integer NOT NULL,
    "position" integer NOT NULL,
    layout character varying NOT NULL,
    placement integer NOT NULL,
    spot character varying NOT NULL,
    duty character varying NOT NULL,
    hookup_kind character varying,
    hookup_standard character varying,
    hookup_end character varying,
    hookup_flow_bore_mm double precision,
    hookup_flow_length_mm double precision,
    hookup_flow_loss_k double precision,
    hookup_flow_roughness_mm double precision,
    to_spot character varying,
    has_via boolean NOT NULL,
    CONSTRAINT ck_layout_duty_ck_layout_duty_duty CHECK (((duty)::text = ANY ((ARRAY['feed'::character varying, 'return'::character varying, 'link'::character varying])::text[]))),
    CONSTRAINT ck_layout_duty_ck_layout_duty_hookup_end CHECK (((hookup_end)::text = ANY ((ARRAY['male'::character varying, 'female'::character varying])::text[]))),
    CONSTRAINT ck_layout_duty_ck_layout_duty_hookup_flow_whole CHECK ((((hookup_flow_bore_mm IS NULL) = (hookup_flow_length_mm IS NULL)) AND ((hookup_flow_bore_mm IS NULL) = (hookup_flow_loss_k IS NULL)) AND ((hookup_flow_bore_mm IS NULL) = (hookup_flow_roughness_mm IS NULL)))),
    CONSTRAINT ck_layout_duty_ck_layout_duty_hookup_kind CHECK (((hookup_kind)::text = ANY ((ARRAY['factory-line'::character varying, 'bulkhead'::character varying, 'own-hose'::character varying])::text[]))),
    CONSTRAINT ck_layout_duty_ck_layout_duty_spot CHECK (((spot)::text = ANY ((ARRAY['left'::character varying, 'centre'::character varying, 'right'::character varying, 'top'::character varying, '1.left'::character varying, '1.centre'::character varying, '1.right'::character varying, '1.top'::character varying, '2.left'::character varying, '2.centre'::character varying, '2.right'::character varying, '2.top'::character varying])::text[]))),
    CONSTRAINT ck_layout_duty_ck_layout_duty_to_spot CHECK (((to_spot)::text = ANY ((ARRAY['left'::character varying, 'centre'::character varying, 'right'::character varying, 'top'::character varying, '1.left'::character varying, '1.centre'::character varying, '1.right'::character varying, '1.top'::character varying, '2.left'::character varying, '2.centre'::character varying, '2.right'::character varying, '2.top'::character varying])::text[])))
);
CREATE TABLE layout_duty_via (
    revision integer NOT NULL,
    "position" integer NOT NULL,
    layout character varying NOT NULL,
    placement integer NOT NULL,
    spot character varying NOT NULL,
    kind character varying NOT NULL,
    CONSTRAINT ck_layout_duty_via_ck_layout_duty_via_kind CHECK (((kind)::text = ANY ((ARRAY['rail'::character varying, 'fitting'::character varying, 'plug'::character varying, 'gauge'::character varying, 'line'::character varying, 'regulator'::character varying, 'seal'::character varying, 'fastener'::character varying, 'spacer'::character varying, 'clip'::character varying, 'bracket'::character varying, 'consumable'::character varying])::text[])))
);
CREATE TABLE layout_placement (
    revision integer NOT NULL,
    "position" integer NOT NULL,
    layout character varying NOT NULL
);
CREATE TABLE material (
    revision integer NOT NULL,
    "position" integer NOT NULL,
    id character varying NOT NULL,
    name character varying NOT NULL,
    min_c double precision NOT NULL,
    max_c double precision NOT NULL,
    source character varying NOT NULL
);
CREATE TABLE material_rating (
    revision integer NOT NULL,
    "position" integer NOT NULL,
    material character varying NOT NULL,
    fuel character varying NOT NULL,
    rating character varying NOT NULL,
    CONSTRAINT ck_material_rating_ck_material_rating_rating CHECK (((rating)::text = ANY ((ARRAY['A'::character varying, 'B'::character varying, 'C'::character varying, 'D'::character varying])::text[])))
);
CREATE TABLE port_standard (
    revision integer NOT NULL,
    "position" integer NOT NULL,
    id character varying NOT NULL,
    name character varying NOT NULL,
    family character varying NOT NULL,
    size character varying NOT NULL,
    seal character varying NOT NULL,
    published character varying NOT NULL,
    joint character varying NOT NULL,
    CONSTRAINT ck_port_standard_ck_port_standard_seal CHECK (((seal)::text = ANY ((ARRAY['o-ring'::character varying, 'cone'::character varying, 'taper'::character varying, 'bead'::character varying])::text[])))
);
CREATE TABLE revision (
    number integer NOT NULL,
    created_at timestamp with time zone NOT NULL,
    digest character varying NOT NULL,
    format character varying NOT NULL,
    maker_name character varying NOT NULL,
    maker_currency character varying NOT NULL,
    max_chain integer NOT NULL,
    flow_margin double precision NOT NULL,
    max_feed_drop_kpa double precision NOT NULL,
    max_return_drop_kpa double precision NOT NULL,
    max_velocity_m_s double precision NOT NULL,
    recirculation double precision NOT NULL,
    port_standard_count integer NOT NULL,
    joint_count integer NOT NULL,
    fuel_count integer NOT NULL,
    material_count integer NOT NULL,
    item_count integer NOT NULL,
    chassis_count integer NOT NULL,
    addon_count integer NOT NULL,
    layout_count integer NOT NULL,
    CONSTRAINT ck_revision_ck_revision_number CHECK (((number >= 1) AND (number <= 2147483647)))
);
CREATE SEQUENCE revision_number_seq
    AS integer
    START WITH 1
    INCREMENT BY 1
    NO MINVALUE
    NO MAXVALUE
    CACHE 1;
ALTER SEQUENCE revision_number_seq OWNED BY revision.number;
ALTER TABLE ONLY revision ALTER COLUMN number SET DEFAULT nextval('revision_number_seq'::regclass);
INSERT INTO addon VALUES (1, 0, 'blower', 'Belt-driven blower', 60);
INSERT INTO addon_chassis VALUES (1, 0, 'blower', 'brook');
INSERT INTO addon_clearance VALUES (1, 0, 'blower', 'right', 35, NULL);
INSERT INTO addon_mounting VALUES (1, 0, 'blower', 'rail-screw', 'SCREW-6-LONG', 2);
INSERT INTO alembic_version VALUES ('0001');
INSERT INTO chassis VALUES (1, 0, 'brook', 'Brook hatchback', '1.6 l straight four', 4, 1, 'straight-four', 300, 90);
INSERT INTO chassis VALUES (1, 1, 'heron', 'Heron coupe', '3.0 l six, two banks', 6, 2, 'broad-six', 350, 170);
INSERT INTO chassis_clearance VALUES (1, 0, 'brook', 'centre', 120, 60);
INSERT INTO chassis_clearance VALUES (1, 0, 'heron', '2.top', 30, NULL);
INSERT INTO chassis_hookup VALUES (1, 0, 'brook', 'factory-line', 'quick-3/8', 'female', 7.5, 900, 1, 0.002, true);
INSERT INTO chassis_hookup VALUES (1, 0, 'heron', 'factory-line', 'quick-3/8', 'female', NULL, NULL, NULL, NULL, true);
INSERT INTO chassis_hookup_reach VALUES (1, 0, 'brook', 'factory-line', 'left', 20, 40);
INSERT INTO chassis_hookup_reach VALUES (1, 0, 'heron', 'factory-line', '1.left', 20, 40);
INSERT INTO chassis_mounting VALUES (1, 0, 'brook', 'rail-screw', 'SCREW-6', 2, NULL);
INSERT INTO chassis_mounting VALUES (1, 1, 'brook', 'rail-spacer', 'SPACER-5', 2, true);
INSERT INTO chassis_mounting VALUES (1, 0, 'heron', 'rail-screw', 'SCREW-6', 4, NULL);
INSERT INTO fuel VALUES (1, 0, 'petrol', 'Petrol', 745, 0.55, 14.6, 300, 360, 'rounded figures for tests');
INSERT INTO fuel VALUES (1, 1, 'e85', 'E85', 782, 1.05, 9.8, 430, 510, 'rounded figures for tests');
INSERT INTO item VALUES (1, 0, 'RAIL-S', 'Fuel rail, slate', 'rail', 'rail', 'slate', true, 'active', NULL, 18900, 6, 10, 640, 1000, NULL, NULL, 16, 380, 0.5, 0.002, true, true);
INSERT INTO item VALUES (1, 1, 'PLUG-B8', 'Plug for a size-8 boss', 'plug', NULL, NULL, true, 'active', NULL, 900, 25, 3, 20, 1000, 8, 24, NULL, NULL, NULL, NULL, false, false);
INSERT INTO item VALUES (1, 2, 'PLUG-T', 'Plug for a 1/8 taper thread', 'plug', NULL, NULL, true, 'active', NULL, 400, 25, 3, 20, 1000, 3, 12, NULL, NULL, NULL, NULL, false, false);
INSERT INTO item VALUES (1, 3, 'ADAPT-B8-F6', 'Adapter, size-8 boss to size-6 flare', 'fitting', NULL, NULL, true, 'active', NULL, 1500, 25, 3, 20, 1000, 26, 25, 7.5, 40, 0.4, 0.002, false, false);
INSERT INTO item VALUES (1, 4, 'SPIGOT-B8-Q', 'Spigot, size-8 boss to 3/8 quick connector', 'fitting', NULL, NULL, true, 'active', NULL, 2100, 25, 3, 20, 1000, 30, 25, 7.5, 45, 0.4, 0.002, false, false);
INSERT INTO item VALUES (1, 5, 'GAUGE-T', 'Pressure gauge, 0 to 700 kPa', 'gauge', NULL, NULL, true, 'active', NULL, 3900, 25, 3, 20, 700, 48, 40, NULL, NULL, NULL, NULL, false, false);
INSERT INTO item VALUES (1, 6, 'LINE-F6', 'Link line, size-6 flare, 400 mm', 'line', NULL, NULL, true, 'active', NULL, 4600, 25, 3, 20, 1000, NULL, 19, 8.7, 400, 0.9, 0.002, false, false);
INSERT INTO item VALUES (1, 7, 'REG-F6', 'Pressure regulator with a gauge port', 'regulator', NULL, NULL, true, 'active', NULL, 9800, 25, 3, 20, 1000, 55, 42, 7, 60, 2, 0.002, false, false);
INSERT INTO item VALUES (1, 8, 'SEAL-B8', 'Seal for a size-8 boss', 'seal', NULL, NULL, true, 'active', NULL, 150, 25, 3, 20, NULL, NULL, NULL, NULL, NULL, NULL, NULL, false, false);
INSERT INTO item VALUES (1, 9, 'SEALANT', 'Thread sealant, 10 ml', 'consumable', NULL, NULL, true, 'active', NULL, 700, 25, 3, 20, NULL, NULL, NULL, NULL, NULL, NULL, NULL, false, false);
INSERT INTO item VALUES (1, 10, 'SCREW-6', 'Screw, M6 x 25', 'fastener', NULL, NULL, true, 'active', NULL, 80, 25, 3, 20, NULL, NULL, NULL, NULL, NULL, NULL, NULL, false, false);
INSERT INTO item VALUES (1, 11, 'SCREW-6-LONG', 'Screw, M6 x 40', 'fastener', NULL, NULL, true, 'active', NULL, 110, 25, 3, 20, NULL, NULL, NULL, NULL, NULL, NULL, NULL, false, false);
INSERT INTO item VALUES (1, 12, 'SPACER-5', 'Spacer, 5 mm', 'spacer', NULL, NULL, true, 'active', NULL, 260, 25, 3, 20, NULL, NULL, NULL, NULL, NULL, NULL, NULL, false, false);
INSERT INTO item_pattern VALUES (1, 0, 'RAIL-S', 'straight-four');
INSERT INTO item_pattern VALUES (1, 1, 'RAIL-S', 'broad-six');
INSERT INTO item_port VALUES (1, 0, 'RAIL-S', 'l', 'boss-8', 'female', 'left');
INSERT INTO item_port VALUES (1, 1, 'RAIL-S', 'c', 'boss-8', 'female', 'centre');
INSERT INTO item_port VALUES (1, 2, 'RAIL-S', 'r', 'boss-8', 'female', 'right');
INSERT INTO item_port VALUES (1, 3, 'RAIL-S', 't', 'taper-1/8', 'female', 'top');
INSERT INTO item_port VALUES (1, 0, 'PLUG-B8', 'a', 'boss-8', 'male', NULL);
INSERT INTO item_port VALUES (1, 0, 'PLUG-T', 'a', 'taper-1/8', 'male', NULL);
INSERT INTO item_port VALUES (1, 0, 'ADAPT-B8-F6', 'a', 'boss-8', 'male', NULL);
INSERT INTO item_port VALUES (1, 1, 'ADAPT-B8-F6', 'b', 'flare-6', 'male', NULL);
INSERT INTO item_port VALUES (1, 0, 'SPIGOT-B8-Q', 'a', 'boss-8', 'male', NULL);
INSERT INTO item_port VALUES (1, 1, 'SPIGOT-B8-Q', 'b', 'quick-3/8', 'male', NULL);
INSERT INTO item_port VALUES (1, 0, 'GAUGE-T', 'a', 'taper-1/8', 'male', NULL);
INSERT INTO item_port VALUES (1, 0, 'LINE-F6', 'a', 'flare-6', 'female', NULL);
INSERT INTO item_port VALUES (1, 1, 'LINE-F6', 'b', 'flare-6', 'female', NULL);
INSERT INTO item_port VALUES (1, 0, 'REG-F6', 'in', 'flare-6', 'female', NULL);
INSERT INTO item_port VALUES (1, 1, 'REG-F6', 'out', 'flare-6', 'male', NULL);
INSERT INTO item_port VALUES (1, 2, 'REG-F6', 'gauge', 'taper-1/8', 'female', NULL);
INSERT INTO item_supplied VALUES (1, 0, 'RAIL-S', 'PLUG-T', 1, 'top', NULL);
INSERT INTO item_supplied VALUES (1, 1, 'RAIL-S', 'SCREW-6', 2, NULL, 'rail-screw');
INSERT INTO item_wetted VALUES (1, 0, 'RAIL-S', 'aluminium');
INSERT INTO item_wetted VALUES (1, 0, 'PLUG-B8', 'aluminium');
INSERT INTO item_wetted VALUES (1, 1, 'PLUG-B8', 'fluorocarbon');
INSERT INTO item_wetted VALUES (1, 0, 'PLUG-T', 'aluminium');
INSERT INTO item_wetted VALUES (1, 0, 'ADAPT-B8-F6', 'aluminium');
INSERT INTO item_wetted VALUES (1, 1, 'ADAPT-B8-F6', 'fluorocarbon');
INSERT INTO item_wetted VALUES (1, 0, 'SPIGOT-B8-Q', 'aluminium');
INSERT INTO item_wetted VALUES (1, 1, 'SPIGOT-B8-Q', 'fluorocarbon');
INSERT INTO item_wetted VALUES (1, 0, 'GAUGE-T', 'aluminium');
INSERT INTO item_wetted VALUES (1, 0, 'LINE-F6', 'aluminium');
INSERT INTO item_wetted VALUES (1, 1, 'LINE-F6', 'fluorocarbon');
INSERT INTO item_wetted VALUES (1, 0, 'REG-F6', 'aluminium');
INSERT INTO item_wetted VALUES (1, 1, 'REG-F6', 'fluorocarbon');
INSERT INTO item_wetted VALUES (1, 0, 'SEAL-B8', 'fluorocarbon');
INSERT INTO joint VALUES (1, 0, 'boss-8-torque', 'torque', 34, 42, NULL, NULL, NULL, NULL, NULL, 'SEAL-B8', 'figures for tests');
INSERT INTO joint VALUES (1, 1, 'flare-turn', 'past-hand-tight', NULL, NULL, 60, 75, NULL, NULL, NULL, NULL, 'figures for tests');
INSERT INTO joint VALUES (1, 2, 'taper-turns', 'turns-engaged', NULL, NULL, NULL, NULL, 4, 6, 2, NULL, 'figures for tests');
INSERT INTO joint VALUES (1, 3, 'quick-click', 'push-to-click', NULL, NULL, NULL, NULL, NULL, NULL, NULL, NULL, 'figures for tests');
INSERT INTO joint_caution VALUES (1, 0, 'boss-8-torque', 'Oil the seal before it goes in.');
INSERT INTO joint_caution VALUES (1, 0, 'flare-turn', 'No sealant on a flare.');
INSERT INTO joint_consumable VALUES (1, 0, 'taper-turns', 'SEALANT');
INSERT INTO layout VALUES (1, 0, 'factory', 'Factory line', 'The car''s own line feeds one side of the rail.', 1);
INSERT INTO layout VALUES (1, 1, 'hose-centre', 'Own hose to the centre', 'A size-6 hose feeds the middle of the rail; nothing returns.', 1);
INSERT INTO layout VALUES (1, 2, 'through-return', 'Through flow with return', 'Fuel enters at one side and leaves at the other through a regulator on the rail.', 1);
INSERT INTO layout VALUES (1, 3, 'linked-banks', 'Factory line, banks linked', 'The car''s own line feeds the first bank; a line leads on to the second.', 2);
INSERT INTO layout_duty VALUES (1, 0, 'factory', 0, 'left', 'feed', 'factory-line', NULL, NULL, NULL, NULL, NULL, NULL, NULL, false);
INSERT INTO layout_duty VALUES (1, 0, 'factory', 1, 'right', 'feed', 'factory-line', NULL, NULL, NULL, NULL, NULL, NULL, NULL, false);
INSERT INTO layout_duty VALUES (1, 0, 'hose-centre', 0, 'centre', 'feed', 'own-hose', 'flare-6', 'female', 8.7, 1500, 1, 0.002, NULL, false);
INSERT INTO layout_duty VALUES (1, 0, 'through-return', 0, 'left', 'feed', 'own-hose', 'flare-6', 'female', 8.7, 1500, 1, 0.002, NULL, false);
INSERT INTO layout_duty VALUES (1, 1, 'through-return', 0, 'right', 'return', 'own-hose', 'flare-6', 'female', 8.7, 1500, 1, 0.002, NULL, true);
INSERT INTO layout_duty VALUES (1, 0, 'linked-banks', 0, '1.left', 'feed', 'factory-line', NULL, NULL, NULL, NULL, NULL, NULL, NULL, false);
INSERT INTO layout_duty VALUES (1, 1, 'linked-banks', 0, '1.right', 'link', NULL, NULL, NULL, NULL, NULL, NULL, NULL, '2.right', false);
INSERT INTO layout_duty VALUES (1, 2, 'linked-banks', 0, '2.right', 'link', NULL, NULL, NULL, NULL, NULL, NULL, NULL, '1.right', false);
INSERT INTO layout_duty_via VALUES (1, 0, 'through-return', 0, 'right', 'regulator');
INSERT INTO layout_placement VALUES (1, 0, 'factory');
INSERT INTO layout_placement VALUES (1, 1, 'factory');
INSERT INTO layout_placement VALUES (1, 0, 'hose-centre');
INSERT INTO layout_placement VALUES (1, 0, 'through-return');
INSERT INTO layout_placement VALUES (1, 0, 'linked-banks');
INSERT INTO material VALUES (1, 0, 'aluminium', 'Hard-anodised aluminium', -80, 150, 'figures for tests');
INSERT INTO material VALUES (1, 1, 'fluorocarbon', 'Fluorocarbon rubber', -20, 200, 'figures for tests');
INSERT INTO material_rating VALUES (1, 0, 'aluminium', 'petrol', 'A');
INSERT INTO material_rating VALUES (1, 1, 'aluminium', 'e85', 'B');
INSERT INTO material_rating VALUES (1, 0, 'fluorocarbon', 'petrol', 'A');
INSERT INTO material_rating VALUES (1, 1, 'fluorocarbon', 'e85', 'A');
INSERT INTO port_standard VALUES (1, 0, 'boss-8', 'Straight-thread O-ring boss, size 8', 'boss', '8', 'o-ring', 'SAE J1926-1', 'boss-8-torque');
INSERT INTO port_standard VALUES (1, 1, 'flare-6', '37-degree flare, size 6', 'flare', '6', 'cone', 'SAE J514', 'flare-turn');
INSERT INTO port_standard VALUES (1, 2, 'taper-1/8', 'Taper pipe thread, 1/8', 'taper', '1/8', 'taper', 'ASME B1.20.1', 'taper-turns');
INSERT INTO port_standard VALUES (1, 3, 'quick-3/8', 'Quick connector, 3/8', 'quick', '3/8', 'o-ring', 'SAE J2044', 'quick-click');
INSERT INTO revision VALUES (1, '2026-03-01 12:00:00+00', '441d37bd9e0d7302435ca33ea3504975a447478aed0e49d3e759693ef79bbc0d', 'portwright-catalog/1', 'Ostrevale Fuelworks', 'OVC', 4, 1.25, 40, 30, 6, 2, 4, 4, 2, 2, 13, 2, 1, 4);
SELECT pg_catalog.setval('revision_number_seq', 1, false);
ALTER TABLE ONLY alembic_version
    ADD CONSTRAINT alembic_version_pkc PRIMARY KEY (version_num);
ALTER TABLE ONLY addon
    ADD CONSTRAINT pk_addon PRIMARY KEY (revision, id);
ALTER TABLE ONLY addon_chassis
    ADD CONSTRAINT pk_addon_chassis PRIMARY KEY (revision, addon, "position");
ALTER TABLE ONLY addon_clearance
    ADD CONSTRAINT pk_addon_clearance PRIMARY KEY (revision, addon, "position");
ALTER TABLE ONLY addon_mounting
    ADD CONSTRAINT pk_addon_mounting PRIMARY KEY (revision, addon, "position");
ALTER TABLE ONLY chassis
    ADD CONSTRAINT pk_chassis PRIMARY KEY (revision, id);
ALTER TABLE ONLY chassis_clearance
    ADD CONSTRAINT pk_chassis_clearance PRIMARY KEY (revision, chassis, "position");
ALTER TABLE ONLY chassis_hookup
    ADD CONSTRAINT pk_chassis_hookup PRIMARY KEY (revision, chassis, id);
ALTER TABLE ONLY chassis_hookup_reach
    ADD CONSTRAINT pk_chassis_hookup_reach PRIMARY KEY (revision, chassis, hookup, spot);
ALTER TABLE ONLY chassis_mounting
    ADD CONSTRAINT pk_chassis_mounting PRIMARY KEY (revision, chassis, "position");
ALTER TABLE ONLY fuel
    ADD CONSTRAINT pk_fuel PRIMARY KEY (revision, id);
ALTER TABLE ONLY item
    ADD CONSTRAINT pk_item PRIMARY KEY (revision, sku);
ALTER TABLE ONLY item_pattern
    ADD CONSTRAINT pk_item_pattern PRIMARY KEY (revision, item, "position");
ALTER TABLE ONLY item_port
    ADD CONSTRAINT pk_item_port PRIMARY KEY (revision, item, id);
ALTER TABLE ONLY item_supplied
    ADD CONSTRAINT pk_item_supplied PRIMARY KEY (revision, item, "position");
ALTER TABLE ONLY item_wetted
    ADD CONSTRAINT pk_item_wetted PRIMARY KEY (revision, item, "position");
ALTER TABLE ONLY joint
    ADD CONSTRAINT pk_joint PRIMARY KEY (revision, id);
ALTER TABLE ONLY joint_caution
    ADD CONSTRAINT pk_joint_caution PRIMARY KEY (revision, joint, "position");
ALTER TABLE ONLY joint_consumable
    ADD CONSTRAINT pk_joint_consumable PRIMARY KEY (revision, joint, "position");
ALTER TABLE ONLY layout
    ADD CONSTRAINT pk_layout PRIMARY KEY (revision, id);
ALTER TABLE ONLY layout_duty
    ADD CONSTRAINT pk_layout_duty PRIMARY KEY (revision, layout, placement, spot);
ALTER TABLE ONLY layout_duty_via
    ADD CONSTRAINT pk_layout_duty_via PRIMARY KEY (revision, layout, placement, spot, "position");
ALTER TABLE ONLY layout_placement
    ADD CONSTRAINT pk_layout_placement PRIMARY KEY (revision, layout, "position");
ALTER TABLE ONLY material
    ADD CONSTRAINT pk_material PRIMARY KEY (revision, id);
ALTER TABLE ONLY material_rating
    ADD CONSTRAINT pk_material_rating PRIMARY KEY (revision, material, fuel);
ALTER TABLE ONLY port_standard
    ADD CONSTRAINT pk_port_standard PRIMARY KEY (revision, id);
ALTER TABLE ONLY revision
    ADD CONSTRAINT pk_revision PRIMARY KEY (number);
ALTER TABLE ONLY addon_chassis
    ADD CONSTRAINT fk_addon_chassis_revision_addon FOREIGN KEY (revision, addon) REFERENCES addon(revision, id);
ALTER TABLE ONLY addon_chassis
    ADD CONSTRAINT fk_addon_chassis_revision_chassis FOREIGN KEY (revision, chassis) REFERENCES chassis(revision, id);
ALTER TABLE ONLY addon_clearance
    ADD CONSTRAINT fk_addon_clearance_revision_addon FOREIGN KEY (revision, addon) REFERENCES addon(revision, id);
ALTER TABLE ONLY addon_mounting
    ADD CONSTRAINT fk_addon_mounting_revision_addon FOREIGN KEY (revision, addon) REFERENCES addon(revision, id);
ALTER TABLE ONLY addon_mounting
    ADD CONSTRAINT fk_addon_mounting_revision_sku FOREIGN KEY (revision, sku) REFERENCES item(revision, sku);
ALTER TABLE ONLY addon
    ADD CONSTRAINT fk_addon_revision FOREIGN KEY (revision) REFERENCES revision(number);
ALTER TABLE ONLY chassis_clearance
    ADD CONSTRAINT fk_chassis_clearance_revision_chassis FOREIGN KEY (revision, chassis) REFERENCES chassis(revision, id);
ALTER TABLE ONLY chassis_hookup_reach
    ADD CONSTRAINT fk_chassis_hookup_reach_revision_chassis_hookup FOREIGN KEY (revision, chassis, hookup) REFERENCES chassis_hookup(revision, chassis, id);
ALTER TABLE ONLY chassis_hookup
    ADD CONSTRAINT fk_chassis_hookup_revision_chassis FOREIGN KEY (revision, chassis) REFERENCES chassis(revision, id);
ALTER TABLE ONLY chassis_hookup
    ADD CONSTRAINT fk_chassis_hookup_revision_standard FOREIGN KEY (revision, standard) REFERENCES port_standard(revision, id);
ALTER TABLE ONLY chassis_mounting
    ADD CONSTRAINT fk_chassis_mounting_revision_chassis FOREIGN KEY (revision, chassis) REFERENCES chassis(revision, id);
ALTER TABLE ONLY chassis_mounting
    ADD CONSTRAINT fk_chassis_mounting_revision_sku FOREIGN KEY (revision, sku) REFERENCES item(revision, sku);
ALTER TABLE ONLY chassis
    ADD CONSTRAINT fk_chassis_revision FOREIGN KEY (revision) REFERENCES revision(number);
ALTER TABLE ONLY fuel
    ADD CONSTRAINT fk_fuel_revision FOREIGN KEY (revision) REFERENCES revision(number);
ALTER TABLE ONLY item_pattern
    ADD CONSTRAINT fk_item_pattern_revision_item FOREIGN KEY (revision, item) REFERENCES item(revision, sku);
ALTER TABLE ONLY item_port
    ADD CONSTRAINT fk_item_port_revision_item FOREIGN KEY (revision, item) REFERENCES item(revision, sku);
ALTER TABLE ONLY item_port
    ADD CONSTRAINT fk_item_port_revision_standard FOREIGN KEY (revision, standard) REFERENCES port_standard(revision, id);
ALTER TABLE ONLY item
    ADD CONSTRAINT fk_item_revision FOREIGN KEY (revision) REFERENCES revision(number);
ALTER TABLE ONLY item
    ADD CONSTRAINT fk_item_revision_superseded_by FOREIGN KEY (revision, superseded_by) REFERENCES item(revision, sku) DEFERRABLE INITIALLY DEFERRED;
ALTER TABLE ONLY item_supplied
    ADD CONSTRAINT fk_item_supplied_revision_item FOREIGN KEY (revision, item) REFERENCES item(revision, sku);
ALTER TABLE ONLY item_supplied
    ADD CONSTRAINT fk_item_supplied_revision_sku FOREIGN KEY (revision, sku) REFERENCES item(revision, sku);
ALTER TABLE ONLY item_wetted
    ADD CONSTRAINT fk_item_wetted_revision_item FOREIGN KEY (revision, item) REFERENCES item(revision, sku);
ALTER TABLE ONLY item_wetted
    ADD CONSTRAINT fk_item_wetted_revision_material FOREIGN KEY (revision, material) REFERENCES material(revision, id);
ALTER TABLE ONLY joint_caution
    ADD CONSTRAINT fk_joint_caution_revision_joint FOREIGN KEY (revision, joint) REFERENCES joint(revision, id);
ALTER TABLE ONLY joint_consumable
    ADD CONSTRAINT fk_joint_consumable_revision_joint FOREIGN KEY (revision, joint) REFERENCES joint(revision, id);
ALTER TABLE ONLY joint_consumable
    ADD CONSTRAINT fk_joint_consumable_revision_sku FOREIGN KEY (revision, sku) REFERENCES item(revision, sku);
ALTER TABLE ONLY joint
    ADD CONSTRAINT fk_joint_revision FOREIGN KEY (revision) REFERENCES revision(number);
ALTER TABLE ONLY joint
    ADD CONSTRAINT fk_joint_revision_spare_seal FOREIGN KEY (revision, spare_seal) REFERENCES item(revision, sku);
ALTER TABLE ONLY layout_duty
    ADD CONSTRAINT fk_layout_duty_revision_hookup_standard FOREIGN KEY (revision, hookup_standard) REFERENCES port_standard(revision, id);
ALTER TABLE ONLY layout_duty
    ADD CONSTRAINT fk_layout_duty_revision_layout_placement FOREIGN KEY (revision, layout, placement) REFERENCES layout_placement(revision, layout, "position");
ALTER TABLE ONLY layout_duty_via
    ADD CONSTRAINT fk_layout_duty_via_revision_layout_placement_spot FOREIGN KEY (revision, layout, placement, spot) REFERENCES layout_duty(revision, layout, placement, spot);
ALTER TABLE ONLY layout_placement
    ADD CONSTRAINT fk_layout_placement_revision_layout FOREIGN KEY (revision, layout) REFERENCES layout(revision, id);
ALTER TABLE ONLY layout
    ADD CONSTRAINT fk_layout_revision FOREIGN KEY (revision) REFERENCES revision(number);
ALTER TABLE ONLY material_rating
    ADD CONSTRAINT fk_material_rating_revision_fuel FOREIGN KEY (revision, fuel) REFERENCES fuel(revision, id);
ALTER TABLE ONLY material_rating
    ADD CONSTRAINT fk_material_rating_revision_material FOREIGN KEY (revision, material) REFERENCES material(revision, id);
ALTER TABLE ONLY material
    ADD CONSTRAINT fk_material_revision FOREIGN KEY (revision) REFERENCES revision(number);
ALTER TABLE ONLY port_standard
    ADD CONSTRAINT fk_port_standard_revision FOREIGN KEY (revision) REFERENCES revision(number);
ALTER TABLE ONLY port_standard
    ADD CONSTRAINT fk_port_standard_revision_joint FOREIGN KEY (revision, joint) REFERENCES joint(revision, id);

CREATE TABLE addon (
    revision integer NOT NULL,
    "position" integer NOT NULL,
    id character varying NOT NULL,
    name character varying NOT NULL,
    boost_kpa double precision NOT NULL,
    raises_seat_mm double precision
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
    CONSTRAINT ck_addon_clearance_spot CHECK (((spot)::text = ANY ((ARRAY['left'::character varying, 'centre'::character varying, 'right'::character varying, 'top'::character varying, '1.left'::character varying, '1.centre'::character varying, '1.right'::character varying, '1.top'::character varying, '2.left'::character varying, '2.centre'::character varying, '2.right'::character varying, '2.top'::character varying])::text[])))
);
CREATE TABLE addon_mounting (
    revision integer NOT NULL,
    "position" integer NOT NULL,
    addon character varying NOT NULL,
    role character varying NOT NULL,
    sku character varying NOT NULL,
    qty integer NOT NULL,
    CONSTRAINT ck_addon_mounting_qty CHECK ((qty >= 1))
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
    CONSTRAINT ck_chassis_banks CHECK ((banks >= 1)),
    CONSTRAINT ck_chassis_cylinders CHECK ((cylinders >= 1))
);
CREATE TABLE chassis_clearance (
    revision integer NOT NULL,
    "position" integer NOT NULL,
    chassis character varying NOT NULL,
    spot character varying NOT NULL,
    axial_mm double precision,
    across_mm double precision,
    CONSTRAINT ck_chassis_clearance_spot CHECK (((spot)::text = ANY ((ARRAY['left'::character varying, 'centre'::character varying, 'right'::character varying, 'top'::character varying, '1.left'::character varying, '1.centre'::character varying, '1.right'::character varying, '1.top'::character varying, '2.left'::character varying, '2.centre'::character varying, '2.right'::character varying, '2.top'::character varying])::text[])))
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
    CONSTRAINT ck_chassis_hookup_end CHECK ((("end")::text = ANY ((ARRAY['male'::character varying, 'female'::character varying])::text[]))),
    CONSTRAINT ck_chassis_hookup_flow_whole CHECK ((((flow_bore_mm IS NULL) = (flow_length_mm IS NULL)) AND ((flow_bore_mm IS NULL) = (flow_loss_k IS NULL)) AND ((flow_bore_mm IS NULL) = (flow_roughness_mm IS NULL))))
);
CREATE TABLE chassis_hookup_reach (
    revision integer NOT NULL,
    "position" integer NOT NULL,
    chassis character varying NOT NULL,
    hookup character varying NOT NULL,
    spot character varying NOT NULL,
    min_mm double precision NOT NULL,
    max_mm double precision NOT NULL,
    CONSTRAINT ck_chassis_hookup_reach_spot CHECK (((spot)::text = ANY ((ARRAY['left'::character varying, 'centre'::character varying, 'right'::character varying, 'top'::character varying, '1.left'::character varying, '1.centre'::character varying, '1.right'::character varying, '1.top'::character varying, '2.left'::character varying, '2.centre'::character varying, '2.right'::character varying, '2.top'::character varying])::text[])))
);
CREATE TABLE chassis_injectors (
    revision integer NOT NULL,
    "position" integer NOT NULL,
    chassis character varying NOT NULL,
    static_l_h double precision NOT NULL,
    rated_kpa double precision NOT NULL,
    max_duty double precision NOT NULL,
    length_mm double precision NOT NULL,
    length_tol_mm double precision NOT NULL,
    upper_ring_mm double precision NOT NULL,
    lower_ring_mm double precision NOT NULL,
    bore_mm double precision NOT NULL,
    material character varying NOT NULL
);
CREATE TABLE chassis_manifold (
    revision integer NOT NULL,
    "position" integer NOT NULL,
    chassis character varying NOT NULL,
    seat_mm double precision NOT NULL,
    seat_tol_mm double precision NOT NULL,
    thread_mm double precision NOT NULL,
    material character varying NOT NULL,
    cold_c double precision NOT NULL,
    hot_c double precision NOT NULL
);
CREATE TABLE chassis_mounting (
    revision integer NOT NULL,
    "position" integer NOT NULL,
    chassis character varying NOT NULL,
    role character varying NOT NULL,
    sku character varying NOT NULL,
    qty integer NOT NULL,
    optional boolean,
    CONSTRAINT ck_chassis_mounting_qty CHECK ((qty >= 1))
);
CREATE TABLE chassis_pump_point (
    revision integer NOT NULL,
    "position" integer NOT NULL,
    chassis character varying NOT NULL,
    kpa double precision NOT NULL,
    l_h double precision NOT NULL
);
CREATE TABLE chassis_pump_volts (
    revision integer NOT NULL,
    "position" integer NOT NULL,
    chassis character varying NOT NULL,
    rated double precision NOT NULL,
    fed double precision NOT NULL
);
CREATE TABLE chassis_tank (
    revision integer NOT NULL,
    "position" integer NOT NULL,
    chassis character varying NOT NULL,
    fuel_c double precision NOT NULL,
    soak_c double precision NOT NULL,
    lift_m double precision NOT NULL,
    inlet_loss_kpa double precision NOT NULL,
    rest_kpa double precision NOT NULL
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
    source character varying NOT NULL,
    heat_capacity_j_kg_k double precision
);
CREATE TABLE fuel_vapour (
    revision integer NOT NULL,
    "position" integer NOT NULL,
    fuel character varying NOT NULL,
    c double precision NOT NULL,
    kpa_abs double precision NOT NULL
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
    CONSTRAINT ck_item_flow_whole CHECK ((((flow_bore_mm IS NULL) = (flow_length_mm IS NULL)) AND ((flow_bore_mm IS NULL) = (flow_loss_k IS NULL)) AND ((flow_bore_mm IS NULL) = (flow_roughness_mm IS NULL)))),
    CONSTRAINT ck_item_kind CHECK (((kind)::text = ANY ((ARRAY['rail'::character varying, 'fitting'::character varying, 'plug'::character varying, 'gauge'::character varying, 'line'::character varying, 'regulator'::character varying, 'seal'::character varying, 'fastener'::character varying, 'spacer'::character varying, 'clip'::character varying, 'bracket'::character varying, 'consumable'::character varying])::text[]))),
    CONSTRAINT ck_item_lead_days CHECK ((lead_days >= 0)),
    CONSTRAINT ck_item_price CHECK ((price >= 0)),
    CONSTRAINT ck_item_status CHECK (((status)::text = ANY ((ARRAY['active'::character varying, 'retired'::character varying])::text[]))),
    CONSTRAINT ck_item_stock CHECK ((stock >= 0))
);
CREATE TABLE item_injector_position (
    revision integer NOT NULL,
    "position" integer NOT NULL,
    item character varying NOT NULL,
    mm double precision NOT NULL
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
    CONSTRAINT ck_item_port_end CHECK ((("end")::text = ANY ((ARRAY['male'::character varying, 'female'::character varying])::text[]))),
    CONSTRAINT ck_item_port_spot CHECK (((spot)::text = ANY ((ARRAY['left'::character varying, 'centre'::character varying, 'right'::character varying, 'top'::character varying])::text[])))
);
CREATE TABLE item_ring (
    revision integer NOT NULL,
    "position" integer NOT NULL,
    item character varying NOT NULL,
    inside_mm double precision NOT NULL,
    section_mm double precision NOT NULL,
    inside_tol_mm double precision NOT NULL,
    section_tol_mm double precision NOT NULL
);
CREATE TABLE item_screw (
    revision integer NOT NULL,
    "position" integer NOT NULL,
    item character varying NOT NULL,
    thread_diameter_mm double precision NOT NULL,
    thread_pitch_mm double precision NOT NULL,
    thread_form character varying NOT NULL,
    strength_class character varying NOT NULL,
    length_mm double precision NOT NULL,
    torque_min_nm double precision NOT NULL,
    torque_max_nm double precision NOT NULL,
    nut_factor_min double precision NOT NULL,
    nut_factor_max double precision NOT NULL,
    CONSTRAINT ck_item_screw_strength_class CHECK (((strength_class)::text = ANY ((ARRAY['8.8'::character varying, '10.9'::character varying])::text[]))),
    CONSTRAINT ck_item_screw_thread_form CHECK (((thread_form)::text = ANY ((ARRAY['metric'::character varying, 'unified'::character varying])::text[])))
);
CREATE TABLE item_seats (
    revision integer NOT NULL,
    "position" integer NOT NULL,
    item character varying NOT NULL,
    roof_mm double precision NOT NULL,
    roof_tol_mm double precision NOT NULL,
    cup_depth_mm double precision NOT NULL,
    foot_mm double precision NOT NULL,
    material character varying NOT NULL
);
CREATE TABLE item_spacer (
    revision integer NOT NULL,
    "position" integer NOT NULL,
    item character varying NOT NULL,
    height_mm double precision NOT NULL,
    height_tol_mm double precision NOT NULL,
    outside_mm double precision NOT NULL,
    inside_mm double precision NOT NULL,
    material character varying NOT NULL
);
CREATE TABLE item_spot_position (
    revision integer NOT NULL,
    "position" integer NOT NULL,
    item character varying NOT NULL,
    spot character varying NOT NULL,
    mm double precision NOT NULL,
    CONSTRAINT ck_item_spot_position_spot CHECK (((spot)::text = ANY ((ARRAY['left'::character varying, 'centre'::character varying, 'right'::character varying, 'top'::character varying])::text[])))
);
CREATE TABLE item_supplied (
    revision integer NOT NULL,
    "position" integer NOT NULL,
    item character varying NOT NULL,
    sku character varying NOT NULL,
    qty integer NOT NULL,
    spot character varying,
    role character varying,
    CONSTRAINT ck_item_supplied_qty CHECK ((qty >= 1)),
    CONSTRAINT ck_item_supplied_spot CHECK (((spot)::text = ANY ((ARRAY['left'::character varying, 'centre'::character varying, 'right'::character varying, 'top'::character varying])::text[])))
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
    has_consumables boolean NOT NULL,
    source character varying NOT NULL,
    CONSTRAINT ck_joint_method CHECK (((method)::text = ANY ((ARRAY['torque'::character varying, 'past-hand-tight'::character varying, 'flange-to-face'::character varying, 'turns-engaged'::character varying, 'push-to-click'::character varying])::text[])))
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
    CONSTRAINT ck_layout_banks CHECK ((banks >= 1))
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
    CONSTRAINT ck_layout_duty_duty CHECK (((duty)::text = ANY ((ARRAY['feed'::character varying, 'return'::character varying, 'link'::character varying])::text[]))),
    CONSTRAINT ck_layout_duty_hookup_end CHECK (((hookup_end)::text = ANY ((ARRAY['male'::character varying, 'female'::character varying])::text[]))),
    CONSTRAINT ck_layout_duty_hookup_flow_whole CHECK ((((hookup_flow_bore_mm IS NULL) = (hookup_flow_length_mm IS NULL)) AND ((hookup_flow_bore_mm IS NULL) = (hookup_flow_loss_k IS NULL)) AND ((hookup_flow_bore_mm IS NULL) = (hookup_flow_roughness_mm IS NULL)))),
    CONSTRAINT ck_layout_duty_hookup_kind CHECK (((hookup_kind)::text = ANY ((ARRAY['factory-line'::character varying, 'bulkhead'::character varying, 'own-hose'::character varying])::text[]))),
    CONSTRAINT ck_layout_duty_spot CHECK (((spot)::text = ANY ((ARRAY['left'::character varying, 'centre'::character varying, 'right'::character varying, 'top'::character varying, '1.left'::character varying, '1.centre'::character varying, '1.right'::character varying, '1.top'::character varying, '2.left'::character varying, '2.centre'::character varying, '2.right'::character varying, '2.top'::character varying])::text[]))),
    CONSTRAINT ck_layout_duty_to_spot CHECK (((to_spot)::text = ANY ((ARRAY['left'::character varying, 'centre'::character varying, 'right'::character varying, 'top'::character varying, '1.left'::character varying, '1.centre'::character varying, '1.right'::character varying, '1.top'::character varying, '2.left'::character varying, '2.centre'::character varying, '2.right'::character varying, '2.top'::character varying])::text[])))
);
CREATE TABLE layout_duty_via (
    revision integer NOT NULL,
    "position" integer NOT NULL,
    layout character varying NOT NULL,
    placement integer NOT NULL,
    spot character varying NOT NULL,
    kind character varying NOT NULL,
    CONSTRAINT ck_layout_duty_via_kind CHECK (((kind)::text = ANY ((ARRAY['rail'::character varying, 'fitting'::character varying, 'plug'::character varying, 'gauge'::character varying, 'line'::character varying, 'regulator'::character varying, 'seal'::character varying, 'fastener'::character varying, 'spacer'::character varying, 'clip'::character varying, 'bracket'::character varying, 'consumable'::character varying])::text[])))
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
    source character varying NOT NULL,
    conductivity_w_m_k double precision,
    expansion_1_k double precision,
    shear_mpa double precision
);
CREATE TABLE material_rating (
    revision integer NOT NULL,
    "position" integer NOT NULL,
    material character varying NOT NULL,
    fuel character varying NOT NULL,
    rating character varying NOT NULL,
    CONSTRAINT ck_material_rating_rating CHECK (((rating)::text = ANY ((ARRAY['A'::character varying, 'B'::character varying, 'C'::character varying, 'D'::character varying])::text[])))
);
CREATE TABLE order_check (
    id character varying NOT NULL,
    revision integer NOT NULL,
    request character varying NOT NULL,
    result character varying NOT NULL,
    created_at timestamp with time zone NOT NULL,
    idempotency_key character varying,
    body_digest character varying NOT NULL
);
CREATE TABLE port_gland (
    revision integer NOT NULL,
    "position" integer NOT NULL,
    standard character varying NOT NULL,
    inside_mm double precision NOT NULL,
    outside_mm double precision NOT NULL,
    depth_mm double precision NOT NULL,
    diameter_tol_mm double precision NOT NULL,
    depth_tol_mm double precision NOT NULL
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
    CONSTRAINT ck_port_standard_seal CHECK (((seal)::text = ANY ((ARRAY['o-ring'::character varying, 'cone'::character varying, 'taper'::character varying, 'bead'::character varying])::text[])))
);
CREATE TABLE port_taper (
    revision integer NOT NULL,
    "position" integer NOT NULL,
    standard character varying NOT NULL,
    outside_mm double precision NOT NULL,
    pitch_mm double precision NOT NULL,
    hand_tight_mm double precision NOT NULL
);
CREATE TABLE port_thread (
    revision integer NOT NULL,
    "position" integer NOT NULL,
    standard character varying NOT NULL,
    diameter_mm double precision NOT NULL,
    pitch_mm double precision NOT NULL,
    form character varying NOT NULL,
    CONSTRAINT ck_port_thread_form CHECK (((form)::text = ANY ((ARRAY['metric'::character varying, 'unified'::character varying])::text[])))
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
    vapour_margin_kpa double precision,
    seal_insertion_mm double precision,
    squeeze_min double precision,
    squeeze_max double precision,
    max_gland_fill double precision,
    max_proof_part double precision,
    max_spread_percent double precision,
    CONSTRAINT ck_revision_number CHECK (((number >= 1) AND (number <= 2147483647)))
);
INSERT INTO addon VALUES (1, 0, 'blower', 'Belt-driven blower', 60, 15);
INSERT INTO addon_chassis VALUES (1, 0, 'blower', 'brook');
INSERT INTO addon_clearance VALUES (1, 0, 'blower', 'right', 35, NULL);
INSERT INTO addon_mounting VALUES (1, 0, 'blower', 'rail-screw', 'SCREW-6-LONG', 2);
INSERT INTO alembic_version VALUES ('0003');
INSERT INTO chassis VALUES (1, 0, 'brook', 'Brook hatchback', '1.6 l straight four', 4, 1, 'straight-four', 300, 90);
INSERT INTO chassis VALUES (1, 1, 'heron', 'Heron coupe', '3.0 l six, two banks', 6, 2, 'broad-six', 350, 170);
INSERT INTO chassis_clearance VALUES (1, 0, 'brook', 'centre', 120, 60);
INSERT INTO chassis_clearance VALUES (1, 0, 'heron', '2.top', 30, NULL);
INSERT INTO chassis_hookup VALUES (1, 0, 'brook', 'factory-line', 'quick-3/8', 'female', 7.5, 900, 1, 0.002, true);
INSERT INTO chassis_hookup VALUES (1, 0, 'heron', 'factory-line', 'quick-3/8', 'female', NULL, NULL, NULL, NULL, true);
INSERT INTO chassis_hookup_reach VALUES (1, 0, 'brook', 'factory-line', 'left', 20, 40);
INSERT INTO chassis_hookup_reach VALUES (1, 0, 'heron', 'factory-line', '1.left', 20, 40);
INSERT INTO chassis_injectors VALUES (1, 0, 'brook', 20, 300, 0.85, 60, 0.1, 3.5, 4, 13.5, 'steel');
INSERT INTO chassis_injectors VALUES (1, 0, 'heron', 20, 300, 0.85, 60, 0.1, 3.5, 4, 13.5, 'steel');
INSERT INTO chassis_manifold VALUES (1, 0, 'brook', -35.7, 0.1, 14, 'aluminium', -30, 110);
INSERT INTO chassis_manifold VALUES (1, 0, 'heron', -35.7, 0.1, 14, 'aluminium', -30, 110);
INSERT INTO chassis_mounting VALUES (1, 0, 'brook', 'rail-screw', 'SCREW-6', 2, NULL);
INSERT INTO chassis_mounting VALUES (1, 1, 'brook', 'rail-spacer', 'SPACER-5', 2, true);
INSERT INTO chassis_mounting VALUES (1, 0, 'heron', 'rail-screw', 'SCREW-6', 4, NULL);
INSERT INTO chassis_pump_point VALUES (1, 0, 'brook', 0, 180);
INSERT INTO chassis_pump_point VALUES (1, 1, 'brook', 300, 140);
INSERT INTO chassis_pump_point VALUES (1, 2, 'brook', 600, 80);
INSERT INTO chassis_pump_point VALUES (1, 0, 'heron', 0, 180);
INSERT INTO chassis_pump_point VALUES (1, 1, 'heron', 300, 140);
INSERT INTO chassis_pump_point VALUES (1, 2, 'heron', 600, 80);
INSERT INTO chassis_pump_volts VALUES (1, 0, 'brook', 12, 13.5);
INSERT INTO chassis_pump_volts VALUES (1, 0, 'heron', 12, 13.5);
INSERT INTO chassis_tank VALUES (1, 0, 'brook', 35, 70, -0.2, 3, 250);
INSERT INTO chassis_tank VALUES (1, 0, 'heron', 35, 70, -0.2, 3, 250);
INSERT INTO fuel VALUES (1, 0, 'e85', 'E85', 782, 1.05, 9.8, 430, 510, 'rounded figures for tests', 2100);
INSERT INTO fuel VALUES (1, 1, 'petrol', 'Petrol', 745, 0.55, 14.6, 300, 360, 'rounded figures for tests', 2100);
INSERT INTO fuel_vapour VALUES (1, 0, 'e85', 20, 35);
INSERT INTO fuel_vapour VALUES (1, 1, 'e85', 37.8, 60);
INSERT INTO fuel_vapour VALUES (1, 2, 'e85', 80, 190);
INSERT INTO fuel_vapour VALUES (1, 0, 'petrol', 20, 35);
INSERT INTO fuel_vapour VALUES (1, 1, 'petrol', 37.8, 60);
INSERT INTO fuel_vapour VALUES (1, 2, 'petrol', 80, 190);
INSERT INTO item VALUES (1, 0, 'screw-6', 'Screw, M6 x 25, earlier thread', 'spacer', NULL, NULL, true, 'retired', 'SCREW-6', 1000000000000, 1000000000, 3, 0.30000000000000004, NULL, NULL, NULL, NULL, NULL, NULL, NULL, false, false);
INSERT INTO item VALUES (1, 1, 'RAIL-S', 'Fuel rail, slate', 'rail', 'rail', 'slate', true, 'active', NULL, 18900, 6, 10, 640, 1000, NULL, NULL, 16, 380, 0.5, 0.002, true, true);
INSERT INTO item VALUES (1, 2, 'PLUG-B8', 'Plug for a size-8 boss', 'plug', NULL, NULL, true, 'active', NULL, 900, 25, 3, 20, 1000, 8, 24, NULL, NULL, NULL, NULL, false, false);
INSERT INTO item VALUES (1, 3, 'PLUG-T', 'Plug for a 1/8 taper thread', 'plug', NULL, NULL, true, 'active', NULL, 400, 25, 3, 20, 1000, 3, 12, NULL, NULL, NULL, NULL, false, false);
INSERT INTO item VALUES (1, 4, 'ADAPT-B8-F6', 'Adapter, size-8 boss to size-6 flare', 'fitting', NULL, NULL, true, 'active', NULL, 1500, 25, 3, 20, 1000, 26, 25, 7.5, 40, 0.4, 0.002, false, false);
INSERT INTO item VALUES (1, 5, 'SPIGOT-B8-Q', 'Spigot, size-8 boss to 3/8 quick connector', 'fitting', NULL, NULL, true, 'active', NULL, 2100, 25, 3, 20, 1000, 30, 25, 7.5, 45, 0.4, 0.002, false, false);
INSERT INTO item VALUES (1, 6, 'GAUGE-T', 'Pressure gauge, 0 to 700 kPa', 'gauge', NULL, NULL, true, 'active', NULL, 3900, 25, 3, 20, 700, 48, 40, NULL, NULL, NULL, NULL, false, false);
INSERT INTO item VALUES (1, 7, 'LINE-F6', 'Link line, size-6 flare, 400 mm', 'line', NULL, NULL, true, 'active', NULL, 4600, 25, 3, 20, 1000, NULL, 19, 8.7, 400, 0.9, 0.002, false, false);
INSERT INTO item VALUES (1, 8, 'REG-F6', 'Pressure regulator with a gauge port', 'regulator', NULL, NULL, true, 'active', NULL, 9800, 25, 3, 20, 1000, 55, 42, 7, 60, 2, 0.002, false, false);
INSERT INTO item VALUES (1, 9, 'SEAL-B8', 'Seal for a size-8 boss', 'seal', NULL, NULL, true, 'active', NULL, 150, 25, 3, 20, NULL, NULL, NULL, NULL, NULL, NULL, NULL, false, false);
INSERT INTO item VALUES (1, 10, 'SEALANT', 'Thread sealant, 10 ml', 'consumable', NULL, NULL, true, 'active', NULL, 700, 25, 3, 20, NULL, NULL, NULL, NULL, NULL, NULL, NULL, false, false);
INSERT INTO item VALUES (1, 11, 'SCREW-6', 'Screw, M6 x 25', 'fastener', NULL, NULL, true, 'active', NULL, 80, 25, 3, 20, NULL, NULL, NULL, NULL, NULL, NULL, NULL, false, false);
INSERT INTO item VALUES (1, 12, 'SCREW-6-LONG', 'Screw, M6 x 40', 'fastener', NULL, NULL, true, 'active', NULL, 110, 25, 3, 20, NULL, NULL, NULL, NULL, NULL, NULL, NULL, false, false);
INSERT INTO item VALUES (1, 13, 'SPACER-5', 'Spacer, 5 mm', 'spacer', NULL, NULL, true, 'active', NULL, 260, 25, 3, 20, NULL, NULL, NULL, NULL, NULL, NULL, NULL, false, false);
INSERT INTO item_injector_position VALUES (1, 0, 'RAIL-S', 40);
INSERT INTO item_injector_position VALUES (1, 1, 'RAIL-S', 120);
INSERT INTO item_injector_position VALUES (1, 2, 'RAIL-S', 200);
INSERT INTO item_injector_position VALUES (1, 3, 'RAIL-S', 280);
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
INSERT INTO item_ring VALUES (1, 0, 'SEAL-B8', 16.36, 2.21, 0.23, 0.08);
INSERT INTO item_screw VALUES (1, 0, 'SCREW-6', 6, 1, 'metric', '8.8', 25, 8, 9.8, 0.18, 0.22);
INSERT INTO item_screw VALUES (1, 0, 'SCREW-6-LONG', 6, 1, 'metric', '10.9', 40, 8, 9.8, 0.18, 0.22);
INSERT INTO item_seats VALUES (1, 0, 'RAIL-S', 20, 0.1, 8, 8, 'aluminium');
INSERT INTO item_spacer VALUES (1, 0, 'screw-6', 5, 0.05, 14, 6.4, 'phenolic');
INSERT INTO item_spacer VALUES (1, 0, 'SPACER-5', 5, 0.05, 14, 6.4, 'phenolic');
INSERT INTO item_spot_position VALUES (1, 0, 'RAIL-S', 'left', 0);
INSERT INTO item_spot_position VALUES (1, 1, 'RAIL-S', 'centre', 160);
INSERT INTO item_spot_position VALUES (1, 2, 'RAIL-S', 'right', 320);
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
INSERT INTO joint VALUES (1, 0, 'boss-8-torque', 'torque', 34, 42, NULL, NULL, NULL, NULL, NULL, 'SEAL-B8', true, 'figures for tests');
INSERT INTO joint VALUES (1, 1, 'flare-turn', 'past-hand-tight', NULL, NULL, 60, 75, NULL, NULL, NULL, 'SEAL-B8', true, 'figures for tests');
INSERT INTO joint VALUES (1, 2, 'taper-turns', 'turns-engaged', NULL, NULL, NULL, NULL, 4, 6, 2, 'SEAL-B8', true, 'figures for tests');
INSERT INTO joint VALUES (1, 3, 'quick-click', 'push-to-click', NULL, NULL, NULL, NULL, NULL, NULL, NULL, 'SEAL-B8', true, 'figures for tests');
INSERT INTO joint VALUES (1, 4, 'flange', 'flange-to-face', 0.3333333333333333, 8.1, NULL, NULL, NULL, NULL, NULL, 'SEAL-B8', true, 'figures for tests');
INSERT INTO joint_caution VALUES (1, 0, 'boss-8-torque', 'Oil the seal before it goes in.');
INSERT INTO joint_caution VALUES (1, 0, 'flare-turn', 'No sealant on a flare.');
INSERT INTO joint_caution VALUES (1, 0, 'flange', 'Zweite Zeile:
	mit „Zeichen“ 燃料 🔧');
INSERT INTO joint_caution VALUES (1, 1, 'flange', '');
INSERT INTO joint_caution VALUES (1, 2, 'flange', 'It''s "quoted" \ %s ? :x');
INSERT INTO joint_consumable VALUES (1, 0, 'boss-8-torque', 'SEALANT');
INSERT INTO joint_consumable VALUES (1, 0, 'flare-turn', 'SEALANT');
INSERT INTO joint_consumable VALUES (1, 0, 'taper-turns', 'SEALANT');
INSERT INTO joint_consumable VALUES (1, 0, 'quick-click', 'SEALANT');
INSERT INTO joint_consumable VALUES (1, 0, 'flange', 'SEALANT');
INSERT INTO joint_consumable VALUES (1, 1, 'flange', 'SCREW-6');
INSERT INTO joint_consumable VALUES (1, 2, 'flange', 'SEALANT');
INSERT INTO layout VALUES (1, 0, 'linked-banks', 'Factory line, banks linked', 'The car''s own line feeds the first bank; a line leads on to the second.', 2);
INSERT INTO layout VALUES (1, 1, 'through-return', 'Through flow with return', 'Fuel enters at one side and leaves at the other through a regulator on the rail.', 1);
INSERT INTO layout VALUES (1, 2, 'hose-centre', 'Own hose to the centre', 'A size-6 hose feeds the middle of the rail; nothing returns.', 1);
INSERT INTO layout VALUES (1, 3, 'factory', 'Factory line', 'The car''s own line feeds one side of the rail.', 1);
INSERT INTO layout_duty VALUES (1, 0, 'linked-banks', 0, '1.left', 'feed', 'factory-line', NULL, NULL, NULL, NULL, NULL, NULL, NULL, false);
INSERT INTO layout_duty VALUES (1, 1, 'linked-banks', 0, '1.right', 'link', NULL, NULL, NULL, NULL, NULL, NULL, NULL, '2.right', false);
INSERT INTO layout_duty VALUES (1, 2, 'linked-banks', 0, '2.right', 'link', NULL, NULL, NULL, NULL, NULL, NULL, NULL, '1.right', false);
INSERT INTO layout_duty VALUES (1, 0, 'through-return', 0, 'left', 'feed', 'own-hose', 'flare-6', 'female', 8.7, 1500, 1, 0.002, NULL, false);
INSERT INTO layout_duty VALUES (1, 1, 'through-return', 0, 'right', 'return', 'own-hose', 'flare-6', 'female', 8.7, 1500, 1, 0.002, NULL, true);
INSERT INTO layout_duty VALUES (1, 0, 'hose-centre', 0, 'centre', 'feed', 'own-hose', 'flare-6', 'female', 8.7, 1500, 1, 0.002, NULL, false);
INSERT INTO layout_duty VALUES (1, 0, 'factory', 0, 'left', 'feed', 'factory-line', NULL, NULL, NULL, NULL, NULL, NULL, NULL, false);
INSERT INTO layout_duty VALUES (1, 0, 'factory', 1, 'right', 'feed', 'factory-line', NULL, NULL, NULL, NULL, NULL, NULL, NULL, false);
INSERT INTO layout_duty_via VALUES (1, 0, 'through-return', 0, 'right', 'regulator');
INSERT INTO layout_placement VALUES (1, 0, 'linked-banks');
INSERT INTO layout_placement VALUES (1, 0, 'through-return');
INSERT INTO layout_placement VALUES (1, 0, 'hose-centre');
INSERT INTO layout_placement VALUES (1, 0, 'factory');
INSERT INTO layout_placement VALUES (1, 1, 'factory');
INSERT INTO material VALUES (1, 0, 'steel', 'steel', -50, 150, 'for tests', 50, 1.17e-05, NULL);
INSERT INTO material VALUES (1, 1, 'phenolic', 'phenolic', -50, 150, 'for tests', 0.35, 4e-05, NULL);
INSERT INTO material VALUES (1, 2, 'fluorocarbon', 'Fluorocarbon rubber', -20, 200, 'figures for tests', NULL, NULL, NULL);
INSERT INTO material VALUES (1, 3, 'aluminium', 'Hard-anodised aluminium', -80, 150, 'figures for tests', 167, 2.36e-05, 207);
INSERT INTO material_rating VALUES (1, 0, 'steel', 'petrol', 'A');
INSERT INTO material_rating VALUES (1, 1, 'steel', 'e85', 'A');
INSERT INTO material_rating VALUES (1, 0, 'phenolic', 'petrol', 'A');
INSERT INTO material_rating VALUES (1, 1, 'phenolic', 'e85', 'A');
INSERT INTO material_rating VALUES (1, 0, 'fluorocarbon', 'petrol', 'A');
INSERT INTO material_rating VALUES (1, 1, 'fluorocarbon', 'e85', 'A');
INSERT INTO material_rating VALUES (1, 0, 'aluminium', 'petrol', 'A');
INSERT INTO material_rating VALUES (1, 1, 'aluminium', 'e85', 'B');
INSERT INTO order_check VALUES ('a-check', 1, '{"chassis":"x"}', '{"verdict":"complete"}', '2026-03-01 12:00:00+00', 'key-1', '0000000000000000000000000000000000000000000000000000000000000000');
INSERT INTO port_gland VALUES (1, 0, 'boss-8', 16.6, 21.3, 1.8, 0.05, 0.05);
INSERT INTO port_standard VALUES (1, 0, 'boss-8', 'Straight-thread O-ring boss, size 8', 'boss', '8', 'o-ring', 'SAE J1926-1', 'boss-8-torque');
INSERT INTO port_standard VALUES (1, 1, 'flare-6', '37-degree flare, size 6', 'flare', '6', 'cone', 'SAE J514', 'flare-turn');
INSERT INTO port_standard VALUES (1, 2, 'taper-1/8', 'Taper pipe thread, 1/8', 'taper', '1/8', 'taper', 'ASME B1.20.1', 'taper-turns');
INSERT INTO port_standard VALUES (1, 3, 'quick-3/8', 'Quick connector, 3/8', 'quick', '3/8', 'o-ring', 'SAE J2044', 'quick-click');
INSERT INTO port_taper VALUES (1, 0, 'taper-1/8', 10.287, 0.9407, 4.102);
INSERT INTO port_thread VALUES (1, 0, 'boss-8', 19.05, 1.5875, 'unified');
INSERT INTO revision VALUES (1, '2026-03-01 12:00:00+00', '07a304456cce132f5393ff3d3d3bfe1ca8d247b41263ec400672d4db10a68d13', 'portwright-catalog/1', 'Ostrevale Fuelworks', 'OVC', 4, 1.25, 40, 30, 6, 2, 4, 5, 2, 4, 14, 2, 1, 4, 20, 1, 0.08, 0.4, 0.95, 0.75, 1);
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
ALTER TABLE ONLY chassis_injectors
    ADD CONSTRAINT pk_chassis_injectors PRIMARY KEY (revision, chassis);
ALTER TABLE ONLY chassis_manifold
    ADD CONSTRAINT pk_chassis_manifold PRIMARY KEY (revision, chassis);
ALTER TABLE ONLY chassis_mounting
    ADD CONSTRAINT pk_chassis_mounting PRIMARY KEY (revision, chassis, "position");
ALTER TABLE ONLY chassis_pump_point
    ADD CONSTRAINT pk_chassis_pump_point PRIMARY KEY (revision, chassis, "position");
ALTER TABLE ONLY chassis_pump_volts
    ADD CONSTRAINT pk_chassis_pump_volts PRIMARY KEY (revision, chassis);
ALTER TABLE ONLY chassis_tank
    ADD CONSTRAINT pk_chassis_tank PRIMARY KEY (revision, chassis);
ALTER TABLE ONLY fuel
    ADD CONSTRAINT pk_fuel PRIMARY KEY (revision, id);
ALTER TABLE ONLY fuel_vapour
    ADD CONSTRAINT pk_fuel_vapour PRIMARY KEY (revision, fuel, "position");
ALTER TABLE ONLY item
    ADD CONSTRAINT pk_item PRIMARY KEY (revision, sku);
ALTER TABLE ONLY item_injector_position
    ADD CONSTRAINT pk_item_injector_position PRIMARY KEY (revision, item, "position");
ALTER TABLE ONLY item_pattern
    ADD CONSTRAINT pk_item_pattern PRIMARY KEY (revision, item, "position");
ALTER TABLE ONLY item_port
    ADD CONSTRAINT pk_item_port PRIMARY KEY (revision, item, id);
ALTER TABLE ONLY item_ring
    ADD CONSTRAINT pk_item_ring PRIMARY KEY (revision, item);
ALTER TABLE ONLY item_screw
    ADD CONSTRAINT pk_item_screw PRIMARY KEY (revision, item);
ALTER TABLE ONLY item_seats
    ADD CONSTRAINT pk_item_seats PRIMARY KEY (revision, item);
ALTER TABLE ONLY item_spacer
    ADD CONSTRAINT pk_item_spacer PRIMARY KEY (revision, item);
ALTER TABLE ONLY item_spot_position
    ADD CONSTRAINT pk_item_spot_position PRIMARY KEY (revision, item, spot);
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
ALTER TABLE ONLY order_check
    ADD CONSTRAINT pk_order_check PRIMARY KEY (id);
ALTER TABLE ONLY port_gland
    ADD CONSTRAINT pk_port_gland PRIMARY KEY (revision, standard);
ALTER TABLE ONLY port_standard
    ADD CONSTRAINT pk_port_standard PRIMARY KEY (revision, id);
ALTER TABLE ONLY port_taper
    ADD CONSTRAINT pk_port_taper PRIMARY KEY (revision, standard);
ALTER TABLE ONLY port_thread
    ADD CONSTRAINT pk_port_thread PRIMARY KEY (revision, standard);
ALTER TABLE ONLY revision
    ADD CONSTRAINT pk_revision PRIMARY KEY (number);
ALTER TABLE ONLY order_check
    ADD CONSTRAINT uq_order_check_idempotency_key UNIQUE (idempotency_key);
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
ALTER TABLE ONLY chassis_injectors
    ADD CONSTRAINT fk_chassis_injectors_revision_chassis FOREIGN KEY (revision, chassis) REFERENCES chassis(revision, id);
ALTER TABLE ONLY chassis_injectors
    ADD CONSTRAINT fk_chassis_injectors_revision_material FOREIGN KEY (revision, material) REFERENCES material(revision, id);
ALTER TABLE ONLY chassis_manifold
    ADD CONSTRAINT fk_chassis_manifold_revision_chassis FOREIGN KEY (revision, chassis) REFERENCES chassis(revision, id);
ALTER TABLE ONLY chassis_manifold
    ADD CONSTRAINT fk_chassis_manifold_revision_material FOREIGN KEY (revision, material) REFERENCES material(revision, id);
ALTER TABLE ONLY chassis_mounting
    ADD CONSTRAINT fk_chassis_mounting_revision_chassis FOREIGN KEY (revision, chassis) REFERENCES chassis(revision, id);
ALTER TABLE ONLY chassis_mounting
    ADD CONSTRAINT fk_chassis_mounting_revision_sku FOREIGN KEY (revision, sku) REFERENCES item(revision, sku);
ALTER TABLE ONLY chassis_pump_point
    ADD CONSTRAINT fk_chassis_pump_point_revision_chassis FOREIGN KEY (revision, chassis) REFERENCES chassis(revision, id);
ALTER TABLE ONLY chassis_pump_volts
    ADD CONSTRAINT fk_chassis_pump_volts_revision_chassis FOREIGN KEY (revision, chassis) REFERENCES chassis(revision, id);
ALTER TABLE ONLY chassis
    ADD CONSTRAINT fk_chassis_revision FOREIGN KEY (revision) REFERENCES revision(number);
ALTER TABLE ONLY chassis_tank
    ADD CONSTRAINT fk_chassis_tank_revision_chassis FOREIGN KEY (revision, chassis) REFERENCES chassis(revision, id);
ALTER TABLE ONLY fuel
    ADD CONSTRAINT fk_fuel_revision FOREIGN KEY (revision) REFERENCES revision(number);
ALTER TABLE ONLY fuel_vapour
    ADD CONSTRAINT fk_fuel_vapour_revision_fuel FOREIGN KEY (revision, fuel) REFERENCES fuel(revision, id);
ALTER TABLE ONLY item_injector_position
    ADD CONSTRAINT fk_item_injector_position_revision_item FOREIGN KEY (revision, item) REFERENCES item(revision, sku);
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
ALTER TABLE ONLY item_ring
    ADD CONSTRAINT fk_item_ring_revision_item FOREIGN KEY (revision, item) REFERENCES item(revision, sku);
ALTER TABLE ONLY item_screw
    ADD CONSTRAINT fk_item_screw_revision_item FOREIGN KEY (revision, item) REFERENCES item(revision, sku);
ALTER TABLE ONLY item_seats
    ADD CONSTRAINT fk_item_seats_revision_item FOREIGN KEY (revision, item) REFERENCES item(revision, sku);
ALTER TABLE ONLY item_seats
    ADD CONSTRAINT fk_item_seats_revision_material FOREIGN KEY (revision, material) REFERENCES material(revision, id);
ALTER TABLE ONLY item_spacer
    ADD CONSTRAINT fk_item_spacer_revision_item FOREIGN KEY (revision, item) REFERENCES item(revision, sku);
ALTER TABLE ONLY item_spacer
    ADD CONSTRAINT fk_item_spacer_revision_material FOREIGN KEY (revision, material) REFERENCES material(revision, id);
ALTER TABLE ONLY item_spot_position
    ADD CONSTRAINT fk_item_spot_position_revision_item FOREIGN KEY (revision, item) REFERENCES item(revision, sku);
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
ALTER TABLE ONLY order_check
    ADD CONSTRAINT fk_order_check_revision FOREIGN KEY (revision) REFERENCES revision(number);
ALTER TABLE ONLY port_gland
    ADD CONSTRAINT fk_port_gland_revision_standard FOREIGN KEY (revision, standard) REFERENCES port_standard(revision, id);
ALTER TABLE ONLY port_standard
    ADD CONSTRAINT fk_port_standard_revision FOREIGN KEY (revision) REFERENCES revision(number);
ALTER TABLE ONLY port_standard
    ADD CONSTRAINT fk_port_standard_revision_joint FOREIGN KEY (revision, joint) REFERENCES joint(revision, id);
ALTER TABLE ONLY port_taper
    ADD CONSTRAINT fk_port_taper_revision_standard FOREIGN KEY (revision, standard) REFERENCES port_standard(revision, id);
ALTER TABLE ONLY port_thread
    ADD CONSTRAINT fk_port_thread_revision_standard FOREIGN KEY (revision, standard) REFERENCES port_standard(revision, id);

INSERT INTO customer (id, uid, name, phone, email, changed_at) VALUES
	(1, '018064fd-0000-7000-8000-000000000001', 'Ada', '555-0101', '', '2026-06-01T08:00:00'),
	(2, '018064fd-0000-7000-8000-000000000002', '', '', '', '2026-06-01T08:00:01');
INSERT INTO site (id, uid, customer, address, changed_at) VALUES
	(1, '018064fd-0000-7000-8000-000000000011', 1, '12 Oak Street', '2026-06-01T08:00:00');
INSERT INTO system (id, uid, site, name, changed_at) VALUES
	(1, '018064fd-0000-7000-8000-000000000021', 1, 'upstairs', '2026-06-01T08:00:00');
INSERT INTO call (id, uid, customer, site, system, complaint, summary, office_note, opened_at, closed_at,
	tax_labour, tax_part, tax_refrigerant, tax_fee, deposit, cooling_hours, energy_rate, found_line, done_line,
	changed_at, discount, planned_at, technician, authorised_amount) VALUES
	(1, '018064fd-0000-7000-8000-000000000031', 1, 1, 1, 'No cooling', 'Cools again', '', '2026-06-01T08:00:00',
	'2026-06-01T09:30:00', 0, 725, 0, 0, 0, 1200.5, 0, 'weak capacitor', 'capacitor replaced',
	'2026-06-01T09:30:00', 5000, NULL, 'Ann', 0);
INSERT INTO charge_entry VALUES (1, '018064fd-0000-7000-8000-000000000041', 1, 1, '2026-06-01T08:30:00', 3.25, 0.0,
	'C-7', '', '2026-06-01T08:30:00');
INSERT INTO charge_reading VALUES (1, 'outdoor_db', 91.5), (1, 'suction_pressure', 118.0);
INSERT INTO work_line VALUES (1, '018064fd-0000-7000-8000-000000000051', 1, 1, 'labour', 'hour', 1000, 0, 0, '',
	'2026-06-01T09:00:00');
INSERT INTO work_line VALUES (2, '018064fd-0000-7000-8000-000000000052', 1, 2, 'part', 'capacitor', 1500, 3450, 1,
	'shelf', '2026-06-01T09:00:00');
INSERT INTO offer VALUES (1, '018064fd-0000-7000-8000-000000000061', 1, 1, 'new unit', 100, 200, 0.0, 12.5, 0.0,
	'none', '', NULL, '', '2026-06-01T09:00:00');
INSERT INTO watch_item VALUES (1, '018064fd-0000-7000-8000-000000000071', 1, 1, '', 'pitted', '2026-06-01T09:00:00',
	NULL, '2026-06-01T09:00:00');
INSERT INTO judgement VALUES (1, '018064fd-0000-7000-8000-000000000081', 1, 1, 'undercharge', 'confirmed', '', 'Ann',
	'2026-06-01T09:00:00', '2026-06-01T09:00:00');
INSERT INTO tightness VALUES (1, '018064fd-0000-7000-8000-000000000091', 1, 1, 'nitrogen', '2026-06-01T09:00:00',
	350.0, 0.0, NULL, NULL, '', '2026-06-01T09:00:00');
INSERT INTO cylinder VALUES (1, '018064fd-0000-7000-8000-0000000000a1', 1, 1, 'C-7', 'r410a', 25.0, 0.0, 40.5, NULL,
	'2026-06-01T09:00:00');
INSERT INTO call_reading VALUES
	(1, 'as_found', 'outdoor_db', 'taken', 96.0, NULL, '2026-06-01T08:10:00'),
	(1, 'as_found', 'common_run_resistance', 'over_limit', NULL, NULL, NULL),
	(1, 'system', 'refrigerant', 'taken', NULL, 'r410a', NULL);
-- Changes of one second are in the order of their ids; of the last two the milliseconds of the ids
-- begin again from 0 in between.
INSERT INTO reading_change (uid, call, stage, key, old_value, new_value, changed_at) VALUES
	('018064fd-0001-7001-8000-000000000001', 1, 'as_found', 'outdoor_db', NULL, '95', '2026-06-01T08:11:00'),
	('018064fd-0001-7002-8000-000000000002', 1, 'as_found', 'outdoor_db', '95', NULL, '2026-06-01T08:11:00'),
	('018064fd-0002-7000-8000-000000000003', 1, 'as_found', 'outdoor_db', NULL, '96', '2026-06-01T08:11:00'),
	('018064fd-0467-7fff-8000-000000000004', 1, 'as_found', 'common_run_resistance', NULL, '1.2', '2026-06-01T08:12:00'),
	('018064fd-0468-7000-8000-000000000005', 1, 'as_found', 'common_run_resistance', '1.2', 'OL', '2026-06-01T08:12:00'),
	('018064fd-0003-7abc-8000-000000000006', 1, 'system', 'refrigerant', NULL, 'r410a', '2026-06-01T08:13:00');
INSERT INTO removed_line (uid, removed_at) VALUES ('018064fd-0000-7000-8000-000000000059', '2026-06-01T09:10:00');
INSERT INTO setting VALUES ('company', 'Larkmere'), ('currency', 'x');
INSERT INTO price_item VALUES (1, 'part', 'C45', 'capacitor 45', 3450);

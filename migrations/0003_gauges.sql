-- What is known of a gauge beyond its kind, of what a gauge was set in, of the temperature a round was read at, of what an
-- engine's parts are made of; and the shop's own coefficients of expansion. The rules stand below, as in 0002.

-- In the SI unit of what the gauge measures; none where it is not known.
ALTER TABLE gauge ADD COLUMN range_low REAL;        -- from here it measures
ALTER TABLE gauge ADD COLUMN range_high REAL;       -- to here
ALTER TABLE gauge ADD COLUMN resolution REAL;       -- smallest step it is read to
ALTER TABLE gauge ADD COLUMN permissible_error REAL; -- maximum permissible error, either way
ALTER TABLE gauge ADD COLUMN calibrated TEXT;       -- civil date
ALTER TABLE gauge ADD COLUMN due TEXT;              -- civil date of the next calibration
ALTER TABLE gauge ADD COLUMN certificate INTEGER REFERENCES file (id); -- of that calibration

ALTER TABLE gauge_setting ADD COLUMN master INTEGER REFERENCES gauge (id); -- the gauge it was zeroed in, where it was one

ALTER TABLE round ADD COLUMN gauge_temperature_c REAL; -- of the gauge, °C; none: as warm as the parts

ALTER TABLE engine ADD COLUMN crank_material TEXT;  -- a material's key
ALTER TABLE engine ADD COLUMN piston_material TEXT; -- a material's key
ALTER TABLE family ADD COLUMN crank_material TEXT;  -- a material's key
ALTER TABLE family ADD COLUMN piston_material TEXT; -- a material's key

-- How the shop says a material expands, instead of the usual figure.
CREATE TABLE expansion (
    id INTEGER PRIMARY KEY,             -- internal
    material TEXT NOT NULL UNIQUE,      -- a material's key
    per_kelvin REAL NOT NULL,           -- mean coefficient near room temperature
    low REAL NOT NULL,                  -- least that it may be
    high REAL NOT NULL,                 -- most that it may be
    source TEXT NOT NULL,               -- where the figure comes from
    made INTEGER NOT NULL REFERENCES act (id), -- the act that wrote it
    act INTEGER NOT NULL REFERENCES act (id),  -- the newest act that changed it
    withdrawn INTEGER REFERENCES act (id)      -- the act that went back to the usual figure
) STRICT;

CREATE TRIGGER expansion_is_never_deleted BEFORE DELETE ON expansion
BEGIN SELECT RAISE(ABORT, 'expansion: nothing is deleted, things are withdrawn'); END;

CREATE TRIGGER expansion_names_its_act BEFORE INSERT ON expansion
WHEN NEW.made IS NOT (SELECT max(id) FROM act)
BEGIN SELECT RAISE(ABORT, 'expansion: a new row names the newest act'); END;

CREATE TRIGGER expansion_changes_by_an_act BEFORE UPDATE ON expansion
WHEN NEW.act IS NOT (SELECT max(id) FROM act)
BEGIN SELECT RAISE(ABORT, 'expansion: a change names the newest act'); END;

CREATE TRIGGER expansion_keeps_its_past AFTER UPDATE ON expansion
BEGIN
    INSERT INTO history (act, table_name, row, before, after)
    VALUES (NEW.act, 'expansion', OLD.id,
        json_object('id', OLD.id, 'material', OLD.material, 'per_kelvin', OLD.per_kelvin, 'low', OLD.low, 'high', OLD.high, 'source', OLD.source, 'made', OLD.made, 'act', OLD.act, 'withdrawn', OLD.withdrawn),
        json_object('id', NEW.id, 'material', NEW.material, 'per_kelvin', NEW.per_kelvin, 'low', NEW.low, 'high', NEW.high, 'source', NEW.source, 'made', NEW.made, 'act', NEW.act, 'withdrawn', NEW.withdrawn));
END;

DROP TRIGGER gauge_keeps_its_past;

CREATE TRIGGER gauge_keeps_its_past AFTER UPDATE ON gauge
BEGIN
    INSERT INTO history (act, table_name, row, before, after)
    VALUES (NEW.act, 'gauge', OLD.id,
        json_object('id', OLD.id, 'public_id', OLD.public_id, 'kind', OLD.kind, 'name', OLD.name, 'serial', OLD.serial, 'step_unit', OLD.step_unit, 'range_low', OLD.range_low, 'range_high', OLD.range_high, 'resolution', OLD.resolution, 'permissible_error', OLD.permissible_error, 'calibrated', OLD.calibrated, 'due', OLD.due, 'certificate', OLD.certificate, 'made', OLD.made, 'act', OLD.act, 'withdrawn', OLD.withdrawn),
        json_object('id', NEW.id, 'public_id', NEW.public_id, 'kind', NEW.kind, 'name', NEW.name, 'serial', NEW.serial, 'step_unit', NEW.step_unit, 'range_low', NEW.range_low, 'range_high', NEW.range_high, 'resolution', NEW.resolution, 'permissible_error', NEW.permissible_error, 'calibrated', NEW.calibrated, 'due', NEW.due, 'certificate', NEW.certificate, 'made', NEW.made, 'act', NEW.act, 'withdrawn', NEW.withdrawn));
END;

DROP TRIGGER round_keeps_its_past;

CREATE TRIGGER round_keeps_its_past AFTER UPDATE ON round
BEGIN
    INSERT INTO history (act, table_name, row, before, after)
    VALUES (NEW.act, 'round', OLD.id,
        json_object('id', OLD.id, 'build', OLD.build, 'sheet', OLD.sheet, 'kind', OLD.kind, 'number', OLD.number, 'condition', OLD.condition, 'temperature_c', OLD.temperature_c, 'counts', OLD.counts, 'gauge_temperature_c', OLD.gauge_temperature_c, 'made', OLD.made, 'act', OLD.act),
        json_object('id', NEW.id, 'build', NEW.build, 'sheet', NEW.sheet, 'kind', NEW.kind, 'number', NEW.number, 'condition', NEW.condition, 'temperature_c', NEW.temperature_c, 'counts', NEW.counts, 'gauge_temperature_c', NEW.gauge_temperature_c, 'made', NEW.made, 'act', NEW.act));
END;

DROP TRIGGER engine_keeps_its_past;

CREATE TRIGGER engine_keeps_its_past AFTER UPDATE ON engine
BEGIN
    INSERT INTO history (act, table_name, row, before, after)
    VALUES (NEW.act, 'engine', OLD.id,
        json_object('id', OLD.id, 'public_id', OLD.public_id, 'family', OLD.family, 'architecture', OLD.architecture, 'block_material', OLD.block_material, 'head_material', OLD.head_material, 'crank_material', OLD.crank_material, 'piston_material', OLD.piston_material, 'made', OLD.made, 'act', OLD.act),
        json_object('id', NEW.id, 'public_id', NEW.public_id, 'family', NEW.family, 'architecture', NEW.architecture, 'block_material', NEW.block_material, 'head_material', NEW.head_material, 'crank_material', NEW.crank_material, 'piston_material', NEW.piston_material, 'made', NEW.made, 'act', NEW.act));
END;

DROP TRIGGER family_keeps_its_past;

CREATE TRIGGER family_keeps_its_past AFTER UPDATE ON family
BEGIN
    INSERT INTO history (act, table_name, row, before, after)
    VALUES (NEW.act, 'family', OLD.id,
        json_object('id', OLD.id, 'public_id', OLD.public_id, 'name', OLD.name, 'note', OLD.note, 'architecture', OLD.architecture, 'block_material', OLD.block_material, 'head_material', OLD.head_material, 'unit', OLD.unit, 'crank_material', OLD.crank_material, 'piston_material', OLD.piston_material, 'made', OLD.made, 'act', OLD.act, 'withdrawn', OLD.withdrawn),
        json_object('id', NEW.id, 'public_id', NEW.public_id, 'name', NEW.name, 'note', NEW.note, 'architecture', NEW.architecture, 'block_material', NEW.block_material, 'head_material', NEW.head_material, 'unit', NEW.unit, 'crank_material', NEW.crank_material, 'piston_material', NEW.piston_material, 'made', NEW.made, 'act', NEW.act, 'withdrawn', NEW.withdrawn));
END;

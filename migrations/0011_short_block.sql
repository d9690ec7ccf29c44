-- What caps and rods are made of: with block and crank, what becomes of bearing clearances in the heat.

ALTER TABLE engine ADD COLUMN cap_material TEXT; -- of the main caps, a material's key; none: as the block
ALTER TABLE engine ADD COLUMN rod_material TEXT; -- a material's key
ALTER TABLE family ADD COLUMN cap_material TEXT; -- of the main caps, a material's key; none: as the block
ALTER TABLE family ADD COLUMN rod_material TEXT; -- a material's key

DROP TRIGGER engine_keeps_its_past;

CREATE TRIGGER engine_keeps_its_past AFTER UPDATE ON engine
BEGIN
    INSERT INTO history (act, table_name, row, before, after)
    VALUES (NEW.act, 'engine', OLD.id,
        json_object('id', OLD.id, 'public_id', OLD.public_id, 'family', OLD.family, 'architecture', OLD.architecture, 'block_material', OLD.block_material, 'head_material', OLD.head_material, 'crank_material', OLD.crank_material, 'piston_material', OLD.piston_material, 'cap_material', OLD.cap_material, 'rod_material', OLD.rod_material, 'made', OLD.made, 'act', OLD.act),
        json_object('id', NEW.id, 'public_id', NEW.public_id, 'family', NEW.family, 'architecture', NEW.architecture, 'block_material', NEW.block_material, 'head_material', NEW.head_material, 'crank_material', NEW.crank_material, 'piston_material', NEW.piston_material, 'cap_material', NEW.cap_material, 'rod_material', NEW.rod_material, 'made', NEW.made, 'act', NEW.act));
END;

DROP TRIGGER family_keeps_its_past;

CREATE TRIGGER family_keeps_its_past AFTER UPDATE ON family
BEGIN
    INSERT INTO history (act, table_name, row, before, after)
    VALUES (NEW.act, 'family', OLD.id,
        json_object('id', OLD.id, 'public_id', OLD.public_id, 'name', OLD.name, 'note', OLD.note, 'architecture', OLD.architecture, 'block_material', OLD.block_material, 'head_material', OLD.head_material, 'unit', OLD.unit, 'crank_material', OLD.crank_material, 'piston_material', OLD.piston_material, 'cap_material', OLD.cap_material, 'rod_material', OLD.rod_material, 'made', OLD.made, 'act', OLD.act, 'withdrawn', OLD.withdrawn),
        json_object('id', NEW.id, 'public_id', NEW.public_id, 'name', NEW.name, 'note', NEW.note, 'architecture', NEW.architecture, 'block_material', NEW.block_material, 'head_material', NEW.head_material, 'unit', NEW.unit, 'crank_material', NEW.crank_material, 'piston_material', NEW.piston_material, 'cap_material', NEW.cap_material, 'rod_material', NEW.rod_material, 'made', NEW.made, 'act', NEW.act, 'withdrawn', NEW.withdrawn));
END;

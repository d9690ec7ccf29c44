-- What the parts that are pressed in are made of: cylinder sleeves and bushes of small ends, whose hold changes with the heat.

ALTER TABLE engine ADD COLUMN sleeve_material TEXT; -- of the cylinders' sleeves, a material's key; none: none, or not known
ALTER TABLE engine ADD COLUMN bush_material TEXT; -- of the bushes in the rods' small ends, a material's key; none: none, or not known
ALTER TABLE family ADD COLUMN sleeve_material TEXT; -- of the cylinders' sleeves, a material's key; none: none, or not known
ALTER TABLE family ADD COLUMN bush_material TEXT; -- of the bushes in the rods' small ends, a material's key; none: none, or not known

DROP TRIGGER engine_keeps_its_past;

CREATE TRIGGER engine_keeps_its_past AFTER UPDATE ON engine
BEGIN
    INSERT INTO history (act, table_name, row, before, after)
    VALUES (NEW.act, 'engine', OLD.id,
        json_object('id', OLD.id, 'public_id', OLD.public_id, 'family', OLD.family, 'architecture', OLD.architecture, 'block_material', OLD.block_material, 'head_material', OLD.head_material, 'crank_material', OLD.crank_material, 'piston_material', OLD.piston_material, 'cap_material', OLD.cap_material, 'rod_material', OLD.rod_material, 'sleeve_material', OLD.sleeve_material, 'bush_material', OLD.bush_material, 'made', OLD.made, 'act', OLD.act),
        json_object('id', NEW.id, 'public_id', NEW.public_id, 'family', NEW.family, 'architecture', NEW.architecture, 'block_material', NEW.block_material, 'head_material', NEW.head_material, 'crank_material', NEW.crank_material, 'piston_material', NEW.piston_material, 'cap_material', NEW.cap_material, 'rod_material', NEW.rod_material, 'sleeve_material', NEW.sleeve_material, 'bush_material', NEW.bush_material, 'made', NEW.made, 'act', NEW.act));
END;

DROP TRIGGER family_keeps_its_past;

CREATE TRIGGER family_keeps_its_past AFTER UPDATE ON family
BEGIN
    INSERT INTO history (act, table_name, row, before, after)
    VALUES (NEW.act, 'family', OLD.id,
        json_object('id', OLD.id, 'public_id', OLD.public_id, 'name', OLD.name, 'note', OLD.note, 'architecture', OLD.architecture, 'block_material', OLD.block_material, 'head_material', OLD.head_material, 'unit', OLD.unit, 'crank_material', OLD.crank_material, 'piston_material', OLD.piston_material, 'cap_material', OLD.cap_material, 'rod_material', OLD.rod_material, 'sleeve_material', OLD.sleeve_material, 'bush_material', OLD.bush_material, 'kept_from', OLD.kept_from, 'made', OLD.made, 'act', OLD.act, 'withdrawn', OLD.withdrawn),
        json_object('id', NEW.id, 'public_id', NEW.public_id, 'name', NEW.name, 'note', NEW.note, 'architecture', NEW.architecture, 'block_material', NEW.block_material, 'head_material', NEW.head_material, 'unit', NEW.unit, 'crank_material', NEW.crank_material, 'piston_material', NEW.piston_material, 'cap_material', NEW.cap_material, 'rod_material', NEW.rod_material, 'sleeve_material', NEW.sleeve_material, 'bush_material', NEW.bush_material, 'kept_from', NEW.kept_from, 'made', NEW.made, 'act', NEW.act, 'withdrawn', NEW.withdrawn));
END;

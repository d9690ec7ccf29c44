-- A file can be the record of a round: the supplier's sheet, photographed, from which its readings were taken over.

ALTER TABLE attachment ADD COLUMN round INTEGER REFERENCES round (id); -- the round whose record it is; none for most

DROP TRIGGER attachment_keeps_its_past;

CREATE TRIGGER attachment_keeps_its_past AFTER UPDATE ON attachment
BEGIN
    INSERT INTO history (act, table_name, row, before, after)
    VALUES (NEW.act, 'attachment', OLD.id,
        json_object('id', OLD.id, 'build', OLD.build, 'step', OLD.step, 'round', OLD.round, 'file', OLD.file, 'name', OLD.name, 'caption', OLD.caption, 'made', OLD.made, 'act', OLD.act, 'withdrawn', OLD.withdrawn),
        json_object('id', NEW.id, 'build', NEW.build, 'step', NEW.step, 'round', NEW.round, 'file', NEW.file, 'name', NEW.name, 'caption', NEW.caption, 'made', NEW.made, 'act', NEW.act, 'withdrawn', NEW.withdrawn));
END;

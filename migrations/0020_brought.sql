-- Readings of a thing that came here with it from another job: where they were read, and when.

ALTER TABLE reading ADD COLUMN brought_from TEXT; -- build/number where it was read; none where it was read here
ALTER TABLE reading ADD COLUMN read_in INTEGER REFERENCES act (id); -- the act that took it there; none where it was read here

DROP TRIGGER reading_keeps_its_past;

CREATE TRIGGER reading_keeps_its_past AFTER UPDATE ON reading
BEGIN
    INSERT INTO history (act, table_name, row, before, after)
    VALUES (NEW.act, 'reading', OLD.build || '/' || OLD.number,
        json_object('build', OLD.build, 'number', OLD.number, 'item', OLD.item, 'sheet', OLD.sheet, 'slot', OLD.slot, 'round', OLD.round, 'take', OLD.take, 'kind', OLD.kind, 'si', OLD.si, 'si_high', OLD.si_high, 'words', OLD.words, 'typed', OLD.typed, 'unit', OLD.unit, 'resolution', OLD.resolution, 'gauge', OLD.gauge, 'gauge_setting', OLD.gauge_setting, 'saw', OLD.saw, 'corrects', OLD.corrects, 'why', OLD.why, 'as_read', OLD.as_read, 'moved_from', OLD.moved_from, 'moved_to', OLD.moved_to, 'brought_from', OLD.brought_from, 'read_in', OLD.read_in, 'state', OLD.state, 'made', OLD.made, 'act', OLD.act),
        json_object('build', NEW.build, 'number', NEW.number, 'item', NEW.item, 'sheet', NEW.sheet, 'slot', NEW.slot, 'round', NEW.round, 'take', NEW.take, 'kind', NEW.kind, 'si', NEW.si, 'si_high', NEW.si_high, 'words', NEW.words, 'typed', NEW.typed, 'unit', NEW.unit, 'resolution', NEW.resolution, 'gauge', NEW.gauge, 'gauge_setting', NEW.gauge_setting, 'saw', NEW.saw, 'corrects', NEW.corrects, 'why', NEW.why, 'as_read', NEW.as_read, 'moved_from', NEW.moved_from, 'moved_to', NEW.moved_to, 'brought_from', NEW.brought_from, 'read_in', NEW.read_in, 'state', NEW.state, 'made', NEW.made, 'act', NEW.act));
END;

DROP TRIGGER reading_keeps_what_was_read;

CREATE TRIGGER reading_keeps_what_was_read BEFORE UPDATE OF build, number, item, sheet, slot, round, take, kind, si, si_high, words, typed, unit, resolution, gauge, gauge_setting, saw, corrects, why, as_read, moved_from, brought_from, read_in, made ON reading
BEGIN SELECT RAISE(ABORT, 'reading: what was read is never overwritten'); END;

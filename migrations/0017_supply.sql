-- Parts made in the shop and parts that came in, looked at. Rules as in 0002_rules.sql.
--
-- Parts looked for by the step that needs them and by the part that took their place; what became of them is added up from
-- the index alone.

CREATE INDEX part_by_step ON part (step);
CREATE INDEX part_by_replaced ON part (replaces) WHERE replaces IS NOT NULL AND withdrawn IS NULL;
DROP INDEX part_move_by_part;
CREATE INDEX part_move_by_part ON part_move (part, withdrawn, kind, quantity);

-- Whether what steps took may have changed is told from the newest of these.
CREATE INDEX worked_by_act ON worked (act);
CREATE INDEX sign_off_by_act ON sign_off (act);

-- A dimension of a part made in the shop, as its drawing asks for it.
CREATE TABLE made_size (
    id INTEGER PRIMARY KEY,             -- grows with time
    part INTEGER NOT NULL REFERENCES part (id), -- of which
    name TEXT NOT NULL, -- what is measured: register diameter
    size REAL NOT NULL, -- m; what it is to be
    least REAL, -- m; none where nothing says how small it may be
    most REAL, -- m; none where nothing says how large it may be
    typed TEXT NOT NULL, -- size and tolerance as typed
    made INTEGER NOT NULL REFERENCES act (id), -- the act that wrote it
    act INTEGER NOT NULL REFERENCES act (id), -- the newest act that changed it
    withdrawn INTEGER REFERENCES act (id) -- the act that withdrew it
) STRICT;
CREATE INDEX made_size_by_part ON made_size (part);

CREATE TRIGGER made_size_is_never_deleted BEFORE DELETE ON made_size
BEGIN SELECT RAISE(ABORT, 'made_size: nothing is deleted, things are withdrawn'); END;

CREATE TRIGGER made_size_names_its_act BEFORE INSERT ON made_size
WHEN NEW.made IS NOT (SELECT max(id) FROM act)
BEGIN SELECT RAISE(ABORT, 'made_size: a new row names the newest act'); END;

CREATE TRIGGER made_size_changes_by_an_act BEFORE UPDATE ON made_size
WHEN NEW.act IS NOT (SELECT max(id) FROM act)
BEGIN SELECT RAISE(ABORT, 'made_size: a change names the newest act'); END;

CREATE TRIGGER made_size_keeps_its_past AFTER UPDATE ON made_size
BEGIN
    INSERT INTO history (act, table_name, row, before, after)
    VALUES (NEW.act, 'made_size', OLD.id,
        json_object('id', OLD.id, 'part', OLD.part, 'name', OLD.name, 'size', OLD.size, 'least', OLD.least, 'most', OLD.most, 'typed', OLD.typed, 'made', OLD.made, 'act', OLD.act, 'withdrawn', OLD.withdrawn),
        json_object('id', NEW.id, 'part', NEW.part, 'name', NEW.name, 'size', NEW.size, 'least', NEW.least, 'most', NEW.most, 'typed', NEW.typed, 'made', NEW.made, 'act', NEW.act, 'withdrawn', NEW.withdrawn));
END;

CREATE TRIGGER made_size_keeps_what_was_said BEFORE UPDATE OF id, part, name, size, least, most, typed, made ON made_size
BEGIN SELECT RAISE(ABORT, 'made_size: what was said is never overwritten'); END;

-- What was read of a dimension of a part made in the shop.
CREATE TABLE made_reading (
    id INTEGER PRIMARY KEY,             -- grows with time
    size_of INTEGER NOT NULL REFERENCES made_size (id), -- of which
    typed TEXT NOT NULL, -- as typed
    value REAL NOT NULL, -- m
    resolution REAL NOT NULL, -- m; one step of the last digit given
    gauge INTEGER REFERENCES gauge (id), -- with which gauge; none where none was named
    made INTEGER NOT NULL REFERENCES act (id), -- the act that wrote it
    act INTEGER NOT NULL REFERENCES act (id), -- the newest act that changed it
    withdrawn INTEGER REFERENCES act (id) -- the act that withdrew it
) STRICT;
CREATE INDEX made_reading_by_size_of ON made_reading (size_of);

CREATE TRIGGER made_reading_is_never_deleted BEFORE DELETE ON made_reading
BEGIN SELECT RAISE(ABORT, 'made_reading: nothing is deleted, things are withdrawn'); END;

CREATE TRIGGER made_reading_names_its_act BEFORE INSERT ON made_reading
WHEN NEW.made IS NOT (SELECT max(id) FROM act)
BEGIN SELECT RAISE(ABORT, 'made_reading: a new row names the newest act'); END;

CREATE TRIGGER made_reading_changes_by_an_act BEFORE UPDATE ON made_reading
WHEN NEW.act IS NOT (SELECT max(id) FROM act)
BEGIN SELECT RAISE(ABORT, 'made_reading: a change names the newest act'); END;

CREATE TRIGGER made_reading_keeps_its_past AFTER UPDATE ON made_reading
BEGIN
    INSERT INTO history (act, table_name, row, before, after)
    VALUES (NEW.act, 'made_reading', OLD.id,
        json_object('id', OLD.id, 'size_of', OLD.size_of, 'typed', OLD.typed, 'value', OLD.value, 'resolution', OLD.resolution, 'gauge', OLD.gauge, 'made', OLD.made, 'act', OLD.act, 'withdrawn', OLD.withdrawn),
        json_object('id', NEW.id, 'size_of', NEW.size_of, 'typed', NEW.typed, 'value', NEW.value, 'resolution', NEW.resolution, 'gauge', NEW.gauge, 'made', NEW.made, 'act', NEW.act, 'withdrawn', NEW.withdrawn));
END;

CREATE TRIGGER made_reading_keeps_what_was_said BEFORE UPDATE OF id, size_of, typed, value, resolution, gauge, made ON made_reading
BEGIN SELECT RAISE(ABORT, 'made_reading: what was said is never overwritten'); END;

-- The engine of another job that carries a part made in the shop.
CREATE TABLE part_carried (
    id INTEGER PRIMARY KEY,             -- grows with time
    part INTEGER NOT NULL REFERENCES part (id), -- which
    build INTEGER NOT NULL REFERENCES build (id), -- by the engine of which job
    words TEXT NOT NULL, -- where it sits, what it is marked with; may be empty
    made INTEGER NOT NULL REFERENCES act (id), -- the act that wrote it
    act INTEGER NOT NULL REFERENCES act (id), -- the newest act that changed it
    withdrawn INTEGER REFERENCES act (id) -- the act that withdrew it
) STRICT;
CREATE INDEX part_carried_by_part ON part_carried (part);

CREATE TRIGGER part_carried_is_never_deleted BEFORE DELETE ON part_carried
BEGIN SELECT RAISE(ABORT, 'part_carried: nothing is deleted, things are withdrawn'); END;

CREATE TRIGGER part_carried_names_its_act BEFORE INSERT ON part_carried
WHEN NEW.made IS NOT (SELECT max(id) FROM act)
BEGIN SELECT RAISE(ABORT, 'part_carried: a new row names the newest act'); END;

CREATE TRIGGER part_carried_changes_by_an_act BEFORE UPDATE ON part_carried
WHEN NEW.act IS NOT (SELECT max(id) FROM act)
BEGIN SELECT RAISE(ABORT, 'part_carried: a change names the newest act'); END;

CREATE TRIGGER part_carried_keeps_its_past AFTER UPDATE ON part_carried
BEGIN
    INSERT INTO history (act, table_name, row, before, after)
    VALUES (NEW.act, 'part_carried', OLD.id,
        json_object('id', OLD.id, 'part', OLD.part, 'build', OLD.build, 'words', OLD.words, 'made', OLD.made, 'act', OLD.act, 'withdrawn', OLD.withdrawn),
        json_object('id', NEW.id, 'part', NEW.part, 'build', NEW.build, 'words', NEW.words, 'made', NEW.made, 'act', NEW.act, 'withdrawn', NEW.withdrawn));
END;

CREATE TRIGGER part_carried_keeps_what_was_said BEFORE UPDATE OF id, part, build, words, made ON part_carried
BEGIN SELECT RAISE(ABORT, 'part_carried: what was said is never overwritten'); END;
CREATE INDEX part_carried_by_build ON part_carried (build);

-- What this shop looks at when a kind of part comes in, besides what every shop does.
CREATE TABLE inspection_point (
    id INTEGER PRIMARY KEY,             -- grows with time
    kind TEXT NOT NULL, -- the kind of part; any for all of them
    words TEXT NOT NULL, -- what is looked at, in the shop's words
    made INTEGER NOT NULL REFERENCES act (id), -- the act that wrote it
    act INTEGER NOT NULL REFERENCES act (id), -- the newest act that changed it
    withdrawn INTEGER REFERENCES act (id) -- the act that withdrew it
) STRICT;

CREATE TRIGGER inspection_point_is_never_deleted BEFORE DELETE ON inspection_point
BEGIN SELECT RAISE(ABORT, 'inspection_point: nothing is deleted, things are withdrawn'); END;

CREATE TRIGGER inspection_point_names_its_act BEFORE INSERT ON inspection_point
WHEN NEW.made IS NOT (SELECT max(id) FROM act)
BEGIN SELECT RAISE(ABORT, 'inspection_point: a new row names the newest act'); END;

CREATE TRIGGER inspection_point_changes_by_an_act BEFORE UPDATE ON inspection_point
WHEN NEW.act IS NOT (SELECT max(id) FROM act)
BEGIN SELECT RAISE(ABORT, 'inspection_point: a change names the newest act'); END;

CREATE TRIGGER inspection_point_keeps_its_past AFTER UPDATE ON inspection_point
BEGIN
    INSERT INTO history (act, table_name, row, before, after)
    VALUES (NEW.act, 'inspection_point', OLD.id,
        json_object('id', OLD.id, 'kind', OLD.kind, 'words', OLD.words, 'made', OLD.made, 'act', OLD.act, 'withdrawn', OLD.withdrawn),
        json_object('id', NEW.id, 'kind', NEW.kind, 'words', NEW.words, 'made', NEW.made, 'act', NEW.act, 'withdrawn', NEW.withdrawn));
END;

CREATE TRIGGER inspection_point_keeps_what_was_said BEFORE UPDATE OF id, kind, words, made ON inspection_point
BEGIN SELECT RAISE(ABORT, 'inspection_point: what was said is never overwritten'); END;

-- What was looked at on a part that came in, and whether it was good.
CREATE TABLE part_looked_at (
    id INTEGER PRIMARY KEY,             -- grows with time
    part INTEGER NOT NULL REFERENCES part (id), -- which
    what TEXT NOT NULL, -- what was looked at
    good INTEGER NOT NULL CHECK (good IN (0, 1)), -- whether it was good
    words TEXT NOT NULL, -- what is wrong with it; may be empty where it is good
    made INTEGER NOT NULL REFERENCES act (id), -- the act that wrote it
    act INTEGER NOT NULL REFERENCES act (id), -- the newest act that changed it
    withdrawn INTEGER REFERENCES act (id) -- the act that withdrew it
) STRICT;
CREATE INDEX part_looked_at_by_part ON part_looked_at (part);

CREATE TRIGGER part_looked_at_is_never_deleted BEFORE DELETE ON part_looked_at
BEGIN SELECT RAISE(ABORT, 'part_looked_at: nothing is deleted, things are withdrawn'); END;

CREATE TRIGGER part_looked_at_names_its_act BEFORE INSERT ON part_looked_at
WHEN NEW.made IS NOT (SELECT max(id) FROM act)
BEGIN SELECT RAISE(ABORT, 'part_looked_at: a new row names the newest act'); END;

CREATE TRIGGER part_looked_at_changes_by_an_act BEFORE UPDATE ON part_looked_at
WHEN NEW.act IS NOT (SELECT max(id) FROM act)
BEGIN SELECT RAISE(ABORT, 'part_looked_at: a change names the newest act'); END;

CREATE TRIGGER part_looked_at_keeps_its_past AFTER UPDATE ON part_looked_at
BEGIN
    INSERT INTO history (act, table_name, row, before, after)
    VALUES (NEW.act, 'part_looked_at', OLD.id,
        json_object('id', OLD.id, 'part', OLD.part, 'what', OLD.what, 'good', OLD.good, 'words', OLD.words, 'made', OLD.made, 'act', OLD.act, 'withdrawn', OLD.withdrawn),
        json_object('id', NEW.id, 'part', NEW.part, 'what', NEW.what, 'good', NEW.good, 'words', NEW.words, 'made', NEW.made, 'act', NEW.act, 'withdrawn', NEW.withdrawn));
END;

CREATE TRIGGER part_looked_at_keeps_what_was_said BEFORE UPDATE OF id, part, what, good, words, made ON part_looked_at
BEGIN SELECT RAISE(ABORT, 'part_looked_at: what was said is never overwritten'); END;

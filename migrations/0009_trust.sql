-- What is said of many places or fasteners at once: tightened so, with the exceptions; read as in an earlier round and checked
-- again. Rules as in 0002_rules.sql.

-- Fasteners tightened at a step, said for all of them at once.
CREATE TABLE tightening (
    id INTEGER PRIMARY KEY,             -- grows with time
    build INTEGER NOT NULL REFERENCES build (id), -- whose
    step INTEGER NOT NULL REFERENCES step (id), -- at which step
    fasteners TEXT NOT NULL,            -- which: "main caps, 1/2 in studs"
    typed TEXT NOT NULL,                -- to what, as typed
    steps TEXT NOT NULL,                -- the figures on the way there, the last one the final, each with its dimension and unit; JSON
    step_count INTEGER,                 -- in how many steps; none where it was not said
    in_order INTEGER NOT NULL CHECK (in_order IN (0, 1)), -- whether in the order that is specified
    exceptions TEXT NOT NULL,           -- each fastener that differs: which, its figure or null, and words; JSON
    gauge INTEGER REFERENCES gauge (id), -- the wrench or stretch gauge; none where it is not in the register
    lubricant TEXT NOT NULL,            -- on the threads and under the heads; may be empty
    made INTEGER NOT NULL REFERENCES act (id), -- the act that wrote it
    act INTEGER NOT NULL REFERENCES act (id),  -- the newest act that changed it
    withdrawn INTEGER REFERENCES act (id)      -- the act that withdrew it
) STRICT;
CREATE INDEX tightening_by_build ON tightening (build);

-- "As round 1, checked again": what a round did not read anew stands as an earlier one read it.
CREATE TABLE recheck (
    id INTEGER PRIMARY KEY,             -- grows with time
    build INTEGER NOT NULL REFERENCES build (id), -- whose
    round INTEGER NOT NULL REFERENCES round (id), -- in which round it was checked
    earlier INTEGER NOT NULL REFERENCES round (id), -- the round whose figures stand
    place TEXT,                         -- at which place; none for all of them
    made INTEGER NOT NULL REFERENCES act (id), -- the act that said so
    act INTEGER NOT NULL REFERENCES act (id),  -- the newest act that changed it
    withdrawn INTEGER REFERENCES act (id)      -- the act that withdrew it
) STRICT;
CREATE INDEX recheck_by_build ON recheck (build);

CREATE TRIGGER tightening_is_never_deleted BEFORE DELETE ON tightening
BEGIN SELECT RAISE(ABORT, 'tightening: nothing is deleted, things are withdrawn'); END;

CREATE TRIGGER tightening_names_its_act BEFORE INSERT ON tightening
WHEN NEW.made IS NOT (SELECT max(id) FROM act)
BEGIN SELECT RAISE(ABORT, 'tightening: a new row names the newest act'); END;

CREATE TRIGGER tightening_changes_by_an_act BEFORE UPDATE ON tightening
WHEN NEW.act IS NOT (SELECT max(id) FROM act)
BEGIN SELECT RAISE(ABORT, 'tightening: a change names the newest act'); END;

CREATE TRIGGER tightening_keeps_its_past AFTER UPDATE ON tightening
BEGIN
    INSERT INTO history (act, table_name, row, before, after)
    VALUES (NEW.act, 'tightening', OLD.id,
        json_object('id', OLD.id, 'build', OLD.build, 'step', OLD.step, 'fasteners', OLD.fasteners, 'typed', OLD.typed, 'steps', OLD.steps, 'step_count', OLD.step_count, 'in_order', OLD.in_order, 'exceptions', OLD.exceptions, 'gauge', OLD.gauge, 'lubricant', OLD.lubricant, 'made', OLD.made, 'act', OLD.act, 'withdrawn', OLD.withdrawn),
        json_object('id', NEW.id, 'build', NEW.build, 'step', NEW.step, 'fasteners', NEW.fasteners, 'typed', NEW.typed, 'steps', NEW.steps, 'step_count', NEW.step_count, 'in_order', NEW.in_order, 'exceptions', NEW.exceptions, 'gauge', NEW.gauge, 'lubricant', NEW.lubricant, 'made', NEW.made, 'act', NEW.act, 'withdrawn', NEW.withdrawn));
END;

CREATE TRIGGER tightening_keeps_what_was_said BEFORE UPDATE OF id, build, step, fasteners, typed, steps, step_count, in_order, exceptions, gauge, lubricant, made ON tightening
BEGIN SELECT RAISE(ABORT, 'tightening: what was said is never overwritten'); END;

CREATE TRIGGER recheck_is_never_deleted BEFORE DELETE ON recheck
BEGIN SELECT RAISE(ABORT, 'recheck: nothing is deleted, things are withdrawn'); END;

CREATE TRIGGER recheck_names_its_act BEFORE INSERT ON recheck
WHEN NEW.made IS NOT (SELECT max(id) FROM act)
BEGIN SELECT RAISE(ABORT, 'recheck: a new row names the newest act'); END;

CREATE TRIGGER recheck_changes_by_an_act BEFORE UPDATE ON recheck
WHEN NEW.act IS NOT (SELECT max(id) FROM act)
BEGIN SELECT RAISE(ABORT, 'recheck: a change names the newest act'); END;

CREATE TRIGGER recheck_keeps_its_past AFTER UPDATE ON recheck
BEGIN
    INSERT INTO history (act, table_name, row, before, after)
    VALUES (NEW.act, 'recheck', OLD.id,
        json_object('id', OLD.id, 'build', OLD.build, 'round', OLD.round, 'earlier', OLD.earlier, 'place', OLD.place, 'made', OLD.made, 'act', OLD.act, 'withdrawn', OLD.withdrawn),
        json_object('id', NEW.id, 'build', NEW.build, 'round', NEW.round, 'earlier', NEW.earlier, 'place', NEW.place, 'made', NEW.made, 'act', NEW.act, 'withdrawn', NEW.withdrawn));
END;

CREATE TRIGGER recheck_keeps_what_was_said BEFORE UPDATE OF id, build, round, earlier, place, made ON recheck
BEGIN SELECT RAISE(ABORT, 'recheck: what was said is never overwritten'); END;

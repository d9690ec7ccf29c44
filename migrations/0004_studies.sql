-- Repeatability studies of gauges: several people read several parts several times. Rules as in 0002_rules.sql.

-- A study of a gauge.
CREATE TABLE study (
    id INTEGER PRIMARY KEY,             -- internal
    public_id TEXT NOT NULL UNIQUE,     -- 128 random bits in hex
    gauge INTEGER NOT NULL REFERENCES gauge (id), -- of which gauge
    measured TEXT NOT NULL,             -- what is measured: "wrist pins, outside diameter"
    unit TEXT NOT NULL,                 -- the unit of a bare figure, by its key
    tolerance REAL,                     -- the whole width of what is permitted; SI; none where none was given
    tolerance_typed TEXT NOT NULL,      -- as typed; may be empty
    parts INTEGER NOT NULL CHECK (parts >= 1),   -- how many parts, numbered from 1
    trials INTEGER NOT NULL CHECK (trials >= 2), -- how often everyone reads every part
    made INTEGER NOT NULL REFERENCES act (id), -- the act that planned it
    act INTEGER NOT NULL REFERENCES act (id),  -- the newest act that changed it
    withdrawn INTEGER REFERENCES act (id)      -- the act that withdrew it
) STRICT;
CREATE INDEX study_by_gauge ON study (gauge);

-- Someone who reads in a study.
CREATE TABLE study_person (
    study INTEGER NOT NULL REFERENCES study (id), -- in which
    place INTEGER NOT NULL,             -- counted within the study, from 1
    person INTEGER NOT NULL REFERENCES person (id), -- who
    made INTEGER NOT NULL REFERENCES act (id), -- the act that planned the study
    PRIMARY KEY (study, place)
) STRICT, WITHOUT ROWID;

-- A reading of a study. What was read is never overwritten; a correction is a reading of its own.
CREATE TABLE study_reading (
    study INTEGER NOT NULL REFERENCES study (id), -- in which
    number INTEGER NOT NULL,            -- counted within the study, from 1
    part INTEGER NOT NULL,              -- which part, from 1
    place INTEGER NOT NULL,             -- which person of the study, from 1
    trial INTEGER NOT NULL,             -- which trial, from 1
    si REAL NOT NULL,                   -- the figure; SI
    typed TEXT NOT NULL,                -- as typed
    resolution REAL NOT NULL,           -- one step of the last digit typed; SI
    corrects INTEGER,                   -- number of the reading that this one corrects
    why TEXT NOT NULL,                  -- why it corrects; may be empty
    state TEXT NOT NULL CHECK (state IN ('stands', 'corrected')), -- whether it counts
    made INTEGER NOT NULL REFERENCES act (id), -- the act that took it
    act INTEGER NOT NULL REFERENCES act (id),  -- the newest act that changed it
    PRIMARY KEY (study, number),
    FOREIGN KEY (study, place) REFERENCES study_person (study, place)
) STRICT, WITHOUT ROWID;
CREATE UNIQUE INDEX study_reading_that_stands ON study_reading (study, part, place, trial) WHERE state = 'stands';

CREATE TRIGGER study_is_never_deleted BEFORE DELETE ON study
BEGIN SELECT RAISE(ABORT, 'study: nothing is deleted, things are withdrawn'); END;

CREATE TRIGGER study_names_its_act BEFORE INSERT ON study
WHEN NEW.made IS NOT (SELECT max(id) FROM act)
BEGIN SELECT RAISE(ABORT, 'study: a new row names the newest act'); END;

CREATE TRIGGER study_changes_by_an_act BEFORE UPDATE ON study
WHEN NEW.act IS NOT (SELECT max(id) FROM act)
BEGIN SELECT RAISE(ABORT, 'study: a change names the newest act'); END;

CREATE TRIGGER study_keeps_its_past AFTER UPDATE ON study
BEGIN
    INSERT INTO history (act, table_name, row, before, after)
    VALUES (NEW.act, 'study', OLD.id,
        json_object('id', OLD.id, 'public_id', OLD.public_id, 'gauge', OLD.gauge, 'measured', OLD.measured, 'unit', OLD.unit, 'tolerance', OLD.tolerance, 'tolerance_typed', OLD.tolerance_typed, 'parts', OLD.parts, 'trials', OLD.trials, 'made', OLD.made, 'act', OLD.act, 'withdrawn', OLD.withdrawn),
        json_object('id', NEW.id, 'public_id', NEW.public_id, 'gauge', NEW.gauge, 'measured', NEW.measured, 'unit', NEW.unit, 'tolerance', NEW.tolerance, 'tolerance_typed', NEW.tolerance_typed, 'parts', NEW.parts, 'trials', NEW.trials, 'made', NEW.made, 'act', NEW.act, 'withdrawn', NEW.withdrawn));
END;

CREATE TRIGGER study_person_is_never_deleted BEFORE DELETE ON study_person
BEGIN SELECT RAISE(ABORT, 'study_person: nothing is deleted, things are withdrawn'); END;

CREATE TRIGGER study_person_names_its_act BEFORE INSERT ON study_person
WHEN NEW.made IS NOT (SELECT max(id) FROM act)
BEGIN SELECT RAISE(ABORT, 'study_person: a new row names the newest act'); END;

CREATE TRIGGER study_person_is_never_changed BEFORE UPDATE ON study_person
BEGIN SELECT RAISE(ABORT, 'study_person: written once'); END;

CREATE TRIGGER study_reading_is_never_deleted BEFORE DELETE ON study_reading
BEGIN SELECT RAISE(ABORT, 'study_reading: nothing is deleted, things are withdrawn'); END;

CREATE TRIGGER study_reading_names_its_act BEFORE INSERT ON study_reading
WHEN NEW.made IS NOT (SELECT max(id) FROM act)
BEGIN SELECT RAISE(ABORT, 'study_reading: a new row names the newest act'); END;

CREATE TRIGGER study_reading_changes_by_an_act BEFORE UPDATE ON study_reading
WHEN NEW.act IS NOT (SELECT max(id) FROM act)
BEGIN SELECT RAISE(ABORT, 'study_reading: a change names the newest act'); END;

CREATE TRIGGER study_reading_keeps_its_past AFTER UPDATE ON study_reading
BEGIN
    INSERT INTO history (act, table_name, row, before, after)
    VALUES (NEW.act, 'study_reading', OLD.study || '/' || OLD.number,
        json_object('study', OLD.study, 'number', OLD.number, 'part', OLD.part, 'place', OLD.place, 'trial', OLD.trial, 'si', OLD.si, 'typed', OLD.typed, 'resolution', OLD.resolution, 'corrects', OLD.corrects, 'why', OLD.why, 'state', OLD.state, 'made', OLD.made, 'act', OLD.act),
        json_object('study', NEW.study, 'number', NEW.number, 'part', NEW.part, 'place', NEW.place, 'trial', NEW.trial, 'si', NEW.si, 'typed', NEW.typed, 'resolution', NEW.resolution, 'corrects', NEW.corrects, 'why', NEW.why, 'state', NEW.state, 'made', NEW.made, 'act', NEW.act));
END;

CREATE TRIGGER study_reading_keeps_what_was_read BEFORE UPDATE OF study, number, part, place, trial, si, typed, resolution, corrects, why, made ON study_reading
BEGIN SELECT RAISE(ABORT, 'study_reading: what was read is never overwritten'); END;

CREATE TRIGGER study_keeps_its_plan BEFORE UPDATE OF id, public_id, gauge, measured, unit, tolerance, tolerance_typed, parts, trials, made ON study
BEGIN SELECT RAISE(ABORT, 'study: its plan is never overwritten'); END;

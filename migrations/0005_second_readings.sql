-- Places that are to be read twice, the second time without seeing the first; off until somebody asks for it.

-- What a family asks for: its jobs copy it. Insert-only; the newest per feature holds.
CREATE TABLE family_second_reading (
    id INTEGER PRIMARY KEY,             -- grows with time
    family INTEGER NOT NULL REFERENCES family (id), -- whose
    feature TEXT NOT NULL,              -- which feature is read
    wanted INTEGER NOT NULL CHECK (wanted IN (0, 1)), -- whether twice from then on
    made INTEGER NOT NULL REFERENCES act (id) -- the act that wrote it
) STRICT;
CREATE INDEX family_second_reading_by_family ON family_second_reading (family, id);

-- What a build asks for. Insert-only; the newest per feature holds.
CREATE TABLE second_reading (
    id INTEGER PRIMARY KEY,             -- grows with time
    build INTEGER NOT NULL REFERENCES build (id), -- whose
    feature TEXT NOT NULL,              -- which feature is read
    wanted INTEGER NOT NULL CHECK (wanted IN (0, 1)), -- whether twice from then on
    made INTEGER NOT NULL REFERENCES act (id) -- the act that wrote it
) STRICT;
CREATE INDEX second_reading_by_build ON second_reading (build, id);

CREATE TRIGGER family_second_reading_is_never_deleted BEFORE DELETE ON family_second_reading
BEGIN SELECT RAISE(ABORT, 'family_second_reading: nothing is deleted, things are withdrawn'); END;

CREATE TRIGGER family_second_reading_names_its_act BEFORE INSERT ON family_second_reading
WHEN NEW.made IS NOT (SELECT max(id) FROM act)
BEGIN SELECT RAISE(ABORT, 'family_second_reading: a new row names the newest act'); END;

CREATE TRIGGER family_second_reading_is_never_changed BEFORE UPDATE ON family_second_reading
BEGIN SELECT RAISE(ABORT, 'family_second_reading: written once'); END;

CREATE TRIGGER second_reading_is_never_deleted BEFORE DELETE ON second_reading
BEGIN SELECT RAISE(ABORT, 'second_reading: nothing is deleted, things are withdrawn'); END;

CREATE TRIGGER second_reading_names_its_act BEFORE INSERT ON second_reading
WHEN NEW.made IS NOT (SELECT max(id) FROM act)
BEGIN SELECT RAISE(ABORT, 'second_reading: a new row names the newest act'); END;

CREATE TRIGGER second_reading_is_never_changed BEFORE UPDATE ON second_reading
BEGIN SELECT RAISE(ABORT, 'second_reading: written once'); END;

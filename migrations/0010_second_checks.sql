-- A signed step looked over once more: by somebody else, or by the same hand on a later day.

-- A second check of what was signed; written once.
CREATE TABLE second_check (
    id INTEGER PRIMARY KEY,             -- grows with time
    build INTEGER NOT NULL REFERENCES build (id), -- whose
    sign_off INTEGER NOT NULL REFERENCES sign_off (id), -- of which sign-off
    person INTEGER NOT NULL REFERENCES person (id), -- whose name
    seen TEXT NOT NULL,                 -- findings, limits, readings, rule, editions as seen at the check; JSON
    made INTEGER NOT NULL REFERENCES act (id) -- the act that checked
) STRICT;
CREATE INDEX second_check_by_build ON second_check (build);

CREATE TRIGGER second_check_is_never_deleted BEFORE DELETE ON second_check
BEGIN SELECT RAISE(ABORT, 'second_check: nothing is deleted, things are withdrawn'); END;

CREATE TRIGGER second_check_names_its_act BEFORE INSERT ON second_check
WHEN NEW.made IS NOT (SELECT max(id) FROM act)
BEGIN SELECT RAISE(ABORT, 'second_check: a new row names the newest act'); END;

CREATE TRIGGER second_check_is_never_changed BEFORE UPDATE ON second_check
BEGIN SELECT RAISE(ABORT, 'second_check: written once'); END;

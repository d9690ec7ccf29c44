-- Questions about whole sets of readings (all shifted alike, all the same) that somebody has answered: not asked again.

-- An answer to a question about a set of a round; written once.
CREATE TABLE set_answer (
    id INTEGER PRIMARY KEY,             -- grows with time
    build INTEGER NOT NULL REFERENCES build (id), -- whose
    round INTEGER NOT NULL REFERENCES round (id), -- of which round
    doubt TEXT NOT NULL,                -- what was asked of which set
    question TEXT NOT NULL,             -- in the words in which it was asked
    made INTEGER NOT NULL REFERENCES act (id) -- the act that answered
) STRICT;
CREATE INDEX set_answer_by_build ON set_answer (build);

CREATE TRIGGER set_answer_is_never_deleted BEFORE DELETE ON set_answer
BEGIN SELECT RAISE(ABORT, 'set_answer: nothing is deleted, things are withdrawn'); END;

CREATE TRIGGER set_answer_names_its_act BEFORE INSERT ON set_answer
WHEN NEW.made IS NOT (SELECT max(id) FROM act)
BEGIN SELECT RAISE(ABORT, 'set_answer: a new row names the newest act'); END;

CREATE TRIGGER set_answer_is_never_changed BEFORE UPDATE ON set_answer
BEGIN SELECT RAISE(ABORT, 'set_answer: written once'); END;

-- What follows what can be changed: a step that was to wait for another need not any more.

ALTER TABLE step_after ADD COLUMN act INTEGER REFERENCES act (id); -- the newest act that changed it; none while it stands as it was written
ALTER TABLE step_after ADD COLUMN withdrawn INTEGER REFERENCES act (id); -- the act since which it does not wait; none while it does

DROP TRIGGER step_after_is_never_changed;

CREATE TRIGGER step_after_changes_by_an_act BEFORE UPDATE ON step_after
WHEN NEW.act IS NOT (SELECT max(id) FROM act)
BEGIN SELECT RAISE(ABORT, 'step_after: a change names the newest act'); END;

CREATE TRIGGER step_after_keeps_what_was_said BEFORE UPDATE OF step, after, made ON step_after
BEGIN SELECT RAISE(ABORT, 'step_after: what was said is never overwritten'); END;

CREATE TRIGGER step_after_keeps_its_past AFTER UPDATE ON step_after
BEGIN
    INSERT INTO history (act, table_name, row, before, after)
    VALUES (NEW.act, 'step_after', OLD.step || ' ' || OLD.after,
        json_object('step', OLD.step, 'after', OLD.after, 'made', OLD.made, 'act', OLD.act, 'withdrawn', OLD.withdrawn),
        json_object('step', NEW.step, 'after', NEW.after, 'made', NEW.made, 'act', NEW.act, 'withdrawn', NEW.withdrawn));
END;

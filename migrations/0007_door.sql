-- Who may come in from the shop's network: its PIN, and the tablets that have entered it. None of it leaves in an export.

-- The PIN; one row, written over: an old PIN may serve somewhere else still, and nobody needs it here.
CREATE TABLE shop_pin (
    id INTEGER PRIMARY KEY CHECK (id = 1), -- there is one
    hash TEXT NOT NULL,                 -- Argon2id of it as a PHC string, its salt and costs in it
    made INTEGER NOT NULL REFERENCES act (id), -- the act that set the first
    act INTEGER NOT NULL REFERENCES act (id) -- the act that last changed it
) STRICT;

-- A tablet that has entered the PIN and is remembered, until somebody ends that on the shop's computer.
CREATE TABLE tablet (
    id INTEGER PRIMARY KEY,             -- grows with time
    name TEXT NOT NULL,                 -- what it is called in the shop
    device TEXT NOT NULL,               -- the random id in its cookie, as its acts name it
    session TEXT NOT NULL UNIQUE,       -- SHA-256 of the random token in its other cookie, hexadecimal
    made INTEGER NOT NULL REFERENCES act (id), -- the act that let it in
    act INTEGER NOT NULL REFERENCES act (id), -- the act that last changed it
    ended INTEGER REFERENCES act (id)   -- the act after which it has to enter the PIN again
) STRICT;
CREATE INDEX tablet_by_device ON tablet (device);

CREATE TRIGGER shop_pin_is_never_deleted BEFORE DELETE ON shop_pin
BEGIN SELECT RAISE(ABORT, 'shop_pin: nothing is deleted, things are withdrawn'); END;

CREATE TRIGGER shop_pin_names_its_act BEFORE INSERT ON shop_pin
WHEN NEW.made IS NOT (SELECT max(id) FROM act)
BEGIN SELECT RAISE(ABORT, 'shop_pin: a new row names the newest act'); END;

CREATE TRIGGER shop_pin_changes_by_an_act BEFORE UPDATE ON shop_pin
WHEN NEW.act IS NOT (SELECT max(id) FROM act)
BEGIN SELECT RAISE(ABORT, 'shop_pin: a change names the newest act'); END;

-- That it changed, not what it was.
CREATE TRIGGER shop_pin_keeps_its_past AFTER UPDATE ON shop_pin
BEGIN
    INSERT INTO history (act, table_name, row, before, after) VALUES (NEW.act, 'shop_pin', OLD.id, NULL, NULL);
END;

CREATE TRIGGER tablet_is_never_deleted BEFORE DELETE ON tablet
BEGIN SELECT RAISE(ABORT, 'tablet: nothing is deleted, things are withdrawn'); END;

CREATE TRIGGER tablet_names_its_act BEFORE INSERT ON tablet
WHEN NEW.made IS NOT (SELECT max(id) FROM act)
BEGIN SELECT RAISE(ABORT, 'tablet: a new row names the newest act'); END;

CREATE TRIGGER tablet_changes_by_an_act BEFORE UPDATE ON tablet
WHEN NEW.act IS NOT (SELECT max(id) FROM act)
BEGIN SELECT RAISE(ABORT, 'tablet: a change names the newest act'); END;

CREATE TRIGGER tablet_is_let_in_once BEFORE UPDATE ON tablet
WHEN NEW.device IS NOT OLD.device OR NEW.session IS NOT OLD.session OR OLD.ended IS NOT NULL
BEGIN SELECT RAISE(ABORT, 'tablet: what has ended is not begun again'); END;

-- Without its session: history holds nothing that lets anyone in.
CREATE TRIGGER tablet_keeps_its_past AFTER UPDATE ON tablet
BEGIN
    INSERT INTO history (act, table_name, row, before, after)
    VALUES (NEW.act, 'tablet', OLD.id,
        json_object('id', OLD.id, 'name', OLD.name, 'device', OLD.device, 'made', OLD.made, 'act', OLD.act, 'ended', OLD.ended),
        json_object('id', NEW.id, 'name', NEW.name, 'device', NEW.device, 'made', NEW.made, 'act', NEW.act, 'ended', NEW.ended));
END;

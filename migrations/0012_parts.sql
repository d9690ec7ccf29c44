-- Parts and work sent out, what waits and why, what a change makes stale, how long steps take, how a job ended. Rules as in
-- 0002_rules.sql. Days are civil dates; money is integer minor units of the shop's currency.

-- Whoever parts come from and work is sent to.
CREATE TABLE supplier (
    id INTEGER PRIMARY KEY,             -- internal
    public_id TEXT NOT NULL UNIQUE,     -- 128 random bits in hex
    name TEXT NOT NULL,                 -- as called
    phone TEXT NOT NULL,                -- may be empty
    email TEXT NOT NULL,                -- may be empty
    note TEXT NOT NULL,                 -- may be empty
    usual_days INTEGER,                 -- days from order to arrival by their own word; none where nothing is known
    made INTEGER NOT NULL REFERENCES act (id), -- the act that wrote it
    act INTEGER NOT NULL REFERENCES act (id), -- the newest act that changed it
    withdrawn INTEGER REFERENCES act (id) -- the act that withdrew it
) STRICT;

-- A part of a job, from the wish to have it to where it ended.
CREATE TABLE part (
    id INTEGER PRIMARY KEY,             -- internal
    public_id TEXT NOT NULL UNIQUE,     -- 128 random bits in hex
    build INTEGER NOT NULL REFERENCES build (id), -- whose
    item INTEGER REFERENCES item (id),  -- the thing of the record that it is, once it is fitted or came from another job
    description TEXT NOT NULL,          -- what it is: connecting rod bolts
    maker TEXT NOT NULL,                -- may be empty
    part_number TEXT NOT NULL,          -- may be empty
    quantity INTEGER NOT NULL CHECK (quantity > 0), -- how many are needed
    serial TEXT NOT NULL,               -- serials or lot; may be empty
    supplier INTEGER REFERENCES supplier (id), -- from whom; none while nobody is chosen
    whose TEXT NOT NULL CHECK (whose IN ('shop', 'customer')), -- whose it is until it leaves: the customer's own is at his risk
    origin TEXT NOT NULL CHECK (origin IN ('bought', 'found', 'made')), -- bought, came with the engine or from another one, or made in this shop
    state_as_it_came TEXT NOT NULL CHECK (state_as_it_came IN ('new', 'used', 'as_found')), -- new, used and gone over, or as found
    shelf TEXT NOT NULL,                -- where it lies; may be empty
    step INTEGER REFERENCES step (id),  -- which step needs it; none where none waits
    cost INTEGER,                       -- what one costs the shop; none while it is not known
    price INTEGER,                      -- what one is charged at; none while it is not set
    replaces INTEGER REFERENCES part (id), -- the part it takes the place of
    note TEXT NOT NULL,                 -- may be empty
    made INTEGER NOT NULL REFERENCES act (id), -- the act that wrote it
    act INTEGER NOT NULL REFERENCES act (id), -- the newest act that changed it
    withdrawn INTEGER REFERENCES act (id) -- the act that withdrew it
) STRICT;
CREATE INDEX part_by_build ON part (build);
CREATE INDEX part_by_item ON part (item);

-- What became of a part: quoted, ordered, promised, received and on, each with its day and how many.
CREATE TABLE part_move (
    id INTEGER PRIMARY KEY,             -- grows with time
    part INTEGER NOT NULL REFERENCES part (id), -- which
    kind TEXT NOT NULL CHECK (kind IN ('quoted', 'ordered', 'promised', 'received', 'inspected', 'fitted', 'returned', 'refused')), -- what became of it
    quantity INTEGER NOT NULL CHECK (quantity > 0), -- of how many
    day TEXT NOT NULL,                  -- on which day
    due TEXT,                           -- the day it is promised for; none where none was named
    place TEXT,                         -- where it was fitted; none for what has no place of its own
    words TEXT NOT NULL,                -- order number, why it was refused; may be empty
    made INTEGER NOT NULL REFERENCES act (id), -- the act that wrote it
    act INTEGER NOT NULL REFERENCES act (id), -- the newest act that changed it
    withdrawn INTEGER REFERENCES act (id) -- the act that withdrew it
) STRICT;
CREATE INDEX part_move_by_part ON part_move (part);

-- Work sent out: to whom, what was asked, when it is due and when it came back.
CREATE TABLE sending (
    id INTEGER PRIMARY KEY,             -- internal
    public_id TEXT NOT NULL UNIQUE,     -- 128 random bits in hex
    build INTEGER NOT NULL REFERENCES build (id), -- whose
    supplier INTEGER REFERENCES supplier (id), -- to whom; none while nobody is chosen
    what TEXT NOT NULL,                 -- line honing, balancing, coating
    step INTEGER REFERENCES step (id),  -- which step waits for it
    sheet TEXT,                         -- the sheet whose findings it is asked for and checked by; none where nothing is measured
    condition TEXT NOT NULL,            -- plate, fasteners, lubricant, torque it is to be done with; JSON object of words
    words TEXT NOT NULL,                -- what else was asked; may be empty
    sent TEXT,                          -- the day it left; none while it is here
    due TEXT,                           -- the day it is promised back; none where none was named
    back TEXT,                          -- the day it came back; none while it is away
    before_round INTEGER REFERENCES round (id), -- the round read before it left
    after_round INTEGER REFERENCES round (id), -- the round read when it was back
    cost INTEGER,                       -- what it costs the shop; none while it is not known
    price INTEGER,                      -- what it is charged at; none while it is not set
    made INTEGER NOT NULL REFERENCES act (id), -- the act that wrote it
    act INTEGER NOT NULL REFERENCES act (id), -- the newest act that changed it
    withdrawn INTEGER REFERENCES act (id) -- the act that withdrew it
) STRICT;
CREATE INDEX sending_by_build ON sending (build);

-- One size asked of work sent out, with its tolerance.
CREATE TABLE sending_asked (
    id INTEGER PRIMARY KEY,             -- grows with time
    sending INTEGER NOT NULL REFERENCES sending (id), -- of which
    finding TEXT NOT NULL,              -- which finding of its sheet it is checked by: feature and place
    least REAL,                         -- SI
    most REAL,                          -- SI
    typed TEXT NOT NULL,                -- as typed
    made INTEGER NOT NULL REFERENCES act (id), -- the act that wrote it
    act INTEGER NOT NULL REFERENCES act (id), -- the newest act that changed it
    withdrawn INTEGER REFERENCES act (id) -- the act that withdrew it
) STRICT;
CREATE INDEX sending_asked_by_sending ON sending_asked (sending);

-- Something changed, reworked or replaced: readings taken before it are stale where the map of changes says so.
CREATE TABLE change_made (
    id INTEGER PRIMARY KEY,             -- grows with time
    build INTEGER NOT NULL REFERENCES build (id), -- whose
    change TEXT NOT NULL,               -- which change, a key of the map
    place TEXT,                         -- where; none for all places
    part INTEGER REFERENCES part (id),  -- the part that brought it; none where it was no part
    sending INTEGER REFERENCES sending (id), -- the work sent out that brought it; none where it was none
    words TEXT NOT NULL,                -- what was changed to what; may be empty
    after_reading INTEGER NOT NULL,     -- the number of the job's newest reading then: those up to it are stale
    made INTEGER NOT NULL REFERENCES act (id), -- the act that wrote it
    act INTEGER NOT NULL REFERENCES act (id), -- the newest act that changed it
    withdrawn INTEGER REFERENCES act (id) -- the act that withdrew it
) STRICT;
CREATE INDEX change_made_by_build ON change_made (build);

-- "Re-checked, same": readings of a sheet that a change made stale were looked at again and stand.
CREATE TABLE change_checked (
    id INTEGER PRIMARY KEY,             -- grows with time
    build INTEGER NOT NULL REFERENCES build (id), -- whose
    change INTEGER NOT NULL REFERENCES change_made (id), -- after which change
    sheet TEXT NOT NULL,                -- the sheet's key
    place TEXT,                         -- at which place; none for all of them
    made INTEGER NOT NULL REFERENCES act (id), -- the act that wrote it
    act INTEGER NOT NULL REFERENCES act (id), -- the newest act that changed it
    withdrawn INTEGER REFERENCES act (id) -- the act that withdrew it
) STRICT;
CREATE INDEX change_checked_by_build ON change_checked (build);

-- Where an engine family differs from the map of changes: what is stale there besides, or is not.
CREATE TABLE family_change (
    id INTEGER PRIMARY KEY,             -- grows with time
    family INTEGER NOT NULL REFERENCES family (id), -- whose
    change TEXT NOT NULL,               -- which change, a key of the map
    slot TEXT NOT NULL,                 -- which reading: a slot feature's key
    stale INTEGER NOT NULL CHECK (stale IN (0, 1)), -- whether it is stale by it
    reason TEXT NOT NULL,               -- why
    made INTEGER NOT NULL REFERENCES act (id), -- the act that wrote it
    act INTEGER NOT NULL REFERENCES act (id), -- the newest act that changed it
    withdrawn INTEGER REFERENCES act (id) -- the act that withdrew it
) STRICT;
CREATE INDEX family_change_by_family ON family_change (family);

-- Why a job waits, where it is no part and no work sent out: the customer's answer, a deposit, the shop itself.
CREATE TABLE wait (
    id INTEGER PRIMARY KEY,             -- grows with time
    build INTEGER NOT NULL REFERENCES build (id), -- whose
    step INTEGER REFERENCES step (id),  -- which step waits; none for the whole job
    why TEXT NOT NULL CHECK (why IN ('part', 'machine_shop', 'customer', 'deposit', 'me')), -- for whom or what
    words TEXT NOT NULL,                -- what is awaited
    since TEXT NOT NULL,                -- from which day on
    expected TEXT,                      -- the day it is expected; none where nobody knows
    made INTEGER NOT NULL REFERENCES act (id), -- the act that wrote it
    act INTEGER NOT NULL REFERENCES act (id), -- the newest act that changed it
    ended INTEGER REFERENCES act (id)   -- the act with which the waiting ended
) STRICT;
CREATE INDEX wait_by_build ON wait (build);

-- How long a step takes at the bench, as its builder says: least, most likely, most, in hours.
CREATE TABLE step_hours (
    step INTEGER PRIMARY KEY REFERENCES step (id), -- which
    least REAL NOT NULL CHECK (least >= 0), -- hours
    likely REAL NOT NULL CHECK (likely >= least), -- hours
    most REAL NOT NULL CHECK (most >= likely), -- hours
    made INTEGER NOT NULL REFERENCES act (id), -- the act that wrote it
    act INTEGER NOT NULL REFERENCES act (id) -- the newest act that changed it
) STRICT;

-- A day on which the shop does not work.
CREATE TABLE closed_day (
    day TEXT PRIMARY KEY,               -- the day
    words TEXT NOT NULL,                -- why; may be empty
    made INTEGER NOT NULL REFERENCES act (id), -- the act that wrote it
    act INTEGER NOT NULL REFERENCES act (id), -- the newest act that changed it
    withdrawn INTEGER REFERENCES act (id) -- the act that withdrew it
) STRICT;

-- A date told to a customer; the newest holds.
CREATE TABLE promise (
    id INTEGER PRIMARY KEY,             -- grows with time
    build INTEGER NOT NULL REFERENCES build (id), -- whose
    day TEXT NOT NULL,                  -- the day promised
    words TEXT NOT NULL,                -- how it was put, and to whom; may be empty
    made INTEGER NOT NULL REFERENCES act (id) -- the act that wrote it
) STRICT;
CREATE INDEX promise_by_build ON promise (build);

-- How a job ended, or where it rests.
CREATE TABLE ending (
    id INTEGER PRIMARY KEY,             -- grows with time
    build INTEGER NOT NULL REFERENCES build (id), -- whose
    kind TEXT NOT NULL CHECK (kind IN ('handed_over', 'parked', 'short_block', 'cancelled', 'sold_on', 'scrapped')), -- how
    day TEXT NOT NULL,                  -- on which day
    words TEXT NOT NULL,                -- why, and what was agreed; may be empty
    storage_from TEXT,                  -- the day from which storage runs; none where none does
    made INTEGER NOT NULL REFERENCES act (id), -- the act that wrote it
    act INTEGER NOT NULL REFERENCES act (id), -- the newest act that changed it
    withdrawn INTEGER REFERENCES act (id) -- the act that withdrew it
) STRICT;
CREATE INDEX ending_by_build ON ending (build);

-- What goes where when a job ends: back to the customer, to another job, to the shelf, to scrap.
CREATE TABLE ending_thing (
    id INTEGER PRIMARY KEY,             -- grows with time
    ending INTEGER NOT NULL REFERENCES ending (id), -- which
    what TEXT NOT NULL,                 -- what it is
    item INTEGER REFERENCES item (id),  -- the thing of the record, where it is one
    part INTEGER REFERENCES part (id),  -- the part of the job, where it is one
    whither TEXT NOT NULL CHECK (whither IN ('customer', 'buyer', 'shelf', 'supplier', 'job', 'scrap')), -- where it goes
    to_build INTEGER REFERENCES build (id), -- to which job
    words TEXT NOT NULL,                -- may be empty
    made INTEGER NOT NULL REFERENCES act (id) -- the act that wrote it
) STRICT;
CREATE INDEX ending_thing_by_ending ON ending_thing (ending);

-- An option accepted: what was chosen on a sheet, beside what else could have been, and why.
CREATE TABLE decision (
    id INTEGER PRIMARY KEY,             -- grows with time
    build INTEGER NOT NULL REFERENCES build (id), -- whose
    sheet TEXT NOT NULL,                -- the sheet's key
    asked TEXT NOT NULL,                -- what was typed to choose from; may be empty
    chosen TEXT NOT NULL,               -- what was chosen, in words; JSON
    alternatives TEXT NOT NULL,         -- what else was worked out, in words; JSON
    reason TEXT NOT NULL,               -- why
    made INTEGER NOT NULL REFERENCES act (id), -- the act that wrote it
    act INTEGER NOT NULL REFERENCES act (id), -- the newest act that changed it
    withdrawn INTEGER REFERENCES act (id) -- the act that withdrew it
) STRICT;
CREATE INDEX decision_by_build ON decision (build);

CREATE TRIGGER supplier_is_never_deleted BEFORE DELETE ON supplier
BEGIN SELECT RAISE(ABORT, 'supplier: nothing is deleted, things are withdrawn'); END;

CREATE TRIGGER supplier_names_its_act BEFORE INSERT ON supplier
WHEN NEW.made IS NOT (SELECT max(id) FROM act)
BEGIN SELECT RAISE(ABORT, 'supplier: a new row names the newest act'); END;

CREATE TRIGGER supplier_changes_by_an_act BEFORE UPDATE ON supplier
WHEN NEW.act IS NOT (SELECT max(id) FROM act)
BEGIN SELECT RAISE(ABORT, 'supplier: a change names the newest act'); END;

CREATE TRIGGER supplier_keeps_its_past AFTER UPDATE ON supplier
BEGIN
    INSERT INTO history (act, table_name, row, before, after)
    VALUES (NEW.act, 'supplier', OLD.id,
        json_object('id', OLD.id, 'public_id', OLD.public_id, 'name', OLD.name, 'phone', OLD.phone, 'email', OLD.email, 'note', OLD.note, 'usual_days', OLD.usual_days, 'made', OLD.made, 'act', OLD.act, 'withdrawn', OLD.withdrawn),
        json_object('id', NEW.id, 'public_id', NEW.public_id, 'name', NEW.name, 'phone', NEW.phone, 'email', NEW.email, 'note', NEW.note, 'usual_days', NEW.usual_days, 'made', NEW.made, 'act', NEW.act, 'withdrawn', NEW.withdrawn));
END;

CREATE TRIGGER part_is_never_deleted BEFORE DELETE ON part
BEGIN SELECT RAISE(ABORT, 'part: nothing is deleted, things are withdrawn'); END;

CREATE TRIGGER part_names_its_act BEFORE INSERT ON part
WHEN NEW.made IS NOT (SELECT max(id) FROM act)
BEGIN SELECT RAISE(ABORT, 'part: a new row names the newest act'); END;

CREATE TRIGGER part_changes_by_an_act BEFORE UPDATE ON part
WHEN NEW.act IS NOT (SELECT max(id) FROM act)
BEGIN SELECT RAISE(ABORT, 'part: a change names the newest act'); END;

CREATE TRIGGER part_keeps_its_past AFTER UPDATE ON part
BEGIN
    INSERT INTO history (act, table_name, row, before, after)
    VALUES (NEW.act, 'part', OLD.id,
        json_object('id', OLD.id, 'public_id', OLD.public_id, 'build', OLD.build, 'item', OLD.item, 'description', OLD.description, 'maker', OLD.maker, 'part_number', OLD.part_number, 'quantity', OLD.quantity, 'serial', OLD.serial, 'supplier', OLD.supplier, 'whose', OLD.whose, 'origin', OLD.origin, 'state_as_it_came', OLD.state_as_it_came, 'shelf', OLD.shelf, 'step', OLD.step, 'cost', OLD.cost, 'price', OLD.price, 'replaces', OLD.replaces, 'note', OLD.note, 'made', OLD.made, 'act', OLD.act, 'withdrawn', OLD.withdrawn),
        json_object('id', NEW.id, 'public_id', NEW.public_id, 'build', NEW.build, 'item', NEW.item, 'description', NEW.description, 'maker', NEW.maker, 'part_number', NEW.part_number, 'quantity', NEW.quantity, 'serial', NEW.serial, 'supplier', NEW.supplier, 'whose', NEW.whose, 'origin', NEW.origin, 'state_as_it_came', NEW.state_as_it_came, 'shelf', NEW.shelf, 'step', NEW.step, 'cost', NEW.cost, 'price', NEW.price, 'replaces', NEW.replaces, 'note', NEW.note, 'made', NEW.made, 'act', NEW.act, 'withdrawn', NEW.withdrawn));
END;

CREATE TRIGGER part_move_is_never_deleted BEFORE DELETE ON part_move
BEGIN SELECT RAISE(ABORT, 'part_move: nothing is deleted, things are withdrawn'); END;

CREATE TRIGGER part_move_names_its_act BEFORE INSERT ON part_move
WHEN NEW.made IS NOT (SELECT max(id) FROM act)
BEGIN SELECT RAISE(ABORT, 'part_move: a new row names the newest act'); END;

CREATE TRIGGER part_move_changes_by_an_act BEFORE UPDATE ON part_move
WHEN NEW.act IS NOT (SELECT max(id) FROM act)
BEGIN SELECT RAISE(ABORT, 'part_move: a change names the newest act'); END;

CREATE TRIGGER part_move_keeps_its_past AFTER UPDATE ON part_move
BEGIN
    INSERT INTO history (act, table_name, row, before, after)
    VALUES (NEW.act, 'part_move', OLD.id,
        json_object('id', OLD.id, 'part', OLD.part, 'kind', OLD.kind, 'quantity', OLD.quantity, 'day', OLD.day, 'due', OLD.due, 'place', OLD.place, 'words', OLD.words, 'made', OLD.made, 'act', OLD.act, 'withdrawn', OLD.withdrawn),
        json_object('id', NEW.id, 'part', NEW.part, 'kind', NEW.kind, 'quantity', NEW.quantity, 'day', NEW.day, 'due', NEW.due, 'place', NEW.place, 'words', NEW.words, 'made', NEW.made, 'act', NEW.act, 'withdrawn', NEW.withdrawn));
END;

CREATE TRIGGER part_move_keeps_what_was_said BEFORE UPDATE OF id, part, kind, quantity, day, due, place, words, made ON part_move
BEGIN SELECT RAISE(ABORT, 'part_move: what was said is never overwritten'); END;

CREATE TRIGGER sending_is_never_deleted BEFORE DELETE ON sending
BEGIN SELECT RAISE(ABORT, 'sending: nothing is deleted, things are withdrawn'); END;

CREATE TRIGGER sending_names_its_act BEFORE INSERT ON sending
WHEN NEW.made IS NOT (SELECT max(id) FROM act)
BEGIN SELECT RAISE(ABORT, 'sending: a new row names the newest act'); END;

CREATE TRIGGER sending_changes_by_an_act BEFORE UPDATE ON sending
WHEN NEW.act IS NOT (SELECT max(id) FROM act)
BEGIN SELECT RAISE(ABORT, 'sending: a change names the newest act'); END;

CREATE TRIGGER sending_keeps_its_past AFTER UPDATE ON sending
BEGIN
    INSERT INTO history (act, table_name, row, before, after)
    VALUES (NEW.act, 'sending', OLD.id,
        json_object('id', OLD.id, 'public_id', OLD.public_id, 'build', OLD.build, 'supplier', OLD.supplier, 'what', OLD.what, 'step', OLD.step, 'sheet', OLD.sheet, 'condition', OLD.condition, 'words', OLD.words, 'sent', OLD.sent, 'due', OLD.due, 'back', OLD.back, 'before_round', OLD.before_round, 'after_round', OLD.after_round, 'cost', OLD.cost, 'price', OLD.price, 'made', OLD.made, 'act', OLD.act, 'withdrawn', OLD.withdrawn),
        json_object('id', NEW.id, 'public_id', NEW.public_id, 'build', NEW.build, 'supplier', NEW.supplier, 'what', NEW.what, 'step', NEW.step, 'sheet', NEW.sheet, 'condition', NEW.condition, 'words', NEW.words, 'sent', NEW.sent, 'due', NEW.due, 'back', NEW.back, 'before_round', NEW.before_round, 'after_round', NEW.after_round, 'cost', NEW.cost, 'price', NEW.price, 'made', NEW.made, 'act', NEW.act, 'withdrawn', NEW.withdrawn));
END;

CREATE TRIGGER sending_asked_is_never_deleted BEFORE DELETE ON sending_asked
BEGIN SELECT RAISE(ABORT, 'sending_asked: nothing is deleted, things are withdrawn'); END;

CREATE TRIGGER sending_asked_names_its_act BEFORE INSERT ON sending_asked
WHEN NEW.made IS NOT (SELECT max(id) FROM act)
BEGIN SELECT RAISE(ABORT, 'sending_asked: a new row names the newest act'); END;

CREATE TRIGGER sending_asked_changes_by_an_act BEFORE UPDATE ON sending_asked
WHEN NEW.act IS NOT (SELECT max(id) FROM act)
BEGIN SELECT RAISE(ABORT, 'sending_asked: a change names the newest act'); END;

CREATE TRIGGER sending_asked_keeps_its_past AFTER UPDATE ON sending_asked
BEGIN
    INSERT INTO history (act, table_name, row, before, after)
    VALUES (NEW.act, 'sending_asked', OLD.id,
        json_object('id', OLD.id, 'sending', OLD.sending, 'finding', OLD.finding, 'least', OLD.least, 'most', OLD.most, 'typed', OLD.typed, 'made', OLD.made, 'act', OLD.act, 'withdrawn', OLD.withdrawn),
        json_object('id', NEW.id, 'sending', NEW.sending, 'finding', NEW.finding, 'least', NEW.least, 'most', NEW.most, 'typed', NEW.typed, 'made', NEW.made, 'act', NEW.act, 'withdrawn', NEW.withdrawn));
END;

CREATE TRIGGER change_made_is_never_deleted BEFORE DELETE ON change_made
BEGIN SELECT RAISE(ABORT, 'change_made: nothing is deleted, things are withdrawn'); END;

CREATE TRIGGER change_made_names_its_act BEFORE INSERT ON change_made
WHEN NEW.made IS NOT (SELECT max(id) FROM act)
BEGIN SELECT RAISE(ABORT, 'change_made: a new row names the newest act'); END;

CREATE TRIGGER change_made_changes_by_an_act BEFORE UPDATE ON change_made
WHEN NEW.act IS NOT (SELECT max(id) FROM act)
BEGIN SELECT RAISE(ABORT, 'change_made: a change names the newest act'); END;

CREATE TRIGGER change_made_keeps_its_past AFTER UPDATE ON change_made
BEGIN
    INSERT INTO history (act, table_name, row, before, after)
    VALUES (NEW.act, 'change_made', OLD.id,
        json_object('id', OLD.id, 'build', OLD.build, 'change', OLD.change, 'place', OLD.place, 'part', OLD.part, 'sending', OLD.sending, 'words', OLD.words, 'after_reading', OLD.after_reading, 'made', OLD.made, 'act', OLD.act, 'withdrawn', OLD.withdrawn),
        json_object('id', NEW.id, 'build', NEW.build, 'change', NEW.change, 'place', NEW.place, 'part', NEW.part, 'sending', NEW.sending, 'words', NEW.words, 'after_reading', NEW.after_reading, 'made', NEW.made, 'act', NEW.act, 'withdrawn', NEW.withdrawn));
END;

CREATE TRIGGER change_made_keeps_what_was_said BEFORE UPDATE OF id, build, change, place, part, sending, words, after_reading, made ON change_made
BEGIN SELECT RAISE(ABORT, 'change_made: what was said is never overwritten'); END;

CREATE TRIGGER change_checked_is_never_deleted BEFORE DELETE ON change_checked
BEGIN SELECT RAISE(ABORT, 'change_checked: nothing is deleted, things are withdrawn'); END;

CREATE TRIGGER change_checked_names_its_act BEFORE INSERT ON change_checked
WHEN NEW.made IS NOT (SELECT max(id) FROM act)
BEGIN SELECT RAISE(ABORT, 'change_checked: a new row names the newest act'); END;

CREATE TRIGGER change_checked_changes_by_an_act BEFORE UPDATE ON change_checked
WHEN NEW.act IS NOT (SELECT max(id) FROM act)
BEGIN SELECT RAISE(ABORT, 'change_checked: a change names the newest act'); END;

CREATE TRIGGER change_checked_keeps_its_past AFTER UPDATE ON change_checked
BEGIN
    INSERT INTO history (act, table_name, row, before, after)
    VALUES (NEW.act, 'change_checked', OLD.id,
        json_object('id', OLD.id, 'build', OLD.build, 'change', OLD.change, 'sheet', OLD.sheet, 'place', OLD.place, 'made', OLD.made, 'act', OLD.act, 'withdrawn', OLD.withdrawn),
        json_object('id', NEW.id, 'build', NEW.build, 'change', NEW.change, 'sheet', NEW.sheet, 'place', NEW.place, 'made', NEW.made, 'act', NEW.act, 'withdrawn', NEW.withdrawn));
END;

CREATE TRIGGER change_checked_keeps_what_was_said BEFORE UPDATE OF id, build, change, sheet, place, made ON change_checked
BEGIN SELECT RAISE(ABORT, 'change_checked: what was said is never overwritten'); END;

CREATE TRIGGER family_change_is_never_deleted BEFORE DELETE ON family_change
BEGIN SELECT RAISE(ABORT, 'family_change: nothing is deleted, things are withdrawn'); END;

CREATE TRIGGER family_change_names_its_act BEFORE INSERT ON family_change
WHEN NEW.made IS NOT (SELECT max(id) FROM act)
BEGIN SELECT RAISE(ABORT, 'family_change: a new row names the newest act'); END;

CREATE TRIGGER family_change_changes_by_an_act BEFORE UPDATE ON family_change
WHEN NEW.act IS NOT (SELECT max(id) FROM act)
BEGIN SELECT RAISE(ABORT, 'family_change: a change names the newest act'); END;

CREATE TRIGGER family_change_keeps_its_past AFTER UPDATE ON family_change
BEGIN
    INSERT INTO history (act, table_name, row, before, after)
    VALUES (NEW.act, 'family_change', OLD.id,
        json_object('id', OLD.id, 'family', OLD.family, 'change', OLD.change, 'slot', OLD.slot, 'stale', OLD.stale, 'reason', OLD.reason, 'made', OLD.made, 'act', OLD.act, 'withdrawn', OLD.withdrawn),
        json_object('id', NEW.id, 'family', NEW.family, 'change', NEW.change, 'slot', NEW.slot, 'stale', NEW.stale, 'reason', NEW.reason, 'made', NEW.made, 'act', NEW.act, 'withdrawn', NEW.withdrawn));
END;

CREATE TRIGGER family_change_keeps_what_was_said BEFORE UPDATE OF id, family, change, slot, stale, reason, made ON family_change
BEGIN SELECT RAISE(ABORT, 'family_change: what was said is never overwritten'); END;

CREATE TRIGGER wait_is_never_deleted BEFORE DELETE ON wait
BEGIN SELECT RAISE(ABORT, 'wait: nothing is deleted, things are withdrawn'); END;

CREATE TRIGGER wait_names_its_act BEFORE INSERT ON wait
WHEN NEW.made IS NOT (SELECT max(id) FROM act)
BEGIN SELECT RAISE(ABORT, 'wait: a new row names the newest act'); END;

CREATE TRIGGER wait_changes_by_an_act BEFORE UPDATE ON wait
WHEN NEW.act IS NOT (SELECT max(id) FROM act)
BEGIN SELECT RAISE(ABORT, 'wait: a change names the newest act'); END;

CREATE TRIGGER wait_keeps_its_past AFTER UPDATE ON wait
BEGIN
    INSERT INTO history (act, table_name, row, before, after)
    VALUES (NEW.act, 'wait', OLD.id,
        json_object('id', OLD.id, 'build', OLD.build, 'step', OLD.step, 'why', OLD.why, 'words', OLD.words, 'since', OLD.since, 'expected', OLD.expected, 'made', OLD.made, 'act', OLD.act, 'ended', OLD.ended),
        json_object('id', NEW.id, 'build', NEW.build, 'step', NEW.step, 'why', NEW.why, 'words', NEW.words, 'since', NEW.since, 'expected', NEW.expected, 'made', NEW.made, 'act', NEW.act, 'ended', NEW.ended));
END;

CREATE TRIGGER step_hours_is_never_deleted BEFORE DELETE ON step_hours
BEGIN SELECT RAISE(ABORT, 'step_hours: nothing is deleted, things are withdrawn'); END;

CREATE TRIGGER step_hours_names_its_act BEFORE INSERT ON step_hours
WHEN NEW.made IS NOT (SELECT max(id) FROM act)
BEGIN SELECT RAISE(ABORT, 'step_hours: a new row names the newest act'); END;

CREATE TRIGGER step_hours_changes_by_an_act BEFORE UPDATE ON step_hours
WHEN NEW.act IS NOT (SELECT max(id) FROM act)
BEGIN SELECT RAISE(ABORT, 'step_hours: a change names the newest act'); END;

CREATE TRIGGER step_hours_keeps_its_past AFTER UPDATE ON step_hours
BEGIN
    INSERT INTO history (act, table_name, row, before, after)
    VALUES (NEW.act, 'step_hours', OLD.step,
        json_object('step', OLD.step, 'least', OLD.least, 'likely', OLD.likely, 'most', OLD.most, 'made', OLD.made, 'act', OLD.act),
        json_object('step', NEW.step, 'least', NEW.least, 'likely', NEW.likely, 'most', NEW.most, 'made', NEW.made, 'act', NEW.act));
END;

CREATE TRIGGER closed_day_is_never_deleted BEFORE DELETE ON closed_day
BEGIN SELECT RAISE(ABORT, 'closed_day: nothing is deleted, things are withdrawn'); END;

CREATE TRIGGER closed_day_names_its_act BEFORE INSERT ON closed_day
WHEN NEW.made IS NOT (SELECT max(id) FROM act)
BEGIN SELECT RAISE(ABORT, 'closed_day: a new row names the newest act'); END;

CREATE TRIGGER closed_day_changes_by_an_act BEFORE UPDATE ON closed_day
WHEN NEW.act IS NOT (SELECT max(id) FROM act)
BEGIN SELECT RAISE(ABORT, 'closed_day: a change names the newest act'); END;

CREATE TRIGGER closed_day_keeps_its_past AFTER UPDATE ON closed_day
BEGIN
    INSERT INTO history (act, table_name, row, before, after)
    VALUES (NEW.act, 'closed_day', OLD.day,
        json_object('day', OLD.day, 'words', OLD.words, 'made', OLD.made, 'act', OLD.act, 'withdrawn', OLD.withdrawn),
        json_object('day', NEW.day, 'words', NEW.words, 'made', NEW.made, 'act', NEW.act, 'withdrawn', NEW.withdrawn));
END;

CREATE TRIGGER promise_is_never_deleted BEFORE DELETE ON promise
BEGIN SELECT RAISE(ABORT, 'promise: nothing is deleted, things are withdrawn'); END;

CREATE TRIGGER promise_names_its_act BEFORE INSERT ON promise
WHEN NEW.made IS NOT (SELECT max(id) FROM act)
BEGIN SELECT RAISE(ABORT, 'promise: a new row names the newest act'); END;

CREATE TRIGGER promise_is_never_changed BEFORE UPDATE ON promise
BEGIN SELECT RAISE(ABORT, 'promise: written once'); END;

CREATE TRIGGER ending_is_never_deleted BEFORE DELETE ON ending
BEGIN SELECT RAISE(ABORT, 'ending: nothing is deleted, things are withdrawn'); END;

CREATE TRIGGER ending_names_its_act BEFORE INSERT ON ending
WHEN NEW.made IS NOT (SELECT max(id) FROM act)
BEGIN SELECT RAISE(ABORT, 'ending: a new row names the newest act'); END;

CREATE TRIGGER ending_changes_by_an_act BEFORE UPDATE ON ending
WHEN NEW.act IS NOT (SELECT max(id) FROM act)
BEGIN SELECT RAISE(ABORT, 'ending: a change names the newest act'); END;

CREATE TRIGGER ending_keeps_its_past AFTER UPDATE ON ending
BEGIN
    INSERT INTO history (act, table_name, row, before, after)
    VALUES (NEW.act, 'ending', OLD.id,
        json_object('id', OLD.id, 'build', OLD.build, 'kind', OLD.kind, 'day', OLD.day, 'words', OLD.words, 'storage_from', OLD.storage_from, 'made', OLD.made, 'act', OLD.act, 'withdrawn', OLD.withdrawn),
        json_object('id', NEW.id, 'build', NEW.build, 'kind', NEW.kind, 'day', NEW.day, 'words', NEW.words, 'storage_from', NEW.storage_from, 'made', NEW.made, 'act', NEW.act, 'withdrawn', NEW.withdrawn));
END;

CREATE TRIGGER ending_thing_is_never_deleted BEFORE DELETE ON ending_thing
BEGIN SELECT RAISE(ABORT, 'ending_thing: nothing is deleted, things are withdrawn'); END;

CREATE TRIGGER ending_thing_names_its_act BEFORE INSERT ON ending_thing
WHEN NEW.made IS NOT (SELECT max(id) FROM act)
BEGIN SELECT RAISE(ABORT, 'ending_thing: a new row names the newest act'); END;

CREATE TRIGGER ending_thing_is_never_changed BEFORE UPDATE ON ending_thing
BEGIN SELECT RAISE(ABORT, 'ending_thing: written once'); END;

CREATE TRIGGER decision_is_never_deleted BEFORE DELETE ON decision
BEGIN SELECT RAISE(ABORT, 'decision: nothing is deleted, things are withdrawn'); END;

CREATE TRIGGER decision_names_its_act BEFORE INSERT ON decision
WHEN NEW.made IS NOT (SELECT max(id) FROM act)
BEGIN SELECT RAISE(ABORT, 'decision: a new row names the newest act'); END;

CREATE TRIGGER decision_changes_by_an_act BEFORE UPDATE ON decision
WHEN NEW.act IS NOT (SELECT max(id) FROM act)
BEGIN SELECT RAISE(ABORT, 'decision: a change names the newest act'); END;

CREATE TRIGGER decision_keeps_its_past AFTER UPDATE ON decision
BEGIN
    INSERT INTO history (act, table_name, row, before, after)
    VALUES (NEW.act, 'decision', OLD.id,
        json_object('id', OLD.id, 'build', OLD.build, 'sheet', OLD.sheet, 'asked', OLD.asked, 'chosen', OLD.chosen, 'alternatives', OLD.alternatives, 'reason', OLD.reason, 'made', OLD.made, 'act', OLD.act, 'withdrawn', OLD.withdrawn),
        json_object('id', NEW.id, 'build', NEW.build, 'sheet', NEW.sheet, 'asked', NEW.asked, 'chosen', NEW.chosen, 'alternatives', NEW.alternatives, 'reason', NEW.reason, 'made', NEW.made, 'act', NEW.act, 'withdrawn', NEW.withdrawn));
END;

CREATE TRIGGER decision_keeps_what_was_said BEFORE UPDATE OF id, build, sheet, asked, chosen, alternatives, reason, made ON decision
BEGIN SELECT RAISE(ABORT, 'decision: what was said is never overwritten'); END;

ALTER TABLE attachment ADD COLUMN part INTEGER REFERENCES part (id); -- the part it shows or belongs to; none for most
ALTER TABLE attachment ADD COLUMN sending INTEGER REFERENCES sending (id); -- the work sent out whose ticket or report it is; none for most

DROP TRIGGER attachment_keeps_its_past;

CREATE TRIGGER attachment_keeps_its_past AFTER UPDATE ON attachment
BEGIN
    INSERT INTO history (act, table_name, row, before, after)
    VALUES (NEW.act, 'attachment', OLD.id,
        json_object('id', OLD.id, 'build', OLD.build, 'step', OLD.step, 'round', OLD.round, 'part', OLD.part, 'sending', OLD.sending, 'file', OLD.file, 'name', OLD.name, 'caption', OLD.caption, 'made', OLD.made, 'act', OLD.act, 'withdrawn', OLD.withdrawn),
        json_object('id', NEW.id, 'build', NEW.build, 'step', NEW.step, 'round', NEW.round, 'part', NEW.part, 'sending', NEW.sending, 'file', NEW.file, 'name', NEW.name, 'caption', NEW.caption, 'made', NEW.made, 'act', NEW.act, 'withdrawn', NEW.withdrawn));
END;

ALTER TABLE sign_off ADD COLUMN despite TEXT NOT NULL DEFAULT ''; -- why it was signed though it rested on stale readings; empty where it did not

DROP TRIGGER sign_off_keeps_its_past;

CREATE TRIGGER sign_off_keeps_its_past AFTER UPDATE ON sign_off
BEGIN
    INSERT INTO history (act, table_name, row, before, after)
    VALUES (NEW.act, 'sign_off', OLD.id,
        json_object('id', OLD.id, 'build', OLD.build, 'step', OLD.step, 'person', OLD.person, 'seen', OLD.seen, 'made', OLD.made, 'act', OLD.act, 'reopened', OLD.reopened, 'why', OLD.why, 'despite', OLD.despite),
        json_object('id', NEW.id, 'build', NEW.build, 'step', NEW.step, 'person', NEW.person, 'seen', NEW.seen, 'made', NEW.made, 'act', NEW.act, 'reopened', NEW.reopened, 'why', NEW.why, 'despite', NEW.despite));
END;

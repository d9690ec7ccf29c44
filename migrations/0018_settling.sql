-- How an ended job is settled: storage, what went back, refunds, cores given back; and which build a family was kept from. Rules
-- as in 0002_rules.sql; money, percentages and days as in 0016_charges.sql.

ALTER TABLE quote_terms ADD COLUMN storage_week INTEGER CHECK (storage_week >= 0); -- what a week of storage costs; none: as the shop's settings say
ALTER TABLE part ADD COLUMN core INTEGER CHECK (core > 0); -- deposit asked for the old part in exchange, for one; none where none is
ALTER TABLE family ADD COLUMN kept_from INTEGER REFERENCES build (id); -- the build it was kept from; none for those kept before this was noted

-- That a thing has gone where its ending says.
CREATE TABLE thing_gone (
    id INTEGER PRIMARY KEY,             -- grows with time
    thing INTEGER NOT NULL REFERENCES ending_thing (id), -- which thing
    day TEXT NOT NULL,                  -- on which day
    words TEXT NOT NULL,                -- who took it; may be empty
    move INTEGER REFERENCES part_move (id), -- of a part that stays with the shop or its supplier: that it left the job
    made INTEGER NOT NULL REFERENCES act (id), -- the act that wrote it
    act INTEGER NOT NULL REFERENCES act (id), -- the newest act that changed it
    withdrawn INTEGER REFERENCES act (id) -- the act that withdrew it
) STRICT;
CREATE UNIQUE INDEX thing_gone_once ON thing_gone (thing) WHERE withdrawn IS NULL;

-- Which days a charged line of storage is for.
CREATE TABLE storage_span (
    id INTEGER PRIMARY KEY,             -- grows with time
    line INTEGER NOT NULL UNIQUE REFERENCES charge_line (id), -- which line
    from_day TEXT NOT NULL,             -- the day it was stored
    until_day TEXT NOT NULL,            -- the day up to which its weeks reach
    made INTEGER NOT NULL REFERENCES act (id) -- the act that wrote it
) STRICT;

-- That the money of an ended job is settled, in the figures as they stood.
CREATE TABLE settlement (
    id INTEGER PRIMARY KEY,             -- grows with time
    build INTEGER NOT NULL REFERENCES build (id), -- whose
    ending INTEGER REFERENCES ending (id), -- by which ending; none where the job left without one
    day TEXT NOT NULL,                  -- on which day
    words TEXT NOT NULL,                -- what was agreed; may be empty
    owed INTEGER NOT NULL,              -- all that was charged, with tax
    received INTEGER NOT NULL,          -- all that came in, less what was given back
    forfeited INTEGER NOT NULL CHECK (forfeited >= 0), -- of a deposit, kept for nothing
    held INTEGER NOT NULL CHECK (held >= 0), -- kept until the job goes on
    refund INTEGER NOT NULL CHECK (refund >= 0), -- not given back yet
    to_pay INTEGER NOT NULL CHECK (to_pay >= 0), -- not paid yet
    made INTEGER NOT NULL REFERENCES act (id), -- the act that wrote it
    act INTEGER NOT NULL REFERENCES act (id), -- the newest act that changed it
    withdrawn INTEGER REFERENCES act (id) -- the act that withdrew it
) STRICT;
CREATE UNIQUE INDEX settlement_once ON settlement (build) WHERE withdrawn IS NULL;

-- What became of the old part that a core deposit was asked for.
CREATE TABLE core_fate (
    id INTEGER PRIMARY KEY,             -- grows with time
    deposit INTEGER NOT NULL REFERENCES charge_line (id), -- the line that asks for the deposit
    what TEXT NOT NULL CHECK (what IN ('given-back', 'scrapped')), -- it came, or it never will
    credit INTEGER REFERENCES charge_line (id), -- the line that gives the deposit back; none where it was scrapped
    day TEXT NOT NULL,                  -- on which day
    made INTEGER NOT NULL REFERENCES act (id), -- the act that wrote it
    act INTEGER NOT NULL REFERENCES act (id), -- the newest act that changed it
    withdrawn INTEGER REFERENCES act (id), -- the act that withdrew it
    CHECK ((what = 'given-back') = (credit IS NOT NULL))
) STRICT;
CREATE UNIQUE INDEX core_fate_once ON core_fate (deposit) WHERE withdrawn IS NULL;

CREATE TRIGGER thing_gone_is_never_deleted BEFORE DELETE ON thing_gone
BEGIN SELECT RAISE(ABORT, 'thing_gone: nothing is deleted, things are withdrawn'); END;

CREATE TRIGGER thing_gone_names_its_act BEFORE INSERT ON thing_gone
WHEN NEW.made IS NOT (SELECT max(id) FROM act)
BEGIN SELECT RAISE(ABORT, 'thing_gone: a new row names the newest act'); END;

CREATE TRIGGER thing_gone_changes_by_an_act BEFORE UPDATE ON thing_gone
WHEN NEW.act IS NOT (SELECT max(id) FROM act)
BEGIN SELECT RAISE(ABORT, 'thing_gone: a change names the newest act'); END;

CREATE TRIGGER thing_gone_keeps_its_past AFTER UPDATE ON thing_gone
BEGIN
    INSERT INTO history (act, table_name, row, before, after)
    VALUES (NEW.act, 'thing_gone', OLD.id,
        json_object('id', OLD.id, 'thing', OLD.thing, 'day', OLD.day, 'words', OLD.words, 'move', OLD.move, 'made', OLD.made, 'act', OLD.act, 'withdrawn', OLD.withdrawn),
        json_object('id', NEW.id, 'thing', NEW.thing, 'day', NEW.day, 'words', NEW.words, 'move', NEW.move, 'made', NEW.made, 'act', NEW.act, 'withdrawn', NEW.withdrawn));
END;

CREATE TRIGGER thing_gone_keeps_what_was_said BEFORE UPDATE OF id, thing, day, words, move, made ON thing_gone
BEGIN SELECT RAISE(ABORT, 'thing_gone: what was said is never overwritten'); END;

CREATE TRIGGER storage_span_is_never_deleted BEFORE DELETE ON storage_span
BEGIN SELECT RAISE(ABORT, 'storage_span: nothing is deleted, things are withdrawn'); END;

CREATE TRIGGER storage_span_names_its_act BEFORE INSERT ON storage_span
WHEN NEW.made IS NOT (SELECT max(id) FROM act)
BEGIN SELECT RAISE(ABORT, 'storage_span: a new row names the newest act'); END;

CREATE TRIGGER storage_span_is_never_changed BEFORE UPDATE ON storage_span
BEGIN SELECT RAISE(ABORT, 'storage_span: written once'); END;

CREATE TRIGGER settlement_is_never_deleted BEFORE DELETE ON settlement
BEGIN SELECT RAISE(ABORT, 'settlement: nothing is deleted, things are withdrawn'); END;

CREATE TRIGGER settlement_names_its_act BEFORE INSERT ON settlement
WHEN NEW.made IS NOT (SELECT max(id) FROM act)
BEGIN SELECT RAISE(ABORT, 'settlement: a new row names the newest act'); END;

CREATE TRIGGER settlement_changes_by_an_act BEFORE UPDATE ON settlement
WHEN NEW.act IS NOT (SELECT max(id) FROM act)
BEGIN SELECT RAISE(ABORT, 'settlement: a change names the newest act'); END;

CREATE TRIGGER settlement_keeps_its_past AFTER UPDATE ON settlement
BEGIN
    INSERT INTO history (act, table_name, row, before, after)
    VALUES (NEW.act, 'settlement', OLD.id,
        json_object('id', OLD.id, 'build', OLD.build, 'ending', OLD.ending, 'day', OLD.day, 'words', OLD.words, 'owed', OLD.owed, 'received', OLD.received, 'forfeited', OLD.forfeited, 'held', OLD.held, 'refund', OLD.refund, 'to_pay', OLD.to_pay, 'made', OLD.made, 'act', OLD.act, 'withdrawn', OLD.withdrawn),
        json_object('id', NEW.id, 'build', NEW.build, 'ending', NEW.ending, 'day', NEW.day, 'words', NEW.words, 'owed', NEW.owed, 'received', NEW.received, 'forfeited', NEW.forfeited, 'held', NEW.held, 'refund', NEW.refund, 'to_pay', NEW.to_pay, 'made', NEW.made, 'act', NEW.act, 'withdrawn', NEW.withdrawn));
END;

CREATE TRIGGER settlement_keeps_what_was_said BEFORE UPDATE OF id, build, ending, day, words, owed, received, forfeited, held, refund, to_pay, made ON settlement
BEGIN SELECT RAISE(ABORT, 'settlement: what was said is never overwritten'); END;

CREATE TRIGGER core_fate_is_never_deleted BEFORE DELETE ON core_fate
BEGIN SELECT RAISE(ABORT, 'core_fate: nothing is deleted, things are withdrawn'); END;

CREATE TRIGGER core_fate_names_its_act BEFORE INSERT ON core_fate
WHEN NEW.made IS NOT (SELECT max(id) FROM act)
BEGIN SELECT RAISE(ABORT, 'core_fate: a new row names the newest act'); END;

CREATE TRIGGER core_fate_changes_by_an_act BEFORE UPDATE ON core_fate
WHEN NEW.act IS NOT (SELECT max(id) FROM act)
BEGIN SELECT RAISE(ABORT, 'core_fate: a change names the newest act'); END;

CREATE TRIGGER core_fate_keeps_its_past AFTER UPDATE ON core_fate
BEGIN
    INSERT INTO history (act, table_name, row, before, after)
    VALUES (NEW.act, 'core_fate', OLD.id,
        json_object('id', OLD.id, 'deposit', OLD.deposit, 'what', OLD.what, 'credit', OLD.credit, 'day', OLD.day, 'made', OLD.made, 'act', OLD.act, 'withdrawn', OLD.withdrawn),
        json_object('id', NEW.id, 'deposit', NEW.deposit, 'what', NEW.what, 'credit', NEW.credit, 'day', NEW.day, 'made', NEW.made, 'act', NEW.act, 'withdrawn', NEW.withdrawn));
END;

CREATE TRIGGER core_fate_keeps_what_was_said BEFORE UPDATE OF id, deposit, what, credit, day, made ON core_fate
BEGIN SELECT RAISE(ABORT, 'core_fate: what was said is never overwritten'); END;

DROP TRIGGER quote_terms_keeps_its_past;

CREATE TRIGGER quote_terms_keeps_its_past AFTER UPDATE ON quote_terms
BEGIN
    INSERT INTO history (act, table_name, row, before, after)
    VALUES (NEW.act, 'quote_terms', OLD.build,
        json_object('build', OLD.build, 'exclusions', OLD.exclusions, 'without_calling', OLD.without_calling, 'storage_week', OLD.storage_week, 'made', OLD.made, 'act', OLD.act),
        json_object('build', NEW.build, 'exclusions', NEW.exclusions, 'without_calling', NEW.without_calling, 'storage_week', NEW.storage_week, 'made', NEW.made, 'act', NEW.act));
END;

DROP TRIGGER part_keeps_its_past;

CREATE TRIGGER part_keeps_its_past AFTER UPDATE ON part
BEGIN
    INSERT INTO history (act, table_name, row, before, after)
    VALUES (NEW.act, 'part', OLD.id,
        json_object('id', OLD.id, 'public_id', OLD.public_id, 'build', OLD.build, 'item', OLD.item, 'description', OLD.description, 'maker', OLD.maker, 'part_number', OLD.part_number, 'quantity', OLD.quantity, 'serial', OLD.serial, 'supplier', OLD.supplier, 'whose', OLD.whose, 'origin', OLD.origin, 'state_as_it_came', OLD.state_as_it_came, 'shelf', OLD.shelf, 'step', OLD.step, 'cost', OLD.cost, 'price', OLD.price, 'core', OLD.core, 'replaces', OLD.replaces, 'note', OLD.note, 'made', OLD.made, 'act', OLD.act, 'withdrawn', OLD.withdrawn),
        json_object('id', NEW.id, 'public_id', NEW.public_id, 'build', NEW.build, 'item', NEW.item, 'description', NEW.description, 'maker', NEW.maker, 'part_number', NEW.part_number, 'quantity', NEW.quantity, 'serial', NEW.serial, 'supplier', NEW.supplier, 'whose', NEW.whose, 'origin', NEW.origin, 'state_as_it_came', NEW.state_as_it_came, 'shelf', NEW.shelf, 'step', NEW.step, 'cost', NEW.cost, 'price', NEW.price, 'core', NEW.core, 'replaces', NEW.replaces, 'note', NEW.note, 'made', NEW.made, 'act', NEW.act, 'withdrawn', NEW.withdrawn));
END;

DROP TRIGGER family_keeps_its_past;

CREATE TRIGGER family_keeps_its_past AFTER UPDATE ON family
BEGIN
    INSERT INTO history (act, table_name, row, before, after)
    VALUES (NEW.act, 'family', OLD.id,
        json_object('id', OLD.id, 'public_id', OLD.public_id, 'name', OLD.name, 'note', OLD.note, 'architecture', OLD.architecture, 'block_material', OLD.block_material, 'head_material', OLD.head_material, 'unit', OLD.unit, 'crank_material', OLD.crank_material, 'piston_material', OLD.piston_material, 'cap_material', OLD.cap_material, 'rod_material', OLD.rod_material, 'kept_from', OLD.kept_from, 'made', OLD.made, 'act', OLD.act, 'withdrawn', OLD.withdrawn),
        json_object('id', NEW.id, 'public_id', NEW.public_id, 'name', NEW.name, 'note', NEW.note, 'architecture', NEW.architecture, 'block_material', NEW.block_material, 'head_material', NEW.head_material, 'unit', NEW.unit, 'crank_material', NEW.crank_material, 'piston_material', NEW.piston_material, 'cap_material', NEW.cap_material, 'rod_material', NEW.rod_material, 'kept_from', NEW.kept_from, 'made', NEW.made, 'act', NEW.act, 'withdrawn', NEW.withdrawn));
END;

-- What to charge: rates of tax, time worked, the quote with what was agreed and changed, charged lines, discounts, deposits, payments,
-- invoices. Rules as in 0002_rules.sql. Money is integer minor units of the shop's currency, percentages whole parts per million,
-- hours whole quarters, days civil dates.

-- A rate of tax of the shop.
CREATE TABLE tax_rate (
    id INTEGER PRIMARY KEY,             -- grows with time
    key TEXT NOT NULL UNIQUE,           -- what the books call it: standard, reduced, none
    title TEXT NOT NULL,                -- as the paper says it: sales tax
    rate INTEGER NOT NULL CHECK (rate BETWEEN 0 AND 1000000), -- parts per million
    reason TEXT NOT NULL,               -- why there is none or another rate, stands on the paper; may be empty
    usual_for TEXT NOT NULL,            -- kinds of line usually taxed so; JSON list of keys
    made INTEGER NOT NULL REFERENCES act (id), -- the act that wrote it
    act INTEGER NOT NULL REFERENCES act (id), -- the newest act that changed it
    withdrawn INTEGER REFERENCES act (id) -- the act that withdrew it
) STRICT;

-- Time somebody worked on a job.
CREATE TABLE worked (
    id INTEGER PRIMARY KEY,             -- grows with time
    build INTEGER NOT NULL REFERENCES build (id), -- whose
    step INTEGER REFERENCES step (id),  -- at which step; none for the job as a whole
    person INTEGER NOT NULL REFERENCES person (id), -- who
    day TEXT NOT NULL,                  -- on which day
    quarters INTEGER NOT NULL CHECK (quarters > 0), -- quarter hours
    rate INTEGER CHECK (rate >= 0),     -- of an hour; none for the shop's own when it is charged
    charged TEXT NOT NULL CHECK (charged IN ('charged', 'warranty', 'own-error')), -- whether the customer pays it
    words TEXT NOT NULL,                -- what was done; may be empty
    made INTEGER NOT NULL REFERENCES act (id), -- the act that wrote it
    act INTEGER NOT NULL REFERENCES act (id), -- the newest act that changed it
    withdrawn INTEGER REFERENCES act (id) -- the act that withdrew it
) STRICT;
CREATE INDEX worked_by_build ON worked (build);

-- A clock that somebody started on a job; it runs until it is stopped.
CREATE TABLE work_clock (
    id INTEGER PRIMARY KEY,             -- grows with time
    build INTEGER NOT NULL REFERENCES build (id), -- whose
    step INTEGER REFERENCES step (id),  -- at which step; none for the job as a whole
    person INTEGER NOT NULL REFERENCES person (id), -- who
    made INTEGER NOT NULL REFERENCES act (id), -- the act that started it
    act INTEGER NOT NULL REFERENCES act (id), -- the newest act that changed it
    stopped INTEGER REFERENCES act (id) -- the act that stopped it
) STRICT;
CREATE UNIQUE INDEX work_clock_runs_once ON work_clock (person) WHERE stopped IS NULL;

-- A line of the quote of a job.
CREATE TABLE quote_line (
    id INTEGER PRIMARY KEY,             -- grows with time
    build INTEGER NOT NULL REFERENCES build (id), -- whose
    step INTEGER REFERENCES step (id),  -- at which step; none for the job as a whole
    text TEXT NOT NULL,                 -- what is offered
    quarters INTEGER CHECK (quarters > 0), -- quarter hours of labour; none where it is no labour
    amount INTEGER NOT NULL CHECK (amount >= 0), -- what it comes to
    made INTEGER NOT NULL REFERENCES act (id), -- the act that wrote it
    act INTEGER NOT NULL REFERENCES act (id), -- the newest act that changed it
    withdrawn INTEGER REFERENCES act (id) -- the act that withdrew it
) STRICT;
CREATE INDEX quote_line_by_build ON quote_line (build);

-- What stands beside the lines of a quote.
CREATE TABLE quote_terms (
    build INTEGER PRIMARY KEY REFERENCES build (id), -- whose
    exclusions TEXT NOT NULL,           -- what the quote does not contain, one a line; may be empty
    without_calling INTEGER NOT NULL CHECK (without_calling >= 0), -- what may be spent beyond it without calling
    made INTEGER NOT NULL REFERENCES act (id), -- the act that wrote it
    act INTEGER NOT NULL REFERENCES act (id) -- the newest act that changed it
) STRICT;

-- That a quote was sent, what the customer answered, or that it was taken back to be drawn up anew; the newest holds.
CREATE TABLE quote_answer (
    id INTEGER PRIMARY KEY,             -- grows with time
    build INTEGER NOT NULL REFERENCES build (id), -- whose
    kind TEXT NOT NULL CHECK (kind IN ('sent', 'agreed', 'declined', 'taken-back')), -- what happened
    day TEXT NOT NULL,                  -- on which day
    how TEXT CHECK (how IN ('signed', 'in-person', 'phone', 'message')), -- how he answered; none where he did not
    words TEXT NOT NULL,                -- his words, or why it was taken back; may be empty
    quote TEXT NOT NULL,                -- lines, exclusions and limit as they stood then; JSON
    made INTEGER NOT NULL REFERENCES act (id) -- the act that wrote it
) STRICT;
CREATE INDEX quote_answer_by_build ON quote_answer (build);

-- A change to what was agreed.
CREATE TABLE agreed_change (
    id INTEGER PRIMARY KEY,             -- grows with time
    build INTEGER NOT NULL REFERENCES build (id), -- whose
    text TEXT NOT NULL,                 -- what is proposed
    why TEXT NOT NULL,                  -- what was found
    price INTEGER NOT NULL,             -- what it costs more; below zero where work is left out
    days INTEGER NOT NULL,              -- how many days later the engine is ready; below zero for sooner
    made INTEGER NOT NULL REFERENCES act (id), -- the act that wrote it
    act INTEGER NOT NULL REFERENCES act (id), -- the newest act that changed it
    withdrawn INTEGER REFERENCES act (id) -- the act that withdrew it
) STRICT;
CREATE INDEX agreed_change_by_build ON agreed_change (build);

-- That a change was sent to the customer, or what he answered; the newest holds.
CREATE TABLE agreed_change_answer (
    id INTEGER PRIMARY KEY,             -- grows with time
    change INTEGER NOT NULL REFERENCES agreed_change (id), -- of which change
    kind TEXT NOT NULL CHECK (kind IN ('sent', 'agreed', 'declined')), -- what happened
    day TEXT NOT NULL,                  -- on which day
    how TEXT CHECK (how IN ('signed', 'in-person', 'phone', 'message')), -- how he answered; none where he did not
    words TEXT NOT NULL,                -- the message as it was sent, or his words
    made INTEGER NOT NULL REFERENCES act (id) -- the act that wrote it
) STRICT;
CREATE INDEX agreed_change_answer_by_change ON agreed_change_answer (change);

-- A line of what is charged.
CREATE TABLE charge_line (
    id INTEGER PRIMARY KEY,             -- grows with time
    build INTEGER NOT NULL REFERENCES build (id), -- whose
    kind TEXT NOT NULL CHECK (kind IN ('labour', 'part', 'sent-out', 'core-deposit', 'core-returned', 'supplies', 'disposal', 'storage', 'other')), -- what is charged
    text TEXT NOT NULL,                 -- as the customer reads it
    step INTEGER REFERENCES step (id),  -- at which step; none for the job as a whole
    how_many INTEGER NOT NULL CHECK (how_many > 0), -- thousandths
    unit TEXT NOT NULL,                 -- what is counted: h, pc
    priced TEXT NOT NULL CHECK (priced IN ('charged', 'warranty', 'own-error', 'customers-own')), -- whether it is charged, or why not
    each INTEGER NOT NULL CHECK (each >= 0), -- the price of one before the mark-up
    mark_up INTEGER NOT NULL CHECK (mark_up >= 0), -- parts per million on top
    tax TEXT NOT NULL REFERENCES tax_rate (key), -- at which rate
    quote_line INTEGER REFERENCES quote_line (id), -- the line of the quote it belongs to
    change INTEGER REFERENCES agreed_change (id), -- the agreed change it belongs to
    part INTEGER REFERENCES part (id),  -- the part it charges; none where it charges none
    sending INTEGER REFERENCES sending (id), -- the work sent out it charges; none where it charges none
    made INTEGER NOT NULL REFERENCES act (id), -- the act that wrote it
    act INTEGER NOT NULL REFERENCES act (id), -- the newest act that changed it
    withdrawn INTEGER REFERENCES act (id) -- the act that withdrew it
) STRICT;
CREATE INDEX charge_line_by_build ON charge_line (build);

-- Which time worked a line of labour charges.
CREATE TABLE charge_line_worked (
    id INTEGER PRIMARY KEY,             -- grows with time
    line INTEGER NOT NULL REFERENCES charge_line (id), -- which line
    worked INTEGER NOT NULL REFERENCES worked (id), -- which time
    made INTEGER NOT NULL REFERENCES act (id) -- the act that wrote it
) STRICT;
CREATE INDEX charge_line_worked_by_line ON charge_line_worked (line);

-- A discount on what is charged.
CREATE TABLE discount (
    id INTEGER PRIMARY KEY,             -- grows with time
    build INTEGER NOT NULL REFERENCES build (id), -- whose
    text TEXT NOT NULL,                 -- as the customer reads it
    given_on TEXT NOT NULL CHECK (given_on IN ('labour', 'parts', 'everything')), -- on what
    percent INTEGER CHECK (percent BETWEEN 0 AND 1000000), -- parts per million; none where it is an amount
    amount INTEGER CHECK (amount >= 0), -- none where it is a percentage
    made INTEGER NOT NULL REFERENCES act (id), -- the act that wrote it
    act INTEGER NOT NULL REFERENCES act (id), -- the newest act that changed it
    withdrawn INTEGER REFERENCES act (id) -- the act that withdrew it
) STRICT;
CREATE INDEX discount_by_build ON discount (build);

-- A deposit asked for.
CREATE TABLE deposit_asked (
    id INTEGER PRIMARY KEY,             -- grows with time
    build INTEGER NOT NULL REFERENCES build (id), -- whose
    amount INTEGER NOT NULL CHECK (amount > 0), -- how much
    day TEXT NOT NULL,                  -- on which day it was asked for
    words TEXT NOT NULL,                -- what was agreed about it; may be empty
    made INTEGER NOT NULL REFERENCES act (id), -- the act that wrote it
    act INTEGER NOT NULL REFERENCES act (id), -- the newest act that changed it
    withdrawn INTEGER REFERENCES act (id) -- the act that withdrew it
) STRICT;
CREATE INDEX deposit_asked_by_build ON deposit_asked (build);

-- A payment of the customer, or back to him.
CREATE TABLE payment (
    id INTEGER PRIMARY KEY,             -- grows with time
    build INTEGER NOT NULL REFERENCES build (id), -- whose
    kind TEXT NOT NULL CHECK (kind IN ('deposit-refundable', 'deposit-forfeitable', 'progress', 'on-invoice', 'given-back')), -- what it is
    amount INTEGER NOT NULL CHECK (amount > 0), -- how much
    day TEXT NOT NULL,                  -- on which day
    words TEXT NOT NULL,                -- how it was paid; may be empty
    made INTEGER NOT NULL REFERENCES act (id), -- the act that wrote it
    act INTEGER NOT NULL REFERENCES act (id), -- the newest act that changed it
    withdrawn INTEGER REFERENCES act (id) -- the act that withdrew it
) STRICT;
CREATE INDEX payment_by_build ON payment (build);

-- An invoice or a credit as it was issued; frozen. Numbers follow each other without gaps.
CREATE TABLE invoice (
    id INTEGER PRIMARY KEY,             -- grows with time
    build INTEGER NOT NULL REFERENCES build (id), -- whose
    number TEXT NOT NULL UNIQUE,        -- of the shop's one series
    day TEXT NOT NULL,                  -- its date
    undoes INTEGER UNIQUE REFERENCES invoice (id), -- of a credit: the invoice it undoes
    document TEXT NOT NULL,             -- all that stands on it; JSON
    file INTEGER NOT NULL REFERENCES file (id), -- the PDF, byte for byte
    made INTEGER NOT NULL REFERENCES act (id) -- the act that wrote it
) STRICT;
CREATE INDEX invoice_by_build ON invoice (build);

-- Which lines an invoice charges.
CREATE TABLE invoice_line (
    id INTEGER PRIMARY KEY,             -- grows with time
    invoice INTEGER NOT NULL REFERENCES invoice (id), -- which invoice
    line INTEGER NOT NULL REFERENCES charge_line (id), -- which line
    made INTEGER NOT NULL REFERENCES act (id) -- the act that wrote it
) STRICT;
CREATE INDEX invoice_line_by_line ON invoice_line (line);

-- Which discounts an invoice takes off.
CREATE TABLE invoice_discount (
    id INTEGER PRIMARY KEY,             -- grows with time
    invoice INTEGER NOT NULL REFERENCES invoice (id), -- which invoice
    discount INTEGER NOT NULL REFERENCES discount (id), -- which discount
    made INTEGER NOT NULL REFERENCES act (id) -- the act that wrote it
) STRICT;
CREATE INDEX invoice_discount_by_discount ON invoice_discount (discount);

CREATE INDEX act_by_person_and_time ON act (person, at);

CREATE TRIGGER tax_rate_is_never_deleted BEFORE DELETE ON tax_rate
BEGIN SELECT RAISE(ABORT, 'tax_rate: nothing is deleted, things are withdrawn'); END;

CREATE TRIGGER tax_rate_names_its_act BEFORE INSERT ON tax_rate
WHEN NEW.made IS NOT (SELECT max(id) FROM act)
BEGIN SELECT RAISE(ABORT, 'tax_rate: a new row names the newest act'); END;

CREATE TRIGGER tax_rate_changes_by_an_act BEFORE UPDATE ON tax_rate
WHEN NEW.act IS NOT (SELECT max(id) FROM act)
BEGIN SELECT RAISE(ABORT, 'tax_rate: a change names the newest act'); END;

CREATE TRIGGER tax_rate_keeps_its_past AFTER UPDATE ON tax_rate
BEGIN
    INSERT INTO history (act, table_name, row, before, after)
    VALUES (NEW.act, 'tax_rate', OLD.id,
        json_object('id', OLD.id, 'key', OLD.key, 'title', OLD.title, 'rate', OLD.rate, 'reason', OLD.reason, 'usual_for', OLD.usual_for, 'made', OLD.made, 'act', OLD.act, 'withdrawn', OLD.withdrawn),
        json_object('id', NEW.id, 'key', NEW.key, 'title', NEW.title, 'rate', NEW.rate, 'reason', NEW.reason, 'usual_for', NEW.usual_for, 'made', NEW.made, 'act', NEW.act, 'withdrawn', NEW.withdrawn));
END;

CREATE TRIGGER tax_rate_keeps_what_was_said BEFORE UPDATE OF id, key, made ON tax_rate
BEGIN SELECT RAISE(ABORT, 'tax_rate: what was said is never overwritten'); END;

CREATE TRIGGER worked_is_never_deleted BEFORE DELETE ON worked
BEGIN SELECT RAISE(ABORT, 'worked: nothing is deleted, things are withdrawn'); END;

CREATE TRIGGER worked_names_its_act BEFORE INSERT ON worked
WHEN NEW.made IS NOT (SELECT max(id) FROM act)
BEGIN SELECT RAISE(ABORT, 'worked: a new row names the newest act'); END;

CREATE TRIGGER worked_changes_by_an_act BEFORE UPDATE ON worked
WHEN NEW.act IS NOT (SELECT max(id) FROM act)
BEGIN SELECT RAISE(ABORT, 'worked: a change names the newest act'); END;

CREATE TRIGGER worked_keeps_its_past AFTER UPDATE ON worked
BEGIN
    INSERT INTO history (act, table_name, row, before, after)
    VALUES (NEW.act, 'worked', OLD.id,
        json_object('id', OLD.id, 'build', OLD.build, 'step', OLD.step, 'person', OLD.person, 'day', OLD.day, 'quarters', OLD.quarters, 'rate', OLD.rate, 'charged', OLD.charged, 'words', OLD.words, 'made', OLD.made, 'act', OLD.act, 'withdrawn', OLD.withdrawn),
        json_object('id', NEW.id, 'build', NEW.build, 'step', NEW.step, 'person', NEW.person, 'day', NEW.day, 'quarters', NEW.quarters, 'rate', NEW.rate, 'charged', NEW.charged, 'words', NEW.words, 'made', NEW.made, 'act', NEW.act, 'withdrawn', NEW.withdrawn));
END;

CREATE TRIGGER worked_keeps_what_was_said BEFORE UPDATE OF id, build, step, person, day, quarters, rate, charged, words, made ON worked
BEGIN SELECT RAISE(ABORT, 'worked: what was said is never overwritten'); END;

CREATE TRIGGER work_clock_is_never_deleted BEFORE DELETE ON work_clock
BEGIN SELECT RAISE(ABORT, 'work_clock: nothing is deleted, things are withdrawn'); END;

CREATE TRIGGER work_clock_names_its_act BEFORE INSERT ON work_clock
WHEN NEW.made IS NOT (SELECT max(id) FROM act)
BEGIN SELECT RAISE(ABORT, 'work_clock: a new row names the newest act'); END;

CREATE TRIGGER work_clock_changes_by_an_act BEFORE UPDATE ON work_clock
WHEN NEW.act IS NOT (SELECT max(id) FROM act)
BEGIN SELECT RAISE(ABORT, 'work_clock: a change names the newest act'); END;

CREATE TRIGGER work_clock_keeps_its_past AFTER UPDATE ON work_clock
BEGIN
    INSERT INTO history (act, table_name, row, before, after)
    VALUES (NEW.act, 'work_clock', OLD.id,
        json_object('id', OLD.id, 'build', OLD.build, 'step', OLD.step, 'person', OLD.person, 'made', OLD.made, 'act', OLD.act, 'stopped', OLD.stopped),
        json_object('id', NEW.id, 'build', NEW.build, 'step', NEW.step, 'person', NEW.person, 'made', NEW.made, 'act', NEW.act, 'stopped', NEW.stopped));
END;

CREATE TRIGGER work_clock_keeps_what_was_said BEFORE UPDATE OF id, build, step, person, made ON work_clock
BEGIN SELECT RAISE(ABORT, 'work_clock: what was said is never overwritten'); END;

CREATE TRIGGER quote_line_is_never_deleted BEFORE DELETE ON quote_line
BEGIN SELECT RAISE(ABORT, 'quote_line: nothing is deleted, things are withdrawn'); END;

CREATE TRIGGER quote_line_names_its_act BEFORE INSERT ON quote_line
WHEN NEW.made IS NOT (SELECT max(id) FROM act)
BEGIN SELECT RAISE(ABORT, 'quote_line: a new row names the newest act'); END;

CREATE TRIGGER quote_line_changes_by_an_act BEFORE UPDATE ON quote_line
WHEN NEW.act IS NOT (SELECT max(id) FROM act)
BEGIN SELECT RAISE(ABORT, 'quote_line: a change names the newest act'); END;

CREATE TRIGGER quote_line_keeps_its_past AFTER UPDATE ON quote_line
BEGIN
    INSERT INTO history (act, table_name, row, before, after)
    VALUES (NEW.act, 'quote_line', OLD.id,
        json_object('id', OLD.id, 'build', OLD.build, 'step', OLD.step, 'text', OLD.text, 'quarters', OLD.quarters, 'amount', OLD.amount, 'made', OLD.made, 'act', OLD.act, 'withdrawn', OLD.withdrawn),
        json_object('id', NEW.id, 'build', NEW.build, 'step', NEW.step, 'text', NEW.text, 'quarters', NEW.quarters, 'amount', NEW.amount, 'made', NEW.made, 'act', NEW.act, 'withdrawn', NEW.withdrawn));
END;

CREATE TRIGGER quote_line_keeps_what_was_said BEFORE UPDATE OF id, build, made ON quote_line
BEGIN SELECT RAISE(ABORT, 'quote_line: what was said is never overwritten'); END;

CREATE TRIGGER quote_terms_is_never_deleted BEFORE DELETE ON quote_terms
BEGIN SELECT RAISE(ABORT, 'quote_terms: nothing is deleted, things are withdrawn'); END;

CREATE TRIGGER quote_terms_names_its_act BEFORE INSERT ON quote_terms
WHEN NEW.made IS NOT (SELECT max(id) FROM act)
BEGIN SELECT RAISE(ABORT, 'quote_terms: a new row names the newest act'); END;

CREATE TRIGGER quote_terms_changes_by_an_act BEFORE UPDATE ON quote_terms
WHEN NEW.act IS NOT (SELECT max(id) FROM act)
BEGIN SELECT RAISE(ABORT, 'quote_terms: a change names the newest act'); END;

CREATE TRIGGER quote_terms_keeps_its_past AFTER UPDATE ON quote_terms
BEGIN
    INSERT INTO history (act, table_name, row, before, after)
    VALUES (NEW.act, 'quote_terms', OLD.build,
        json_object('build', OLD.build, 'exclusions', OLD.exclusions, 'without_calling', OLD.without_calling, 'made', OLD.made, 'act', OLD.act),
        json_object('build', NEW.build, 'exclusions', NEW.exclusions, 'without_calling', NEW.without_calling, 'made', NEW.made, 'act', NEW.act));
END;

CREATE TRIGGER quote_terms_keeps_what_was_said BEFORE UPDATE OF build, made ON quote_terms
BEGIN SELECT RAISE(ABORT, 'quote_terms: what was said is never overwritten'); END;

CREATE TRIGGER quote_answer_is_never_deleted BEFORE DELETE ON quote_answer
BEGIN SELECT RAISE(ABORT, 'quote_answer: nothing is deleted, things are withdrawn'); END;

CREATE TRIGGER quote_answer_names_its_act BEFORE INSERT ON quote_answer
WHEN NEW.made IS NOT (SELECT max(id) FROM act)
BEGIN SELECT RAISE(ABORT, 'quote_answer: a new row names the newest act'); END;

CREATE TRIGGER quote_answer_is_never_changed BEFORE UPDATE ON quote_answer
BEGIN SELECT RAISE(ABORT, 'quote_answer: written once'); END;

CREATE TRIGGER agreed_change_is_never_deleted BEFORE DELETE ON agreed_change
BEGIN SELECT RAISE(ABORT, 'agreed_change: nothing is deleted, things are withdrawn'); END;

CREATE TRIGGER agreed_change_names_its_act BEFORE INSERT ON agreed_change
WHEN NEW.made IS NOT (SELECT max(id) FROM act)
BEGIN SELECT RAISE(ABORT, 'agreed_change: a new row names the newest act'); END;

CREATE TRIGGER agreed_change_changes_by_an_act BEFORE UPDATE ON agreed_change
WHEN NEW.act IS NOT (SELECT max(id) FROM act)
BEGIN SELECT RAISE(ABORT, 'agreed_change: a change names the newest act'); END;

CREATE TRIGGER agreed_change_keeps_its_past AFTER UPDATE ON agreed_change
BEGIN
    INSERT INTO history (act, table_name, row, before, after)
    VALUES (NEW.act, 'agreed_change', OLD.id,
        json_object('id', OLD.id, 'build', OLD.build, 'text', OLD.text, 'why', OLD.why, 'price', OLD.price, 'days', OLD.days, 'made', OLD.made, 'act', OLD.act, 'withdrawn', OLD.withdrawn),
        json_object('id', NEW.id, 'build', NEW.build, 'text', NEW.text, 'why', NEW.why, 'price', NEW.price, 'days', NEW.days, 'made', NEW.made, 'act', NEW.act, 'withdrawn', NEW.withdrawn));
END;

CREATE TRIGGER agreed_change_keeps_what_was_said BEFORE UPDATE OF id, build, text, why, price, days, made ON agreed_change
BEGIN SELECT RAISE(ABORT, 'agreed_change: what was said is never overwritten'); END;

CREATE TRIGGER agreed_change_answer_is_never_deleted BEFORE DELETE ON agreed_change_answer
BEGIN SELECT RAISE(ABORT, 'agreed_change_answer: nothing is deleted, things are withdrawn'); END;

CREATE TRIGGER agreed_change_answer_names_its_act BEFORE INSERT ON agreed_change_answer
WHEN NEW.made IS NOT (SELECT max(id) FROM act)
BEGIN SELECT RAISE(ABORT, 'agreed_change_answer: a new row names the newest act'); END;

CREATE TRIGGER agreed_change_answer_is_never_changed BEFORE UPDATE ON agreed_change_answer
BEGIN SELECT RAISE(ABORT, 'agreed_change_answer: written once'); END;

CREATE TRIGGER charge_line_is_never_deleted BEFORE DELETE ON charge_line
BEGIN SELECT RAISE(ABORT, 'charge_line: nothing is deleted, things are withdrawn'); END;

CREATE TRIGGER charge_line_names_its_act BEFORE INSERT ON charge_line
WHEN NEW.made IS NOT (SELECT max(id) FROM act)
BEGIN SELECT RAISE(ABORT, 'charge_line: a new row names the newest act'); END;

CREATE TRIGGER charge_line_changes_by_an_act BEFORE UPDATE ON charge_line
WHEN NEW.act IS NOT (SELECT max(id) FROM act)
BEGIN SELECT RAISE(ABORT, 'charge_line: a change names the newest act'); END;

CREATE TRIGGER charge_line_keeps_its_past AFTER UPDATE ON charge_line
BEGIN
    INSERT INTO history (act, table_name, row, before, after)
    VALUES (NEW.act, 'charge_line', OLD.id,
        json_object('id', OLD.id, 'build', OLD.build, 'kind', OLD.kind, 'text', OLD.text, 'step', OLD.step, 'how_many', OLD.how_many, 'unit', OLD.unit, 'priced', OLD.priced, 'each', OLD.each, 'mark_up', OLD.mark_up, 'tax', OLD.tax, 'quote_line', OLD.quote_line, 'change', OLD.change, 'part', OLD.part, 'sending', OLD.sending, 'made', OLD.made, 'act', OLD.act, 'withdrawn', OLD.withdrawn),
        json_object('id', NEW.id, 'build', NEW.build, 'kind', NEW.kind, 'text', NEW.text, 'step', NEW.step, 'how_many', NEW.how_many, 'unit', NEW.unit, 'priced', NEW.priced, 'each', NEW.each, 'mark_up', NEW.mark_up, 'tax', NEW.tax, 'quote_line', NEW.quote_line, 'change', NEW.change, 'part', NEW.part, 'sending', NEW.sending, 'made', NEW.made, 'act', NEW.act, 'withdrawn', NEW.withdrawn));
END;

CREATE TRIGGER charge_line_keeps_what_was_said BEFORE UPDATE OF id, build, kind, part, sending, made ON charge_line
BEGIN SELECT RAISE(ABORT, 'charge_line: what was said is never overwritten'); END;

CREATE TRIGGER charge_line_worked_is_never_deleted BEFORE DELETE ON charge_line_worked
BEGIN SELECT RAISE(ABORT, 'charge_line_worked: nothing is deleted, things are withdrawn'); END;

CREATE TRIGGER charge_line_worked_names_its_act BEFORE INSERT ON charge_line_worked
WHEN NEW.made IS NOT (SELECT max(id) FROM act)
BEGIN SELECT RAISE(ABORT, 'charge_line_worked: a new row names the newest act'); END;

CREATE TRIGGER charge_line_worked_is_never_changed BEFORE UPDATE ON charge_line_worked
BEGIN SELECT RAISE(ABORT, 'charge_line_worked: written once'); END;

CREATE TRIGGER discount_is_never_deleted BEFORE DELETE ON discount
BEGIN SELECT RAISE(ABORT, 'discount: nothing is deleted, things are withdrawn'); END;

CREATE TRIGGER discount_names_its_act BEFORE INSERT ON discount
WHEN NEW.made IS NOT (SELECT max(id) FROM act)
BEGIN SELECT RAISE(ABORT, 'discount: a new row names the newest act'); END;

CREATE TRIGGER discount_changes_by_an_act BEFORE UPDATE ON discount
WHEN NEW.act IS NOT (SELECT max(id) FROM act)
BEGIN SELECT RAISE(ABORT, 'discount: a change names the newest act'); END;

CREATE TRIGGER discount_keeps_its_past AFTER UPDATE ON discount
BEGIN
    INSERT INTO history (act, table_name, row, before, after)
    VALUES (NEW.act, 'discount', OLD.id,
        json_object('id', OLD.id, 'build', OLD.build, 'text', OLD.text, 'given_on', OLD.given_on, 'percent', OLD.percent, 'amount', OLD.amount, 'made', OLD.made, 'act', OLD.act, 'withdrawn', OLD.withdrawn),
        json_object('id', NEW.id, 'build', NEW.build, 'text', NEW.text, 'given_on', NEW.given_on, 'percent', NEW.percent, 'amount', NEW.amount, 'made', NEW.made, 'act', NEW.act, 'withdrawn', NEW.withdrawn));
END;

CREATE TRIGGER discount_keeps_what_was_said BEFORE UPDATE OF id, build, text, given_on, percent, amount, made ON discount
BEGIN SELECT RAISE(ABORT, 'discount: what was said is never overwritten'); END;

CREATE TRIGGER deposit_asked_is_never_deleted BEFORE DELETE ON deposit_asked
BEGIN SELECT RAISE(ABORT, 'deposit_asked: nothing is deleted, things are withdrawn'); END;

CREATE TRIGGER deposit_asked_names_its_act BEFORE INSERT ON deposit_asked
WHEN NEW.made IS NOT (SELECT max(id) FROM act)
BEGIN SELECT RAISE(ABORT, 'deposit_asked: a new row names the newest act'); END;

CREATE TRIGGER deposit_asked_changes_by_an_act BEFORE UPDATE ON deposit_asked
WHEN NEW.act IS NOT (SELECT max(id) FROM act)
BEGIN SELECT RAISE(ABORT, 'deposit_asked: a change names the newest act'); END;

CREATE TRIGGER deposit_asked_keeps_its_past AFTER UPDATE ON deposit_asked
BEGIN
    INSERT INTO history (act, table_name, row, before, after)
    VALUES (NEW.act, 'deposit_asked', OLD.id,
        json_object('id', OLD.id, 'build', OLD.build, 'amount', OLD.amount, 'day', OLD.day, 'words', OLD.words, 'made', OLD.made, 'act', OLD.act, 'withdrawn', OLD.withdrawn),
        json_object('id', NEW.id, 'build', NEW.build, 'amount', NEW.amount, 'day', NEW.day, 'words', NEW.words, 'made', NEW.made, 'act', NEW.act, 'withdrawn', NEW.withdrawn));
END;

CREATE TRIGGER deposit_asked_keeps_what_was_said BEFORE UPDATE OF id, build, amount, day, words, made ON deposit_asked
BEGIN SELECT RAISE(ABORT, 'deposit_asked: what was said is never overwritten'); END;

CREATE TRIGGER payment_is_never_deleted BEFORE DELETE ON payment
BEGIN SELECT RAISE(ABORT, 'payment: nothing is deleted, things are withdrawn'); END;

CREATE TRIGGER payment_names_its_act BEFORE INSERT ON payment
WHEN NEW.made IS NOT (SELECT max(id) FROM act)
BEGIN SELECT RAISE(ABORT, 'payment: a new row names the newest act'); END;

CREATE TRIGGER payment_changes_by_an_act BEFORE UPDATE ON payment
WHEN NEW.act IS NOT (SELECT max(id) FROM act)
BEGIN SELECT RAISE(ABORT, 'payment: a change names the newest act'); END;

CREATE TRIGGER payment_keeps_its_past AFTER UPDATE ON payment
BEGIN
    INSERT INTO history (act, table_name, row, before, after)
    VALUES (NEW.act, 'payment', OLD.id,
        json_object('id', OLD.id, 'build', OLD.build, 'kind', OLD.kind, 'amount', OLD.amount, 'day', OLD.day, 'words', OLD.words, 'made', OLD.made, 'act', OLD.act, 'withdrawn', OLD.withdrawn),
        json_object('id', NEW.id, 'build', NEW.build, 'kind', NEW.kind, 'amount', NEW.amount, 'day', NEW.day, 'words', NEW.words, 'made', NEW.made, 'act', NEW.act, 'withdrawn', NEW.withdrawn));
END;

CREATE TRIGGER payment_keeps_what_was_said BEFORE UPDATE OF id, build, kind, amount, day, words, made ON payment
BEGIN SELECT RAISE(ABORT, 'payment: what was said is never overwritten'); END;

CREATE TRIGGER invoice_is_never_deleted BEFORE DELETE ON invoice
BEGIN SELECT RAISE(ABORT, 'invoice: nothing is deleted, things are withdrawn'); END;

CREATE TRIGGER invoice_names_its_act BEFORE INSERT ON invoice
WHEN NEW.made IS NOT (SELECT max(id) FROM act)
BEGIN SELECT RAISE(ABORT, 'invoice: a new row names the newest act'); END;

CREATE TRIGGER invoice_is_never_changed BEFORE UPDATE ON invoice
BEGIN SELECT RAISE(ABORT, 'invoice: written once'); END;

CREATE TRIGGER invoice_line_is_never_deleted BEFORE DELETE ON invoice_line
BEGIN SELECT RAISE(ABORT, 'invoice_line: nothing is deleted, things are withdrawn'); END;

CREATE TRIGGER invoice_line_names_its_act BEFORE INSERT ON invoice_line
WHEN NEW.made IS NOT (SELECT max(id) FROM act)
BEGIN SELECT RAISE(ABORT, 'invoice_line: a new row names the newest act'); END;

CREATE TRIGGER invoice_line_is_never_changed BEFORE UPDATE ON invoice_line
BEGIN SELECT RAISE(ABORT, 'invoice_line: written once'); END;

CREATE TRIGGER invoice_discount_is_never_deleted BEFORE DELETE ON invoice_discount
BEGIN SELECT RAISE(ABORT, 'invoice_discount: nothing is deleted, things are withdrawn'); END;

CREATE TRIGGER invoice_discount_names_its_act BEFORE INSERT ON invoice_discount
WHEN NEW.made IS NOT (SELECT max(id) FROM act)
BEGIN SELECT RAISE(ABORT, 'invoice_discount: a new row names the newest act'); END;

CREATE TRIGGER invoice_discount_is_never_changed BEFORE UPDATE ON invoice_discount
BEGIN SELECT RAISE(ABORT, 'invoice_discount: written once'); END;

CREATE TRIGGER charge_line_stays_as_invoiced BEFORE UPDATE ON charge_line
WHEN EXISTS (SELECT 1 FROM invoice_line l JOIN invoice i ON i.id = l.invoice
    WHERE l.line = OLD.id AND i.undoes IS NULL AND NOT EXISTS (SELECT 1 FROM invoice c WHERE c.undoes = i.id))
BEGIN SELECT RAISE(ABORT, 'charge_line: it stands on an invoice: credit that first'); END;

CREATE TRIGGER invoice_line_is_invoiced_once BEFORE INSERT ON invoice_line
WHEN EXISTS (SELECT 1 FROM invoice_line l JOIN invoice i ON i.id = l.invoice
    WHERE l.line = NEW.line AND i.undoes IS NULL AND NOT EXISTS (SELECT 1 FROM invoice c WHERE c.undoes = i.id))
BEGIN SELECT RAISE(ABORT, 'invoice_line: it stands on an invoice already'); END;

CREATE TRIGGER discount_stays_as_invoiced BEFORE UPDATE ON discount
WHEN EXISTS (SELECT 1 FROM invoice_discount l JOIN invoice i ON i.id = l.invoice
    WHERE l.discount = OLD.id AND i.undoes IS NULL AND NOT EXISTS (SELECT 1 FROM invoice c WHERE c.undoes = i.id))
BEGIN SELECT RAISE(ABORT, 'discount: it stands on an invoice: credit that first'); END;

CREATE TRIGGER invoice_discount_is_invoiced_once BEFORE INSERT ON invoice_discount
WHEN EXISTS (SELECT 1 FROM invoice_discount l JOIN invoice i ON i.id = l.invoice
    WHERE l.discount = NEW.discount AND i.undoes IS NULL AND NOT EXISTS (SELECT 1 FROM invoice c WHERE c.undoes = i.id))
BEGIN SELECT RAISE(ABORT, 'invoice_discount: it stands on an invoice already'); END;

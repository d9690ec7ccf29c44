-- Search over everything that is kept in words. What stands here is derived: it can be emptied and filled again from the views.
--
-- An entry's rowid says what it is of: the job's number (none: 0) from bit 40 on, the kind from bit 32 on, the row's own id below.
-- So the jobs in which a word stands are told from the index alone. Kinds: 1 job, 2 person, 3 item, 4 facts of a job, 5 part,
-- 6 work sent out, 7 what became of a part, 8 waiting, 9 ending, 10 note, 11 file, 12 supplier, 13 family.
--
-- What was withdrawn leaves. Personal data stand in one table, person, and here only as long as they stand there: whatever
-- changes or empties a person's row changes the entry in the same transaction, and both indexes delete securely, so that an
-- erased name is left in none of their pages.

-- By words, their beginnings too; accents do not count.
CREATE VIRTUAL TABLE found USING fts5 (text, tokenize = "unicode61 remove_diacritics 2", prefix = '2 3 4');
INSERT INTO found (found, rank) VALUES ('secure-delete', 1);

-- Telephone, serial and part numbers run together, without spaces and dashes; found by any three signs in a row.
CREATE VIRTUAL TABLE found_run USING fts5 (run, tokenize = 'trigram');
INSERT INTO found_run (found_run, rank) VALUES ('secure-delete', 1);

-- A job's title and what is wanted.
CREATE VIEW findable_build AS
SELECT t.id AS id, (t.id << 40) | (1 << 32) | t.id AS place, concat_ws(', ', nullif(t.title, ''), nullif(t.wants, '')) AS text,
       '' AS run
FROM build t;

CREATE TRIGGER build_is_found AFTER INSERT ON build
BEGIN
    INSERT INTO found (rowid, text) SELECT place, text FROM findable_build WHERE id = NEW.id;
    INSERT INTO found_run (rowid, run) SELECT place, run FROM findable_build WHERE id = NEW.id AND run <> '';
END;

CREATE TRIGGER build_is_found_anew AFTER UPDATE ON build
BEGIN
    DELETE FROM found WHERE rowid = (OLD.id << 40) | (1 << 32) | OLD.id;
    DELETE FROM found_run WHERE rowid = (OLD.id << 40) | (1 << 32) | OLD.id;
    INSERT INTO found (rowid, text) SELECT place, text FROM findable_build WHERE id = NEW.id;
    INSERT INTO found_run (rowid, run) SELECT place, run FROM findable_build WHERE id = NEW.id AND run <> '';
END;

-- People.
CREATE VIEW findable_person AS
SELECT t.id AS id, (2 << 32) | t.id AS place, concat_ws(', ', nullif(t.name, ''), nullif(t.phone, ''), nullif(t.email, ''), nullif(t.address, '')) AS text,
       replace(replace(replace(replace(replace(replace(replace(replace(replace(replace(replace(t.phone, ' ', ''), '-', ''), '.', ''), '/', ''), '(', ''), ')', ''), '+', ''), '_', ''), char(160), ''), '‑', ''), '–', '') AS run
FROM person t WHERE t.withdrawn IS NULL;

CREATE TRIGGER person_is_found AFTER INSERT ON person
BEGIN
    INSERT INTO found (rowid, text) SELECT place, text FROM findable_person WHERE id = NEW.id;
    INSERT INTO found_run (rowid, run) SELECT place, run FROM findable_person WHERE id = NEW.id AND run <> '';
END;

CREATE TRIGGER person_is_found_anew AFTER UPDATE ON person
BEGIN
    DELETE FROM found WHERE rowid = (2 << 32) | OLD.id;
    DELETE FROM found_run WHERE rowid = (2 << 32) | OLD.id;
    INSERT INTO found (rowid, text) SELECT place, text FROM findable_person WHERE id = NEW.id;
    INSERT INTO found_run (rowid, run) SELECT place, run FROM findable_person WHERE id = NEW.id AND run <> '';
END;

-- Things with a serial or a note; of which jobs, their fittings say.
CREATE VIEW findable_item AS
SELECT t.id AS id, (3 << 32) | t.id AS place, concat_ws(', ', nullif(t.serial, ''), nullif(t.note, '')) AS text,
       replace(replace(replace(replace(replace(replace(replace(replace(replace(replace(replace(t.serial, ' ', ''), '-', ''), '.', ''), '/', ''), '(', ''), ')', ''), '+', ''), '_', ''), char(160), ''), '‑', ''), '–', '') AS run
FROM item t WHERE (t.serial <> '' OR t.note <> '');

CREATE TRIGGER item_is_found AFTER INSERT ON item
BEGIN
    INSERT INTO found (rowid, text) SELECT place, text FROM findable_item WHERE id = NEW.id;
    INSERT INTO found_run (rowid, run) SELECT place, run FROM findable_item WHERE id = NEW.id AND run <> '';
END;

CREATE TRIGGER item_is_found_anew AFTER UPDATE ON item
BEGIN
    DELETE FROM found WHERE rowid = (3 << 32) | OLD.id;
    DELETE FROM found_run WHERE rowid = (3 << 32) | OLD.id;
    INSERT INTO found (rowid, text) SELECT place, text FROM findable_item WHERE id = NEW.id;
    INSERT INTO found_run (rowid, run) SELECT place, run FROM findable_item WHERE id = NEW.id AND run <> '';
END;

-- Parts.
CREATE VIEW findable_part AS
SELECT t.id AS id, (t.build << 40) | (5 << 32) | t.id AS place, concat_ws(', ', nullif(t.description, ''), nullif(t.maker, ''), nullif(t.part_number, ''), nullif(t.serial, ''), nullif(t.shelf, ''), nullif(t.note, '')) AS text,
       replace(replace(replace(replace(replace(replace(replace(replace(replace(replace(replace(concat_ws(char(10), nullif(t.part_number, ''), nullif(t.serial, '')), ' ', ''), '-', ''), '.', ''), '/', ''), '(', ''), ')', ''), '+', ''), '_', ''), char(160), ''), '‑', ''), '–', '') AS run
FROM part t WHERE t.withdrawn IS NULL;

CREATE TRIGGER part_is_found AFTER INSERT ON part
BEGIN
    INSERT INTO found (rowid, text) SELECT place, text FROM findable_part WHERE id = NEW.id;
    INSERT INTO found_run (rowid, run) SELECT place, run FROM findable_part WHERE id = NEW.id AND run <> '';
END;

CREATE TRIGGER part_is_found_anew AFTER UPDATE ON part
BEGIN
    DELETE FROM found WHERE rowid = (OLD.build << 40) | (5 << 32) | OLD.id;
    DELETE FROM found_run WHERE rowid = (OLD.build << 40) | (5 << 32) | OLD.id;
    INSERT INTO found (rowid, text) SELECT place, text FROM findable_part WHERE id = NEW.id;
    INSERT INTO found_run (rowid, run) SELECT place, run FROM findable_part WHERE id = NEW.id AND run <> '';
END;

-- Work sent out.
CREATE VIEW findable_sending AS
SELECT t.id AS id, (t.build << 40) | (6 << 32) | t.id AS place, concat_ws(', ', nullif(t.what, ''), nullif(t.words, '')) AS text,
       '' AS run
FROM sending t WHERE t.withdrawn IS NULL;

CREATE TRIGGER sending_is_found AFTER INSERT ON sending
BEGIN
    INSERT INTO found (rowid, text) SELECT place, text FROM findable_sending WHERE id = NEW.id;
    INSERT INTO found_run (rowid, run) SELECT place, run FROM findable_sending WHERE id = NEW.id AND run <> '';
END;

CREATE TRIGGER sending_is_found_anew AFTER UPDATE ON sending
BEGIN
    DELETE FROM found WHERE rowid = (OLD.build << 40) | (6 << 32) | OLD.id;
    DELETE FROM found_run WHERE rowid = (OLD.build << 40) | (6 << 32) | OLD.id;
    INSERT INTO found (rowid, text) SELECT place, text FROM findable_sending WHERE id = NEW.id;
    INSERT INTO found_run (rowid, run) SELECT place, run FROM findable_sending WHERE id = NEW.id AND run <> '';
END;

-- What became of parts: order numbers, why one was refused.
CREATE VIEW findable_part_move AS
SELECT t.id AS id, (p.build << 40) | (7 << 32) | t.id AS place, t.words AS text,
       replace(replace(replace(replace(replace(replace(replace(replace(replace(replace(replace(t.words, ' ', ''), '-', ''), '.', ''), '/', ''), '(', ''), ')', ''), '+', ''), '_', ''), char(160), ''), '‑', ''), '–', '') AS run
FROM part_move t JOIN part p ON p.id = t.part WHERE t.withdrawn IS NULL AND t.words <> '';

CREATE TRIGGER part_move_is_found AFTER INSERT ON part_move
BEGIN
    INSERT INTO found (rowid, text) SELECT place, text FROM findable_part_move WHERE id = NEW.id;
    INSERT INTO found_run (rowid, run) SELECT place, run FROM findable_part_move WHERE id = NEW.id AND run <> '';
END;

CREATE TRIGGER part_move_is_found_anew AFTER UPDATE ON part_move
BEGIN
    DELETE FROM found WHERE rowid = ((SELECT build FROM part WHERE id = OLD.part) << 40) | (7 << 32) | OLD.id;
    DELETE FROM found_run WHERE rowid = ((SELECT build FROM part WHERE id = OLD.part) << 40) | (7 << 32) | OLD.id;
    INSERT INTO found (rowid, text) SELECT place, text FROM findable_part_move WHERE id = NEW.id;
    INSERT INTO found_run (rowid, run) SELECT place, run FROM findable_part_move WHERE id = NEW.id AND run <> '';
END;

-- Why jobs wait, and waited.
CREATE VIEW findable_wait AS
SELECT t.id AS id, (t.build << 40) | (8 << 32) | t.id AS place, t.words AS text,
       '' AS run
FROM wait t WHERE t.words <> '';

CREATE TRIGGER wait_is_found AFTER INSERT ON wait
BEGIN
    INSERT INTO found (rowid, text) SELECT place, text FROM findable_wait WHERE id = NEW.id;
    INSERT INTO found_run (rowid, run) SELECT place, run FROM findable_wait WHERE id = NEW.id AND run <> '';
END;

CREATE TRIGGER wait_is_found_anew AFTER UPDATE ON wait
BEGIN
    DELETE FROM found WHERE rowid = (OLD.build << 40) | (8 << 32) | OLD.id;
    DELETE FROM found_run WHERE rowid = (OLD.build << 40) | (8 << 32) | OLD.id;
    INSERT INTO found (rowid, text) SELECT place, text FROM findable_wait WHERE id = NEW.id;
    INSERT INTO found_run (rowid, run) SELECT place, run FROM findable_wait WHERE id = NEW.id AND run <> '';
END;

-- How jobs ended.
CREATE VIEW findable_ending AS
SELECT t.id AS id, (t.build << 40) | (9 << 32) | t.id AS place, t.words AS text,
       '' AS run
FROM ending t WHERE t.withdrawn IS NULL AND t.words <> '';

CREATE TRIGGER ending_is_found AFTER INSERT ON ending
BEGIN
    INSERT INTO found (rowid, text) SELECT place, text FROM findable_ending WHERE id = NEW.id;
    INSERT INTO found_run (rowid, run) SELECT place, run FROM findable_ending WHERE id = NEW.id AND run <> '';
END;

CREATE TRIGGER ending_is_found_anew AFTER UPDATE ON ending
BEGIN
    DELETE FROM found WHERE rowid = (OLD.build << 40) | (9 << 32) | OLD.id;
    DELETE FROM found_run WHERE rowid = (OLD.build << 40) | (9 << 32) | OLD.id;
    INSERT INTO found (rowid, text) SELECT place, text FROM findable_ending WHERE id = NEW.id;
    INSERT INTO found_run (rowid, run) SELECT place, run FROM findable_ending WHERE id = NEW.id AND run <> '';
END;

-- Notes.
CREATE VIEW findable_note AS
SELECT t.id AS id, (t.build << 40) | (10 << 32) | t.id AS place, t.text AS text,
       '' AS run
FROM note t WHERE t.withdrawn IS NULL;

CREATE TRIGGER note_is_found AFTER INSERT ON note
BEGIN
    INSERT INTO found (rowid, text) SELECT place, text FROM findable_note WHERE id = NEW.id;
    INSERT INTO found_run (rowid, run) SELECT place, run FROM findable_note WHERE id = NEW.id AND run <> '';
END;

CREATE TRIGGER note_is_found_anew AFTER UPDATE ON note
BEGIN
    DELETE FROM found WHERE rowid = (OLD.build << 40) | (10 << 32) | OLD.id;
    DELETE FROM found_run WHERE rowid = (OLD.build << 40) | (10 << 32) | OLD.id;
    INSERT INTO found (rowid, text) SELECT place, text FROM findable_note WHERE id = NEW.id;
    INSERT INTO found_run (rowid, run) SELECT place, run FROM findable_note WHERE id = NEW.id AND run <> '';
END;

-- Files.
CREATE VIEW findable_attachment AS
SELECT t.id AS id, (t.build << 40) | (11 << 32) | t.id AS place, concat_ws(', ', nullif(t.name, ''), nullif(t.caption, '')) AS text,
       '' AS run
FROM attachment t WHERE t.withdrawn IS NULL;

CREATE TRIGGER attachment_is_found AFTER INSERT ON attachment
BEGIN
    INSERT INTO found (rowid, text) SELECT place, text FROM findable_attachment WHERE id = NEW.id;
    INSERT INTO found_run (rowid, run) SELECT place, run FROM findable_attachment WHERE id = NEW.id AND run <> '';
END;

CREATE TRIGGER attachment_is_found_anew AFTER UPDATE ON attachment
BEGIN
    DELETE FROM found WHERE rowid = (OLD.build << 40) | (11 << 32) | OLD.id;
    DELETE FROM found_run WHERE rowid = (OLD.build << 40) | (11 << 32) | OLD.id;
    INSERT INTO found (rowid, text) SELECT place, text FROM findable_attachment WHERE id = NEW.id;
    INSERT INTO found_run (rowid, run) SELECT place, run FROM findable_attachment WHERE id = NEW.id AND run <> '';
END;

-- Suppliers.
CREATE VIEW findable_supplier AS
SELECT t.id AS id, (12 << 32) | t.id AS place, concat_ws(', ', nullif(t.name, ''), nullif(t.phone, ''), nullif(t.email, ''), nullif(t.note, '')) AS text,
       replace(replace(replace(replace(replace(replace(replace(replace(replace(replace(replace(t.phone, ' ', ''), '-', ''), '.', ''), '/', ''), '(', ''), ')', ''), '+', ''), '_', ''), char(160), ''), '‑', ''), '–', '') AS run
FROM supplier t WHERE t.withdrawn IS NULL;

CREATE TRIGGER supplier_is_found AFTER INSERT ON supplier
BEGIN
    INSERT INTO found (rowid, text) SELECT place, text FROM findable_supplier WHERE id = NEW.id;
    INSERT INTO found_run (rowid, run) SELECT place, run FROM findable_supplier WHERE id = NEW.id AND run <> '';
END;

CREATE TRIGGER supplier_is_found_anew AFTER UPDATE ON supplier
BEGIN
    DELETE FROM found WHERE rowid = (12 << 32) | OLD.id;
    DELETE FROM found_run WHERE rowid = (12 << 32) | OLD.id;
    INSERT INTO found (rowid, text) SELECT place, text FROM findable_supplier WHERE id = NEW.id;
    INSERT INTO found_run (rowid, run) SELECT place, run FROM findable_supplier WHERE id = NEW.id AND run <> '';
END;

-- Engine families.
CREATE VIEW findable_family AS
SELECT t.id AS id, (13 << 32) | t.id AS place, concat_ws(', ', nullif(t.name, ''), nullif(t.note, '')) AS text,
       '' AS run
FROM family t WHERE t.withdrawn IS NULL;

CREATE TRIGGER family_is_found AFTER INSERT ON family
BEGIN
    INSERT INTO found (rowid, text) SELECT place, text FROM findable_family WHERE id = NEW.id;
    INSERT INTO found_run (rowid, run) SELECT place, run FROM findable_family WHERE id = NEW.id AND run <> '';
END;

CREATE TRIGGER family_is_found_anew AFTER UPDATE ON family
BEGIN
    DELETE FROM found WHERE rowid = (13 << 32) | OLD.id;
    DELETE FROM found_run WHERE rowid = (13 << 32) | OLD.id;
    INSERT INTO found (rowid, text) SELECT place, text FROM findable_family WHERE id = NEW.id;
    INSERT INTO found_run (rowid, run) SELECT place, run FROM findable_family WHERE id = NEW.id AND run <> '';
END;

-- What is known of a job in words: one entry for all of it.
CREATE VIEW findable_fact AS
SELECT t.build AS id, (t.build << 40) | (4 << 32) | t.build AS place, group_concat(t.text, ', ') AS text,
       replace(replace(replace(replace(replace(replace(replace(replace(replace(replace(replace(group_concat(t.text, char(10)), ' ', ''), '-', ''), '.', ''), '/', ''), '(', ''), ')', ''), '+', ''), '_', ''), char(160), ''), '‑', ''), '–', '') AS run
FROM fact t WHERE t.text <> '' GROUP BY t.build;

CREATE TRIGGER fact_is_found AFTER INSERT ON fact
BEGIN
    DELETE FROM found WHERE rowid = (NEW.build << 40) | (4 << 32) | NEW.build;
    DELETE FROM found_run WHERE rowid = (NEW.build << 40) | (4 << 32) | NEW.build;
    INSERT INTO found (rowid, text) SELECT place, text FROM findable_fact WHERE id = NEW.build;
    INSERT INTO found_run (rowid, run) SELECT place, run FROM findable_fact WHERE id = NEW.build AND run <> '';
END;

CREATE TRIGGER fact_is_found_anew AFTER UPDATE ON fact
BEGIN
    DELETE FROM found WHERE rowid = (NEW.build << 40) | (4 << 32) | NEW.build;
    DELETE FROM found_run WHERE rowid = (NEW.build << 40) | (4 << 32) | NEW.build;
    INSERT INTO found (rowid, text) SELECT place, text FROM findable_fact WHERE id = NEW.build;
    INSERT INTO found_run (rowid, run) SELECT place, run FROM findable_fact WHERE id = NEW.build AND run <> '';
END;

CREATE INDEX build_by_customer ON build (customer);

-- What stands already.
INSERT INTO found (rowid, text) SELECT place, text FROM findable_build;
INSERT INTO found_run (rowid, run) SELECT place, run FROM findable_build WHERE run <> '';
INSERT INTO found (rowid, text) SELECT place, text FROM findable_person;
INSERT INTO found_run (rowid, run) SELECT place, run FROM findable_person WHERE run <> '';
INSERT INTO found (rowid, text) SELECT place, text FROM findable_item;
INSERT INTO found_run (rowid, run) SELECT place, run FROM findable_item WHERE run <> '';
INSERT INTO found (rowid, text) SELECT place, text FROM findable_part;
INSERT INTO found_run (rowid, run) SELECT place, run FROM findable_part WHERE run <> '';
INSERT INTO found (rowid, text) SELECT place, text FROM findable_sending;
INSERT INTO found_run (rowid, run) SELECT place, run FROM findable_sending WHERE run <> '';
INSERT INTO found (rowid, text) SELECT place, text FROM findable_part_move;
INSERT INTO found_run (rowid, run) SELECT place, run FROM findable_part_move WHERE run <> '';
INSERT INTO found (rowid, text) SELECT place, text FROM findable_wait;
INSERT INTO found_run (rowid, run) SELECT place, run FROM findable_wait WHERE run <> '';
INSERT INTO found (rowid, text) SELECT place, text FROM findable_ending;
INSERT INTO found_run (rowid, run) SELECT place, run FROM findable_ending WHERE run <> '';
INSERT INTO found (rowid, text) SELECT place, text FROM findable_note;
INSERT INTO found_run (rowid, run) SELECT place, run FROM findable_note WHERE run <> '';
INSERT INTO found (rowid, text) SELECT place, text FROM findable_attachment;
INSERT INTO found_run (rowid, run) SELECT place, run FROM findable_attachment WHERE run <> '';
INSERT INTO found (rowid, text) SELECT place, text FROM findable_supplier;
INSERT INTO found_run (rowid, run) SELECT place, run FROM findable_supplier WHERE run <> '';
INSERT INTO found (rowid, text) SELECT place, text FROM findable_family;
INSERT INTO found_run (rowid, run) SELECT place, run FROM findable_family WHERE run <> '';
INSERT INTO found (rowid, text) SELECT place, text FROM findable_fact;
INSERT INTO found_run (rowid, run) SELECT place, run FROM findable_fact WHERE run <> '';

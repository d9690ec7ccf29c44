-- Rules of the record. A kept row names the newest act when it is written and when it is changed; what it was before and
-- after a change stands in history; nothing is deleted.

CREATE TRIGGER act_is_never_deleted BEFORE DELETE ON act
BEGIN SELECT RAISE(ABORT, 'act: nothing is deleted, things are withdrawn'); END;

CREATE TRIGGER act_is_never_changed BEFORE UPDATE ON act
BEGIN SELECT RAISE(ABORT, 'act: written once'); END;

CREATE TRIGGER history_is_never_deleted BEFORE DELETE ON history
BEGIN SELECT RAISE(ABORT, 'history: nothing is deleted, things are withdrawn'); END;

CREATE TRIGGER history_is_never_changed BEFORE UPDATE ON history
BEGIN SELECT RAISE(ABORT, 'history: written once'); END;

CREATE TRIGGER person_is_never_deleted BEFORE DELETE ON person
BEGIN SELECT RAISE(ABORT, 'person: nothing is deleted, things are withdrawn'); END;

CREATE TRIGGER person_names_its_act BEFORE INSERT ON person
WHEN NEW.made IS NOT (SELECT max(id) FROM act)
BEGIN SELECT RAISE(ABORT, 'person: a new row names the newest act'); END;

CREATE TRIGGER person_changes_by_an_act BEFORE UPDATE ON person
WHEN NEW.act IS NOT (SELECT max(id) FROM act)
BEGIN SELECT RAISE(ABORT, 'person: a change names the newest act'); END;

CREATE TRIGGER person_keeps_its_past AFTER UPDATE ON person
BEGIN
    INSERT INTO history (act, table_name, row, before, after)
    VALUES (NEW.act, 'person', OLD.id,
        NULL,
        NULL);
END;

CREATE TRIGGER setting_is_never_deleted BEFORE DELETE ON setting
BEGIN SELECT RAISE(ABORT, 'setting: nothing is deleted, things are withdrawn'); END;

CREATE TRIGGER setting_names_its_act BEFORE INSERT ON setting
WHEN NEW.made IS NOT (SELECT max(id) FROM act)
BEGIN SELECT RAISE(ABORT, 'setting: a new row names the newest act'); END;

CREATE TRIGGER setting_changes_by_an_act BEFORE UPDATE ON setting
WHEN NEW.act IS NOT (SELECT max(id) FROM act)
BEGIN SELECT RAISE(ABORT, 'setting: a change names the newest act'); END;

CREATE TRIGGER setting_keeps_its_past AFTER UPDATE ON setting
BEGIN
    INSERT INTO history (act, table_name, row, before, after)
    VALUES (NEW.act, 'setting', OLD.key,
        json_object('key', OLD.key, 'value', OLD.value, 'made', OLD.made, 'act', OLD.act),
        json_object('key', NEW.key, 'value', NEW.value, 'made', NEW.made, 'act', NEW.act));
END;

CREATE TRIGGER family_is_never_deleted BEFORE DELETE ON family
BEGIN SELECT RAISE(ABORT, 'family: nothing is deleted, things are withdrawn'); END;

CREATE TRIGGER family_names_its_act BEFORE INSERT ON family
WHEN NEW.made IS NOT (SELECT max(id) FROM act)
BEGIN SELECT RAISE(ABORT, 'family: a new row names the newest act'); END;

CREATE TRIGGER family_changes_by_an_act BEFORE UPDATE ON family
WHEN NEW.act IS NOT (SELECT max(id) FROM act)
BEGIN SELECT RAISE(ABORT, 'family: a change names the newest act'); END;

CREATE TRIGGER family_keeps_its_past AFTER UPDATE ON family
BEGIN
    INSERT INTO history (act, table_name, row, before, after)
    VALUES (NEW.act, 'family', OLD.id,
        json_object('id', OLD.id, 'public_id', OLD.public_id, 'name', OLD.name, 'note', OLD.note, 'architecture', OLD.architecture, 'block_material', OLD.block_material, 'head_material', OLD.head_material, 'unit', OLD.unit, 'made', OLD.made, 'act', OLD.act, 'withdrawn', OLD.withdrawn),
        json_object('id', NEW.id, 'public_id', NEW.public_id, 'name', NEW.name, 'note', NEW.note, 'architecture', NEW.architecture, 'block_material', NEW.block_material, 'head_material', NEW.head_material, 'unit', NEW.unit, 'made', NEW.made, 'act', NEW.act, 'withdrawn', NEW.withdrawn));
END;

CREATE TRIGGER family_target_is_never_deleted BEFORE DELETE ON family_target
BEGIN SELECT RAISE(ABORT, 'family_target: nothing is deleted, things are withdrawn'); END;

CREATE TRIGGER family_target_names_its_act BEFORE INSERT ON family_target
WHEN NEW.made IS NOT (SELECT max(id) FROM act)
BEGIN SELECT RAISE(ABORT, 'family_target: a new row names the newest act'); END;

CREATE TRIGGER family_target_changes_by_an_act BEFORE UPDATE ON family_target
WHEN NEW.act IS NOT (SELECT max(id) FROM act)
BEGIN SELECT RAISE(ABORT, 'family_target: a change names the newest act'); END;

CREATE TRIGGER family_target_keeps_its_past AFTER UPDATE ON family_target
BEGIN
    INSERT INTO history (act, table_name, row, before, after)
    VALUES (NEW.act, 'family_target', OLD.family || '/' || OLD.feature || '/' || OLD.place,
        json_object('family', OLD.family, 'feature', OLD.feature, 'place', OLD.place, 'si', OLD.si, 'typed', OLD.typed, 'made', OLD.made, 'act', OLD.act),
        json_object('family', NEW.family, 'feature', NEW.feature, 'place', NEW.place, 'si', NEW.si, 'typed', NEW.typed, 'made', NEW.made, 'act', NEW.act));
END;

CREATE TRIGGER family_limit_is_never_deleted BEFORE DELETE ON family_limit
BEGIN SELECT RAISE(ABORT, 'family_limit: nothing is deleted, things are withdrawn'); END;

CREATE TRIGGER family_limit_names_its_act BEFORE INSERT ON family_limit
WHEN NEW.made IS NOT (SELECT max(id) FROM act)
BEGIN SELECT RAISE(ABORT, 'family_limit: a new row names the newest act'); END;

CREATE TRIGGER family_limit_is_never_changed BEFORE UPDATE ON family_limit
BEGIN SELECT RAISE(ABORT, 'family_limit: written once'); END;

CREATE TRIGGER family_step_is_never_deleted BEFORE DELETE ON family_step
BEGIN SELECT RAISE(ABORT, 'family_step: nothing is deleted, things are withdrawn'); END;

CREATE TRIGGER family_step_names_its_act BEFORE INSERT ON family_step
WHEN NEW.made IS NOT (SELECT max(id) FROM act)
BEGIN SELECT RAISE(ABORT, 'family_step: a new row names the newest act'); END;

CREATE TRIGGER family_step_is_never_changed BEFORE UPDATE ON family_step
BEGIN SELECT RAISE(ABORT, 'family_step: written once'); END;

CREATE TRIGGER engine_is_never_deleted BEFORE DELETE ON engine
BEGIN SELECT RAISE(ABORT, 'engine: nothing is deleted, things are withdrawn'); END;

CREATE TRIGGER engine_names_its_act BEFORE INSERT ON engine
WHEN NEW.made IS NOT (SELECT max(id) FROM act)
BEGIN SELECT RAISE(ABORT, 'engine: a new row names the newest act'); END;

CREATE TRIGGER engine_changes_by_an_act BEFORE UPDATE ON engine
WHEN NEW.act IS NOT (SELECT max(id) FROM act)
BEGIN SELECT RAISE(ABORT, 'engine: a change names the newest act'); END;

CREATE TRIGGER engine_keeps_its_past AFTER UPDATE ON engine
BEGIN
    INSERT INTO history (act, table_name, row, before, after)
    VALUES (NEW.act, 'engine', OLD.id,
        json_object('id', OLD.id, 'public_id', OLD.public_id, 'family', OLD.family, 'architecture', OLD.architecture, 'block_material', OLD.block_material, 'head_material', OLD.head_material, 'made', OLD.made, 'act', OLD.act),
        json_object('id', NEW.id, 'public_id', NEW.public_id, 'family', NEW.family, 'architecture', NEW.architecture, 'block_material', NEW.block_material, 'head_material', NEW.head_material, 'made', NEW.made, 'act', NEW.act));
END;

CREATE TRIGGER build_is_never_deleted BEFORE DELETE ON build
BEGIN SELECT RAISE(ABORT, 'build: nothing is deleted, things are withdrawn'); END;

CREATE TRIGGER build_names_its_act BEFORE INSERT ON build
WHEN NEW.made IS NOT (SELECT max(id) FROM act)
BEGIN SELECT RAISE(ABORT, 'build: a new row names the newest act'); END;

CREATE TRIGGER build_changes_by_an_act BEFORE UPDATE ON build
WHEN NEW.act IS NOT (SELECT max(id) FROM act)
BEGIN SELECT RAISE(ABORT, 'build: a change names the newest act'); END;

CREATE TRIGGER build_keeps_its_past AFTER UPDATE ON build
BEGIN
    INSERT INTO history (act, table_name, row, before, after)
    VALUES (NEW.act, 'build', OLD.id,
        json_object('id', OLD.id, 'public_id', OLD.public_id, 'engine', OLD.engine, 'customer', OLD.customer, 'kind', OLD.kind, 'title', OLD.title, 'wants', OLD.wants, 'unit', OLD.unit, 'rule', OLD.rule, 'made', OLD.made, 'act', OLD.act, 'closed', OLD.closed),
        json_object('id', NEW.id, 'public_id', NEW.public_id, 'engine', NEW.engine, 'customer', NEW.customer, 'kind', NEW.kind, 'title', NEW.title, 'wants', NEW.wants, 'unit', NEW.unit, 'rule', NEW.rule, 'made', NEW.made, 'act', NEW.act, 'closed', NEW.closed));
END;

CREATE TRIGGER item_is_never_deleted BEFORE DELETE ON item
BEGIN SELECT RAISE(ABORT, 'item: nothing is deleted, things are withdrawn'); END;

CREATE TRIGGER item_names_its_act BEFORE INSERT ON item
WHEN NEW.made IS NOT (SELECT max(id) FROM act)
BEGIN SELECT RAISE(ABORT, 'item: a new row names the newest act'); END;

CREATE TRIGGER item_changes_by_an_act BEFORE UPDATE ON item
WHEN NEW.act IS NOT (SELECT max(id) FROM act)
BEGIN SELECT RAISE(ABORT, 'item: a change names the newest act'); END;

CREATE TRIGGER item_keeps_its_past AFTER UPDATE ON item
BEGIN
    INSERT INTO history (act, table_name, row, before, after)
    VALUES (NEW.act, 'item', OLD.id,
        json_object('id', OLD.id, 'public_id', OLD.public_id, 'kind', OLD.kind, 'serial', OLD.serial, 'note', OLD.note, 'made', OLD.made, 'act', OLD.act),
        json_object('id', NEW.id, 'public_id', NEW.public_id, 'kind', NEW.kind, 'serial', NEW.serial, 'note', NEW.note, 'made', NEW.made, 'act', NEW.act));
END;

CREATE TRIGGER fitting_is_never_deleted BEFORE DELETE ON fitting
BEGIN SELECT RAISE(ABORT, 'fitting: nothing is deleted, things are withdrawn'); END;

CREATE TRIGGER fitting_names_its_act BEFORE INSERT ON fitting
WHEN NEW.made IS NOT (SELECT max(id) FROM act)
BEGIN SELECT RAISE(ABORT, 'fitting: a new row names the newest act'); END;

CREATE TRIGGER fitting_changes_by_an_act BEFORE UPDATE ON fitting
WHEN NEW.act IS NOT (SELECT max(id) FROM act)
BEGIN SELECT RAISE(ABORT, 'fitting: a change names the newest act'); END;

CREATE TRIGGER fitting_keeps_its_past AFTER UPDATE ON fitting
BEGIN
    INSERT INTO history (act, table_name, row, before, after)
    VALUES (NEW.act, 'fitting', OLD.id,
        json_object('id', OLD.id, 'item', OLD.item, 'engine', OLD.engine, 'place', OLD.place, 'made', OLD.made, 'act', OLD.act, 'taken_out', OLD.taken_out),
        json_object('id', NEW.id, 'item', NEW.item, 'engine', NEW.engine, 'place', NEW.place, 'made', NEW.made, 'act', NEW.act, 'taken_out', NEW.taken_out));
END;

CREATE TRIGGER target_is_never_deleted BEFORE DELETE ON target
BEGIN SELECT RAISE(ABORT, 'target: nothing is deleted, things are withdrawn'); END;

CREATE TRIGGER target_names_its_act BEFORE INSERT ON target
WHEN NEW.made IS NOT (SELECT max(id) FROM act)
BEGIN SELECT RAISE(ABORT, 'target: a new row names the newest act'); END;

CREATE TRIGGER target_changes_by_an_act BEFORE UPDATE ON target
WHEN NEW.act IS NOT (SELECT max(id) FROM act)
BEGIN SELECT RAISE(ABORT, 'target: a change names the newest act'); END;

CREATE TRIGGER target_keeps_its_past AFTER UPDATE ON target
BEGIN
    INSERT INTO history (act, table_name, row, before, after)
    VALUES (NEW.act, 'target', OLD.build || '/' || OLD.feature || '/' || OLD.place,
        json_object('build', OLD.build, 'feature', OLD.feature, 'place', OLD.place, 'si', OLD.si, 'typed', OLD.typed, 'made', OLD.made, 'act', OLD.act),
        json_object('build', NEW.build, 'feature', NEW.feature, 'place', NEW.place, 'si', NEW.si, 'typed', NEW.typed, 'made', NEW.made, 'act', NEW.act));
END;

CREATE TRIGGER limit_on_finding_is_never_deleted BEFORE DELETE ON limit_on_finding
BEGIN SELECT RAISE(ABORT, 'limit_on_finding: nothing is deleted, things are withdrawn'); END;

CREATE TRIGGER limit_on_finding_names_its_act BEFORE INSERT ON limit_on_finding
WHEN NEW.made IS NOT (SELECT max(id) FROM act)
BEGIN SELECT RAISE(ABORT, 'limit_on_finding: a new row names the newest act'); END;

CREATE TRIGGER limit_on_finding_is_never_changed BEFORE UPDATE ON limit_on_finding
BEGIN SELECT RAISE(ABORT, 'limit_on_finding: written once'); END;

CREATE TRIGGER step_is_never_deleted BEFORE DELETE ON step
BEGIN SELECT RAISE(ABORT, 'step: nothing is deleted, things are withdrawn'); END;

CREATE TRIGGER step_names_its_act BEFORE INSERT ON step
WHEN NEW.made IS NOT (SELECT max(id) FROM act)
BEGIN SELECT RAISE(ABORT, 'step: a new row names the newest act'); END;

CREATE TRIGGER step_changes_by_an_act BEFORE UPDATE ON step
WHEN NEW.act IS NOT (SELECT max(id) FROM act)
BEGIN SELECT RAISE(ABORT, 'step: a change names the newest act'); END;

CREATE TRIGGER step_keeps_its_past AFTER UPDATE ON step
BEGIN
    INSERT INTO history (act, table_name, row, before, after)
    VALUES (NEW.act, 'step', OLD.id,
        json_object('id', OLD.id, 'build', OLD.build, 'key', OLD.key, 'title', OLD.title, 'purpose', OLD.purpose, 'caution', OLD.caution, 'position', OLD.position, 'state', OLD.state, 'by_whom', OLD.by_whom, 'made', OLD.made, 'act', OLD.act),
        json_object('id', NEW.id, 'build', NEW.build, 'key', NEW.key, 'title', NEW.title, 'purpose', NEW.purpose, 'caution', NEW.caution, 'position', NEW.position, 'state', NEW.state, 'by_whom', NEW.by_whom, 'made', NEW.made, 'act', NEW.act));
END;

CREATE TRIGGER step_after_is_never_deleted BEFORE DELETE ON step_after
BEGIN SELECT RAISE(ABORT, 'step_after: nothing is deleted, things are withdrawn'); END;

CREATE TRIGGER step_after_names_its_act BEFORE INSERT ON step_after
WHEN NEW.made IS NOT (SELECT max(id) FROM act)
BEGIN SELECT RAISE(ABORT, 'step_after: a new row names the newest act'); END;

CREATE TRIGGER step_after_is_never_changed BEFORE UPDATE ON step_after
BEGIN SELECT RAISE(ABORT, 'step_after: written once'); END;

CREATE TRIGGER step_sheet_is_never_deleted BEFORE DELETE ON step_sheet
BEGIN SELECT RAISE(ABORT, 'step_sheet: nothing is deleted, things are withdrawn'); END;

CREATE TRIGGER step_sheet_names_its_act BEFORE INSERT ON step_sheet
WHEN NEW.made IS NOT (SELECT max(id) FROM act)
BEGIN SELECT RAISE(ABORT, 'step_sheet: a new row names the newest act'); END;

CREATE TRIGGER step_sheet_is_never_changed BEFORE UPDATE ON step_sheet
BEGIN SELECT RAISE(ABORT, 'step_sheet: written once'); END;

CREATE TRIGGER round_is_never_deleted BEFORE DELETE ON round
BEGIN SELECT RAISE(ABORT, 'round: nothing is deleted, things are withdrawn'); END;

CREATE TRIGGER round_names_its_act BEFORE INSERT ON round
WHEN NEW.made IS NOT (SELECT max(id) FROM act)
BEGIN SELECT RAISE(ABORT, 'round: a new row names the newest act'); END;

CREATE TRIGGER round_changes_by_an_act BEFORE UPDATE ON round
WHEN NEW.act IS NOT (SELECT max(id) FROM act)
BEGIN SELECT RAISE(ABORT, 'round: a change names the newest act'); END;

CREATE TRIGGER round_keeps_its_past AFTER UPDATE ON round
BEGIN
    INSERT INTO history (act, table_name, row, before, after)
    VALUES (NEW.act, 'round', OLD.id,
        json_object('id', OLD.id, 'build', OLD.build, 'sheet', OLD.sheet, 'kind', OLD.kind, 'number', OLD.number, 'condition', OLD.condition, 'temperature_c', OLD.temperature_c, 'counts', OLD.counts, 'made', OLD.made, 'act', OLD.act),
        json_object('id', NEW.id, 'build', NEW.build, 'sheet', NEW.sheet, 'kind', NEW.kind, 'number', NEW.number, 'condition', NEW.condition, 'temperature_c', NEW.temperature_c, 'counts', NEW.counts, 'made', NEW.made, 'act', NEW.act));
END;

CREATE TRIGGER gauge_is_never_deleted BEFORE DELETE ON gauge
BEGIN SELECT RAISE(ABORT, 'gauge: nothing is deleted, things are withdrawn'); END;

CREATE TRIGGER gauge_names_its_act BEFORE INSERT ON gauge
WHEN NEW.made IS NOT (SELECT max(id) FROM act)
BEGIN SELECT RAISE(ABORT, 'gauge: a new row names the newest act'); END;

CREATE TRIGGER gauge_changes_by_an_act BEFORE UPDATE ON gauge
WHEN NEW.act IS NOT (SELECT max(id) FROM act)
BEGIN SELECT RAISE(ABORT, 'gauge: a change names the newest act'); END;

CREATE TRIGGER gauge_keeps_its_past AFTER UPDATE ON gauge
BEGIN
    INSERT INTO history (act, table_name, row, before, after)
    VALUES (NEW.act, 'gauge', OLD.id,
        json_object('id', OLD.id, 'public_id', OLD.public_id, 'kind', OLD.kind, 'name', OLD.name, 'serial', OLD.serial, 'step_unit', OLD.step_unit, 'made', OLD.made, 'act', OLD.act, 'withdrawn', OLD.withdrawn),
        json_object('id', NEW.id, 'public_id', NEW.public_id, 'kind', NEW.kind, 'name', NEW.name, 'serial', NEW.serial, 'step_unit', NEW.step_unit, 'made', NEW.made, 'act', NEW.act, 'withdrawn', NEW.withdrawn));
END;

CREATE TRIGGER gauge_setting_is_never_deleted BEFORE DELETE ON gauge_setting
BEGIN SELECT RAISE(ABORT, 'gauge_setting: nothing is deleted, things are withdrawn'); END;

CREATE TRIGGER gauge_setting_names_its_act BEFORE INSERT ON gauge_setting
WHEN NEW.made IS NOT (SELECT max(id) FROM act)
BEGIN SELECT RAISE(ABORT, 'gauge_setting: a new row names the newest act'); END;

CREATE TRIGGER gauge_setting_is_never_changed BEFORE UPDATE ON gauge_setting
BEGIN SELECT RAISE(ABORT, 'gauge_setting: written once'); END;

CREATE TRIGGER reading_is_never_deleted BEFORE DELETE ON reading
BEGIN SELECT RAISE(ABORT, 'reading: nothing is deleted, things are withdrawn'); END;

CREATE TRIGGER reading_names_its_act BEFORE INSERT ON reading
WHEN NEW.made IS NOT (SELECT max(id) FROM act)
BEGIN SELECT RAISE(ABORT, 'reading: a new row names the newest act'); END;

CREATE TRIGGER reading_changes_by_an_act BEFORE UPDATE ON reading
WHEN NEW.act IS NOT (SELECT max(id) FROM act)
BEGIN SELECT RAISE(ABORT, 'reading: a change names the newest act'); END;

CREATE TRIGGER reading_keeps_its_past AFTER UPDATE ON reading
BEGIN
    INSERT INTO history (act, table_name, row, before, after)
    VALUES (NEW.act, 'reading', OLD.build || '/' || OLD.number,
        json_object('build', OLD.build, 'number', OLD.number, 'item', OLD.item, 'sheet', OLD.sheet, 'slot', OLD.slot, 'round', OLD.round, 'take', OLD.take, 'kind', OLD.kind, 'si', OLD.si, 'si_high', OLD.si_high, 'words', OLD.words, 'typed', OLD.typed, 'unit', OLD.unit, 'resolution', OLD.resolution, 'gauge', OLD.gauge, 'gauge_setting', OLD.gauge_setting, 'saw', OLD.saw, 'corrects', OLD.corrects, 'why', OLD.why, 'as_read', OLD.as_read, 'moved_from', OLD.moved_from, 'moved_to', OLD.moved_to, 'state', OLD.state, 'made', OLD.made, 'act', OLD.act),
        json_object('build', NEW.build, 'number', NEW.number, 'item', NEW.item, 'sheet', NEW.sheet, 'slot', NEW.slot, 'round', NEW.round, 'take', NEW.take, 'kind', NEW.kind, 'si', NEW.si, 'si_high', NEW.si_high, 'words', NEW.words, 'typed', NEW.typed, 'unit', NEW.unit, 'resolution', NEW.resolution, 'gauge', NEW.gauge, 'gauge_setting', NEW.gauge_setting, 'saw', NEW.saw, 'corrects', NEW.corrects, 'why', NEW.why, 'as_read', NEW.as_read, 'moved_from', NEW.moved_from, 'moved_to', NEW.moved_to, 'state', NEW.state, 'made', NEW.made, 'act', NEW.act));
END;

CREATE TRIGGER reading_keeps_what_was_read BEFORE UPDATE OF build, number, item, sheet, slot, round, take, kind, si, si_high, words, typed, unit, resolution, gauge, gauge_setting, saw, corrects, why, as_read, moved_from, made ON reading
BEGIN SELECT RAISE(ABORT, 'reading: what was read is never overwritten'); END;

CREATE TRIGGER note_is_never_deleted BEFORE DELETE ON note
BEGIN SELECT RAISE(ABORT, 'note: nothing is deleted, things are withdrawn'); END;

CREATE TRIGGER note_names_its_act BEFORE INSERT ON note
WHEN NEW.made IS NOT (SELECT max(id) FROM act)
BEGIN SELECT RAISE(ABORT, 'note: a new row names the newest act'); END;

CREATE TRIGGER note_changes_by_an_act BEFORE UPDATE ON note
WHEN NEW.act IS NOT (SELECT max(id) FROM act)
BEGIN SELECT RAISE(ABORT, 'note: a change names the newest act'); END;

CREATE TRIGGER note_keeps_its_past AFTER UPDATE ON note
BEGIN
    INSERT INTO history (act, table_name, row, before, after)
    VALUES (NEW.act, 'note', OLD.id,
        json_object('id', OLD.id, 'build', OLD.build, 'step', OLD.step, 'text', OLD.text, 'made', OLD.made, 'act', OLD.act, 'withdrawn', OLD.withdrawn),
        json_object('id', NEW.id, 'build', NEW.build, 'step', NEW.step, 'text', NEW.text, 'made', NEW.made, 'act', NEW.act, 'withdrawn', NEW.withdrawn));
END;

CREATE TRIGGER file_is_never_deleted BEFORE DELETE ON file
BEGIN SELECT RAISE(ABORT, 'file: nothing is deleted, things are withdrawn'); END;

CREATE TRIGGER file_names_its_act BEFORE INSERT ON file
WHEN NEW.made IS NOT (SELECT max(id) FROM act)
BEGIN SELECT RAISE(ABORT, 'file: a new row names the newest act'); END;

CREATE TRIGGER file_is_never_changed BEFORE UPDATE ON file
BEGIN SELECT RAISE(ABORT, 'file: written once'); END;

CREATE TRIGGER attachment_is_never_deleted BEFORE DELETE ON attachment
BEGIN SELECT RAISE(ABORT, 'attachment: nothing is deleted, things are withdrawn'); END;

CREATE TRIGGER attachment_names_its_act BEFORE INSERT ON attachment
WHEN NEW.made IS NOT (SELECT max(id) FROM act)
BEGIN SELECT RAISE(ABORT, 'attachment: a new row names the newest act'); END;

CREATE TRIGGER attachment_changes_by_an_act BEFORE UPDATE ON attachment
WHEN NEW.act IS NOT (SELECT max(id) FROM act)
BEGIN SELECT RAISE(ABORT, 'attachment: a change names the newest act'); END;

CREATE TRIGGER attachment_keeps_its_past AFTER UPDATE ON attachment
BEGIN
    INSERT INTO history (act, table_name, row, before, after)
    VALUES (NEW.act, 'attachment', OLD.id,
        json_object('id', OLD.id, 'build', OLD.build, 'step', OLD.step, 'file', OLD.file, 'name', OLD.name, 'caption', OLD.caption, 'made', OLD.made, 'act', OLD.act, 'withdrawn', OLD.withdrawn),
        json_object('id', NEW.id, 'build', NEW.build, 'step', NEW.step, 'file', NEW.file, 'name', NEW.name, 'caption', NEW.caption, 'made', NEW.made, 'act', NEW.act, 'withdrawn', NEW.withdrawn));
END;

CREATE TRIGGER stop_mark_is_never_deleted BEFORE DELETE ON stop_mark
BEGIN SELECT RAISE(ABORT, 'stop_mark: nothing is deleted, things are withdrawn'); END;

CREATE TRIGGER stop_mark_names_its_act BEFORE INSERT ON stop_mark
WHEN NEW.made IS NOT (SELECT max(id) FROM act)
BEGIN SELECT RAISE(ABORT, 'stop_mark: a new row names the newest act'); END;

CREATE TRIGGER stop_mark_changes_by_an_act BEFORE UPDATE ON stop_mark
WHEN NEW.act IS NOT (SELECT max(id) FROM act)
BEGIN SELECT RAISE(ABORT, 'stop_mark: a change names the newest act'); END;

CREATE TRIGGER stop_mark_keeps_its_past AFTER UPDATE ON stop_mark
BEGIN
    INSERT INTO history (act, table_name, row, before, after)
    VALUES (NEW.act, 'stop_mark', OLD.id,
        json_object('id', OLD.id, 'build', OLD.build, 'step', OLD.step, 'stopped_at', OLD.stopped_at, 'made', OLD.made, 'act', OLD.act, 'resumed', OLD.resumed),
        json_object('id', NEW.id, 'build', NEW.build, 'step', NEW.step, 'stopped_at', NEW.stopped_at, 'made', NEW.made, 'act', NEW.act, 'resumed', NEW.resumed));
END;

CREATE TRIGGER sign_off_is_never_deleted BEFORE DELETE ON sign_off
BEGIN SELECT RAISE(ABORT, 'sign_off: nothing is deleted, things are withdrawn'); END;

CREATE TRIGGER sign_off_names_its_act BEFORE INSERT ON sign_off
WHEN NEW.made IS NOT (SELECT max(id) FROM act)
BEGIN SELECT RAISE(ABORT, 'sign_off: a new row names the newest act'); END;

CREATE TRIGGER sign_off_changes_by_an_act BEFORE UPDATE ON sign_off
WHEN NEW.act IS NOT (SELECT max(id) FROM act)
BEGIN SELECT RAISE(ABORT, 'sign_off: a change names the newest act'); END;

CREATE TRIGGER sign_off_keeps_its_past AFTER UPDATE ON sign_off
BEGIN
    INSERT INTO history (act, table_name, row, before, after)
    VALUES (NEW.act, 'sign_off', OLD.id,
        json_object('id', OLD.id, 'build', OLD.build, 'step', OLD.step, 'person', OLD.person, 'seen', OLD.seen, 'made', OLD.made, 'act', OLD.act, 'reopened', OLD.reopened, 'why', OLD.why),
        json_object('id', NEW.id, 'build', NEW.build, 'step', NEW.step, 'person', NEW.person, 'seen', NEW.seen, 'made', NEW.made, 'act', NEW.act, 'reopened', NEW.reopened, 'why', NEW.why));
END;

CREATE TRIGGER acceptance_is_never_deleted BEFORE DELETE ON acceptance
BEGIN SELECT RAISE(ABORT, 'acceptance: nothing is deleted, things are withdrawn'); END;

CREATE TRIGGER acceptance_names_its_act BEFORE INSERT ON acceptance
WHEN NEW.made IS NOT (SELECT max(id) FROM act)
BEGIN SELECT RAISE(ABORT, 'acceptance: a new row names the newest act'); END;

CREATE TRIGGER acceptance_changes_by_an_act BEFORE UPDATE ON acceptance
WHEN NEW.act IS NOT (SELECT max(id) FROM act)
BEGIN SELECT RAISE(ABORT, 'acceptance: a change names the newest act'); END;

CREATE TRIGGER acceptance_keeps_its_past AFTER UPDATE ON acceptance
BEGIN
    INSERT INTO history (act, table_name, row, before, after)
    VALUES (NEW.act, 'acceptance', OLD.id,
        json_object('id', OLD.id, 'build', OLD.build, 'finding', OLD.finding, 'person', OLD.person, 'because', OLD.because, 'for_owner', OLD.for_owner, 'seen', OLD.seen, 'made', OLD.made, 'act', OLD.act, 'withdrawn', OLD.withdrawn),
        json_object('id', NEW.id, 'build', NEW.build, 'finding', NEW.finding, 'person', NEW.person, 'because', NEW.because, 'for_owner', NEW.for_owner, 'seen', NEW.seen, 'made', NEW.made, 'act', NEW.act, 'withdrawn', NEW.withdrawn));
END;

CREATE TRIGGER fact_is_never_deleted BEFORE DELETE ON fact
BEGIN SELECT RAISE(ABORT, 'fact: nothing is deleted, things are withdrawn'); END;

CREATE TRIGGER fact_names_its_act BEFORE INSERT ON fact
WHEN NEW.made IS NOT (SELECT max(id) FROM act)
BEGIN SELECT RAISE(ABORT, 'fact: a new row names the newest act'); END;

CREATE TRIGGER fact_changes_by_an_act BEFORE UPDATE ON fact
WHEN NEW.act IS NOT (SELECT max(id) FROM act)
BEGIN SELECT RAISE(ABORT, 'fact: a change names the newest act'); END;

CREATE TRIGGER fact_keeps_its_past AFTER UPDATE ON fact
BEGIN
    INSERT INTO history (act, table_name, row, before, after)
    VALUES (NEW.act, 'fact', OLD.build || '/' || OLD.key,
        json_object('build', OLD.build, 'key', OLD.key, 'text', OLD.text, 'made', OLD.made, 'act', OLD.act),
        json_object('build', NEW.build, 'key', NEW.key, 'text', NEW.text, 'made', NEW.made, 'act', NEW.act));
END;

CREATE TRIGGER card_preset_is_never_deleted BEFORE DELETE ON card_preset
BEGIN SELECT RAISE(ABORT, 'card_preset: nothing is deleted, things are withdrawn'); END;

CREATE TRIGGER card_preset_names_its_act BEFORE INSERT ON card_preset
WHEN NEW.made IS NOT (SELECT max(id) FROM act)
BEGIN SELECT RAISE(ABORT, 'card_preset: a new row names the newest act'); END;

CREATE TRIGGER card_preset_changes_by_an_act BEFORE UPDATE ON card_preset
WHEN NEW.act IS NOT (SELECT max(id) FROM act)
BEGIN SELECT RAISE(ABORT, 'card_preset: a change names the newest act'); END;

CREATE TRIGGER card_preset_keeps_its_past AFTER UPDATE ON card_preset
BEGIN
    INSERT INTO history (act, table_name, row, before, after)
    VALUES (NEW.act, 'card_preset', OLD.line,
        json_object('line', OLD.line, 'audience', OLD.audience, 'made', OLD.made, 'act', OLD.act),
        json_object('line', NEW.line, 'audience', NEW.audience, 'made', NEW.made, 'act', NEW.act));
END;

CREATE TRIGGER card_choice_is_never_deleted BEFORE DELETE ON card_choice
BEGIN SELECT RAISE(ABORT, 'card_choice: nothing is deleted, things are withdrawn'); END;

CREATE TRIGGER card_choice_names_its_act BEFORE INSERT ON card_choice
WHEN NEW.made IS NOT (SELECT max(id) FROM act)
BEGIN SELECT RAISE(ABORT, 'card_choice: a new row names the newest act'); END;

CREATE TRIGGER card_choice_changes_by_an_act BEFORE UPDATE ON card_choice
WHEN NEW.act IS NOT (SELECT max(id) FROM act)
BEGIN SELECT RAISE(ABORT, 'card_choice: a change names the newest act'); END;

CREATE TRIGGER card_choice_keeps_its_past AFTER UPDATE ON card_choice
BEGIN
    INSERT INTO history (act, table_name, row, before, after)
    VALUES (NEW.act, 'card_choice', OLD.build || '/' || OLD.line,
        json_object('build', OLD.build, 'line', OLD.line, 'audience', OLD.audience, 'made', OLD.made, 'act', OLD.act),
        json_object('build', NEW.build, 'line', NEW.line, 'audience', NEW.audience, 'made', NEW.made, 'act', NEW.act));
END;

CREATE TRIGGER card_issue_is_never_deleted BEFORE DELETE ON card_issue
BEGIN SELECT RAISE(ABORT, 'card_issue: nothing is deleted, things are withdrawn'); END;

CREATE TRIGGER card_issue_names_its_act BEFORE INSERT ON card_issue
WHEN NEW.made IS NOT (SELECT max(id) FROM act)
BEGIN SELECT RAISE(ABORT, 'card_issue: a new row names the newest act'); END;

CREATE TRIGGER card_issue_is_never_changed BEFORE UPDATE ON card_issue
BEGIN SELECT RAISE(ABORT, 'card_issue: written once'); END;

-- The record: what is kept, from the first day on.
--
-- Every transaction first inserts an act; every kept row names the act that made it and, where it can change, the newest act
-- that changed it. Instants are UTC in RFC 3339; lengths are metres; places and keys are the texts of the engine room.

-- One thing done by someone: the start of every transaction.
CREATE TABLE act (
    id INTEGER PRIMARY KEY,             -- grows with time
    public_id TEXT NOT NULL UNIQUE,     -- 128 random bits in hex
    person INTEGER REFERENCES person (id), -- who; none before anyone has given a name
    identified TEXT NOT NULL CHECK (identified IN ('named')), -- how we know: only named so far, no sign-in
    device TEXT NOT NULL,               -- random id of the tablet or PC
    what TEXT NOT NULL,                 -- what was done, a word of the house
    build INTEGER REFERENCES build (id) DEFERRABLE INITIALLY DEFERRED, -- the job it touches, where it touches one; the act that opens a job precedes it
    at TEXT NOT NULL,                   -- when
    idempotency_key TEXT NOT NULL UNIQUE -- the same post sent twice is one act
) STRICT;
CREATE INDEX act_by_build ON act (build, id);
CREATE INDEX act_by_device ON act (device, id);

-- What a changed row was before and after; written by triggers only.
CREATE TABLE history (
    id INTEGER PRIMARY KEY,             -- in order of change
    act INTEGER NOT NULL REFERENCES act (id), -- the act that changed it
    table_name TEXT NOT NULL,           -- which table
    row TEXT NOT NULL,                  -- which row, by its key
    before TEXT,                        -- the row before, JSON; none for people, whose data stand in one table only
    after TEXT                          -- the row after, JSON
) STRICT;
CREATE INDEX history_by_row ON history (table_name, row);

-- People: the shop's hands and its customers. The only table with personal data.
CREATE TABLE person (
    id INTEGER PRIMARY KEY,             -- internal
    public_id TEXT NOT NULL UNIQUE,     -- 128 random bits in hex
    name TEXT NOT NULL,                 -- as called
    phone TEXT NOT NULL,                -- may be empty
    email TEXT NOT NULL,                -- may be empty
    address TEXT NOT NULL,              -- may be empty; lines
    works_here INTEGER NOT NULL CHECK (works_here IN (0, 1)), -- signs steps in this shop
    made INTEGER NOT NULL REFERENCES act (id), -- the act that wrote it
    act INTEGER NOT NULL REFERENCES act (id),  -- the newest act that changed it
    withdrawn INTEGER REFERENCES act (id)      -- the act that withdrew it
) STRICT;

-- The shop's own choices: name, paper, zone, presets.
CREATE TABLE setting (
    key TEXT PRIMARY KEY,               -- a word of the house
    value TEXT NOT NULL,                -- as entered
    made INTEGER NOT NULL REFERENCES act (id), -- the act that wrote it
    act INTEGER NOT NULL REFERENCES act (id)   -- the newest act that changed it
) STRICT;

-- An engine family: what to start a job from, and what is odd about it.
CREATE TABLE family (
    id INTEGER PRIMARY KEY,             -- internal
    public_id TEXT NOT NULL UNIQUE,     -- 128 random bits in hex
    name TEXT NOT NULL UNIQUE,          -- the shop's name for it
    note TEXT NOT NULL,                 -- what is odd about it; may be empty
    architecture TEXT NOT NULL,         -- layout, counts, numbering, firing order; JSON
    block_material TEXT,                -- a material's key
    head_material TEXT,                 -- a material's key
    unit TEXT NOT NULL,                 -- working unit
    made INTEGER NOT NULL REFERENCES act (id), -- the act that wrote it
    act INTEGER NOT NULL REFERENCES act (id),  -- the newest act that changed it
    withdrawn INTEGER REFERENCES act (id)      -- the act that withdrew it
) STRICT;

-- A family's target dimensions.
CREATE TABLE family_target (
    family INTEGER NOT NULL REFERENCES family (id), -- whose
    feature TEXT NOT NULL,              -- which dimension
    place TEXT NOT NULL,                -- where
    si REAL NOT NULL,                   -- m
    typed TEXT NOT NULL,                -- as typed
    made INTEGER NOT NULL REFERENCES act (id), -- the act that wrote it
    act INTEGER NOT NULL REFERENCES act (id),  -- the newest act that changed it
    PRIMARY KEY (family, feature, place)
) STRICT, WITHOUT ROWID;

-- A family's limits; insert-only, the newest per finding and place holds, an empty one lifts it.
CREATE TABLE family_limit (
    id INTEGER PRIMARY KEY,             -- grows with time
    family INTEGER NOT NULL REFERENCES family (id), -- whose
    feature TEXT NOT NULL,              -- which finding
    place TEXT,                         -- where; none for all places
    kind TEXT NOT NULL CHECK (kind IN ('absolute', 'per_diameter')), -- how the figures are meant
    least REAL,                         -- SI
    most REAL,                          -- SI
    condition TEXT NOT NULL,            -- what it holds for; may be empty
    source TEXT NOT NULL,               -- whose figure it is
    reason TEXT NOT NULL,               -- why it was set or changed
    made INTEGER NOT NULL REFERENCES act (id) -- the act that wrote it
) STRICT;
CREATE INDEX family_limit_by_family ON family_limit (family, id);

-- A family's own list of steps, as one document; the newest holds. None: the default list.
CREATE TABLE family_step (
    id INTEGER PRIMARY KEY,             -- grows with time
    family INTEGER NOT NULL REFERENCES family (id), -- whose
    steps TEXT NOT NULL,                -- the list with what follows what, JSON
    made INTEGER NOT NULL REFERENCES act (id) -- the act that wrote it
) STRICT;

-- An engine: lives for decades, through several builds.
CREATE TABLE engine (
    id INTEGER PRIMARY KEY,             -- internal
    public_id TEXT NOT NULL UNIQUE,     -- 128 random bits in hex
    family INTEGER REFERENCES family (id), -- where it started from
    architecture TEXT NOT NULL,         -- layout, counts, numbering, firing order; JSON
    block_material TEXT,                -- a material's key
    head_material TEXT,                 -- a material's key
    made INTEGER NOT NULL REFERENCES act (id), -- the act that wrote it
    act INTEGER NOT NULL REFERENCES act (id)   -- the newest act that changed it
) STRICT;

-- A build: one episode in an engine's life. The shop calls it a job, by its number.
CREATE TABLE build (
    id INTEGER PRIMARY KEY,             -- the job's number
    public_id TEXT NOT NULL UNIQUE,     -- 128 random bits in hex
    engine INTEGER NOT NULL REFERENCES engine (id), -- of which engine
    customer INTEGER REFERENCES person (id), -- for whom
    kind TEXT NOT NULL CHECK (kind IN ('new', 'refresh', 'repair')), -- what kind of episode
    title TEXT NOT NULL,                -- what it is, as on the phone
    wants TEXT NOT NULL,                -- what the customer wants
    unit TEXT NOT NULL CHECK (unit IN ('inch', 'millimetre')), -- working unit
    rule TEXT NOT NULL CHECK (rule IN ('simple', 'guarded')), -- how limits are decided by
    made INTEGER NOT NULL REFERENCES act (id), -- the act that wrote it
    act INTEGER NOT NULL REFERENCES act (id),  -- the newest act that changed it
    closed INTEGER REFERENCES act (id)         -- the act with which it left the shop
) STRICT;
CREATE INDEX build_by_engine ON build (engine);

-- A physical thing with a past.
CREATE TABLE item (
    id INTEGER PRIMARY KEY,             -- internal
    public_id TEXT NOT NULL UNIQUE,     -- 128 random bits in hex
    kind TEXT NOT NULL,                 -- block, crank, head, rod, piston, main_shells
    serial TEXT NOT NULL,               -- stamped or marked; may be empty
    note TEXT NOT NULL,                 -- may be empty
    made INTEGER NOT NULL REFERENCES act (id), -- the act that wrote it
    act INTEGER NOT NULL REFERENCES act (id)   -- the newest act that changed it
) STRICT;

-- An item fitted in an engine at a place, from one act to another.
CREATE TABLE fitting (
    id INTEGER PRIMARY KEY,             -- internal
    item INTEGER NOT NULL REFERENCES item (id),     -- what
    engine INTEGER NOT NULL REFERENCES engine (id), -- in which engine
    place TEXT NOT NULL,                -- where
    made INTEGER NOT NULL REFERENCES act (id), -- the act that fitted it
    act INTEGER NOT NULL REFERENCES act (id),  -- the newest act that changed it
    taken_out INTEGER REFERENCES act (id)      -- the act that took it out
) STRICT;
CREATE INDEX fitting_by_engine ON fitting (engine, place);
CREATE INDEX fitting_by_item ON fitting (item);

-- What a build aims at.
CREATE TABLE target (
    build INTEGER NOT NULL REFERENCES build (id), -- whose
    feature TEXT NOT NULL,              -- which dimension
    place TEXT NOT NULL,                -- where; a whole place speaks for all of its kind
    si REAL,                            -- m; none once it is lifted
    typed TEXT NOT NULL,                -- as typed
    made INTEGER NOT NULL REFERENCES act (id), -- the act that wrote it
    act INTEGER NOT NULL REFERENCES act (id),  -- the newest act that changed it
    PRIMARY KEY (build, feature, place)
) STRICT, WITHOUT ROWID;

-- A build's limits; insert-only, the newest per finding and place holds, an empty one lifts it.
CREATE TABLE limit_on_finding (
    id INTEGER PRIMARY KEY,             -- grows with time
    build INTEGER NOT NULL REFERENCES build (id), -- whose
    feature TEXT NOT NULL,              -- which finding
    place TEXT,                         -- where; none for all places
    kind TEXT NOT NULL CHECK (kind IN ('absolute', 'per_diameter')), -- how the figures are meant
    least REAL,                         -- SI
    most REAL,                          -- SI
    condition TEXT NOT NULL,            -- what it holds for; may be empty
    source TEXT NOT NULL,               -- whose figure it is
    reason TEXT NOT NULL,               -- why it was set or changed
    made INTEGER NOT NULL REFERENCES act (id) -- the act that wrote it
) STRICT;
CREATE INDEX limit_by_build ON limit_on_finding (build, id);

-- A step of a build.
CREATE TABLE step (
    id INTEGER PRIMARY KEY,             -- internal
    build INTEGER NOT NULL REFERENCES build (id), -- whose
    key TEXT NOT NULL,                  -- its name in addresses
    title TEXT NOT NULL,                -- as shown
    purpose TEXT NOT NULL,              -- what it is for
    caution TEXT NOT NULL,              -- what can hurt someone; may be empty
    position INTEGER NOT NULL,          -- order shown
    state TEXT NOT NULL CHECK (state IN ('ahead', 'begun', 'signed', 'elsewhere', 'not_on_job')), -- how far it is
    by_whom TEXT NOT NULL,              -- done elsewhere: by whom; may be empty
    made INTEGER NOT NULL REFERENCES act (id), -- the act that wrote it
    act INTEGER NOT NULL REFERENCES act (id),  -- the newest act that changed it
    UNIQUE (build, key)
) STRICT;

-- Which step follows which.
CREATE TABLE step_after (
    step INTEGER NOT NULL REFERENCES step (id), -- the later
    after INTEGER NOT NULL REFERENCES step (id), -- the earlier
    made INTEGER NOT NULL REFERENCES act (id), -- the act that wrote it
    PRIMARY KEY (step, after)
) STRICT, WITHOUT ROWID;

-- Which sheets a step takes readings for.
CREATE TABLE step_sheet (
    step INTEGER NOT NULL REFERENCES step (id), -- the step
    sheet TEXT NOT NULL,                -- the sheet's key
    made INTEGER NOT NULL REFERENCES act (id), -- the act that wrote it
    PRIMARY KEY (step, sheet)
) STRICT, WITHOUT ROWID;

-- A round of readings of one sheet, with the condition they were taken in.
CREATE TABLE round (
    id INTEGER PRIMARY KEY,             -- internal
    build INTEGER NOT NULL REFERENCES build (id), -- whose
    sheet TEXT NOT NULL,                -- the sheet's key
    kind TEXT NOT NULL CHECK (kind IN ('received', 'machined', 'trial', 'final', 'refresh')), -- what it was for
    number INTEGER NOT NULL,            -- counted within the sheet, from 1
    condition TEXT NOT NULL,            -- plate, fasteners, lubricant, torque, shells; JSON object of words
    temperature_c REAL,                 -- of the parts, °C; none when not noted
    counts INTEGER NOT NULL CHECK (counts IN (0, 1)), -- whether findings stand on it
    made INTEGER NOT NULL REFERENCES act (id), -- the act that wrote it
    act INTEGER NOT NULL REFERENCES act (id),  -- the newest act that changed it
    UNIQUE (build, sheet, number)
) STRICT;

-- A gauge.
CREATE TABLE gauge (
    id INTEGER PRIMARY KEY,             -- internal
    public_id TEXT NOT NULL UNIQUE,     -- 128 random bits in hex
    kind TEXT NOT NULL,                 -- what kind of gauge
    name TEXT NOT NULL,                 -- as called in the shop
    serial TEXT NOT NULL,               -- may be empty
    step_unit TEXT NOT NULL,            -- what a bare deviation means: thou, tenth, micrometre
    made INTEGER NOT NULL REFERENCES act (id), -- the act that wrote it
    act INTEGER NOT NULL REFERENCES act (id),  -- the newest act that changed it
    withdrawn INTEGER REFERENCES act (id)      -- the act that withdrew it
) STRICT;

-- A setting of a gauge: what it was zeroed on, by whom and when as its act says.
CREATE TABLE gauge_setting (
    id INTEGER PRIMARY KEY,             -- grows with time
    gauge INTEGER NOT NULL REFERENCES gauge (id), -- which
    build INTEGER REFERENCES build (id), -- for which job
    zeroed_on TEXT NOT NULL,            -- master, or the micrometer set to which journal
    set_to REAL,                        -- m; none where the gauge was zeroed without a figure
    typed TEXT NOT NULL,                -- as typed; may be empty
    made INTEGER NOT NULL REFERENCES act (id) -- the act that set it
) STRICT;

-- A reading. What was read is never overwritten; only its state changes.
CREATE TABLE reading (
    build INTEGER NOT NULL REFERENCES build (id), -- whose
    number INTEGER NOT NULL,            -- counted within the build, from 1
    item INTEGER NOT NULL REFERENCES item (id), -- of which thing: the reading travels with it
    sheet TEXT NOT NULL,                -- the sheet's key
    slot TEXT NOT NULL,                 -- feature and place
    round INTEGER NOT NULL REFERENCES round (id), -- in which round
    take INTEGER NOT NULL,              -- counted within slot and round, from 1
    kind TEXT NOT NULL CHECK (kind IN ('figure', 'range', 'checked', 'count', 'yes_no', 'choice', 'text')), -- what it says
    si REAL,                            -- the figure, or the range's lower end; SI
    si_high REAL,                       -- the range's upper end; SI
    words TEXT NOT NULL,                -- how it was checked, or a choice or text; may be empty
    typed TEXT NOT NULL,                -- as typed
    unit TEXT NOT NULL,                 -- the unit it was typed in; empty where it has none
    resolution REAL NOT NULL,           -- one step of the last digit typed; SI
    gauge INTEGER REFERENCES gauge (id), -- with which gauge; none when not named
    gauge_setting INTEGER REFERENCES gauge_setting (id), -- at which setting; none when not named
    saw INTEGER,                        -- number of the reading on the page when this was typed; none where the slot was empty
    corrects INTEGER,                   -- number of the reading that this one corrects
    why TEXT NOT NULL,                  -- why it corrects or was moved; may be empty
    as_read INTEGER NOT NULL CHECK (as_read IN (0, 1)), -- looked odd and was kept as read
    moved_from TEXT,                    -- build/number where it was first put by mistake
    moved_to TEXT,                      -- build/number it was moved to
    state TEXT NOT NULL CHECK (state IN ('stands', 'rival', 'corrected', 'set_aside', 'moved', 'withdrawn')), -- whether it counts
    made INTEGER NOT NULL REFERENCES act (id), -- the act that took it
    act INTEGER NOT NULL REFERENCES act (id),  -- the newest act that changed it
    PRIMARY KEY (build, number)
) STRICT, WITHOUT ROWID;
CREATE INDEX reading_by_item ON reading (item);

-- A note, to a job or one of its steps.
CREATE TABLE note (
    id INTEGER PRIMARY KEY,             -- internal
    build INTEGER NOT NULL REFERENCES build (id), -- whose
    step INTEGER REFERENCES step (id),  -- at which step; none for the job
    text TEXT NOT NULL,                 -- as written
    made INTEGER NOT NULL REFERENCES act (id), -- the act that wrote it
    act INTEGER NOT NULL REFERENCES act (id),  -- the newest act that changed it
    withdrawn INTEGER REFERENCES act (id)      -- the act that withdrew it
) STRICT;
CREATE INDEX note_by_build ON note (build);

-- A stored file, by its content; on disk before this row.
CREATE TABLE file (
    id INTEGER PRIMARY KEY,             -- internal
    public_id TEXT NOT NULL UNIQUE,     -- 128 random bits in hex
    sha256 TEXT NOT NULL UNIQUE,        -- of the bytes, hex: its name on disk
    media_type TEXT NOT NULL,           -- what it is
    bytes INTEGER NOT NULL,             -- how long
    width INTEGER,                      -- of a picture, upright
    height INTEGER,                     -- of a picture, upright
    preview_sha256 TEXT,                -- a picture's smaller copy
    thumb_sha256 TEXT,                  -- a picture's smallest copy
    made INTEGER NOT NULL REFERENCES act (id) -- the act that stored it
) STRICT;

-- A file attached to a job or one of its steps.
CREATE TABLE attachment (
    id INTEGER PRIMARY KEY,             -- internal
    build INTEGER NOT NULL REFERENCES build (id), -- whose
    step INTEGER REFERENCES step (id),  -- at which step; none for the job
    file INTEGER NOT NULL REFERENCES file (id), -- which file
    name TEXT NOT NULL,                 -- the file's name as it came
    caption TEXT NOT NULL,              -- may be empty
    made INTEGER NOT NULL REFERENCES act (id), -- the act that attached it
    act INTEGER NOT NULL REFERENCES act (id),  -- the newest act that changed it
    withdrawn INTEGER REFERENCES act (id)      -- the act that withdrew it
) STRICT;
CREATE INDEX attachment_by_build ON attachment (build);

-- "Stopped here": work left half done, until somebody resumes it.
CREATE TABLE stop_mark (
    id INTEGER PRIMARY KEY,             -- internal
    build INTEGER NOT NULL REFERENCES build (id), -- whose
    step INTEGER NOT NULL REFERENCES step (id), -- at which step
    stopped_at TEXT NOT NULL,           -- "main cap 3, second torque step"
    made INTEGER NOT NULL REFERENCES act (id), -- the act that wrote it
    act INTEGER NOT NULL REFERENCES act (id),  -- the newest act that changed it
    resumed INTEGER REFERENCES act (id)        -- the act that took the work up again
) STRICT;
CREATE INDEX stop_mark_by_build ON stop_mark (build);

-- A step signed, with everything as it was seen then.
CREATE TABLE sign_off (
    id INTEGER PRIMARY KEY,             -- internal
    build INTEGER NOT NULL REFERENCES build (id), -- whose
    step INTEGER NOT NULL REFERENCES step (id), -- which
    person INTEGER NOT NULL REFERENCES person (id), -- whose name
    seen TEXT NOT NULL,                 -- findings, limits, readings, rule, editions as seen; JSON
    made INTEGER NOT NULL REFERENCES act (id), -- the act that signed
    act INTEGER NOT NULL REFERENCES act (id),  -- the newest act that changed it
    reopened INTEGER REFERENCES act (id),      -- the act that reopened the step
    why TEXT NOT NULL                   -- why it was reopened; empty until then
) STRICT;
CREATE INDEX sign_off_by_build ON sign_off (build);

-- "My call, because …": a finding out of limits or missing, accepted as it was seen then.
CREATE TABLE acceptance (
    id INTEGER PRIMARY KEY,             -- internal
    build INTEGER NOT NULL REFERENCES build (id), -- whose
    finding TEXT NOT NULL,              -- the finding's key
    person INTEGER NOT NULL REFERENCES person (id), -- whose call
    because TEXT NOT NULL,              -- the reason
    for_owner TEXT NOT NULL,            -- what the owner's card says of it, in the builder's words; may be empty
    seen TEXT NOT NULL,                 -- the finding with limit, readings, rule, edition as seen; JSON
    made INTEGER NOT NULL REFERENCES act (id), -- the act that accepted
    act INTEGER NOT NULL REFERENCES act (id),  -- the newest act that changed it
    withdrawn INTEGER REFERENCES act (id)      -- the act that withdrew it
) STRICT;
CREATE INDEX acceptance_by_build ON acceptance (build);

-- What is known of a build in words.
CREATE TABLE fact (
    build INTEGER NOT NULL REFERENCES build (id), -- whose
    key TEXT NOT NULL,                  -- which
    text TEXT NOT NULL,                 -- as entered; may be emptied
    made INTEGER NOT NULL REFERENCES act (id), -- the act that wrote it
    act INTEGER NOT NULL REFERENCES act (id),  -- the newest act that changed it
    PRIMARY KEY (build, key)
) STRICT, WITHOUT ROWID;

-- For whom each line of the card is, by the shop's preset.
CREATE TABLE card_preset (
    line TEXT PRIMARY KEY,              -- which line
    audience TEXT NOT NULL CHECK (audience IN ('owner', 'tuner', 'shop')), -- for whom
    made INTEGER NOT NULL REFERENCES act (id), -- the act that wrote it
    act INTEGER NOT NULL REFERENCES act (id)   -- the newest act that changed it
) STRICT;

-- For whom a line is on this job's cards, where it differs from the preset.
CREATE TABLE card_choice (
    build INTEGER NOT NULL REFERENCES build (id), -- whose
    line TEXT NOT NULL,                 -- which line
    audience TEXT NOT NULL CHECK (audience IN ('owner', 'tuner', 'shop')), -- for whom
    made INTEGER NOT NULL REFERENCES act (id), -- the act that wrote it
    act INTEGER NOT NULL REFERENCES act (id),  -- the newest act that changed it
    PRIMARY KEY (build, line)
) STRICT, WITHOUT ROWID;

-- A card as it was issued; frozen.
CREATE TABLE card_issue (
    id INTEGER PRIMARY KEY,             -- internal
    build INTEGER NOT NULL REFERENCES build (id), -- whose
    number INTEGER NOT NULL,            -- counted within the build, from 1
    audience TEXT NOT NULL CHECK (audience IN ('owner', 'tuner', 'shop')), -- whose card
    replaces INTEGER,                   -- number of the issue it replaces
    file INTEGER NOT NULL REFERENCES file (id), -- the PDF, byte for byte
    record_act INTEGER NOT NULL REFERENCES act (id), -- the build's newest act before this one: what the card shows
    made INTEGER NOT NULL REFERENCES act (id), -- the act that issued it
    UNIQUE (build, number)
) STRICT;

-- The record of a workshop. It only grows: every table below refuses UPDATE and DELETE.
-- Order comes from entries.counter (and from rising ids within an entry), never from the clock.

PRAGMA application_id = 1465340492; -- "WWRL", so that another program's file is not taken for ours

-- One row for every time something was written; all that was written together shares it.
CREATE TABLE entries (
    counter        INTEGER PRIMARY KEY AUTOINCREMENT,
    what           TEXT NOT NULL CHECK (what IN ('import', 'decision', 'void')),
    time           TEXT NOT NULL,              -- with its offset from UTC, as the clock said
    clock_doubtful INTEGER NOT NULL CHECK (clock_doubtful IN (0, 1)),
    program        TEXT NOT NULL               -- version of the program that wrote
) STRICT;

CREATE TABLE lots (
    id    INTEGER PRIMARY KEY,
    name  TEXT NOT NULL UNIQUE CHECK (name <> ''),
    entry INTEGER NOT NULL REFERENCES entries (counter)
) STRICT;

CREATE TABLE files (
    id      INTEGER PRIMARY KEY,
    lot     INTEGER NOT NULL REFERENCES lots (id),
    entry   INTEGER NOT NULL REFERENCES entries (counter),
    kind    TEXT NOT NULL CHECK (kind IN ('half', 'rim', 'dressed', 'other')),
    name    TEXT NOT NULL,
    sha256  TEXT NOT NULL,
    taken   INTEGER NOT NULL,                  -- rows that were taken in
    bytes   INTEGER NOT NULL,
    content BLOB NOT NULL,                     -- the file as it was handed in
    UNIQUE (lot, sha256)
) STRICT;

CREATE TABLE parts (
    id     INTEGER PRIMARY KEY,                -- rises in the order the parts came in
    lot    INTEGER NOT NULL REFERENCES lots (id),
    serial TEXT NOT NULL CHECK (serial <> ''),
    kind   TEXT NOT NULL CHECK (kind IN ('half', 'rim', 'dressed', 'other')),
    UNIQUE (serial, lot)
) STRICT;

-- One row of a file: what it says of one part beside the readings.
CREATE TABLE file_rows (
    id       INTEGER PRIMARY KEY,
    part     INTEGER NOT NULL REFERENCES parts (id),
    file     INTEGER NOT NULL REFERENCES files (id),
    line     INTEGER NOT NULL,                 -- line of the text, row of the sheet, from 1
    raw_text TEXT,                             -- null where it is that line of files.content
    operator TEXT,
    noted_at TEXT,
    origin   TEXT,
    colour   TEXT,
    tray     TEXT,
    doubts   TEXT                              -- JSON list; null where there is none
) STRICT;
CREATE INDEX file_rows_of_part ON file_rows (part);

CREATE TABLE readings (
    counter      INTEGER PRIMARY KEY,          -- rises: the later reading is the higher one
    file_row     INTEGER NOT NULL REFERENCES file_rows (id),
    quantity     TEXT NOT NULL,                -- key with unit, such as mass_g
    text         TEXT NOT NULL,                -- as it was read
    unit         TEXT NOT NULL,                -- of the text
    value_units  INTEGER NOT NULL,             -- value = value_units / 10^value_places,
    value_places INTEGER NOT NULL,             -- in the unit of the key
    instrument   TEXT
) STRICT;
CREATE INDEX readings_of_row ON readings (file_row);

CREATE TABLE decisions (
    entry   INTEGER PRIMARY KEY REFERENCES entries (counter),
    lot     INTEGER NOT NULL REFERENCES lots (id),
    what    TEXT NOT NULL,
    options TEXT NOT NULL,                     -- JSON
    answer  TEXT NOT NULL                      -- JSON, the whole answer
) STRICT;

CREATE TABLE sets (
    id          INTEGER PRIMARY KEY AUTOINCREMENT,
    lot         INTEGER NOT NULL REFERENCES lots (id),
    number      INTEGER NOT NULL CHECK (number > 0),
    decision    INTEGER NOT NULL REFERENCES decisions (entry),
    cost        REAL NOT NULL,
    differences TEXT NOT NULL,                 -- JSON, keys with units
    UNIQUE (lot, number)                       -- so no number is ever used again
) STRICT;

CREATE TABLE set_members (
    set_id INTEGER NOT NULL REFERENCES sets (id),
    role   TEXT NOT NULL CHECK (role IN
        ('left_half', 'left_rim', 'right_half', 'right_rim', 'left', 'right')),
    part   INTEGER NOT NULL REFERENCES parts (id),
    PRIMARY KEY (set_id, role)
) STRICT;
CREATE INDEX set_members_of_part ON set_members (part);

-- A set that was given up: its parts are free again.
CREATE TABLE voids (
    set_id INTEGER PRIMARY KEY REFERENCES sets (id),
    entry  INTEGER NOT NULL REFERENCES entries (counter),
    reason TEXT NOT NULL CHECK (reason <> '')
) STRICT;

-- A part sits in one standing set at most, whoever writes.
CREATE TRIGGER set_members_once BEFORE INSERT ON set_members
WHEN EXISTS (
    SELECT 1 FROM set_members m
    WHERE m.part = NEW.part AND NOT EXISTS (SELECT 1 FROM voids v WHERE v.set_id = m.set_id))
BEGIN SELECT RAISE(ABORT, 'the part sits in a set already'); END;

CREATE TRIGGER entries_keep BEFORE UPDATE ON entries
BEGIN SELECT RAISE(ABORT, 'the ledger only grows: entries are never changed'); END;
CREATE TRIGGER entries_stay BEFORE DELETE ON entries
BEGIN SELECT RAISE(ABORT, 'the ledger only grows: entries are never deleted'); END;
CREATE TRIGGER lots_keep BEFORE UPDATE ON lots
BEGIN SELECT RAISE(ABORT, 'the ledger only grows: lots are never changed'); END;
CREATE TRIGGER lots_stay BEFORE DELETE ON lots
BEGIN SELECT RAISE(ABORT, 'the ledger only grows: lots are never deleted'); END;
CREATE TRIGGER files_keep BEFORE UPDATE ON files
BEGIN SELECT RAISE(ABORT, 'the ledger only grows: files are never changed'); END;
CREATE TRIGGER files_stay BEFORE DELETE ON files
BEGIN SELECT RAISE(ABORT, 'the ledger only grows: files are never deleted'); END;
CREATE TRIGGER parts_keep BEFORE UPDATE ON parts
BEGIN SELECT RAISE(ABORT, 'the ledger only grows: parts are never changed'); END;
CREATE TRIGGER parts_stay BEFORE DELETE ON parts
BEGIN SELECT RAISE(ABORT, 'the ledger only grows: parts are never deleted'); END;
CREATE TRIGGER file_rows_keep BEFORE UPDATE ON file_rows
BEGIN SELECT RAISE(ABORT, 'the ledger only grows: rows are never changed'); END;
CREATE TRIGGER file_rows_stay BEFORE DELETE ON file_rows
BEGIN SELECT RAISE(ABORT, 'the ledger only grows: rows are never deleted'); END;
CREATE TRIGGER readings_keep BEFORE UPDATE ON readings
BEGIN SELECT RAISE(ABORT, 'the ledger only grows: readings are never changed, measure again'); END;
CREATE TRIGGER readings_stay BEFORE DELETE ON readings
BEGIN SELECT RAISE(ABORT, 'the ledger only grows: readings are never deleted'); END;
CREATE TRIGGER decisions_keep BEFORE UPDATE ON decisions
BEGIN SELECT RAISE(ABORT, 'the ledger only grows: decisions are never changed'); END;
CREATE TRIGGER decisions_stay BEFORE DELETE ON decisions
BEGIN SELECT RAISE(ABORT, 'the ledger only grows: decisions are never deleted'); END;
CREATE TRIGGER sets_keep BEFORE UPDATE ON sets
BEGIN SELECT RAISE(ABORT, 'the ledger only grows: sets are never changed, void them'); END;
CREATE TRIGGER sets_stay BEFORE DELETE ON sets
BEGIN SELECT RAISE(ABORT, 'the ledger only grows: sets are never deleted, void them'); END;
CREATE TRIGGER set_members_keep BEFORE UPDATE ON set_members
BEGIN SELECT RAISE(ABORT, 'the ledger only grows: sets are never changed, void them'); END;
CREATE TRIGGER set_members_stay BEFORE DELETE ON set_members
BEGIN SELECT RAISE(ABORT, 'the ledger only grows: sets are never deleted, void them'); END;
CREATE TRIGGER voids_keep BEFORE UPDATE ON voids
BEGIN SELECT RAISE(ABORT, 'the ledger only grows: a void set stays void'); END;
CREATE TRIGGER voids_stay BEFORE DELETE ON voids
BEGIN SELECT RAISE(ABORT, 'the ledger only grows: a void set stays void'); END;

-- Version 2: every change is noted in order and can be taken back; results can be kept beside the state they rest on;
-- damaged blocks are set aside, never thrown away.

ALTER TABLE pack ADD COLUMN removed INTEGER NOT NULL DEFAULT 0 CHECK (removed IN (0, 1));
ALTER TABLE pack ADD COLUMN revision INTEGER NOT NULL DEFAULT 1;
ALTER TABLE retirement ADD COLUMN removed INTEGER NOT NULL DEFAULT 0 CHECK (removed IN (0, 1));
ALTER TABLE file ADD COLUMN removed INTEGER NOT NULL DEFAULT 0 CHECK (removed IN (0, 1));
ALTER TABLE session ADD COLUMN removed INTEGER NOT NULL DEFAULT 0 CHECK (removed IN (0, 1));
ALTER TABLE spot_check ADD COLUMN removed INTEGER NOT NULL DEFAULT 0 CHECK (removed IN (0, 1));
ALTER TABLE diary_entry ADD COLUMN removed INTEGER NOT NULL DEFAULT 0 CHECK (removed IN (0, 1));

-- What was taken back no longer stands in the way of what comes in its place.
DROP INDEX pack_by_label;
CREATE UNIQUE INDEX pack_by_label ON pack (label_key) WHERE removed = 0;
DROP INDEX file_by_sha256;
CREATE UNIQUE INDEX file_by_sha256 ON file (sha256) WHERE removed = 0;

CREATE TABLE change (
    id         INTEGER PRIMARY KEY AUTOINCREMENT,
    kind       TEXT    NOT NULL,
    subject_id INTEGER NOT NULL,
    other      TEXT    CHECK (other IS NULL OR json_valid(other)),
    undone     INTEGER NOT NULL DEFAULT 0 CHECK (undone IN (0, 1))
) STRICT;

CREATE INDEX change_by_state ON change (undone, id);

CREATE TABLE digest (
    pack_id  INTEGER NOT NULL REFERENCES pack (id) ON DELETE CASCADE,
    name     TEXT    NOT NULL,
    revision INTEGER NOT NULL,
    content  TEXT    NOT NULL,
    PRIMARY KEY (pack_id, name)
) STRICT, WITHOUT ROWID;

CREATE TABLE damaged_block (
    id         INTEGER PRIMARY KEY AUTOINCREMENT,
    session_id INTEGER NOT NULL REFERENCES session (id) ON DELETE CASCADE,
    kind       INTEGER NOT NULL,
    idx        INTEGER NOT NULL,
    ordinal    INTEGER NOT NULL,
    count      INTEGER NOT NULL,
    encoded    BLOB    NOT NULL,
    checksum   BLOB    NOT NULL
) STRICT;

CREATE INDEX damaged_block_by_session ON damaged_block (session_id);

-- Version 1. docs/history.md explains every table. A migration that was ever released is never edited.
-- *_utc: ISO 8601 in UTC with seven decimals, so that text order is time order; *_offset_min: the offset it was given in.

CREATE TABLE pack (
    id                INTEGER PRIMARY KEY AUTOINCREMENT,
    label             TEXT    NOT NULL CHECK (length(label) BETWEEN 1 AND 60),
    label_key         TEXT    NOT NULL,
    cells             INTEGER NOT NULL CHECK (cells BETWEEN 1 AND 24),
    parallel          INTEGER NOT NULL CHECK (parallel >= 1),
    chemistry         TEXT    NOT NULL,
    rated_capacity_ah REAL,
    rated_discharge_c REAL,
    bought            TEXT,
    price             TEXT,
    currency          TEXT,
    vehicle           TEXT,
    connector         TEXT,
    added_utc         TEXT    NOT NULL,
    added_offset_min  INTEGER NOT NULL
) STRICT;

CREATE UNIQUE INDEX pack_by_label ON pack (label_key);

CREATE TABLE retirement (
    id            INTEGER PRIMARY KEY AUTOINCREMENT,
    pack_id       INTEGER NOT NULL REFERENCES pack (id),
    at_utc        TEXT    NOT NULL,
    at_offset_min INTEGER NOT NULL,
    reason        TEXT    NOT NULL
) STRICT;

CREATE INDEX retirement_by_pack ON retirement (pack_id);

CREATE TABLE file (
    id                  INTEGER PRIMARY KEY AUTOINCREMENT,
    sha256              TEXT    NOT NULL CHECK (length(sha256) = 64),
    name                TEXT    NOT NULL,
    bytes               INTEGER NOT NULL CHECK (bytes >= 0),
    imported_utc        TEXT    NOT NULL,
    imported_offset_min INTEGER NOT NULL,
    reading             TEXT    NOT NULL CHECK (json_valid(reading)),
    ledger              TEXT    NOT NULL CHECK (json_valid(ledger)),
    notices             TEXT    NOT NULL CHECK (json_valid(notices))
) STRICT;

CREATE UNIQUE INDEX file_by_sha256 ON file (sha256);

CREATE TABLE session (
    id                 INTEGER PRIMARY KEY AUTOINCREMENT,
    file_id            INTEGER NOT NULL REFERENCES file (id) ON DELETE CASCADE,
    ordinal            INTEGER NOT NULL CHECK (ordinal >= 1),
    pack_id            INTEGER REFERENCES pack (id),
    pack_hint          TEXT,
    started_utc        TEXT    NOT NULL,
    started_offset_min INTEGER NOT NULL,
    time_quality       TEXT    NOT NULL,
    first_line         INTEGER NOT NULL,
    last_line          INTEGER NOT NULL
) STRICT;

CREATE UNIQUE INDEX session_by_file ON session (file_id, ordinal);
CREATE INDEX session_by_pack ON session (pack_id, started_utc);

-- Values as they were logged, exact to the digit. Kinds are numbered as docs/history.md lists them.
CREATE TABLE sample_block (
    id         INTEGER PRIMARY KEY,
    session_id INTEGER NOT NULL REFERENCES session (id) ON DELETE CASCADE,
    kind       INTEGER NOT NULL,
    idx        INTEGER NOT NULL CHECK (idx >= 0),
    ordinal    INTEGER NOT NULL CHECK (ordinal >= 1),
    count      INTEGER NOT NULL CHECK (count BETWEEN 1 AND 65536),
    encoded    BLOB    NOT NULL,
    checksum   BLOB    NOT NULL CHECK (length(checksum) = 8)
) STRICT;

CREATE UNIQUE INDEX sample_block_by_channel ON sample_block (session_id, kind, idx, ordinal);

-- Derived from samples; made again whenever the method changes.
CREATE TABLE session_summary (
    session_id              INTEGER PRIMARY KEY REFERENCES session (id) ON DELETE CASCADE,
    method_version          INTEGER NOT NULL,
    kind                    TEXT    NOT NULL,
    duration_s              REAL    NOT NULL,
    sample_count            INTEGER NOT NULL,
    interval_s              REAL,
    charge_in_ah            REAL,
    charge_out_ah           REAL,
    energy_in_wh            REAL,
    energy_out_wh           REAL,
    peak_charge_a           REAL,
    peak_discharge_a        REAL,
    mean_celsius            REAL,
    min_celsius             REAL,
    max_celsius             REAL,
    start_rest_s            REAL,
    end_rest_s              REAL,
    completed               INTEGER NOT NULL CHECK (completed IN (0, 1)),
    lead_ohm                REAL,
    lead_standard_error_ohm REAL,
    lead_count              INTEGER,
    lead_lag_s              REAL,
    lead_celsius            REAL
) STRICT;

CREATE TABLE cell_summary (
    session_id                INTEGER NOT NULL REFERENCES session_summary (session_id) ON DELETE CASCADE,
    cell                      INTEGER NOT NULL CHECK (cell >= 1),
    start_v                   REAL,
    end_v                     REAL,
    start_rest_v              REAL,
    end_rest_v                REAL,
    min_v                     REAL,
    max_v                     REAL,
    step_ohm                  REAL,
    step_standard_error_ohm   REAL,
    step_count                INTEGER,
    step_lag_s                REAL,
    step_celsius              REAL,
    stated_ohm                REAL,
    stated_standard_error_ohm REAL,
    stated_count              INTEGER,
    stated_lag_s              REAL,
    stated_celsius            REAL,
    shift_ah                  REAL,
    shift_standard_error_ah   REAL,
    stretch                   REAL,
    stretch_standard_error    REAL,
    PRIMARY KEY (session_id, cell)
) STRICT, WITHOUT ROWID;

CREATE TABLE spot_check (
    id            INTEGER PRIMARY KEY AUTOINCREMENT,
    pack_id       INTEGER NOT NULL REFERENCES pack (id),
    at_utc        TEXT    NOT NULL,
    at_offset_min INTEGER NOT NULL,
    celsius       REAL
) STRICT;

CREATE INDEX spot_check_by_pack ON spot_check (pack_id, at_utc);

CREATE TABLE spot_check_cell (
    spot_check_id INTEGER NOT NULL REFERENCES spot_check (id) ON DELETE CASCADE,
    cell          INTEGER NOT NULL CHECK (cell >= 1),
    volts         REAL,
    milliohm      REAL,
    PRIMARY KEY (spot_check_id, cell)
) STRICT, WITHOUT ROWID;

CREATE TABLE diary_entry (
    id            INTEGER PRIMARY KEY AUTOINCREMENT,
    pack_id       INTEGER NOT NULL REFERENCES pack (id),
    at_utc        TEXT    NOT NULL,
    at_offset_min INTEGER NOT NULL,
    kind          TEXT    NOT NULL,
    swollen       INTEGER NOT NULL CHECK (swollen IN (0, 1)),
    damaged       INTEGER NOT NULL CHECK (damaged IN (0, 1)),
    max_celsius   REAL,
    text          TEXT
) STRICT;

CREATE INDEX diary_entry_by_pack ON diary_entry (pack_id, at_utc);

-- Version 3: reading guides are kept with what they helped to read.

CREATE TABLE reading_guide (
    id      INTEGER PRIMARY KEY AUTOINCREMENT,
    name    TEXT    NOT NULL CHECK (length(name) BETWEEN 1 AND 200),
    content TEXT    NOT NULL CHECK (json_valid(content))
) STRICT;

CREATE UNIQUE INDEX reading_guide_by_name ON reading_guide (name);

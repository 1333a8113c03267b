-- The shop, its shelf, its pieces and its log.
-- What is sorted or looked up by has a column; the rest of each thing is one JSON body in the shape of the shop crate's types.

CREATE TABLE settings (
    one  INTEGER PRIMARY KEY CHECK (one = 1),
    body TEXT NOT NULL CHECK (json_valid(body))
) STRICT;

CREATE TABLE piece (
    id    TEXT PRIMARY KEY CHECK (length(id) BETWEEN 1 AND 100),
    place INTEGER NOT NULL,
    body  TEXT NOT NULL CHECK (json_valid(body))
) STRICT;

CREATE TABLE product (
    place INTEGER PRIMARY KEY,
    body  TEXT NOT NULL CHECK (json_valid(body))
) STRICT;

CREATE TABLE mark (
    id   INTEGER PRIMARY KEY AUTOINCREMENT,
    step TEXT NOT NULL,
    at   TEXT NOT NULL,
    body TEXT NOT NULL CHECK (json_valid(body))
) STRICT;

CREATE INDEX mark_step ON mark (step);

-- What was changed last, newest last, so that it can be taken back; and where the steps stood when the plan was made.

CREATE TABLE change (
    id     INTEGER PRIMARY KEY AUTOINCREMENT,
    at     TEXT NOT NULL,
    words  TEXT NOT NULL,
    undone INTEGER NOT NULL DEFAULT 0 CHECK (undone IN (0, 1)),
    body   TEXT NOT NULL CHECK (json_valid(body))
) STRICT;

CREATE TABLE plan_kept (
    one  INTEGER PRIMARY KEY CHECK (one = 1),
    body TEXT NOT NULL CHECK (json_valid(body))
) STRICT;

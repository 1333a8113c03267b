-- Photographs of pieces: the file lies in the folder `photographs`, its row here.

CREATE TABLE photograph (
    id    INTEGER PRIMARY KEY AUTOINCREMENT,
    piece TEXT NOT NULL REFERENCES piece (id) ON DELETE CASCADE,
    file  TEXT NOT NULL UNIQUE,
    kind  TEXT NOT NULL CHECK (kind IN ('image/png', 'image/jpeg', 'image/webp')),
    taken TEXT NOT NULL,
    note  TEXT NOT NULL DEFAULT ''
) STRICT;

CREATE INDEX photograph_piece ON photograph (piece);

-- What the shop has ticked off its shopping list, by the line's own words.
CREATE TABLE ticked (
    line TEXT PRIMARY KEY,
    at   TEXT NOT NULL
) STRICT;

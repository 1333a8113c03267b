-- What the shop holds of discs, tape, rags and the like.

CREATE TABLE supply (
    place INTEGER PRIMARY KEY,
    body  TEXT NOT NULL CHECK (json_valid(body))
) STRICT;

-- What was measured of the shelf's paints, by the product's name, and what was tried on a photograph.

CREATE TABLE swatch (
    product TEXT PRIMARY KEY CHECK (length(product) BETWEEN 1 AND 200),
    body    TEXT NOT NULL CHECK (json_valid(body))
) STRICT;

CREATE TABLE trial (
    photograph INTEGER PRIMARY KEY REFERENCES photograph (id) ON DELETE CASCADE,
    body       TEXT NOT NULL CHECK (json_valid(body))
) STRICT;

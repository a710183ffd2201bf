-- Format 3: mordant baths that live on.

-- A mordant solution; `mordant` is lower case, empty where it is not known.
CREATE TABLE baths (
    name    TEXT PRIMARY KEY NOT NULL CHECK (name <> ''),
    mordant TEXT NOT NULL
) STRICT, WITHOUT ROWID;

-- What was done to a bath; `place` counts from 0 in order of time. Litres of water and grams of salt that went in with it.
CREATE TABLE bath_events (
    bath     TEXT NOT NULL REFERENCES baths (name) ON UPDATE CASCADE ON DELETE CASCADE,
    place    INTEGER NOT NULL,
    happened TEXT NOT NULL,
    event    TEXT NOT NULL CHECK (event IN ('made', 'topped up', 'diluted', 'discarded')),
    litres   REAL,
    grams    REAL,
    remarks  TEXT,
    PRIMARY KEY (bath, place)
) STRICT, WITHOUT ROWID;

-- The bath a soak was in, where the studio told; there need not be a row for it.
ALTER TABLE soaks ADD COLUMN bath TEXT;

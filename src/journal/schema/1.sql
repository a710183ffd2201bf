-- Format 1 of the journal. Never edited once released: what changes later is the next file.
-- Lengths cm, masses g, temperatures °C, times minutes. NULL is "not known".

CREATE TABLE pieces (
    code      TEXT PRIMARY KEY NOT NULL CHECK (code <> ''),
    fibre     TEXT,
    weave     TEXT,
    gsm       REAL,
    dry_g     REAL,
    width_cm  REAL,
    length_cm REAL,
    status    TEXT,
    price     REAL,
    remarks   TEXT
) STRICT;

-- One passage of a piece through soaks, plants, bundle and pot.
CREATE TABLE rounds (
    id      INTEGER PRIMARY KEY,
    piece   TEXT NOT NULL REFERENCES pieces (code) ON UPDATE CASCADE ON DELETE CASCADE,
    round   INTEGER NOT NULL CHECK (round >= 1),
    bundle  TEXT,
    pot     TEXT,
    made    TEXT,
    layer   INTEGER,
    heat    TEXT CHECK (heat IN ('simmer', 'steam')),
    low_c   REAL,
    high_c  REAL,
    minutes REAL,
    UNIQUE (piece, round)
) STRICT;

-- `place` counts from 0 in the order in which the cloth went through the baths.
CREATE TABLE soaks (
    in_round INTEGER NOT NULL REFERENCES rounds (id) ON DELETE CASCADE,
    place    INTEGER NOT NULL,
    mordant  TEXT NOT NULL,
    strength REAL,
    unit     TEXT CHECK (unit IN ('% wof', 'g/L')),
    soaked   TEXT,
    PRIMARY KEY (in_round, place)
) STRICT, WITHOUT ROWID;

-- `how` is a JSON array of words: ["fresh", "vein side down"].
CREATE TABLE plants (
    in_round INTEGER NOT NULL REFERENCES rounds (id) ON DELETE CASCADE,
    place    INTEGER NOT NULL,
    name     TEXT NOT NULL,
    how      TEXT NOT NULL DEFAULT '[]' CHECK (json_valid(how)),
    PRIMARY KEY (in_round, place)
) STRICT, WITHOUT ROWID;

-- Every other setting by its own name: a number where it reads as one, else text.
CREATE TABLE settings (
    in_round INTEGER NOT NULL REFERENCES rounds (id) ON DELETE CASCADE,
    name     TEXT NOT NULL,
    number   REAL,
    text     TEXT,
    PRIMARY KEY (in_round, name),
    CHECK ((number IS NULL) <> (text IS NULL))
) STRICT, WITHOUT ROWID;

-- `original`: 'kept' (a copy, at `place` below the journal's folder), 'in place' (at the path `place`), NULL (no file here).
CREATE TABLE photos (
    id       INTEGER PRIMARY KEY,
    file     TEXT,
    hash     TEXT UNIQUE CHECK (length(hash) = 64),
    taken    TEXT,
    piece    TEXT REFERENCES pieces (code) ON UPDATE CASCADE,
    state    TEXT CHECK (state IN ('wet', 'dry', 'washed', 'worn')),
    washes   INTEGER CHECK (washes >= 0),
    width    INTEGER,
    height   INTEGER,
    camera   TEXT,
    seconds  REAL,
    f_number REAL,
    iso      REAL,
    flash    INTEGER CHECK (flash IN (0, 1)),
    original TEXT CHECK (original IN ('kept', 'in place')),
    place    TEXT,
    CHECK ((original IS NULL) = (place IS NULL))
) STRICT;
CREATE INDEX photos_piece ON photos (piece);
CREATE INDEX photos_file ON photos (file);

-- Photos without a hash are known again by their content; each content such a photo ever had stands here.
CREATE TABLE contents (
    content TEXT PRIMARY KEY NOT NULL,
    photo   INTEGER NOT NULL REFERENCES photos (id) ON DELETE CASCADE
) STRICT, WITHOUT ROWID;
CREATE INDEX contents_photo ON contents (photo);

-- What measuring a photo gave. The highest `turn` of a photo is the reading that counts; the earlier ones stay.
-- `outline` is written like the points of an SVG polygon: "x,y x,y …", pixels of the upright picture.
CREATE TABLE readings (
    id         INTEGER PRIMARY KEY,
    photo      INTEGER NOT NULL REFERENCES photos (id) ON DELETE CASCADE,
    turn       INTEGER NOT NULL CHECK (turn >= 1),
    method     TEXT,
    basis      TEXT CHECK (basis IN ('chart', 'tag', 'assumed')),
    residual   REAL,
    correction TEXT CHECK (correction IS NULL OR json_valid(correction)),
    outline    TEXT,
    UNIQUE (photo, turn)
) STRICT;

-- CIELAB, 2° observer, D65. `share` of the cloth, 0 to 1; `doubt` is one standard deviation's worth, CIEDE2000.
CREATE TABLE swatches (
    reading    INTEGER NOT NULL REFERENCES readings (id) ON DELETE CASCADE,
    place      INTEGER NOT NULL,
    l          REAL NOT NULL,
    a          REAL NOT NULL,
    b          REAL NOT NULL,
    share      REAL NOT NULL,
    doubt      REAL,
    word       TEXT,
    word_level INTEGER,
    srgb       TEXT,
    part       TEXT CHECK (part IN ('ground', 'print')),
    plant      TEXT,
    PRIMARY KEY (reading, place)
) STRICT, WITHOUT ROWID;

CREATE TABLE cautions (
    reading INTEGER NOT NULL REFERENCES readings (id) ON DELETE CASCADE,
    place   INTEGER NOT NULL,
    code    TEXT NOT NULL,
    text    TEXT NOT NULL,
    PRIMARY KEY (reading, place)
) STRICT, WITHOUT ROWID;

-- The studio's own values and units, by name.
CREATE TABLE studio (
    name  TEXT PRIMARY KEY NOT NULL,
    value TEXT NOT NULL
) STRICT, WITHOUT ROWID;

CREATE VIEW current_readings AS
SELECT * FROM readings
WHERE NOT EXISTS (
    SELECT 1 FROM readings AS later WHERE later.photo = readings.photo AND later.turn > readings.turn
);

-- Format 2: charts and the studio's own cards; what the studio told about a photo; all that is known of a light.

-- The text of a chart's CGATS.17 file by its BLAKE3, with the name of the file it came from.
CREATE TABLE charts (
    hash TEXT PRIMARY KEY NOT NULL CHECK (length(hash) = 64),
    name TEXT NOT NULL,
    text TEXT NOT NULL
) STRICT, WITHOUT ROWID;

-- `corners`: where the chart lies beside the card's code, in modules of the code: "x,y x,y x,y x,y"; NULL before it was seen.
CREATE TABLE cards (
    name    TEXT PRIMARY KEY NOT NULL CHECK (name <> ''),
    chart   TEXT NOT NULL REFERENCES charts (hash),
    corners TEXT
) STRICT, WITHOUT ROWID;

-- `corners` of the chart and `outline` of the piece as the studio gave them: "x,y x,y …", pixels of the upright picture.
ALTER TABLE photos ADD COLUMN chart TEXT REFERENCES charts (hash);
ALTER TABLE photos ADD COLUMN corners TEXT;
ALTER TABLE photos ADD COLUMN outline TEXT;

-- What the picture looks like, 16 hexadecimal digits: photos of one burst differ in few of their 64 bits.
ALTER TABLE photos ADD COLUMN print TEXT CHECK (length(print) = 16);
CREATE INDEX photos_taken ON photos (taken);

-- What else is known of the light: an object of JSON, its fields as in an export.
ALTER TABLE readings ADD COLUMN light TEXT CHECK (light IS NULL OR json_valid(light));

PRAGMA application_id = 1179471700;
PRAGMA user_version = 5;
PRAGMA foreign_keys=OFF;
BEGIN TRANSACTION;
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
INSERT INTO pieces VALUES('HZ001','silk','habotai',34.719999999999998862,88.500000000000000003,55.0,180.49999999999999999,'for sale',120.0,'walnut ghost in the corner; "the good one"');
INSERT INTO pieces VALUES('HZ002',NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
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
INSERT INTO rounds VALUES(1,'HZ001',1,'B1','T1','2025-10-04',1,'simmer',82.0,88.500000000000000003,90.0);
INSERT INTO rounds VALUES(2,'HZ001',2,'B4',NULL,NULL,NULL,'steam',NULL,NULL,60.0);
CREATE TABLE soaks (
    in_round INTEGER NOT NULL REFERENCES rounds (id) ON DELETE CASCADE,
    place    INTEGER NOT NULL,
    mordant  TEXT NOT NULL,
    strength REAL,
    unit     TEXT CHECK (unit IN ('% wof', 'g/L')),
    soaked   TEXT, bath TEXT,
    PRIMARY KEY (in_round, place)
) STRICT, WITHOUT ROWID;
INSERT INTO soaks VALUES(1,0,'tannin',8.0,'% wof','2025-10-01',NULL);
INSERT INTO soaks VALUES(1,1,'alum',12.5,'% wof','2025-10-02','A1');
INSERT INTO soaks VALUES(2,0,'iron',2.0,'g/L',NULL,NULL);
CREATE TABLE plants (
    in_round INTEGER NOT NULL REFERENCES rounds (id) ON DELETE CASCADE,
    place    INTEGER NOT NULL,
    name     TEXT NOT NULL,
    how      TEXT NOT NULL DEFAULT '[]' CHECK (json_valid(how)),
    PRIMARY KEY (in_round, place)
) STRICT, WITHOUT ROWID;
INSERT INTO plants VALUES(1,0,'walnut','["fresh","vein side down"]');
INSERT INTO plants VALUES(1,1,'birch','[]');
CREATE TABLE settings (
    in_round INTEGER NOT NULL REFERENCES rounds (id) ON DELETE CASCADE,
    name     TEXT NOT NULL,
    number   REAL,
    text     TEXT,
    PRIMARY KEY (in_round, name),
    CHECK ((number IS NULL) <> (text IS NULL))
) STRICT, WITHOUT ROWID;
INSERT INTO settings VALUES(1,'blanket',NULL,'wool iron 2%');
INSERT INTO settings VALUES(1,'cool_h',14.0,NULL);
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
    place    TEXT, chart TEXT REFERENCES charts (hash), corners TEXT, outline TEXT, print TEXT CHECK (length(print) = 16),
    CHECK ((original IS NULL) = (place IS NULL))
) STRICT;
INSERT INTO photos VALUES(1,'october/HZ001 dry.jpg','af1349b9f5f9a1a6a0404dea36dcc9499bcb25c9adc112b7cc9a93cae41f3262','2025-10-07T10:12:30+02:00','HZ001','dry',0,4032,3024,'box with a lens',0.0080000000000000001665,1.8000000000000000444,64.0,0,NULL,NULL,'620fc876a2061eaf395cd4036bc01b1557f68a2f4160bf09a6f09c2de38401e1','80,529.5 624,545 613,913 69,896','100,88 3900,95 3880,2950','00f3a1b2c4d5e697');
INSERT INTO photos VALUES(2,NULL,NULL,NULL,'HZ002','washed',3,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO photos VALUES(3,'who.jpg','2d3adedff11b61f14c886e35afa036736dcd87a74d27b5c1510225d0f592e213',NULL,NULL,'wet',NULL,1,1,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL,NULL);
CREATE TABLE contents (
    content TEXT PRIMARY KEY NOT NULL,
    photo   INTEGER NOT NULL REFERENCES photos (id) ON DELETE CASCADE
) STRICT, WITHOUT ROWID;
INSERT INTO contents VALUES('8d727f31123bcce564483b454997c2a2b1d9bf364eb2bb0a2a29c4840399351e',2);
CREATE TABLE readings (
    id         INTEGER PRIMARY KEY,
    photo      INTEGER NOT NULL REFERENCES photos (id) ON DELETE CASCADE,
    turn       INTEGER NOT NULL CHECK (turn >= 1),
    method     TEXT,
    basis      TEXT CHECK (basis IN ('chart', 'tag', 'assumed')),
    residual   REAL,
    correction TEXT CHECK (correction IS NULL OR json_valid(correction)),
    outline    TEXT, light TEXT CHECK (light IS NULL OR json_valid(light)),
    UNIQUE (photo, turn)
) STRICT;
INSERT INTO readings VALUES(1,1,1,'1','assumed',NULL,NULL,NULL,NULL);
INSERT INTO readings VALUES(2,1,2,'2','chart',1.25,'{"tone":{"strength":0.35,"shoulder":0.5},"flare":[0.01,0.011,0.0125],"gain":[1.9,1.1,1.6],"matrix":[[0.4,0.35,0.18],[0.2,0.7,0.07],[0.02,0.12,0.95]],"roots":[[0.01,0.0,0.02],[0.0,0.01,0.0],[0.0,-0.01,0.0]],"fall":{"middle":[2016.0,1512.0],"level":0.02,"slope":[0.00001,0.0],"bend":1e-8}}','102.5,88 3900.25,95.5 3880,2950 110,2940.75','{"basis":"assumed","residual":null,"doubt":{"common":1.1,"grey":0.0,"chroma":0.02},"patches":[{"id":"A1","de00":0.4,"left_out":false},{"id":"B2","de00":5.5,"left_out":true}],"correction":null}');
INSERT INTO readings VALUES(3,2,1,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO readings VALUES(4,3,1,'2',NULL,NULL,NULL,NULL,NULL);
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
INSERT INTO swatches VALUES(1,0,68.0,3.0,25.0,1.0,NULL,NULL,NULL,NULL,NULL,NULL);
INSERT INTO swatches VALUES(2,0,71.299999999999997156,4.0999999999999996447,28.899999999999998578,0.625,1.1000000000000000888,'moderate orange yellow',3,'#cbaa7a','ground',NULL);
INSERT INTO swatches VALUES(2,1,38.200000000000002842,6.4000000000000003552,12.699999999999999289,0.375,1.3999999999999999111,'bark',NULL,'#6a5546','print','walnut');
INSERT INTO swatches VALUES(3,0,55.500000000000000001,12.25,-3.125,1.0,NULL,NULL,NULL,NULL,NULL,NULL);
CREATE TABLE cautions (
    reading INTEGER NOT NULL REFERENCES readings (id) ON DELETE CASCADE,
    place   INTEGER NOT NULL,
    code    TEXT NOT NULL,
    text    TEXT NOT NULL,
    PRIMARY KEY (reading, place)
) STRICT, WITHOUT ROWID;
INSERT INTO cautions VALUES(2,0,'paper-assumed','The tag''s paper was taken as white; measure it for closer colours.');
INSERT INTO cautions VALUES(4,0,'no-piece','No cloth was found.');
CREATE TABLE studio (
    name  TEXT PRIMARY KEY NOT NULL,
    value TEXT NOT NULL
) STRICT, WITHOUT ROWID;
INSERT INTO studio VALUES('ink','24.5,0.2,-0.4');
INSERT INTO studio VALUES('paper','95.1,-0.3,1.2');
INSERT INTO studio VALUES('unit','F');
CREATE TABLE charts (
    hash TEXT PRIMARY KEY NOT NULL CHECK (length(hash) = 64),
    name TEXT NOT NULL,
    text TEXT NOT NULL
) STRICT, WITHOUT ROWID;
INSERT INTO charts VALUES('620fc876a2061eaf395cd4036bc01b1557f68a2f4160bf09a6f09c2de38401e1','six.txt',replace('CGATS.17\nBEGIN_DATA_FORMAT\nSAMPLE_ID LAB_L LAB_A LAB_B\nEND_DATA_FORMAT\nBEGIN_DATA\nA1 95 0 1\nA2 50 0 0\nA3 20 0 0\nB1 60 40 30\nB2 60 -30 30\nB3 40 10 -40\nEND_DATA\n','\n',char(10)));
CREATE TABLE cards (
    name    TEXT PRIMARY KEY NOT NULL CHECK (name <> ''),
    chart   TEXT NOT NULL REFERENCES charts (hash),
    corners TEXT
) STRICT, WITHOUT ROWID;
INSERT INTO cards VALUES('porch','620fc876a2061eaf395cd4036bc01b1557f68a2f4160bf09a6f09c2de38401e1',NULL);
INSERT INTO cards VALUES('yard','620fc876a2061eaf395cd4036bc01b1557f68a2f4160bf09a6f09c2de38401e1','30,-4 90.5,-4 90.5,41.25 30,41.25');
CREATE TABLE baths (
    name    TEXT PRIMARY KEY NOT NULL CHECK (name <> ''),
    mordant TEXT NOT NULL
) STRICT, WITHOUT ROWID;
INSERT INTO baths VALUES('A1','alum');
INSERT INTO baths VALUES('rust pot','');
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
INSERT INTO bath_events VALUES('A1',0,'2025-09-28','made',12.5,625.0,'rain water');
INSERT INTO bath_events VALUES('A1',1,'2025-10-05','topped up',NULL,80.249999999999999996,NULL);
INSERT INTO bath_events VALUES('A1',2,'2025-10-05','diluted',2.0,NULL,NULL);
INSERT INTO bath_events VALUES('A1',3,'2025-11-01','discarded',NULL,NULL,'cloudy');
CREATE TABLE glances (
    state    TEXT NOT NULL,
    piece    TEXT NOT NULL,
    photo    INTEGER NOT NULL,
    washes   INTEGER,
    taken    TEXT,
    basis    TEXT,
    cautions TEXT CHECK (cautions IS NULL OR json_valid(cautions)),
    colours  BLOB NOT NULL,
    parts    TEXT,
    plants   TEXT CHECK (plants IS NULL OR json_valid(plants)),
    PRIMARY KEY (state, piece, photo)
) STRICT, WITHOUT ROWID;
INSERT INTO glances VALUES('dry','HZ001',1,0,'2025-10-07','chart','["paper-assumed"]',X'3333333333d3514066666666666610406666666666e63c40000000000000e43f9a9999999999f13f9a999999991943409a999999999919406666666666662940000000000000d83f666666666666f63f','gp','[null,"walnut"]');
INSERT INTO glances VALUES('washed','HZ002',2,3,NULL,NULL,NULL,X'0000000000c04b40000000000080284000000000000009c0000000000000f03f000000000000f87f',NULL,NULL);
CREATE TABLE glances_due (photo INTEGER PRIMARY KEY) STRICT;
CREATE TABLE issued_notes (
    piece  TEXT NOT NULL REFERENCES pieces (code) ON UPDATE CASCADE ON DELETE CASCADE,
    turn   INTEGER NOT NULL CHECK (turn >= 1),
    issued TEXT NOT NULL,
    photo  TEXT CHECK (length(photo) = 64),
    taken  TEXT,
    state  TEXT CHECK (state IN ('wet', 'dry', 'washed', 'worn')),
    basis  TEXT CHECK (basis IN ('chart', 'tag', 'assumed')),
    PRIMARY KEY (piece, turn)
) STRICT, WITHOUT ROWID;
INSERT INTO issued_notes VALUES('HZ001',1,'2025-11-20','af1349b9f5f9a1a6a0404dea36dcc9499bcb25c9adc112b7cc9a93cae41f3262','2025-10-12T15:04:05','dry','tag');
INSERT INTO issued_notes VALUES('HZ001',2,'2026-02-01',NULL,NULL,'washed',NULL);
CREATE TABLE issued_colours (
    piece    TEXT NOT NULL,
    turn     INTEGER NOT NULL,
    place    INTEGER NOT NULL,
    word     TEXT NOT NULL CHECK (word <> ''),
    standard TEXT NOT NULL,
    l        REAL NOT NULL,
    a        REAL NOT NULL,
    b        REAL NOT NULL,
    share    REAL NOT NULL,
    doubt    REAL,
    PRIMARY KEY (piece, turn, place),
    FOREIGN KEY (piece, turn) REFERENCES issued_notes (piece, turn) ON UPDATE CASCADE ON DELETE CASCADE
) STRICT, WITHOUT ROWID;
INSERT INTO issued_colours VALUES('HZ001',1,0,'straw','moderate yellow',71.25,6.5,46.0,0.61999999999999999555,2.1000000000000000888);
INSERT INTO issued_colours VALUES('HZ001',1,1,'grayish brown','grayish brown',42.0,5.5,9.0,0.30999999999999999777,NULL);
INSERT INTO issued_colours VALUES('HZ001',2,0,'pale straw','grayish yellow',74.0,4.25,38.499999999999999999,1.0,1.75);
CREATE INDEX photos_piece ON photos (piece);
CREATE INDEX photos_file ON photos (file);
CREATE INDEX contents_photo ON contents (photo);
CREATE VIEW current_readings AS
SELECT * FROM readings
WHERE NOT EXISTS (
    SELECT 1 FROM readings AS later WHERE later.photo = readings.photo AND later.turn > readings.turn
);
CREATE INDEX photos_taken ON photos (taken);
CREATE UNIQUE INDEX glances_photo ON glances (photo);
CREATE TRIGGER photo_new AFTER INSERT ON photos BEGIN
    INSERT INTO glances_due VALUES (new.id) ON CONFLICT DO NOTHING;
END;
CREATE TRIGGER photo_changed AFTER UPDATE OF piece, state, washes, taken ON photos BEGIN
    INSERT INTO glances_due VALUES (new.id) ON CONFLICT DO NOTHING;
END;
CREATE TRIGGER photo_gone AFTER DELETE ON photos BEGIN
    INSERT INTO glances_due VALUES (old.id) ON CONFLICT DO NOTHING;
END;
CREATE TRIGGER reading_new AFTER INSERT ON readings BEGIN
    INSERT INTO glances_due VALUES (new.photo) ON CONFLICT DO NOTHING;
END;
CREATE TRIGGER reading_changed AFTER UPDATE ON readings BEGIN
    INSERT INTO glances_due VALUES (old.photo), (new.photo) ON CONFLICT DO NOTHING;
END;
CREATE TRIGGER reading_gone AFTER DELETE ON readings BEGIN
    INSERT INTO glances_due VALUES (old.photo) ON CONFLICT DO NOTHING;
END;
CREATE TRIGGER swatch_new AFTER INSERT ON swatches BEGIN
    INSERT INTO glances_due SELECT photo FROM readings WHERE id = new.reading ON CONFLICT DO NOTHING;
END;
CREATE TRIGGER swatch_changed AFTER UPDATE ON swatches BEGIN
    INSERT INTO glances_due SELECT photo FROM readings WHERE id IN (old.reading, new.reading) ON CONFLICT DO NOTHING;
END;
CREATE TRIGGER swatch_gone AFTER DELETE ON swatches BEGIN
    INSERT INTO glances_due SELECT photo FROM readings WHERE id = old.reading ON CONFLICT DO NOTHING;
END;
CREATE TRIGGER caution_new AFTER INSERT ON cautions BEGIN
    INSERT INTO glances_due SELECT photo FROM readings WHERE id = new.reading ON CONFLICT DO NOTHING;
END;
CREATE TRIGGER caution_changed AFTER UPDATE ON cautions BEGIN
    INSERT INTO glances_due SELECT photo FROM readings WHERE id IN (old.reading, new.reading) ON CONFLICT DO NOTHING;
END;
CREATE TRIGGER caution_gone AFTER DELETE ON cautions BEGIN
    INSERT INTO glances_due SELECT photo FROM readings WHERE id = old.reading ON CONFLICT DO NOTHING;
END;
CREATE TRIGGER glance_new AFTER INSERT ON glances BEGIN
    INSERT INTO glances_due VALUES (new.photo) ON CONFLICT DO NOTHING;
END;
CREATE TRIGGER glance_changed AFTER UPDATE ON glances BEGIN
    INSERT INTO glances_due VALUES (old.photo), (new.photo) ON CONFLICT DO NOTHING;
END;
CREATE TRIGGER glance_gone AFTER DELETE ON glances BEGIN
    INSERT INTO glances_due VALUES (old.photo) ON CONFLICT DO NOTHING;
END;
COMMIT;

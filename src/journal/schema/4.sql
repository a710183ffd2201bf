-- Format 4: what questions look at, in few rows that lie together. Everything here follows from the other tables.

-- What the reading that counts says of each photo with colours whose piece and state are known.
-- `taken` is the day. `cautions`: a JSON list of codes; NULL where there are none. `colours`: for each colour l, a, b, share and doubt, eight bytes each
-- (IEEE 754, least byte first; a doubt that is not known is not a number). `parts`: a letter for each colour, g (ground), p (print)
-- or -; NULL where all are -. `plants`: a JSON list, for each colour a name or null; NULL where all are null.
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
CREATE UNIQUE INDEX glances_photo ON glances (photo);

-- Photos whose row in `glances` is no longer true or not there yet: whoever changes what it follows from leaves a mark here, and
-- filemot writes the row anew before it commits, or before it next looks.
CREATE TABLE glances_due (photo INTEGER PRIMARY KEY) STRICT;
INSERT INTO glances_due SELECT id FROM photos;

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

-- Nor does a row here stay as another hand left it: whoever changes one leaves a mark as well, filemot itself until it is done.
CREATE TRIGGER glance_new AFTER INSERT ON glances BEGIN
    INSERT INTO glances_due VALUES (new.photo) ON CONFLICT DO NOTHING;
END;
CREATE TRIGGER glance_changed AFTER UPDATE ON glances BEGIN
    INSERT INTO glances_due VALUES (old.photo), (new.photo) ON CONFLICT DO NOTHING;
END;
CREATE TRIGGER glance_gone AFTER DELETE ON glances BEGIN
    INSERT INTO glances_due VALUES (old.photo) ON CONFLICT DO NOTHING;
END;

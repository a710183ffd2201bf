-- Format 5: what customers were told. A note once written keeps its words, so they are kept with it.

-- One note as it was issued; the highest `turn` of a piece counts, the earlier ones stay. `photo` is the hash of the photo its
-- colours come from, where that had one; `taken`, `state` and `basis` are what was known of that photo then.
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

-- Its colours, largest share first: `word` as the customer read it, `standard` what the standard calls the colour.
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

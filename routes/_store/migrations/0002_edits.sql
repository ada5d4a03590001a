-- Everything that was changed in a season, an edit a row. Its log is only ever added to.
CREATE TABLE edit (
  season_id TEXT NOT NULL REFERENCES season (id),
  -- The season's revision after the edit.
  revision INTEGER NOT NULL CHECK (revision >= 1),
  -- Given by whoever asks, so that an edit that is sent twice is made once.
  edit_id TEXT NOT NULL,
  at TEXT NOT NULL,
  author TEXT NOT NULL,
  verb TEXT NOT NULL,
  reason TEXT NOT NULL DEFAULT '',
  changes TEXT NOT NULL CHECK (json_valid(changes)),
  -- The revision whose edit this one takes back, or makes again, or whose content it restores.
  undoes INTEGER,
  redoes INTEGER,
  restores INTEGER,
  -- SHA-256 of the season after it, and of what was asked for.
  hash TEXT NOT NULL,
  asked TEXT NOT NULL DEFAULT '',
  PRIMARY KEY (season_id, revision)
) STRICT, WITHOUT ROWID;

CREATE UNIQUE INDEX edit_once ON edit (season_id, edit_id);
CREATE INDEX edit_of_author ON edit (season_id, author, revision);

CREATE TRIGGER edit_is_never_changed BEFORE UPDATE ON edit
BEGIN SELECT RAISE(ABORT, 'An edit in the log is never changed.'); END;
CREATE TRIGGER edit_is_never_taken_out BEFORE DELETE ON edit
BEGIN SELECT RAISE(ABORT, 'An edit is never taken out of the log.'); END;

-- The whole season at some revisions, so that any other is a few edits away from one of them.
CREATE TABLE milestone (
  season_id TEXT NOT NULL REFERENCES season (id),
  revision INTEGER NOT NULL,
  document TEXT NOT NULL CHECK (json_valid(document)),
  PRIMARY KEY (season_id, revision)
) STRICT, WITHOUT ROWID;

-- What was stored before there was a log begins its log as it stands.
INSERT INTO milestone SELECT id, revision, document FROM season;
INSERT INTO edit (season_id, revision, edit_id, at, author, verb, reason, changes, hash)
SELECT id, revision, 'begin', updated, 'Rickyard', 'begin', 'The log of edits begins here.', '[]', hash FROM season;

ALTER TABLE season ADD COLUMN shelf TEXT NOT NULL DEFAULT 'open' CHECK (shelf IN ('open', 'archived', 'thrown away'));
-- The season whose state this one began with.
ALTER TABLE season ADD COLUMN follows TEXT REFERENCES season (id);

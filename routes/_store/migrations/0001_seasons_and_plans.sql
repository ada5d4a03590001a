-- A season is one document with a revision that grows by one at each change.
CREATE TABLE season (
  id TEXT PRIMARY KEY,
  revision INTEGER NOT NULL CHECK (revision >= 1),
  document TEXT NOT NULL CHECK (json_valid(document)),
  hash TEXT NOT NULL,
  created TEXT NOT NULL,
  updated TEXT NOT NULL
) STRICT;

-- A plan answers one revision of one season. Only a solved plan has a document; a failed one says why.
CREATE TABLE plan (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  season_id TEXT NOT NULL REFERENCES season (id) ON DELETE CASCADE,
  season_revision INTEGER NOT NULL,
  season_hash TEXT NOT NULL,
  state TEXT NOT NULL CHECK (state IN ('solving', 'solved', 'failed')),
  document TEXT CHECK (document IS NULL OR json_valid(document)),
  reason TEXT NOT NULL DEFAULT '',
  started TEXT NOT NULL,
  ended TEXT,
  CHECK ((state = 'solved') = (document IS NOT NULL)),
  CHECK ((state = 'solving') = (ended IS NULL))
) STRICT;

CREATE INDEX plan_of_season ON plan (season_id, id);

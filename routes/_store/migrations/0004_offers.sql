-- A better plan that was found for a season, beside the plan it was compared with. Nobody has to take it.
CREATE TABLE offer (
  id INTEGER PRIMARY KEY AUTOINCREMENT,
  season_id TEXT NOT NULL REFERENCES season (id) ON DELETE CASCADE,
  season_hash TEXT NOT NULL,
  -- It goes when that plan is let go of.
  plan_id INTEGER NOT NULL REFERENCES plan (id) ON DELETE CASCADE,
  -- The local minute that both plans were made for.
  as_of TEXT NOT NULL,
  state TEXT NOT NULL DEFAULT 'open' CHECK (state IN ('open', 'taken', 'left')),
  document TEXT NOT NULL CHECK (json_valid(document)),
  found TEXT NOT NULL,
  decided TEXT,
  decided_by TEXT,
  CHECK ((state = 'open') = (decided IS NULL)),
  CHECK ((state = 'open') = (decided_by IS NULL))
) STRICT;

-- A season has one open offer at most: a better one takes the place of the last.
CREATE UNIQUE INDEX offer_open ON offer (season_id) WHERE state = 'open';
CREATE INDEX offer_of_plan ON offer (plan_id);

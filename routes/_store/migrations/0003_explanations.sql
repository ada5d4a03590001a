-- What stands behind a solved plan: its limits, the slack of its runs, and what would help. It grows while it is worked out.
CREATE TABLE explanation (
  plan_id INTEGER PRIMARY KEY REFERENCES plan (id) ON DELETE CASCADE,
  document TEXT NOT NULL CHECK (json_valid(document)),
  -- How often it has grown, so that pages know when to look again.
  grown INTEGER NOT NULL DEFAULT 1,
  updated TEXT NOT NULL
) STRICT;

-- A store as the first program with format 1 left it. It never changes: later formats are tried on it.
CREATE TABLE season (
  id TEXT PRIMARY KEY,
  revision INTEGER NOT NULL CHECK (revision >= 1),
  document TEXT NOT NULL CHECK (json_valid(document)),
  hash TEXT NOT NULL,
  created TEXT NOT NULL,
  updated TEXT NOT NULL
) STRICT;

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

INSERT INTO season (id, revision, document, hash, created, updated) VALUES
  ('bare-farm', 3, '{"format":"rickyard-season","version":1,"id":"bare-farm","name":"Bare Farm","zone":"Europe/Dublin","readerUnits":"metric","currency":"EUR","positionAt":"2026-08-31T00:00","asOf":"2027-01-18T07:00","fixedAsOf":"2027-01-18T07:00","horizonEnd":"2027-06-30","roster":{},"maltStore":{"places":10,"placeG":500000},"brewhouse":{"brewsPerDay":1,"brewWeekdays":[1,2,3,4,5]},"costs":{"reservePerTonneDayCents":100,"changedRunCents":1000},"opening":{},"records":{},"bookings":{}}', '3e1c5b07bab0c2ca2ee5f175c172e2b160ccc25910498865172235e2f9c6ee17', '2026-09-01T06:00:00.000Z', '2026-11-02T17:30:00.000Z'),
  ('second-farm', 1, '{"format":"rickyard-season","version":1,"id":"second-farm","name":"The Farm''s Second","zone":"Europe/Dublin","readerUnits":"metric","currency":"EUR","positionAt":"2026-08-31T00:00","asOf":"2027-01-18T07:00","fixedAsOf":"2027-01-18T07:00","horizonEnd":"2027-06-30","roster":{},"maltStore":{"places":10,"placeG":500000},"brewhouse":{"brewsPerDay":1,"brewWeekdays":[1,2,3,4,5]},"costs":{"reservePerTonneDayCents":100,"changedRunCents":1000},"opening":{},"records":{},"bookings":{}}', 'a51ca351320b446656e73f20ccae0e52cb4304bf7d0858e0a6e1ee56b1faa4dc', '2026-10-05T06:00:00.000Z', '2026-10-05T06:00:00.000Z');

INSERT INTO plan (id, season_id, season_revision, season_hash, state, document, reason, started, ended) VALUES
  (4, 'bare-farm', 2, 'of an earlier revision', 'failed', NULL, 'The season cannot be planned as it is.', '2026-10-01T06:00:00.000Z', '2026-10-01T06:00:09.000Z'),
  (5, 'bare-farm', 3, '3e1c5b07bab0c2ca2ee5f175c172e2b160ccc25910498865172235e2f9c6ee17', 'solved', '{"format":"rickyard-plan","version":1,"seasonId":"bare-farm","seasonHash":"3e1c5b07bab0c2ca2ee5f175c172e2b160ccc25910498865172235e2f9c6ee17","revision":0,"asOf":"2027-01-18T07:00","seed":1,"iterations":0,"program":"test","stoppedEarly":false,"runs":[],"drums":[],"brews":[],"unbrewed":[],"maltDeliveries":[],"unsold":[],"orders":[],"fills":[],"leftOut":[],"moves":[],"feedLoads":[],"seedTaken":[],"grainDeliveries":[],"cannotKeep":[],"goals":{"made":[0,0,0],"asked":[0,0,0],"promisesHeld":0,"tailMade":0,"moneyCents":0,"money":{"runsCents":0,"ordersCents":0,"movesCents":0,"nightTurnsCents":0,"extraHoursCents":0,"feedCents":0,"endGrainCents":0,"salesCents":0,"reserveCents":0,"changedRunsCents":0}}}', 'Stopped early: this is the best plan found until then.', '2026-11-02T17:30:01.000Z', '2026-11-02T17:30:31.000Z'),
  (7, 'second-farm', 1, 'a51ca351320b446656e73f20ccae0e52cb4304bf7d0858e0a6e1ee56b1faa4dc', 'solving', NULL, '', '2026-11-02T18:00:00.000Z', NULL);

PRAGMA user_version = 1;

-- +goose Up
CREATE TABLE job (
  id       TEXT PRIMARY KEY,
  title    TEXT NOT NULL,
  farm     TEXT NOT NULL,
  revision INTEGER NOT NULL,           -- the latest
  seq      INTEGER NOT NULL,           -- of the latest event
  created  TEXT NOT NULL,              -- times are RFC 3339 in UTC
  changed  TEXT NOT NULL,
  deleted  TEXT NOT NULL DEFAULT ''    -- since when; empty for not
);
CREATE TABLE revision (
  job     TEXT NOT NULL REFERENCES job (id),
  number  INTEGER NOT NULL,
  text    TEXT NOT NULL,               -- exactly as it was written
  sum     TEXT NOT NULL,               -- SHA-256
  base    INTEGER NOT NULL,            -- the revision it was made from
  at      TEXT NOT NULL,
  account TEXT NOT NULL,               -- the name of whoever saved it
  note    TEXT NOT NULL,
  PRIMARY KEY (job, number)
) WITHOUT ROWID;
CREATE TABLE event (
  job     TEXT NOT NULL REFERENCES job (id),
  seq     INTEGER NOT NULL,
  kind    TEXT NOT NULL,
  ref     TEXT NOT NULL,
  at      TEXT NOT NULL,
  account TEXT NOT NULL,
  PRIMARY KEY (job, seq)
) WITHOUT ROWID;
CREATE TABLE record (
  job      TEXT NOT NULL REFERENCES job (id),
  seq      INTEGER NOT NULL,
  id       TEXT NOT NULL,              -- made by the client
  sum      TEXT NOT NULL,              -- SHA-256 of line: two different records of one id both stay
  kind     TEXT NOT NULL,
  line     TEXT NOT NULL,
  received TEXT NOT NULL,
  account  TEXT NOT NULL,
  PRIMARY KEY (job, seq),
  UNIQUE (job, id, sum)
) WITHOUT ROWID;
CREATE TABLE photo (
  job      TEXT NOT NULL REFERENCES job (id),
  id       TEXT NOT NULL,              -- made by the client
  seq      INTEGER NOT NULL,
  place    TEXT NOT NULL,
  note     TEXT NOT NULL,
  taken    TEXT NOT NULL,
  writer   TEXT NOT NULL,
  sent_sum TEXT NOT NULL,              -- SHA-256 of the bytes as they were sent
  type     TEXT NOT NULL,
  width    INTEGER NOT NULL,
  height   INTEGER NOT NULL,
  data     BLOB NOT NULL,
  received TEXT NOT NULL,
  account  TEXT NOT NULL,
  PRIMARY KEY (job, id)
);
CREATE TABLE shelf (
  kind     TEXT NOT NULL,
  name     TEXT NOT NULL,
  title    TEXT NOT NULL,
  revision INTEGER NOT NULL,
  changed  TEXT NOT NULL,
  deleted  TEXT NOT NULL DEFAULT '',
  PRIMARY KEY (kind, name)
) WITHOUT ROWID;
CREATE TABLE shelf_revision (
  kind    TEXT NOT NULL,
  name    TEXT NOT NULL,
  number  INTEGER NOT NULL,
  text    TEXT NOT NULL,
  sum     TEXT NOT NULL,
  base    INTEGER NOT NULL,
  at      TEXT NOT NULL,
  account TEXT NOT NULL,
  note    TEXT NOT NULL,
  PRIMARY KEY (kind, name, number),
  FOREIGN KEY (kind, name) REFERENCES shelf (kind, name)
) WITHOUT ROWID;
CREATE TABLE account (
  id       TEXT PRIMARY KEY,
  name     TEXT NOT NULL,
  folded   TEXT NOT NULL UNIQUE,       -- the name in lower case
  role     TEXT NOT NULL,
  hash     TEXT NOT NULL,
  created  TEXT NOT NULL,
  disabled TEXT NOT NULL DEFAULT ''
);
CREATE TABLE session (
  sum     TEXT PRIMARY KEY,            -- SHA-256 of the token
  account TEXT NOT NULL REFERENCES account (id),
  created TEXT NOT NULL,
  expires TEXT NOT NULL
);
CREATE TABLE link (
  id      TEXT PRIMARY KEY,
  sum     TEXT NOT NULL UNIQUE,        -- SHA-256 of the token
  job     TEXT NOT NULL REFERENCES job (id),
  label   TEXT NOT NULL,
  account TEXT NOT NULL,
  created TEXT NOT NULL,
  expires TEXT NOT NULL,
  revoked TEXT NOT NULL DEFAULT ''
);
CREATE INDEX link_job ON link (job);
CREATE TABLE audit (
  n       INTEGER PRIMARY KEY AUTOINCREMENT,
  at      TEXT NOT NULL,
  account TEXT NOT NULL,
  role    TEXT NOT NULL,
  remote  TEXT NOT NULL,
  action  TEXT NOT NULL,
  what    TEXT NOT NULL,
  detail  TEXT NOT NULL
);
CREATE INDEX audit_what ON audit (what);

-- +goose Down
DROP TABLE audit;
DROP TABLE link;
DROP TABLE session;
DROP TABLE account;
DROP TABLE shelf_revision;
DROP TABLE shelf;
DROP TABLE photo;
DROP TABLE record;
DROP TABLE event;
DROP TABLE revision;
DROP TABLE job;

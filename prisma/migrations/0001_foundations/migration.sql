-- Needed for "no two of these at once" on a kiln or a tutor (EXCLUDE over an id and a time range).
CREATE EXTENSION IF NOT EXISTS btree_gist;

-- What happened is never rewritten. Attach with: EXECUTE FUNCTION never_changes('WB004').
CREATE FUNCTION never_changes() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  RAISE EXCEPTION '% is never changed or deleted', TG_TABLE_NAME USING ERRCODE = TG_ARGV[0];
END $$;

-- One row per Idempotency-Key and caller. It commits with the work, so a row without an answer is never seen by anyone else.
CREATE TABLE request_key (
  caller      text NOT NULL,
  key         text NOT NULL CHECK (length(key) BETWEEN 8 AND 255),
  fingerprint text NOT NULL,
  answer      jsonb,
  created_at  timestamptz(3) NOT NULL,
  PRIMARY KEY (caller, key)
);
CREATE INDEX request_key_created_at_idx ON request_key (created_at);

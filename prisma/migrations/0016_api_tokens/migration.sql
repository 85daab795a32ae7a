ALTER TABLE person ADD COLUMN member_since date;

-- A script holds the token, we hold its hash, and a few of its first letters by which a person knows which it is.
CREATE TABLE api_token (
  id              uuid PRIMARY KEY,
  staff_member_id uuid NOT NULL REFERENCES staff_member,
  name            text NOT NULL CHECK (name <> ''),
  prefix          text NOT NULL,
  token_hash      text NOT NULL UNIQUE,
  rights          text[] NOT NULL CHECK (cardinality(rights) > 0 AND NOT 'staff:write' = ANY (rights)),
  created_at      timestamptz(3) NOT NULL,
  ends_at         timestamptz(3) NOT NULL CHECK (ends_at > created_at AND ends_at <= created_at + interval '368 days'),
  last_used_at    timestamptz(3),
  revoked_at      timestamptz(3)
);
CREATE INDEX api_token_staff_member_id_idx ON api_token (staff_member_id);

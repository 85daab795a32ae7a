CREATE TYPE staff_role AS ENUM ('owner', 'tutor');

CREATE TABLE staff_member (
  id            uuid PRIMARY KEY,
  name          text NOT NULL CHECK (name <> ''),
  email         text NOT NULL UNIQUE CHECK (email = lower(email)),
  role          staff_role NOT NULL,
  password_hash text NOT NULL,
  created_at    timestamptz(3) NOT NULL
);

-- The browser holds the token, we hold its hash: who reads this table can't sign in with it.
CREATE TABLE sign_in (
  token_hash      text PRIMARY KEY,
  staff_member_id uuid NOT NULL REFERENCES staff_member,
  created_at      timestamptz(3) NOT NULL,
  last_used_at    timestamptz(3) NOT NULL
);
CREATE INDEX sign_in_staff_member_id_idx ON sign_in (staff_member_id);

CREATE TABLE set_up_link (
  token_hash text PRIMARY KEY,
  created_at timestamptz(3) NOT NULL,
  expires_at timestamptz(3) NOT NULL,
  used_at    timestamptz(3)
);

-- Which sessions stand in somebody's own calendar by the invitations that letters carried, as they were last sent.
CREATE TABLE calendar_entry (
  person_id  uuid NOT NULL REFERENCES person,
  session_id uuid NOT NULL REFERENCES session,
  sequence   integer NOT NULL CHECK (sequence >= 0),
  starts_at  timestamptz(3) NOT NULL,
  ends_at    timestamptz(3) NOT NULL,
  summary    text NOT NULL,
  location   text NOT NULL,
  ended      boolean NOT NULL,
  sent_at    timestamptz(3) NOT NULL,
  PRIMARY KEY (person_id, session_id)
);
CREATE INDEX calendar_entry_session_id_idx ON calendar_entry (session_id);

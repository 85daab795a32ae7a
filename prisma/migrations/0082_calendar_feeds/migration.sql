-- An address by which a calendar reads the sessions of the studio, of a room or of a tutor. Of its secret only a hash is kept.
CREATE TABLE calendar_feed (
  id              uuid PRIMARY KEY,
  room_id         uuid REFERENCES room,
  staff_member_id uuid REFERENCES staff_member,
  token_hash      text NOT NULL UNIQUE,
  made_by_id      uuid NOT NULL REFERENCES staff_member,
  created_at      timestamptz(3) NOT NULL,
  last_read_at    timestamptz(3),
  ended_at        timestamptz(3) CHECK (ended_at >= created_at),
  CHECK (num_nonnulls(room_id, staff_member_id) <= 1) -- neither: all of the studio
);
CREATE UNIQUE INDEX calendar_feed_one_at_a_time ON calendar_feed
  (coalesce(room_id, staff_member_id, '00000000-0000-0000-0000-000000000000')) WHERE ended_at IS NULL;
CREATE INDEX calendar_feed_room_id_idx ON calendar_feed (room_id);
CREATE INDEX calendar_feed_staff_member_id_idx ON calendar_feed (staff_member_id);
CREATE INDEX calendar_feed_made_by_id_idx ON calendar_feed (made_by_id);

-- How often a session was moved or cancelled (RFC 5545, SEQUENCE): calendars take the version with the highest.
ALTER TABLE session ADD sequence integer NOT NULL DEFAULT 0 CHECK (sequence >= 0);
CREATE FUNCTION count_session_changes() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  NEW.sequence := OLD.sequence + 1;
  RETURN NEW;
END $$;
CREATE TRIGGER session_changes_are_counted BEFORE UPDATE OF starts_at, ends_at, room_id, cancelled_at ON session FOR EACH ROW
  WHEN ((OLD.starts_at, OLD.ends_at, OLD.room_id, OLD.cancelled_at) IS DISTINCT FROM (NEW.starts_at, NEW.ends_at, NEW.room_id, NEW.cancelled_at))
  EXECUTE FUNCTION count_session_changes();

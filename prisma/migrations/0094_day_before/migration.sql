-- A letter on the day before: to whom it goes is the owner's to say. A studio that was there before goes on writing none.
CREATE TYPE day_before AS ENUM ('never', 'first', 'each');
ALTER TABLE studio ADD day_before day_before NOT NULL DEFAULT 'never';
ALTER TYPE notice_occasion ADD VALUE 'dayBefore';

-- Who comes to a session was written to before a day, which is that of the session. Moved to another day, it is written of again.
CREATE TABLE day_before_letter (
  session_id uuid NOT NULL REFERENCES session,
  on_day     date NOT NULL,
  written_at timestamptz(3) NOT NULL,
  PRIMARY KEY (session_id, on_day)
);

-- Days on which the studio is closed: a half-term, a bank holiday. They keep new sessions off; those that were there before stay.
CREATE TABLE closure (
  id       uuid PRIMARY KEY,
  name     text NOT NULL CHECK (name <> ''),
  from_day date NOT NULL CHECK (from_day BETWEEN '2000-01-01' AND '2099-12-31'),
  to_day   date NOT NULL CHECK (to_day BETWEEN '2000-01-01' AND '2099-12-31'),
  CONSTRAINT closure_days_check CHECK (from_day <= to_day AND to_day - from_day < 366)
);
CREATE INDEX closure_to_day_idx ON closure (to_day);

-- The owner said that it takes place though the studio is closed that day.
ALTER TABLE session ADD on_closed_day boolean NOT NULL DEFAULT false;

-- The second wall behind courses/closed-days.ts: nothing is put on a closed day unless the owner says so.
CREATE FUNCTION session_on_open_day() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF EXISTS (SELECT FROM closure c, studio s
              WHERE (NEW.starts_at AT TIME ZONE s.time_zone)::date BETWEEN c.from_day AND c.to_day) THEN
    RAISE EXCEPTION 'session % is on a closed day', NEW.id USING ERRCODE = 'WB024';
  END IF;
  RETURN NULL;
END $$;
CREATE CONSTRAINT TRIGGER session_on_open_day AFTER INSERT ON session
  DEFERRABLE INITIALLY IMMEDIATE FOR EACH ROW WHEN (NOT NEW.on_closed_day AND NEW.cancelled_at IS NULL)
  EXECUTE FUNCTION session_on_open_day();
CREATE CONSTRAINT TRIGGER session_stays_on_open_day AFTER UPDATE OF starts_at ON session
  DEFERRABLE INITIALLY IMMEDIATE FOR EACH ROW
  WHEN (OLD.starts_at <> NEW.starts_at AND NOT NEW.on_closed_day AND NEW.cancelled_at IS NULL)
  EXECUTE FUNCTION session_on_open_day();

-- What people ask from the studio's own web page: a place on a course, which is no booking until the studio makes one of it. Who asks
-- is nobody the studio knows yet, so no person is named.
CREATE TYPE request_answer AS ENUM ('booked', 'waiting', 'declined');
CREATE TABLE place_request (
  id               uuid PRIMARY KEY,
  course_id        uuid NOT NULL REFERENCES course,
  name             text NOT NULL CHECK (name <> ''),
  email            text NOT NULL CHECK (email <> ''),
  phone            text CHECK (phone <> ''),
  places           integer NOT NULL CHECK (places BETWEEN 1 AND 20),
  note             text CHECK (note <> ''),
  asked_at         timestamptz(3) NOT NULL,
  answered_at      timestamptz(3),
  answer           request_answer,
  booking_id       uuid REFERENCES booking,
  waiting_entry_id uuid REFERENCES waiting_entry,
  CHECK ((answered_at IS NULL) = (answer IS NULL)),
  CHECK ((booking_id IS NOT NULL) = (answer IS NOT DISTINCT FROM 'booked')),
  CHECK ((waiting_entry_id IS NOT NULL) = (answer IS NOT DISTINCT FROM 'waiting'))
);
-- Asked twice, it is still one request.
CREATE UNIQUE INDEX place_request_once ON place_request (course_id, lower(email)) WHERE answered_at IS NULL;
CREATE INDEX place_request_open_idx ON place_request (id) WHERE answered_at IS NULL;
CREATE INDEX place_request_course_id_idx ON place_request (course_id);
CREATE INDEX place_request_booking_id_idx ON place_request (booking_id);
CREATE INDEX place_request_waiting_entry_id_idx ON place_request (waiting_entry_id);

-- It is answered once, and what was asked stays as it was; once it is of no more use it is deleted.
CREATE FUNCTION place_request_answered_once() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF OLD.answered_at IS NULL
     AND (NEW.id, NEW.course_id, NEW.name, NEW.email, NEW.phone, NEW.places, NEW.note, NEW.asked_at)
         IS NOT DISTINCT FROM (OLD.id, OLD.course_id, OLD.name, OLD.email, OLD.phone, OLD.places, OLD.note, OLD.asked_at)
  THEN RETURN NEW; END IF;
  RAISE EXCEPTION 'place request % was answered before, or was asked otherwise', OLD.id USING ERRCODE = 'WB035';
END $$;
CREATE TRIGGER place_request_answered_once BEFORE UPDATE ON place_request
  FOR EACH ROW EXECUTE FUNCTION place_request_answered_once();

ALTER TABLE web_page ADD takes_requests boolean NOT NULL DEFAULT false;
ALTER TABLE web_page ALTER takes_requests DROP DEFAULT;
-- Whether who asks is in the books already.
CREATE INDEX person_lower_email_idx ON person (lower(email));

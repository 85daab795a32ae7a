CREATE TYPE ware_form AS ENUM ('cylinder', 'mug', 'bowl', 'plate', 'box', 'jar', 'bottle', 'pinchPot', 'tile');
CREATE TYPE session_purpose AS ENUM ('making', 'finishing', 'slip', 'glazing', 'lustre');

CREATE TABLE course_plan (
  id                     uuid PRIMARY KEY,
  name                   text NOT NULL UNIQUE CHECK (name <> ''),
  places                 integer NOT NULL CHECK (places BETWEEN 1 AND 200),
  minimum                integer NOT NULL CHECK (minimum BETWEEN 1 AND 200),
  payments               integer NOT NULL CHECK (payments BETWEEN 1 AND 12), -- card fees fall on each
  other_minutes          integer NOT NULL CHECK (other_minutes >= 0), -- loading, unloading, messages
  minutes_per_student    integer NOT NULL CHECK (minutes_per_student >= 0),
  advertising_minor      integer NOT NULL CHECK (advertising_minor >= 0),
  sunk_if_cancelled_minor integer NOT NULL CHECK (sunk_if_cancelled_minor >= 0),
  second_tutor_fee_minor integer CHECK (second_tutor_fee_minor >= 0),
  second_tutor_above     integer CHECK (second_tutor_above BETWEEN 1 AND 200),
  CHECK (minimum <= places),
  CHECK ((second_tutor_fee_minor IS NULL) = (second_tutor_above IS NULL))
);

CREATE TABLE plan_session (
  plan_id         uuid NOT NULL REFERENCES course_plan,
  ordinal         integer NOT NULL CHECK (ordinal > 0),
  purpose         session_purpose NOT NULL,
  minutes         integer NOT NULL CHECK (minutes BETWEEN 15 AND 720),
  prepare_minutes integer NOT NULL CHECK (prepare_minutes BETWEEN 0 AND 720),
  clear_minutes   integer NOT NULL CHECK (clear_minutes BETWEEN 0 AND 720),
  PRIMARY KEY (plan_id, ordinal)
);

CREATE TABLE plan_piece (
  plan_id        uuid NOT NULL REFERENCES course_plan,
  ordinal        integer NOT NULL CHECK (ordinal > 0),
  form           ware_form NOT NULL,
  width_mm       integer NOT NULL CHECK (width_mm BETWEEN 1 AND 2000), -- fired sizes
  depth_mm       integer NOT NULL CHECK (depth_mm BETWEEN 1 AND 2000),
  height_mm      integer NOT NULL CHECK (height_mm BETWEEN 1 AND 2000),
  wet_mass_grams integer NOT NULL CHECK (wet_mass_grams BETWEEN 1 AND 200000),
  per_student    integer NOT NULL CHECK (per_student BETWEEN 1 AND 100),
  clay_id        uuid NOT NULL REFERENCES material,
  glaze_id       uuid REFERENCES material,
  grams_per_dm2  numeric(8, 3) CHECK (grams_per_dm2 > 0), -- of the finished coating, all coats together
  PRIMARY KEY (plan_id, ordinal),
  CHECK ((glaze_id IS NULL) = (grams_per_dm2 IS NULL))
);

CREATE TABLE plan_material (
  plan_id     uuid NOT NULL REFERENCES course_plan,
  material_id uuid NOT NULL REFERENCES material,
  per_student integer NOT NULL CHECK (per_student > 0),
  PRIMARY KEY (plan_id, material_id)
);

CREATE TABLE plan_firing (
  plan_id     uuid NOT NULL REFERENCES course_plan,
  ordinal     integer NOT NULL CHECK (ordinal > 0),
  kiln_id     uuid NOT NULL REFERENCES kiln,
  schedule_id uuid NOT NULL REFERENCES schedule,
  PRIMARY KEY (plan_id, ordinal)
);

CREATE TABLE course (
  id               uuid PRIMARY KEY,
  plan_id          uuid NOT NULL REFERENCES course_plan,
  title            text NOT NULL CHECK (title <> ''),
  places           integer NOT NULL CHECK (places BETWEEN 1 AND 200),
  minimum          integer NOT NULL CHECK (minimum BETWEEN 1 AND 200),
  price_minor      integer NOT NULL CHECK (price_minor > 0),
  deposit_minor    integer NOT NULL CHECK (deposit_minor >= 0),
  hold_hours       integer NOT NULL CHECK (hold_hours BETWEEN 1 AND 720), -- how long a place waits for its deposit
  balance_due_days integer NOT NULL CHECK (balance_due_days BETWEEN 0 AND 365), -- before the first session
  tax_rate_id      uuid NOT NULL REFERENCES tax_rate,
  refund_policy_id uuid NOT NULL REFERENCES refund_policy,
  completed_on     date,
  CHECK (minimum <= places),
  CHECK (deposit_minor <= price_minor)
);
CREATE INDEX course_plan_id_idx ON course (plan_id);

CREATE TABLE session (
  id        uuid PRIMARY KEY,
  course_id uuid NOT NULL REFERENCES course,
  ordinal   integer NOT NULL CHECK (ordinal > 0),
  purpose   session_purpose NOT NULL,
  starts_at timestamptz(3) NOT NULL,
  ends_at   timestamptz(3) NOT NULL,
  room_id   uuid NOT NULL REFERENCES room,
  benches   integer NOT NULL CHECK (benches BETWEEN 1 AND 200),
  UNIQUE (course_id, ordinal),
  CHECK (starts_at < ends_at)
);
CREATE INDEX session_room_id_idx ON session (room_id, starts_at);

CREATE TABLE session_tutor (
  session_id      uuid NOT NULL REFERENCES session,
  staff_member_id uuid NOT NULL REFERENCES staff_member,
  starts_at       timestamptz(3) NOT NULL,
  ends_at         timestamptz(3) NOT NULL,
  PRIMARY KEY (session_id, staff_member_id),
  CHECK (starts_at < ends_at),
  CONSTRAINT tutor_once_at_a_time EXCLUDE USING gist (staff_member_id WITH =, tstzrange(starts_at, ends_at) WITH &&)
);

-- Benches in use are highest at the start of some session, so only starts need looking at.
CREATE FUNCTION room_has_benches() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE
  has integer;
  needed bigint;
BEGIN
  SELECT benches INTO has FROM room WHERE id = NEW.room_id FOR NO KEY UPDATE;
  SELECT max(used) INTO needed FROM (
    SELECT (SELECT sum(benches) FROM session s WHERE s.room_id = NEW.room_id AND s.starts_at <= m.moment AND m.moment < s.ends_at) AS used
      FROM (SELECT NEW.starts_at AS moment
            UNION SELECT starts_at FROM session
                   WHERE room_id = NEW.room_id AND starts_at >= NEW.starts_at AND starts_at < NEW.ends_at) m) u;
  IF needed > has THEN
    RAISE EXCEPTION 'room % has % benches, % are needed', NEW.room_id, has, needed USING ERRCODE = 'WB003';
  END IF;
  RETURN NULL;
END $$;
CREATE CONSTRAINT TRIGGER room_has_benches AFTER INSERT OR UPDATE ON session
  DEFERRABLE INITIALLY IMMEDIATE FOR EACH ROW EXECUTE FUNCTION room_has_benches();

-- What a course drew from the shelf.
CREATE TABLE course_draw (
  stock_move_id uuid PRIMARY KEY REFERENCES stock_move,
  course_id     uuid NOT NULL REFERENCES course
);
CREATE INDEX course_draw_course_id_idx ON course_draw (course_id);

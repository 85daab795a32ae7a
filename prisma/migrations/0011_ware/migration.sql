CREATE TYPE board_kind AS ENUM ('wareBoard', 'dampCupboard', 'shelf', 'collection');
CREATE TYPE piece_stage AS ENUM ('greenware', 'dry', 'bisque', 'glazed', 'fired', 'ready', 'collected', 'broken');
CREATE TYPE piece_paid_by AS ENUM ('course', 'maker');

-- Where pieces stand.
CREATE TABLE board (
  id   uuid PRIMARY KEY,
  name text NOT NULL UNIQUE CHECK (name <> ''),
  kind board_kind NOT NULL
);

CREATE TABLE piece (
  id             uuid PRIMARY KEY,
  code           text NOT NULL UNIQUE,
  serial         integer NOT NULL UNIQUE CHECK (serial > 0), -- what the code was made from
  maker_id       uuid NOT NULL REFERENCES person,
  course_id      uuid REFERENCES course,
  firing_paid_by piece_paid_by NOT NULL,
  description    text NOT NULL CHECK (description <> ''),
  form           ware_form NOT NULL,
  width_mm       integer NOT NULL CHECK (width_mm BETWEEN 1 AND 2000), -- fired size
  depth_mm       integer NOT NULL CHECK (depth_mm BETWEEN 1 AND 2000),
  height_mm      integer NOT NULL CHECK (height_mm BETWEEN 1 AND 2000),
  measured       boolean NOT NULL, -- otherwise a likely size, from its form and a word
  clay_id        uuid REFERENCES material,
  board_id       uuid REFERENCES board,
  stage          piece_stage NOT NULL,
  created_at     timestamptz(3) NOT NULL,
  CHECK (firing_paid_by = 'maker' OR course_id IS NOT NULL)
);
CREATE INDEX piece_maker_id_idx ON piece (maker_id);
CREATE INDEX piece_board_id_idx ON piece (board_id);
CREATE INDEX piece_stage_idx ON piece (stage);

CREATE TABLE piece_glaze (
  piece_id     uuid NOT NULL REFERENCES piece,
  ordinal      integer NOT NULL CHECK (ordinal > 0),
  material_id  uuid NOT NULL REFERENCES material,
  coats        integer NOT NULL CHECK (coats BETWEEN 1 AND 20),
  food_surface boolean NOT NULL,
  PRIMARY KEY (piece_id, ordinal)
);

-- piece.stage is the stage of its last event; who writes one writes both.
CREATE TABLE piece_event (
  id       uuid PRIMARY KEY,
  piece_id uuid NOT NULL REFERENCES piece,
  at       timestamptz(3) NOT NULL,
  stage    piece_stage NOT NULL,
  board_id uuid REFERENCES board,
  note     text NOT NULL
);
CREATE INDEX piece_event_piece_id_idx ON piece_event (piece_id, id);
CREATE TRIGGER piece_event_never_changes BEFORE UPDATE OR DELETE ON piece_event
  FOR EACH ROW EXECUTE FUNCTION never_changes('WB007');
